package prose_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stint.example/stint/lang/model"
	"stint.example/stint/lang/render/prose"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
)

// loads reads a session with one line of work in it, and takes its loads or its dose.
func quantity(t *testing.T, line string) *model.Quantity {
	t.Helper()
	f := syntax.Parse(source.New("a.stint", "stint 1\n\nsession Reef\n\npart A\n  "+line+"\n"))
	env, _ := model.NewEnv(nil, nil)
	w, ok := model.Resolve(f, env).Sessions[0].Parts[0].Steps[0].(*model.Work)
	require.True(t, ok)
	if len(w.Loads) > 0 {
		return w.Loads[0].Amount
	}
	return w.Dose
}

// The pairs are those that the trade sells as one thing (24 kg and 53 lb, 16 and 35, 20 and
// 45 within a pound, 60 cm and 24 in): common practice, no source. The lengths are exact
// factors of NIST SP 811, rounded.
func TestOther(t *testing.T) {
	for line, want := range map[string]string{
		"10 kettlebell swing @ 24/16 kg": "53/35 lb",
		"10 kettlebell swing @ 53/35 lb": "24/16 kg",
		"10 kettlebell swing @ 20 lb":    "9 kg",
		"10 deadlift @ 60-70-80 kg":      "132-154-176 lb",
		"8 dumbbell press @ 2x15/10 kg":  "33/22 lb",
		"12 step-up @ 60/50 cm":          "24/20 in",
		"12 step-up @ 24 in":             "61 cm",
		"10 wall ball @ 3 m":             "9.8 ft",
		"400 m run":                      "437 yd",
		"1600 m run":                     "0.99 mile",
		"1 mile run":                     "1609 m",
		"5 km run":                       "3.11 mile",
		"5 deadlift @ 80%":               "",
		"12 burpee":                      "",
		"1:00 row":                       "",
	} {
		assert.Equal(t, want, prose.Other(quantity(t, line)), line)
	}
	assert.Empty(t, prose.Other(nil))
}
