package bench

import (
	"go/format"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/check/rules"
	stintformat "stint.example/stint/lang/format"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/workspace"
)

// The generated workspace is what coaches would keep: clean, canonical, and varied.
func TestWorkspaceIsClean(t *testing.T) {
	texts := Workspace(200, 1)
	s := workspace.Make(workspace.Root{}, texts)
	for i, d := range s.Check() {
		if i == 10 {
			break
		}
		t.Errorf("%s %v: %s [%s]", d.At.File.Name, d.At.File.Position(d.At.Start), d.Message, d.Rule)
	}
	for _, f := range s.Files {
		require.Equal(t, f.Src.Text, stintformat.Source(f.Syntax()), f.Path)
	}
	assert.Equal(t, Workspace(20, 1), Workspace(20, 1), "the same seed makes the same texts")
	assert.NotEqual(t, Workspace(20, 1), Workspace(20, 2))
}

// thousand is the workspace that all is measured on. Drawing it takes longer than most of what
// is measured.
var thousand = sync.OnceValue(func() map[string]string { return Workspace(1000, 1) })

func files() ([]*source.File, int64) {
	var out []*source.File
	var bytes int64
	for name, text := range thousand() {
		out = append(out, source.New(name, text))
		bytes += int64(len(text))
	}
	slices.SortFunc(out, func(a, b *source.File) int {
		if a.Name < b.Name {
			return -1
		}
		return 1
	})
	return out, bytes
}

// BenchmarkParse reads every file with one cache, as a workspace does.
func BenchmarkParse(b *testing.B) {
	fs, n := files()
	b.SetBytes(n)
	b.ReportAllocs()
	for b.Loop() {
		var c syntax.Cache
		var held []*syntax.File // as a workspace does: what nobody holds is not remembered
		for _, f := range fs {
			held = append(held, c.Parse(f))
		}
		runtime.KeepAlive(held)
	}
}

// BenchmarkParseCold reads every file as if no line had been seen before.
func BenchmarkParseCold(b *testing.B) {
	fs, n := files()
	b.SetBytes(n)
	b.ReportAllocs()
	for b.Loop() {
		for _, f := range fs {
			syntax.Parse(f)
		}
	}
}

// BenchmarkFormat reads and prints every file.
func BenchmarkFormat(b *testing.B) {
	fs, n := files()
	b.SetBytes(n)
	b.ReportAllocs()
	for b.Loop() {
		var c syntax.Cache
		var held []*syntax.File
		for _, f := range fs {
			held = append(held, c.Parse(f))
			stintformat.Source(held[len(held)-1])
		}
		runtime.KeepAlive(held)
	}
}

// BenchmarkCheck reads, resolves and checks the whole workspace, on as many processors
// as there are.
func BenchmarkCheck(b *testing.B) { benchmarkCheck(b, thousand()) }

// BenchmarkCheckUntimed does the same in a house that sets off all rules which need to know
// how long a session takes. The difference is what estimating costs.
func BenchmarkCheckUntimed(b *testing.B) {
	texts := maps.Clone(thousand())
	for _, r := range rules.All() {
		if r.Family == "clock" || r.Family == "rest" || r.Name == "week-not-easy" || r.Name == "week-monotone" {
			texts["house.stint"] += "  rule " + r.Name + " off > Measured without it.\n"
		}
	}
	benchmarkCheck(b, texts)
}

func benchmarkCheck(b *testing.B, texts map[string]string) {
	var n int64
	for _, t := range texts {
		n += int64(len(t))
	}
	b.SetBytes(n)
	b.ReportAllocs()
	for b.Loop() {
		workspace.Make(workspace.Root{}, texts).Check()
	}
}

// BenchmarkGofmt is the peer: gofmt's own library over as many bytes of Go.
func BenchmarkGofmt(b *testing.B) {
	_, want := files()
	root, err := exec.Command("go", "env", "GOROOT").Output()
	require.NoError(b, err)
	names, err := filepath.Glob(filepath.Join(strings.TrimSpace(string(root)), "src", "net", "http", "*.go"))
	require.NoError(b, err)
	require.NotEmpty(b, names)
	var srcs [][]byte
	var n int64
	for i := 0; n < want; i++ {
		text, err := os.ReadFile(names[i%len(names)])
		require.NoError(b, err)
		srcs = append(srcs, text)
		n += int64(len(text))
	}
	b.SetBytes(n)
	b.ReportAllocs()
	for b.Loop() {
		for _, s := range srcs {
			_, err := format.Source(s)
			require.NoError(b, err)
		}
	}
}

// BenchmarkEstimate times every session of the workspace and every version of it, as the
// rules of the clock do, on one processor as BenchmarkParse is.
func BenchmarkEstimate(b *testing.B) {
	texts := maps.Clone(thousand())
	var n int64
	for _, t := range texts {
		n += int64(len(t))
	}
	s := workspace.Make(workspace.Root{}, texts)
	b.SetBytes(n)
	b.ReportAllocs()
	for b.Loop() {
		for _, f := range s.Files {
			for _, session := range f.Program().Sessions {
				estimate.Of(session, s.Env)
				for _, v := range session.Versions {
					estimate.Of(v.Session, s.Env)
				}
			}
		}
	}
}
