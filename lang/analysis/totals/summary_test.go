package totals_test

import (
	"fmt"
	"maps"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stint.example/stint/lang/analysis/totals"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/workspace"
)

// summary adds up all files of a workspace, or those named. The texts have nothing wrong
// with them.
func summary(t *testing.T, by, scaling string, texts map[string]string, named ...string) *totals.Summary {
	t.Helper()
	snap := workspace.Make(workspace.Root{}, texts)
	var all, some []*model.File
	for _, f := range snap.Files {
		for _, d := range append(slices.Clone(f.Syntax().Diags), f.Program().Diags...) {
			require.NotEqual(t, diag.Error, d.Severity, "%s: %s", f.Path, d.Message)
		}
		all = append(all, f.Program())
		if len(named) == 0 || slices.Contains(named, f.Path) {
			some = append(some, f.Program())
		}
	}
	return totals.Summarise(by, scaling, snap.Env.House.Tiers, some, all)
}

// figures are a summary's totals as short text, by row and measure: "24-30", "1368 | 912"
// where tiers differ, "20+" where nothing bounds it, "*" behind what lacks a load.
func figures(rows []totals.SummaryRow) map[string]string {
	out := map[string]string{}
	for _, r := range rows {
		for _, m := range r.Measures {
			var tiers []string
			for _, a := range m.Tiers {
				text := fmt.Sprint(a.Least)
				switch {
				case a.Most == nil:
					text += "+"
				case *a.Most != a.Least:
					text += "-" + fmt.Sprint(*a.Most)
				}
				tiers = append(tiers, text)
			}
			text := strings.Join(slices.Compact(tiers), " | ")
			if m.Partial {
				text += "*"
			}
			out[r.Name+" "+m.Name] = text
		}
	}
	return out
}

func one(parts string) map[string]string {
	return map[string]string{"sessions/bowline.stint": "session Bowline\n\n" + parts}
}

