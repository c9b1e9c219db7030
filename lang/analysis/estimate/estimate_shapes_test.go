package estimate_test

import (
	"fmt"
	"math"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/units"
)

// A shape is a piece that spec/estimates.md (section 9) sets beside what a coach expects of it.
type shape struct {
	part string
	// of is what is compared, for a level: the part's time where it is nil.
	of func(p *estimate.PartTime, level int) float64
}

// countOf is how much of everything is done.
func countOf(p *estimate.PartTime, level int) float64 {
	n := 0.0
	for _, l := range p.Lines {
		n += l.N.At(level)
	}
	return n
}

// roundsOf are rounds with so many repetitions each, and the fraction of the one that is not whole.
func roundsOf(each float64) func(p *estimate.PartTime, level int) float64 {
	return func(p *estimate.PartTime, level int) float64 {
		d := p.Groups[0].Rounds[level]
		n := 0.0
		for _, c := range d.Then {
			if c.Unit == "rep" {
				n += c.N
			}
		}
		return float64(d.Rounds) + n/each
	}
}

var shapes = []shape{
	{part: "part A 5 rounds for time\n  400 m run\n  15 kettlebell swing\n"},
	{part: "part A ladder 21-15-9 for time\n  thruster\n  swinging pull-up\n"},
	{part: "part A emom 10:00\n  slot 1: 10 burpee\n  slot 2: 15 kettlebell swing\n",
		of: func(p *estimate.PartTime, level int) float64 { return p.Groups[1].Took.At(level) }},
	{part: "part A\n  5 back squat @ 75%\n"},
	{part: "part A for time\n  2 km row\n"},
	{part: "part A amrap 20:00\n  5 swinging pull-up\n  10 push-up\n  15 air squat\n", of: roundsOf(30)},
	{part: "part A\n  4 x 1 km run, rest 1 x work\n"},
	{part: "part A for time\n  100 burpee\n"},
	{part: "part A for time\n  50 box jump\n  50 kettlebell swing\n  50 sit-up\n  50 wall ball\n  50 burpee\n"},
	{part: "part A on 0:20 off 0:10 x 8\n  max air squat\n", of: countOf},
	{part: "part A ladder 50-40-30-20-10 for time\n  double-under\n  sit-up\n"},
	{part: "part A for time\n  30 clean and jerk @ 70%\n"},
	{part: "part A 3 rounds for time\n  400 m run\n  21 kettlebell swing\n  12 swinging pull-up\n"},
	{part: "part A amrap 7:00\n  1 burpee\n", of: countOf},
	{part: "part A for time\n  5 km run\n"},
	{part: "part A\n  3 x 10 dumbbell press, rest 1:30\n"},
	{part: "part A amrap 12:00\n  200 m row\n  10 push-up\n  12 step-up\n  8 ring row\n", of: roundsOf(30)},
	{part: "part A for time\n  400 m farmer carry\n"},
	{part: "part A 5 rounds for time\n  1 rope climb\n  10 push-up\n"},
	{part: "part A 10 rounds for time, in pairs, one works, split\n  200 m row\n  10 burpee\n"},
}

var shapeRow = regexp.MustCompile(`(?m)^\| (\d+) \|[^|\n]*\|([^|\n]*)\|[^|\n]*\|([^|\n]*)\|$`)

// What the page says of pieces beside what a coach expects is what the tool says, and none is more
// than a fifth away from that.
func TestShapes(t *testing.T) {
	page, err := os.ReadFile("../../../spec/estimates.md")
	require.NoError(t, err)
	rows := shapeRow.FindAllStringSubmatch(string(page), -1)
	require.Len(t, rows, len(shapes))
	for i, s := range shapes {
		_, p := first(t, hall(t, ""), s.part)
		var got []string
		of, write := s.of, func(v float64) string { return fmt.Sprintf("%.1f", v) }
		if of == nil {
			of = func(p *estimate.PartTime, level int) float64 { return p.Work.At(level) }
		}
		if strings.Contains(rows[i][2], ":") {
			write = func(v float64) string { return units.FormatClock(math.Floor(v + 0.5)) }
		} else if !strings.Contains(rows[i][2], ".") {
			write = units.FormatNumber
		}
		for l, expected := range strings.Split(rows[i][2], "/") {
			v := of(p, l)
			got = append(got, write(v))
			want := secondsOf(t, expected)
			assert.InDelta(t, 1, v/want, 0.2, "%s, level %d: %s where %s is expected", s.part, l, write(v), expected)
		}
		assert.Equal(t, strings.TrimSpace(rows[i][3]), strings.Join(got, " / "), s.part)
	}
}

// secondsOf reads a clock value in s, or a number.
func secondsOf(t *testing.T, text string) float64 {
	minutes, seconds, clock := strings.Cut(strings.TrimSpace(text), ":")
	v, err := strconv.ParseFloat(minutes, 64)
	require.NoError(t, err)
	if !clock {
		return v
	}
	s, err := strconv.ParseFloat(seconds, 64)
	require.NoError(t, err)
	return 60*v + s
}
