package intensity

import (
	"math"
	"slices"
	"strings"

	"stint.example/stint/lang/units"
)

// Efforts is how to write efforts that rise from easy to hard over so many turns, or fall: @ effort
// 70-80-90%. They are three where it is not known how many turns there are, or there are too many to write.
func Efforts(turns int, falling bool) string {
	if turns < 2 || turns > 8 {
		turns = 3
	}
	var efforts []string
	for i := range turns {
		efforts = append(efforts, units.FormatNumber(math.Round(70+20*float64(i)/float64(turns-1))))
	}
	if falling {
		slices.Reverse(efforts)
	}
	return "@ effort " + strings.Join(efforts, "-") + "%"
}
