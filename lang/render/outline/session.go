// Package outline prints sessions and cycles as they have been read, a line a step, for people.
package outline

import (
	"fmt"
	"io"
	"strings"

	"stint.example/stint/lang/analysis/totals"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/render/layout"
	"stint.example/stint/lang/render/prose"
)

// Session prints a session: its parts, its steps, their totals, the names of its versions. The house says
// which tiers there are, and how hot it is where the session does not.
func Session(w io.Writer, s *model.Session, house *model.House) {
	title := s.Name
	if s.Version != "" {
		title += ", version " + s.Version
	}
	fmt.Fprintln(w, title)
	fact(w, "date", s.Date)
	if s.Start != nil {
		fact(w, "start", s.Start.Time)
	}
	fact(w, "length", prose.Amount(s.Length))
	fact(w, "effort", prose.Amount(s.Effort))
	heat := s.Heat
	if heat == nil {
		heat = house.Heat
	}
	fact(w, "heat", prose.Amount(heat))
	fact(w, "purpose", s.Purpose)
	for _, c := range s.Cautions {
		fact(w, "caution", c)
	}
	for _, r := range s.Rests {
		fact(w, "asks for", prose.Rest(r))
	}
	for _, k := range s.Kit {
		fact(w, "kit", prose.KitItem(k))
	}
	notes(w, s.Notes, 1)
	for _, p := range s.Parts {
		fmt.Fprintln(w)
		group(w, p, 1)
	}
	if len(s.Totals)+len(s.Aims) > 0 {
		fmt.Fprintln(w)
	}
	for _, a := range s.Aims {
		line(w, 1, prose.Aim(a))
	}
	for _, t := range s.Totals {
		line(w, 1, prose.Stated(t))
	}
	rows, _ := totals.RowsOfEach(len(house.Tiers), s.Parts...)
	outlineTotals(w, rows)
	versions(w, s.Versions)
}

func fact(w io.Writer, name, text string) {
	if text != "" {
		fmt.Fprintf(w, "  %s: %s\n", name, text)
	}
}

func notes(w io.Writer, texts []string, depth int) {
	for _, n := range texts {
		line(w, depth, "> "+n)
	}
}

func line(w io.Writer, depth int, text string) {
	fmt.Fprintln(w, strings.Repeat("  ", depth)+text)
}

func group(w io.Writer, g *model.Group, depth int) {
	if prose.IsLead(g) {
		lead(w, prose.Head(g), g.Steps, g.Notes, depth)
	} else {
		line(w, depth, prose.Head(g))
		if g.Effort != nil {
			line(w, depth+1, "effort "+prose.Amount(g.Effort))
		}
		notes(w, g.Notes, depth+1)
		steps(w, g.Steps, depth+1)
	}
	for _, e := range g.Events {
		lead(w, prose.Event(e), e.Steps, e.Notes, depth+1)
	}
	for _, r := range g.Rests {
		line(w, depth+1, prose.Rest(r))
	}
	for _, sc := range g.Scores {
		line(w, depth+1, prose.Score(sc))
	}
	for _, a := range g.Aims {
		line(w, depth+1, prose.Aim(a))
	}
	for _, t := range g.Totals {
		line(w, depth+1, prose.Stated(t))
	}
}

// lead prints when or where something is done, and what: one thing on the same line.
func lead(w io.Writer, text string, ss []model.Step, remarks []string, depth int) {
	if len(ss) == 1 && len(remarks) == 0 {
		if one := prose.Step(ss[0]); one != "" {
			line(w, depth, text+": "+one)
			return
		}
	}
	line(w, depth, text)
	notes(w, remarks, depth+1)
	steps(w, ss, depth+1)
}

func steps(w io.Writer, ss []model.Step, depth int) {
	for _, s := range ss {
		if g, ok := s.(*model.Group); ok {
			group(w, g, depth)
			continue
		}
		line(w, depth, prose.Step(s))
	}
}

func outlineTotals(w io.Writer, rows []totals.WhoseRow) {
	if len(rows) == 0 {
		return
	}
	fmt.Fprintln(w, "\n  totals")
	var table [][]string
	for _, r := range rows {
		sum := strings.TrimSpace(string(r.Whose) + " " + prose.Sum(r.Row))
		table = append(table, []string{"    " + sum, r.Movement})
	}
	fmt.Fprint(w, layout.Table(table))
}

func versions(w io.Writer, vs []*model.Version) {
	if len(vs) == 0 {
		return
	}
	fmt.Fprintln(w, "\n  versions")
	var table [][]string
	for _, v := range vs {
		table = append(table, []string{"    " + v.Name, v.Note})
	}
	fmt.Fprint(w, layout.Table(table))
}
