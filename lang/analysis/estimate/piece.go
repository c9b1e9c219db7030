package estimate

import (
	"cmp"
	"math"

	"stint.example/stint/lang/book"

	"stint.example/stint/lang/model"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/units"
)

// A dose is a line of work in one turn: what is done, by whom, and how it moves.
type dose struct {
	work        *model.Work
	turn, turns int
}

// piece makes the piece that some moves of a line are in a unit: one of them, or a complex.
// It is not ok where the text or the book does not say how long that takes.
func (w *walk) piece(d dose, moves []model.Move, unit string) (p piece, ok bool) {
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
func (w *walk) pace(d dose, m model.Move, unit string) (moving, fixed float64, ok bool) {
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
	row := m.Movement.Main() == book.Row
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
func (w *walk) stated(d dose, m model.Move, unit string) (fixed float64, stated, ok bool) {
	row := m.Movement.Main() == book.Row
	// of turns a pace per metre into the unit that is counted.
	of := func(ld model.Load, perMetre float64) (float64, bool, bool) {
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
		case ld.Kind == syntax.Share && ld.Base != nil && (ld.Base.Kind == model.OfHeartRate || ld.Base.Kind == model.OfMaxSpeed || ld.Base.Kind == model.OfMaxPower):
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
func (w *walk) load(d dose, m model.Move, p *piece) bool {
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
func (w *walk) amount(ld model.Load, d dose) (float64, bool) {
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

func (w *walk) weight(d dose, m model.Move, ld model.Load, p *piece) bool {
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

func (w *walk) ofMaximum(d dose, m model.Move, ld model.Load, p *piece) bool {
	b := cmp.Or(ld.Base, &model.Base{Kind: model.OfRM, Reps: 1})
	switch b.Kind {
	case model.OfRM, model.OfToday, model.OfMovement:
	case model.OfBodyweight:
		w.note(ld.At, "weights not counted: a share of bodyweight")
		return true
	default:
		return true
	}
	if b.Kind == model.OfRM && b.Reps <= 1 && m.Movement.Best != book.BestLoad {
		w.miss(Missing{At: ld.At, Why: "nobody knows a maximum of " + m.Name})
		return false
	}
	v, ok := w.amount(ld, d)
	if !ok {
		w.note(ld.At, "weights not counted: this share has no number for every turn")
		return true
	}
	v /= 100
	if b.Kind == model.OfRM && b.Reps > 1 {
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
func (w *walk) value(q *model.Quantity, turn, turns int) (float64, bool) {
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
	if w.keep {
		w.log = append(w.log, entry{p.work, p.name, p.unit, n, s.plus(w.came), w.now - s.Total(), w.now})
	}
	w.came = Spent{}
}
