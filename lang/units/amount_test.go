package units

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestSame(t *testing.T) {
	assert.True(t, Same(10*Foot.ToBase(10), Foot.ToBase(100)))
	assert.False(t, Same(100, 100.001))
	assert.True(t, IsWhole(3))
	assert.False(t, IsWhole(3.5))
}

func TestFormatAmount(t *testing.T) {
	assert.Equal(t, "1:30", FormatAmount(90, "s", "min"))
	assert.Equal(t, "12", FormatAmount(12, "rep", ""))
	assert.Equal(t, "95 lb", FormatAmount(Pound.ToBase(95), "kg", "lb"))
	assert.Equal(t, "43.1 kg", FormatAmount(43.1, "kg", ""))
	number, unit := FormatAs(0.123456, "m", "ft") // comes out in no round number of feet
	assert.Equal(t, "m", unit)
	assert.Equal(t, FormatNumber(0.123456), number)
}
