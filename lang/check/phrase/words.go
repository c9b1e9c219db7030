// Package phrase has the words that messages of several rules share: lists, shares, estimates and
// how many of a class they are about.
package phrase

import (
	"fmt"
	"strings"

	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/units"
)

// Typical is a time for the three athletes, as a label says it.
func Typical(t estimate.Times) string {
	fast, mid, slow := units.FormatClock(t.Fast), units.FormatClock(t.Typical), units.FormatClock(t.Slow)
	if fast == mid && mid == slow {
		return mid
	}
	return fmt.Sprintf("typical %s (%s fast, %s slow)", mid, fast, slow)
}

// Verb makes a verb agree with who does it: about 1 of 16 misses, 3 of 16 miss.
func Verb(s estimate.ClassShare, one, more string) string {
	if s.One() {
		return one
	}
	return more
}

// PartTook is a label: how long a part takes, and how sure it is that this is too long.
func PartTook(g estimate.Gap, v estimate.Verdict) string {
	if g.Exact() {
		return "it takes " + units.FormatClock(g.Took(g.Part.Work.Typical))
	}
	return tooLong(g.Part.Work, g.Timeline, v)
}

// TurnTook is a label: how long the longest turn takes, and how sure it is that this is too
// long.
func TurnTook(t *estimate.Timeline, g *estimate.GroupTime, v estimate.Verdict) string {
	took := estimate.Times{Fast: g.Turns[0].Took, Typical: g.Turns[1].Took, Slow: g.Turns[2].Took}
	if units.Same(took.Fast, took.Slow) {
		return "it takes " + units.FormatClock(took.Typical)
	}
	return tooLong(took, t, v)
}

func tooLong(took estimate.Times, t *estimate.Timeline, v estimate.Verdict) string {
	if v == estimate.SurelyLate {
		return Typical(took) + "; too long even if everyone is " + Percent(100*t.Figures.Margin) + " quicker"
	}
	return Typical(took) + ", an estimate"
}

// TurnName is what a sentence calls a turn on a clock, and where its work stands if it is a
// slot's.
func TurnName(g *model.Group, turn int) (string, source.Place) {
	var slots []*model.Group
	for _, s := range g.Steps {
		if k, ok := s.(*model.Group); ok && k.IsSlot() {
			slots = append(slots, k)
		}
	}
	if len(slots) == 0 {
		return fmt.Sprintf("turn %d", turn), source.Place{}
	}
	k := slots[(turn-1)%len(slots)]
	return fmt.Sprintf("%s %d, in turn %d,", k.Kind, k.Number, turn), k.At
}

// Or joins words with commas and a last "or".
func Or(words ...string) string { return joined(words, " or ") }

// And joins words with commas and a last "and".
func And(words ...string) string { return joined(words, " and ") }

func joined(words []string, last string) string {
	if n := len(words); n > 1 {
		return strings.Join(words[:n-1], ", ") + last + words[n-1]
	}
	return strings.Join(words, "")
}

// Percent is a share as a sentence says it.
func Percent(v float64) string { return units.FormatNumber(v) + "%" }

// Many is a number of things: 1 lap, 3 laps.
func Many(n float64, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return fmt.Sprintf("%g %ss", n, thing)
}
