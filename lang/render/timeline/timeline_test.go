package timeline_test

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/golden"
	"stint.example/stint/lang/internal/svgtest"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/render/svg"
	"stint.example/stint/lang/render/timeline"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
)

// read reads texts together, mistakes in them or not, and returns the timelines of their
// sessions in every version.
func read(t testing.TB, texts map[string]string) []*timeline.Clock {
	t.Helper()
	var parsed []*syntax.File
	var decls []*model.Decls
	for name, text := range texts {
		f := syntax.Parse(source.New(name, text))
		parsed = append(parsed, f)
		decls = append(decls, model.Declare(f))
	}
	env, _ := model.NewEnv(decls, nil)
	var out []*timeline.Clock
	for _, f := range parsed {
		for _, s := range model.Resolve(f, env).Sessions {
			out = append(out, timeline.NewClock(estimate.Of(s, env), env.House))
			for _, v := range s.Versions {
				out = append(out, timeline.NewClock(estimate.Of(v.Session, env), env.House))
			}
		}
	}
	return out
}

// folder reads all that is in a folder.
func folder(t testing.TB, dir string) []*timeline.Clock {
	t.Helper()
	texts := map[string]string{}
	require.NoError(t, filepath.WalkDir(dir, func(name string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() || filepath.Ext(name) != ".stint" {
			return err
		}
		text, err := os.ReadFile(name)
		texts[name] = string(text)
		return err
	}))
	return read(t, texts)
}

func harbour(t testing.TB) []*timeline.Clock {
	t.Helper()
	cs := folder(t, "testdata")
	require.Len(t, cs, 3)
	return cs
}

func TestPictures(t *testing.T) {
	for i, c := range harbour(t) {
		for _, width := range []int{svg.Phone, svg.Desktop} {
			name := filepath.Join("testdata", fmt.Sprintf("%s-%d.svg", []string{"bowline", "bowline-light", "neap"}[i], width))
			golden.File(t, name, c.SVG(svg.Options{Width: width}))
		}
	}
}

func every(t testing.TB) []*timeline.Clock {
	t.Helper()
	demo := filepath.Join("..", "..", "..", "testdata")
	return append(append(harbour(t), folder(t, filepath.Join(demo, "quayside"))...), folder(t, filepath.Join(demo, "broken"))...)
}

// Whatever is drawn is well formed, says what it is to whoever does not see it, stands by
// itself, and stays inside its frame.
func TestPicturesAreSound(t *testing.T) {
	for _, c := range every(t) {
		for _, width := range []int{svg.Narrowest, svg.Phone, 700, svg.Desktop, svg.Widest} {
			es := svgtest.Sound(t, c.Title(), c.SVG(svg.Options{Width: width}), width)
			assert.Equal(t, "clock-title clock-desc", es[0].Attr["aria-labelledby"])
			noneThroughWords(t, c.Title(), es)
			assert.Equal(t, "Timeline of "+c.Title(), es[1].Text)
			for _, p := range c.Parts {
				assert.Contains(t, es[2].Text, p.Name)
				assert.Contains(t, es[2].Text, p.WorkText())
			}
			if t.Failed() {
				return
			}
		}
	}
}

// noneThroughWords asserts that no upright line goes through a text.
func noneThroughWords(t testing.TB, title string, es []svgtest.Element) {
	t.Helper()
	for _, text := range es {
		if text.Name != "text" {
			continue
		}
		size, x, y := text.Number(t, "font-size"), text.Number(t, "x"), text.Number(t, "y")
		wide := 0.8 * svg.TextWidth(text.Text, size) // which errs on the wide side
		switch text.Attr["text-anchor"] {
		case "middle":
			x -= wide / 2
		case "end":
			x -= wide
		}
		for _, l := range es {
			if l.Name != "line" || l.Parent == "pattern" || l.Attr["x1"] != l.Attr["x2"] {
				continue
			}
			at, top, bottom := l.Number(t, "x1"), l.Number(t, "y1"), l.Number(t, "y2")
			through := at > x && at < x+wide && top < y-2 && bottom > y-0.7*size+2
			assert.False(t, through, "%s: a line at %g goes through %q", title, at, text.Text)
		}
	}
}

