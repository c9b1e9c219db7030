package codeaction_test

import (
	"maps"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"stint.example/stint/lang/ide/codeaction"
	"stint.example/stint/lang/workspace"
)

var hall = map[string]string{
	"house.stint": `stint 1

house Quayside Hall
  needs no-kit
  effort brisk 75-80%
  scaling no-kit
    has loaded bag, pier rope
    row -> run
  kit
    16 kettlebell @ 24 kg
    4 pier rope @ 20 kg
`,
	"movements/pier-hop.stint": `stint 1

movement pier hop
  also quay hop
  trains jump
  needs pier rope
  easier step-up
`,
	"sessions/reef.stint": `stint 1

session Reef

warm-up
  2:00 row @ brisk

part A in pairs, with pier rope @ 20 kg
  8 quay hops
  12 pier hops
  6 pier hop + 2 burpee

scaling no-kit
  pier hop -> burpee
scaling half from no-kit
  part A: 12 pier hop -> 6 pier hop

total 18 pier hop
`,
	"cycles/neap.stint": `stint 1

cycle Neap
  week 1
    mon Reef
    wed Reef, half
    fri Reef, no-kit
`,
}

// put is the hall with a piece of a file's text replaced, which has the cursor.
func put(t testing.TB, file, old, now string) map[string]string {
	t.Helper()
	out := maps.Clone(hall)
	require.Contains(t, out[file], old)
	out[file] = strings.Replace(out[file], old, now, 1)
	return out
}

func TestRename(t *testing.T) {
	for _, c := range []struct {
		name, file, old, now, to string
		want                     map[string]string // pieces of text that must stand, by file
		from, moved              string
	}{
		{"a movement from its use", "sessions/reef.stint", "12 pier hops", "12 pi‸er hops", "Jetty  jump",
			map[string]string{
				"movements/pier-hop.stint": "movement jetty jump\n  also quay hop\n",
				"sessions/reef.stint":      "  8 quay hops\n  12 jetty jumps\n  6 jetty jump + 2 burpee\n\nscaling no-kit\n  jetty jump -> burpee\nscaling half from no-kit\n  part A: 12 jetty jump -> 6 jetty jump\n\ntotal 18 jetty jump\n",
			}, "movements/pier-hop.stint", "movements/jetty-jump.stint"},
		{"a movement from its entry", "movements/pier-hop.stint", "movement pier hop", "movement pier hop‸",
			"jetty jump", map[string]string{
				"sessions/reef.stint": "12 jetty jumps",
			}, "movements/pier-hop.stint", "movements/jetty-jump.stint"},
		{"another name of a movement", "sessions/reef.stint", "8 quay hops", "8 ‸quay hops", "dock hop",
			map[string]string{
				"movements/pier-hop.stint": "movement pier hop\n  also dock hop\n",
				"sessions/reef.stint":      "  8 dock hops\n  12 pier hops\n",
			}, "", ""},
		{"a session from a cycle", "cycles/neap.stint", "mon Reef", "mon ‸Reef", "Trade Wind", map[string]string{
			"sessions/reef.stint": "session Trade Wind\n",
			"cycles/neap.stint":   "mon Trade Wind\n    wed Trade Wind, half\n    fri Trade Wind, no-kit\n",
		}, "sessions/reef.stint", "sessions/trade-wind.stint"},
		{"a scaling of the house", "sessions/reef.stint", "half from no-kit", "half from ‸no-kit", "at home",
			map[string]string{
				"house.stint":         "needs at home\n  effort brisk 75-80%\n  scaling at home\n",
				"sessions/reef.stint": "scaling at home\n  pier hop -> burpee\nscaling half from at home\n",
				"cycles/neap.stint":   "fri Reef, at home\n",
			}, "", ""},
		{"a scaling of the session", "cycles/neap.stint", "Reef, half", "Reef, ‸half", "light", map[string]string{
			"sessions/reef.stint": "scaling light from no-kit\n",
			"cycles/neap.stint":   "wed Reef, light\n",
		}, "", ""},
		{"kit of the house", "house.stint", "4 pier rope", "4 ‸pier rope", "mooring line", map[string]string{
			"house.stint":              "has loaded bag, mooring line\n",
			"movements/pier-hop.stint": "needs mooring line\n",
			"sessions/reef.stint":      "with mooring line @ 20 kg\n",
		}, "", ""},
		{"a word for how hard", "sessions/reef.stint", "@ brisk", "@ br‸isk", "lively", map[string]string{
			"house.stint":         "effort lively 75-80%\n",
			"sessions/reef.stint": "2:00 row @ lively\n",
		}, "", ""},
		{"a cycle", "cycles/neap.stint", "cycle Neap", "cycle Nea‸p", "Spring Tide", map[string]string{
			"cycles/neap.stint": "cycle Spring Tide\n",
		}, "cycles/neap.stint", "cycles/spring-tide.stint"},
		{"the house", "house.stint", "house Quayside", "house Quay‸side", "Harbour Hall", map[string]string{
			"house.stint": "house Harbour Hall\n",
		}, "", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			s, f, off := marked(t, put(t, c.file, c.old, c.now))
			before := drawn(s)
			r, err := codeaction.Rename(s, f, off, c.to)
			require.NoError(t, err)
			assert.Equal(t, c.from, r.From)
			assert.Equal(t, c.moved, r.To)
			texts := renamed(t, s, r)
			for name, piece := range c.want {
				if name == r.From {
					name = r.To
				}
				assert.Contains(t, texts[name], piece)
			}
			assert.Equal(t, before, drawn(workspace.Make(s.Root, texts)), "a rename draws nothing new")
		})
	}
}

