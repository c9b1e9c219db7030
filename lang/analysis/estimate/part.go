package estimate

import (
	"math"
	"slices"

	"stint.example/stint/lang/analysis/totals"
	"stint.example/stint/lang/model"
)

// Times is a figure for a fast, a typical and a slow athlete: the 10th, 50th and 90th
// percentile of the house's members. It is in seconds where nothing else is said.
type Times struct{ Fast, Typical, Slow float64 }

// At is the figure of level 0, 1 or 2: fast, typical, slow.
func (t Times) At(level int) float64 { return [3]float64{t.Fast, t.Typical, t.Slow}[level] }

func (t *Times) set(level int, v float64) {
	*[3]*float64{&t.Fast, &t.Typical, &t.Slow}[level] = v
}

// ordered puts right what a rest that clears a little more for the slow may turn round by
// a second: nobody who is slower is shown as quicker.
func (t *Times) ordered() {
	t.Typical = max(t.Typical, t.Fast)
	t.Slow = max(t.Slow, t.Typical)
}

// A PartTime is how long a part takes, for its slowest tier.
type PartTime struct {
	Group *model.Group
	// Start is when the part starts, in s on the wall clock: the room's, which waits for the
	// slow athlete or the cap. What stands before 0:00 is less than nothing. Began is the
	// same from the start of the session.
	Start, Began float64
	Pinned       bool // the text says when it starts
	Settled      bool // nothing that is missing moves its start

	Tier  int     // of the house, from 0: the slowest, whose figures these are
	Tiers []Times // Work by tier, where they differ

	Work  Times    // s: from its start until it is done; a window counts whole, a cap cuts nothing
	Needs Times    // s: what it would take if nothing stopped it; zero where that is not known
	Cut   Times    // s: Work, but no longer than the cap
	Rest  Times    // s of Work that are rest: written, and what clocks and windows leave
	End   Times    // s on the wall clock: Start and Cut
	After Times    // s of rest that is written behind it
	Left  Times    // s from End to the start of the next part; less than nothing where it runs into it
	Spent [3]Spent // what Work went on, by level

	// Outlasts says that it goes on until somebody misses a turn. Then the quick are at it
	// longest, and Work may fall from the fast to the slow.
	Outlasts bool

	Room  float64 // s that the part has the room: the slow athlete or the cap, and all heats
	Lines []LineTime
	// Groups are what the heads inside it came to, the part itself first.
	Groups []*GroupTime

	// Missing is what no figure could be made up for. Where some of it is not Held, every
	// time here is the least, and no limit is proven.
	Missing []Missing
	Notes   []Note

	index int
}

// Proven says whether a limit may be held against Work.
func (p *PartTime) Proven() bool { return proven(p.Missing) }

// GroupOf finds what a group inside the part came to.
func (p *PartTime) GroupOf(g *model.Group) (*GroupTime, bool) {
	i := slices.IndexFunc(p.Groups, func(t *GroupTime) bool { return t.Group == g })
	if i < 0 {
		return nil, false
	}
	return p.Groups[i], true
}

// A GroupTime is what a group inside a part came to, by level.
type GroupTime struct {
	Group *model.Group
	Took  Times // s: the longest time through it
	// Counted says that nothing but the clock says how many rounds there are; Rounds are how
	// many were done.
	Counted bool
	Rounds  [3]Done
	Turns   [3]Turn // the longest turn, where a clock starts them
	Proven  bool    // nothing that the group hangs on is missing
}

// Done is how far somebody gets: whole rounds, and what is done of the next.
type Done struct {
	Rounds int
	Then   []Count
}

// A Count is so much of a movement.
type Count struct {
	Movement string
	Unit     string // "rep", "m", "cal", "breath", "s"
	N        float64
}

// A Turn is the longest of those that a clock starts. Number is 0 where there is none.
type Turn struct {
	Number   int     // from 1
	Took     float64 // s
	Interval float64 // s from its start to the next, or to the end of its window
	Least    float64 // s of rest in the turn that leaves least; less than nothing where it does not fit
}

// A LineTime is what all turns of a line came to, by level.
type LineTime struct {
	Work     *model.Work
	Movement string
	Unit     string
	N        Times // how much was done, in Unit
	Spent    [3]Spent
	// From and To are when an athlete first comes to it and last leaves it, in s from the
	// start of the part: in a team, the first to work.
	From, To Times
}

// one is a part as one athlete does it.
type one struct {
	work, cut, needs float64
	after            float64
	afterOpen        bool
	extra            float64 // of heats
	fills            float64
	spent            Spent
	groups           map[*model.Group]*visit
	log              []entry
	known            known
	tiered, outlasts bool
}

