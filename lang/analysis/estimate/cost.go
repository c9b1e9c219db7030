package estimate

import (
	"cmp"
	"math"
	"slices"

	"stint.example/stint/lang/analysis/intensity"
	"stint.example/stint/lang/book"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/units"
)

// A lineTurn is a line of work in the turn that its values move with, from 0, of so many.
type lineTurn struct {
	work        *model.Work
	turn, turns int
}

// costOf is what one unit of some moves of a line costs: of one movement, or of a complex. It is
// not ok where neither the text nor the book says how long that takes.
func (sim *simulation) costOf(d lineTurn, moves []model.Move, unit string) (c unitCost, ok bool) {
	s, m := d.work, moves[0]
	c = unitCost{work: s, name: m.Name, unit: unit, pattern: patternOf(m.Movement), unbroken: math.Inf(1),
		fromRack:   fromRack(m.Movement),
		wholeUnits: unit == "rep" || unit == "cal" || unit == "breath", neverBroken: s.Unbroken, byClock: s.Window != nil}
	first := 1.0
	for i, m := range moves {
		share := 1.0
		of := unit
		if i == 0 && len(moves) > 1 {
			if n, ok := sim.value(s.Dose, d.turn, d.turns); ok && n > 0 {
				first = n
			}
		}
		if i > 0 {
			c.name += " + " + m.Name
			if n, ok := sim.value(m.Count, d.turn, d.turns); ok {
				share, of = n/first, m.Count.Unit
			}
		}
		per, fixed, ok := sim.paceOf(d, m, of)
		if !ok {
			return c, false
		}
		c.pacedOnFoot = unit == "m" && fixed > 0 && len(moves) == 1 && len(m.Movement.Needs) == 0
		c.moving += share * per
		c.fixed += share * fixed
	}
	if c.moving > 0 {
		if sim.logging {
			c.effort = sim.figures.effortSlowdown(sim.effortOf(d))
		}
		if !sim.applyLoads(d, m, &c) {
			return c, false
		}
	}
	if s.SetsOf != nil {
		if v, ok := sim.value(s.SetsOf, d.turn, d.turns); ok && v >= 1 {
			c.setSize = v
		}
	}
	if s.Sets == nil {
		c.rest = s.Rest
	}
	return c, true
}

// paceOf is how long one unit of a movement takes without its load, in s: moving, or fixed where
// the text says how fast it goes.
func (sim *simulation) paceOf(d lineTurn, m model.Move, unit string) (moving, fixed float64, ok bool) {
	s := d.work
	if m.Movement == nil {
		sim.reportMissing(m.At, "no book has a movement "+m.Name, "")
		return 0, 0, false
	}
	if v := sim.figures.tempo(s.Tempo); s.Tempo != "" && v > 0 && unit == "rep" {
		return 0, v, true
	}
	if fixed, stated, ok := sim.statedPace(d, m, unit); stated {
		return 0, fixed, ok
	}
	row := m.Movement.Main() == book.Row
	pace, has := m.Movement.Pace(unit)
	metres, rows := m.Movement.Pace("m")
	byWatts := !has && unit == "cal" && row && rows
	if byWatts {
		pace = metres
	} else if !has {
		sim.reportMissing(m.At,
			m.Name+" has no pace per "+unit, "add to the movement a line such as pace 1.5 / 2 / 3 s per "+unit)
		return 0, 0, false
	}
	if pace.Fast <= 0 || pace.Fast > pace.Typical || pace.Typical > pace.Slow || pace.Slow > 4*pace.Fast {
		sim.reportMissing(m.At,
			"the pace of "+m.Name+" is out of order", "write fast / typical / slow, and slow at most four times fast")
		return 0, 0, false
	}
	v := levelAt(pace.Levels, sim.body().z) * sim.figures.effortSlowdown(sim.effortOf(d))
	if byWatts {
		v = sim.figures.perCal(v)
	}
	return v, 0, true
}

