package golden_test

import (
	"fmt"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"

	"stint.example/stint/lang/golden"
)

// A recorder notes failures instead of failing.
type recorder struct {
	testing.TB
	failures []string
}

func (r *recorder) Helper() {}

func (r *recorder) Errorf(format string, args ...any) {
	r.failures = append(r.failures, fmt.Sprintf(format, args...))
}

func (r *recorder) Fatalf(format string, args ...any) { r.Errorf(format, args...) }

func TestFile(t *testing.T) {
	name := filepath.Join(t.TempDir(), "testdata", "a.txt")
	try := func(update bool, text string) []string {
		golden.SetUpdating(t, update)
		r := &recorder{TB: t}
		golden.File(r, name, text)
		return r.failures
	}
	assert.Contains(t, try(false, "old\n")[0], "-update writes it")
	assert.Empty(t, try(true, "old\n"))
	assert.Empty(t, try(false, "old\n"))
	assert.Contains(t, try(false, "new\n")[0], "-old\n+new")
	assert.Empty(t, try(true, "new\n"))
	assert.Empty(t, try(false, "new\n"))
}
