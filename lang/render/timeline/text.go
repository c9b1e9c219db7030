package timeline

import (
	"fmt"
	"io"
	"strings"

	"stint.example/stint/lang/render/layout"
	"stint.example/stint/lang/source"
)

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
		var table [][]string
		for _, f := range doc.Figures {
			table = append(table, []string{"  " + f.Name, f.Value, f.Source})
		}
		fmt.Fprint(w, layout.Table(table))
	}
	if len(doc.Paces) > 0 {
		fmt.Fprintln(w, "\npaces")
		var table [][]string
		for _, p := range doc.Paces {
			table = append(table, []string{"  " + p.Movement, p.What, p.Value, p.Source})
		}
		fmt.Fprint(w, layout.Table(table))
	}
	fmt.Fprintln(w, "\n"+doc.Caution)
}

// Write prints a timeline: a row a part, and below it the remarks on each.
func (c *Clock) Write(w io.Writer, from func(source.Place) string) {
	fmt.Fprintln(w, c.Title())
	if c.Class > 0 {
		fmt.Fprintf(w, "class of %d; ", c.Class)
	}
	fmt.Fprint(w, "three times are for a fast, a typical and a slow member\n\n")
	table := [][]string{{"part", "start", "work", "done at", "rest left"}}
	for _, p := range c.Parts {
		table = append(table, []string{p.Name, p.StartText(), p.WorkText(), p.EndText(), p.LeftText()})
	}
	fmt.Fprint(w, layout.Table(table))
	for _, p := range c.Parts {
		p.write(w, from)
	}
	fmt.Fprintln(w, "\nlength: "+c.Length.Text())
}

// write prints the remarks on a part, and how its times are made up.
func (p *Part) write(w io.Writer, from func(source.Place) string) {
	says := p.Remarks()
	if len(says)+len(p.Spent) == 0 {
		return
	}
	fmt.Fprintln(w, "\n"+strings.TrimSuffix(p.Name+" "+p.How, " "))
	where := map[string][]string{}
	for _, m := range p.Missing {
		where[m.Text()] = append(where[m.Text()], from(m.At))
	}
	for _, s := range says {
		if at := where[s]; len(at) > 0 {
			s += " (" + strings.Join(at, ", ") + ")"
		}
		fmt.Fprintln(w, "  "+s)
	}
	for _, s := range p.Spent {
		fmt.Fprintf(w, "  %-7s  %s\n", s.Level, s.Sum())
	}
	for _, l := range p.Lines {
		n := l.N.Numbers()
		if l.Unit == "s" {
			n = l.N.Times()
		} else if l.Unit != "rep" {
			n += " " + l.Unit
		}
		fmt.Fprintf(w, "    %s %s, typical: %s\n", n, l.Movement, l.Spent[1].Sum())
	}
}