// statedPace is a pace that the line itself states, in s a unit: a cadence, a speed or a power that
// a monitor shows, or the pace of a race.
func (sim *simulation) statedPace(d lineTurn, m model.Move, unit string) (fixed float64, stated, ok bool) {
	row := m.Movement.Main() == book.Row
	// of turns a pace per metre into the unit that is counted.
	of := func(ld model.Load, perMetre float64) (float64, bool, bool) {
		switch {
		case unit == "m":
			return perMetre, true, true
		case unit == "cal" && row:
			return sim.figures.perCal(perMetre), true, true
		}
		sim.reportMissing(ld.At, "this pace says nothing of how long one "+unit+" takes", "")
		return 0, true, false
	}
	for _, ld := range d.work.Loads {
		switch ld.Kind {
		case syntax.Cadence:
			v, ok := sim.value(ld.Amount, d.turn, d.turns)
			per, by := ld.Per, ld.Unit
			if u, ok := units.Lookup(by); ok && u.Dimension() == units.Length {
				per, by = u.ToBase(per), "m"
			}
			switch {
			case !ok || v <= 0 || per <= 0:
				sim.reportMissing(ld.At, "this pace cannot be read", "")
				return 0, true, false
			case by == unit:
				return v / per, true, true
			case by == "m":
				return of(ld, v/per)
			}
			sim.reportMissing(ld.At, "the pace is per "+by+", and the count is not", "")
			return 0, true, false
		case syntax.Pace:
			far, known := sim.value(ld.Amount, d.turn, d.turns)
			p, has := m.Movement.Pace("m")
			if !known || !has || far <= 0 || p.Fast <= 0 {
				sim.reportMissing(ld.At, "nobody knows this pace of "+m.Name, "write it out, such as @ 5:00 per km")
				return 0, true, false
			}
			// As fast as the whole distance goes by this estimate, tiring included.
			v := levelAt(p.Levels, sim.body().z)
			if ld.Amount.Unit == "s" {
				v *= far / sim.figures.movingIn(far)
			} else {
				v *= 1 + sim.figures.drift(v*far)/(v*far)
			}
			if ld.Share != nil {
				share, known := sim.value(ld.Share, d.turn, d.turns)
				if !known || share <= 0 || ld.Power {
					sim.reportMissing(ld.At, "how fast that is differs from athlete to athlete", "write how long, such as 5:00 "+m.Name)
					return 0, true, false
				}
				v /= share / 100
			}
			if ld.Offset != nil {
				lo, by, known := ld.OffsetPerMetre(d.turn, d.turns, sim.tier)
				sim.differsByTier = sim.differsByTier || ld.Offset.Tiers() > 1
				if !known || v+lo <= 0 {
					sim.reportMissing(ld.At, "nobody knows how much slower or faster than the race this is", "write it like @ 5 km pace +0:10 per km")
					return 0, true, false
				}
				if lo < by {
					if sim.varies = true; sim.near {
						by = lo
					}
				}
				v += by
			}
			return of(ld, v)
		case syntax.Reading:
			if ld.Amount == nil || len(ld.Amount.Terms) == 0 {
				continue
			}
			lo, _, known := ld.Amount.Value(d.turn, d.turns, sim.tier)
			sim.differsByTier = sim.differsByTier || ld.Amount.Tiers() > 1
			switch u := ld.Amount.Unit; {
			case u == "spm": // how, not how fast
			case known && lo > 0 && u == "W" && row:
				return of(ld, sim.figures.perMetre(lo))
			default:
				sim.reportMissing(ld.At,
					"how fast that is differs from athlete to athlete", "write a pace, or an effort in percent")
			}
		case syntax.Rising:
			if ld.Word == "faster" || ld.Word == "slower" {
				sim.reportMissing(ld.At, "it is not said how much "+ld.Word,
					"write how hard each is, such as "+intensity.Efforts(d.turns, ld.Word == "slower"))
			}
		}
	}
	return 0, false, false
}

// effortOf is how hard a line is done, as a share of the hardest, 0 to 1: as the line says, or the
// nearest head, part or session.
func (sim *simulation) effortOf(d lineTurn) float64 {
	for _, ld := range d.work.Loads {
		switch {
		case ld.Kind == syntax.Named && ld.Amount == nil:
			sim.reportMissing(ld.At,
				"the house has no number for "+ld.Word, "add a line to the house, such as effort "+ld.Word+" 70-80%")
		case ld.Kind == syntax.Share && ld.Base != nil &&
			(ld.Base.Kind == model.OfHeartRate || ld.Base.Kind == model.OfMaxSpeed || ld.Base.Kind == model.OfMaxPower):
			sim.reportMissing(ld.At,
				"how fast that is differs from athlete to athlete", "write an effort in percent, or a pace")
		}
	}
	effort, said := intensity.EffortOf(sim.session, d.work, sim.heads)
	if !said {
		return 1
	}
	lo, hi, known := effort.At(d.turn, d.turns, sim.tier)
	sim.differsByTier = sim.differsByTier || effort.As.Tiers() > 1
	if !known {
		sim.reportMissing(effort.As.At, "this effort has no number for every turn", "")
		return 1
	}
	e := (lo + hi) / 200
	if e < sim.figures.LeastEffort {
		least := num(100*sim.figures.LeastEffort) + " %"
		if effort.As.Unit == "RPE" {
			least = "RPE " + num(10*sim.figures.LeastEffort)
		}
		sim.addNote(effort.As.At, "effort below ", least, " is read as ", least)
	}
	return e
}

