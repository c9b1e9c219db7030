package referencemodel

import "math"

// Bout is some work of one member without a pause.
type Bout struct {
	Member int     // the first is 0
	Turn   int     // of a team: bouts of one turn have one number
	Line   string  // the movement
	From   float64 // when the work may start
	Lead   float64 // the change, handover or set-up before it
	End    float64
	Count  float64 // units done: whole ones where a clock cut it short
	Fixed  bool    // the same for everybody
}

// nobody is who worked alone before where nobody did.
const nobody = -1

// team is one or more bodies on one clock.
type team struct {
	House
	part   Part
	z      float64 // the team's standing
	bodies []*body
	drawn  bool // the members are real ones, not those that stand for a standing

	at     float64 // the clock
	limit  float64 // when the work is stopped
	window float64 // when a count without an end stops
	out    bool    // the limit was reached
	before int     // who worked alone just before
	turn   int
	bouts  []Bout

	byRounds bool // the score is rounds through the list, not turns
	score    Score
}

func (k *team) oneWorks() bool { return k.part.OneWorks && len(k.bodies) > 1 }

// bout lets a member do n units of a line from t on, with a handover still to pay, but no
// longer than the limit. It gives the end and whether all of it was done.
func (k *team) bout(i int, w Work, n, t, handover, limit float64) (end float64, all bool) {
	b := k.bodies[i]
	if !(k.part.Meanwhile && b.worked) {
		b.moved = rested(b.moved, t-b.free)
	}
	lead := b.lead(k.House, w, t, handover)
	begin := t + lead
	pattern := w.Move.pattern()
	left := b.inHand(k.House, pattern, begin)
	if math.IsInf(n, 1) {
		limit = min(limit, k.window)
	}

	var moved float64
	byClock := false
	switch {
	case w.For > 0 || w.Fixed > 0:
		end = begin + w.For + w.Fixed
		if b.byClock && lead > handover {
			end -= lead // a change comes out of the seconds, and a handover does not
		}
		all = end <= limit+small
		end = min(end, limit)
		n, byClock = 0, true
		if w.For > 0 {
			n = b.most(k.House, w, math.Inf(1), left, end-begin, true)
			moved = n * w.pace(b.z)
		}
	case math.IsInf(n, 1):
		n = b.most(k.House, w, n, left, limit-begin, true)
		moved, end, all = n*w.pace(b.z), limit, true
	default:
		full := b.terms(k.House, w, n, left)
		moved, end, all = full.moving, begin+full.total(), true // clockwork moves nothing
		if end > limit+small {
			moved *= clamp((limit-begin)/full.total(), 0, 1)
			end, all = limit, false
			if w.Fixed == 0 {
				n = b.most(k.House, w, n, left, limit-begin, true)
			}
		}
	}
	if !w.clockwork() {
		if u := w.run(b.z); u > 0 {
			left = max(0, left-n/u)
		}
		b.runs[pattern] = run{left, end}
	}
	b.moved += moved
	b.total += moved
	b.free, b.last, b.byClock, b.worked = end, w.Move.Name, byClock, true
	b.paced = w.pacedOnFoot()
	k.bouts = append(k.bouts, Bout{i, k.turn, w.Move.Name, t, min(lead, end-t), end, n, w.clockwork()})
	k.score.add(n)
	return end, all
}

// solo lets a member do some steps as one turn or a part of one.
func (k *team) solo(i int, steps []Step, handover *float64) {
	for _, s := range steps {
		if k.out {
			return
		}
		switch s := s.(type) {
		case Work:
			end, all := k.bout(i, s, s.Count, k.at, *handover, k.limit)
			k.at, k.out, *handover = end, !all, 0
		case Rest:
			k.rest(s.Seconds)
			*handover = 0
		case Group:
			k.rounds(s, func(int) { k.solo(i, s.Steps, handover) })
		}
	}
}

// rounds does something for each round of a group, and rests between.
func (k *team) rounds(g Group, do func(round int)) {
	for r := range max(1, g.Rounds) {
		if r > 0 && g.Rest > 0 {
			k.rest(g.Rest)
		}
		if k.out {
			return
		}
		do(r)
	}
}

func (k *team) rest(seconds float64) {
	k.at += seconds
	k.before = nobody
	if k.at >= k.limit-small {
		k.at, k.out = min(k.at, k.limit), true
	}
}

// takeover is the handover that a member pays for the turn that it starts now.
func (k *team) takeover(i int) float64 {
	if k.before == nobody || k.before == i {
		return 0
	}
	return k.Handover.At(k.middle())
}

// middle is the standing of the team's average member.
func (k *team) middle() float64 {
	return hold(k.z / math.Sqrt(float64(len(k.bodies))))
}

// alone is a turn of one member.
func (k *team) alone(i int, steps []Step) {
	if k.out {
		return
	}
	k.turn++
	k.score.begin(!k.byRounds)
	handover := k.takeover(i)
	k.solo(i, steps, &handover)
	k.before = i
	k.score.finish(!k.byRounds && !k.out)
}

