package clock

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"sort"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/program"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/units"
)

// Spent is what some time went on, in seconds, so that any total can be opened.
type Spent struct {
	Moving    float64 // by pace, effort, load and share of a maximum
	Drift     float64 // what tiring adds
	Breaks    float64 // between unbroken runs
	Changes   float64 // from one movement to the next
	Handovers float64 // in a team
	Fixed     float64 // tempo, cadence, holds and stated times: the same for everybody
	Rest      float64 // written, and what a clock or a window leaves
	Over      float64 // what turns ran over their interval: the clock did not wait for it

	ChangeCount int // how many changes there were
}

// Total is all of it.
func (s Spent) Total() float64 {
	return s.Moving + s.Drift + s.Breaks + s.Changes + s.Handovers + s.Fixed + s.Rest - s.Over
}

// String is the sum, opened: "moving 335.6 + drift 9.4 + 9 changes 72.0 + breaks 0.0 = 417.0".
func (s Spent) String() string {
	out := fmt.Sprintf("moving %.1f + drift %.1f + %d changes %.1f + breaks %.1f", s.Moving, s.Drift, s.ChangeCount, s.Changes, s.Breaks)
	for _, o := range []struct {
		name string
		v    float64
	}{{"handovers", s.Handovers}, {"fixed", s.Fixed}, {"rest", s.Rest}} {
		if o.v > 0 {
			out += fmt.Sprintf(" + %s %.1f", o.name, o.v)
		}
	}
	if s.Over > 0 {
		out += fmt.Sprintf(" - over the clock %.1f", s.Over)
	}
	return out + fmt.Sprintf(" = %.1f", s.Total())
}

func (s Spent) times(k float64) Spent {
	return Spent{s.Moving * k, s.Drift * k, s.Breaks * k, s.Changes * k, s.Handovers * k, s.Fixed * k, s.Rest * k, s.Over * k,
		int(math.Round(float64(s.ChangeCount) * k))}
}

func (s Spent) plus(t Spent) Spent {
	return Spent{s.Moving + t.Moving, s.Drift + t.Drift, s.Breaks + t.Breaks, s.Changes + t.Changes, s.Handovers + t.Handovers,
		s.Fixed + t.Fixed, s.Rest + t.Rest, s.Over + t.Over, s.ChangeCount + t.ChangeCount}
}

func (s Spent) minus(t Spent) Spent { return s.plus(t.times(-1)) }

const (
	// tiny is less than any clock shows: sums of many steps are compared with it.
	tiny = 1e-6
	// most bounds how much of anything one line can ask for, so that a slip of the keyboard
	// ends in a number.
	most = 1e6
)

// A piece is a movement, or a complex of several, as it is done on one line in one turn:
// what one unit of it costs.
type piece struct {
	work    *program.Work
	name    string // what it is told apart by from what is done before it
	unit    string
	pattern int     // its main pattern, or -1
	per     float64 // s of moving a unit
	fixed   float64 // s a unit takes, whoever does it
	run     float64 // units before a break
	setsOf  float64 // units to a set, where the line says so
	whole   bool    // it is done in whole units
	never   bool    // it is not put down at all

	team float64 // how many take turns at it, 1 where nobody does
}

// costs is what n units of a piece come to, from the state that the athlete is in.
func (w *walk) costs(p *piece, n float64) (s Spent) {
	s.Moving, s.Fixed = n*p.per, n*p.fixed
	s.Drift = p.team * (w.fig.drift(w.moved+s.Moving/p.team) - w.fig.drift(w.moved))
	switch {
	case p.team > 1:
		turns := p.team
		if !math.IsInf(p.run, 1) {
			turns = p.team * max(1, math.Ceil(n/(p.team*p.run)-tiny))
		}
		s.Handovers = (turns - 1) * w.who.handover
	default:
		s.Breaks = w.breaks(p, n) * w.who.pause
	}
	return s
}

// breaks is how often an athlete puts a piece down in n units. A fraction of a break is an
// average over people.
func (w *walk) breaks(p *piece, n float64) float64 {
	switch {
	case p.never || p.per == 0:
		return 0
	case p.setsOf > 0:
		return max(0, math.Ceil(n/p.setsOf-tiny)-1)
	case math.IsInf(p.run, 1):
		return 0
	}
	return max(0, n/p.run-w.fresh(p.pattern))
}

