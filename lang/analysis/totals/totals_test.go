package totals_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"stint.example/stint/lang/analysis/totals"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/units"
)

// tiers are those of the house that stands behind every house: full and lesser.
const tiers = 2

// session reads the parts of a session that has nothing wrong with it.
func session(t rapid.TB, parts string) *model.Session {
	t.Helper()
	f := syntax.Parse(source.New("bowline.stint", "session Bowline\n\n"+parts))
	require.Empty(t, f.Diags, parts)
	env, ds := model.NewEnv(nil, nil)
	require.Empty(t, ds)
	p := model.Resolve(f, env)
	require.Empty(t, p.Diags, parts)
	require.Len(t, p.Sessions, 1)
	return p.Sessions[0]
}

func sumsOf(t rapid.TB, parts string) *totals.Totals {
	t.Helper()
	return totals.OfSession(session(t, parts), tiers)
}

func exactly(v float64) totals.Sum { return totals.Sum{Lo: v, Hi: v} }

// Published facts of arithmetic, by their row of the project's list of test vectors.
func TestKnownSums(t *testing.T) {
	// T01: 21-15-9 of two movements are 90 repetitions.
	tot := sumsOf(t, "part A ladder 21-15-9 for time\n  thruster @ 40/30 kg\n  ring row\n")
	assert.Equal(t, []totals.Sum{exactly(90), exactly(90)}, tot.All("rep").Tiers)
	row, ok := tot.Row("ring row", "rep")
	assert.True(t, ok)
	assert.Equal(t, exactly(45), row.Tiers[0])

	// T02: a ladder from n down to 1 sums to n(n+1)/2; 10 down to 1 is 55. It is the sum of
	// an arithmetic progression.
	for n := 3; n <= 60; n++ {
		want := exactly(float64(n * (n + 1) / 2))
		for _, ladder := range []string{fmt.Sprintf("%d-%d-...-1", n, n-1), fmt.Sprintf("1 to %d", n), fmt.Sprintf("%d to 1", n)} {
			tot := sumsOf(t, "part A ladder "+ladder+"\n  burpee\n")
			assert.Equal(t, want, tot.All("rep").Tiers[0], ladder)
		}
	}

	// T03: up to n and down again sums to n squared; 1 to 10 to 1 is 100. It is the sum of
	// two ladders, n(n+1)/2 and (n-1)n/2.
	for n := 3; n <= 40; n++ {
		ladder := fmt.Sprintf("1-2-...-%d-%d-...-1", n, n-1)
		tot := sumsOf(t, "part A ladder "+ladder+"\n  burpee\n")
		assert.Equal(t, exactly(float64(n*n)), tot.All("rep").Tiers[0], ladder)
	}

	// T08: half a minute of work and a minute of rest are 1 to 2.
	g := session(t, "part A on 0:30 off 1:00 x 6\n  max burpee\n").Parts[0]
	assert.Equal(t, 2*seconds(t, g.Repeat.On), seconds(t, g.Repeat.Off))

	// T09: twenty seconds of work and ten of rest, eight times, are four minutes with 160 s of
	// work, 2 to 1.
	g = session(t, "part A on 0:20 off 0:10 x 8\n  plank\n").Parts[0]
	whole, known := totals.Whole(g, 0)
	assert.True(t, known)
	assert.Equal(t, "4:00", units.FormatClock(whole))
	assert.Equal(t, exactly(160), totals.OfGroup(g, tiers).All("s").Tiers[0])
	assert.Equal(t, seconds(t, g.Repeat.On), 2*seconds(t, g.Repeat.Off))
}

func seconds(t rapid.TB, q *model.Quantity) int {
	t.Helper()
	v, ok := q.One()
	require.True(t, ok)
	return int(v)
}

// How long a group is by what its head says. All of it is arithmetic: intervals times
// their number.
func TestWhole(t *testing.T) {
	for head, want := range map[string]string{
		"amrap 9:00":                          "9:00",
		"for load, lasts 15:00":               "15:00",
		"emom 12:00":                          "12:00",
		"every 2:30 x 5":                      "12:30",
		"every 2:00-1:30-1:00 x 3":            "4:30",
		"every 1:30 x 2 rounds":               "6:00", // two slots
		"on 0:40 off 0:20 x 6":                "6:00",
		"on 1:00 x 6":                         "6:00",
		"on 0:40-0:30-0:20 off 0:20 x 3":      "2:30",
		"on 0:40 off 0:20 x 3 rounds":         "6:00",
		"3 rounds for completion, lasts 9:00": "9:00",
		"for time, cap 9:00":                  "", // it may be over before
		"3 rounds":                            "",
		"ladder 12-9-6":                       "",
		"every 1:00 until missed":             "",
		"every 2:30 x 4-5":                    "",
	} {
		text := "part A " + head + "\n  10 burpee\n"
		if strings.HasPrefix(head, "every 1:30") || strings.HasSuffix(head, "x 3 rounds") {
			text = "part A " + head + "\n  slot 1: 10 burpee\n  slot 2: 10 sit-up\n"
		}
		got, known := totals.Whole(session(t, text).Parts[0], 0)
		assert.Equal(t, want != "", known, head)
		if known {
			assert.Equal(t, want, units.FormatClock(got), head)
		}
	}
}

