// Package strength knows how heavy: how many repetitions a share of a maximum allows, how hard a set
// is by what is left in reserve, how much of it is much, and the training load of a week.
//
// Its figures come from published tables, and each says which. They hold for a typical
// athlete and a lift done once; people differ widely, so whoever shows them says so.
package strength

import (
	"cmp"
	"fmt"
	"slices"

	"stint.example/stint/lang/units"
)

// A RangeError says that a figure lies outside what a table or a formula speaks of.
type RangeError struct {
	What        string  // what the figure is, with its unit: "repetitions", "% of a maximum"
	Value       float64 // the figure
	Least, Most float64 // between which there is an answer
}

func (e *RangeError) Error() string {
	return fmt.Sprintf("%s %s is outside %s to %s", units.FormatNumber(e.Value), e.What, units.FormatNumber(e.Least), units.FormatNumber(e.Most))
}

// in checks that a value lies between two others. A value that is no number does not.
func in(what string, v, least, most float64) error {
	if v >= least && v <= most {
		return nil
	}
	return &RangeError{what, v, least, most}
}

// TableSource says where Share and Reps have their figures from.
const TableSource = "T. R. Baechle, R. W. Earle and D. Wathen, in Essentials of Strength Training and Conditioning, 2nd ed. 2000 (1 to 10, and 15)"

// A row of a table: to failure, so many repetitions go at that percentage of a maximum.
type row struct{ reps, percent float64 }

// table is the classic table of repetitions to failure. For 11 and 12 its copies disagree
// (70 to 73, and 67 to 70), and the middle stands here. Almost none of it is original
// research: B. Richens and D. J. Cleather, Biology of Sport 2014;31(2):157-161.
var table = []row{{1, 100}, {2, 95}, {3, 93}, {4, 90}, {5, 87}, {6, 85}, {7, 83}, {8, 80}, {9, 77}, {10, 75},
	{11, 71.5}, {12, 68.5}, {15, 65}}

// Share is the percentage of a one-repetition maximum with which so many repetitions can
// just be done: 83 for 7. Between two rows of the table it is read off the straight line
// between them, which is this package's own doing. The error is a *RangeError outside 1
// to 15 repetitions, where the table has no rows.
func Share(reps float64) (percent float64, err error) {
	if err := in("repetitions", reps, table[0].reps, table[len(table)-1].reps); err != nil {
		return 0, err
	}
	i, _ := slices.BinarySearchFunc(table, reps, func(r row, v float64) int { return cmp.Compare(r.reps, v) })
	if table[i].reps == reps {
		return table[i].percent, nil
	}
	return between(reps, table[i-1].reps, table[i].reps, table[i-1].percent, table[i].percent), nil
}

// Reps is how many repetitions can just be done with a percentage of a one-repetition
// maximum: 6 for 85, 7.2 for 82.5. It reads the table the other way round, and between its
// rows as Share does. The error is a *RangeError outside 65 to 100 %.
func Reps(percent float64) (reps float64, err error) {
	if err := in("% of a maximum", percent, table[len(table)-1].percent, table[0].percent); err != nil {
		return 0, err
	}
	i, _ := slices.BinarySearchFunc(table, percent, func(r row, v float64) int { return cmp.Compare(v, r.percent) })
	if table[i].percent == percent {
		return table[i].reps, nil
	}
	return between(percent, table[i-1].percent, table[i].percent, table[i-1].reps, table[i].reps), nil
}

// between reads y at x off the line from (x0, y0) to (x1, y1).
func between(x, x0, x1, y0, y1 float64) float64 { return y0 + (y1-y0)*(x-x0)/(x1-x0) }

// SpreadSource says where Spread has its figures from.
const SpreadSource = "J. L. Nuzzo and others, Sports Medicine 2024;54(2):303-321, as others quote it"

// Spread is the mean and the standard deviation, between people, of the repetitions that
// can be done with a percentage of a one-repetition maximum. They were measured (Nuzzo and
// others, Sports Medicine 2024;54(2):303-321; 269 studies; the figures as two others quote
// them): bench press 8.8 at 80 % and 14.1 at 70 %, leg press 13.1 and 19.0; between people
// 2.51 at 80 % and 4.36 at 60 %, which one of them quotes.
//
// Other lifts are not told apart: they have the figures of the bench press, the lower of
// the two. Between the percentages it is the straight line, and from 70 % down to 60 % the
// mean of 70 % stands, which is too low there. The error is a *RangeError outside 60 to
// 80 %: above, nothing was quoted.
func Spread(movement string, percent float64) (mean, sd float64, err error) {
	if err := in("% of a maximum", percent, 60, 80); err != nil {
		return 0, 0, err
	}
	at70, at80 := 14.1, 8.8
	if movement == "leg press" {
		at70, at80 = 19.0, 13.1
	}
	return between(max(percent, 70), 70, 80, at70, at80), between(percent, 60, 80, 4.36, 2.51), nil
}
