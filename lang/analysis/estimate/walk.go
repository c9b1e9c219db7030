package estimate

import (
	"math"
	"slices"
	"strings"

	"stint.example/stint/lang/analysis/totals"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/source"
)

// A walk goes through the parts of a session as one athlete does, or one team, and keeps
// the time. Its clock starts anew with every part.
type walk struct {
	fig   *Figures
	plan  *plan
	class int
	tier  int
	own   person // this athlete
	who   person // who does the work at hand: the athlete, a team's average or its slowest

	now     float64 // s since the part began
	moved   float64 // s of moving that are still in the legs
	total   float64 // s of moving in this part
	resting float64 // s of rest just taken
	credit  float64 // of which a change may still use so much
	doing   string  // the movement at hand, empty at the start
	runs    [patterns]run
	spent   Spent
	extra   float64 // s that heats add for the room
	after   float64 // s from the start, until when who is done goes on with something else

	limit float64 // when everything stops; infinite where nothing stops it
	fill  float64 // until when a max goes on
	zero  float64 // when the nearest clock started

	handed  bool // somebody of the team has worked, so the next is handed on to
	natural bool // nothing stops the part: how long would it take?

	inTurns int // how many clocks start turns around here
	effort  *model.Quantity
	against bool // against a clock, not in straight sets
	sets    *model.Rest
	team    team

	frames  []frame
	events  []trigger
	inEvent bool

	known  *known
	groups map[*model.Group]*visit
	stack  []*visit
	keep   bool // keep what every line came to
	log    []entry
	came   Spent // the change to what is about to be done
	tiered bool  // something in it differs from tier to tier
	misses bool  // it went on until somebody missed a turn, so the quick are at it longest
	open   bool  // something in it ends only when the clock says so
	budget int

	ended  float64 // s from the start of the session, when the part before was done
	mark   float64 // how much had been done when the turn, or the rest in it, was over
	target *target
}

const patterns = 24 // more than the book has

type run struct{ left, since float64 }

// A frame is something that comes round: a group, or the sets of a line.
type frame struct {
	group       *model.Group // nil for the sets of a line
	turn, turns int          // turns is 0 where nobody knows how many there are
	round       bool         // values move with it
}

// A trigger is work that is dropped into other work.
type trigger struct {
	event    *model.Event
	next, by float64 // s: when it is next due, and from then on how often
	unit     string  // otherwise, of what
	every    float64 // so much
	done     float64 // since it was last due
}

// A visit is what a group came to.
type visit struct {
	group    *model.Group
	took     float64 // s: the longest time through it
	rounds   int     // how many whole turns, where nothing says how many
	since    int     // where the log stood when the last turn began
	counted  bool
	turn     int     // the longest turn on a clock, from 1
	turnTook float64 // s
	interval float64 // s that it had
	least    float64 // s: the least that a turn left
	unproven bool
}

// An entry is one go at a line.
type entry struct {
	work  *model.Work
	name  string
	unit  string
	n     float64
	spent Spent

	from, to float64 // s from the start of the part
}

// A target is a number of rounds that somebody asks the time of.
type target struct {
	group  *model.Group
	rounds int
	at     float64 // s from the start of the group, once it is there
	found  bool
}

func newWalk(fig *Figures, p *plan, env *model.Env, z float64, tier int) *walk {
	w := &walk{fig: fig, plan: p, tier: tier, own: fig.person(z), known: &known{}, groups: map[*model.Group]*visit{}, budget: maxSteps}
	if env != nil && env.House != nil {
		w.class = env.House.Class
	}
	w.who = w.own
	w.begin(0)
	return w
}

// begin starts the clock of a part, so many seconds after the one before was done.
func (w *walk) begin(gap float64) {
	w.now, w.total, w.doing, w.credit, w.extra, w.after, w.mark = 0, 0, "", 0, 0, 0, 0
	w.resting += max(0, gap)
	w.spent, w.came = Spent{}, Spent{}
	w.limit, w.fill, w.zero = math.Inf(1), math.Inf(1), 0
	w.inTurns, w.against, w.sets, w.open, w.misses = 0, false, nil, false, false
	w.team, w.handed = team{size: 1}, false
	w.who = w.own
	w.frames, w.events, w.stack, w.log = w.frames[:0], w.events[:0], w.stack[:0], w.log[:0]
	w.full()
}

// full gives every pattern an unbroken run in hand.
func (w *walk) full() {
	for i := range w.runs {
		w.runs[i] = run{left: 1}
	}
}

const maxSteps = 5_000

// tooMuch says whether the walk has gone on for longer than any session does.
func (w *walk) tooMuch() bool {
	w.budget--
	return w.budget <= 0
}

// note says something that an estimate leaves out, once a place.
func (w *walk) note(at source.Place, text ...string) {
	if !w.keep || slices.ContainsFunc(w.known.notes, func(n Note) bool { return n.At == at }) {
		return
	}
	w.known.notes = append(w.known.notes, Note{At: at, Text: strings.Join(text, "")})
}

