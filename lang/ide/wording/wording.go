// Package wording has the phrases that hovers, inlay hints and code lenses share.
package wording

import (
	"fmt"
	"slices"
	"strings"

	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/analysis/totals"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/render/prose"
	"stint.example/stint/lang/render/timeline"
)

// List joins words with commas.
func List(ns []string) string { return strings.Join(ns, ", ") }

// And joins words as a sentence does: a, b and c.
func And(ns []string) string {
	if len(ns) < 2 {
		return List(ns)
	}
	return List(ns[:len(ns)-1]) + " and " + ns[len(ns)-1]
}

// Count is a number and its noun: 1 session, 2 sessions.
func Count(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

// Times are those of a fast, a typical and a slow member, in seconds, or one where all are the
// same: 2:10 / 2:40 / 3:30.
func Times(t estimate.Times) string {
	return timeline.Levels{Fast: t.Fast, Typical: t.Typical, Slow: t.Slow}.Times()
}

// Totals is what some groups add up to, in the order of their lines: 27 kettlebell swing,
// 400 m row. Lines that cannot be read are left out, and sums that the text leaves open.
func Totals(t *totals.Totals, in []*model.Group) string {
	if t.Unread {
		return ""
	}
	var order []string
	for _, g := range in {
		for w := range g.Lines(model.Everything) {
			for _, m := range w.Moves {
				order = append(order, m.Name)
			}
		}
	}
	place := func(r totals.Row) int {
		if i := slices.Index(order, r.Movement); i >= 0 {
			return i
		}
		return len(order)
	}
	slices.SortStableFunc(t.Rows, func(a, b totals.Row) int { return place(a) - place(b) })
	var out []string
	for _, r := range t.Rows {
		some := slices.ContainsFunc(r.Tiers, func(s totals.Sum) bool { return s.Lo > 0 || !s.Open })
		if !r.Unread && some {
			out = append(out, strings.TrimSpace(prose.Sum(r)+" "+r.Movement))
		}
	}
	return strings.Join(out, ", ")
}

// PartName is what a part is called: warm-up, part A.
func PartName(g *model.Group) string { return strings.TrimSpace(string(g.Kind) + " " + g.Letter) }
