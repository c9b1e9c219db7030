package refs_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stint.example/stint/lang/refs"
	"stint.example/stint/lang/workspace"
)

var texts = map[string]string{
	"house.stint": `stint 1

house Quayside Hall
  needs no-kit
  effort brisk 75-80%
  scaling no-kit
    has loaded bag, skipping rope
    row -> run
  kit
    16 kettlebells @ 24 kg
      allow kit-short > Shared.
  allow sides-uneven > Watched.
`,
	"movements/pier-hop.stint": `stint 1

movement pier hop
  also quay hop
  trains jump
  needs box
  easier step-up
`,
	"sessions/reef.stint": `stint 1

session Reef

warm-up
  2:00 row @ easy

part A in pairs, with vest @ 6/4 kg
  8 quay hops
  5 front squat @ 80% of back squat
  rest: 100 m jog

scaling no-kit
  pier-hop -> burpee
scaling half from no-kit
  part A: with vest @ 6/4 kg -> nothing

total 8 pier hop
`,
	"cycles/neap.stint": `stint 1

cycle Neap
  progress front squat @ 70-75%
  week 1
    mon reef, half
    tue Lost
    wed rest
`,
}

// all lists the names of a file: what is written, what it is of, and how.
func all(s *workspace.Snapshot, path string) []string {
	var out []string
	for _, r := range s.File(path).Refs() {
		line := fmt.Sprintf("%s = %s %s", r.At.Text(), r.Kind, r.Name)
		if r.In != "" {
			line += " in " + r.In
		}
		for _, f := range []struct {
			is   bool
			says string
		}{{r.Def, "def"}, {r.Also, "also"}, {!r.Known, "unknown"}} {
			if f.is {
				line += ", " + f.says
			}
		}
		out = append(out, line)
	}
	return out
}

func TestNamesLeadToWhatDeclaresThem(t *testing.T) {
	s := workspace.Make(workspace.Root{Dir: "/quayside", House: true}, texts)
	assert.Equal(t, strings.Split(`Quayside Hall = house Quayside Hall, def
no-kit = scaling no-kit
brisk = effort brisk, def
no-kit = scaling no-kit, def
loaded bag = kit loaded bag
skipping rope = kit skipping rope
row = movement row
run = movement run
kettlebells = kit kettlebell, def
kit-short = rule kit-short
sides-uneven = rule sides-uneven`, "\n"), all(s, "house.stint"))
	assert.Equal(t, strings.Split(`pier hop = movement pier hop, def
quay hop = movement pier hop, def, also
jump = pattern jump
box = kit box
step-up = movement step-up`, "\n"), all(s, "movements/pier-hop.stint"))
	assert.Equal(t, strings.Split(`Reef = session Reef, def
row = movement row
easy = effort easy
vest = kit vest
quay hops = movement pier hop, also
front squat = movement front squat
back squat = movement back squat
jog = movement jog
no-kit = scaling no-kit
pier-hop = movement pier hop
burpee = movement burpee
half = scaling half in reef, def
no-kit = scaling no-kit
vest = kit vest
pier hop = movement pier hop`, "\n"), all(s, "sessions/reef.stint"))
	assert.Equal(t, strings.Split(`Neap = cycle Neap, def
front squat = movement front squat
reef = session Reef
half = scaling half in reef
Lost = session Lost, unknown`, "\n"), all(s, "cycles/neap.stint"))
}

func TestAt(t *testing.T) {
	s := workspace.Make(workspace.Root{Dir: "/quayside", House: true}, texts)
	f := s.File("sessions/reef.stint")
	at := strings.Index(f.Src.Text, "quay hops")
	for off := at; off <= at+len("quay hops"); off++ {
		r, ok := refs.At(f.Refs(), off)
		require.True(t, ok)
		assert.Equal(t, "pier hop", r.Name)
	}
	_, ok := refs.At(f.Refs(), at-1)
	assert.False(t, ok)
}

// Uses of one thing, in all files and by all its names.
func TestUses(t *testing.T) {
	s := workspace.Make(workspace.Root{Dir: "/quayside", House: true}, texts)
	uses := func(id refs.ID) []string {
		var out []string
		for f, r := range s.Uses(id) {
			out = append(out, fmt.Sprintf("%s %s", f.Path, r.At.Text()))
		}
		return out
	}
	r, _ := refs.At(s.File("movements/pier-hop.stint").Refs(),
		strings.Index(texts["movements/pier-hop.stint"], "pier hop"))
	assert.Equal(t, []string{"movements/pier-hop.stint pier hop", "movements/pier-hop.stint quay hop",
		"sessions/reef.stint quay hops", "sessions/reef.stint pier-hop", "sessions/reef.stint pier hop"}, uses(r.ID))
	assert.Equal(t, []string{"cycles/neap.stint half", "sessions/reef.stint half"},
		uses(refs.ID{Kind: refs.Scaling, Key: "half", In: "reef"}))
}
