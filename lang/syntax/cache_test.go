package syntax_test

import (
	"runtime"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"

	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
)

// A file reads the same whatever has been read before it, and beside it.
func TestCacheChangesNothing(t *testing.T) {
	files := append(good(t), mistaken(t)...)
	want := make([]string, len(files))
	for i, src := range files {
		want[i] = whole(syntax.Parse(src))
	}
	var cache syntax.Cache
	var wg sync.WaitGroup
	for worker := range 8 {
		wg.Go(func() {
			for i := range files {
				i = (i*(2*worker+1) + worker) % len(files) // each in an order of its own
				assert.Equal(t, want[i], whole(cache.Parse(files[i])), files[i].Name)
			}
		})
	}
	wg.Wait()
}

// A line of the same text means something else in another kind of block.
func TestCacheKeepsBlocksApart(t *testing.T) {
	src := source.New("a.stint", "part A\n  effort 80%\n  row\nscaling x\n  effort 80%\n  row -> run\nmovement m\n  effort 80%\n  row -> run\n")
	var cache syntax.Cache
	cache.Parse(source.New("b.stint", "movement m\n  effort 80%\n  row -> run\n"))
	assert.Equal(t, whole(syntax.Parse(src)), whole(cache.Parse(src)))
}

func whole(f *syntax.File) string { return tree(f) + said(f.Diags) }

func BenchmarkParse(b *testing.B) {
	files := good(b)
	size := 0
	for _, src := range files {
		size += len(src.Text)
	}
	b.Run("fresh", func(b *testing.B) {
		b.SetBytes(int64(size))
		b.ReportAllocs()
		for b.Loop() {
			for _, src := range files {
				syntax.Parse(src)
			}
		}
	})
	b.Run("cached", func(b *testing.B) {
		b.SetBytes(int64(size))
		b.ReportAllocs()
		var cache syntax.Cache
		held := make([]*syntax.File, len(files)) // the cache keeps a line only while a file holds it
		for i, src := range files {
			held[i] = cache.Parse(src)
		}
		for b.Loop() {
			for _, src := range files {
				cache.Parse(src)
			}
		}
		runtime.KeepAlive(held)
	})
}
