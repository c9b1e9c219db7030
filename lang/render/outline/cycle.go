package outline

import (
	"fmt"
	"io"
	"strings"

	"stint.example/stint/lang/model"
	"stint.example/stint/lang/render/layout"
	"stint.example/stint/lang/render/prose"
)

// Cycle prints a cycle: its weeks, day by day.
func Cycle(w io.Writer, c *model.Cycle) {
	fmt.Fprintln(w, c.Name)
	fact(w, "from", c.From)
	if c.Weeks > 0 {
		fact(w, "weeks", fmt.Sprint(c.Weeks))
	}
	fact(w, "purpose", c.Purpose)
	notes(w, c.Notes, 1)
	for _, week := range c.Plan {
		fmt.Fprintln(w)
		line(w, 1, strings.TrimSpace(fmt.Sprintf("week %d %s", week.Number, week.Kind))+prose.Remark(noted(week.Note)))
		var table [][]string
		for _, d := range week.Days {
			what := d.Session
			switch {
			case d.Rest:
				what = "rest"
			case !d.Known:
				what += " (no file has it)"
			}
			if d.Version != "" {
				what += ", " + d.Version
			}
			day := "    " + strings.TrimSpace(d.Weekday+" "+d.Time)
			table = append(table, []string{day, d.Date, what + prose.Remark(noted(d.Note))})
		}
		fmt.Fprint(w, layout.Table(table))
		if week.Length != nil {
			line(w, 2, "length "+prose.Amount(week.Length))
		}
		for _, t := range week.Totals {
			line(w, 2, prose.Stated(t))
		}
	}
	for i, p := range c.Progress {
		if i == 0 {
			fmt.Fprintln(w)
		}
		line(w, 1, "progress "+prose.Progress(p))
	}
	for i, t := range c.Totals {
		if i == 0 {
			fmt.Fprintln(w)
		}
		line(w, 1, prose.Stated(t))
	}
}

func noted(note string) []string {
	if note == "" {
		return nil
	}
	return []string{note}
}