// A long title goes on below, and the words of the stated length stand over its line.
func TestLongTitle(t *testing.T) {
	name := "The long way round the outer harbour wall on a wet evening in the late autumn"
	c := read(t, map[string]string{"house.stint": "house Quayside Hall\n",
		"a.stint": "session " + name + "\n  length 60:00\n\npart A lasts 90:00\n  5 burpee\n"})[0]
	es := svgtest.Sound(t, name, c.SVG(svg.Options{Width: svg.Phone}), svg.Phone)
	noneThroughWords(t, name, es)
	var bold []string
	var words, line float64
	for _, e := range es {
		switch {
		case e.Attr["font-weight"] == "bold" && e.Attr["font-size"] == "22":
			bold = append(bold, e.Text)
		case e.Text == "60:00 stated":
			words = e.Number(t, "x")
		case e.Name == "line" && e.Attr["stroke-width"] == "1.2":
			line = e.Number(t, "x1")
		}
	}
	assert.Greater(t, len(bold), 1)
	assert.Equal(t, name, strings.Join(bold, " "))
	assert.InDelta(t, line, words, 2)
}

// Names and notes cannot break out of their place, whatever stands in them.
func TestTextsAreEscaped(t *testing.T) {
	name := "Ebb </title><script>alert(1)</script> & \"x\" \u202e]]>"
	c := read(t, map[string]string{"house.stint": "house Quayside Hall\n", "a.stint": "session Ebb\n\npart A\n  10 burpee\n"})[0]
	c.Session = name
	c.Parts[0].Name = "part <A> \x00\x1b&"
	picture := c.SVG(svg.Options{ID: `a"b`})
	ss := svgtest.Parse(t, picture)
	assert.NotContains(t, picture, "<script")
	assert.NotContains(t, picture, "\u202e", "nothing turns a line round")
	assert.Equal(t, `Timeline of Ebb </title><script>alert(1)</script> & "x" ]]>, as written`, ss[1].Text)
	assert.Equal(t, `a"b-title`, ss[1].Attr["id"])
	found := false
	for _, s := range ss {
		found = found || s.Name == "text" && s.Text == "part <A> &"
	}
	assert.True(t, found)
}

// Two pictures on one page have names of their own.
func TestPicturesShareAPage(t *testing.T) {
	c := harbour(t)[0]
	one, two := map[string]bool{}, c.SVG(svg.Options{ID: "second"})
	for _, s := range svgtest.Parse(t, c.SVG(svg.Options{})) {
		one[s.Attr["id"]] = s.Attr["id"] != ""
	}
	for _, s := range svgtest.Parse(t, two) {
		assert.False(t, one[s.Attr["id"]], s.Attr["id"])
	}
	assert.Equal(t, c.SVG(svg.Options{Width: svg.Desktop}), c.SVG(svg.Options{}))
	assert.Equal(t, c.SVG(svg.Options{Width: svg.Narrowest}), c.SVG(svg.Options{Width: -1}))
}

// Every kind of mark is in one of the golden pictures, and in its legend.
func TestPicturesHaveEveryForm(t *testing.T) {
	all := ""
	for _, c := range harbour(t) {
		all += c.SVG(svg.Options{})
	}
	for _, words := range []string{
		"work, all are at it", "work with rests in it", "from when the fast are done to the typical",
		"from the typical to the slow", "rest inside its time", "cut off by the cap", "rest until the next part",
		"start by the clock", "start of the next part", "not proven: it may go on", "stated length",
	} {
		assert.Contains(t, all, ">"+words+"<")
	}
}

// The pieces of a time add up to it, in every session and version.
func TestSumsAddUp(t *testing.T) {
	cs := every(t)
	doc := timeline.NewClocks(cs, true)
	assert.NotEmpty(t, doc.Figures)
	assert.NotEmpty(t, doc.Paces)
	for _, c := range cs {
		for _, p := range c.Parts {
			require.Len(t, p.Spent, 3)
			for l, s := range p.Spent {
				assert.Equal(t, timeline.LevelNames[l], s.Level)
				sum := s.Moving + s.Drift + s.Changes + s.SetUps + s.Breaks + s.Handovers + s.Fixed + s.Rest - s.Over
				assert.InDelta(t, s.Total, sum, 0.05, "%s %s", c.Title(), p.Name)
				assert.InDelta(t, p.Work.At(l), s.Total, 1.1, "%s %s", c.Title(), p.Name)
			}
		}
	}
}

func TestSum(t *testing.T) {
	assert.Equal(t, "moving 335.6 + drift 9.4 + 9 changes 72.0 + breaks 0 = 417.0",
		timeline.Spent{Moving: 335.6, Drift: 9.39, Changes: 72, ChangeCount: 9, Total: 416.99}.Sum())
	assert.Equal(t, "moving 10.0 + drift 0 + 1 change 8.0 + breaks 5.0 + handovers 3.0 + fixed 60.0 + rest 4.0 - over the interval 2.0 = 88.0",
		timeline.Spent{Moving: 10, Drift: 0.01, Changes: 8, ChangeCount: 1, Breaks: 5, Handovers: 3, Fixed: 60, Rest: 4, Over: 2, Total: 88.01}.Sum())
	assert.Equal(t, "moving 0 + drift 0 + changes 0 + breaks 0 = 0", timeline.Spent{}.Sum())
}