// fresh is how much of an unbroken run of a pattern an athlete has in hand: a whole one at
// first; what is done takes from it, and time away gives it back, one run in the length of
// a break.
func (w *walk) fresh(pattern int) float64 {
	if pattern < 0 {
		return 1
	}
	r := w.runs[pattern]
	if w.who.pause <= 0 {
		return 1
	}
	return min(1, r.left+max(0, w.now-r.since)/w.who.pause)
}

// do does n units of a piece.
func (w *walk) do(p *piece, n float64) {
	s := w.costs(p, n)
	left := w.fresh(p.pattern)
	if p.team == 1 && p.per > 0 && !math.IsInf(p.run, 1) {
		left = max(0, left-n/p.run)
	}
	w.now += s.Total()
	w.moved += s.Moving / p.team
	w.total += s.Moving / p.team
	w.spent = w.spent.plus(s)
	if p.pattern >= 0 {
		w.runs[p.pattern] = run{left: left, since: w.now}
	}
	for i := range w.events {
		if e := &w.events[i]; !w.inEvent && e.unit == p.unit {
			e.done += n
		}
	}
	if w.keep {
		w.entry(p, n, s)
	}
}

// perform does n units of a piece, in as many goes as what is dropped into it asks for. It
// says whether time was up before.
func (w *walk) perform(p *piece, n float64) (cut bool) {
	for {
		if w.tooMuch() {
			return true
		}
		if w.fire() {
			return true
		}
		w.settle()
		if w.arrive(p) {
			return true
		}
		if n <= tiny {
			return false
		}
		some := w.upToEvent(p, n)
		if left := w.limit - w.now; w.costs(p, some).Total() > left+tiny {
			w.do(p, w.fits(p, some, left))
			w.spare()
			return true
		}
		breaks := w.breaks(p, some)
		w.do(p, some)
		n -= some
		if w.atBreaks(p, int(math.Ceil(breaks-tiny))) {
			return true
		}
		if n <= tiny {
			return false
		}
	}
}

// settle lets the rest that was just taken clear some of the moving before it.
func (w *walk) settle() {
	if w.resting <= 0 {
		return
	}
	w.moved = min(w.moved, w.fig.DriftUntil) * w.fig.keeps(w.resting)
	w.credit, w.resting = w.resting, 0
}

// arrive is the change to another movement. A rest just before covers it, second for
// second.
func (w *walk) arrive(p *piece) (cut bool) {
	if w.doing != "" && w.doing != p.name {
		c := max(0, w.who.change-w.credit)
		if c > w.limit-w.now {
			w.spare()
			return true
		}
		w.now += c
		w.spent.Changes += c
		w.spent.ChangeCount++
		w.came = Spent{Changes: c, ChangeCount: 1}
	}
	w.credit = 0
	w.doing = p.name
	return false
}

// fits is how much of a piece is done in some time.
func (w *walk) fits(p *piece, n, left float64) float64 {
	if left <= 0 {
		return 0
	}
	if p.whole {
		return float64(sort.Search(int(min(n, most)), func(i int) bool { return w.costs(p, float64(i+1)).Total() > left+tiny }))
	}
	lo, hi := 0.0, n
	for range 60 {
		if mid := (lo + hi) / 2; w.costs(p, mid).Total() > left {
			hi = mid
		} else {
			lo = mid
		}
	}
	return lo
}

// until is how much of a piece is done when some time is over: up to the next whole
// repetition.
func (w *walk) until(p *piece, n, after float64) float64 {
	done := w.fits(p, n, after)
	if p.whole && w.costs(p, done).Total() < after-tiny {
		done++
	}
	return min(n, done)
}

// rest is a rest that is written. It says whether time was up before its end.
func (w *walk) rest(s float64) (cut bool) {
	if s <= 0 {
		return false
	}
	if s > w.limit-w.now+tiny {
		w.idle(w.limit)
		return true
	}
	w.idle(w.now + s)
	return false
}

// idle rests until a time.
func (w *walk) idle(until float64) {
	s := until - w.now
	if s <= 0 || math.IsInf(s, 0) {
		return
	}
	w.now = until
	w.spent.Rest += s
	w.resting += s
}

// spare lets the time run out that is left for no whole repetition, or not for the change
// before it. Nobody rests in it.
func (w *walk) spare() {
	w.spent.Rest += max(0, w.limit-w.now)
	w.now = max(w.now, w.limit)
}

// A pattern's place in the list of all of them, or -1.
func patternOf(m *book.Movement) int {
	if m == nil || len(m.Trains) == 0 {
		return -1
	}
	i := slices.Index(book.Patterns, m.Main())
	if i >= patterns {
		return -1
	}
	return i
}

