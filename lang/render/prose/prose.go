// Package prose writes what has been read in the notation's own words, for whoever shows
// it to people. It is not the formatter: a version's lines stand in no file, so there is
// no text to print.
package prose

import (
	"fmt"
	"math"
	"strings"

	"stint.example/stint/lang/analysis/totals"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/units"
)

// Amount is a quantity with its unit: 12, 400 m, 1:30, 24/16 kg, 80%.
func Amount(q *model.Quantity) string {
	if q == nil {
		return ""
	}
	n, unit := Number(q), unitOf(q)
	switch unit {
	case "%":
		return n + unit
	case "RPE":
		return unit + " " + n
	case "":
		return n
	}
	return n + " " + unit
}

// span is how long something is, or when it comes: 7:00, or 2 min where it is written so.
func span(q *model.Quantity) string {
	if u, ok := units.Lookup(writtenIn(q)); ok && len(q.Terms) == 1 && len(q.Terms[0]) == 1 {
		return units.FormatNumber(u.FromBase(q.Terms[0][0])) + " " + u.String()
	}
	return Amount(q)
}

func writtenIn(q *model.Quantity) string {
	if q == nil {
		return ""
	}
	return q.Written
}

// Number is a quantity without its unit.
func Number(q *model.Quantity) string {
	if q.Max {
		return "max"
	}
	hyphen := "-"
	if q.Form == syntax.FromTo {
		hyphen = " to "
	}
	terms := make([]string, len(q.Terms))
	longest := 0.0
	for _, row := range q.Terms {
		for _, v := range row {
			longest = max(longest, v)
		}
	}
	for i, row := range q.Terms {
		tiers := make([]string, len(row))
		for k, v := range row {
			if tiers[k] = Value(v, q.Unit, q.Written); q.Unit == "s" { // those of an amount have one form
				tiers[k] = units.FormatTimeBeside(v, longest)
			}
		}
		terms[i] = strings.Join(tiers, "/")
	}
	if q.Open {
		terms = append(terms, "...")
	}
	text := strings.Join(terms, hyphen)
	switch {
	case q.More, q.Bound == model.AtLeast && q.Form == syntax.One && unitOf(q) == "" && q.Unit != "s" && q.Unit != "x":
		return text + "+"
	case q.Bound != "":
		return string(q.Bound) + " " + text
	}
	return text
}

// Value is one number, in the unit that it was written in.
func Value(v float64, unit, written string) string {
	if unit == "s" {
		return units.FormatTime(v)
	}
	if u, ok := units.Lookup(written); ok {
		v = u.FromBase(v)
	}
	return units.FormatNumber(v)
}

// unitOf is the unit to write behind a number; repetitions, turns, clock values and the
// like have none.
func unitOf(q *model.Quantity) string {
	switch q.Unit {
	case "m", "kg", "cal", "breath", "%", "RPE", "RIR", "bpm", "spm", "W", "C":
		if q.Written != "" {
			return q.Written
		}
		return q.Unit
	}
	return ""
}

// Load is what stands behind @: 2x15/10 kg, 80% of 5RM, rising.
func Load(l model.Load) string {
	if l.Past != nil {
		return Past(l.Past)
	}
	if l.Amount != nil && l.Amount.Bound != "" {
		return bounded(l)
	}
	switch l.Kind {
	case syntax.Noted:
		return "> " + l.Note
	case syntax.Rising:
		return l.Word
	case syntax.Pace:
		text := Amount(l.Amount) + " pace"
		if l.Share != nil {
			text = Amount(l.Share) + " of " + text
		}
		if l.Offset != nil {
			offset, faster := l.Slower()
			sign := map[bool]string{true: " -", false: " +"}[faster]
			text += sign + Amount(offset) + Per(l)
		}
		return text
	case syntax.Named:
		return l.Word
	case syntax.Effort:
		return "effort " + Amount(l.Amount)
	case syntax.Cadence:
		return Amount(l.Amount) + Per(l)
	}
	s := Amount(l.Amount)
	if l.Count != nil {
		s = Number(l.Count) + "x" + s
	}
	return s + base(l.Base)
}

