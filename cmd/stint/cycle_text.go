package main

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"stint.example/stint/lang/render/layout"
	"stint.example/stint/lang/render/weeks"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/units"
)

// How wide the text of a cycle may get.
const (
	screen    = 96
	weekWide  = 9 // the column of weeks in the grid, with its gutter
	gutter    = 2 // between columns
	blockWide = 8 // weeks side by side in the table below it
)

// cycleText prints the figures of a cycle for people.
func cycleText(w io.Writer, c *weeks.Cycle) {
	title := c.Cycle
	if c.From != "" {
		title += ", from " + c.From
	}
	if c.Scaling != "" {
		title += ", version " + c.Scaling
	}
	fmt.Fprintln(w, title)
	for _, l := range layout.WrapCells(c.Purpose, screen) {
		fmt.Fprintln(w, l)
	}
	fmt.Fprintln(w)
	grid(w, c)
	for from := 0; from < len(c.Weeks); from += blockWide {
		fmt.Fprintln(w)
		weekTable(w, c.Weeks[from:min(from+blockWide, len(c.Weeks))])
	}
	fmt.Fprintln(w)
	for _, n := range cycleNotes(c) {
		for _, l := range layout.WrapCells(n, screen) {
			fmt.Fprintln(w, l)
		}
	}
}

// grid prints a row a week, and a column for every weekday that the cycle uses.
func grid(w io.Writer, c *weeks.Cycle) {
	var days []string
	for _, d := range syntax.Weekdays {
		if slices.ContainsFunc(c.Weeks, func(w *weeks.Week) bool {
			return slices.ContainsFunc(w.Days, func(o weeks.Day) bool { return o.Weekday == d })
		}) {
			days = append(days, d)
		}
	}
	if len(days) == 0 {
		fmt.Fprintln(w, "no day of it has a session")
		return
	}
	width := min(26, (screen-weekWide)/len(days)-gutter)
	table := [][]string{append([]string{"week"}, days...)}
	least := []int{weekWide - gutter}
	for range days {
		least = append(least, width)
	}
	for _, week := range c.Weeks {
		row := []string{weekCell(week)}
		for _, d := range days {
			row = append(row, strings.Join(dayLines(c, week, d, width), "\n"))
		}
		table = append(table, nil, row)
	}
	fmt.Fprint(w, layout.Table(table, least...))
}

// weekCell names a week: its number, that of its year by ISO 8601, and its kind.
func weekCell(week *weeks.Week) string {
	text := fmt.Sprint(week.Week)
	if _, iso, ok := strings.Cut(week.ISOWeek, "-"); ok {
		text += " " + iso
	}
	if week.Kind != "" {
		text += "\n" + week.Kind
	}
	return text
}

// dayLines are the sessions of a weekday with their remarks, wrapped to a width.
func dayLines(c *weeks.Cycle, week *weeks.Week, weekday string, width int) []string {
	var out []string
	for _, d := range week.Days {
		if d.Weekday != weekday {
			continue
		}
		name := strings.TrimSpace(d.Time + " " + d.Session)
		if d.Scaling != "" && d.Scaling != c.Scaling {
			name += ", " + d.Scaling
		}
		out = append(out, layout.WrapCells(name, width)...)
		for _, s := range d.Remarks() {
			out = append(out, layout.WrapCells(s, width)...)
		}
	}
	return out
}

