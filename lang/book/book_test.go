package book

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
)

func TestBuiltinLoads(t *testing.T) {
	b, ds := load()
	for _, d := range ds {
		t.Errorf("%s %v: %s", d.At.File.Name, d.At.File.Position(d.At.Start), d.Message)
	}
	assert.GreaterOrEqual(t, len(b.Movements()), 150)
	by := map[Pattern]int{}
	for _, m := range b.Movements() {
		by[m.Main()]++
	}
	for _, p := range Patterns {
		assert.Positive(t, by[p], "no movement chiefly trains %s", p)
	}
}

// What a coach is promised of every movement.
func TestEveryMovementIsBriefed(t *testing.T) {
	for _, m := range Builtin().Movements() {
		duty := m.Main() == ""
		assert.NotEmpty(t, m.SetUp, "%s: set-up", m.Name)
		assert.NotEmpty(t, m.Standard, "%s: standard", m.Name)
		assert.NotEmpty(t, m.Cues, "%s: cue", m.Name)
		assert.NotEmpty(t, m.Faults, "%s: fault", m.Name)
		if !duty && m.Main() != Mobility {
			assert.True(t, len(m.Paces) > 0 || m.Unbroken != nil, "%s has neither a pace nor a hold", m.Name)
		}
		for _, p := range m.Paces {
			assert.True(t, sourced(p.Source), "%s: the pace's note %q does not say where it comes from", m.Name, p.Source)
		}
		if m.Unbroken != nil {
			assert.True(t, sourced(m.Unbroken.Source), "%s: unbroken: %q", m.Name, m.Unbroken.Source)
		}
	}
}

// Whoever cannot do a movement yet is sent to an easier one; these are where that ends.
func TestEveryMovementHasAnEasierForm(t *testing.T) {
	simplest := []string{"glute bridge", "hip hinge drill", "band press", "ankle pump", "ankle rock", "belly breathing",
		"shoulder stretch", "tandem stand", "sit-to-stand", "dead bug"}
	for _, m := range Builtin().Movements() {
		if m.Main() != "" {
			assert.Equal(t, slices.Contains(simplest, m.Name), len(m.Easier) == 0, "%s: easier %v", m.Name, m.Easier)
		}
	}
}

// What is lifted to a maximum, and what goes overhead, says what can hurt.
func TestHeavyMovementsHaveACaution(t *testing.T) {
	for _, m := range Builtin().Movements() {
		if m.Best == BestLoad || slices.Contains(m.Trains, VerticalPush) && len(m.Needs) > 0 {
			assert.NotEmpty(t, m.Cautions, m.Name)
		}
	}
}

func sourced(note string) bool {
	return slices.ContainsFunc([]string{"study:", "cadence:", "common practice, no source", "no source"},
		func(s string) bool { return strings.HasPrefix(note, s) })
}

// A name that started with a keyword, or ended in a clause, could not be written in a
// part.
func TestNamesCanBeWritten(t *testing.T) {
	for _, m := range Builtin().Movements() {
		for _, n := range append([]string{m.Name}, m.Also...) {
			first, _, _ := strings.Cut(n, " ")
			assert.NotContains(t, syntax.GroupWords(), first, n)
			f := syntax.Parse(source.New("x", "session X\npart A\n  12 "+n+"\n"))
			require.Empty(t, f.Diags, n)
			it := f.Roots[1].Kids[0].Line.Stmt.(*syntax.Item)
			assert.Equal(t, n, it.Moves[0].Name.Text)
		}
	}
}

// Who goes to the easier form of the easier form must not come back.
func TestEasierFormsEnd(t *testing.T) {
	b := Builtin()
	for _, m := range b.Movements() {
		for _, e := range m.Easier {
			assert.NotContains(t, m.Harder, e, "%s: %s is easier and harder", m.Name, e)
		}
		var walk func(n string, seen []string)
		walk = func(n string, seen []string) {
			if slices.Contains(seen, n) {
				t.Fatalf("easier forms go round: %s", strings.Join(append(seen, n), " -> "))
			}
			m, _ := b.Lookup(n)
			for _, e := range m.Easier {
				walk(e, append(slices.Clip(seen), n))
			}
		}
		walk(m.Name, nil)
	}
}

// Members at home have a loaded bag at most: whatever needs more has a form for them.
func TestEveryMovementCanBeDoneAtHome(t *testing.T) {
	b := Builtin()
	home := func(m *Movement) bool {
		return !slices.ContainsFunc(m.Needs, func(k string) bool { return k != "loaded bag" })
	}
	for _, m := range b.Movements() {
		if home(m) {
			continue
		}
		assert.True(t, slices.ContainsFunc(m.Instead, func(n string) bool {
			o, _ := b.Lookup(n)
			return o != nil && home(o)
		}), "%s needs %v, and none of %v can be done at home", m.Name, m.Needs, m.Instead)
	}
}

