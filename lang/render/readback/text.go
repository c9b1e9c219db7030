package readback

import (
	"fmt"
	"io"
	"strings"

	"stint.example/stint/lang/render/layout"
)

// width is how many columns the sentences take on a terminal.
const width = 80

// Write prints a reading for people.
func (r *Reading) Write(w io.Writer) {
	title := r.Session
	if r.Version != "" {
		title += ", version " + r.Version
	}
	if r.Week != "" {
		title += ", in " + r.Week
	}
	fmt.Fprintln(w, title)
	sentences(w, r.About, 1)
	parts(w, r.Parts)
	account(w, r.Account)
	for _, v := range r.Versions {
		fmt.Fprintf(w, "\nVersion %s\n", v.Version)
		wrapped(w, 1, "", v.About)
		for _, p := range v.Parts {
			depth := 1
			if p.Part != "" {
				wrapped(w, 1, "", p.Part)
				depth = 2
			}
			for _, c := range p.Changes {
				wrapped(w, depth, "", c)
			}
		}
		if len(v.Account) > 0 {
			wrapped(w, 1, "", "What holds otherwise")
			claims(w, v.Account, 2)
		}
	}
}

// Write prints a plan for people.
func (p *Plan) Write(w io.Writer) {
	fmt.Fprintln(w, p.Cycle)
	sentences(w, p.About, 1)
	parts(w, p.Weeks)
	account(w, p.Account)
}

func parts(w io.Writer, ps []Part) {
	for _, p := range ps {
		fmt.Fprintf(w, "\n%s\n", p.Name)
		sentences(w, p.Sentences, 1)
	}
}

func account(w io.Writer, cs []Claim) {
	if len(cs) > 0 {
		fmt.Fprintln(w, "\nWhat is stated, and whether it holds")
		claims(w, cs, 1)
	}
}

// sentences prints sentences: those of one head as a paragraph, every other on a line of its own.
func sentences(w io.Writer, ss []Sentence, depth int) {
	for i := 0; i < len(ss); {
		s := ss[i]
		text := s.Text
		for i++; i < len(ss) && s.Depth == 0 && !s.Note && ss[i].Depth == 0 && !ss[i].Note && ss[i].At == s.At; i++ {
			text += " " + ss[i].Text
		}
		mark := ""
		if s.Note {
			mark = "> "
		}
		wrapped(w, depth+s.Depth, mark, text)
	}
}

func claims(w io.Writer, cs []Claim, depth int) {
	for _, c := range cs {
		what := c.What
		if c.Of != "" {
			what = c.Of + ", " + what
		}
		wrapped(w, depth, "", what+": "+string(c.Holds)+". "+sentence(c.Why))
	}
}

// wrapped prints a text at a depth; its further lines stand two blanks deeper.
func wrapped(w io.Writer, depth int, mark, text string) {
	if text == "" {
		return
	}
	indent := strings.Repeat("  ", depth)
	for i, line := range layout.WrapCells(mark+text, width-len(indent)-2) {
		if i > 0 {
			line = "  " + line
		}
		fmt.Fprintln(w, indent+line)
	}
}
