// Package golden compares output with files that hold what it should be. It owns the one
// -update flag of all tests.
package golden

import (
	"flag"
	"os"
	"path/filepath"
	"testing"

	"github.com/aymanbagabas/go-udiff"
)

// update is set by -update in packages that have golden files; go test refuses a flag that a
// package does not know, so the environment sets it for all of them at once.
var update = flag.Bool("update", os.Getenv("STINT_UPDATE") != "",
	"write golden files anew; STINT_UPDATE=1 does it for all packages")

// Updating reports whether golden files are to be written rather than compared.
func Updating() bool { return *update }

// SetUpdating does what the flag does, for the length of a test.
func SetUpdating(t testing.TB, to bool) {
	t.Helper()
	was := *update
	*update = to
	t.Cleanup(func() { *update = was })
}

// File compares a text with a file, or writes the file with -update.
func File(t testing.TB, path, got string) {
	t.Helper()
	if *update {
		if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(got), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatalf("%v; -update writes it", err)
	}
	if string(want) != got {
		t.Errorf("%s is not what it was; look at the difference, and run with -update if it is right:\n%s",
			path, udiff.Unified("want", "got", string(want), got))
	}
}