// How often a head comes round.
func TestTurns(t *testing.T) {
	open := totals.Sum{Open: true}
	for head, want := range map[string][]totals.Sum{
		"for time":                 {exactly(1), exactly(1)},
		"3 rounds":                 {exactly(3), exactly(3)},
		"4/3 rounds":               {exactly(4), exactly(3)},
		"3-4 rounds":               {{Lo: 3, Hi: 4}, {Lo: 3, Hi: 4}},
		"ladder 12-9-6":            {exactly(3), exactly(3)},
		"ladder 2-4-...-12":        {exactly(6), exactly(6)},
		"ladder 2-4-..., cap 9:00": {open, open},
		"every 2:30 x 5":           {exactly(5), exactly(5)},
		"emom 12:00":               {exactly(12), exactly(12)},
		"every 1:00 until missed":  {open, open},
		"on 0:40 off 0:20 x 6":     {exactly(6), exactly(6)},
		"amrap 9:00":               {open, open},
		"any order":                {exactly(1), exactly(1)},
	} {
		g := session(t, "part A "+head+"\n  10 burpee\n").Parts[0]
		for tier, w := range want {
			assert.Equal(t, w, totals.Turns(g, tier), "%s for tier %d", head, tier)
		}
	}
}

// Sums that the notation settles in ways worth seeing side by side. What each sums to
// follows from what the language page says of the construct; the rest is arithmetic.
func TestSums(t *testing.T) {
	type sums map[string]totals.Sum
	open := totals.Sum{Open: true}
	for _, c := range []struct {
		parts string
		want  sums
	}{
		{"part A 2 rounds\n  3 x 4-2-1 deadlift @ 60-65-70 kg\n", sums{"deadlift rep": exactly(14)}},
		{"part A 3 rounds\n  2 rounds\n    3 to 1 push-up\n", sums{"push-up rep": exactly(12)}},
		{"part A 3 rounds\n  2 x 12-8 push-up\n", sums{"push-up rep": exactly(60)}},
		{"part A 3 rounds\n  3-2-1 x 5 push-up\n", sums{"push-up rep": exactly(30)}},
		{"part A ladder 3-2-1\n  2 rounds\n    push-up\n", sums{"push-up rep": exactly(12)}},
		{"part A 4 rounds\n  100 to 400 m run\n", sums{"run m": exactly(1000)}},
		{"part A every 1:00 x 3 rounds\n  slot 1: 6-4-2 burpee\n  slot 2: 5 sit-up\n", sums{"burpee rep": exactly(12), "sit-up rep": exactly(15)}},
		{"part A every 1:00 x 3\n  slot 1: 6 burpee\n  slot 2: 5 sit-up\n", sums{"burpee rep": exactly(12), "sit-up rep": exactly(5)}},
		{"part A every 1:00 x 3-4\n  slot 1: 6 burpee\n  slot 2: 5 sit-up\n", sums{"burpee rep": exactly(12), "sit-up rep": {Lo: 5, Hi: 10}}},
		{"part A 3 rounds\n  station 1: 6 burpee\n  station 2: 5 sit-up\n", sums{"burpee rep": exactly(18), "sit-up rep": exactly(15)}},
		{"part A on 0:40 off 0:20 x 6\n  plank\n", sums{"plank s": exactly(240)}},
		{"part A on 0:40 off 0:20 x 6\n  0:30 plank\n", sums{"plank s": exactly(180)}},
		{"part A on 0:40 off 0:20 x 6\n  side plank, each side\n", sums{"side plank s": exactly(240)}},
		{"part A on 0:40 off 0:20 x 6\n  row or ski\n", sums{"row s": {Hi: 240}, "ski s": {Hi: 240}}},
		{"part A on 0:40 off 0:20 x 6\n  10 burpee\n", sums{"burpee rep": exactly(60)}},
		{"part A on 0:40 off 0:20 x 6 amrap\n  10 burpee\n", sums{"burpee rep": open}},
		{"part A on 0:40 off 0:20 x 6\n  5 burpee\n  row\n", sums{"burpee rep": exactly(30), "row s": open}},
		{"part A on 2:00 off 1:00 x 3, with vest @ 6 kg\n  with vest @ 6 kg\n    10 burpee\n", sums{"burpee rep": exactly(30)}},
		{"part A on 2:00 off 1:00 x 3 amrap\n  label:\n    10 burpee\n", sums{"burpee rep": open}},
		{"part A on 0:40 off 0:20 x 3 rounds\n  slot 1: 5 burpee\n  slot 2: plank\n", sums{"burpee rep": exactly(15), "plank s": exactly(120)}},
		{"part A on 0:40 off 0:20 x 3 rounds amrap\n  slot 1: 5 burpee\n  slot 2: plank\n", sums{"burpee rep": open, "plank s": exactly(120)}},
		{"part A on 2:00 off 1:00 x 3 for time, carry on\n  60 burpee\n", sums{"burpee rep": exactly(60)}},
		{"part A on 2:00 off 1:00 x 3 amrap, carry on\n  60 burpee\n", sums{"burpee rep": open}},
		{"part A every 3:00 x 3\n  slot 1: amrap: 5 burpee\n", sums{"burpee rep": open}},
		{"part A on 3:00 off 1:00 x 4\n  3 rounds\n    10 burpee\n", sums{"burpee rep": exactly(120)}},
		{"part A on 0:40 off 0:20 x 2 rounds\n  station 1: 0:30 plank\n  station 2: up to 10 burpee\n", sums{"plank s": exactly(60), "burpee rep": {Hi: 20}}},
		{"part A 3 rounds\n  ladder 2-1\n    burpee\n    rest between rounds: 200 m run\n", sums{"burpee rep": exactly(9), "run m": exactly(400)}},
		{"part A on 0:45 off 0:15 x 2 rounds\n  station 1: burpee\n  station 2: plank\n  rest between rounds: 100 m run\n", sums{"burpee s": exactly(90), "plank s": exactly(90), "run m": exactly(100)}},
		{"part A on 0:45 off 0:15 x 2 rounds\n  station 1: burpee\n  station 2: plank\n  rest between stations: 100 m run\n", sums{"burpee s": exactly(90), "plank s": exactly(90), "run m": exactly(200)}},
		{"part A every 1:00 x 5\n  slot 1: 5 burpee\n  slot 2: 5 sit-up\n  rest between rounds: 100 m run\n", sums{"burpee rep": exactly(15), "sit-up rep": exactly(10), "run m": exactly(200)}},
		{"part A emom 4:00\n  slot 1: plank\n  slot 2: 10 burpee\n", sums{"plank s": exactly(120), "burpee rep": exactly(20)}},
		{"part A on 2:00 off 1:00 x 4, in pairs, one works\n  plank\n", sums{"plank s": open}},
		{"part A amrap 9:00\n  10 burpee\n  at 7:00: 12 lunge\n  at 9:00: 12 air squat\n", sums{"burpee rep": open, "lunge rep": exactly(12), "air squat rep": open}},
		{"part A\n  1 clean + 2 clean pull + 1 clean @ 60 kg\n", sums{"clean rep": exactly(2), "clean pull rep": exactly(2)}},
		{"part A\n  choose one\n    10 burpee\n    3 rounds\n      10 burpee\n", sums{"burpee rep": {Lo: 10, Hi: 30}}},
		{"part A\n  choose one\n    400 m run\n    500 m row\n", sums{"run m": {Hi: 400}, "row m": {Hi: 500}}},
		{"part A ladder 2-4-... until missed\n  burpee\n", sums{"burpee rep": open}},
	} {
		tot := sumsOf(t, c.parts)
		got := sums{}
		for _, r := range tot.Rows {
			got[r.Movement+" "+r.Unit] = r.Tiers[0]
		}
		assert.Equal(t, c.want, got, c.parts)
		assert.False(t, tot.Unread, c.parts)
	}
}

