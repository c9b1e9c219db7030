package format

import (
	"math"
	"strconv"
	"strings"

	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/units"
)

// num prints a number with no more digits than it needs, and a clock value as m:ss
// below 100:00 and as h:mm:ss from there on.
func num(n syntax.Num) string {
	more := pick(n.More, "+", "")
	if n.Clock {
		return units.FormatTime(n.Value) + more
	}
	return strconv.FormatFloat(n.Value, 'f', -1, 64) + more
}

// value prints a number for each tier, or one for all.
func value(v syntax.Value) string { return tiers(v, "/", longest(v)) }

// paces prints the numbers for a fast, a typical and a slow member: here alone stand
// blanks round the slash.
func paces(v syntax.Value) string { return tiers(v, " / ", longest(v)) }

func tiers(v syntax.Value, slash string, longest float64) string {
	out := make([]string, len(v.Tiers))
	for i, n := range v.Tiers {
		if out[i] = num(n); n.Clock { // those of an amount have one form
			out[i] = units.FormatTimeBeside(n.Value, longest) + pick(n.More, "+", "")
		}
	}
	return strings.Join(out, slash)
}

// longest is the longest of the clock values of some tiers, in seconds.
func longest(v syntax.Value) (seconds float64) {
	for _, n := range v.Tiers {
		if n.Clock {
			seconds = max(seconds, n.Value)
		}
	}
	return seconds
}

// amount prints an amount without its unit: 12, 8-12, 14-10-6, 2-4-...-12, 50 to 70.
func amount(a *syntax.Amount) string {
	hyphen := "-"
	if a.Form == syntax.FromTo {
		hyphen = " to "
	}
	out := make([]string, len(a.Steps))
	most := 0.0
	for _, s := range a.Steps {
		most = max(most, longest(s.Value))
	}
	for i, s := range a.Steps {
		if out[i] = "..."; !s.Dots {
			out[i] = tiers(s.Value, "/", most)
		}
	}
	text := strings.Join(out, hyphen)
	if a.Bound != "" {
		text = a.Bound + " " + text
	}
	return text
}

// count prints an amount that counts without a unit, where a plus says at least: 7+.
func count(a *syntax.Amount) string {
	if a.Bound != syntax.AtLeast || a.Form != syntax.One || a.Clocked() {
		return amount(a)
	}
	bare := *a
	bare.Bound = ""
	return amount(&bare) + "+"
}

// rungs prints the counts of a ladder, where "1 to 9" means every whole number from one to
// the other and is written as the series that it is.
func rungs(a *syntax.Amount) string {
	if a.Form != syntax.FromTo || len(a.Steps[0].Tiers) != 1 || len(a.Steps[1].Tiers) != 1 {
		return amount(a)
	}
	from, to := a.Steps[0].Tiers[0], a.Steps[1].Tiers[0]
	apart := to.Value - from.Value
	if from.Clock || to.Clock || from.More || to.More || !whole(from.Value) || !whole(to.Value) || apart == 0 {
		return amount(a)
	}
	out := []string{num(from)}
	if steps := math.Abs(apart); steps > 1 {
		out = append(out, num(syntax.Num{Value: from.Value + apart/steps}))
		if steps > 2 {
			out = append(out, "...")
		}
	}
	return strings.Join(append(out, num(to)), "-")
}

func whole(v float64) bool { return v == math.Trunc(v) }

// once reports whether an amount is exactly one, so that what it counts stands in the
// singular.
func once(a *syntax.Amount) bool {
	return a.Form == syntax.One && a.Bound != syntax.AtLeast && len(a.Steps[0].Tiers) == 1 && !a.Steps[0].Tiers[0].More && !a.Steps[0].Tiers[0].Clock && a.Steps[0].Tiers[0].Value == 1
}

// quantity prints an amount and its unit. A duration in seconds or tenths of one is printed as a
// clock value, whatever it is written in.
func quantity(q *syntax.Quantity) string {
	if a, ok := clocked(q); ok {
		return amount(a)
	}
	return written(q)
}

// written prints an amount and its unit, a duration in the unit that it has.
func written(q *syntax.Quantity) string { return amount(&q.Amount) + unit(q.Unit) }

// unit prints a unit behind its number: with a blank, but % without.
func unit(u string) string {
	if u == "" || u == "%" {
		return u
	}
	return " " + u
}