// applyLoads makes units slower, and unbroken runs shorter, by the loads on a line.
func (sim *simulation) applyLoads(d lineTurn, m model.Move, c *unitCost) bool {
	s, mv := d.work, m.Movement
	if u := mv.Unbroken; u != nil && c.unit == cmp.Or(mv.UnbrokenPer, "rep") {
		if u.Slow < 1 || u.Fast < u.Typical || u.Typical < u.Slow {
			sim.reportMissing(m.At,
				"the unbroken count of "+m.Name+" is below one or does not fall", "who cannot do one needs the easier form")
			return false
		}
		c.unbroken = max(1, levelAt(*u, sim.body().z))
	}
	for _, ld := range s.Loads {
		switch ld.Kind {
		case syntax.Mass:
			if !sim.applyWeight(d, m, ld, c) {
				return false
			}
		case syntax.Share:
			if !sim.applyShareOfMaximum(d, m, ld, c) {
				return false
			}
		case syntax.Noted:
			sim.addNote(ld.At, "weights not counted: a load is said in words")
		case syntax.Earlier:
			sim.addNote(ld.At, "weights not counted: only the day will show how heavy that is")
		case syntax.Rising:
			if ld.Word == "rising" || ld.Word == "falling" {
				sim.addNote(ld.At, "weights not counted: ", ld.Word, " says no number")
			}
		}
	}
	if len(s.With) > 0 {
		sim.addNote(s.With[0].At, "weights not counted: ", s.With[0].Name, " on top of the movement's own load")
	}
	return true
}

// fromRack says whether a movement is a lift with a bar out of a rack.
func fromRack(m *book.Movement) bool {
	return m != nil && m.Best == book.BestLoad && slices.Contains(m.Needs, "bar stand")
}

// loadInTurn is the amount of a load in its turn, with what heads around it add each turn.
func (sim *simulation) loadInTurn(ld model.Load, d lineTurn) (float64, bool) {
	v, ok := sim.value(ld.Amount, d.turn, d.turns)
	if !ok && ld.Amount != nil && ld.Amount.Form == syntax.FromTo && len(ld.Amount.Terms) == 2 {
		_, v, _ = ld.Amount.Value(0, 1, sim.tier) // the last, where nobody can count the turns
		ok = v > 0
	}
	for _, f := range sim.frames {
		if f.group == nil {
			continue
		}
		for _, e := range f.group.Each {
			if e.Unit == ld.Amount.Unit && len(e.Terms) > 0 {
				row := e.Terms[0]
				v += row[min(sim.tier, len(row)-1)] * float64(f.turn)
			}
		}
	}
	return v, ok && v > 0
}

// applyWeight scales the cost by the ratio of a mass to that of the movement's pace (spec/estimates.md,
// section 2, weights).
func (sim *simulation) applyWeight(d lineTurn, m model.Move, ld model.Load, c *unitCost) bool {
	pace, _ := m.Movement.Pace(c.unit)
	base := mass(pace.Load)
	if len(base) == 0 {
		sim.addNote(ld.At, "weights not counted: ", m.Name, " says no load for its pace")
		return true
	}
	v, ok := sim.loadInTurn(ld, d)
	if !ok {
		sim.addNote(ld.At, "weights not counted: this one has no number for every turn")
		return true
	}
	if n, ok := sim.value(ld.Count, d.turn, d.turns); ok && n > 0 {
		v *= n
	}
	sim.differsByTier = sim.differsByTier || len(base) > 1
	ratio := v / base[min(sim.tier, len(base)-1)]
	if ratio < sim.figures.LeastRatio || ratio > sim.figures.MostRatio {
		sim.reportMissing(ld.At,
			"the load is less than half or more than twice the "+pace.Load+" that "+m.Name+" has its pace at", "add a movement of your own with a pace at this load")
		return false
	}
	if ratio == 1 {
		return true
	}
	c.moving *= math.Pow(ratio, sim.figures.LoadPace)
	c.unbroken = max(1, c.unbroken/math.Pow(ratio, sim.figures.LoadRun))
	return true
}

// applyShareOfMaximum scales the cost by a share of a maximum (spec/estimates.md, section 2, heavy
// things).
func (sim *simulation) applyShareOfMaximum(d lineTurn, m model.Move, ld model.Load, c *unitCost) bool {
	b := cmp.Or(ld.Base, &model.Base{Kind: model.OfRM, Reps: 1})
	switch b.Kind {
	case model.OfRM, model.OfToday, model.OfFirst, model.OfLast, model.OfMovement:
	case model.OfBodyweight:
		sim.addNote(ld.At, "weights not counted: a share of bodyweight")
		return true
	default:
		return true
	}
	if b.Kind == model.OfRM && b.Reps <= 1 && m.Movement.Best != book.BestLoad {
		sim.reportMissing(ld.At, "nobody knows a maximum of "+m.Name, "")
		return false
	}
	v, ok := sim.loadInTurn(ld, d)
	if !ok {
		sim.addNote(ld.At, "weights not counted: this share has no number for every turn")
		return true
	}
	v /= 100
	if b.Kind == model.OfRM && b.Reps > 1 {
		v /= 1 + float64(b.Reps)/sim.figures.SetLimit // Epley's formula turned round: the share of one repetition's maximum
	}
	c.moving *= sim.figures.heavySlowdown(v)
	limit := sim.figures.setLimit(v, sim.againstClock)
	if sim.againstClock {
		limit = min(limit, c.unbroken)
	}
	c.unbroken = limit
	return true
}
