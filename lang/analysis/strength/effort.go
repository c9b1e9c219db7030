package strength

import "math"

// ReserveSource says where InReserve has its figures from.
const ReserveSource = "M. C. Zourdos and others, J. Strength Cond. Res. 2016;30(1):267-275; E. R. Helms and others, Strength Cond. J. 2016;38(4):42-49"

// InReserve is how many repetitions are left at a rating of perceived exertion, the least
// and the most: 2 and 2 at RPE 8, 1 and 2 at 8.5, 4 and 6 at 5 or 6, where the scale is a
// band and no point is to be had. The scale: Zourdos and others 2016, Helms and others
// 2016; its half points from 7 up as they are commonly drawn. The error is a *RangeError
// outside 5 to 10, and for what is no point of the scale: below 5 it says "light effort"
// and no number.
//
// People are right within about one repetition when few are left, and two or more out when
// seven to ten are (Hackett and others, J. Strength Cond. Res. 2017;31(8):2162-2168).
func InReserve(rpe float64) (least, most float64, err error) {
	switch {
	case in("RPE", rpe, 5, 10) != nil || rpe*2 != math.Trunc(rpe*2) || rpe == 5.5 || rpe == 6.5:
		return 0, 0, &RangeError{"RPE", rpe, 5, 10}
	case rpe == 9.5:
		return 0, 0, nil // a little more load would have gone, and no more repetitions
	case rpe >= 7:
		return math.Floor(10 - rpe), math.Ceil(10 - rpe), nil
	}
	return 4, 6, nil
}

// ShareWith is the percentage of a one-repetition maximum for a set that leaves so many
// repetitions in reserve: it is Share of both together, so 83 for 5 with 2 left. Printed
// charts of the two differ by two or three points, for none of them is a study. The error
// is a *RangeError outside 1 to 15 repetitions in all.
func ShareWith(reps, reserve float64) (percent float64, err error) {
	if err := in("repetitions in reserve", reserve, 0, table[len(table)-1].reps); err != nil {
		return 0, err
	}
	return Share(reps + reserve)
}
