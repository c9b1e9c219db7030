package lsp

import (
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"sync"
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
	e.loaded(name)
	text := e.text(name)
	b.ResetTimer()
	for i := range b.N {
		e.change(name, fmt.Sprintf("%s\n# %d\n", text, i))
		e.diagnostics(name)
	}
	b.StopTimer()
}

// loaded waits until the whole workspace of a document is read.
func (e *editor) loaded(name string) {
	e.t.Helper()
	e.diagnostics(name)
	e.srv.mu.Lock()
	f, _, _ := e.srv.findDocument(string(e.uri(name)))
	e.srv.mu.Unlock()
	<-f.loaded
}

// BenchmarkOpening is from the start of the server until an open session of many has its
// findings, and until all are read.
func BenchmarkOpening(b *testing.B) {
	dir, name := large(b)
	b.ResetTimer()
	for range b.N {
		began := time.Now()
		e := startIn(b, dir)
		e.open(name)
		e.diagnostics(name)
		b.ReportMetric(float64(time.Since(began).Milliseconds()), "ms-first")
		e.loaded(name)
		b.ReportMetric(float64(time.Since(began).Milliseconds()), "ms-read")
	}
}

// texts are made once: that takes longer than what is measured.
var texts = sync.OnceValue(func() map[string]string { return bench.Workspace(size(), 1) })

// large makes a workspace and names a session in it.
func large(b *testing.B) (dir, name string) {
	b.Helper()
	dir = b.TempDir()
	for name, text := range texts() {
		write(b, filepath.Join(dir, filepath.FromSlash(name)), text)
	}
	sessions, err := filepath.Glob(filepath.Join(dir, "sessions", "*.stint"))
	if err != nil || len(sessions) == 0 {
		b.Fatal("no sessions", err)
	}
	return dir, "sessions/" + filepath.Base(sessions[0])
}