// A dose is a line of work in one turn: what is done, by whom, and how it moves.
type dose struct {
	work        *program.Work
	turn, turns int
}

// piece makes the piece that some moves of a line are in a unit: one of them, or a complex.
// It is not ok where the text or the book does not say how long that takes.
func (w *walk) piece(d dose, moves []program.Move, unit string) (p piece, ok bool) {
	s, m := d.work, moves[0]
	p = piece{work: s, name: m.Name, unit: unit, pattern: patternOf(m.Movement), run: math.Inf(1), team: 1,
		whole: unit == "rep" || unit == "cal" || unit == "breath", never: s.Unbroken}
	first := 1.0
	for i, m := range moves {
		share := 1.0
		of := unit
		if i == 0 && len(moves) > 1 {
			if n, ok := w.value(s.Dose, d.turn, d.turns); ok && n > 0 {
				first = n
			}
		}
		if i > 0 {
			p.name += " + " + m.Name
			if n, ok := w.value(m.Count, d.turn, d.turns); ok {
				share, of = n/first, m.Count.Unit
			}
		}
		per, fixed, ok := w.pace(d, m, of)
		if !ok {
			return p, false
		}
		p.per += share * per
		p.fixed += share * fixed
	}
	if s.Hold != nil && unit == "rep" {
		if v, ok := w.value(s.Hold, d.turn, d.turns); ok {
			p.fixed += v
		}
	}
	if p.per > 0 {
		if !w.load(d, m, &p) {
			return p, false
		}
	}
	if s.SetsOf != nil {
		if v, ok := w.value(s.SetsOf, d.turn, d.turns); ok && v >= 1 {
			p.setsOf = v
		}
	}
	return p, true
}

// pace is how long one unit of a movement takes before its load is looked at: moving, or
// fixed where the text says how fast it goes.
func (w *walk) pace(d dose, m program.Move, unit string) (moving, fixed float64, ok bool) {
	s := d.work
	if m.Movement == nil {
		w.miss(Missing{At: m.At, Why: "no book has a movement " + m.Name})
		return 0, 0, false
	}
	if v := w.fig.tempo(s.Tempo); s.Tempo != "" && v > 0 && unit == "rep" {
		return 0, v, true
	}
	if fixed, stated, ok := w.stated(d, m, unit); stated {
		return 0, fixed, ok
	}
	row := m.Movement.Main() == "row"
	pace, has := m.Movement.Pace(unit)
	metres, rows := m.Movement.Pace("m")
	byWatts := !has && unit == "cal" && row && rows
	if byWatts {
		pace = metres
	} else if !has {
		w.miss(Missing{At: m.At, Why: m.Name + " has no pace per " + unit,
			Add: "add to the movement a line such as pace 1.5 / 2 / 3 s per " + unit})
		return 0, 0, false
	}
	if pace.Fast <= 0 || pace.Fast > pace.Typical || pace.Typical > pace.Slow || pace.Slow > 4*pace.Fast {
		w.miss(Missing{At: m.At, Why: "the pace of " + m.Name + " is out of order", Add: "write fast / typical / slow, and slow at most four times fast"})
		return 0, 0, false
	}
	v := at(pace.Levels, w.who.z) * w.fig.effort(w.effortOf(d))
	if byWatts {
		v = w.fig.perCal(v)
	}
	return v, 0, true
}

