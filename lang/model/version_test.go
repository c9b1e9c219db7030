package model

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
)

const versionHouse = `stint 1

house Hall
  scaling home > At home.
    has loaded bag
    row -> march in place
    400 m row -> 300 m run
  scaling light
`

const written = `session Reef

part A 3 rounds
  400 m row
  12 kettlebell swing @ 24/16 kg
  4 x 5 front squat @ 75%, rest 2:00
  10 push-up @ RPE 8
part B for time, cap 9:00
  12 kettlebell swing @ 24/16 kg
  20 row or ski
part C
  10 burpee
`

// made is a session's version as lines, and what the file draws.
func made(t *testing.T, version, scalings string) (lines []string, ds []diag.Diagnostic) {
	t.Helper()
	house := Declare(syntax.Parse(source.New("house.stint", versionHouse)))
	require.Empty(t, house.Diags)
	text := strings.Replace(written, "20 row or ski", "20 cal row or ski", 1) + "\n" + scalings
	f := syntax.Parse(source.New("sessions/reef.stint", text))
	require.Empty(t, f.Diags)
	env, shared := NewEnv([]*Decls{house}, nil)
	require.Empty(t, shared)
	p := Resolve(f, env)
	for _, v := range p.Sessions[0].Versions {
		if v.Name != version {
			continue
		}
		for _, g := range v.Session.Parts {
			head := fmt.Sprintf("%s: %s", g.Letter, g.Repeat.Kind)
			if c, ok := g.Repeat.Count.One(); ok {
				head += fmt.Sprintf(" %g", c)
			}
			if c, ok := g.Cap.One(); ok {
				head += fmt.Sprintf(" cap %g", c)
			}
			lines = append(lines, head)
			for _, s := range g.Steps {
				if w, ok := s.(*Work); ok {
					lines = append(lines, "  "+brief(w))
				}
			}
		}
	}
	return lines, p.Diags
}

// brief is a line of work in short: sets, dose, movements, loads, rest.
func brief(w *Work) string {
	var out []string
	if n, ok := w.Sets.One(); ok {
		out = append(out, fmt.Sprintf("%gx", n))
	}
	if n, ok := w.Dose.One(); ok {
		out = append(out, fmt.Sprintf("%g %s", n, w.Dose.Unit))
	}
	for i, m := range w.Moves {
		if i > 0 {
			out = append(out, "or")
		}
		out = append(out, m.Name)
	}
	for _, ld := range w.Loads {
		out = append(out, fmt.Sprintf("@ %v %s", ld.Amount.Terms[0], ld.Amount.Unit))
	}
	if w.Rest != nil {
		out = append(out, "rest")
	}
	return strings.Join(out, " ")
}

var plain = []string{"A: rounds 3", "  400 m row", "  12 rep kettlebell swing @ [24 16] kg", "  4x 5 rep front squat @ [75] % rest", "  10 rep push-up @ [8] RPE",
	"B: once cap 540", "  12 rep kettlebell swing @ [24 16] kg", "  20 cal row or ski", "C: once", "  10 rep burpee"}

// but is the session as written with some of its lines changed.
func but(changes ...string) []string {
	out := append([]string{}, plain...)
	for i := 0; i < len(changes); i += 2 {
		for j := range out {
			if out[j] == changes[i] {
				out[j] = changes[i+1]
			}
		}
	}
	return out
}

