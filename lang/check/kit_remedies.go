package check

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/clock"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/kit"
	"stint.example/stint/lang/program"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/units"
)

// A kitRemedy is a way out of a shortage that was tried: the session was changed so, and both
// who needs what and how long it takes worked out again.
type kitRemedy struct {
	text string
	fix  *diag.Fix
}

// A shortKit is a use with all the kit that its lines are short of.
type shortKit struct {
	kit.Use
	kits []string
}

// kitRemedies are the ways out of a shortage that work, the best first.
func (p *pass) kitRemedies(s *program.Session, us []kit.Use) []kitRemedy {
	u := &shortKit{Use: us[0]}
	for _, o := range us {
		u.kits = append(u.kits, o.Kit)
	}
	i := slices.Index(s.Parts, u.Part)
	if i < 0 {
		return nil
	}
	var out []kitRemedy
	add := func(r kitRemedy, ok bool) {
		if ok {
			out = append(out, r)
		}
	}
	add(p.asStations(s, i, u))
	if u.Part.Kind == "part" {
		add(p.inHeats(s, i, u))
	}
	or, either := p.orAnother(s, i, u)
	add(or, either)
	if u.Part.Kind == "part" {
		add(p.inPairs(s, i, u))
	}
	if !either { // it would only leave out the choice
		add(p.otherMovement(s, i, u))
	}
	add(p.elsewhereFirst(u))
	return out
}

// withPart is a session with another part in the place of one.
func withPart(s *program.Session, i int, part *program.Group) *program.Session {
	c := *s
	c.Parts = slices.Clone(s.Parts)
	c.Parts[i] = part
	return &c
}

// kitEnough says whether there is kit enough in a part, of the kinds that were short and of all
// that was not.
func (p *pass) kitEnough(before, after *program.Session, i int, kits []string, t *clock.Timeline) bool {
	was := kit.Of(before, p.Env, p.timeline(before))
	for _, u := range kit.Of(after, p.Env, t) {
		if u.Part != after.Parts[i] || !p.kitLacking(&u) {
			continue
		}
		if slices.Contains(kits, u.Kit) || !slices.ContainsFunc(was, func(o kit.Use) bool {
			return o.Part == before.Parts[i] && o.Kit == u.Kit && p.kitLacking(&o)
		}) {
			return false
		}
	}
	return true
}

// timeEnough says whether a changed session still has time for all: its turns fit into their
// intervals and its work into the cap, every part is over, and the rest taken that is asked
// for, when the next starts by the clock, and the hour is long enough.
func (p *pass) timeEnough(s *program.Session, i int, t *clock.Timeline) bool {
	part, was := t.Parts[i], p.timeline(s).Parts[i]
	if !part.Proven() {
		return false
	}
	for _, g := range part.Groups {
		for _, turn := range g.Turns {
			if turn.Took > turn.Interval+second {
				return false
			}
		}
	}
	if limit, ok := part.Group.Cap.One(); ok && part.Work.Slow > limit+second && was.Work.Slow <= limit+second {
		return false
	}
	for _, g := range gaps(t) {
		if g.part.Began < part.Began || !g.next.Pinned {
			continue
		}
		if g.part.Room+max(g.part.After.Slow, g.asked().rest) > g.window+second {
			return false
		}
	}
	length, ok := s.Length.One()
	if !ok {
		length, ok = p.Env.House.Length.One()
	}
	return !ok || t.Length <= length+second
}

// kitProved tries a changed part. It is true where there is kit and time enough, in the session
// at hand and, where an edit of the text changes them too, in all its versions.
func (p *pass) kitProved(s *program.Session, i int, kits []string, change func(*program.Group) *program.Group) (*clock.PartTime, bool) {
	try := func(v *program.Session, j int) (*clock.PartTime, bool) {
		after := withPart(v, j, change(v.Parts[j]))
		t := clock.Of(after, p.Env)
		return t.Parts[j], p.kitEnough(v, after, j, kits, t) && p.timeEnough(v, j, t)
	}
	part, ok := try(s, i)
	if !ok || p.version != nil {
		return part, ok
	}
	for _, v := range s.Versions {
		j := slices.IndexFunc(v.Session.Parts, func(g *program.Group) bool { return g.At == s.Parts[i].At })
		if j < 0 {
			continue
		}
		after := withPart(v.Session, j, change(v.Session.Parts[j]))
		if t := clock.Of(after, p.Env); !p.timeEnough(v.Session, j, t) && p.timeEnough(v.Session, j, p.timeline(v.Session)) {
			return part, false
		}
	}
	return part, true
}

