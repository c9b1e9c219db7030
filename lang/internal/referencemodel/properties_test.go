package referencemodel

import (
	"maps"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

var names = slices.Sorted(maps.Keys(Book))

// aWork draws a line of the book, of a length that fits a part.
func aWork(t *rapid.T) Work {
	w := do(rapid.SampledFrom(names).Draw(t, "movement"), 0)
	w.Count = float64(rapid.IntRange(1, 1+int(90/w.Move.Pace.Mid)).Draw(t, "count"))
	w.Effort = rapid.SampledFrom([]float64{0, 0.7, 0.85}).Draw(t, "effort")
	w.OfMax = rapid.SampledFrom([]float64{0, 0, 0, 0.65, 0.8}).Draw(t, "of a maximum")
	return w
}

// aTeam draws a part for one body or a team of up to four.
func aTeam(t *rapid.T) Part {
	p := Part{Team: rapid.IntRange(1, 4).Draw(t, "team"), OneWorks: rapid.Bool().Draw(t, "one works")}
	g := Group{Rounds: rapid.IntRange(1, 4).Draw(t, "rounds"), Dealt: rapid.Bool().Draw(t, "dealt")}
	for range rapid.IntRange(1, 4).Draw(t, "lines") {
		w := aWork(t)
		if !g.Dealt {
			w.Sharing = rapid.SampledFrom([]Sharing{Each, Split, SplitEvenly, Together}).Draw(t, "sharing")
		}
		g.Steps = append(g.Steps, w)
	}
	p.Steps = []Step{g}
	return p
}

func aStanding(t *rapid.T, name string) float64 {
	return rapid.Float64Range(-zMax, zMax).Draw(t, name)
}

// with is a part whose only group has other steps.
func (p Part) with(steps ...Step) Part {
	g := p.Steps[0].(Group)
	g.Steps = steps
	p.Steps = []Step{g}
	return p
}

func (p Part) lines() []Step { return slices.Clone(p.Steps[0].(Group).Steps) }

func notLess(t *rapid.T, more, less float64, why string) {
	if more < less-1e-6 {
		t.Fatalf("%s: %v is less than %v", why, more, less)
	}
}

func TestOneBodyIsASum(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := aWork(t)
		n := rapid.IntRange(1, 6).Draw(t, "rounds")
		z := aStanding(t, "z")
		m := float64(n) * w.Count * w.pace(z)
		want := m + Drift(m) + w.Move.SetUp.At(z)
		if u := w.run(z); u > 0 {
			want += max(0, float64(n)*w.Count/u-1) * Standard.breakAfter(u, z)
		}
		assert.InDelta(t, want, Standard.Walk(free(rounds(n, w)), z).Time, 1e-6)
	})
}

func TestCuttingALineChangesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := aTeam(t)
		p.Team = 1
		z := aStanding(t, "z")
		lines := p.lines()
		at := rapid.IntRange(0, len(lines)-1).Draw(t, "at")
		a := lines[at].(Work)
		b := a
		a.Count *= rapid.Float64Range(0.1, 0.9).Draw(t, "cut")
		b.Count -= a.Count
		cut := p.with(slices.Concat(lines[:at], []Step{a, b}, lines[at+1:])...)
		assert.InDelta(t, Standard.Walk(p, z).Time, Standard.Walk(cut, z).Time, 1e-9)
	})
}

func TestDealtIsInTurn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := rapid.IntRange(2, 5).Draw(t, "team")
		n := rapid.IntRange(1, 4).Draw(t, "rounds")
		lines := []Step{aWork(t), aWork(t)}
		z := aStanding(t, "z")
		turns := Standard.Walk(Part{Team: k, OneWorks: true, Steps: []Step{rounds(n, lines...)}}, z)
		deal := Standard.Walk(Part{Team: k, OneWorks: true, Steps: []Step{dealt(n*k, lines...)}}, z)
		assert.Equal(t, turns.Time, deal.Time)
		assert.Equal(t, turns.Bouts, deal.Bouts)
	})
}

