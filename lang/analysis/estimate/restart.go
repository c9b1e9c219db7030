package estimate

import (
	"fmt"
	"math"
	"slices"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/units"
)

// Restart is a fix that starts a part so late that three in four of the class are done with
// the one before and have the rest that is asked for, as written and in every version that
// this start holds for; variants are their timelines. What follows on the same clock starts as
// much later, so that no other gap shrinks. At is when it starts then, in s. There is none
// where the part is not pinned to the clock or starts late enough.
func Restart(variants []*Timeline, part *model.Group) (fix diag.Fix, at float64, ok bool) {
	start, pinned := part.Start.One()
	if !pinned {
		return fix, 0, false
	}
	place := part.Start.At
	for _, t := range variants {
		for _, g := range t.Gaps() {
			if g.Next.Group.Start != nil && g.Next.Group.Start.At == place && g.Known() {
				at = max(at, g.ready())
			}
		}
	}
	if at <= start {
		return fix, 0, false
	}
	var edits []diag.Edit
	for _, t := range variants {
		found := false
		for _, o := range t.Parts {
			v, ok := o.Group.Start.One()
			found = found || ok && o.Group.Start.At == place
			if !found || !ok {
				continue
			}
			if v == 0 {
				break // another clock
			}
			e := diag.Edit{At: o.Group.Start.At, New: units.FormatClock(v + at - start)}
			if !slices.Contains(edits, e) {
				edits = append(edits, e)
			}
		}
	}
	fix = diag.Fix{Title: fmt.Sprintf("start %s at %s", part.PartName(), units.FormatClock(at)), Edits: edits}
	if len(edits) > 1 {
		fix.Title += fmt.Sprintf(", and what follows %s later", units.FormatClock(at-start))
	}
	return fix, at, true
}

// StartFor is when a part that is not pinned to the clock can start, in s, so that three in
// four of the class are done with the one before it and have the rest that is asked for, as
// written, which is the first of the variants, and in every version. It is not known where
// that cannot be told, or where what follows is pinned to a time no later than that.
func StartFor(variants []*Timeline, part *model.Group) (at float64, ok bool) {
	for _, t := range variants {
		for _, g := range t.Gaps() {
			if g.Next.Group.At != part.At {
				continue
			}
			if !g.Part.Pinned || !g.Known() {
				return 0, false
			}
			at, ok = max(at, g.ready()), true
		}
	}
	return at, ok && !pinnedBefore(variants[0].Session, part, at)
}

// ready is when, in s on the wall clock, three in four of the class are done with the part and
// have had the rest that is asked for.
func (g Gap) ready() float64 {
	return RoundUp(g.Part.Start+g.rested(), 30)
}

// RoundUp rounds a time, in s, up to the next multiple of a step, as a plan is written.
func RoundUp(s, step float64) float64 { return step * math.Ceil(s/step-1e-9) }

// pinnedBefore says whether what follows a part on the same clock is pinned to a time no
// later than one.
func pinnedBefore(s *model.Session, part *model.Group, at float64) bool {
	behind := false
	for _, g := range s.Parts {
		v, pinned := g.Start.One()
		if behind && pinned {
			return v != 0 && v <= at
		}
		behind = behind || g == part
	}
	return false
}