// Per is what a pace, or the offset of one, is per: " per 500 m".
func Per(l model.Load) string {
	if l.Unit == "" {
		return ""
	}
	return " per " + strings.TrimPrefix(units.FormatNumber(l.Per)+" ", "1 ") + l.Unit
}

// Slower says how much slower or faster than a race some work is: ", 0:22-0:26 slower per 500 m".
func Slower(l model.Load, amount func(*model.Quantity) string) string {
	if l.Offset == nil {
		return ""
	}
	offset, faster := l.Slower()
	return ", " + amount(offset) + map[bool]string{true: " faster", false: " slower"}[faster] + Per(l)
}

// bounded is a load that is the least or the most. Of a pace the numbers go the other way than the
// speed, so that is said.
func bounded(l model.Load) string {
	bound, bare := l.Amount.Bound, *l.Amount
	bare.Bound = ""
	l.Amount = &bare
	text := string(bound) + " " + Load(l)
	switch {
	case l.Kind != syntax.Cadence:
	case bound == model.AtMost:
		text += " (that pace or faster)"
	default:
		text += " (that pace or slower)"
	}
	return text
}

func base(b *model.Base) string {
	switch {
	case b == nil, b.Kind == model.OfRM && b.Reps <= 1:
		return ""
	case b.Kind == model.OfRM:
		return " of " + units.FormatNumber(float64(b.Reps)) + "RM"
	case b.Kind == model.OfMovement:
		return " of " + b.Name
	case b.Kind == model.OfToday, b.Kind == model.OfFirst, b.Kind == model.OfLast, b.Kind == model.OfBodyweight:
		return " of " + string(b.Kind)
	}
	return " of max " + string(b.Kind)
}

// Loads are loads as a line has them, each behind its @ and a blank, but for one in words: that is the
// last of its line.
func Loads(ls []model.Load) string {
	var b strings.Builder
	for _, l := range ls {
		if l.Kind != syntax.Noted {
			b.WriteString(" @ " + Load(l))
		}
	}
	return b.String()
}

// Rounded is how a house rounds weights that are worked out: rounded down to 2.5 kg.
func Rounded(r *model.Rounding) string {
	text := "rounded down to "
	if r.Up {
		text = "rounded up to "
	}
	if r.Step == nil {
		return text + "what the discs make"
	}
	return text + Amount(r.Step)
}

// KitItem is a line of kit: 16 kettlebell @ 24 kg.
func KitItem(k model.KitItem) string { return fmt.Sprint(k.Count) + " " + k.Name + Loads(k.Loads) }

func kit(ks []model.Kit) []string {
	var out []string
	for _, k := range ks {
		out = append(out, "with "+k.Name+Loads(k.Loads))
	}
	return out
}

func until(e *model.End) string {
	switch {
	case e == nil:
		return ""
	case e.Clock != nil:
		return " until " + Amount(e.Clock)
	case e.Reading != nil:
		return " until " + Amount(e.Reading)
	case e.Past != nil:
		return " until " + Past(e.Past)
	case e.Note != "":
		return " until > " + e.Note
	}
	return " until " + string(e.Kind)
}

// Past is what was done before, and what is added to it: the first +0:08.
func Past(p *model.Past) string {
	text := string(p.Of)
	if p.Bound != model.Unbounded {
		text = string(p.Bound) + " " + text
	}
	if p.Offset == nil {
		return text
	}
	amount := Amount(p.Offset)
	if !strings.HasPrefix(amount, "-") {
		amount = "+" + amount
	}
	return text + " " + amount
}