// list lets the team do some steps.
func (k *team) list(steps []Step) {
	if len(k.bodies) > 1 && tagged(steps) {
		k.relay(steps, 1)
		return
	}
	for n := 0; n < len(steps) && !k.out; n++ {
		switch s := steps[n].(type) {
		case Work:
			switch {
			case len(k.bodies) == 1:
				k.alone(0, []Step{s})
			case s.Sharing == Together || s.Sharing == Each && !k.part.OneWorks:
				k.together(s, s.Count)
			case s.Sharing == Each:
				turn := plain(steps[n:])
				for i := range k.bodies {
					k.alone(i, turn)
				}
				n += len(turn) - 1
			case k.part.OneWorks:
				k.split(s)
			case s.Sharing == Split && s.Fixed == 0:
				k.pooled(s)
			default:
				s.Fixed /= float64(len(k.bodies))
				k.together(s, s.Count/float64(len(k.bodies)))
				if !k.out {
					k.at += k.Handover.At(k.middle())
				}
			}
		case Rest:
			k.rest(s.Seconds)
		case Group:
			k.group(s)
		}
	}
}

// plain is the longest run of lines without a word of sharing that steps begin with.
func plain(steps []Step) []Step {
	for n, s := range steps {
		if w, ok := s.(Work); !ok || w.Sharing != Each {
			return steps[:n]
		}
	}
	return steps
}

func tagged(steps []Step) bool {
	for _, s := range steps {
		if _, ok := s.(Tag); ok {
			return true
		}
	}
	return false
}

func (k *team) group(g Group) {
	size := len(k.bodies)
	switch {
	case size > 1 && tagged(g.Steps):
		k.relay(g.Steps, max(1, g.Rounds))
	case g.Dealt && k.oneWorks():
		k.rounds(g, func(r int) { k.alone(r%size, g.Steps) })
	case g.Dealt && size > 1:
		g.Rounds = (g.Rounds + size - 1) / size
		fallthrough
	default:
		k.rounds(g, func(int) { k.list(g.Steps) })
	}
}

// split is a line for the team of which one at a time does an unbroken run.
func (k *team) split(w Work) {
	size := float64(len(k.bodies))
	whole := w.Count
	if w.Fixed > 0 {
		whole = w.Fixed
	}
	left := whole
	done := make([]float64, len(k.bodies))
	k.score.open()
	defer k.score.shut()
	for i := 0; left > small*whole && !k.out; i = (i + 1) % len(k.bodies) {
		n := min(k.stint(w, k.bodies[i]), whole/size, left)
		if w.Sharing == SplitEvenly {
			n = min(n, whole/size-done[i])
			if n <= small*whole {
				continue
			}
		}
		turn := w
		turn.Unbroken = true
		if w.Fixed > 0 {
			turn.Fixed = n
		}
		k.turn++
		end, all := k.bout(i, turn, n, k.at, k.takeover(i), k.limit)
		k.at, k.out, k.before = end, !all, i
		done[i] += n
		left -= n
	}
}

// stint is how much a member does of a split line at a time: its run, or two minutes of what is
// never put down.
func (k *team) stint(w Work, b *body) float64 {
	if w.Fixed > 0 {
		return math.Inf(1)
	}
	if u := w.run(b.z); u > 0 {
		return u
	}
	return 120 / w.pace(b.z)
}

// pooled is a line that all do at once until their counts add up to it.
func (k *team) pooled(w Work) {
	k.turn++
	leads := make([]float64, len(k.bodies))
	inHand := make([]float64, len(k.bodies))
	for i, b := range k.bodies {
		b.moved = rested(b.moved, k.at-b.free)
		leads[i] = b.lead(k.House, w, k.at, 0)
		inHand[i] = b.inHand(k.House, w.Move.pattern(), k.at+leads[i])
	}
	counts := func(t float64) (sum float64, each []float64) {
		for i, b := range k.bodies {
			n := b.most(k.House, w, w.Count, inHand[i], t-leads[i], false)
			each = append(each, n)
			sum += n
		}
		return sum, each
	}
	high := 1.0
	for {
		if sum, _ := counts(high); sum >= w.Count {
			break
		}
		high *= 2
	}
	low := 0.0
	for range 45 {
		mid := (low + high) / 2
		if sum, _ := counts(mid); sum < w.Count {
			low = mid
		} else {
			high = mid
		}
	}
	if k.at+high > k.limit {
		high, k.out = k.limit-k.at, true
	}
	sum, each := counts(high)
	k.score.add(math.Floor(sum + small))
	for i, b := range k.bodies {
		moved := each[i] * w.pace(b.z)
		b.moved += moved
		b.total += moved
		if u := w.run(b.z); u > 0 {
			b.runs[w.Move.pattern()] = run{max(0, inHand[i]-each[i]/u), k.at + high}
		}
		k.bouts = append(k.bouts, Bout{i, k.turn, w.Move.Name, k.at, leads[i], k.at + high, each[i], false})
		b.free, b.last, b.byClock, b.worked = k.at+high, w.Move.Name, false, true
		b.paced = false
	}
	k.at += high
	if !k.out {
		k.at += k.Handover.At(k.middle())
	}
	k.before = nobody
}