func TestShareText(t *testing.T) {
	for _, c := range []struct {
		share estimate.ClassShare
		want  string
	}{
		{estimate.ClassShare{Of: 0.176, Low: 0.13, High: 0.24, Class: 16}, "about 3 of 16 (2 to 4)"},
		{estimate.ClassShare{Of: 0.06, Low: 0.06, High: 0.06, Class: 16}, "about 1 of 16"},
		{estimate.ClassShare{Of: 0.1, Low: 0.06, High: 0.09, Class: 16}, "about 2 of 16 (1)"},
		{estimate.ClassShare{Of: estimate.Quickest, Low: 0.02, High: 0.09, Class: 16}, "hardly anyone"},
		{estimate.ClassShare{Of: estimate.Slowest, Low: 0.9, High: 0.98, Class: 16}, "nearly everyone"},
		{estimate.ClassShare{Of: 0.03, Low: 0.02, High: 0.06, Class: 16}, "hardly anyone (0 to 1 of 16)"},
		{estimate.ClassShare{Of: 0.97, Low: 0.92, High: 0.98, Class: 16}, "nearly everyone (15 to 16 of 16)"},
		{estimate.ClassShare{Of: 0.176, Low: 0.129, High: 0.244}, "about 18% of the class (13% to 24%)"},
		{estimate.ClassShare{Of: 0.4, Low: 0.2, High: 0.6, Class: 5, Able: true}, "about 2 of the 5 who can do it (1 to 3)"},
		{estimate.ClassShare{Of: 0.4, Low: 0.2, High: 0.6, Able: true}, "about 40% of those who can do it (20% to 60%)"},
		{estimate.ClassShare{Of: estimate.Quickest, Class: 5, Able: true}, "hardly anyone who can do it"},
	} {
		assert.Equal(t, c.want, c.share.Text())
	}
}

func TestLengthSays(t *testing.T) {
	hour := 3600.0
	for _, c := range []struct {
		l    timeline.Length
		want string
	}{
		{timeline.Length{Taken: 3461, Settled: true, Stated: &hour}, "57:41 of the 60:00 stated, 2:19 to spare"},
		{timeline.Length{Taken: 3600, Settled: true, Stated: &hour}, "60:00 of the 60:00 stated, to the second"},
		{timeline.Length{Taken: 3790.4, Settled: true, Stated: &hour}, "63:10 of the 60:00 stated, 3:10 too long"},
		{timeline.Length{Taken: 3000, Stated: &hour}, "at least 50:00 of the 60:00 stated, not proven"},
		{timeline.Length{Taken: 3700, Stated: &hour}, "at least 61:40 of the 60:00 stated, 1:40 too long"},
		{timeline.Length{Taken: 100, Settled: true}, "1:40"},
	} {
		assert.Equal(t, c.want, c.l.Text())
	}
}

// says is all that is said of a session's parts.
func says(c *timeline.Clock) map[string][]string {
	out := map[string][]string{}
	for _, p := range c.Parts {
		out[p.Name] = append([]string{p.How}, p.Remarks()...)
	}
	return out
}