func TestVersions(t *testing.T) {
	for _, row := range []struct {
		name, version, text string
		want                []string
	}{
		{"a movement everywhere; its weight does not carry over", "light", "scaling light\n  kettlebell swing -> bag swing\n",
			but("  12 rep kettlebell swing @ [24 16] kg", "  12 rep bag swing")},
		{"how hard does carry over, and so do sets and rest", "light", "scaling light\n  push-up -> knee push-up\n  front squat -> goblet squat\n",
			but("  10 rep push-up @ [8] RPE", "  10 rep knee push-up @ [8] RPE", "  4x 5 rep front squat @ [75] % rest", "  4x 5 rep goblet squat rest")},
		{"a count alone changes: the load stays", "light", "scaling light\n  4 x 5 front squat -> 3 x 5 front squat\n",
			but("  4x 5 rep front squat @ [75] % rest", "  3x 5 rep front squat @ [75] % rest")},
		{"the left side need not say the sets", "light", "scaling light\n  5 front squat -> 3 front squat\n",
			but("  4x 5 rep front squat @ [75] % rest", "  4x 3 rep front squat @ [75] % rest")},
		{"one part only", "light", "scaling light\n  part B: kettlebell swing -> bag swing\n",
			append(append([]string{}, plain[:6]...), "  12 rep bag swing", "  20 cal row or ski", "C: once", "  10 rep burpee")},
		{"heads and clauses", "light", "scaling light\n  part A: 3 rounds -> 2 rounds\n  cap 9:00 -> cap 11:00\n",
			but("A: rounds 3", "A: rounds 2", "B: once cap 540", "B: once cap 660")},
		{"a load alone", "light", "scaling light\n  @ 24/16 kg -> @ 16/12 kg\n",
			but("  12 rep kettlebell swing @ [24 16] kg", "  12 rep kettlebell swing @ [16 12] kg")},
		{"a part left out", "light", "scaling light\n  part C -> nothing\n", plain[:8]},
		{"a part written anew", "light", "scaling light\n  part C -> 2 rounds\n    5 burpee\n",
			but("C: once", "C: rounds 2", "  10 rep burpee", "  5 rep burpee")},
		{"a line left out, a choice made", "light", "scaling light\n  burpee -> nothing\n  ski -> nothing\n",
			append(append([]string{}, plain[:7]...), "  20 cal row", "C: once")},
		{"the house's swaps, the one that says more", "home", "", nil},
		{"a version on a version keeps what that one changed", "shed", "scaling light\n  kettlebell swing -> kettlebell swing @ 16/12 kg\nscaling shed from light\n  12 kettlebell swing -> 6 kettlebell swing\n",
			but("  12 rep kettlebell swing @ [24 16] kg", "  6 rep kettlebell swing @ [16 12] kg")},
		{"a version on two", "both", "scaling light\n  3 rounds -> 2 rounds\nscaling dry\n  burpee -> air squat\nscaling both from light, dry\n  push-up -> knee push-up\n",
			but("A: rounds 3", "A: rounds 2", "  10 rep burpee", "  10 rep air squat", "  10 rep push-up @ [8] RPE", "  10 rep knee push-up @ [8] RPE")},
		{"a part that one writes anew, the next may change", "next", "scaling light\n  part C -> 2 rounds\n    5 burpee\nscaling next from light\n  burpee -> air squat\n",
			but("C: once", "C: rounds 2", "  10 rep burpee", "  5 rep air squat")},
		{"what one leaves out the next may bring back", "back", "scaling light\n  burpee -> nothing\nscaling back from light\n  burpee -> 5 burpee\n",
			but("  10 rep burpee", "  5 rep burpee")},
	} {
		got, ds := made(t, row.version, row.text)
		if row.want == nil { // the house's: a row of 400 m, and calories that a march does not fit
			assert.Equal(t, "  300 m run", got[1], row.name)
			continue
		}
		assert.Equal(t, row.want, got, row.name)
		for _, d := range ds {
			// The house's march does not fit calories; that is another version's matter.
			assert.Equal(t, "unit-unfit", d.Rule, "%s: %s", row.name, d.Message)
		}
	}
}

func TestSwapsThatCannotBe(t *testing.T) {
	for text, want := range map[string]string{
		"scaling light\n  ring row -> prone pull\n":                                        "swap-unmatched",
		"scaling light\n  part A: burpee -> air squat\n":                                   "swap-unmatched",
		"scaling light\n  part D -> nothing\n":                                             "swap-unmatched",
		"scaling light\n  burpee -> burpee\n":                                              "swap-unchanged",
		"scaling light\n  burpee -> air squat\n  burpee -> push-up\n":                      "swap-unclear",
		"scaling light\n  400 m row -> 300 m run\n  0.4 km row -> 200 m run\n":             "swap-unclear",
		"scaling light\n  burpee -> cap 9:00\n":                                            "swap-unclear",
		"scaling light\n  400 m row -> burpee\n":                                           "unit-unfit",
		"scaling a from b\n  burpee -> air squat\nscaling b from a\n  burpee -> push-up\n": "version-unknown",
		"scaling a from nowhere\n  burpee -> air squat\n":                                  "version-unknown",
		"scaling light\n  burpee -> air squat\nscaling light\n  push-up -> knee push-up\n": "name-taken",
		"scaling light\n  effort 70%\n  kettelbell swing -> bag swing\n":                   "movement-unknown",
	} {
		_, ds := made(t, "", text)
		found := false
		for _, d := range ds {
			found = found || d.Rule == want
		}
		assert.True(t, found, "%q draws no %s but %v", text, want, ds)
	}
}