// The load moved, added up by hand as the comments show. Tiers are full and lesser.
func TestLoadMoved(t *testing.T) {
	for parts, want := range map[string]map[string]string{
		// A published example: BMJ Military Health, Table 1 of its review of how training load
		// is worked out (L11 of the project's list of test vectors). 3 x 8 x 65 = 1560.
		"part A\n  3 x 8 bench press @ 65 kg\n": {"bench press": "1560"},
		// The same table: 10x55 + 8x65 + 6x75 = 550 + 520 + 450 = 1520, in four ways to write it.
		"part A\n  10 bench press @ 55 kg\n  8 bench press @ 65 kg\n  6 bench press @ 75 kg\n": {"bench press": "1520"},
		"part A\n  3 x 10-8-6 bench press @ 55-65-75 kg\n":                                     {"bench press": "1520"},
		"part A 3 rounds\n  10-8-6 bench press @ 55-65-75 kg\n":                                {"bench press": "1520"},
		"part A ladder 10-8-6\n  bench press @ 55 to 75 kg\n":                                  {"bench press": "1520"},

		// 8 x 2 x 15 = 240, 8 x 2 x 10 = 160.
		"part A\n  8 dumbbell press @ 2x15/10 kg\n": {"dumbbell press": "240 | 160"},
		// Two sides: 20 x 22.5 = 450, 20 x 15 = 300.
		"part A\n  10/side single-arm row @ 22.5/15 kg\n": {"single-arm row": "450 | 300"},
		// Between 8 x 15 = 120 and 12 x 17.5 = 210.
		"part A\n  8-12 dumbbell press @ 15-17.5 kg\n": {"dumbbell press": "120-210"},
		// Three or four rounds of 10 x 24 = 240: 720 to 960; of 10 x 16 = 160: 480 to 640.
		"part A 3-4 rounds\n  10 kettlebell swing @ 24/16 kg\n": {"kettlebell swing": "720-960 | 480-640"},
		// A pound is 0.45359237 kg (NIST SP 811): 10 x 95 of them are 430.9127515.
		"part A\n  10 thruster @ 95 lb\n": {"thruster": "430.9128"},
		// A head's counts: 21 + 15 + 9 = 45, x 40 = 1800, x 30 = 1350.
		"part A ladder 21-15-9 for time\n  thruster @ 40/30 kg\n  burpee\n": {"thruster": "1800 | 1350"},
		// The same inside two rounds.
		"part A 2 rounds\n  ladder 21-15-9\n    thruster @ 40/30 kg\n": {"thruster": "3600 | 2700"},
		// A complex under a ladder: 3 + 2 = 5 cleans, and 1 jerk a rung = 2, at 60.
		"part A ladder 3-2\n  power clean + 1 push jerk @ 60 kg\n": {"power clean": "300", "push jerk": "120"},
		// 5 x (60 + 65 + 70 + 75) = 5 x 270.
		"part A 4 rounds\n  5 front squat @ 60 to 75 kg\n": {"front squat": "1350"},
		// 5 x (100 + 105 + 110) = 5 x 315.
		"part A 3 rounds, each +5 kg\n  5 deadlift @ 100 kg\n": {"deadlift": "1575"},
		// 15 x 100 + 15 x 110.
		"part A 2 rounds, each +10 kg\n  3 x 5 deadlift @ 100 kg\n": {"deadlift": "3150"},
		// 5 x 100 + 3 x 110 + 1 x 120 = 500 + 330 + 120.
		"part A 3 rounds, each +10 kg\n  5-3-1 deadlift @ 100 kg\n": {"deadlift": "950"},
		// Four laps: 5 x (60 + 70 + 75 + 80) = 5 x 285; the other slot has 12 x 24 a lap.
		"part A emom 8:00\n  slot 1: 5 front squat @ 60-70-75-80 kg\n  slot 2: 12 kettlebell swing @ 24 kg\n": {"front squat": "1425", "kettlebell swing": "1152"},
		// Five times 1 x 60, 2 x 60 and 1 x 60.
		"part A every 2:00 x 5\n  1 power clean + 2 hang clean + 1 push jerk @ 60 kg\n": {"power clean": "300", "hang clean": "600", "push jerk": "300"},
		// A weight is for each that may be chosen: 12 x 24.
		"part A\n  12 goblet squat or kettlebell swing @ 24 kg\n": {"goblet squat": "0-288", "kettlebell swing": "0-288"},
		// 8 x 100 = 800 stand; the second line's are as many as go.
		"part A\n  8 deadlift @ 100 kg\n  max deadlift @ 80 kg\n": {"deadlift": "800+"},
		// 5 x 80 at the least; up to 12 x 24, or none.
		"part A\n  5+ back squat @ 80 kg\n  up to 12 kettlebell swing @ 24 kg\n": {"back squat": "400+", "kettlebell swing": "0-288"},
		"part A amrap 9:00\n  10 kettlebell swing @ 24 kg\n":                     {"kettlebell swing": "0+"},

		// No weight, or none that can be multiplied by repetitions: left out, and marked where
		// the same movement has another. 3 x 100 = 300 stand.
		"part A\n  3 deadlift @ 100 kg\n  5 deadlift @ 70%\n":                {"deadlift": "300*"},
		"part A\n  3 deadlift @ 100 kg\n  5 deadlift @ RPE 8\n":              {"deadlift": "300*"},
		"part A\n  3 deadlift @ 100 kg\n  5 deadlift\n":                      {"deadlift": "300*"},
		"part A, with vest @ 6/4 kg\n  3 deadlift @ 100 kg\n":                {"deadlift": "300*"},
		"part A\n  12 burpee\n  12 step-up @ 50/40 cm\n":                     {},
		"part A\n  40 m farmer carry @ 2x24/16 kg\n":                         {},
		"part A on 0:40 off 0:20 x 4: kettlebell swing @ 24 kg\n":            {},
		"part A\n  5 deadlift @ bodyweight\n":                                {},
		"part A 2 rounds, each +5 kg\n  2 rounds\n    5 deadlift @ 100 kg\n": {},
	} {
		s := summary(t, totals.ByMovement, "", one(parts))
		got := map[string]string{}
		for k, v := range figures(s.Rows) {
			if name, ok := strings.CutSuffix(k, " load"); ok {
				got[name] = v
			}
		}
		assert.Equal(t, want, got, parts)
	}
}

