package syntax

import (
	"math"
	"slices"
	"strings"

	"stint.example/stint/lang/source"
	"stint.example/stint/lang/units"
)

// The methods of this file refuse words that boards have and the notation has not, each with
// what to write in its place.

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

// heldWork reports how long each repetition of counted work is held, with or without a comma before it,
// and reads on without it.
func (r *reader) heldWork() {
	for i := 2; i < len(r.toks); i++ {
		_, _, next := r.timeAt(i + 1)
		if r.word(i) != "hold" || next == i+1 || r.kind(i-1) != Comma && !r.number(0) {
			continue
		}
		d := lineDiag{rule: unknownWord, span: r.toks[i].Join(r.toks[next-1].Span)}
		r.refusedHold(&d)
		r.report(d)
		if r.kind(i-1) == Comma {
			i--
		}
		r.toks = slices.Delete(slices.Clone(r.toks), i, next)
		return
	}
}

// refusedHold completes the message of a clause that says how long each repetition is held, which a
// tempo says with the place, and reports whether the clause is one.
func (r *reader) refusedHold(d *lineDiag) bool {
	i := slices.IndexFunc(r.toks, func(t Tok) bool { return t.Start == d.span.Start })
	_, seconds, next := r.timeAt(i + 1)
	if next == i+1 {
		return false
	}
	d.message = "how long a repetition is held is said by its tempo, and where"
	d.help = "a tempo says where it is held: down, at the bottom, up, at the top, such as tempo 1211"
	if seconds < 1 || seconds > 99 || seconds != math.Trunc(seconds) || slices.ContainsFunc(r.toks, func(t Tok) bool { return t.Kind == Tempo }) {
		return true
	}
	d.span = r.toks[i].Join(r.toks[next-1].Span)
	hold, hyphen, comma := units.FormatNumber(seconds), "", ""
	if seconds > 9 {
		hyphen = "-"
	}
	start := d.span.Start
	if r.kind(i-1) != Comma {
		start, comma = r.toks[i-1].End, ", "
	}
	span := source.Span{Start: start, End: d.span.End}
	bottom := "tempo " + strings.Join([]string{"1", hold, "1", "1"}, hyphen)
	top := "tempo " + strings.Join([]string{"1", "1", "1", hold}, hyphen)
	d.fix = &lineFix{title: "write " + bottom + ", held at the bottom", span: span, text: comma + bottom}
	d.others = []lineFix{{title: "write " + top + ", held at the top", span: span, text: comma + top}}
	return true
}

// eventNotes are what the notation says of events that boards have and it has not: as a note.
var eventNotes = map[string]string{"drop": "", "miss": "You miss one.", "catch": "You catch up with somebody."}

// refusedEvent reports work at each drop, miss or catch, with what stands behind the colon.
func (r *reader) refusedEvent(inline []Tok) bool {
	note, known := eventNotes[r.word(2)]
	if !known {
		return false
	}
	d := lineDiag{rule: unknownWord, span: r.toks[2].Span}
	if note == "" {
		d.message, d.help = "a drop is a break of the work", "write at each break"
		d.fix = &lineFix{title: "write break", span: d.span, text: "break"}
		r.report(d)
		return true
	}
	d.message, d.help = "the notation has no event of that name", "write what it depends on as a note: if > "+note
	mend := lineFix{title: "write if > " + note, span: r.extent(), text: "if > " + note}
	if len(inline) > 0 {
		mend.text += "\n  " + r.body[inline[0].Start:inline[len(inline)-1].End]
	}
	if r.p.Note == nil && r.p.Comment == nil {
		d.fix = &mend
	}
	r.report(d)
	return true
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