// factors turn the units of time into seconds.
var factors = map[string]units.Unit{"s": units.Second, "min": units.Minute, "h": units.Hour}

// longestClock is the longest time that can be read as a clock value, in seconds: six digits
// of hours.
const longestClock = 1e6 * 3600

// clocked turns an amount of seconds, minutes or hours into clock values. It is not
// one where a number of it is no whole number of tenths of a second.
func clocked(q *syntax.Quantity) (*syntax.Amount, bool) {
	u, ok := factors[q.Unit]
	if !ok {
		return nil, false
	}
	a := syntax.Amount{Form: q.Form, Bound: q.Bound, Steps: make([]syntax.Step, len(q.Steps))}
	for i, s := range q.Steps {
		a.Steps[i].Dots = s.Dots
		for _, n := range s.Tiers {
			seconds := u.ToBase(n.Value)
			// 2.3 min is 138 s but for what a float64 cannot hold.
			tenths := 10 * seconds
			exact := math.Abs(tenths-math.Round(tenths)) <= 1e-12*tenths
			if n.Clock || !exact || seconds >= longestClock {
				return nil, false
			}
			a.Steps[i].Tiers = append(a.Steps[i].Tiers, syntax.Num{Value: math.Round(tenths) / 10, Clock: true, More: n.More})
		}
	}
	return &a, true
}

// loads prints loads, each behind its @ and a blank: those in words, which are the last of their line,
// or the others.
func loads(ls []syntax.Load, inWords bool) string {
	var b strings.Builder
	for i := range ls {
		switch noted := ls[i].Kind == syntax.Noted; {
		case noted != inWords:
		case noted:
			b.WriteString(" @")
		default:
			b.WriteString(" @ ")
			b.WriteString(load(&ls[i]))
		}
	}
	return b.String()
}

// bases are the bases of a percentage that are words of the notation.
var bases = []string{"the first", "the last", "today", "bodyweight", "max reps", "max time", "max heart rate", "max speed", "max power"}

func load(l *syntax.Load) string {
	if l.Amount != nil && l.Amount.Bound != "" && l.Kind != syntax.Effort { // it stands before all of the load, but behind the word effort
		bare, amount := *l, *l.Amount
		amount.Bound = ""
		bare.Amount = &amount
		return l.Amount.Bound + " " + load(&bare)
	}
	if l.Share != nil && l.Share.Bound != "" {
		bare, share := *l, *l.Share
		share.Bound = ""
		bare.Share = &share
		return l.Share.Bound + " " + load(&bare)
	}
	switch l.Kind {
	case syntax.Earlier:
		if l.Past.Bound != "" {
			return l.Past.Bound + " " + past(l.Past)
		}
		return past(l.Past)
	case syntax.Rising:
		return strings.ToLower(l.Word.Text)
	case syntax.Named:
		return l.Word.Text
	}
	times := ""
	if l.Count != nil {
		times = amount(l.Count) + "x"
	}
	switch l.Kind {
	case syntax.RPE:
		if l.Count == nil {
			return "RPE " + amount(&l.Amount.Amount)
		}
	case syntax.Effort:
		return "effort " + written(l.Amount)
	case syntax.Pace:
		text := times + written(l.Amount) + " pace"
		if l.Share != nil {
			text = written(l.Share) + " of " + quantity(l.Amount) + " pace"
		}
		if l.Offset != nil {
			text += " " + pick(l.Minus, "-", "+") + quantity(l.Offset) + per(l)
		}
		return text
	case syntax.Cadence:
		return times + written(l.Amount) + per(l)
	}
	of := ""
	if l.Base.Text != "" {
		of = " of " + keyword(l.Base, bases...)
	}
	return times + written(l.Amount) + of
}

// per prints what a pace is per.
func per(l *syntax.Load) string {
	switch {
	case l.Unit == "":
		return ""
	case l.Per == 1:
		return " per " + l.Unit
	}
	return " per " + num(syntax.Num{Value: l.Per}) + " " + l.Unit
}

// keyword prints a name that may be a word of the notation: in lower case if it is.
func keyword(n syntax.Name, words ...string) string {
	for _, w := range words {
		if strings.EqualFold(n.Text, w) {
			return w
		}
	}
	return n.Text
}