// Whatever the heads, a weight that stays is moved as often as repetitions are done: the
// load is the repetitions times the weight.
func TestLoadIsRepetitionsTimesWeight(t *testing.T) {
	heads := []string{"3 rounds", "3/2 rounds", "2-3 rounds", "ladder 5-3-1", "sets 4-4-2", "every 2:00 x 4", "on 0:40 off 0:20 x 5", "amrap 9:00", "choose one", "3 rounds, in pairs, one works", "2 rounds, each side"}
	lines := []string{"10", "8-12", "6/5", "3 x 4", "2-3 x 5", "max", "5+", "up to 12", "4/side", "up to 3 x 6"}
	n := 0
	for _, a := range heads {
		for _, b := range heads {
			for _, l := range append(slices.Clone(lines), "") {
				if l == "" && !strings.HasPrefix(b, "ladder") && !strings.HasPrefix(b, "sets") {
					continue
				}
				text := fmt.Sprintf("part A %s\n  %s\n    %s\n", a, b, strings.TrimSpace(l+" kettlebell swing @ 2x24/16 kg"))
				snap := workspace.Make(workspace.Root{}, one(text))
				if len(snap.Files[0].Syntax().Diags)+len(snap.Files[0].Program().Diags) > 0 {
					continue // a head or a line that cannot stand there
				}
				n++
				s := totals.Summarise(totals.ByMovement, "", snap.Env.House.Tiers, []*model.File{snap.Files[0].Program()}, []*model.File{snap.Files[0].Program()})
				require.Len(t, s.Rows, 1, text)
				require.Len(t, s.Rows[0].Measures, 2, text)
				reps, load := s.Rows[0].Measures[0], s.Rows[0].Measures[1]
				for i, kg := range []float64{48, 32} {
					assert.Equal(t, reps.Tiers[i].Least*kg, load.Tiers[i].Least, text)
					require.Equal(t, reps.Tiers[i].Most == nil, load.Tiers[i].Most == nil, text)
					if reps.Tiers[i].Most != nil {
						assert.Equal(t, *reps.Tiers[i].Most*kg, *load.Tiers[i].Most, text)
					}
				}
			}
		}
	}
	assert.Greater(t, n, 500)
}

var weekOfThree = map[string]string{
	"house.stint": "stint 1\n\nhouse Quayside Hall\n  scaling no-kit > At home.\n    has loaded bag\n",
	"sessions/bowline.stint": "session Bowline\n\npart A 3 rounds\n  400 m run\n  10 kettlebell swing @ 24/16 kg\n  8-10 push-up\n\n" +
		"part B ladder 12-9-6\n  kettlebell swing @ 24/16 kg\n  burpee or push-up\n\nscaling no-kit\n  kettlebell swing -> bag swing @ 20/15 kg\n",
	"sessions/reef.stint":  "session Reef\n\nwarm-up\n  2:00 row\n\npart A amrap 10:00\n  12/10 cal row\n  5 front squat @ 70%\n\npart B\n  3 x 5 front squat @ 50/35 kg\n  max push-up\n",
	"sessions/hitch.stint": "session Hitch\n\npart A\n  20 sit-up\n  1:00 plank\n\nscaling no-kit\n  20 sit-up -> 15 sit-up\n",
	"cycles/spring-tide.stint": "cycle Spring Tide\n  from 2026-12-23\n  weeks 2\n  week 1\n    wed Bowline\n    fri Reef\n" +
		"  week 2\n    mon Bowline, no-kit\n    fri rest\n",
}

