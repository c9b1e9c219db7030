package check

import (
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
)

// Restart is a fix that starts a part so late that three in four of the class are done
// with the one before it and have the rest that is asked for, and what follows as much
// later. There is none where it starts late enough.
func Restart(env *model.Env, f *model.File, s *model.Session, part *model.Group) (diag.Fix, bool) {
	p := &pass{Env: env, File: f, times: timelines{}, written: s}
	for _, o := range p.timeline(s).Parts {
		if o.Group == part {
			fix, _, ok := p.restart(o)
			return fix, ok
		}
	}
	return diag.Fix{}, false
}

// StartFor is when a part that is not pinned to the clock can start, in s, so that three
// in four of the class are done with the one before it and have the rest that is asked
// for, as written and in every version. It is not known where that cannot be told.
func StartFor(env *model.Env, f *model.File, s *model.Session, part *model.Group) (at float64, ok bool) {
	p := &pass{Env: env, File: f, times: timelines{}, written: s}
	for _, v := range p.variants() {
		for _, g := range gaps(p.timeline(v)) {
			if g.next.Group.At != part.At {
				continue
			}
			if !g.part.Pinned || !g.known() {
				return 0, false
			}
			at, ok = max(at, up(g.part.Start+g.quarter()+g.asked().rest)), true
		}
	}
	return at, ok && !fixedBefore(s, part, at)
}

// fixedBefore says whether what follows a part on the same clock is pinned to a time no
// later than one.
func fixedBefore(s *model.Session, part *model.Group, at float64) bool {
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
