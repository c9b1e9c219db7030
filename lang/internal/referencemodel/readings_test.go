package referencemodel

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// Where no worked example decides between two readings, this is the one that the package takes.
func TestReadings(t *testing.T) {
	// A change is time away from a pattern, so part of the run comes back in it.
	r := Standard.Walk(free(do("thruster", 6), do("wall ball", 15)), Typical)
	assert.InDelta(t, 6*2.8+8+15*2.3+(13-8)+Drift(6*2.8+15*2.3), r.Time, small)

	// Ways on foot at stated paces follow each other without a change, and other work does not.
	run, jog := do("run", 70), do("run", 70)
	jog.Move.Name = "jog"
	run.Cadence, jog.Cadence = 13.0/70, 25.0/70
	r = Standard.Walk(free(rounds(8, run, jog)), Typical)
	assert.InDelta(t, 8*(13+25), r.Time, small)
	jog.Cadence = 0
	r = Standard.Walk(free(run, jog), Typical)
	assert.InDelta(t, 13+8+70*0.290+Drift(70*0.290), r.Time, small)

	// A window goes on with what the time off has given back of the run; a turn of an interval
	// starts with all of it.
	windows := Part{Mode: Windows, Time: 17, Off: 5, Turns: 2, Steps: []Step{do("push-up", 10)}}
	back := 17 + 5 - (16 + Drift(16))
	assert.InDelta(t, 16+(13-back)+Drift(32)-Drift(16), Standard.Walk(windows, Typical).Turns[1], small)
	interval := Part{Mode: Every, Time: 17, Turns: 2, Steps: []Step{do("push-up", 10)}}
	assert.InDelta(t, 16+Drift(32)-Drift(16), Standard.Walk(interval, Typical).Turns[1], small)

	// Nothing is handed over after a stated rest.
	r = Standard.Walk(pair(do("burpee", 5), Rest{10}, do("burpee", 5)), Typical)
	assert.InDeltaSlice(t, []float64{0, 3, 0, 3}, leads(r), small)

	// A part in another division starts with the legs of whoever worked last.
	r = Standard.Walk(pair(do("burpee", 30)), Typical)
	next := Standard.After(r, free(do("run", 100)), r.WorkEnd+30, Typical)
	legs := r.Moved()[1]
	assert.InDelta(t, 29+Drift(legs+29)-Drift(legs), next.Time, small)
}