// stated is a pace that the line itself says: a cadence, a speed or a power that a monitor
// shows, or the pace of a race.
func (w *walk) stated(d dose, m program.Move, unit string) (fixed float64, stated, ok bool) {
	row := m.Movement.Main() == "row"
	// of turns a pace per metre into the unit that is counted.
	of := func(ld program.Load, perMetre float64) (float64, bool, bool) {
		switch {
		case unit == "m":
			return perMetre, true, true
		case unit == "cal" && row:
			return w.fig.perCal(perMetre), true, true
		}
		w.miss(Missing{At: ld.At, Why: "this pace says nothing of how long one " + unit + " takes"})
		return 0, true, false
	}
	for _, ld := range d.work.Loads {
		switch ld.Kind {
		case syntax.Cadence:
			v, ok := w.value(ld.Amount, d.turn, d.turns)
			per, by := ld.Per, ld.Unit
			if u, ok := units.Lookup(by); ok && u.Dimension() == units.Length {
				per, by = u.ToBase(per), "m"
			}
			switch {
			case !ok || v <= 0 || per <= 0:
				w.miss(Missing{At: ld.At, Why: "this pace cannot be read"})
				return 0, true, false
			case by == unit:
				return v / per, true, true
			case by == "m":
				return of(ld, v/per)
			}
			w.miss(Missing{At: ld.At, Why: "the pace is per " + by + ", and the count is not"})
			return 0, true, false
		case syntax.Pace:
			far, known := w.value(ld.Amount, d.turn, d.turns)
			p, has := m.Movement.Pace("m")
			if !known || !has || far <= 0 || p.Fast <= 0 {
				w.miss(Missing{At: ld.At, Why: "nobody knows this pace of " + m.Name, Add: "write it out, such as @ 5:00 per km"})
				return 0, true, false
			}
			// As fast as the whole distance goes by this estimate, tiring included.
			v := at(p.Levels, w.who.z)
			return of(ld, v*(1+w.fig.drift(v*far)/(v*far)))
		case syntax.Reading:
			if ld.Amount == nil || len(ld.Amount.Terms) == 0 {
				continue
			}
			lo, _, known := ld.Amount.Value(d.turn, d.turns, w.tier)
			w.tiered = w.tiered || ld.Amount.Tiers() > 1
			switch u := ld.Amount.Unit; {
			case u == "spm" || u == "rpm": // how, not how fast
			case known && lo > 0 && u == "km/h" && (unit == "m" || unit == "cal" && row):
				return of(ld, 3.6/lo)
			case known && lo > 0 && u == "W" && row:
				return of(ld, w.fig.perMetre(lo))
			default:
				w.miss(Missing{At: ld.At, Why: "how fast that is differs from athlete to athlete", Add: "write a pace, or an effort in percent"})
			}
		case syntax.Rising:
			if ld.Word == "faster" || ld.Word == "slower" {
				w.miss(Missing{At: ld.At, Why: "it is not said how much " + ld.Word, Add: "write the efforts, such as @ effort 70-80-90%"})
			}
		}
	}
	return 0, false, false
}

// effortOf is how hard a line is done, as a share of the hardest: as the line says, or the
// nearest head, part or session.
func (w *walk) effortOf(d dose) float64 {
	s := d.work
	q := s.Effort
	for _, ld := range s.Loads {
		switch {
		case ld.Kind == syntax.Effort || ld.Kind == syntax.Named && ld.Amount != nil:
			q = ld.Amount
		case ld.Kind == syntax.Named:
			w.miss(Missing{At: ld.At, Why: "the house has no number for " + ld.Word, Add: "add a line to the house, such as effort " + ld.Word + " 70-80%"})
		case ld.Kind == syntax.Share && ld.Base != nil && (ld.Base.Kind == "heart rate" || ld.Base.Kind == "speed" || ld.Base.Kind == "power"):
			w.miss(Missing{At: ld.At, Why: "how fast that is differs from athlete to athlete", Add: "write an effort in percent, or a pace"})
		}
	}
	if q == nil {
		q = w.effort
	}
	if q == nil {
		return 1
	}
	if q.Unit != "%" {
		w.miss(Missing{At: q.At, Why: "this effort has no number in percent", Add: "write effort 80% beside it"})
		return 1
	}
	lo, hi, known := q.Value(d.turn, d.turns, w.tier)
	w.tiered = w.tiered || q.Tiers() > 1
	if !known && len(q.Terms) > 0 && q.Form == syntax.FromTo {
		known = true // over turns that nobody can count: the middle
	}
	if !known {
		w.miss(Missing{At: q.At, Why: "this effort has no number for every turn"})
		return 1
	}
	e := (lo + hi) / 200
	if e < w.fig.LeastEffort {
		w.note(q.At, "effort below ", num(100*w.fig.LeastEffort), " % is read as ", num(100*w.fig.LeastEffort), " %")
	}
	return e
}

// load makes a piece as slow and as short as its load asks for.
func (w *walk) load(d dose, m program.Move, p *piece) bool {
	s, mv := d.work, m.Movement
	if u := mv.Unbroken; u != nil && p.unit == "rep" {
		if u.Slow < 1 || u.Fast < u.Typical || u.Typical < u.Slow {
			w.miss(Missing{At: m.At, Why: "the unbroken count of " + m.Name + " is below one or does not fall", Add: "who cannot do one needs the easier form"})
			return false
		}
		p.run = max(1, at(*u, w.who.z))
	}
	for _, ld := range s.Loads {
		switch ld.Kind {
		case syntax.Mass:
			if !w.weight(d, m, ld, p) {
				return false
			}
		case syntax.Share:
			if !w.ofMaximum(d, m, ld, p) {
				return false
			}
		case syntax.Rising:
			if ld.Word == "rising" || ld.Word == "falling" {
				w.note(ld.At, "weights not counted: ", ld.Word, " says no number")
			}
		}
	}
	if len(s.With) > 0 {
		w.note(s.With[0].At, "weights not counted: ", s.With[0].Name, " on top of the movement's own load")
	}
	return true
}