// What is asked of a part comes from its own words, the session or the house, and each in
// its place. With the caps of estimates.md, 9:00 and 11:00, the shares are those.
func TestLimits(t *testing.T) {
	house := "house Quayside Hall\n  class 16\n  rest between parts at least 1:00\n"
	of := func(parts string) map[string][]string {
		return says(read(t, map[string]string{"house.stint": house, "a.stint": "session Anchor Bend\n\n" + parts})[0])
	}
	piece := "\n  400 m run\n  3 rounds\n    12 kettlebell swing\n    8 burpee\n    16 air squat\n"
	b := of("part B at 0:00 for time, cap 9:00" + piece + "  rest at least 1:30\n\npart C at 11:00\n  1:00 plank\n")["part B"]
	assert.Equal(t, []string{"for time, cap 9:00", "cap 9:00: about 3 of 16 (2 to 4) would miss it",
		"1:30 of rest before part C at 11:00: hardly anyone would get less"}, b)
	b = of("part B at 0:00 for time" + piece + "  rest at least 1:30\n\npart C at 10:00\n  1:00 plank\n")["part B"]
	assert.Equal(t, []string{"for time", "part C at 10:00: about 2 of 16 (1 to 3) would still be at part B",
		"1:30 of rest before part C at 10:00: about 4 of 16 (2 to 5) would get less"}, b)
	b = of("part B at 0:00 for time" + piece + "\npart C at 10:00\n  1:00 plank\n")["part B"]
	assert.Contains(t, b, "1:00 of rest before part C at 10:00: about 3 of 16 (2 to 4) would get less")
	b = of("part B at 0:00 for time" + piece + "\ncool-down\n  1:00 plank\n")["part B"]
	assert.Equal(t, []string{"for time"}, b, "the cool-down waits for all")
	b = of("part A every 2:30 x 5\n  effort 80-90%\n  10 thruster\n  12 cal row\n  rest at least 0:30\n")["part A"]
	assert.Equal(t, "every 2:30 x 5", b[0])
	assert.Contains(t, b, "the longest turn takes 1:12 / 1:52 / 2:46 (turn 5), which leaves 1:18 (fast) and 0:38 (typical), and is 0:16 too long (slow)")
	assert.Contains(t, b, "every 2:30: about 3 of 16 (2 to 4) would run over it")
	b = of("part A amrap 12:00\n  200 m row\n  10 push-up\n  12 step-up\n  8 ring row\n  aim 5-6 rounds\n")["part A"]
	assert.Equal(t, []string{"amrap 12:00", "6 rounds, 200 m row, 10 push-up, 1 step-up fast; 5 rounds typical; 3 rounds, 169 m row slow"}, b[:2])
	assert.Contains(t, b[2], "aim of 5 rounds: about ")
	b = of("part A cap 5:00\n  max burpee\n")["part A"]
	assert.NotContains(t, strings.Join(b, "\n"), "miss it", "a cap that is a window has nobody who misses it")
	assert.Contains(t, b[1], " burpee")
}

// What is not known is named, with the words that need it, and nothing is proven by it.
func TestNotProven(t *testing.T) {
	c := harbour(t)[2]
	require.Equal(t, "Neap", c.Session)
	got := says(c)
	assert.Contains(t, got["part A"], "cap 6:00: nearly everyone would miss it")
	assert.Contains(t, got["part B"], `not proven, because of "barnacle hop": no book has a movement barnacle hop`)
	assert.Contains(t, strings.Join(got["part C"], "\n"),
		`not proven, because of "rest as needed": rest as needed has no length; to mend it, write how long`)
	b := c.Parts[1]
	assert.True(t, strings.HasPrefix(b.WorkText(), "at least "))
	assert.Equal(t, "not proven", b.LeftText())
	assert.False(t, c.Length.Settled)
	held := read(t, map[string]string{"house.stint": "house Quayside Hall\n",
		"a.stint": "session Ebb\n\npart A lasts 10:00\n  5 burpee\n  rest as needed\n  5 burpee\n\n" +
			"part B at 12:00\n  5 burpee\n"})[0]
	assert.Contains(t, strings.Join(says(held)["part A"], "\n"), `not proven inside its window, because of "rest as needed"`)
	assert.Equal(t, "2:00", held.Parts[0].LeftText())
}

// A clock that is started twice shows one time twice, and the axis says so.
func TestTwoClocks(t *testing.T) {
	c := read(t, map[string]string{"house.stint": "house Quayside Hall\n",
		"a.stint": "session Ebb\n\npart A at 0:00 lasts 10:00\n  5 burpee\n\n" +
			"part B at 0:00 lasts 5:00\n  5 burpee\n"})[0]
	picture := c.SVG(svg.Options{})
	assert.Contains(t, picture, "minutes since the session began")
	assert.Equal(t, 600.0, c.Parts[1].Began)
	assert.Contains(t, harbour(t)[0].SVG(svg.Options{}), "minutes on the clock")
}

func FuzzPicture(f *testing.F) {
	f.Add("part A at 0:00 for time, cap 9:00\n  400 m run\n", 360)
	f.Add("part A every 1:00 x 12\n  max burpee\n\npart B\n  rest as needed\n", 1200)
	f.Add("warm-up lasts 5:00\n  1:00 row\n\npart A amrap 1000000:00\n  1 burpee\n", 400)
	f.Fuzz(func(t *testing.T, parts string, width int) {
		if len(parts) > 2000 {
			t.Skip()
		}
		for _, c := range read(t, map[string]string{"a.stint": "session Ebb\n\n" + parts}) {
			svgtest.Parse(t, c.SVG(svg.Options{Width: width}))
		}
	})
}