// A context is what a group changes for what it holds.
type context struct {
	limit, fill, zero float64
	inTurns           int
	effort            *model.Quantity
	against           bool
	sets              *model.Rest
	team              team
	who               person
	events            int
}

func (w *walk) context() context {
	return context{w.limit, w.fill, w.zero, w.inTurns, w.effort, w.against, w.sets, w.team, w.who, len(w.events)}
}

func (w *walk) restore(c context) {
	w.limit, w.fill, w.zero, w.inTurns, w.effort, w.against, w.sets, w.team, w.who = c.limit, c.fill, c.zero, c.inTurns, c.effort, c.against, c.sets, c.team, c.who
	w.events = w.events[:c.events]
}

// window bounds what follows by a window that is so long.
func (w *walk) window(seconds float64) {
	w.limit = min(w.limit, w.now+seconds)
	w.fill, w.zero = w.limit, w.now
}

// stopped says whether time is up for whatever is around here too.
func (w *walk) stopped(cut bool) bool { return cut && (w.now >= w.limit-tiny || w.budget <= 0) }

// group does a group. It says whether time was up before its end.
func (w *walk) group(g *model.Group) (cut bool) {
	v := w.groups[g]
	if v == nil {
		v = &visit{group: g, least: math.Inf(1)}
		w.groups[g] = v
	}
	w.stack = append(w.stack, v)
	defer func() { w.stack = w.stack[:len(w.stack)-1] }()
	if g.Unread {
		w.miss(Missing{At: g.At, Why: "this line could not be read, so nobody knows how often what it holds is done"})
	}
	if g.Gaps {
		w.miss(Missing{At: g.At, Why: "a line under it could not be read"})
	}
	outer := w.context()
	start := w.now
	whole := w.enter(g)
	sides := 1
	if g.Side {
		sides = 2
	}
	for range sides {
		if cut = w.turns(g, v); cut {
			break
		}
	}
	if !cut {
		cut = w.whenDone(g)
	}
	v.took = max(v.took, w.now-start)
	if whole >= 0 { // it lasts, whatever anybody does
		end := min(start+whole, w.limit)
		w.idle(end)
		w.now = max(w.now, end)
	}
	w.heats(g, w.now-start)
	w.restore(outer)
	if w.now > w.limit+tiny {
		w.now, cut = w.limit, true
	}
	return w.stopped(cut)
}

// enter makes the head of a group count for what it holds. Whole is how long the head
// says that it takes, less than nothing where it does not.
func (w *walk) enter(g *model.Group) (whole float64) {
	whole = -1
	if g.Effort != nil {
		w.effort = g.Effort
	}
	switch {
	case g.Repeat.Clocked() || g.Mode == model.AMRAP || g.Mode == model.ForTime:
		w.against = true
	case g.Repeat.Kind == model.Sets || g.Mode == model.ForLoad:
		w.against = false
	}
	w.divide(g)
	if end := g.Repeat.Until; end != nil && end.Kind == model.UntilClock {
		if v, ok := w.value(end.Clock, 0, 1); ok {
			w.limit = min(w.limit, max(w.now, w.zero+v))
			w.fill = w.limit
		}
	}
	if v, ok := w.value(g.Time, 0, 1); ok && g.Mode == model.AMRAP {
		whole = v
	}
	if v, ok := w.value(g.Lasts, 0, 1); ok {
		whole = v
	}
	if len(w.stack) == 1 && w.natural || w.target != nil && w.target.group == g {
		whole = -1
	}
	if whole >= 0 {
		w.window(whole)
	}
	if v, ok := w.value(g.Cap, 0, 1); ok && !g.IsSection() {
		w.limit = min(w.limit, w.now+v)
	}
	if len(w.stack) == 1 || g.Cap != nil || g.Time != nil {
		w.zero = w.now
	}
	w.listen(g)
	return whole
}

// turns does a group as often as it comes round.
func (w *walk) turns(g *model.Group, v *visit) (cut bool) {
	switch {
	case g.Repeat.Clocked():
		return w.clocked(g, v)
	case g.Repeat.Kind == model.ChooseOne:
		return w.chooseOne(g)
	case g.Repeat.Kind == model.Sets && g.Repeat.Series == nil:
		w.sets = w.plan.sets[g]
	}
	n, open := w.count(g)
	if g.Repeat.Kind == model.Sets && g.Repeat.Series != nil && n > 1 && !w.against && len(w.plan.between[g]) == 0 {
		w.miss(Missing{At: g.Repeat.At, Why: "these are sets on a free clock, and no rest is written between them", Add: "write rest 2:00 as their last line"})
	}
	aimed := w.target != nil && w.target.group == g
	if open && math.IsInf(w.limit, 1) && !aimed {
		w.open = true
		w.miss(Missing{At: g.Repeat.At, Why: "nothing says when this ends", Add: "write a cap, or how often"})
		n, open = 1, false
	}
	round := g.ComesRound()
	last := 0.0 // when the last turn's work began
	for i := 0; open || i < n; i++ {
		if i > 0 && w.betweenTurns(g, i-1, n, last) {
			return true
		}
		w.frames = append(w.frames, frame{g, i, n, round})
		start, mark := w.now, w.busy()
		w.mark, last = mark, mark
		v.rounds, v.since, v.counted = i, len(w.log), v.counted || open
		cut = w.steps(g, i)
		w.frames = w.frames[:len(w.frames)-1]
		if cut {
			return true
		}
		v.rounds, v.since = i+1, len(w.log)
		if t := w.target; t != nil && t.group == g && t.rounds == i+1 && !t.found {
			t.at, t.found, w.budget = w.now-w.zero, true, 0
			return true
		}
		if open && w.now <= start+tiny || w.tooMuch() { // it would go on for ever
			break
		}
	}
	return w.afterTurns(g, last)
}

