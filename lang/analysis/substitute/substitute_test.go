package substitute

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/format"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
)

const hall = `stint 1

house Quayside Hall
  scaling home > Nothing but a loaded bag.
    has loaded bag
    band pull-apart -> prone pull
  scaling bare
    has nothing
  scaling shed from home
  scaling round from round
  scaling light
`

func made(t *testing.T, lines string) (*model.Env, *model.Session) {
	t.Helper()
	house := model.Declare(syntax.Parse(source.New("house.stint", hall)))
	f := syntax.Parse(source.New("a.stint", "session A\n\n"+lines+"\n"))
	env, _ := model.NewEnv([]*model.Decls{house, model.Declare(f)}, nil)
	r := model.Resolve(f, env)
	require.Empty(t, r.Diags)
	require.Len(t, r.Sessions, 1)
	return env, r.Sessions[0]
}

// What a coach would write, line by line.
func TestSwaps(t *testing.T) {
	for _, c := range []struct{ name, session, version, want string }{
		{"the same count where it takes about as long", "part A\n  12 kettlebell swing @ 24/16 kg", "home", "kettlebell swing -> bag swing"},
		{"another where it does not", "part A\n  20 wall ball @ 9/6 kg", "home", "wall ball -> 16 bag thruster"},
		{"but nobody times a warm-up", "warm-up\n  20 wall ball @ 9/6 kg", "home", "wall ball -> bag thruster"},
		{"nor multiplies landings", "part A\n  10 box jump @ 60/50 cm", "home", "box jump -> squat jump"},
		{"metres by what takes as long", "part A\n  500 m row\n  2000 m row", "home", "500 m row -> 450 m run\n2000 m row -> 1700 m run"},
		{"calories as one distance", "part A\n  12/10 cal ski", "home", "ski -> 200 m run"},
		{"as many as possible in repetitions", "part A on 0:45 off 0:15 x 4\n  max cal ski", "home", "ski -> max run in place"},
		{"a time stays", "part A\n  3:00 row", "home", "row -> run"},
		{"a hold for what is counted", "part A\n  20 shrug @ 2x15/10 kg", "home", "shrug -> 0:30 bag front hold"},
		{"a heavy set slower and longer", "part A\n  5 x 5 back squat @ 80%, rest 2:00", "home", "back squat -> 12 bag squat, tempo 31X1, rest 1:30"},
		{"its own tempo stays", "part A every 3:00 x 4\n  3 front squat @ 80%, tempo 30X1", "home", "front squat -> 12 bag front squat, tempo 30X1"},
		{"nobody lowers a clean slowly", "part A every 2:00 x 5\n  2 power clean @ 80%", "home", "power clean -> 12 bag clean"},
		{"a range stays one", "part A\n  4 x 6-8 bench press @ 70%, rest 1:30", "home", "bench press -> 10-12 bag floor press"},
		{"the way up is no heavy set", "part A\n  5 front squat @ 50%\n  3 x 5 front squat @ 80%, rest 1:30", "home",
			"3 x 5 front squat -> 3 x 12 bag front squat, tempo 31X1\nfront squat -> bag front squat"},
		{"a complex by one movement", "part A\n  1 power clean + 1 push jerk @ 65% of clean", "home", "power clean + push jerk -> 3 bag clean and press"},
		{"each part its own", "warm-up\n  3 front squat @ 60%\npart A\n  3 front squat @ 80%", "home",
			"part A: 3 front squat -> 12 bag front squat, tempo 31X1\nfront squat -> bag front squat"},
		{"one side of a bag", "part A\n  8/side single-arm row @ 22.5/15 kg", "home", "single-arm row -> bag row > One side at a time."},
		{"in turn", "part A\n  16 step-over, alternating", "home", "step-over -> 22 reverse lunge, alternating"},
		{"nothing at all", "part A\n  12 kettlebell swing @ 24/16 kg\n  10 bag row", "bare", "kettlebell swing -> 9 good morning\nbag row -> prone pull"},
		{"kit on top", "part A\n  20 push-up, with vest @ 9/6 kg", "home", "with vest @ 9/6 kg -> nothing"},
		{"the house's swaps stay out", "warm-up\n  10 band pull-apart\npart A\n  10 ring row", "home", "ring row -> bag row"},
		{"so do the session's", "part A\n  10 ring row\n  8 dip\n\nscaling home\n  ring row -> prone pull", "home", "dip -> close-grip push-up"},
		{"a choice needs one", "part A\n  400 m row or run\n  400 m row or ski", "home", "row or ski -> 350 m run"},
		{"what starts from another has its kit", "part A\n  10 ring row", "shed", "ring row -> bag row"},
		{"a series is kept", "part A 3 rounds\n  12-9-6 kettlebell swing @ 24/16 kg", "home", "kettlebell swing -> bag swing"},
		{"up to a heaviest", "part A at 0:00 for load, lasts 15:00\n  1 deadlift", "home", "part A -> lasts 15:00\n  5 x 12 bag deadlift, tempo 31X1, rest 1:30"},
		{"sets that a head counts", "part A\n  4 x 5-5-3-3 strict press @ rising, rest 2:00", "home", "part A ->\n  4 x 12 bag press, tempo 31X1, rest 1:30"},
	} {
		t.Run(c.name, func(t *testing.T) {
			env, s := made(t, c.session)
			swaps, left := Replacements(env, s, c.version)
			assert.Empty(t, left)
			assert.Equal(t, c.want, strings.Join(Lines(swaps), "\n"))
			text := "session A\n" + Block(c.version, swaps) + "\n"
			assert.Equal(t, text, format.Source(syntax.Parse(source.New("a.stint", text))))
		})
	}
}

// What the book has nothing for is not made up.
func TestSwapsLeave(t *testing.T) {
	for _, c := range []struct{ name, session, version string }{
		{"a carry without a thing to carry", "part A\n  40 m bag carry", "bare"},
		{"calories that a head counts", "part A ladder 21-15-9 cal\n  row", "home"},
		{"a part that the scaling writes anew", "part A\n  10 burpee\n\nscaling home\n  part A ->\n    10 ring row", "home"},
		{"what the scaling swaps for other kit", "part A\n  10 ring row\n\nscaling home\n  ring row -> inverted row", "home"},
	} {
		t.Run(c.name, func(t *testing.T) {
			env, s := made(t, c.session)
			swaps, left := Replacements(env, s, c.version)
			assert.Empty(t, swaps)
			assert.Len(t, left, 1)
		})
	}
	for _, version := range []string{"light", "round", "nowhere"} {
		env, s := made(t, "part A\n  10 ring row")
		swaps, left := Replacements(env, s, version)
		assert.Empty(t, swaps, "nobody says what %s has", version)
		assert.Empty(t, left)
	}
}

// Whatever a movement needs, members with a bag are sent to one of its pattern or nowhere,
// and never to one that needs more.
func TestChoicesKeepThePattern(t *testing.T) {
	env, _ := model.NewEnv(nil, nil)
	chosen := 0
	for _, m := range book.Builtin().Movements() {
		to := choose(env, m, []string{"loaded bag"}, "rep", false)
		if m.Main() == "" || to == nil {
			continue
		}
		chosen++
		assert.Empty(t, missing(env, []string{"loaded bag"}, to.Ways()), "%s -> %s", m.Name, to.Name)
		assert.Less(t, nearness(m, to), other, "%s -> %s", m.Name, to.Name)
		assert.NotEqual(t, m, to)
	}
	assert.Greater(t, chosen, 250)
}
