package estimate

import (
	"math"

	"stint.example/stint/lang/analysis/totals"
	"stint.example/stint/lang/model"
)

// An athleteRun is a part as one athlete performed it. Times are in s.
type athleteRun struct {
	work             float64 // from its start until it is done; a window counts whole, a cap cuts nothing
	cappedWork       float64 // work, but no longer than the cap
	workEnd          float64 // from its start until the last work of anybody ends, or the cap
	workToCompletion float64 // work if nothing stopped it; 0 where that is not known
	restBehind       float64 // that is written behind the part
	restBehindOpen   bool    // some of that has no length
	heatsExtra       float64 // that heats add for the room
	fillsUntil       float64 // from the start, until when who is done early goes on with something else
	spent            Spent   // what work is made of

	records       map[*model.Group]*groupRecord
	log, others   []logEntry // others: of what was left of a choice
	exactUntil    float64    // s from its start, until when the clock alone says when its last work ends
	unknowns      unknowns
	differsByTier bool // some value in it, or in a part before, differs from tier to tier
	outlasts      bool // it went on until a turn was missed

	near *athleteRun // with no more than the text asks for; nil where that is all the same
}

// longestTurn is the longest turn on a clock, in s.
func (r *athleteRun) longestTurn() (longest float64) {
	for _, record := range r.records {
		longest = max(longest, record.longestTurn.Took)
	}
	return longest
}

// done is how much is done of all lines together.
func (r *athleteRun) done() (n float64) {
	for _, e := range r.log {
		n += whole(e.amount)
	}
	return n
}

// performPart performs a part. Inherited are the bodies of the part before, on the clock of this one.
func (sim *simulation) performPart(g *model.Group, inherited []body) athleteRun {
	limit, hasCap := sim.value(g.Cap, 0, 1)
	sim.runPart(g, inherited, math.Inf(1))
	capped := sim.openEnded && hasCap
	if capped { // nothing but the cap ends it
		sim.runPart(g, inherited, limit)
	}
	run := athleteRun{work: sim.now, cappedWork: sim.now, heatsExtra: sim.heatsExtra, fillsUntil: sim.fillsUntil,
		spent: sim.spent, records: sim.records, log: sim.log, others: sim.others, differsByTier: sim.differsByTier, outlasts: sim.outlasts}
	if hasCap {
		run.cappedWork = min(run.work, limit)
	}
	if sim.mostMoved() > sim.figures.MostMoving {
		_, whole := totals.Whole(g, sim.tier)
		inTime := sim.spent.Moving == 0 // only counts depend on it
		sim.unknowns.addMissing(Missing{At: g.At, Held: capped || whole || inTime, Beyond: true,
			Why: "it is more than " + num(sim.figures.MostMoving/60) + " minutes of moving, which the estimate was not made for", Add: "write it as two parts"})
	}
	if sim.stepsRemaining <= 0 {
		sim.unknowns.addMissing(Missing{At: g.At, Why: "it goes on for longer than any session"})
	}
	run.workEnd, run.exactUntil = min(sim.workEnd(), run.cappedWork), sim.exactUntil
	if sim.filler != nil && hasCap && sim.now < limit-epsilon {
		sim.performFiller(limit)
		run.log, run.workEnd, run.exactUntil = sim.log, limit, limit
	}
	if hasCap && !capped && run.work > limit+epsilon { // what is in the legs is what was done until the cap fell
		again := &simulation{scenario: sim.scenario, findings: &findings{}}
		again.logging = false
		again.runPart(g, inherited, limit)
		sim.bodies, run.workEnd, run.exactUntil = again.bodies, limit, limit
	}
	sim.log = nil // the next part has its own
	run.restBehind, run.restBehindOpen = sim.restBehind(g, run.cappedWork)
	run.unknowns = sim.unknowns
	if len(run.unknowns.missing) > 0 || g.Lasts != nil { // nobody knows how far into its clock the work goes, or it is to fill it
		run.workEnd, run.exactUntil = run.cappedWork, 0
		if g.Lasts != nil {
			run.exactUntil = run.cappedWork
		}
	}
	run.exactUntil = min(run.exactUntil, run.workEnd)
	if sim.varies && sim.logging {
		again := &simulation{scenario: sim.scenario, findings: &findings{}}
		again.logging, again.near = false, true
		near := again.performPart(g, inherited)
		run.near = &near
	}
	if _, ok := sim.value(g.Lasts, 0, 1); ok && sim.logging {
		again := &simulation{scenario: sim.scenario, findings: &findings{}}
		again.logging, again.unbounded, again.inTimes = false, true, inTimes(g)
		again.runPart(g, inherited, math.Inf(1))
		if proven(again.unknowns.missing) && !again.stopped {
			run.workToCompletion = again.now
			if inTimes(g) { // they are added up, and nothing else
				run.workToCompletion = again.records[g].stated
			}
		}
	} else if proven(run.unknowns.missing) {
		run.workToCompletion = run.work
	}
	return run
}

// runPart performs a part until it is done, or until a limit, in s from its start.
func (sim *simulation) runPart(g *model.Group, inherited []body, limit float64) {
	sim.startPart(inherited, limit)
	sim.varies = g.If != ""
	if !sim.near || g.If == "" {
		sim.performGroup(g)
	}
	sim.now = min(sim.now, limit)
}

// restBehind is the rest that is written behind a part, in s, whose work took some seconds. Open says
// that some of it has no length.
func (sim *simulation) restBehind(g *model.Group, work float64) (s float64, open bool) {
	for st := range model.Flat(g.Steps) {
		r, ok := st.(*model.Rest)
		if !ok || !r.IsBehindPart() {
			continue
		}
		if v, ok := sim.value(r.Amount, 0, 1); ok {
			s += v
		} else if n, ok := r.Work.One(); ok {
			s += min(maxAmount, n*work)
		} else {
			open = true
		}
	}
	return s, open
}