func TestRenameRefuses(t *testing.T) {
	for _, c := range []struct{ name, file, old, now, to, why string }{
		{"a movement of the book", "sessions/reef.stint", "2 burpee", "2 ‸burpee", "fall",
			"burpee is in the built-in book, where it cannot be renamed: an entry movement burpee with a line also gives it another name here"},
		{"a name of the book", "sessions/reef.stint", "2 burpee", "2 squat ‸thrust", "fall",
			"the built-in book calls sprawl by that name, and that cannot be changed"},
		{"what nothing declares", "sessions/reef.stint", "2 burpee", "2 bur‸p", "fall", `nothing declares "burp" yet, so there is nothing to rename`},
		{"a pattern", "movements/pier-hop.stint", "trains jump", "trains ‸jump", "leap",
			"a pattern has the name that the notation gives it: jump stays"},
		{"kit of the book", "house.stint", "16 kettlebell", "16 kettle‸bell", "bell",
			"movements of the built-in book need the kettlebell by that name"},
		{"a word of stint", "sessions/reef.stint", "@ brisk", "@ ‸easy", "gentle", "easy is a word of stint itself"},
		{"no name at all", "sessions/reef.stint", "2:00 row", "2:‸00 row", "x", "no name stands here"},

		{"to one of the book", "sessions/reef.stint", "12 pier hops", "12 ‸pier hops", "Burpees",
			"the built-in book has a movement burpee already"},
		{"to one whose plural is taken", "sessions/reef.stint", "12 pier hops", "12 ‸pier hops", "box-jump",
			"the built-in book has a movement box jump already"},
		{"to another name of its own", "sessions/reef.stint", "12 pier hops", "12 ‸pier hops", "quay-hop",
			"quay-hops is another name of pier hop already: take it out of its line also first"},
		{"another name to its own", "sessions/reef.stint", "8 quay hops", "8 ‸quay hops", "pier hop",
			"that is what the movement is called itself"},
		{"to a scaling of a session", "house.stint", "scaling no-kit", "scaling ‸no-kit", "half",
			"sessions/reef.stint has a scaling half already"},
		{"to a scaling of the house", "sessions/reef.stint", "scaling half", "scaling ‸half", "no kit",
			"house.stint has a scaling no-kit already"},
		{"to kit that there is", "house.stint", "4 pier rope", "4 ‸pier rope", "loaded bags",
			"there is kit called loaded bag already"},

		{"to a number", "sessions/reef.stint", "12 pier hops", "12 ‸pier hops", "hop 2", `"hop 2" cannot be the name of a movement: a movement's name may not hold "2"`},
		{"to a word that means something", "sessions/reef.stint", "12 pier hops", "12 ‸pier hops", "rest hop", `may not start with "rest"`},
		{"to a choice", "sessions/reef.stint", "12 pier hops", "12 ‸pier hops", "hop or skip", `"hop or skip" cannot be the name of a movement`},
		{"to two lines", "sessions/reef.stint", "session Reef", "session ‸Reef", "Reef > knot", `cannot be the name of a session`},
		{"to a day of rest", "sessions/reef.stint", "session Reef", "session ‸Reef", "Rest", `"Rest" cannot be the name of a session: a cycle could not plan it by that name`},
		{"to two names", "sessions/reef.stint", "session Reef", "session ‸Reef", "Reef, light", `cannot be the name of a session`},
		{"to nothing", "sessions/reef.stint", "session Reef", "session ‸Reef", " ", `"" is no name: a name has letters`},
	} {
		t.Run(c.name, func(t *testing.T) {
			s, f, off := marked(t, put(t, c.file, c.old, c.now))
			_, err := codeaction.Rename(s, f, off, c.to)
			require.Error(t, err)
			assert.Contains(t, err.Error(), c.why)
		})
	}
}

