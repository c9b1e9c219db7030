package lsp

import (
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"testing"
	"time"

	"stint.example/stint/lang/bench"
)

// size is how many sessions the benchmarks have; STINT_BENCH sets another number.
func size() int {
	if n, err := strconv.Atoi(os.Getenv("STINT_BENCH")); err == nil {
		return n
	}
	return 1000
}

// BenchmarkTyping is a change in one session of many, until its findings are there.
func BenchmarkTyping(b *testing.B) {
	dir, name := large(b)
	e := startIn(b, dir)
	e.open(name)
	e.settle()
	text := e.text(name)
	b.ResetTimer()
	for i := range b.N {
		e.change(name, fmt.Sprintf("%s\n# %d\n", text, i))
		e.diagnostics(name)
	}
	b.StopTimer()
}

// BenchmarkOpening is from the start of the server until an open session of many has its
// findings, and until all have.
func BenchmarkOpening(b *testing.B) {
	dir, name := large(b)
	b.ResetTimer()
	for range b.N {
		began := time.Now()
		e := startIn(b, dir)
		e.open(name)
		e.diagnostics(name)
		b.ReportMetric(float64(time.Since(began).Milliseconds()), "ms-first")
		e.settle()
		b.ReportMetric(float64(time.Since(began).Milliseconds()), "ms-all")
	}
}

// large makes a workspace and names a session in it.
func large(b *testing.B) (dir, name string) {
	b.Helper()
	dir = b.TempDir()
	for name, text := range bench.Workspace(size(), 1) {
		write(b, filepath.Join(dir, filepath.FromSlash(name)), text)
	}
	sessions, err := filepath.Glob(filepath.Join(dir, "sessions", "*.stint"))
	if err != nil || len(sessions) == 0 {
		b.Fatal("no sessions", err)
	}
	return dir, "sessions/" + filepath.Base(sessions[0])
}
