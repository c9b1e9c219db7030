package referencemodel

import (
	"math"
	"slices"
)

// MostMoving is the moving time in seconds beyond which nothing is said of a part.
const MostMoving = 2400

// Result is what a walk gives. Times are on the clock that the walk started on, except those
// that are said to be lengths.
type Result struct {
	Start    float64
	Time     float64   // length of all the work, as if there were no cap
	WorkEnd  float64   // the end of the last work, which a cap may cut
	ClockEnd float64   // when the clock says it is over, or the work where it has no say
	Turns    []float64 // lengths of the turns of an interval, or of the work in windows
	Bouts    []Bout    // of all the work, as if there were no cap
	Score    Score     // of the whole part
	Windows  []Score   // of each window
	// Open says of turns until one is missed that nobody at this standing ever misses one. The time
	// is then that of the turns that were walked to see it, and means nothing.
	Open     bool
	Done     int     // turns that fitted, before the cap
	WhenDone float64 // units done when the work was done

	bodies []*body
}

// Moved is what each member has in the legs at the work's end, in moving seconds.
func (r Result) Moved() []float64 {
	var out []float64
	for _, b := range r.bodies {
		out = append(out, b.moved)
	}
	return out
}

// Free is the end of each member's last work.
func (r Result) Free() []float64 {
	var out []float64
	for _, b := range r.bodies {
		out = append(out, b.free)
	}
	return out
}

// Total is the units of a movement in all the work, as if there were no cap.
func (r Result) Total(movement string) float64 {
	sum := 0.0
	for _, b := range r.Bouts {
		if b.Line == movement {
			sum += b.Count
		}
	}
	return sum
}

// TurnsOf is how many turns a member of a team takes, the first being 0.
func (r Result) TurnsOf(member int) int {
	turns := map[int]bool{}
	for _, b := range r.Bouts {
		if b.Member == member {
			turns[b.Turn] = true
		}
	}
	return len(turns)
}

// RestBefore is the least rest of any member before something starts.
func (r Result) RestBefore(start float64) float64 {
	return start - max(r.WorkEnd, slices.Max(r.Free()))
}

// Members are the standings that stand for a team of k at standing z, quickest first.
func Members(k int, z float64) []float64 {
	out := make([]float64, k)
	square := 0.0
	for i := range out {
		out[i] = Z((float64(i) + 0.5) / float64(k))
		square += out[i] * out[i] / float64(k)
	}
	for i := range out {
		spread := 0.0
		if k > 1 {
			spread = out[i] * math.Sqrt(float64(k-1)/float64(k)/square)
		}
		out[i] = hold(z/math.Sqrt(float64(k)) + spread)
	}
	return out
}

// Walk walks a part that starts at 0 with nothing in anybody's legs.
func (h House) Walk(p Part, z float64) Result { return h.After(Result{}, p, 0, z) }

// After walks a part that starts at a time after another part, with what that left in the legs.
// Where the size of the team differs, everybody starts as the one of them who was free last.
func (h House) After(before Result, p Part, start, z float64) Result {
	members := Members(max(1, p.Team), z)
	return h.run(before, p, start, z, members, false)
}

// WalkDrawn walks a part by members of given standings, of which the team's standing is their
// sum over the root of their number.
func (h House) WalkDrawn(p Part, members []float64) Result {
	sum := 0.0
	for _, z := range members {
		sum += z
	}
	return h.run(Result{}, p, 0, sum/math.Sqrt(float64(len(members))), members, true)
}

func (h House) run(before Result, p Part, start, z float64, members []float64, drawn bool) Result {
	walk := func(limit float64) *team {
		k := &team{House: h, part: p, z: z, drawn: drawn, at: start, limit: limit, window: limit, before: nobody}
		for i, z := range members {
			k.bodies = append(k.bodies, inherit(before.bodies, i, len(members), z))
		}
		k.byRounds = len(members) == 1 || !p.OneWorks || !turnsOnly(p.Steps)
		return k
	}
	r := Result{Start: start}
	k := walk(math.Inf(1))
	if p.Cap > 0 {
		k.window = start + p.Cap
	}
	k.mode(&r)
	r.Time = r.WorkEnd - start
	r.Bouts, r.Score, r.bodies = k.bouts, k.score, k.bodies
	if p.Mode == ForTime {
		r.ClockEnd = r.WorkEnd
	}
	if p.Cap == 0 {
		return r
	}
	stop := start + p.Cap
	if p.Mode == ForTime {
		r.ClockEnd = stop
	}
	if r.WorkEnd > stop+small {
		cut := Result{Start: start}
		k = walk(stop)
		k.mode(&cut)
		r.WorkEnd, r.Score, r.bodies, r.Done, r.Windows = stop, k.score, k.bodies, cut.Done, cut.Windows
		return r
	}
	if len(p.WhenDone) > 0 {
		k.limit, k.window, k.out, k.before = stop, stop, false, nobody
		k.score = Score{}
		k.list(p.WhenDone)
		r.WhenDone = k.score.Count
		r.WorkEnd, r.bodies = stop, k.bodies
	}
	return r
}