// A file that is called after nothing, holds more, or would take another's place stays.
func TestRenameLeavesFiles(t *testing.T) {
	texts := put(t, "sessions/reef.stint", "session Reef", "session ‸Reef")
	texts["sessions/trade-wind.stint"] = "session Other\n"
	s, f, off := marked(t, texts)
	r, err := codeaction.Rename(s, f, off, "Trade Wind")
	require.NoError(t, err)
	assert.Empty(t, r.From)

	texts = put(t, "sessions/reef.stint", "session Reef", "session ‸Reef")
	texts["sessions/reef.stint"] += "\nsession Other\n"
	s, f, off = marked(t, texts)
	r, err = codeaction.Rename(s, f, off, "Lee Shore")
	require.NoError(t, err)
	assert.Empty(t, r.From)
}

// Renaming any name and renaming it back gives the same texts, and on the way nothing new
// is drawn.
func TestRenameAndBack(t *testing.T) {
	demo := folder(t, "../../../testdata/quayside")
	for _, texts := range []map[string]string{hall, demo} {
		s := workspace.Make(workspace.Root{Dir: "/hall", House: true}, texts)
		before := drawn(s)
		rapid.Check(t, func(t *rapid.T) {
			f := rapid.SampledFrom(s.Files).Draw(t, "file")
			names := f.Refs()
			if len(names) == 0 {
				return
			}
			r := rapid.SampledFrom(names).Draw(t, "name")
			to := rapid.StringMatching(`zz[a-z]{0,3}( [a-z]{2,6}|-[a-z]{2,6}|'s hop){0,2}`).Draw(t, "to")
			_, was, _ := codeaction.Renamable(s, f, r.At.Start)
			there, err := codeaction.Rename(s, f, r.At.Start, to)
			if err != nil {
				return
			}
			mid := workspace.Make(s.Root, renamed(t, s, there))
			if got := drawn(mid); !slices.Equal(before, got) {
				t.Fatalf("renaming %s %s to %s draws %v, before it was %v", r.Kind, r.Name, to, got, before)
			}
			// The name stands as far to the right as the edits before it have grown.
			off := r.At.Start
			for _, e := range there.Edits {
				if e.At.File == r.At.File && e.At.Start < r.At.Start {
					off += len(e.New) - e.At.Len()
				}
			}
			name := f.Path
			if name == there.From {
				name = there.To
			}
			back, err := codeaction.Rename(mid, mid.File(name), off, was)
			if err != nil {
				t.Fatalf("renaming %s back to %s: %v", to, was, err)
			}
			if got := renamed(t, mid, back); !maps.Equal(texts, got) {
				t.Fatalf("renamed to %s and back to %s, the texts are others", to, was)
			}
		})
	}
}

// renamed is the texts of a workspace with a renaming made.
func renamed(t require.TestingT, s *workspace.Snapshot, r *codeaction.Renaming) map[string]string {
	out := made(t, s, r.Edits)
	if r.From != "" {
		out[r.To] = out[r.From]
		delete(out, r.From)
	}
	return out
}

func TestRenamable(t *testing.T) {
	for _, c := range []struct{ old, now, at, name string }{
		{"12 pier hops", "12 pier ‸hops", "pier hops", "pier hop"},
		{"8 quay hops", "8 quay hops‸", "quay hops", "quay hop"},
		{"session Reef", "session ‸Reef", "Reef", "Reef"},
		{"session Reef", "‸session Reef", "", ""},
	} {
		s, f, off := marked(t, put(t, "sessions/reef.stint", c.old, c.now))
		at, name, err := codeaction.Renamable(s, f, off)
		require.NoError(t, err)
		assert.Equal(t, c.name, name)
		assert.Equal(t, c.at, at.Text())
	}
}
