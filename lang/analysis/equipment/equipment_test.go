package equipment_test

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stint.example/stint/lang/analysis/equipment"
	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/workspace"
)

// hall is a workspace of one session.
func hall(t *testing.T, class int, kits, parts string) (*model.Session, *model.Env) {
	t.Helper()
	house := fmt.Sprintf("stint 1\n\nhouse Quayside Hall\n  class %d\n  kit\n", class)
	for _, k := range strings.Split(kits, ", ") {
		house += "    " + k + "\n"
	}
	s := workspace.Make(workspace.Root{Dir: "/quayside", House: true}, map[string]string{
		"house.stint": house, "sessions/bowline.stint": "session Bowline\n\n" + parts})
	for _, f := range s.Files {
		for _, se := range f.Program().Sessions {
			require.Empty(t, f.Program().Diags)
			return se, s.Env
		}
	}
	t.Fatal("there is no session")
	return nil, nil
}

// told is what a use says, in few words.
func told(u equipment.Use) string {
	sure := "could"
	if u.Settled {
		sure = "settled"
	}
	out := fmt.Sprintf("%s: %d people, %d of %d, %s", u.Kit, u.People, u.Needed, u.Has, sure)
	if u.InTurn {
		out += ", in turn"
	}
	return out
}

// The sums stand beside each.
func TestWhoNeedsWhat(t *testing.T) {
	for _, c := range []struct {
		name  string
		class int
		kits  string
		parts string
		want  []string
	}{
		{"all at the first line", 16, "8 ski machine", "part A\n  500 m ski\n",
			[]string{"ski machine: 16 people, 16 of 8, settled"}},
		{"and perhaps at the next", 16, "8 ski machine", "part A\n  20 burpee\n  500 m ski\n",
			[]string{"ski machine: 16 people, 16 of 8, could"}},
		{"15 in pairs: 8 at work, the odd one too", 15, "8 ski machine", "part A in pairs, one works\n  500 m ski\n",
			[]string{"ski machine: 8 people, 8 of 8, settled"}},
		{"15 over 4 stations: 4, 4, 4 and 3", 15, "4 climbing rope", "part A on 0:45 off 0:15 x 1 round\n  station 1: rope climb\n  station 2: plank\n  station 3: burpee\n  station 4: rest\n",
			[]string{"climbing rope: 4 people, 4 of 4, settled"}},
		{"3 over 5 stations: one at a station, or none", 3, "1 climbing rope", "part A on 0:45 off 0:15 x 1 round\n  station 1: rope climb\n  station 2: plank\n  station 3: burpee\n  station 4: sit-up\n  station 5: rest\n",
			[]string{"climbing rope: 1 people, 1 of 1, settled"}},
		{"6 teams of two over 4 stations, one works: 12 / 4 / 2 = 1.5, so 2", 12, "2 climbing rope", "part A on 0:45 off 0:15 x 1 round, in pairs, one works\n  station 1: rope climb\n  station 2: plank\n  station 3: burpee\n  station 4: rest\n",
			[]string{"climbing rope: 2 people, 2 of 2, settled"}},
		{"two bells each: 16 x 2 = 32; 7 is 3 pairs and 9 is 4", 16, "7 kettlebell @ 24 kg, 9 kettlebell @ 16 kg", "part A\n  20 m farmer carry @ 2x24/16 kg\n",
			[]string{"kettlebell: 16 people, 32 of 14, settled"}},
		{"53 lb goes by the name of 24 kg, and so does 35 lb of 16 kg", 16, "9 kettlebell @ 24 kg, 9 kettlebell @ 16 kg", "part A\n  12 kettlebell swing @ 53/35 lb\n",
			[]string{"kettlebell: 16 people, 16 of 18, settled"}},
		{"a box that is turned is one box", 16, "16 box @ 60/50/40 cm", "part A\n  12 box jump @ 60/50 cm\n",
			[]string{"box: 16 people, 16 of 16, settled"}},
		{"rower and ski machine alike", 16, "4 rower, 8 ski machine", "part A\n  500 m row or ski\n",
			[]string{"rower or ski machine: 16 people, 16 of 12, settled"}},
		{"a wall ball's height is the target's", 4, "4 medicine ball @ 9 kg", "part A\n  12 wall ball @ 9/9 kg @ 3/2.7 m\n",
			[]string{"medicine ball: 4 people, 4 of 4, settled"}},
		{"everybody swims", 16, "1 pool", "part A\n  100 m swim\n", nil},
		{"what the house does not list is not counted", 16, "1 rower", "part A\n  500 m ski\n", nil},
		{"the other does meanwhile: 8 and 8", 16, "8 rower, 8 barbell", "part A amrap 9:00, in pairs, one works\n  10 deadlift @ 60/40 kg\n  meanwhile: row\n",
			[]string{"barbell: 8 people, 8 of 8, settled", "rower: 8 people, 8 of 8, settled"}},
		{"two in turn: 16 / 2 = 8", 16, "8 barbell", "part A\n  5 x 3 deadlift @ 80%, rest 3:00\n",
			[]string{"barbell: 8 people, 8 of 8, could, in turn"}},
		{"two bells at one station and one at another: 4 x 2 + 4 x 1 = 12", 16, "12 kettlebell @ 24 kg", "part A on 0:45 off 0:15 x 1 round\n  station 1: farmer hold @ 2x24/24 kg\n  station 2: kettlebell swing @ 24/24 kg\n  station 3: plank\n  station 4: rest\n",
			[]string{"kettlebell: 8 people, 12 of 12, settled"}},
		{"a relay: one of 4 teams above the tag, and one below it while the next goes", 16, "8 sled", "part A in teams of 4\n  20 m sled push\n  tag\n  20 m sled drag\n",
			[]string{"sled: 8 people, 8 of 8, could"}},
		{"in any order over three lines: 16 / 3", 16, "6 rower", "part A any order\n  500 m row\n  20 burpee\n  20 sit-up\n",
			[]string{"rower: 6 people, 6 of 6, could"}},
		{"one works, of all", 16, "1 rower", "part A one works\n  100 m row\n",
			[]string{"rower: 1 people, 1 of 1, settled"}},
	} {
		s, env := hall(t, c.class, c.kits, c.parts)
		var got []string
		for _, u := range equipment.Of(s, env, estimate.Of(s, env)) {
			got = append(got, told(u))
		}
		assert.Equal(t, c.want, got, c.name)
	}
}