// Of a choice each movement may be done or not, but one of them is.
func TestAllOfAChoice(t *testing.T) {
	tot := sumsOf(t, "part A 3 rounds\n  10 burpee or push-up\n  choose one\n    12 sit-up\n    20 air squat\n")
	assert.Equal(t, totals.Sum{Lo: 66, Hi: 90}, tot.All("rep").Tiers[0])
	row, _ := tot.Row("burpee", "rep")
	assert.Equal(t, totals.Sum{Hi: 30}, row.Tiers[0])
	// Who may choose again in each turn may take the great count of either.
	tot = sumsOf(t, "part A 3 rounds\n  choose one\n    10-8-6 burpee\n    6-8-10 push-up\n")
	assert.Equal(t, totals.Sum{Open: true}, tot.All("rep").Tiers[0])
	row, _ = tot.Row("push-up", "rep")
	assert.Equal(t, totals.Sum{Hi: 24}, row.Tiers[0])
	row, found := tot.Row("lunge", "rep")
	assert.False(t, found)
	assert.Equal(t, []totals.Sum{{}, {}}, row.Tiers)
	assert.Equal(t, []totals.Sum{{}, {}}, tot.All("cal").Tiers)
}

// A body is lines of work with no series in them, so that it means the same in every turn.
func body(t *rapid.T) []string {
	n := rapid.IntRange(1, 8)
	line := rapid.Custom(func(t *rapid.T) string {
		a, b := n.Draw(t, "a"), n.Draw(t, "b")
		move := rapid.SampledFrom([]string{"burpee", "push-up", "air squat", "sit-up", "lunge"}).Draw(t, "move")
		switch rapid.IntRange(0, 11).Draw(t, "kind") {
		case 0:
			return fmt.Sprintf("%d-%d %s", a, a+b, move)
		case 1:
			return fmt.Sprintf("%d x %d %s", a, b, move)
		case 2:
			return fmt.Sprintf("%d/side %s", a, move)
		case 3:
			return fmt.Sprintf("%d/%d %s", a, b, move)
		case 4:
			return fmt.Sprintf("max %s", move)
		case 5:
			return fmt.Sprintf("%d %s or step-up", a, move)
		case 6:
			return fmt.Sprintf("0:%02d plank", 5*a)
		case 7:
			return fmt.Sprintf("%d m run", 100*a)
		case 8:
			return fmt.Sprintf("%d rounds: %d %s", a, b, move)
		case 9:
			return fmt.Sprintf("amrap %d:00: %d %s", a, b, move)
		case 10:
			return fmt.Sprintf("every 1:00 x %d: %d power clean + %d push jerk @ 40 kg", a, b, a)
		}
		return fmt.Sprintf("%d %s", a, move)
	})
	return rapid.SliceOfN(line, 1, 6).Draw(t, "lines")
}