func TestMoreIsNeverQuicker(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, z := aTeam(t), aStanding(t, "z")
		base := Standard.Walk(p, z).Time
		lines := p.lines()
		at := rapid.IntRange(0, len(lines)-1).Draw(t, "at")
		change := func(f func(*Work)) Part {
			out := slices.Clone(lines)
			w := out[at].(Work)
			f(&w)
			out[at] = w
			return p.with(out...)
		}
		extra := float64(rapid.IntRange(1, 20).Draw(t, "extra"))
		notLess(t, Standard.Walk(change(func(w *Work) { w.Count += extra }), z).Time, base, "more")
		notLess(t, Standard.Walk(change(func(w *Work) { w.Effort = max(0.6, w.effortOr1()-0.1) }), z).Time, base, "lower effort")
		slower := z + rapid.Float64Range(0, 1).Draw(t, "slower")
		notLess(t, Standard.Walk(p, slower).Time, base, "slower")
		// A line shared in another way could cut a turn in two, and then a partner's turn covers a
		// change that was paid before.
		put := aWork(t).shared(lines[at].(Work).Sharing)
		notLess(t, Standard.Walk(p.with(slices.Insert(slices.Clone(lines), at, Step(put))...), z).Time, base, "a line put in")
	})
}

func (w Work) effortOr1() float64 {
	if w.Effort == 0 {
		return 1
	}
	return w.Effort
}

func TestAMRAPsAreMonotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, z := aTeam(t), aStanding(t, "z")
		p.Mode, p.Time = AMRAP, float64(rapid.IntRange(120, 900).Draw(t, "time"))
		score := Standard.Walk(p, z).Score
		longer := p
		longer.Time += float64(rapid.IntRange(0, 120).Draw(t, "longer"))
		if s := Standard.Walk(longer, z).Score; s.Count < score.Count {
			t.Fatalf("%v in a longer time is fewer than %v", s.Count, score.Count)
		}
		slower := z + rapid.Float64Range(0, 1).Draw(t, "slower")
		if s := Standard.Walk(p, slower).Score; s.Rounds > score.Rounds {
			t.Fatalf("%d rounds of a slower team are more than %d", s.Rounds, score.Rounds)
		}
	})
}

func TestBoutsAddUpToTheTime(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, z := aTeam(t), aStanding(t, "z")
		p.OneWorks = true
		lines := p.lines()
		for n, s := range lines {
			if w := s.(Work); w.Sharing == Together {
				w.Sharing = Split
				lines[n] = w
			}
		}
		p = p.with(lines...)
		r := Standard.Walk(p, z)
		at := 0.0
		for _, b := range r.Bouts {
			if b.From != at || b.End < b.From+b.Lead {
				t.Fatalf("a bout from %v with a lead of %v to %v begins at %v", b.From, b.Lead, b.End, at)
			}
			at = b.End
		}
		assert.Equal(t, r.Time, at)
	})
}

func TestTogetherIsTheSlowest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := rapid.IntRange(2, 5).Draw(t, "team")
		z := aStanding(t, "z")
		lines := []Step{aWork(t).shared(Together), aWork(t).shared(Together), aWork(t).shared(Together)}
		one := Standard.Walk(free(lines...), max(-zMax, min(zMax, Z(math.Pow(Standing(z), 1/float64(k)))))).Time
		for _, oneWorks := range []bool{false, true} {
			team := Standard.Walk(Part{Team: k, OneWorks: oneWorks, Steps: lines}, z).Time
			assert.Equal(t, one, team)
		}
	})
}

func TestHeatsAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := free(aWork(t), aWork(t))
		time := func(z float64) float64 { return Standard.Walk(p, z).Time }
		n := rapid.IntRange(1, 30).Draw(t, "people")
		limit := time(aStanding(t, "limit"))
		x := Heats{People: n, Size: n + rapid.IntRange(0, 5).Draw(t, "spare"), Every: 300}
		assert.Equal(t, []float64{0}, x.Starts(Standard, 0), "one heat is no heats")
		assert.InDelta(t, float64(n)*Share(time, limit), x.Short(time, []float64{0}, limit, 0), 1e-9)

		x.Size = rapid.IntRange(1, n).Draw(t, "size")
		same := make([]float64, Groups(n, x.Size))
		assert.InDelta(t, float64(n)*Share(time, limit), x.Short(time, same, limit, 0), 1e-9, "all rooms equal")
		people := 0
		for j := range same {
			people += x.SizeOf(j)
		}
		assert.Equal(t, n, people)

		last := func(every float64) float64 {
			x.Every = every
			ends := x.Ends(x.Starts(Standard, time(Slow)), time(Slow))
			return 7200 - ends[len(ends)-1]
		}
		every := rapid.Float64Range(10, 600).Draw(t, "every")
		notLess(t, last(every), last(every+rapid.Float64Range(0, 60).Draw(t, "longer")), "rest of the last heat")
	})
}

func TestQueueGrowsWithPeople(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := Queue{
			People: rapid.IntRange(1, 30).Draw(t, "people"), Pieces: rapid.IntRange(1, 30).Draw(t, "pieces"),
			Visits: rapid.IntRange(1, 6).Draw(t, "visits"), Visit: rapid.Float64Range(10, 200).Draw(t, "visit"),
		}
		q.Round = q.Visit + rapid.Float64Range(0, 200).Draw(t, "elsewhere")
		q.Own = q.Round * float64(q.Visits)
		q.SlowVisit = 1.5 * q.Visit
		last := func(q Queue) float64 { return q.Group(Groups(q.People, q.Pieces)) }
		_, most := q.Bounds()
		if q.Pieces >= q.People {
			assert.InDelta(t, q.Own, last(q), small)
			assert.InDelta(t, q.Own, most, small)
		}
		more := q
		more.Pieces++
		notLess(t, last(q), last(more), "more kit")
		_, less := more.Bounds()
		notLess(t, most, less, "the upper bound with more kit")
	})
}

func TestACapCutsTheLegs(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, z := aTeam(t), aStanding(t, "z")
		whole := Standard.Walk(p, z)
		p.Cap = rapid.Float64Range(30, 900).Draw(t, "cap")
		cut := Standard.Walk(p, z)
		assert.Equal(t, whole.Time, cut.Time)
		assert.LessOrEqual(t, cut.WorkEnd, cut.ClockEnd+small)
		assert.LessOrEqual(t, cut.WorkEnd, whole.WorkEnd+small)
		if p.Team == 1 {
			assert.LessOrEqual(t, cut.Moved()[0], whole.Moved()[0]+small)
		}
	})
}

// The closed form of rounds in a time agrees with the walk, for movements of different patterns.
func TestClosedFormOfRounds(t *testing.T) {
	fresh := []string{"row", "push-up", "step-up", "sit-up", "kettlebell swing", "ring row", "air squat"}
	rapid.Check(t, func(t *rapid.T) {
		z := aStanding(t, "z")
		p := Part{Mode: AMRAP, Time: float64(rapid.IntRange(6, 20).Draw(t, "minutes")) * 60}
		var moving, fixed float64
		for _, name := range rapid.Permutation(fresh).Draw(t, "movements")[:3] {
			w := do(name, 0)
			// Long enough for the others' runs to come back meanwhile.
			w.Count = math.Ceil(float64(rapid.IntRange(15, 60).Draw(t, "seconds")) / w.Move.Pace.Fast)
			p.Steps = append(p.Steps, w)
			moving += w.Count * w.pace(z)
			fixed += Standard.Change.At(z)
			if u := w.run(z); u > 0 {
				fixed += max(0, w.Count/u-1) * Standard.breakAfter(u, z)
			}
		}
		s := Standard.Walk(p, z).Score
		end := func(n float64) float64 { return n*(moving+fixed) + Drift(n*moving) - Standard.Change.At(z) }
		if n := float64(s.Rounds); n > 0 && end(n) > p.Time+1e-6 || end(n+1) <= p.Time-1e-6 {
			t.Fatalf("%v rounds, where %v end at %v and the next at %v", n, n, end(n), end(n+1))
		}
	})
}
