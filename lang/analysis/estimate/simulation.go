package estimate

import (
	"math"
	"slices"
	"strings"

	"stint.example/stint/lang/model"
	"stint.example/stint/lang/source"
)

// A simulation performs the parts of a session, step by step, as one athlete or one team does, and
// keeps the time. Its fields are grouped by what happens to them when something is tried out and
// taken back, such as the movements of a choice: the scenario stays the same throughout a part, the
// state is rolled back, and the findings are kept.
type simulation struct {
	scenario
	state
	*findings

	previousBegan float64    // s from the start of the session, when the part before began
	chosen        model.Step // of a choose one, what is performed now, whatever it depends on
}

// A scenario is who is simulated, and by which figures.
type scenario struct {
	figures *Figures
	plan    *restPlan
	class   int            // people; 0 where the house does not say
	tier    int            // of the house, from 0
	athlete person         // whose time it is
	session *model.Session // it says how hard work is where nothing in it does

	logging   bool         // keep a log of every line, and notes
	unbounded bool         // perform a part to its end, whatever its head says it lasts
	inTimes   bool         // add up stated times, without the changes between them
	near      bool         // do no more than the text asks for: the low end of ranges, and nothing that depends on a condition
	goal      *roundGoal   // nil where nobody asks for one
	uncut     *model.Group // whose own cap and length cut nothing, as somebody asks how long its work takes; nil where nobody does
}

// A roundGoal is a number of rounds that somebody asks the time of. The simulation stops there.
type roundGoal struct {
	group     *model.Group
	rounds    int
	reachedAt float64 // s since the nearest clock started, which is the group's own
	reached   bool
}

// A state is what performing steps changes within a part. Only the bodies are carried from part to part.
type state struct {
	headContext
	accounts

	bodies    []body  // who works: an athlete, or the people of a team, quickest first
	inherited []body  // those of the part before, on the clock of this one
	who       int     // of bodies, who works
	before    int     // who worked alone just before, to whom the next takes over; nobody where that is not so
	handover  float64 // s that the work at hand starts with, where it takes over
	interrupt interruption

	now         float64 // s since the part began
	frames      []frame
	triggers    []trigger
	inEvent     bool           // at an event's work, into which no other event drops
	openRecords []*groupRecord // of the groups around, outermost first
	log         []logEntry
	others      []logEntry // of what was left of a choice
	outlasts    bool       // it went on until somebody missed a turn, so the quick are at it longest
}

// A headContext is what the heads around a step set for it. A group changes it for what it holds.
type headContext struct {
	limit      float64 // s since the part began, when all work stops; +Inf where nothing stops it
	maxUntil   float64 // s since the part began, until when a max goes on; +Inf where it has no end
	moreToCome bool    // more work follows before maxUntil, so that a max does not fill the time until then
	clockZero  float64 // s since the part began, when the nearest clock started, from which "until 4:00" counts
	filled     bool    // work goes on until the limit, whatever is done before it, so that nothing missing moves when it ends

	clockDepth   int            // how many groups around have their turns started by a clock
	heads        []*model.Group // around, of those that say how hard work is
	againstClock bool           // work is against a clock, and not in straight sets
	team         team
}

// accounts add up what a part has taken so far.
type accounts struct {
	spent       Spent
	heatsExtra  float64 // s that heats add for the room
	fillsUntil  float64 // s since the part began, until when who is done early goes on with something else
	exactUntil  float64 // s since the part began, when the clock started the last turn of it that holds work
	workMark    float64 // the workTime at which the last turn, or a rest in it, ended
	pendingLead Spent   // what passed before the work that is about to be logged
}