// inHeats starts the class in so many heats as fit at once, a little after one another if
// that will do and else one after the other.
func (p *pass) inHeats(s *program.Session, i int, u *shortKit) (kitRemedy, bool) {
	part := s.Parts[i]
	held := false
	team := 1.0
	walkStep(part, nil, func(step program.Step, _ []*program.Group) {
		if g, ok := step.(*program.Group); ok {
			held = held || g.Heats != nil
			if g.People != nil {
				team = 2 // of halves, any even heat
				if v, ok := g.People.Size.One(); ok && v >= 1 {
					team = math.Floor(v)
				}
			}
		}
	})
	if held {
		return kitRemedy{}, false
	}
	class := p.Env.House.Class
	heats := func(size int, every float64) func(*program.Group) *program.Group {
		return func(g *program.Group) *program.Group {
			c := *g
			c.Heats = &program.People{Kind: "heats", Size: oneQuantity(float64(size), "person"), At: g.At}
			if every > 0 {
				c.Heats.Every = oneQuantity(every, "s")
			}
			return &c
		}
	}
	size := 0
	for n := class - 1; n >= 1 && size == 0; n-- {
		many := (class + n - 1) / n // as even as they can be
		n = (class + many - 1) / many
		whole := int(math.Ceil(float64(n)/team) * team)
		if whole >= class {
			continue
		}
		tried := withPart(s, i, heats(whole, 0)(part))
		if !slices.ContainsFunc(kit.Of(tried, p.Env, p.timeline(s)), func(o kit.Use) bool {
			return o.Part == tried.Parts[i] && slices.Contains(u.kits, o.Kit) && p.kitLacking(&o)
		}) {
			size = whole
		}
	}
	if size == 0 {
		return kitRemedy{}, false
	}
	n := (class + size - 1) / size
	for _, every := range p.staggers(s, i, u, n) {
		t, ok := p.kitProved(s, i, u.kits, heats(size, every))
		if !ok {
			continue
		}
		clause := fmt.Sprintf("in heats of %d", size)
		if every > 0 {
			clause += " every " + units.FormatClock(every)
		}
		r := kitRemedy{text: fmt.Sprintf("write %s: %s fit, and the last would be done at about %s", clause, fmt.Sprintf("%d heats of %d", n, size), units.FormatClock(t.Start+t.Room))}
		r.fix = p.addClause(part, clause)
		return r, true
	}
	return kitRemedy{}, false
}

func oneQuantity(v float64, unit string) *program.Quantity {
	return &program.Quantity{Unit: unit, Form: syntax.One, Terms: [][]float64{{v}}}
}

// staggers are how far apart heats may start, in s, the quickest first; 0 is one after the
// other.
func (p *pass) staggers(s *program.Session, i int, u *shortKit, heats int) []float64 {
	t := p.timeline(s).Parts[i]
	g := t.Group
	if g.Repeat.Kind == "every" && g.Slots() == 0 {
		if v, ok := g.Repeat.Interval.One(); ok && math.Mod(v, 5*float64(heats)) == 0 {
			return []float64{v / float64(heats), 0}
		}
	}
	to := 0.0
	for _, l := range t.Lines {
		if slices.ContainsFunc(u.Lines, func(w *program.Work) bool { return w == l.Work }) {
			to = max(to, l.To.Slow, l.To.Fast)
		}
	}
	if to <= 0 || g.Repeat.Clocked() || !t.Proven() {
		return []float64{0}
	}
	return []float64{math.Ceil(to/30) * 30, 0}
}

