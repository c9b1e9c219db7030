package model

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
)

// What is said of a line names the next step, and mends nothing that is a guess.
func TestHelp(t *testing.T) {
	for _, c := range []struct {
		line, help string
		fixes      int
	}{
		{"death by burpee", "every 1:00 until missed, with 1-2-... burpee under it", 0},
		{"12 burpe", "did you mean burpee?", 1},
		{"12 heroic squat", "did you mean air squat", 0}, // shares a word, and may be anything
		{"12 burpee and air squat", "12 x 1 burpee + 1 air squat", 0},
		{"max row", "write max m row or max cal row", 0},
		{"max run", "write max m run", 0},
		{"5 back squat @ heavy", "write a load such as @ 24/16 kg", 0},
		{"row 500 m @ esy", "did you mean easy?", 1},
		{"12 burpee @ 80%", "by the line best load", 0},
		{"12 air squat, with bungee band", "did you mean resistance band", 0},
		{"12 air squat, with vset", "did you mean vest?", 1},
	} {
		d := only(t, "session X\npart A\n  "+c.line+"\n")
		assert.Contains(t, d.Help, c.help, c.line)
		assert.Len(t, d.Fixes, c.fixes, "%s: %s", c.line, d.Help)
	}
	d := only(t, "cycle X\n  from 2027-03-01\n  weeks 4\n  week 4 deload\n")
	assert.Equal(t, "a lighter week is written easy", d.Help)
	assert.Len(t, d.Fixes, 1)
}

// only is the one thing that is said of a text.
func only(t *testing.T, text string) diag.Diagnostic {
	t.Helper()
	f := syntax.Parse(source.New("x.stint", text))
	require.Empty(t, f.Diags, text)
	env, _ := NewEnv([]*Decls{Declare(f)}, nil)
	ds := Resolve(f, env).Diags
	require.Len(t, ds, 1, text)
	return ds[0]
}
