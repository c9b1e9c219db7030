package referencemodel

import "math"

// TimeAt is the time of something at a standing. It must not fall as the standing rises.
type TimeAt func(z float64) float64

// Share is the share whose time is over a limit, between 0 and 1: none where even the 98th
// percentile keeps it, all where even the 2nd does not. A time that equals the limit keeps it.
func Share(time TimeAt, limit float64) float64 {
	if time(zMax) <= limit+small {
		return 0
	}
	if time(-zMax) > limit+small {
		return 1
	}
	low, high := -zMax, zMax
	for range 50 {
		if mid := (low + high) / 2; time(mid) <= limit+small {
			low = mid
		} else {
			high = mid
		}
	}
	return 1 - Standing(low)
}

// Band is [Share] with all times a tenth shorter, and with all a tenth longer.
func Band(time TimeAt, limit float64) (low, high float64) {
	return Share(time, limit/0.9), Share(time, limit/1.1)
}

// Last is the standing of the last of n people to be done, in the middle case.
func Last(n int) float64 { return Z(math.Pow(0.5, 1/float64(n))) }

// Groups is how many groups of a size hold n, the last being perhaps smaller.
func Groups(n, size int) int { return (n + size - 1) / size }

// Heats divides people, or teams, into those who start one after the other.
type Heats struct {
	People, Size int
	Every        float64 // seconds from one start to the next; 0: as the slow are done
	Cap          float64 // of each heat; 0: none
}

// Starts are the heats' starts after the part's own, for the slow time of one heat.
func (x Heats) Starts(h House, slow float64) []float64 {
	every := x.Every
	if every == 0 {
		every = x.capped(slow) + h.Change.At(Slow)
	}
	var out []float64
	for j := range Groups(x.People, x.Size) {
		out = append(out, float64(j)*every)
	}
	return out
}

// SizeOf is how many start in a heat, the first being 0.
func (x Heats) SizeOf(j int) int { return min(x.Size, x.People-j*x.Size) }

func (x Heats) capped(time float64) float64 {
	if x.Cap > 0 {
		return min(time, x.Cap)
	}
	return time
}

// Ends are the ends of the heats for somebody who takes so long.
func (x Heats) Ends(starts []float64, time float64) []float64 {
	var out []float64
	for _, s := range starts {
		out = append(out, s+x.capped(time))
	}
	return out
}

// Short is how many people are left less rest than need before something starts.
func (x Heats) Short(time TimeAt, starts []float64, next, need float64) float64 {
	sum := 0.0
	for j, s := range starts {
		room := next - need - s
		switch {
		case room < 0:
			sum += float64(x.SizeOf(j))
		case x.Cap > 0 && x.Cap <= room:
		default:
			sum += float64(x.SizeOf(j)) * Share(time, room)
		}
	}
	return sum
}

// Queue is kit that people wait for, once a round.
type Queue struct {
	People, Pieces, Visits int

	Own       float64 // one's own time of the whole part
	Round     float64 // one's own round, a change in front of it included
	Visit     float64 // the time at the kit, without a change
	SlowVisit float64 // the slow time at the kit, with the change before it
}

// Group is about how long the g-th group at the kit takes, the first being 1. It proves nothing.
func (q Queue) Group(g int) float64 {
	wait := max(0, q.Visit*float64(q.People)/float64(q.Pieces)-q.Round)
	return q.Own + float64(g-1)*q.Visit + float64(q.Visits-1)*wait
}

// Bounds are what is proven: nobody takes less or more.
func (q Queue) Bounds() (least, most float64) {
	return q.Own, q.Own + float64(q.Visits*(Groups(q.People, q.Pieces)-1))*q.SlowVisit
}

// Verdict is what is known of a limit.
type Verdict int

// The verdicts.
const (
	NotProven Verdict = iota
	Met
	Missed
)

// Judge holds a time that is only known to lie between two against a limit. A time that is a
// least has infinity for its most.
func Judge(least, most, limit float64) Verdict {
	switch {
	case least > limit+small:
		return Missed
	case most <= limit+small:
		return Met
	}
	return NotProven
}

// BuildUp is the least time, and the moving in it, of building up to a heavy r: eight lifts, with
// a rest of a minute after each of the first three and of two minutes after the next four.
func BuildUp(m Movement, r, z float64) (seconds, moving float64) {
	for _, share := range []float64{0.50, 0.60, 0.70, 0.80, 0.85, 0.90, 0.95, 1} {
		lift := Work{Move: m, Count: r, OfMax: share}
		moving += r * lift.pace(z)
		seconds += m.SetUp.At(z)
	}
	return seconds + moving + 11*60, moving
}

// Tier is one of several versions whose times a clock decides.
type Tier struct {
	Worst  float64    // the longest turn
	Counts [3]float64 // what is done, in the order of [Levels]
}

// Hardest is the index of the tier that decides: the longest turn, then the fewest counts of the
// slow, the typical and the fast, then the first.
func Hardest(tiers []Tier) int {
	best := 0
	for i, t := range tiers {
		if harder(t, tiers[best]) {
			best = i
		}
	}
	return best
}

func harder(a, b Tier) bool {
	if math.Abs(a.Worst-b.Worst) > small {
		return a.Worst > b.Worst
	}
	for l := 2; l >= 0; l-- {
		if a.Counts[l] != b.Counts[l] {
			return a.Counts[l] < b.Counts[l]
		}
	}
	return false
}

// Able is how many of a class can do all the movements of a part, given the share of members who
// can do each.
func Able(class int, can ...float64) float64 {
	least := 1.0
	for _, c := range can {
		least = min(least, c)
	}
	return float64(class) * least
}
