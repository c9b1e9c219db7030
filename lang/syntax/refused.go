package syntax

import (
	"math"
	"slices"

	"stint.example/stint/lang/source"
	"stint.example/stint/lang/units"
)

// The methods of this file refuse words that boards have and the notation has not, each with
// what to write in its place.

// asNote is the fix that makes the whole line a note.
func (r *reader) asNote() *lineFix {
	start := r.p.Toks[0].Start
	return &lineFix{title: "make it a note", span: source.Span{Start: start, End: start}, text: "> "}
}

// noteBehind is the fix that makes a note of the clause at a span, which is the line's last;
// nil where more follows it.
func (r *reader) noteBehind(clause source.Span, note string) *lineFix {
	i := slices.IndexFunc(r.p.Toks, func(t Tok) bool { return t.Start == clause.Start })
	if i < 1 || r.p.Toks[len(r.p.Toks)-1].End != clause.End {
		return nil
	}
	from := r.p.Toks[i-1].End
	if r.p.Toks[i-1].Kind == Comma {
		from = r.p.Toks[i-1].Start
	}
	return &lineFix{title: "make it a note", span: source.Span{Start: from, End: clause.End}, text: " > " + note}
}

// refusedClause reports a clause whose words are read and mean nothing that could be
// proven.
func (r *reader) refusedClause(c *Clause) {
	switch {
	case c.Kind == notScored:
		r.report(lineDiag{rule: unknownWord, span: c.Span, message: "nothing that is done counts for a score unless a score says so",
			help: "write score with what counts, and the rest in a note", fix: r.noteBehind(c.Span, "Not scored.")})
	case c.People != nil && c.People.Kind == "halves":
		r.report(lineDiag{rule: unknownWord, span: c.Span, message: "the notation does not divide a class in halves: it says how many are in a team",
			help: "write in teams of 8, or as many as half of the class is"})
	}
}

// refusedHouseLine is what to say of a line that a house had once; empty where it had none
// with that first word.
var refusedHouseLine = map[string]string{
	"change":   "how long it takes from one movement to the next is a figure of the estimate, the same for every house",
	"break":    "how long somebody stops between two unbroken runs is a figure of the estimate, the same for every house",
	"handover": "how long a team takes to hand over is a figure of the estimate, the same for every house",
}

// reading reports a number behind @ that a monitor shows and the notation does not have: turns
// of the pedals, and a speed. The number is token i, its unit starts with token u.
func (r *reader) reading(i, u int) bool {
	switch word := r.word(u); {
	case word == "rpm":
		r.report(lineDiag{rule: unitWrong, span: r.toks[i].Join(r.toks[u].Span), message: "turns of the pedals say nothing of how hard or how fast, and are no load",
			help: "say them in a note, as text behind >"})
	case word == "kph" || word == "kmh" || word == "km/h":
		d := lineDiag{rule: unitWrong, span: r.toks[i].Join(r.toks[u].Span), message: "how fast is said as a pace", help: "write it like @ 5:00 per km"}
		if v := numOf(r.toks[i]).Value; v > 0 && r.kind(i) == Number && u == i+1 {
			pace := units.FormatClock(math.Round(3600/v)) + " per km"
			d.help = "write @ " + pace
			d.fix = &lineFix{title: "write " + pace, span: d.span, text: pace}
		}
		r.report(d)
	default:
		return false
	}
	return true
}
