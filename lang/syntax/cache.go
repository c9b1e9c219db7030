package syntax

import (
	"strings"
	"sync"
	"sync/atomic"
	"weak"
)

// A Cache reads texts and remembers lines: an archive of sessions says the same lines
// over and over, and an edit changes one. It remembers a line as long as a file that
// somebody holds has it, so that hours of typing take no more room than the text. It may
// be used from several goroutines. The zero value is ready.
type Cache struct {
	lines sync.Map     // from lineKey to weak.Pointer[Parsed]
	size  atomic.Int64 // of lines, with those that nobody holds any more
	limit atomic.Int64 // the size at which those are looked for
	sweep sync.Mutex
}

type lineKey struct {
	body string
	ctx  Context
}

func (c *Cache) line(body string, ctx Context) *Parsed {
	if len(body) > MaxBody {
		return parseLine(body, ctx) // not worth remembering
	}
	if w, ok := c.lines.Load(lineKey{body, ctx}); ok {
		if p := w.(weak.Pointer[Parsed]).Value(); p != nil {
			return p
		}
	}
	// What is remembered is a copy, so that a line does not keep its whole file.
	body = strings.Clone(body)
	p := parseLine(body, ctx)
	if _, known := c.lines.Swap(lineKey{body, ctx}, weak.Make(p)); !known {
		if c.size.Add(1) > max(c.limit.Load(), sweepAt) {
			c.evict()
		}
	}
	return p
}

// sweepAt is the least size at which lines are evicted.
const sweepAt = 4096

// evict drops the lines that nobody holds. It runs when the cache has grown to twice what
// the last run left, so that its cost for each line is constant.
func (c *Cache) evict() {
	if !c.sweep.TryLock() {
		return // another is at it
	}
	defer c.sweep.Unlock()
	left := int64(0)
	c.lines.Range(func(k, w any) bool {
		if w.(weak.Pointer[Parsed]).Value() != nil {
			left++
		} else if c.lines.CompareAndDelete(k, w) {
			c.size.Add(-1)
		}
		return true
	})
	c.limit.Store(2 * left)
}