// Rest is a rest, with what is done in it.
func Rest(r *model.Rest) string {
	s := "rest"
	if r.Bound != "" {
		s += " " + string(r.Bound)
	}
	switch {
	case r.Needed:
		s += " as needed"
	case r.Work != nil:
		s += " " + Number(r.Work) + " x work"
	case r.Amount != nil:
		s += " " + Amount(r.Amount)
	}
	s += until(r.Until)
	if r.Of != "" {
		s += " between " + string(r.Of)
	}
	if len(r.Steps) == 1 {
		if one := Step(r.Steps[0]); one != "" {
			s += ": " + one
		}
	}
	return s + Remark(r.Notes)
}

// Placed is a rest on a line of its own, with where it is taken: that depends on the place of
// the line, and is easily misread on a board.
func Placed(r *model.Rest) string {
	s, bare := Rest(r), *r
	where := map[model.RestPlace]string{
		model.RestBetweenTurns: " between turns", model.RestAfterPart: " after",
	}[r.Place]
	if r.Of != "" || where == "" {
		return s
	}
	bare.Steps, bare.Notes = nil, nil
	head := Rest(&bare)
	return head + where + strings.TrimPrefix(s, head)
}

// Remark is notes as a line has them, behind a blank and >; empty where there are none.
func Remark(notes []string) string {
	if len(notes) == 0 {
		return ""
	}
	return " > " + strings.Join(notes, " ")
}

// Aim is what the author expects.
func Aim(a *model.Aim) string {
	if a.Rest != nil {
		return "aim " + Rest(a.Rest) + Remark(a.Notes)
	}
	s := "aim " + Amount(a.Amount)
	switch a.What {
	case model.AimedEnd:
		s = "aim at " + Amount(a.Amount)
	case "time", "rep", "m", "cal", "s", "kg":
	default:
		s = "aim " + Number(a.Amount) + " " + a.What
	}
	return s + Remark(a.Notes)
}

// Score is what a part is scored by: score time, +0:07 per wet foot.
func Score(s *model.Score) string {
	if s.What == syntax.ScoreNote {
		return "score > " + s.Note
	}
	text := strings.Join(strings.Fields("score "+s.Agg+" "+s.What), " ")
	for _, p := range s.Penalties {
		text += ", " + signed(p.Amount) + " per " + p.Per
	}
	return text + Remark(s.Notes)
}

func signed(q *model.Quantity) string {
	if text := Amount(q); strings.HasPrefix(text, "-") {
		return text
	}
	return "+" + Amount(q)
}

// Stated is a total that the author states.
func Stated(t *model.Total) string {
	s := "total "
	if t.After > 0 {
		s += fmt.Sprintf("after round %d: ", t.After)
	}
	if t.Whose != model.OfAnyone {
		s += string(t.Whose) + " "
	}
	amount := *t.Amount
	amount.Bound = ""
	if t.Amount.Bound != "" {
		s += string(t.Amount.Bound) + " "
	}
	s += Amount(&amount)
	if t.Name != "" {
		s += " " + t.Name
	} else if t.Amount.Unit == "rep" {
		s += " reps"
	}
	return s + Remark(t.Notes)
}

// Sum is a total with its unit: 57, 800 m, 24/16, 30 or more.
func Sum(r totals.Row) string {
	var parts []string
	open, same := false, true
	for _, s := range r.Tiers {
		if r.Unit == "m" { // a mile is rounded to whole metres
			s.Lo, s.Hi = math.Round(s.Lo), math.Round(s.Hi)
		}
		open = open || s.Open
		same = same && s == r.Tiers[0]
		n := Value(s.Lo, r.Unit, "")
		if s.Hi != s.Lo && !s.Open {
			n += "-" + Value(s.Hi, r.Unit, "")
		}
		parts = append(parts, n)
	}
	if same && len(parts) > 0 {
		parts = parts[:1]
		if open && r.Tiers[0].Lo == 0 {
			return "as it comes"
		}
	}
	out := strings.Join(parts, "/")
	if r.Unit != "rep" && r.Unit != "s" {
		out += " " + r.Unit
	}
	if open {
		out += " or more"
	}
	return out
}
