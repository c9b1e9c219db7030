package workspace

import (
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestParallelForRunsEach(t *testing.T) {
	var seen [1000]atomic.Int32
	parallelFor(len(seen), func(i int) { seen[i].Add(1) })
	for i := range seen {
		assert.EqualValues(t, 1, seen[i].Load(), i)
	}
	parallelFor(0, func(int) { t.Error("there is nothing to do") })
}

func TestParallelForPanicsInTheCaller(t *testing.T) {
	assert.PanicsWithValue(t, "slip", func() {
		parallelFor(10, func(i int) {
			if i == 3 {
				panic("slip")
			}
		})
	})
}