// weekTable prints the figures of some weeks, a column each.
func weekTable(w io.Writer, ws []*weeks.Week) {
	head := []string{"week"}
	for _, k := range ws {
		head = append(head, strings.TrimSpace(fmt.Sprintf("%d %s", k.Week, k.Kind)))
	}
	table := [][]string{head}
	row := func(name string, of func(*weeks.Week) string) {
		line := []string{name}
		found := false
		for _, k := range ws {
			text := of(k)
			found = found || text != ""
			line = append(line, text)
		}
		if found {
			table = append(table, line)
		}
	}
	// A section is left out where no row follows it.
	section := func(name string) {
		if n := len(table) - 1; n > 0 && len(table[n]) == 1 {
			table = table[:n]
		}
		table = append(table, []string{name})
	}
	row("minutes", func(k *weeks.Week) string {
		if len(k.Days) == 0 {
			return ""
		}
		return k.Minutes.Text()
	})
	row("session load", func(k *weeks.Week) string {
		return ofLoad(k, func(l *weeks.Strain) string { return whole(l.Total) })
	})
	row("monotony", func(k *weeks.Week) string {
		return ofLoad(k, func(l *weeks.Strain) string {
			if l.Monotony == nil {
				return "undefined"
			}
			return fmt.Sprintf("%.2f", *l.Monotony)
		})
	})
	row("strain", func(k *weeks.Week) string {
		return ofLoad(k, func(l *weeks.Strain) string {
			if l.Strain == nil {
				return "undefined"
			}
			return whole(*l.Strain)
		})
	})
	row("moderate minutes", func(k *weeks.Week) string {
		return ofLoad(k, func(l *weeks.Strain) string { return whole(l.Equivalent) })
	})
	var lifts []string
	for _, k := range ws {
		for _, l := range k.Lifts {
			if !slices.Contains(lifts, l.Movement) {
				lifts = append(lifts, l.Movement)
			}
		}
	}
	section("heaviest load")
	for _, name := range lifts {
		row("  "+name, func(k *weeks.Week) string { return liftSays(k, name) })
	}
	section("volume")
	row("  hard sets", func(k *weeks.Week) string { return some(k.HardSets, false) })
	row("  load moved, kg", func(k *weeks.Week) string {
		text := some(k.Moved.Kg, k.Moved.Estimate)
		if len(k.Moved.Without) > 0 {
			text = strings.TrimSpace(text + "*")
		}
		return text
	})
	row("  push : pull", func(k *weeks.Week) string { return ratio(k.Balance.Push, k.Balance.Pull) })
	row("  squat : hinge", func(k *weeks.Week) string { return ratio(k.Balance.Squat, k.Balance.Hinge) })
	section("by pattern")
	for _, p := range weeks.Patterns(ws) {
		name := "  " + p
		for _, m := range []struct {
			unit string
			of   func(weeks.Volume) float64
		}{
			{"", func(v weeks.Volume) float64 { return v.Repetitions }},
			{", m", func(v weeks.Volume) float64 { return v.Metres }},
			{", cal", func(v weeks.Volume) float64 { return v.Calories }},
			{", min", func(v weeks.Volume) float64 { return v.Seconds }},
		} {
			row(name+m.unit, func(k *weeks.Week) string {
				v := k.Of(p)
				if m.unit == ", min" && m.of(v) > 0 {
					return units.FormatClock(math.Round(m.of(v)))
				}
				return some(m.of(v), v.Estimate)
			})
		}
	}
	if n := len(table) - 1; len(table[n]) == 1 {
		table = table[:n]
	}
	fmt.Fprint(w, layout.Table(table))
}

func ofLoad(k *weeks.Week, say func(*weeks.Strain) string) string {
	if k.Load == nil {
		return ""
	}
	return say(k.Load)
}

// liftSays is the heaviest of a lift in a week.
func liftSays(k *weeks.Week, name string) string {
	for _, l := range k.Lifts {
		switch {
		case l.Movement != name:
		case l.Percent != nil:
			return units.FormatNumber(math.Round(l.Percent.Top*10)/10) + "%"
		case l.Kg != nil:
			return units.FormatNumber(math.Round(l.Kg.Top*10)/10) + " kg"
		}
	}
	return ""
}

func whole(v float64) string { return units.FormatNumber(math.Round(v)) }

// some is a count, with a mark where it is an estimate; empty where there is none.
func some(v float64, estimate bool) string {
	switch {
	case math.Round(v) == 0:
		return ""
	case estimate:
		return "~" + whole(v)
	}
	return whole(v)
}

func ratio(a, b float64) string {
	if a+b == 0 {
		return ""
	}
	return whole(a) + ":" + whole(b)
}

// cycleNotes explain the table.
func cycleNotes(c *weeks.Cycle) []string {
	out := []string{strings.ToUpper(c.Hard[:1]) + c.Hard[1:] + "."}
	rated, unrated := 0, 0
	var without []string
	for _, w := range c.Weeks {
		switch {
		case w.Load != nil:
			rated++
		case len(w.Days) > 0:
			unrated++
		}
		for _, m := range w.Moved.Without {
			if !slices.Contains(without, m) {
				without = append(without, m)
			}
		}
	}
	if rated > 0 {
		out = append(out, "Session load is how hard a session is, from 0 to 10, times its minutes ("+c.Rating+"); "+
			"monotony is its mean over its "+c.Deviation+"; strain is load times monotony. "+
			"Moderate minutes count those rated 7 and up twice; 150 to 300 a week are advised for health.")
	}
	if unrated > 0 {
		out = append(out, "A week has a session load only where each of its sessions says how hard it is, "+
			"such as effort RPE 7.")
	}
	if len(without) > 0 {
		slices.Sort(without)
		out = append(out, "* without "+strings.Join(without, ", ")+": their loads are no weights.")
	}
	return append(out, c.Caution)
}