func TestLookup(t *testing.T) {
	b := Builtin()
	for written, want := range map[string]string{
		"push-up": "push-up", "Push Up": "push-up", "pushups": "push-up", "PUSH-UPS": "push-up",
		"kettlebell swings": "kettlebell swing", "lunges": "lunge", "clean and jerks": "clean and jerk",
		"cleans and jerk": "clean and jerk", "childs pose": "child's pose", "burpees": "burpee", "bench presses": "bench press",
	} {
		m, _ := b.Lookup(written)
		if assert.NotNil(t, m, written) {
			assert.Equal(t, want, m.Name, written)
		}
	}
	m, claims := b.Lookup("squat")
	assert.Nil(t, m, "squat is said of several")
	assert.Greater(t, len(claims), 1)
	m, _ = b.Lookup("row")
	assert.Equal(t, "row", m.Name, "row is the machine")
	m, claims = b.Lookup("kettelbell swing")
	assert.Nil(t, m, "nothing is guessed")
	assert.Empty(t, claims)
	assert.Equal(t, "kettlebell swing", b.Near("kettelbell swing", 3)[0])
	assert.Contains(t, b.Near("swing with a kettlebell", 3), "kettlebell swing")
}

// Published figures against the book's paces. A test's cadence or an all-out count is
// not the pace of a mixed piece; it has to lie where the book's fast to slow members
// are, which is what each row asserts.
func TestPacesAgainstPublishedFigures(t *testing.T) {
	for _, row := range []struct {
		movement, per string
		seconds       float64
		source        string
	}{
		{"burpee", "rep", 180 / 56.69, "Podstawski et al., J Hum Kinet 2019;69:137-147, men, 3 min"},
		{"burpee", "rep", 180 / 48.84, "Podstawski et al., J Hum Kinet 2019;69:137-147, women, 3 min"},
		{"kettlebell swing", "rep", 60 / 36.75, "Vencel, Univ. of Dayton thesis poster, sets of 20 unbroken"},
		{"kettlebell swing", "rep", 60 / 37.08, "Vencel, Univ. of Dayton thesis poster, sets of 60 unbroken"},
		{"air squat", "rep", 45.0 / 30, "Ruffier 1950: 30 squats in 45 s"},
		{"push-up", "rep", 60.0 / 40, "80-beat push-up test, 40 a minute"},
		{"strict pull-up", "rep", 60.0 / 15, "Royal Marines potential-recruit test, 15 a minute"},
		{"sit-up", "rep", 60.0 / 36, "ACSM Guidelines, 1 min, 50th percentile of men 30-39"},
		{"sit-up", "rep", 60.0 / 31, "ACSM Guidelines, 1 min, 50th percentile of men 40-49"},
		{"step-up", "rep", 60.0 / 24, "YMCA and Queens College step tests, 24 cycles a minute"},
		{"step-up", "rep", 60.0 / 30, "Harvard step test, 30 cycles a minute (Brouha 1943, from memory)"},
		{"single skip", "rep", 60.0 / 120, "Compendium of Physical Activities, 15551/15550: 120 skips a minute"},
		{"single skip", "rep", 60.0 / 100, "Compendium of Physical Activities, 15552/15551: 100 skips a minute"},
		{"march in place", "rep", 60.0 / 100, "Bellissimo et al., Front Physiol 2022;13:824154, 100 steps a minute"},
		{"bench press", "rep", 60.0 / 30, "YMCA bench press test, 30 a minute"},
		{"sit-to-stand", "rep", 60.0 / 24, "Compendium 2024, 02344: brisk, up to 24 a minute"},
		{"run", "m", 90.0 / 400, "lore: 400 m in 90-150 s; common practice, no source"},
		{"row", "m", 0.250, "2:05 a 500 m; lore: 250 m in 55-75 s; common practice, no source"},
	} {
		m, _ := Builtin().Lookup(row.movement)
		require.NotNil(t, m, row.movement)
		p, ok := m.Pace(row.per)
		require.True(t, ok, "%s has no pace per %s", row.movement, row.per)
		// A tenth on either side: the fast and slow are percentiles, not limits.
		assert.LessOrEqual(t, p.Fast*0.9, row.seconds, "%s is slower in the book: %s", row.movement, row.source)
		assert.GreaterOrEqual(t, p.Slow*1.1, row.seconds, "%s is faster in the book: %s", row.movement, row.source)
	}
}