// findings are facts about a part that hold whichever way through it is taken, so nothing takes
// them back. All that is simulated of a part shares them.
type findings struct {
	unknowns       unknowns
	records        map[*model.Group]*groupRecord
	differsByTier  bool         // some value in it, or in a part before, differs from tier to tier
	filler         *model.Event // what who is done early goes on with until the cap; nil where nothing is
	openEnded      bool         // something in it ends only when the clock says so
	varies         bool         // it leaves open how much of something is done, between two ends
	stepsRemaining int          // how much more is simulated before the part counts as endless
	stopped        bool         // no step remains, or the goal is reached: nothing more is simulated
}

// maxSteps bounds the goes at lines in one part; no session has as many.
const maxSteps = 5_000

// A frame is a turn under way of something that comes round: a group, or the sets of a line.
type frame struct {
	group       *model.Group // nil for the sets of a line
	turn, turns int          // from 0, of how many; turns is 0 where nobody knows how many there are
	round       bool         // values move with it
}

// A groupRecord is what the simulation saw of a group.
type groupRecord struct {
	longest      float64 // s: the longest time through it
	stated       float64 // s of longest that are stated in times, or rest
	began        float64 // s on the clock around it, when it was first begun
	rounds       int     // whole turns, where nothing says how many
	counted      bool    // rounds are counted, as nothing but a clock ends them
	unfinished   []Count // what is done of a turn after those rounds
	turnLogStart int     // the length of the log when the last turn began, while the group is under way

	longestTurn  Turn    // the longest turn on a clock, with the least rest that any of them left
	lastTurnTook float64 // s

	buildUp float64 // s that building up to the heaviest set takes at least, whatever there is time for

	windows []Done // how far each window got, where it holds as many rounds as fit

	open     bool // nobody at this standing ever misses a turn, and nothing else ends it
	unproven bool // something is missing in it
}

// A logEntry is one go at a line.
type logEntry struct {
	work   *model.Work
	name   string // of the movement, or of the complex
	unit   string
	amount float64 // in unit
	spent  Spent
	effort float64 // by what factor effort makes its moving longer; 0 where there is none by a pace

	// counted is how much is done of a movement with a pace in a line of so many seconds, in countedUnit,
	// which is empty where nothing is counted.
	counted     float64
	countedUnit string

	from, to float64 // s since the part began
}

// newSimulation simulates one athlete from the start of a session; z is the standing, in standard
// deviations above the middle of the house's members: the higher the slower.
func newSimulation(fig *Figures, p *restPlan, env *model.Env, z float64, tier int) *simulation {
	sim := &simulation{scenario: scenario{figures: fig, plan: p, tier: tier, athlete: fig.person(z)}, findings: &findings{}}
	if env != nil && env.House != nil {
		sim.class = env.House.Class
	}
	return sim
}

// nobody is who worked alone just before where nobody did.
const nobody = -1

// startPart sets the clock to 0. Nothing goes on beyond the limit, in s. Inherited are the bodies
// of the part before, on the clock of this one.
func (sim *simulation) startPart(inherited []body, limit float64) {
	sim.state = state{
		headContext: headContext{limit: limit, maxUntil: limit, filled: !math.IsInf(limit, 1), team: team{size: 1}},
		inherited:   inherited, before: nobody, interrupt: interruption{at: math.Inf(1)},
		frames: sim.frames[:0], triggers: sim.triggers[:0], openRecords: sim.openRecords[:0], log: sim.log[:0],
	}
	sim.divide(1)
	sim.findings = &findings{records: map[*model.Group]*groupRecord{}, stepsRemaining: maxSteps,
		differsByTier: sim.differsByTier}
}

// snapshot is the state as it is now, to roll back to. What is simulated later does not change it.
func (sim *simulation) snapshot() state {
	s := sim.state
	s.triggers, s.bodies = slices.Clone(s.triggers), slices.Clone(s.bodies) // changed in place; the others only grow and shrink
	s.frames, s.openRecords, s.others = slices.Clip(s.frames), slices.Clip(s.openRecords), slices.Clip(s.others)
	return s
}