// under puts lines under a head.
func under(head string, lines []string) string {
	return head + "\n  " + strings.Join(lines, "\n  ") + "\n"
}

// sums are all rows of some totals, and those over all movements.
func sums(t *totals.Totals) map[string][]totals.Sum {
	out := map[string][]totals.Sum{}
	for _, r := range t.Rows {
		out[r.Movement+" "+r.Unit] = r.Tiers
	}
	for _, u := range []string{"rep", "m", "s"} {
		out["all "+u] = t.All(u).Tiers
	}
	return out
}

func times(s map[string][]totals.Sum, n float64) map[string][]totals.Sum {
	out := map[string][]totals.Sum{}
	for k, ts := range s {
		for _, v := range ts {
			out[k] = append(out[k], totals.Sum{Lo: v.Lo * n, Hi: v.Hi * n, Open: v.Open})
		}
	}
	return out
}

func plus(a, b map[string][]totals.Sum) map[string][]totals.Sum {
	out := map[string][]totals.Sum{}
	for _, m := range []map[string][]totals.Sum{a, b} {
		for k, ts := range m {
			if out[k] == nil {
				out[k] = make([]totals.Sum, tiers)
			}
			for i, v := range ts {
				o := out[k][i]
				out[k][i] = totals.Sum{Lo: o.Lo + v.Lo, Hi: o.Hi + v.Hi, Open: o.Open || v.Open}
			}
		}
	}
	return out
}

// Whatever comes round n times sums to n times as much, by whatever head.
func TestTurnsMultiply(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lines, n := body(t), rapid.IntRange(1, 9).Draw(t, "n")
		want := times(sums(sumsOf(t, under("part A", lines))), float64(n))
		for _, head := range []string{"part A %d rounds", "part A every 5:00 x %d", "part A emom %d:00", "part A %d rounds for time, cap 60:00"} {
			text := under(fmt.Sprintf(head, n), lines)
			assert.Equal(t, want, sums(sumsOf(t, text)), text)
		}
	})
}

// A round of rounds is as many rounds as their product.
func TestRoundsNest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lines := body(t)
		a, b := rapid.IntRange(1, 6).Draw(t, "a"), rapid.IntRange(1, 6).Draw(t, "b")
		nested := fmt.Sprintf("part A %d rounds\n  %d rounds\n    %s\n", a, b, strings.Join(lines, "\n    "))
		flat := under(fmt.Sprintf("part A %d rounds", a*b), lines)
		assert.Equal(t, sums(sumsOf(t, flat)), sums(sumsOf(t, nested)), nested)
	})
}