// Figures added up by hand.
//
// Bowline: run 3 x 400 = 1200 m; swings 3 x 10 + 12 + 9 + 6 = 57, x 24 = 1368 kg, x 16 =
// 912 kg; push-ups 3 x 8 to 3 x 10 = 24-30, and up to 27 more in part B, so 24-57; burpees
// up to 27. All: 57 + 24-30 + 27 = 108-114. In no-kit the bag moves 57 x 20 = 1140 and
// 57 x 15 = 855 kg.
//
// Reef: squats 3 x 5 = 15 at the least, x 50 = 750 kg, x 35 = 525 kg, without those at 70%;
// row 120 s, and calories as they come.
func TestSummary(t *testing.T) {
	s := summary(t, totals.ByMovement, "", weekOfThree)
	assert.Equal(t, []string{"Bowline", "Hitch", "Reef"}, s.Sessions)
	assert.Equal(t, map[string]string{
		"burpee repetitions": "0-27", "front squat repetitions": "15+", "front squat load": "750 | 525*",
		"kettlebell swing repetitions": "57", "kettlebell swing load": "1368 | 912", "plank time": "60",
		"push-up repetitions": "24+", "row time": "120", "row calories": "0+", "run distance": "1200", "sit-up repetitions": "20",
	}, figures(s.Rows))
	assert.Equal(t, []totals.LeftOut{{What: "load", Name: "front squat", Reason: "a share, not a weight", Sessions: []string{"Reef"}}}, s.LeftOut)

	// Burpees and push-ups train the same: of the choice, 27 are done whichever it is.
	s = summary(t, totals.ByPattern, "", weekOfThree, "sessions/bowline.stint")
	assert.Equal(t, map[string]string{"hinge repetitions": "57", "hinge load": "1368 | 912", "horizontal push repetitions": "51-57", "run distance": "1200"}, figures(s.Rows))
	assert.Equal(t, "hinge", s.Rows[0].Name, "in the order of the book's patterns")

	s = summary(t, totals.ByPart, "", weekOfThree, "sessions/bowline.stint")
	assert.Equal(t, map[string]string{
		"Bowline, part A repetitions": "54-60", "Bowline, part A distance": "1200", "Bowline, part A load": "720 | 480", // 30 x 24, x 16
		"Bowline, part B repetitions": "54", "Bowline, part B load": "648 | 432", // 27 x 24, x 16
	}, figures(s.Rows))

	s = summary(t, totals.ByDay, "", weekOfThree)
	assert.Equal(t, []string{"2026-12-23", "2026-12-25", "2026-12-28"}, dates(s.Rows))
	assert.Equal(t, map[string]string{
		"Spring Tide week 1 wed repetitions": "108-114", "Spring Tide week 1 wed distance": "1200", "Spring Tide week 1 wed load": "1368 | 912",
		"Spring Tide week 1 fri repetitions": "15+", "Spring Tide week 1 fri time": "120", "Spring Tide week 1 fri calories": "0+", "Spring Tide week 1 fri load": "750 | 525*",
		"Spring Tide week 2 mon repetitions": "108-114", "Spring Tide week 2 mon distance": "1200", "Spring Tide week 2 mon load": "1140 | 855",
	}, figures(s.Rows))
	assert.Equal(t, map[string]string{"Hitch repetitions": "20", "Hitch time": "60"}, figures(s.Unscheduled))

	// Week 1: 108 + 15 and more; 1368 + 750 = 2118 and 912 + 525 = 1437 kg.
	s = summary(t, totals.ByWeek, "", weekOfThree)
	require.Len(t, s.Rows, 2)
	assert.Equal(t, "2026-W52", s.Rows[0].ISOWeek)
	assert.Equal(t, "2026-W53", s.Rows[1].ISOWeek)
	assert.Equal(t, []string{"Bowline", "Reef"}, s.Rows[0].Sessions)
	assert.Equal(t, "123+", figures(s.Rows)["Spring Tide week 1 repetitions"])
	assert.Equal(t, "2118 | 1437*", figures(s.Rows)["Spring Tide week 1 load"])
	assert.Equal(t, "1140 | 855", figures(s.Rows)["Spring Tide week 2 load"])
}

func TestSummaryInAVersion(t *testing.T) {
	s := summary(t, totals.ByWeek, "No-Kit", weekOfThree)
	assert.Equal(t, []string{"Bowline", "Hitch"}, s.Sessions)
	assert.Equal(t, map[string]string{
		"Spring Tide week 1 repetitions": "108-114", "Spring Tide week 1 distance": "1200", "Spring Tide week 1 load": "1140 | 855",
		"Spring Tide week 2 repetitions": "108-114", "Spring Tide week 2 distance": "1200", "Spring Tide week 2 load": "1140 | 855",
	}, figures(s.Rows))
	assert.Equal(t, map[string]string{"Hitch repetitions": "15", "Hitch time": "60"}, figures(s.Unscheduled))
	assert.Equal(t, []totals.LeftOut{{What: "session", Name: "Reef", Reason: "it has no version No-Kit", Sessions: []string{}}}, s.LeftOut)
}