// inPairs lets one of two work at a time.
func (p *pass) inPairs(s *program.Session, i int, u *shortKit) (kitRemedy, bool) {
	part := s.Parts[i]
	divided := false
	walkStep(part, nil, func(step program.Step, _ []*program.Group) {
		g, ok := step.(*program.Group)
		divided = divided || ok && (g.People != nil || g.Solo || g.Heats != nil || g.Kind == "station")
	})
	if divided {
		return kitRemedy{}, false
	}
	t, ok := p.kitProved(s, i, u.kits, func(g *program.Group) *program.Group {
		c := *g
		c.People, c.Solo = &program.People{Kind: "pairs", Size: oneQuantity(2, "person"), At: g.At}, true
		return &c
	})
	if !ok {
		return kitRemedy{}, false
	}
	return kitRemedy{fmt.Sprintf("write in pairs, one works: %d at once fit, and all would be done at about %s", (p.Env.House.Class+1)/2, units.FormatClock(t.Start+t.Room)),
		p.addClause(part, "in pairs, one works")}, true
}

// asStations makes stations of slots, so that the class is spread over them.
func (p *pass) asStations(s *program.Session, i int, u *shortKit) (kitRemedy, bool) {
	part := s.Parts[i]
	var slots *program.Group
	walkStep(part, nil, func(step program.Step, _ []*program.Group) {
		g, ok := step.(*program.Group)
		if !ok || slots != nil || g.Slots() < 2 {
			return
		}
		walkStep(g, nil, func(inner program.Step, _ []*program.Group) {
			if w, ok := inner.(*program.Work); ok && slices.Contains(u.Lines, w) {
				slots = g
			}
		})
	})
	if slots == nil {
		return kitRemedy{}, false
	}
	_, ok := p.kitProved(s, i, u.kits, func(g *program.Group) *program.Group {
		return copiedPart(g, func(c *program.Group) {
			if c.Kind == "slot" {
				c.Kind = "station"
			}
		}, nil)
	})
	if !ok {
		return kitRemedy{}, false
	}
	class, n := p.Env.House.Class, slots.Slots()
	r := kitRemedy{text: fmt.Sprintf("write station for slot: at each of the %d are %d people then", n, (class+n-1)/n)}
	fix := diag.Fix{Title: "make stations of the slots"}
	for _, k := range slots.Steps {
		g, ok := k.(*program.Group)
		if !ok || g.Kind != "slot" {
			continue
		}
		if !strings.HasPrefix(g.At.Text(), "slot") {
			return r, true
		}
		fix.Edits = append(fix.Edits, diag.Edit{At: g.At.File.At(source.Span{Start: g.At.Start, End: g.At.Start + len("slot")}), New: "station"})
	}
	if p.version == nil {
		r.fix = &fix
	}
	return r, true
}

// orAnother leaves a choice of another movement, with other kit or none.
func (p *pass) orAnother(s *program.Session, i int, u *shortKit) (kitRemedy, bool) {
	return p.kitSwapped(s, i, u, func(w *program.Work, m *book.Movement) (*program.Work, bool) {
		if w.Dose == nil || w.From != "line" || w.Dose.At.Start > w.Moves[0].At.Start || slices.ContainsFunc(w.Loads, ofKit) {
			return nil, false
		}
		c := *w
		c.Choice, c.Moves = true, append(slices.Clone(w.Moves), program.Move{Movement: m, Name: m.Name, At: w.Moves[0].At})
		return &c, true
	}, func(m, other *book.Movement) (string, func([]*program.Group) []diag.Edit) {
		text := m.Name + " or " + other.Name
		return text, func(parts []*program.Group) []diag.Edit {
			var out []diag.Edit
			for _, w := range linesOfMovement(parts, m) {
				out = append(out, diag.Edit{At: w.Moves[0].At, New: text})
			}
			return out
		}
	})
}

// otherMovement writes another movement, of whose kit there is enough.
func (p *pass) otherMovement(s *program.Session, i int, u *shortKit) (kitRemedy, bool) {
	return p.kitSwapped(s, i, u, func(w *program.Work, m *book.Movement) (*program.Work, bool) {
		c := *w
		c.Moves = []program.Move{{Movement: m, Name: m.Name, At: w.Moves[0].At}}
		if !slices.Equal(w.Moves[0].Movement.Needs, m.Needs) {
			c.Loads = slices.DeleteFunc(slices.Clone(w.Loads), ofKit)
		}
		return &c, true
	}, func(m, other *book.Movement) (string, func([]*program.Group) []diag.Edit) {
		return other.Name, func(parts []*program.Group) []diag.Edit { return swapEdits(parts, m, other) }
	})
}