func TestWhenItIs(t *testing.T) {
	s, env := hall(t, 16, "8 ski machine, 16 box", "part A at 2:00\n  1:00 plank\n  500 m ski\n\npart B\n  10 burpee or step-up\n")
	us := equipment.Of(s, env, estimate.Of(s, env))
	require.Len(t, us, 1)
	assert.True(t, us[0].Timed && us[0].Settled)
	// The plank is a minute, and the change takes the quick the least of the house's seconds.
	assert.InDelta(t, 2*60+60+estimate.Of(s, env).Figures.Change.Fast, us[0].When, 1)
	assert.Equal(t, 8, us[0].Fits())
	assert.Empty(t, equipment.Of(s, &model.Env{Book: env.Book, House: &model.House{}}, nil), "nobody comes")
}

// demo is the demo's workspace with other numbers.
func demo(t *testing.T) *workspace.Snapshot {
	t.Helper()
	const root = "../../../testdata/quayside"
	names, err := workspace.List(root)
	require.NoError(t, err)
	texts := map[string]string{}
	for _, n := range names {
		text, err := os.ReadFile(filepath.Join(root, n))
		require.NoError(t, err)
		texts[n] = string(text)
	}
	// Ways to divide a class that the demo has not.
	texts["sessions/divided.stint"] = `stint 1

session Divided

part A for time, in heats of 6 every 2:00
  300 m ski
  20 burpee
  10 kettlebell swing @ 24/16 kg

part B amrap 12:00, in fours, one works
  20 thruster @ 30/20 kg
  meanwhile: row or ski

part C every 2:30 x 4, in heats of 8 every 1:15
  3 rope climb
  10 m sled push

part D any order, in pairs
  20 cal row, split
  20 dumbbell thruster @ 2x15/10 kg
  10 ring row

part E choose one
  300 m ski
  300 m row
`
	return workspace.Make(workspace.Root{Dir: "/quayside", House: true}, texts)
}

// More implements, and fewer people, never make a shortage.
func TestMoreKitNeverHurts(t *testing.T) {
	s := demo(t)
	rnd := rand.New(rand.NewPCG(1, 2))
	short := func(class int, counts []int) map[string]bool {
		h := *s.Env.House
		h.Class = class
		h.Kit = append([]model.KitItem(nil), h.Kit...)
		for i := range h.Kit {
			h.Kit[i].Count = counts[i]
		}
		env := *s.Env
		env.House = &h
		out := map[string]bool{}
		for _, f := range s.Files {
			for _, se := range f.Program().Sessions {
				for _, u := range equipment.Of(se, &env, estimate.Of(se, &env)) {
					if u.Short() {
						out[fmt.Sprint(se.Name, " ", u.Part.Kind, u.Part.Letter, " ", u.Kit)] = true
					}
				}
			}
		}
		return out
	}
	found := 0
	for range 40 {
		few, more := make([]int, len(s.Env.House.Kit)), make([]int, len(s.Env.House.Kit))
		for i := range few {
			few[i] = rnd.IntN(20)
			more[i] = few[i] + rnd.IntN(6)
		}
		class := 1 + rnd.IntN(30)
		before, after := short(class, few), short(1+rnd.IntN(class), more)
		found += len(before)
		for u := range after {
			assert.True(t, before[u], "%s is short with more kit and fewer people", u)
		}
	}
	assert.Greater(t, found, 400, "hardly anything was short")
}
