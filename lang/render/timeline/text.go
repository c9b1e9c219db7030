package timeline

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/render/layout"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/units"
)

// columns is how many cells a line takes on a terminal.
const columns = 80

// Write prints timelines for people; from is how a place is named.
func (doc *Clocks) Write(w io.Writer, from func(source.Place) string) {
	for i, c := range doc.Sessions {
		if i > 0 {
			fmt.Fprintln(w)
		}
		c.Write(w, from)
	}
	if len(doc.Figures) > 0 {
		fmt.Fprintln(w, "\nfigures used")
		for _, f := range doc.Figures {
			wrapped(w, "  ", f.Name+": "+f.Value+" ("+f.Source+")")
		}
	}
	if len(doc.Paces) > 0 {
		fmt.Fprintln(w, "\npaces")
		for _, p := range doc.Paces {
			wrapped(w, "  ", p.Movement+", "+p.What+" "+p.Value+" ("+p.Source+")")
		}
	}
	fmt.Fprintln(w)
	wrapped(w, "", doc.Caution)
}

// Summary prints a row a session: its stated length, when the fast, the typical and the slow are done, what
// most of the class miss, and what is not proven.
func (doc *Clocks) Summary(w io.Writer) {
	wrapped(w, "", "when a fast, a typical and a slow member are done, since the session began; the limit that most miss; what is not proven")
	fmt.Fprintln(w)
	table := [][]string{{"session", "stated", "done after", "misses"}}
	for _, c := range doc.Sessions {
		stated := "none"
		if v := c.Length.Stated; v != nil {
			stated = units.FormatClock(*v)
		}
		table = append(table, []string{c.Session, stated, c.DoneText(), c.worst()})
	}
	fitted(w, table)
	fmt.Fprintln(w)
	wrapped(w, "", doc.Caution)
}

// DoneText is when the last part is done, since the session began.
func (c *Clock) DoneText() string {
	over, any := c.timeline.Over()
	if !any {
		return c.Length.TakenText()
	}
	last := c.timeline.Parts[len(c.timeline.Parts)-1]
	hedge := last.HedgeEnd()
	if hedge == "at least " {
		return hedge + levels(over.Least).Times()
	}
	return hedge + levels(over.Times).Times()
}

// worst is the limit that the greatest share of the class misses, and the parts that are not proven.
func (c *Clock) worst() string {
	text, share := "hardly anyone", estimate.Quickest
	var open []string
	for _, p := range c.Parts {
		for _, l := range p.Limits {
			if l.Proven && l.Share > share {
				text, share = p.Name+" "+l.short(), l.Share
			}
		}
		if !p.Proven || slices.ContainsFunc(p.Limits, func(l Limit) bool { return !l.Proven }) {
			open = append(open, p.Name)
		}
	}
	if len(open) > 0 {
		text += "; not proven: " + strings.Join(open, ", ")
	}
	return text
}

// short is a limit and how many miss it: cap 9:00: 3 of 16.
func (l Limit) short() string {
	what, _, _ := strings.Cut(l.What, " before ")
	if l.People == nil {
		return fmt.Sprintf("%s: %.0f %%", what, 100*l.Share)
	}
	return fmt.Sprintf("%s: %d of %d", what, l.People.About, l.People.Of)
}

// wrapped prints a text. What is indented goes on two cells further in.
func wrapped(w io.Writer, indent, text string) {
	further := ""
	if indent != "" {
		further = "  "
	}
	for i, line := range layout.WrapCells(text, columns-len(indent+further)) {
		if i == 1 {
			indent += further
		}
		fmt.Fprintln(w, indent+line)
	}
}

// fitted prints a table whose last column takes what the others leave of the columns, and whose cells go
// on below where they still do not fit.
func fitted(w io.Writer, rows [][]string) {
	most := make([]int, len(rows[0]))
	for _, row := range rows {
		for i, cell := range row {
			most[i] = max(most[i], layout.Cells(cell))
		}
	}
	for {
		over, widest := -columns-2, 0
		for i, n := range most {
			over += n + 2
			if n > most[widest] {
				widest = i
			}
		}
		if over <= 0 || most[widest] < 8 {
			break
		}
		most[widest]--
	}
	for _, row := range rows {
		for i, cell := range row {
			if cell != "" {
				row[i] = strings.Join(layout.WrapCells(cell, most[i]), "\n")
			}
		}
	}
	fmt.Fprint(w, layout.Table(rows))
}

// Write prints a timeline: a row a part, and below it the remarks on each.
func (c *Clock) Write(w io.Writer, from func(source.Place) string) {
	wrapped(w, "", c.Title())
	who := "three times are for a fast, a typical and a slow member"
	if c.Class > 0 {
		who += fmt.Sprintf(" of a class of %d", c.Class)
	}
	who += ": 10, 50 and 90 in a hundred are quicker"
	if slices.ContainsFunc(c.Parts, func(p *Part) bool { return p.of.Team > 1 }) {
		who += "; where people work as a team, for such a team"
	}
	wrapped(w, "", who)
	fmt.Fprintln(w)
	table := [][]string{{"part", "start", "work", "done at", "rest left"}}
	for _, p := range c.Parts {
		table = append(table, []string{p.Name, p.StartText(), p.WorkText(), p.EndText(), p.LeftText()})
	}
	fitted(w, table)
	for _, p := range c.Parts {
		p.write(w, from)
	}
	fmt.Fprintln(w)
	wrapped(w, "", "length: "+c.Length.Text())
}

// write prints the remarks on a part, and how its times are made up.
func (p *Part) write(w io.Writer, from func(source.Place) string) {
	says := p.Remarks()
	if len(says)+len(p.Spent) == 0 {
		return
	}
	fmt.Fprintln(w)
	wrapped(w, "", strings.TrimSuffix(p.Name+" "+p.How, " "))
	where := map[string][]string{}
	for _, m := range p.Missing {
		where[m.Text()] = append(where[m.Text()], from(m.At))
	}
	for _, s := range says {
		if at := where[s]; len(at) > 0 {
			s += " (" + strings.Join(at, ", ") + ")"
		}
		wrapped(w, "  ", s)
	}
	for _, s := range p.Spent {
		wrapped(w, "  ", fmt.Sprintf("%s: %s", s.Level, s.Sum()))
	}
	for _, l := range p.Lines {
		wrapped(w, "    ", l.Text())
	}
}

// Text is how the time of a line is made up for the typical: 36 kettlebell swing, typical: moving 36 · 1.7 ·
// effort 1.14 = 69.8; moving 69.8 + drift 2.0 + ...
func (l Line) Text() string {
	n := l.N.Numbers()
	if l.Unit == "s" {
		n = l.N.Times()
	} else if l.Unit != "rep" {
		n += " " + l.Unit
	}
	s := l.Spent[1]
	text := fmt.Sprintf("%s %s, typical: ", n, l.Movement)
	if l.Pace > 0 && s.Moving > 0 {
		text += fmt.Sprintf("%s · %s s", units.FormatNumber(l.N.Typical), units.FormatNumber(l.Pace))
		rest := s.Moving / (l.N.Typical * l.Pace)
		switch least, most := l.Effort[0], l.Effort[1]; {
		case least == most && most != 1:
			text += " · effort " + units.FormatNumber(most)
			rest /= most
		case least != most:
			text += fmt.Sprintf(" · effort and load %.3f (effort %s to %s)", rest, units.FormatNumber(least), units.FormatNumber(most))
			rest = 1
		}
		if math.Abs(rest-1) > 0.002 {
			text += fmt.Sprintf(" · load %.3f", rest)
		}
		text += " = "
	}
	return text + s.Sum()
}