// A count for each side is twice as much, however it is said.
func TestSidesDouble(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, m := rapid.IntRange(1, 30).Draw(t, "n"), rapid.IntRange(1, 5).Draw(t, "sets")
		want := float64(2 * n * m)
		for _, parts := range []string{
			fmt.Sprintf("part A\n  %d x %d/side lunge\n", m, n),
			fmt.Sprintf("part A %d rounds\n  %d lunge, each side\n", m, n),
			fmt.Sprintf("part A %d rounds\n  %d lunge\n", m, 2*n),
		} {
			row, _ := sumsOf(t, parts).Row("lunge", "rep")
			assert.Equal(t, exactly(want), row.Tiers[0], parts)
		}
		row, _ := sumsOf(t, fmt.Sprintf("part A %d rounds\n  0:%02d/side side plank\n", m, n)).Row("side plank", "s")
		assert.Equal(t, exactly(want), row.Tiers[0])
	})
}

// The totals of a session are those of its parts, one by one.
func TestPartsAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		texts := []string{under("warm-up 2 rounds", body(t)), under("part A", body(t)), under("part B 3 rounds", body(t)), under("part C amrap 9:00", body(t)), under("cool-down", body(t))}
		s := session(t, strings.Join(texts, "\n"))
		sum := map[string][]totals.Sum{}
		alone := map[string][]totals.Sum{}
		for i, g := range s.Parts {
			sum = plus(sum, sums(totals.OfGroup(g, tiers)))
			alone = plus(alone, sums(sumsOf(t, texts[i])))
		}
		assert.Equal(t, sum, sums(totals.OfSession(s, tiers)))
		assert.Equal(t, alone, sum)
	})
}

// In what order the lines stand makes no difference to their sums.
func TestOrderDoesNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lines := body(t)
		mixed := rapid.Permutation(lines).Draw(t, "mixed")
		for _, head := range []string{"part A", "part A 3 rounds", "part A any order"} {
			assert.Equal(t, sums(sumsOf(t, under(head, lines))), sums(sumsOf(t, under(head, mixed))))
		}
	})
}

// A ladder's head, a series on each line, and the lines written out have the same sums.
func TestLaddersWrittenOut(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rungs := rapid.SliceOfN(rapid.IntRange(1, 30), 3, 12).Draw(t, "rungs")
		moves := []string{"burpee", "ring row", "air squat"}[:rapid.IntRange(1, 3).Draw(t, "moves")]
		var words []string
		var long []string
		for _, n := range rungs {
			words = append(words, fmt.Sprint(n))
			for _, m := range moves {
				long = append(long, fmt.Sprintf("%d %s", n, m))
			}
		}
		series := strings.Join(words, "-")
		var each []string
		for _, m := range moves {
			each = append(each, series+" "+m)
		}
		want := sums(sumsOf(t, under("part A", long)))
		assert.Equal(t, want, sums(sumsOf(t, under("part A ladder "+series, moves))))
		assert.Equal(t, want, sums(sumsOf(t, under(fmt.Sprintf("part A %d rounds", len(rungs)), each))))
		if len(moves) == 1 {
			assert.Equal(t, want, sums(sumsOf(t, fmt.Sprintf("part A\n  %d x %s %s\n", len(rungs), series, moves[0]))))
		}
	})
}

// Slots are shared out among the intervals, and no repetition is lost or found.
func TestSlotsShareOut(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		moves := []string{"burpee", "ring row", "air squat", "sit-up"}[:rapid.IntRange(1, 4).Draw(t, "slots")]
		starts := rapid.IntRange(1, 20).Draw(t, "starts")
		var lines []string
		for i, m := range moves {
			lines = append(lines, fmt.Sprintf("slot %d: 1 %s", i+1, m))
		}
		tot := sumsOf(t, under(fmt.Sprintf("part A every 1:00 x %d", starts), lines))
		assert.Equal(t, exactly(float64(starts)), tot.All("rep").Tiers[0])
		counts := make([]float64, len(moves))
		for i, m := range moves {
			row, _ := tot.Row(m, "rep")
			counts[i] = row.Tiers[0].Lo
		}
		assert.True(t, slices.IsSortedFunc(counts, func(a, b float64) int { return int(b - a) }), "the first slots come first: %v", counts)
		assert.LessOrEqual(t, slices.Max(counts)-slices.Min(counts), 1.0)
	})
}