// part does a part, so many seconds after the end of the one before.
func (w *walk) part(g *model.Group, gap float64) (o one) {
	before := *w
	limit, hasCap := w.value(g.Cap, 0, 1)
	w.run(g, gap, math.Inf(1))
	capped := w.open && hasCap
	if capped { // it goes on until the cap
		tiered := w.tiered
		*w = before
		w.tiered = tiered
		w.run(g, gap, limit)
	}
	o = one{work: w.now, cut: w.now, extra: w.extra, fills: w.after, spent: w.spent, groups: w.groups, log: w.log, tiered: w.tiered, outlasts: w.misses}
	if hasCap {
		o.cut = min(o.work, limit)
	}
	if w.total > w.fig.MostMoving {
		_, whole := totals.Whole(g, w.tier)
		w.known.miss(Missing{At: g.At, Why: "it is more than " + num(w.fig.MostMoving/60) + " minutes of moving, which the estimate was not made for", Held: capped || whole})
	}
	if w.budget <= 0 && w.target == nil {
		w.known.miss(Missing{At: g.At, Why: "it goes on for longer than any session"})
	}
	w.log = nil // the next part has its own
	o.after, o.afterOpen = w.behind(g, o.cut)
	o.known = *w.known
	if _, ok := w.value(g.Lasts, 0, 1); ok && w.keep {
		n := before.fork()
		n.keep, n.natural = false, true
		n.log = nil
		n.run(g, gap, math.Inf(1))
		if proven(n.known.missing) && n.budget > 0 {
			o.needs = n.now
		}
	} else if proven(o.known.missing) {
		o.needs = o.work
	}
	return o
}

// run does a part until it is done, or until a limit.
func (w *walk) run(g *model.Group, gap, limit float64) {
	w.known, w.groups, w.budget = &known{}, map[*model.Group]*visit{}, maxSteps
	w.begin(gap)
	w.limit, w.fill = limit, limit
	w.group(g)
	w.now = min(w.now, limit)
}

// behind is the rest that is written behind a part.
func (w *walk) behind(g *model.Group, work float64) (s float64, open bool) {
	inLabels(g.Steps, func(st model.Step) {
		r, ok := st.(*model.Rest)
		if !ok || r.Place != model.RestAfterPart && r.Of != model.OfParts || r.Bound != "" {
			return
		}
		if v, ok := w.value(r.Amount, 0, 1); ok {
			s += v
		} else if n, ok := r.Work.One(); ok {
			s += min(most, n*work)
		} else {
			open = true
		}
	})
	return s, open
}

// inLabels walks over the steps of a group, and those under its labels: a label is a name
// and no more.
func inLabels(steps []model.Step, f func(model.Step)) {
	for _, s := range steps {
		if k, ok := s.(*model.Group); ok && k.Kind == model.Label {
			inLabels(k.Steps, f)
			continue
		}
		f(s)
	}
}

// levels gathers what a part came to from the three athletes of its slowest tier.
func (p *PartTime) levels(of [3]one) {
	for i := range of {
		o := &of[i]
		p.Work.set(i, o.work)
		p.Cut.set(i, o.cut)
		p.Needs.set(i, o.needs)
		p.After.set(i, o.after)
		p.Spent[i] = o.spent
		p.Rest.set(i, o.spent.Rest)
		p.Outlasts = p.Outlasts || o.outlasts
	}
	if of[0].needs == 0 || of[1].needs == 0 || of[2].needs == 0 {
		p.Needs = Times{}
	}
	for _, t := range []*Times{&p.Work, &p.Cut, &p.Needs, &p.After} {
		if !p.Outlasts {
			t.ordered()
		}
	}
	p.lines(of)
	var visit func(g *model.Group)
	visit = func(g *model.Group) {
		if t := groupTime(g, of); t != nil {
			p.Groups = append(p.Groups, t)
		}
		for _, s := range g.Steps {
			if k, ok := s.(*model.Group); ok {
				visit(k)
			}
		}
		for _, e := range g.Events {
			for _, s := range e.Steps {
				if k, ok := s.(*model.Group); ok {
					visit(k)
				}
			}
		}
	}
	visit(p.Group)
}

func groupTime(g *model.Group, of [3]one) *GroupTime {
	t := &GroupTime{Group: g, Proven: true}
	for i := range of {
		v := of[i].groups[g]
		if v == nil {
			return nil // it is never come to
		}
		t.Took.set(i, v.took)
		t.Counted = t.Counted || v.counted
		t.Proven = t.Proven && !v.unproven
		if v.turn > 0 {
			t.Turns[i] = Turn{Number: v.turn, Took: v.turnTook, Interval: v.interval, Least: v.least}
		}
		if v.counted {
			t.Rounds[i] = Done{Rounds: v.rounds, Then: counts(of[i].log[min(v.since, len(of[i].log)):])}
		}
	}
	if !of[0].outlasts {
		t.Took.ordered()
	}
	return t
}

// counts adds up goes at lines by movement.
func counts(log []entry) []Count {
	var out []Count
	for _, e := range log {
		if e.n <= tiny {
			continue
		}
		i := slices.IndexFunc(out, func(c Count) bool { return c.Movement == e.name && c.Unit == e.unit })
		if i < 0 {
			i = len(out)
			out = append(out, Count{Movement: e.name, Unit: e.unit})
		}
		out[i].N += e.n
	}
	return out
}

func (p *PartTime) lines(of [3]one) {
	type key struct {
		work *model.Work
		name string
		unit string
	}
	at := map[key]int{}
	for i := range of {
		for _, e := range of[i].log {
			k := key{e.work, e.name, e.unit}
			j, ok := at[k]
			if !ok {
				j = len(p.Lines)
				at[k] = j
				p.Lines = append(p.Lines, LineTime{Work: e.work, Movement: e.name, Unit: e.unit})
			}
			l := &p.Lines[j]
			if l.To.At(i) == 0 {
				l.From.set(i, e.from)
			}
			l.To.set(i, e.to)
			l.N.set(i, l.N.At(i)+e.n)
			l.Spent[i] = l.Spent[i].plus(e.spent)
		}
	}
}