// A cycle's file stands for its sessions, a session's file for the days that it comes on.
func TestWhatANamedFileStandsFor(t *testing.T) {
	texts := maps.Clone(weekOfThree)
	texts["cycles/neap.stint"] = "cycle Neap\n  weeks 1\n  week 1\n    tue Hitch\n    thu Reef\n"
	s := summary(t, totals.ByWeek, "", texts, "cycles/neap.stint")
	require.Len(t, s.Rows, 1)
	assert.Equal(t, []string{"Hitch", "Reef"}, s.Rows[0].Sessions)
	assert.Empty(t, s.Rows[0].ISOWeek, "the cycle does not say from when")
	assert.Empty(t, s.Unscheduled)
	s = summary(t, totals.ByDay, "", texts, "sessions/reef.stint")
	var names []string
	for _, r := range s.Rows {
		names = append(names, r.Name)
	}
	assert.Equal(t, []string{"Neap week 1 thu", "Spring Tide week 1 fri"}, names)
	s = summary(t, totals.ByMovement, "", texts, "cycles/neap.stint")
	assert.Equal(t, []string{"Hitch", "Reef"}, s.Sessions)
}

// Where which of two is taken may change from round to round, their sum is open: 5 then 10
// or 10 then 5 of either are 15, but 5 of one and then 5 of the other are 10.
func TestChoiceThatMoves(t *testing.T) {
	s := summary(t, totals.ByPattern, "", one("part A 2 rounds\n  choose one\n    5 to 10 goblet squat @ 24 kg\n    10 to 5 front squat @ 24 kg\n"))
	assert.Equal(t, map[string]string{"squat repetitions": "0+", "squat load": "0+"}, figures(s.Rows))
	s = summary(t, totals.ByPattern, "", one("part A 2 rounds\n  choose one\n    5 goblet squat @ 24 kg\n    10 front squat @ 24 kg\n"))
	assert.Equal(t, map[string]string{"squat repetitions": "10-20", "squat load": "240-480"}, figures(s.Rows))
}

func dates(rows []totals.SummaryRow) []string {
	var out []string
	for _, r := range rows {
		out = append(out, r.Date)
	}
	return out
}

func TestISOWeek(t *testing.T) {
	// T06 of the project's list of test vectors (ISO 8601; Go and Python agree).
	for date, want := range map[string]string{"2027-01-01": "2026-W53", "2024-12-30": "2025-W01", "2021-01-03": "2020-W53", "": "", "2027-02-30": ""} {
		assert.Equal(t, want, totals.ISOWeek(date), date)
	}
	// Every day of forty years, against Go's own count and against the rule of the standard:
	// a week belongs to the year that its Thursday is in, and is numbered by it.
	for d := time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC); d.Year() < 2040; d = d.AddDate(0, 0, 1) {
		got := totals.ISOWeek(d.Format(time.DateOnly))
		year, week := d.ISOWeek()
		require.Equal(t, fmt.Sprintf("%d-W%02d", year, week), got)
		thursday := d.AddDate(0, 0, 3-(int(d.Weekday())+6)%7)
		require.Equal(t, fmt.Sprintf("%d-W%02d", thursday.Year(), (thursday.YearDay()-1)/7+1), got)
	}
}

// All ways to cut the demo have the same sums: its parts, its days, its weeks.
func TestCutsOfTheDemoAgree(t *testing.T) {
	root, err := workspace.Find(filepath.Join("..", "..", "..", "testdata", "quayside"))
	require.NoError(t, err)
	snap, err := workspace.Load(root)
	require.NoError(t, err)
	var all []*model.File
	for _, f := range snap.Files {
		all = append(all, f.Program())
	}
	sum := func(rows []totals.SummaryRow) map[string]float64 {
		out := map[string]float64{}
		for _, r := range rows {
			for _, m := range r.Measures {
				for i, a := range m.Tiers {
					out[fmt.Sprint(m.Name, i)] += a.Least
				}
			}
		}
		return out
	}
	days := totals.Summarise(totals.ByDay, "", snap.Env.House.Tiers, all, all)
	weeks := totals.Summarise(totals.ByWeek, "", snap.Env.House.Tiers, all, all)
	assert.Equal(t, sum(days.Rows), sum(weeks.Rows))
	perSession := map[string]map[string]float64{}
	for _, r := range totals.Summarise(totals.ByPart, "", snap.Env.House.Tiers, all, all).Rows {
		if perSession[r.Session] == nil {
			perSession[r.Session] = map[string]float64{}
		}
		for k, v := range sum([]totals.SummaryRow{r}) {
			perSession[r.Session][k] += v
		}
	}
	for _, d := range days.Rows {
		require.Len(t, d.Sessions, 1)
		assert.Equal(t, perSession[d.Sessions[0]], sum([]totals.SummaryRow{d}), d.Name)
	}
}