// Schoenfeld, Ogborn, Krieger, Sports Med 2015;45:577-585 (as quoted): repetitions of
// 0.5 to 8 s give like growth. So that is the window of a plausible strength repetition.
func TestStrengthRepetitionsArePlausible(t *testing.T) {
	strength := []Pattern{Squat, Hinge, Lunge, HorizontalPush, VerticalPush, HorizontalPull, VerticalPull, Trunk, Rotation}
	long := []string{"rope climb", "get-up", "wall walk", "clean and jerk", "ring muscle-up", "bar muscle-up", "pull-up negative", "burpee pull-up", "rope wave", "legless rope climb"} // more than one lift, or slow by design
	for _, m := range Builtin().Movements() {
		p, ok := m.Pace("rep")
		if !ok || !slices.Contains(strength, m.Main()) || slices.Contains(long, m.Name) {
			continue
		}
		assert.True(t, p.Fast >= 0.4 && p.Slow <= 8, "%s: %g-%g s a repetition", m.Name, p.Fast, p.Slow)
	}
}

// The patterns are a pure coarsening onto the five of the American Council on Exercise:
// each goes to one of them or to none, and the five are all reached.
func TestPatternsCoarsen(t *testing.T) {
	reached := map[string]bool{}
	for _, p := range Patterns {
		reached[p.Coarse()] = true
	}
	assert.Equal(t, map[string]bool{"bend and lift": true, "single leg": true, "push": true, "pull": true, "rotation": true, "": true}, reached)
	assert.Equal(t, Pattern(Squat).Coarse(), Pattern(Hinge).Coarse())
	assert.Empty(t, Pattern(Carry).Coarse())
}

func read(t *testing.T, text string) ([]*Movement, []string) {
	t.Helper()
	ms, ds := Read(syntax.Parse(source.New("m.stint", text)))
	var out []string
	for _, d := range ds {
		out = append(out, d.Rule+": "+d.Message)
	}
	return ms, out
}

func TestOwnMovements(t *testing.T) {
	ms, ds := read(t, `
movement quay run
  trains run
  pace 0.2 / 0.3 / 0.4 s per m > no source

movement Burpee
  pace 2 / 3 / 4 s per rep > our own clock
`)
	require.Empty(t, ds)
	b, taken := Builtin().With(ms)
	require.Empty(t, taken)
	m, _ := b.Lookup("quay runs")
	assert.Equal(t, "quay run", m.Name)
	m, _ = b.Lookup("burpee")
	p, _ := m.Pace("rep")
	assert.Equal(t, 3.0, p.Typical, "its own pace")
	assert.NotEmpty(t, m.Standard, "the book's standard stays")
	old, _ := Builtin().Lookup("burpee")
	p, _ = old.Pace("rep")
	assert.Equal(t, 3.4, p.Typical, "the built-in book is not changed")
}

func TestFiguresThatCannotBe(t *testing.T) {
	for text, want := range map[string]string{
		"movement a\n  trains run\n  pace 3 / 2 / 4 s per rep": "figures-wrong: the pace of a does not rise",
		"movement a\n  trains run\n  pace 0 / 2 / 4 s per rep": "figures-wrong: a has a pace of 0 s",
		"movement a\n  trains run\n  pace 1 / 2 / 5 s per rep": "figures-wrong: the slow pace of a is 5.0 times",
		"movement a\n  trains run\n  unbroken 3 / 2 / 0.5":     "figures-wrong: a is unbroken for 0.5",
		"movement a\n  trains run\n  unbroken 3 / 4 / 2":       "figures-wrong: the unbroken counts of a do not fall",
		"movement a\n  trains squatting":                       "pattern-unknown: \"squatting\" is no pattern",
		"movement a\n  needs box\n  needs mat":                 "property-twice: a has a line \"needs\" already",
		"movement a\n  best shirt":                             "word-unknown: \"shirt\" is nothing",
	} {
		_, ds := read(t, text)
		if assert.Len(t, ds, 1, text) {
			assert.True(t, strings.HasPrefix(ds[0], want), "%q is not %q", ds[0], want)
		}
	}
}

func TestTwoOfOneName(t *testing.T) {
	ms, _ := read(t, "movement quay run\n  trains run\n\nmovement quay-run\n  trains run\n\nmovement pier run\n  also burpee\n")
	_, ds := Builtin().With(ms)
	require.Len(t, ds, 2)
	assert.Contains(t, ds[0].Message, "quay-run is called by a name that quay run has already")
	assert.Contains(t, ds[1].Message, "pier run is called by a name that burpee has already")
}