// rollBack goes back to a snapshot, which can be gone back to again.
func (sim *simulation) rollBack(to state) {
	sim.state = to
	sim.triggers, sim.bodies = slices.Clone(to.triggers), slices.Clone(to.bodies)
}

// A savedContext is what a group has to restore for what follows it.
type savedContext struct {
	headContext
	triggers int // how many there were
}

func (sim *simulation) saveContext() savedContext {
	return savedContext{sim.headContext, len(sim.triggers)}
}

func (sim *simulation) restoreContext(c savedContext) {
	sim.headContext = c.headContext
	sim.triggers = sim.triggers[:c.triggers]
}

// consumeStep counts a step, and says whether the simulation has stopped: the part may have gone on for
// longer than any session does.
func (sim *simulation) consumeStep() (stopped bool) {
	sim.stepsRemaining--
	sim.stopped = sim.stopped || sim.stepsRemaining <= 0
	return sim.stopped
}

// inFrame performs a turn of something that comes round.
func (sim *simulation) inFrame(f frame, perform func() (cut bool)) (cut bool) {
	sim.frames = append(sim.frames, f)
	defer func() { sim.frames = sim.frames[:len(sim.frames)-1] }()
	return perform()
}

// openWindow bounds what follows by a window that is so long, and starts its clock.
func (sim *simulation) openWindow(seconds float64) {
	sim.limit = min(sim.limit, sim.now+seconds)
	sim.maxUntil, sim.clockZero, sim.moreToCome, sim.filled = sim.limit, sim.now, false, true
}

// timeIsUp says whether work that was cut short was so for what is around it too.
func (sim *simulation) timeIsUp(cut bool) bool {
	return cut && (sim.now >= sim.limit-epsilon || sim.stopped)
}

// recordGoalRound stops the simulation where so many rounds of a group are its goal, and says whether
// they are.
func (sim *simulation) recordGoalRound(g *model.Group, rounds int) bool {
	goal := sim.goal
	if goal == nil || goal.group != g || goal.rounds != rounds || goal.reached {
		return false
	}
	goal.reachedAt, goal.reached = sim.now-sim.clockZero, true
	sim.stopped = true
	return true
}

// addNote says something that an estimate leaves out, once a place.
func (sim *simulation) addNote(at source.Place, text ...string) {
	if !sim.logging || slices.ContainsFunc(sim.unknowns.notes, func(n Note) bool { return n.At == at }) {
		return
	}
	sim.unknowns.notes = append(sim.unknowns.notes, Note{At: at, Text: strings.Join(text, "")})
}

// reportMissing says what is missing at a place, and what would settle it, for every group that it
// stands in.
func (sim *simulation) reportMissing(at source.Place, why, add string) {
	sim.unknowns.addMissing(Missing{At: at, Why: why, Add: add, Held: sim.filled || sim.clockDepth > 0})
	for _, r := range sim.openRecords {
		r.unproven = true
	}
}

// logWork keeps what a go at a line took, with the change before it.
func (sim *simulation) logWork(c *unitCost, n float64, s Spent) {
	if sim.logging {
		sim.log = append(sim.log, logEntry{work: c.work, name: c.name, unit: c.unit, amount: n, effort: c.effort,
			spent: s.plus(sim.pendingLead), from: sim.now - s.Total(), to: sim.now})
	}
	sim.pendingLead = Spent{}
}

// value is a quantity in one turn: the greatest that it says, or the least at the near end.
func (sim *simulation) value(q *model.Quantity, turn, turns int) (float64, bool) {
	if q == nil {
		return 0, false
	}
	sim.differsByTier = sim.differsByTier || q.Tiers() > 1
	lo, hi, known := q.Value(turn, turns, sim.tier)
	if !known || !(hi >= 0) {
		return 0, false
	}
	if lo < hi {
		sim.varies = true
		if sim.near {
			return min(max(lo, 0), maxAmount), true
		}
	}
	return min(hi, maxAmount), true
}
