package strength

import "math"

// SessionSource says where Session and LoadSum come from.
const SessionSource = "C. Foster, Med. Sci. Sports Exerc. 1998;30(7):1164-1168; C. Foster and others, J. Strength Cond. Res. 2001;15(1):109-115"

// Session is the load of a session, in arbitrary units: how hard it was as a whole, from 0
// to 10, times its minutes (Foster and others 2001). The error is a *RangeError for a
// rating off that scale, such as one of the older scale from 6 to 20, and for a time that
// is less than nothing.
func Session(rating, minutes float64) (float64, error) {
	if err := in("as the rating of a session", rating, 0, 10); err != nil {
		return 0, err
	}
	if err := in("minutes", minutes, 0, 24*60); err != nil {
		return 0, err
	}
	return rating * minutes, nil
}

// A LoadSum is the sum of loads, of the days of a week or of its sessions.
type LoadSum struct {
	Load     float64 // all of them
	Mean     float64
	SD       float64 // of the population: these days are all there are, and no sample of others
	Monotony float64 // mean / SD
	Strain   float64 // load x monotony
	Varied   bool    // otherwise every load is the same: SD is 0, and neither monotony nor strain means anything
}

// SDName names the standard deviation of a LoadSum. The literature does not say which it
// takes, and the published week of Foster 2001 comes back only with this one.
const SDName = "population SD"

// SumLoads sums up loads. Of a week they are those of seven days, rest days as 0.
func SumLoads(loads []float64) LoadSum {
	var s LoadSum
	if len(loads) == 0 {
		return s
	}
	for _, l := range loads {
		s.Load += l
	}
	n := float64(len(loads))
	s.Mean = s.Load / n
	// The corrected two-pass algorithm: T. F. Chan, G. H. Golub and R. J. LeVeque, The American
	// Statistician 1983;37(3):242-247, formula 1.7. Off is 0 but for what rounding loses.
	squares, off := 0.0, 0.0
	for _, l := range loads {
		d := l - s.Mean
		squares, off = squares+d*d, off+d
	}
	s.SD = math.Sqrt(max(0, squares-off*off/n) / n)
	if s.Monotony, s.Varied = Monotony(s.Mean, s.SD); s.Varied {
		s.Strain = s.Load * s.Monotony
	}
	return s
}

// Monotony is how alike the days of a week are: their mean load over its standard
// deviation. It is not ok where nothing varies.
func Monotony(mean, sd float64) (monotony float64, ok bool) {
	if sd <= 1e-9*mean || sd <= 0 {
		return 0, false
	}
	return mean / sd, true
}

// MonotonyHigh is where a week is commonly called monotonous; under 1.5 is preferred.
const MonotonyHigh = 2.0

// EquivalentSource says where Equivalent comes from.
const EquivalentSource = "Physical Activity Guidelines for Americans, 2nd ed., US HHS 2018"

// Equivalent is minutes of moderate and vigorous work together, as minutes of moderate
// work: a vigorous minute stands for two (US HHS 2018, which asks for 150 to 300 a week).
func Equivalent(moderate, vigorous float64) float64 {
	return weighted([]float64{moderate, vigorous}, []float64{1, 2})
}

// weighted is a sum of values, each times its weight.
func weighted(values, weights []float64) float64 {
	sum := 0.0
	for i, v := range values {
		sum += v * weights[i]
	}
	return sum
}
