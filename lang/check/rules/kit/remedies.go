package kit

import (
	"fmt"
	"slices"
	"strings"

	"stint.example/stint/lang/analysis/equipment"
	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/source"
)

// A remedy is a way out of a shortage that was tried: the session was changed so, and both
// who needs what and how long it takes worked out again.
type remedy struct {
	text string
	fix  *diag.Fix
}

// A shortKit is a use with all the kit that its lines are short of.
type shortKit struct {
	equipment.Use
	kits []string
}

// remedies are the ways out of a shortage that work, the best first.
func remedies(p *check.Pass, s *model.Session, us []equipment.Use) []remedy {
	u := &shortKit{Use: us[0]}
	for _, o := range us {
		u.kits = append(u.kits, o.Kit)
	}
	i := slices.Index(s.Parts, u.Part)
	if i < 0 {
		return nil
	}
	var out []remedy
	add := func(r remedy, ok bool) {
		if ok {
			out = append(out, r)
		}
	}
	add(offerStations(p, s, i, u))
	if u.Part.Kind == model.Part {
		add(offerHeats(p, s, i, u))
	}
	or, either := offerChoice(p, s, i, u)
	add(or, either)
	if u.Part.Kind == model.Part {
		add(offerPairs(p, s, i, u))
	}
	if !either { // it would only leave out the choice
		add(offerSubstitute(p, s, i, u))
	}
	add(offerStagger(u))
	return out
}

// withPart is a session with another part in the place of one.
func withPart(s *model.Session, i int, part *model.Group) *model.Session {
	c := *s
	c.Parts = slices.Clone(s.Parts)
	c.Parts[i] = part
	return &c
}

// enoughKit says whether there is kit enough in a part, of the kinds that were short and of all
// that was not.
func enoughKit(p *check.Pass, before, after *model.Session, i int, kits []string, t *estimate.Timeline) bool {
	was := equipment.Of(before, p.Env, p.Unqueued(before))
	for _, u := range equipment.Of(after, p.Env, t) {
		if u.Part != after.Parts[i] || !lacking(p, &u) {
			continue
		}
		if slices.Contains(kits, u.Kit) || !slices.ContainsFunc(was, func(o equipment.Use) bool {
			return o.Part == before.Parts[i] && o.Kit == u.Kit && lacking(p, &o)
		}) {
			return false
		}
	}
	return true
}

// enoughTime says whether a changed session still has time for all: its turns fit into their
// intervals and its work into the cap, every part is over, and the rest taken that is asked
// for, when the next starts by the clock, and the hour is long enough.
func enoughTime(p *check.Pass, s *model.Session, i int, t *estimate.Timeline) bool {
	part, was := t.Parts[i], p.Unqueued(s).Parts[i]
	if !part.Proven() {
		return false
	}
	for _, g := range part.Groups {
		for _, turn := range g.Turns {
			if turn.Took > turn.Interval+estimate.Tolerance {
				return false
			}
		}
	}
	if limit, ok := part.Group.Cap.One(); ok && part.Work.Slow > limit+estimate.Tolerance &&
		was.Work.Slow <= limit+estimate.Tolerance {
		return false
	}
	for _, g := range t.Gaps() {
		if g.Part.Began < part.Began || !g.Next.Pinned {
			continue
		}
		if g.Part.Room+max(g.Part.RestBehind.Slow, g.Asked().Rest) > g.Window+estimate.Tolerance {
			return false
		}
	}
	length, ok := s.Length.One()
	if !ok {
		length, ok = p.Env.House.Length.One()
	}
	return !ok || t.Length <= length+estimate.Tolerance
}

// tryRemedy tries a changed part. It is true where there is kit and time enough, in the session
// at hand and, where an edit of the text changes them too, in all its versions.
func tryRemedy(p *check.Pass, s *model.Session, i int, kits []string,
	change func(*model.Group) *model.Group) (*estimate.PartTime, bool) {
	try := func(v *model.Session, j int) (*estimate.PartTime, bool) {
		after := withPart(v, j, change(v.Parts[j]))
		t := estimate.Of(after, p.Env)
		return t.Parts[j], enoughKit(p, v, after, j, kits, t) && enoughTime(p, v, j, t)
	}
	part, ok := try(s, i)
	if !ok || p.Version != nil {
		return part, ok
	}
	for _, v := range s.Versions {
		j := slices.IndexFunc(v.Session.Parts, func(g *model.Group) bool { return g.At == s.Parts[i].At })
		if j < 0 {
			continue
		}
		after := withPart(v.Session, j, change(v.Session.Parts[j]))
		if t := estimate.Of(after, p.Env); !enoughTime(p, v.Session, j, t) &&
			enoughTime(p, v.Session, j, p.Unqueued(v.Session)) {
			return part, false
		}
	}
	return part, true
}

// offerStations makes stations of slots, so that the class is spread over them.
func offerStations(p *check.Pass, s *model.Session, i int, u *shortKit) (remedy, bool) {
	part := s.Parts[i]
	var slots *model.Group
	for g := range part.Groups(model.Everything) {
		if slots != nil || g.Slots() < 2 {
			continue
		}
		for w := range g.Lines(model.Everything) {
			if slices.Contains(u.Lines, w) {
				slots = g
			}
		}
	}
	if slots == nil {
		return remedy{}, false
	}
	_, ok := tryRemedy(p, s, i, u.kits, func(g *model.Group) *model.Group {
		return copyGroup(g, func(c *model.Group) {
			if c.Kind == model.Slot {
				c.Kind = model.Station
			}
		}, nil)
	})
	if !ok {
		return remedy{}, false
	}
	class, n := p.Env.House.Class, slots.Slots()
	r := remedy{text: fmt.Sprintf("write station for slot: at each of the %d are %d people then", n, (class+n-1)/n)}
	fix := diag.Fix{Title: "make stations of the slots"}
	for _, k := range slots.Steps {
		g, ok := k.(*model.Group)
		if !ok || g.Kind != model.Slot {
			continue
		}
		if !strings.HasPrefix(g.At.Text(), "slot") {
			return r, true
		}
		fix.Edits = append(fix.Edits,
			diag.Edit{At: g.At.File.At(source.Span{Start: g.At.Start, End: g.At.Start + len("slot")}), New: "station"})
	}
	if p.Version == nil {
		r.fix = &fix
	}
	return r, true
}

// copyGroup is a group with all groups inside it copied and changed, and their lines too.
func copyGroup(g *model.Group, group func(*model.Group), line func(*model.Work) *model.Work) *model.Group {
	c := *g
	if group != nil {
		group(&c)
	}
	steps := func(in []model.Step) []model.Step {
		out := slices.Clone(in)
		for i, s := range out {
			switch s := s.(type) {
			case *model.Group:
				out[i] = copyGroup(s, group, line)
			case *model.Work:
				if line != nil {
					out[i] = line(s)
				}
			}
		}
		return out
	}
	c.Steps = steps(g.Steps)
	c.Events = slices.Clone(g.Events)
	for i, e := range c.Events {
		of := *e
		of.Steps = steps(e.Steps)
		c.Events[i] = &of
	}
	return &c
}
