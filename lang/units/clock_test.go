package units

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestParseClock(t *testing.T) {
	for text, want := range map[string]float64{
		"0:00":    0,
		"0:30":    30,
		"9:00":    540,
		"09:00":   540,
		"1:45":    105,
		"90:00":   5400,
		"1:30:00": 5400, // PT1H30M, ISO 8601-1:2019, test vector T05
		"100:00":  6000,
		"0:01:01": 61,
		"0:07.5":  7.5,
		"1:05.4":  65.4,
		"1:00.0":  60,
		// P1W in hours, test vector T05.
		"168:00:00": 604_800,
	} {
		got, err := ParseClock(text)
		require.NoError(t, err, text)
		assert.Equal(t, want, got, text)
	}
}

func TestParseClockRefuses(t *testing.T) {
	for text, reading := range map[string]string{
		"1:75":    "2:15", // the notation's own example
		"0:60":    "1:00", // the same length, notation-conventions N2
		"0:75":    "1:15", // N2
		"99:99":   "1:40:39",
		"1:75:00": "2:15:00",
		"0:90:75": "91:15",
		":30":     "0:30",
		":75":     "1:15",

		// What could mean two things is given no reading: 1:05 or 1:50?
		"1:5": "", "1:5:00": "", "1:075": "",
		"": "", "9": "", ":": "", "9:": "", "1:00:00:00": "", "::": "",
		"-1:00": "", "+1:00": "", "1:-1": "", "1:+5": "", " 1:00": "", "1: 0": "", "a:00": "", "1:0a": "",
		"1.5:00": "", "1:00.": "", "1:00.25": "", "1:00.x": "", "1.5": "", "٣:٠٠": "", "1:٠": "",
		"1234567:00": "", "99999999999999999999:00": "",
	} {
		_, err := ParseClock(text)
		var wrong *ClockError
		require.ErrorAs(t, err, &wrong, text)
		assert.Equal(t, ClockError{Text: text, Reading: reading}, *wrong)
	}
}

func TestFormatTime(t *testing.T) {
	for seconds, text := range map[float64]string{
		7.5: "0:07.5", 65.4: "1:05.4", 60: "1:00", 59.95: "1:00", 0.3: "0:00.3", -0.5: "-0:00.5", 6000.1: "1:40:00.1", 1.0 / 3: "0:00",
	} {
		assert.Equal(t, text, FormatTime(seconds))
	}
}

func TestClockErrorText(t *testing.T) {
	_, err := ParseClock("1:75")
	assert.EqualError(t, err, `"1:75" is not a clock value: two digits, 00 to 59, follow a colon; did you mean 2:15?`)
	_, err = ParseClock("1:5")
	assert.EqualError(t, err, `"1:5" is not a clock value: write minutes and seconds as in 9:00, or hours too as in 1:30:00`)
}

func TestFormatClock(t *testing.T) {
	for _, c := range []struct {
		seconds float64
		want    string
	}{
		{0, "0:00"}, {9, "0:09"}, {60, "1:00"}, {135, "2:15"}, {3600, "60:00"},
		{5999, "99:59"}, {6000, "1:40:00"}, {36_000, "10:00:00"},

		// Half a second goes up, and what rounds up to 100:00 is written as such.
		{29.49, "0:29"}, {29.5, "0:30"}, {59.5, "1:00"}, {5999.5, "1:40:00"},
		{0.49499, "0:00"}, {0.49501, "0:01"}, {0.49999999999999994, "0:01"}, // a half, in hundredths

		// Up is towards the later time below zero too; there is no -0:00.
		{-20, "-0:20"}, {-20.5, "-0:20"}, {-20.51, "-0:21"}, {-0.5, "0:00"}, {-0.51, "-0:01"},
		{-6000, "-1:40:00"}, {math.Copysign(0, -1), "0:00"},

		{math.NaN(), "?"}, {math.Inf(1), "?"}, {math.Inf(-1), "?"}, {1e300, "?"},
	} {
		assert.Equal(t, c.want, FormatClock(c.seconds), "%v", c.seconds)
	}
}

func TestClockRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := float64(rapid.Int64Range(0, 999_999*perHour).Draw(t, "seconds"))
		got, err := ParseClock(FormatClock(want))
		require.NoError(t, err)
		assert.Equal(t, want, got)
		if want > 0 {
			assert.Equal(t, "-"+FormatClock(want), FormatClock(-want))
		}
	})
}

// A printed time is never more than half a second from the true one in hundredths.
func TestFormatClockRoundsToTheNearest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		seconds := rapid.Float64Range(0, 1e6).Draw(t, "seconds")
		got, err := ParseClock(FormatClock(seconds))
		require.NoError(t, err)
		assert.LessOrEqual(t, math.Abs(got-seconds), 0.505)
	})
}

// Whatever is refused with a reading has a reading that is accepted.
func TestLooseReadingsAreClockValues(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringMatching(`[0-9]{0,7}(:[0-9]{1,3}){1,3}`).Draw(t, "text")
		_, err := ParseClock(text)
		if err == nil {
			return
		}
		var wrong *ClockError
		require.ErrorAs(t, err, &wrong)
		if wrong.Reading != "" {
			_, err := ParseClock(wrong.Reading)
			assert.NoError(t, err)
		}
	})
}