// count is how often a group comes round for this tier; open where nothing but the clock
// ends it.
func (w *walk) count(g *model.Group) (n int, open bool) {
	if g.Unread {
		return 1, false
	}
	w.tiered = w.tiered || g.Repeat.Count.Tiers() > 1
	t := totals.Turns(g, w.tier)
	if t.Open {
		return 0, true
	}
	n = int(math.Ceil(min(t.Hi, totals.MaxTurns)))
	if g.Share != "" && w.team.size > 1 && !w.team.solo {
		n = int(math.Ceil(float64(n) / w.team.size)) // all of them work at once
	}
	return n, false
}

// steps does what a group holds, once.
func (w *walk) steps(g *model.Group, turn int) (cut bool) {
	if w.team.size > 1 {
		if i := slices.IndexFunc(g.Steps, isTag); i >= 0 {
			return w.relay(g, i, turn)
		}
	}
	if w.inTurn(g.Steps) {
		return w.eachInTurn(g.Share != "", func() bool { return w.list(g.Steps, turn) })
	}
	return w.list(g.Steps, turn)
}

func isTag(s model.Step) bool {
	_, ok := s.(*model.Tag)
	return ok
}

func (w *walk) list(steps []model.Step, turn int) (cut bool) {
	free := w.freeSets(steps)
	for i, s := range steps {
		mark := w.busy()
		switch s := s.(type) {
		case *model.Group:
			if s.Kind == model.RoundOf {
				turn := w.turn().turn // of the nearest that comes round
				if turn+1 < s.Number || turn+1 > s.Last {
					continue
				}
				w.frames = append(w.frames, frame{s, turn + 1 - s.Number, s.Last - s.Number + 1, true})
			}
			cut = w.group(s)
			if s.Kind == model.RoundOf {
				w.frames = w.frames[:len(w.frames)-1]
			}
		case *model.Work:
			if s.Sets == nil && w.buildsUp() && (s.Dose == nil || !s.Dose.Max) {
				w.miss(Missing{At: s.At, Why: "nobody knows how many sets it takes to build up to this", Add: "write lasts 15:00 on its head, or how many sets"})
			}
			cut = w.line(s)
		case *model.Rest:
			if (s.Place == model.RestHere || s.Place == "") && s.Of != model.OfParts {
				f := w.turn()
				cut = w.takeRest(s, f.turn, f.turns, w.mark)
			}
		}
		if cut {
			return true
		}
		if free && isWork(s) && slices.ContainsFunc(steps[i+1:], isWork) {
			if w.sets != nil {
				if w.takeRest(w.sets, i, len(steps), mark) {
					return true
				}
			} else if !isRest(steps[i+1]) {
				w.miss(Missing{At: steps[i+1].Where(), Why: "these are sets on a free clock, and no rest is written before this one", Add: "write a line such as rest 2:00"})
			}
		}
	}
	return false
}

// freeSets says whether the steps are straight sets on a free clock, between which
// athletes rest.
func (w *walk) freeSets(steps []model.Step) bool {
	if len(w.frames) == 0 {
		return false
	}
	g := w.frames[len(w.frames)-1].group
	return g != nil && g.Repeat.Kind == model.Sets && g.Repeat.Series == nil && len(g.Steps) == len(steps)
}

// buildsUp says whether a line at hand is built up to, in as many sets as there is time for.
func (w *walk) buildsUp() bool {
	if len(w.frames) == 0 {
		return false
	}
	g := w.frames[len(w.frames)-1].group
	return g != nil && g.Mode == model.ForLoad && !g.ComesRound()
}

func isWork(s model.Step) bool {
	switch s.(type) {
	case *model.Work, *model.Group:
		return true
	}
	return false
}

func isRest(s model.Step) bool {
	_, ok := s.(*model.Rest)
	return ok
}

// turn is that of the nearest thing that comes round.
func (w *walk) turn() frame {
	for i := len(w.frames) - 1; i >= 0; i-- {
		if w.frames[i].round {
			return w.frames[i]
		}
	}
	return frame{turn: 0, turns: 1}
}
