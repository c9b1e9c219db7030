package weeks_test

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stint.example/stint/lang/analysis/cycle"
	"stint.example/stint/lang/book"
	"stint.example/stint/lang/golden"
	"stint.example/stint/lang/internal/svgtest"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/render/svg"
	"stint.example/stint/lang/render/weeks"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
)

// cycles are those of texts, with the sessions that stand in them.
func cycles(t testing.TB, texts ...string) []*weeks.Cycle {
	t.Helper()
	var decls []*model.Decls
	var files []*syntax.File
	for i, text := range texts {
		f := syntax.Parse(source.New(fmt.Sprint(i, ".stint"), text))
		files, decls = append(files, f), append(decls, model.Declare(f))
	}
	env, _ := model.NewEnv(decls, nil)
	sessions := map[string]*model.Session{}
	var found []*model.Cycle
	for _, f := range files {
		p := model.Resolve(f, env)
		for _, s := range p.Sessions {
			sessions[book.Key(s.Name)] = s
		}
		found = append(found, p.Cycles...)
	}
	var out []*weeks.Cycle
	for _, c := range found {
		out = append(out, weeks.New(cycle.New(c, func(of *model.Cycle, week int, name, version string) *cycle.SessionAnalysis {
			if s := of.InWeek(sessions[book.Key(name)], week).InVersion(version); s != nil {
				return cycle.Of(s, env)
			}
			return nil
		}), ""))
	}
	return out
}

func tides(t testing.TB) []*weeks.Cycle {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("testdata", "tides.txt"))
	require.NoError(t, err)
	cs := cycles(t, string(text))
	require.Len(t, cs, 2)
	return cs
}

func TestCyclePictures(t *testing.T) {
	for i, c := range tides(t) {
		for _, width := range []int{svg.Phone, svg.Desktop} {
			name := filepath.Join("testdata", fmt.Sprintf("%s-%d.svg", []string{"spring-tide", "neap"}[i], width))
			golden.File(t, name, c.SVG(svg.Options{Width: width}))
		}
	}
}

// Whatever is drawn of a cycle is well formed, stands by itself and stays inside its frame,
// and its stacks are as high as what they stand for.
func TestCyclePicturesAreSound(t *testing.T) {
	all := tides(t)
	all = append(all, cycles(t, "cycle Empty\n", "cycle Begun\n  week 1\n",
		"cycle <b> & \"x\"\n  week 9999 test\n    mon Nobody\n")...)
	for _, dir := range []string{"quayside", "broken"} {
		var texts []string
		names, err := filepath.Glob(filepath.Join("..", "..", "..", "testdata", dir, "*", "*.stint"))
		require.NoError(t, err)
		for _, n := range names {
			text, err := os.ReadFile(n)
			require.NoError(t, err)
			texts = append(texts, string(text))
		}
		all = append(all, cycles(t, texts...)...)
	}
	assert.Greater(t, len(all), 6)
	for _, c := range all {
		for _, width := range []int{svg.Narrowest, svg.Phone, 700, svg.Desktop, svg.Widest} {
			picture := c.SVG(svg.Options{Width: width})
			es := svgtest.Sound(t, c.Cycle, picture, width)
			assert.Equal(t, "cycle-title cycle-desc", es[0].Attr["aria-labelledby"])
			assert.Equal(t, "Weeks of "+c.Cycle, es[1].Text)
			assert.NotContains(t, picture, "<b>")
			if t.Failed() {
				return
			}
		}
	}
}

// The heights of the stacks are to each other as the repetitions are.
func TestStacksAreToScale(t *testing.T) {
	c := tides(t)[0]
	var heights []float64
	in := ""
	for _, s := range svgtest.Parse(t, c.SVG(svg.Options{})) {
		switch {
		case s.Name == "title":
			in = s.Text
		case s.Name == "rect" && s.Parent == "g" && strings.HasPrefix(in, "Week 1:"):
			heights = append(heights, s.Number(t, "height"))
		}
	}
	require.Len(t, heights, 6, "squats, hinges, pushes, pulls, trunk, jumps")
	w := c.Weeks[0]
	var reps []float64
	for _, p := range []string{"squat", "hinge", "horizontal push", "horizontal pull", "trunk", "jump"} {
		reps = append(reps, w.Of(p).Repetitions)
	}
	assert.Equal(t, 40.0, reps[1])
	for i := range reps {
		assert.InDelta(t, reps[i]/reps[1], heights[i]/heights[1], 0.02)
	}
}

// Every kind of mark is in the golden picture, and in its legend; and a cycle whose
// sessions say nothing of how hard they are has a line of minutes.
func TestCyclePicturesHaveEveryForm(t *testing.T) {
	cs := tides(t)
	picture := cs[0].SVG(svg.Options{})
	for _, words := range []string{
		"squats and lunges", "hinges", "pushes", "pulls", "trunk and turns", "jumps", "easy week", "test week",
		"session load: how hard (0 to 10) x minutes, about",
	} {
		assert.Contains(t, picture, ">"+words+"<")
	}
	assert.Contains(t, cs[1].SVG(svg.Options{}), ">minutes, about<")
	assert.Contains(t, cs[0].Description(), "Week 2, easy: 2 sessions, about 35 minutes, 324 repetitions (60 squats and lunges, 48 hinges, 36 pushes, "+
		"60 pulls, 72 trunk and turns, 48 jumps), a session load of about 173 with a monotony of 0.63. ")
	assert.Equal(t, []string{"squat", "hinge", "horizontal push", "horizontal pull", "trunk", "jump"}, weeks.Patterns(cs[0].Weeks))
	assert.True(t, slices.ContainsFunc(cs[0].Weeks, func(w *weeks.Week) bool { return w.Load == nil && len(w.Days) > 0 }))
}