// together is a line that each does all of, over when the slowest is done. Where the members
// stand for a standing of the team, the slowest is at its own standing, in the last one's legs.
func (k *team) together(w Work, n float64) {
	k.turn++
	k.before = nobody
	last := len(k.bodies) - 1
	if !k.drawn {
		own := k.bodies[last].z
		k.bodies[last].z = k.slowest()
		defer func() { k.bodies[last].z = own }()
	}
	score := k.score
	over, all := k.at, true
	least := math.Inf(1)
	for i := range k.bodies {
		end, done := k.bout(i, w, n, k.at, 0, k.limit)
		least = min(least, k.bouts[len(k.bouts)-1].Count)
		if i == last || k.drawn {
			over, all = max(over, end), all && done
		}
	}
	for _, b := range k.bodies {
		b.free = min(b.free, over)
	}
	k.score = score
	k.score.add(least)
	k.at, k.out = over, !all
}

// slowest is the standing of the slowest member of a team of this standing.
func (k *team) slowest() float64 {
	return hold(Z(math.Pow(Standing(hold(k.z)), 1/float64(len(k.bodies)))))
}

// relay lets each member do the steps in turn, and the next start at the tag.
func (k *team) relay(steps []Step, rounds int) {
	k.before = nobody
	size := len(k.bodies)
	own := make([]float64, size)
	for i := range own {
		own[i] = k.at
	}
	tag := math.Inf(-1)
	over := k.at
	for leg := 0; leg < rounds*size; leg++ {
		i := leg % size
		t := max(own[i], tag)
		if t >= k.limit {
			k.out = true
			break
		}
		k.turn++
		k.score.begin(!k.byRounds)
		handover := tag + k.Handover.At(k.middle()) - t
		tag = math.Inf(1)
		all := true
		for _, s := range flat(steps) {
			switch s := s.(type) {
			case Work:
				t, all = k.bout(i, s, s.Count, t, handover, k.limit)
				handover = 0
			case Rest:
				t += s.Seconds
			case Tag:
				tag = t
			}
			if !all {
				break
			}
		}
		k.score.finish(!k.byRounds && all)
		own[i] = t
		over = max(over, t)
	}
	k.at = over
}

// flat writes out the rounds of groups.
func flat(steps []Step) []Step {
	var out []Step
	for _, s := range steps {
		g, ok := s.(Group)
		if !ok {
			out = append(out, s)
			continue
		}
		for r := range max(1, g.Rounds) {
			if r > 0 && g.Rest > 0 {
				out = append(out, Rest{g.Rest})
			}
			out = append(out, flat(g.Steps)...)
		}
	}
	return out
}

// cursor is a place in a list that is done again and again.
type cursor struct {
	steps []Step
	next  int
	done  float64 // whole units of the next line
}

// follow lets a member go on at a cursor until the limit.
func (k *team) follow(i int, c *cursor, handover float64) {
	for !k.out {
		if c.next == 0 && c.done == 0 {
			k.score.begin(true)
		}
		switch s := c.steps[c.next].(type) {
		case Work:
			end, all := k.bout(i, s, s.Count-c.done, k.at, handover, k.limit)
			k.at, k.out = end, !all
			if !all {
				c.done += k.bouts[len(k.bouts)-1].Count
				return
			}
		case Rest:
			k.rest(s.Seconds)
		}
		handover = 0
		c.done = 0
		if c.next++; c.next == len(c.steps) {
			c.next = 0
			k.score.finish(true)
		}
	}
}

// pacing lets one work while the next does the pace piece, which decides when both change.
func (k *team) pacing() {
	size := len(k.bodies)
	c := &cursor{steps: flat(k.part.Steps)}
	stop := k.limit
	for leg := 0; k.at < stop-small; leg++ {
		handover := 0.0
		if leg > 0 {
			handover = k.Handover.At(k.middle())
		}
		k.turn++
		worker, pacer := leg%size, (leg+1)%size
		begin, end := k.at, k.at
		score, pay := k.score, handover
		for _, s := range flat(k.part.Pacer) {
			if w, ok := s.(Work); ok && end < stop {
				end, _ = k.bout(pacer, w, w.Count, end, pay, stop)
				pay = 0
			}
		}
		k.score = score
		if !k.part.CarryOn {
			c.next, c.done = 0, 0
		}
		k.at, k.limit, k.out = begin, end, false
		k.follow(worker, c, handover)
		k.at = end
	}
	k.limit, k.out = stop, true
}