// amount is a load in its turn, with what heads around it add each turn.
func (w *walk) amount(ld program.Load, d dose) (float64, bool) {
	v, ok := w.value(ld.Amount, d.turn, d.turns)
	if !ok && ld.Amount != nil && ld.Amount.Form == syntax.FromTo && len(ld.Amount.Terms) == 2 {
		_, v, _ = ld.Amount.Value(0, 1, w.tier) // the last, where nobody can count the turns
		ok = v > 0
	}
	for _, f := range w.frames {
		if f.group == nil {
			continue
		}
		for _, e := range f.group.Each {
			if e.Unit == ld.Amount.Unit && len(e.Terms) > 0 {
				row := e.Terms[0]
				v += row[min(w.tier, len(row)-1)] * float64(f.turn)
			}
		}
	}
	return v, ok && v > 0
}

func (w *walk) weight(d dose, m program.Move, ld program.Load, p *piece) bool {
	pace, _ := m.Movement.Pace(p.unit)
	base := mass(pace.Load)
	if len(base) == 0 {
		w.note(ld.At, "weights not counted: ", m.Name, " says no load for its pace")
		return true
	}
	v, ok := w.amount(ld, d)
	if !ok {
		w.note(ld.At, "weights not counted: this one has no number for every turn")
		return true
	}
	if n, ok := w.value(ld.Count, d.turn, d.turns); ok && n > 0 {
		v *= n
	}
	w.tiered = w.tiered || len(base) > 1
	ratio := v / base[min(w.tier, len(base)-1)]
	if ratio < w.fig.LeastRatio || ratio > w.fig.MostRatio {
		w.miss(Missing{At: ld.At, Why: "the load is less than half or more than twice the " + pace.Load + " that " + m.Name + " has its pace at",
			Add: "add a movement of your own with a pace at this load"})
		return false
	}
	if ratio == 1 {
		return true
	}
	p.per *= math.Pow(ratio, w.fig.LoadPace)
	p.run = max(1, p.run/math.Pow(ratio, w.fig.LoadRun))
	return true
}

func (w *walk) ofMaximum(d dose, m program.Move, ld program.Load, p *piece) bool {
	b := cmp.Or(ld.Base, &program.Base{Kind: "RM", Reps: 1})
	switch b.Kind {
	case "RM", "today", "movement":
	case "bodyweight":
		w.note(ld.At, "weights not counted: a share of bodyweight")
		return true
	default:
		return true
	}
	if b.Kind == "RM" && b.Reps <= 1 && m.Movement.Best != "load" {
		w.miss(Missing{At: ld.At, Why: "nobody knows a maximum of " + m.Name})
		return false
	}
	v, ok := w.amount(ld, d)
	if !ok {
		w.note(ld.At, "weights not counted: this share has no number for every turn")
		return true
	}
	v /= 100
	if b.Kind == "RM" && b.Reps > 1 {
		v /= 1 + float64(b.Reps)/w.fig.SetLimit // Epley, the other way round
	}
	p.per *= w.fig.heavy(v)
	limit := w.fig.setLimit(v, w.against)
	if w.against {
		limit = min(limit, p.run)
	}
	p.run = limit
	return true
}

// value is a quantity in one turn, the greatest that it says.
func (w *walk) value(q *program.Quantity, turn, turns int) (float64, bool) {
	if q == nil {
		return 0, false
	}
	w.tiered = w.tiered || q.Tiers() > 1
	_, hi, known := q.Value(turn, turns, w.tier)
	if !known || !(hi >= 0) {
		return 0, false
	}
	return min(hi, most), true
}

// miss says what is missing, for every group that it stands in.
func (w *walk) miss(m Missing) {
	m.Held = !math.IsInf(w.limit, 1) || w.inTurns > 0
	w.known.miss(m)
	for _, p := range w.stack {
		p.unproven = true
	}
}

// entry keeps what a go at a line came to, with the change before it.
func (w *walk) entry(p *piece, n float64, s Spent) {
	w.log = append(w.log, entry{p.work, p.name, p.unit, n, s.plus(w.came)})
	w.came = Spent{}
}
