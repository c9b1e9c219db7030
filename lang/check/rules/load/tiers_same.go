package load

import (
	"fmt"
	"regexp"
	"strings"

	"stint.example/stint/lang/check"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/syntax"
)

var TiersSame = check.Rule{Name: "tiers-same", Family: "load", Severity: diag.Suggestion,
	Summary: "equal numbers for all tiers, as in 24/24; one weight for all where the same movement has one for each tier elsewhere",
	Session: func(p *check.Pass, s *model.Session) {
		tiers := p.Env.House.Tiers
		if len(tiers) < 2 {
			return
		}
		check.EachQuantity(s, func(q *model.Quantity, _ string) {
			if q.Tiers() < 2 || misread(p, q) || q.At.File != p.File.Syntax.Src || !sameForAll(q) {
				return
			}
			text := onlyFirst(q.At.Text())
			p.Report(diag.Diagnostic{At: q.At,
				Message: fmt.Sprintf("%s says the same for %s", q.At.Text(), strings.Join(tiers, " and ")),
				Help:    fmt.Sprintf("write %s, which is for all, or a number for each", text),
				Fixes:   []diag.Fix{{Title: "write " + text, Edits: []diag.Edit{{At: q.At, New: text}}}}})
		})
		// A weight that is for all, where the movement's other weights are not.
		apart, often := map[string]*model.Quantity{}, map[string]int{}
		var single []*model.Quantity
		var of []string
		for w := range s.Lines(model.Everything) {
			if len(w.Moves) != 1 {
				continue
			}
			q, name := weightOf(w), w.Moves[0].Name
			switch {
			case q == nil || q.Tiers() > 1 && sameForAll(q):
			case q.Tiers() > 1:
				if often[name]++; apart[name] == nil {
					apart[name] = q
				}
			case q.Form == syntax.One:
				often[name]--
				single, of = append(single, q), append(of, name)
			}
		}
		for i, q := range single {
			other := apart[of[i]]
			if other == nil || often[of[i]] < 0 {
				continue // most have one for all, so it was not forgotten
			}
			p.Report(diag.Diagnostic{At: q.At,
				Message: fmt.Sprintf("%s has one weight for all here, and one for each tier elsewhere", of[i]),
				Label:   "for " + strings.Join(tiers, " and "),
				Help:    "write one for each tier, such as " + other.At.Text(),
				Related: []diag.Related{{At: other.At, Message: "here they differ"}}})
		}
	}}

// weightOf is the one weight of a line, or nil.
func weightOf(w *model.Work) *model.Quantity {
	var one *model.Quantity
	for _, ld := range w.Loads {
		if ld.Kind == syntax.Mass && ld.Amount != nil {
			if one != nil {
				return nil
			}
			one = ld.Amount
		}
	}
	return one
}

// sameForAll says whether all numbers between slashes are equal.
func sameForAll(q *model.Quantity) bool {
	for _, row := range q.Terms {
		for _, v := range row {
			if v != row[0] {
				return false
			}
		}
	}
	return len(q.Terms) > 0
}

// slashed is a number behind a slash.
var slashed = regexp.MustCompile(`\s*/\s*\d[\d.:]*\+?`)

// onlyFirst leaves the first of the numbers between slashes.
func onlyFirst(text string) string { return slashed.ReplaceAllString(text, "") }
