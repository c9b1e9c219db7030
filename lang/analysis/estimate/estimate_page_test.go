package estimate_test

import (
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

var (
	worked = regexp.MustCompile(`(?m)^### (.+), part ([A-Z])$`)
	row    = regexp.MustCompile(`(?m)^\| \*\*(\w+)\*\*[^|]*\|([^|]*)\|([^|]*)\|([^|]*)\|$`)
)

// What spec/estimates.md works out by hand of the demo is what the tool says, to the second.
func TestWorkedByHand(t *testing.T) {
	page, err := os.ReadFile("../../../spec/estimates.md")
	require.NoError(t, err)
	files, env := demo(t)
	text := string(page)
	heads := worked.FindAllStringSubmatchIndex(text, -1)
	require.Len(t, heads, 3, "the parts that the page works out")
	for i, h := range heads {
		end := len(text)
		if i+1 < len(heads) {
			end = heads[i+1][0]
		}
		name, letter := text[h[2]:h[3]], text[h[4]:h[5]]
		var part *estimate.PartTime
		for _, f := range files {
			for _, s := range f.Sessions {
				if s.Name == name {
					for _, p := range estimate.Of(s, env).Parts {
						if p.Group.Letter == letter {
							part = p
						}
					}
				}
			}
		}
		require.NotNil(t, part, name)
		rows := row.FindAllStringSubmatch(text[h[0]:end], -1)
		require.Len(t, rows, 5)
		for _, r := range rows {
			for l := range 3 {
				of := part.Spent[l]
				got := map[string]float64{"moving": of.Moving, "drift": of.Drift, "changes": of.Changes, "breaks": of.Breaks, "total": part.Work.At(l)}
				number, clocked, _ := strings.Cut(strings.TrimSpace(r[2+l]), " = ")
				want, err := strconv.ParseFloat(number, 64)
				require.NoError(t, err)
				assert.InDelta(t, want, got[r[1]], 0.0051, "%s %s %s", name, letter, r[0])
				if r[1] == "total" {
					assert.Equal(t, clocked, units.FormatClock(math.Floor(got["total"]+0.5)))
				}
			}
		}
	}
}

// Every figure of the page's table is the one that the tool works with.
func TestFiguresOfThePage(t *testing.T) {
	f := estimate.FiguresOf(nil)
	h := estimate.FiguresOf(hall(t, "").House)
	f.Change, f.Break, f.Handover, f.SetUp = h.Change, h.Break, h.Handover, h.SetUp
	assert.Equal(t, [3]float64{5, 8, 12}, [3]float64{f.Change.Fast, f.Change.Typical, f.Change.Slow})
	assert.Equal(t, [3]float64{9, 13, 16}, [3]float64{f.Break.Fast, f.Break.Typical, f.Break.Slow})
	assert.Equal(t, [3]float64{2, 3, 5}, [3]float64{f.Handover.Fast, f.Handover.Typical, f.Handover.Slow})
	assert.Equal(t, [3]float64{6, 8, 10}, [3]float64{f.SetUp.Fast, f.SetUp.Typical, f.SetUp.Slow})
	assert.InDelta(t, 600*600/12000.0, f.DriftOf(600), 1e-9)
	assert.InDelta(t, 0.2*(1500-600), f.DriftOf(1500), 1e-9)
	for _, line := range f.List() {
		assert.NotEmpty(t, line.Name)
		assert.NotEmpty(t, line.Value)
		assert.NotEmpty(t, line.Source, line.Name)
	}
	assert.Zero(t, f.TempoOf("3a11"), "what is no tempo takes no time")
}
