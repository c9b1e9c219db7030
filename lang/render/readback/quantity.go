package readback

import (
	"math"
	"slices"
	"strings"

	"stint.example/stint/lang/model"
	"stint.example/stint/lang/render/prose"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/units"
)

// A teller puts a session into sentences, with the house's words for its tiers.
type teller struct {
	house *model.House
	start *model.TimeOfDay // of the session; nil where it does not say
}

// ofDay is the time of day, so long after the session began, in s; nothing where it does not say when
// it starts. Of a fast, a typical and a slow athlete it says all three where they differ.
func (t teller) ofDay(began ...float64) string {
	if t.start == nil {
		return ""
	}
	var times []string
	for _, s := range began {
		times = append(times, units.FormatClock(math.Mod(math.Round(t.start.Minutes+s/60), 24*60)))
	}
	return " (time of day " + strings.Join(slices.Compact(times), " / ") + ")"
}

// amount is a quantity in words, with whose each number between slashes is: 24 kg (full) or 16 kg
// (lesser).
func (t teller) amount(q *model.Quantity) string {
	return t.byTier(q, func(one *model.Quantity) string { return amountInWords(one) })
}

// byTier writes a quantity for each tier and says whose it is; once, where all have the same.
func (t teller) byTier(q *model.Quantity, write func(one *model.Quantity) string) string {
	if q == nil {
		return ""
	}
	texts := make([]string, q.Tiers())
	same := true
	for tier := range texts {
		texts[tier] = write(ofTier(q, tier))
		same = same && texts[tier] == texts[0]
	}
	if same {
		return texts[0]
	}
	if len(texts) != len(t.house.Tiers) { // an error, which is reported
		return strings.Join(texts, "/")
	}
	for i, name := range t.house.Tiers {
		texts[i] += " (" + name + ")"
	}
	last := len(texts) - 1
	return strings.Join(texts[:last], ", ") + " or " + texts[last]
}

// ofTier is a quantity as one tier has it.
func ofTier(q *model.Quantity, tier int) *model.Quantity {
	one := *q
	one.Terms = make([][]float64, len(q.Terms))
	for i, row := range q.Terms {
		one.Terms[i] = []float64{row[min(tier, len(row)-1)]}
	}
	return &one
}

// amountInWords is a quantity that tells no tiers apart: 8 to 10, 12, then 9, then 6, from 60 to 70%.
func amountInWords(q *model.Quantity) string {
	if q.Max {
		return "as much as they can"
	}
	bound, unbounded := q.Bound, *q // what it bounds is said once, before all of it
	unbounded.Bound = ""
	q = &unbounded
	number := func(i int) string { return prose.Number(term(q, i)) }
	whole := func(i int) string { return prose.Amount(term(q, i)) }
	last := len(q.Terms) - 1
	if last < 0 {
		return ""
	}
	text := whole(last)
	if q.Unit == "RPE" && last > 0 { // the unit stands in front
		whole, number, text = number, whole, number(last)
	}
	switch {
	case last == 0:
	case q.Form == syntax.Range:
		text = number(0) + " to " + text
	case q.Form == syntax.FromTo:
		way := "rising"
		if q.Terms[0][0] > q.Terms[1][0] {
			way = "falling"
		}
		text = whole(0) + " " + way + " evenly to " + text
	default:
		text = series(q, number, text)
	}
	if q.Open {
		text += ", and so on"
	}
	if q.More {
		text += " or more"
	}
	if bound != "" {
		text = string(bound) + " " + text
	}
	return text
}

// longSeries is how many numbers of a series are read out; a longer one goes on to its last.
const longSeries = 6

// series are the numbers of a series one after the other, the last with its unit.
func series(q *model.Quantity, number func(int) string, last string) string {
	n := len(q.Terms)
	var words []string
	for i := range n - 1 {
		words = append(words, number(i))
	}
	if n > longSeries && even(q) {
		return strings.Join(words[:3], ", ") + " and so on to " + last
	}
	sep := ", then "
	if n > 4 {
		sep = ", "
	}
	return strings.Join(append(words, last), sep)
}

// even says whether the steps of a series are all the same.
func even(q *model.Quantity) bool {
	for i := 2; i < len(q.Terms); i++ {
		if d := q.Terms[i][0] - q.Terms[i-1][0]; d != q.Terms[1][0]-q.Terms[0][0] {
			return false
		}
	}
	return true
}

// term is one number of a quantity by itself.
func term(q *model.Quantity, i int) *model.Quantity {
	return &model.Quantity{Unit: q.Unit, Written: q.Written, Form: syntax.One, Terms: q.Terms[i : i+1]}
}

// and joins words as a sentence does: a, b and c.
func and(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	last := len(words) - 1
	return strings.Join(words[:last], ", ") + " and " + words[last]
}

// capital is a text with a capital letter in front.
func capital(text string) string {
	if text == "" {
		return ""
	}
	return strings.ToUpper(text[:1]) + text[1:]
}

// sentence starts with a capital letter and ends in a full stop.
func sentence(text string) string {
	if text == "" || strings.HasSuffix(text, ":") || strings.HasSuffix(text, ".") {
		return capital(text)
	}
	return capital(text) + "."
}