// turnsOnly says that all work of a list is in turns of one member.
func turnsOnly(steps []Step) bool {
	for _, s := range flat(steps) {
		if w, ok := s.(Work); ok && w.Sharing != Each {
			return false
		}
	}
	return true
}

// inherit makes a member with the legs of the part before.
func inherit(before []*body, i, size int, z float64) *body {
	if len(before) == 0 {
		return newBody(z)
	}
	from := before[0]
	if len(before) == size {
		from = before[i]
	} else {
		for _, b := range before {
			if b.free > from.free {
				from = b
			}
		}
	}
	b := from.clone()
	b.z, b.total, b.worked = hold(z), 0, false
	return b
}

// mode walks a part as its clock says.
func (k *team) mode(r *Result) {
	p := k.part
	switch p.Mode {
	case ForTime:
		if p.Pacer != nil {
			k.pacing()
		} else {
			k.list(p.Steps)
		}
		r.WorkEnd = k.at
	case AMRAP:
		k.limit = min(k.limit, k.at+p.Time)
		k.window = k.limit
		k.repeat(&cursor{steps: flat(p.Steps)})
		r.WorkEnd, r.ClockEnd = k.limit, r.Start+p.Time
	case Every:
		k.every(r)
	case Windows, Repeats:
		k.windows(r)
	}
}

// repeat does the list of the part until the limit.
func (k *team) repeat(c *cursor) {
	switch size := len(k.bodies); {
	case k.part.Pacer != nil:
		k.pacing()
	case size == 1:
		k.follow(0, c, 0)
	case k.part.Dealt && k.oneWorks():
		for n := 0; !k.out; n++ {
			k.alone(n%size, k.part.Steps)
		}
	case tagged(k.part.Steps):
		k.relay(k.part.Steps, math.MaxInt/size)
		k.out = true
	default:
		for !k.out {
			k.score.begin(k.byRounds)
			k.list(k.part.Steps)
			k.score.finish(k.byRounds && !k.out)
		}
	}
}

// every starts a turn at each interval, or when the one before is over.
func (k *team) every(r *Result) {
	p, cap := k.part, k.limit
	start := k.at
	for n := 0; n < p.Turns || p.Turns == 0; n++ {
		k.at = max(k.at, start+float64(n)*p.Time)
		if k.at >= cap-small {
			break
		}
		steps := p.Steps
		if p.Turn != nil {
			steps = p.Turn(n)
		}
		began, bouts := k.at, len(k.bouts)
		for _, b := range k.bodies {
			b.fresh()
		}
		k.before = nobody
		k.window = start + float64(n+1)*p.Time
		k.list(steps)
		if len(k.bouts) > bouts {
			r.WorkEnd = k.at
		}
		took := k.at - began
		r.Turns = append(r.Turns, took)
		if took <= p.Time+small && !k.out {
			r.Done++
		}
		if p.Turns > 0 {
			continue
		}
		if took > p.Time+small {
			break
		}
		total := 0.0
		for _, b := range k.bodies {
			total = max(total, b.total)
		}
		same := p.Turn == nil && n > 0 && math.Abs(took-r.Turns[n-1]) <= 0.005
		if same || total > MostMoving {
			r.Open = true
			break
		}
	}
	r.ClockEnd = start + float64(p.Turns)*p.Time
	if p.Turns == 0 {
		r.ClockEnd = r.WorkEnd
	}
}

// windows works for a time, and is off for another.
func (k *team) windows(r *Result) {
	p, start, stop := k.part, k.at, k.limit
	c := &cursor{steps: flat(p.Steps)}
	for n := range p.Turns {
		k.at = start + float64(n)*(p.Time+p.Off)
		if k.at >= stop {
			break
		}
		k.before = nobody
		k.limit, k.out = stop, false
		k.window = min(stop, k.at+p.Time)
		began := k.at
		whole := k.score
		if p.Mode == Repeats {
			k.limit = k.window
			if !p.CarryOn {
				*c = cursor{steps: c.steps}
				k.score = Score{}
			}
			k.repeat(c)
		} else {
			k.score = Score{}
			k.list(p.Steps)
		}
		r.Turns = append(r.Turns, k.at-began)
		if k.at-began <= p.Time+small && (p.Mode == Repeats || !k.out) {
			r.Done++
		}
		r.WorkEnd = k.at
		if !p.CarryOn {
			r.Windows = append(r.Windows, k.score)
			k.score.Rounds += whole.Rounds
			k.score.Count += whole.Count
		}
	}
	r.ClockEnd = start + float64(p.Turns)*(p.Time+p.Off)
}