// kitSwapped tries what another movement makes of the lines of one, all through a part.
func (p *pass) kitSwapped(s *program.Session, i int, u *shortKit, line func(*program.Work, *book.Movement) (*program.Work, bool),
	write func(m, other *book.Movement) (string, func([]*program.Group) []diag.Edit)) (kitRemedy, bool) {
	part := s.Parts[i]
	if len(u.Lines) != 1 || len(u.Lines[0].Moves) != 1 || u.Lines[0].Moves[0].Movement == nil {
		return kitRemedy{}, false
	}
	m := u.Lines[0].Moves[0].Movement
	for _, other := range insteadOf(p, m) {
		if p.lacksKit(other) != "" || !suitsDoses(s, m, other) {
			continue
		}
		able := true
		_, ok := p.kitProved(s, i, u.kits, func(g *program.Group) *program.Group {
			return copiedPart(g, nil, func(w *program.Work) *program.Work {
				if len(w.Moves) != 1 || w.Moves[0].Movement != m {
					return w
				}
				c, ok := line(w, other)
				if able = able && ok; !ok {
					return w
				}
				return c
			})
		})
		if !ok || !able {
			continue
		}
		text, edits := write(m, other)
		r := kitRemedy{text: "write " + text + ", for which there is kit enough"}
		if p.swappable(s, m) {
			r.fix = &diag.Fix{Title: "write " + text, Edits: edits([]*program.Group{part})}
		}
		return r, true
	}
	return kitRemedy{}, false
}

// elsewhereFirst starts half of the people with another line of the same rounds.
func (p *pass) elsewhereFirst(u *shortKit) (kitRemedy, bool) {
	if len(u.Lines) != 1 || u.Each == 0 || (u.People+1)/2 > u.Fits() {
		return kitRemedy{}, false
	}
	var other *program.Work
	walkStep(u.Part, nil, func(step program.Step, _ []*program.Group) {
		g, ok := step.(*program.Group)
		if !ok || !g.ComesRound() || g.Slots() > 0 || !slices.Contains(g.Steps, program.Step(u.Lines[0])) {
			return
		}
		for _, s := range g.Steps {
			w, ok := s.(*program.Work)
			if ok && other == nil && !p.shareKit(w, u.Lines[0]) {
				other = w
			}
		}
	})
	if other == nil {
		return kitRemedy{}, false
	}
	return kitRemedy{text: fmt.Sprintf("say in a note that half of them start with %s: %d at once fit", movesOf(other), (u.People+1)/2)}, true
}

// shareKit says whether two lines need the same kit.
func (p *pass) shareKit(a, b *program.Work) bool {
	needs := func(w *program.Work) (out []string) {
		for _, m := range w.Moves {
			if m.Movement != nil {
				out = append(out, m.Movement.Needs...)
			}
		}
		return out
	}
	return slices.ContainsFunc(needs(a), func(k string) bool { return slices.Contains(needs(b), k) })
}

// copiedPart is a group with all groups inside it copied and changed, and their lines too.
func copiedPart(g *program.Group, group func(*program.Group), line func(*program.Work) *program.Work) *program.Group {
	c := *g
	if group != nil {
		group(&c)
	}
	steps := func(in []program.Step) []program.Step {
		out := slices.Clone(in)
		for i, s := range out {
			switch s := s.(type) {
			case *program.Group:
				out[i] = copiedPart(s, group, line)
			case *program.Work:
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

// bareHead is a head that is only a name and a start, behind which the first clause has no
// comma before it.
var bareHead = regexp.MustCompile(`^(?i:part [a-z]|warm-?up|cool-?down)( at \d+:\d\d)?$`)

// addClause is a fix that writes a clause behind the others of a part's head.
func (p *pass) addClause(part *program.Group, text string) *diag.Fix {
	if p.version != nil || part.At.File == nil {
		return nil
	}
	head := part.At.Text()
	if i := strings.Index(head, ": "); i >= 0 {
		head = head[:i]
	}
	head = strings.TrimSuffix(head, ":")
	edit := ", " + text
	if bareHead.MatchString(head) {
		edit = " " + text
	}
	end := part.At.Start + len(head)
	return &diag.Fix{Title: "write " + text, Edits: []diag.Edit{{At: part.At.File.At(source.Span{Start: end, End: end}), New: edit}}}
}
