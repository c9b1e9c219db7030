package strength

// ZoneSource says where Zones come from.
const ZoneSource = "A. S. Prilepin 1974, as in Medvedyev, A System of Multi-Year Training in Weightlifting"

// A Zone is a row of Prilepin's table: how many lifts in one session served competition
// lifters best, at a percentage of their best lift. It was made of the training logs of
// weightlifters, and says nothing of calisthenics or of sets that are meant to tire.
type Zone struct {
	From, Below         float64 // percent: from, up to but not with
	LeastSet, MostSet   int     // repetitions a set
	Least, Most, Middle int     // lifts in all: the range, and the best
}

// Zones are the rows, the lightest first: Prilepin 1974, in English in Medvedyev. Copies
// differ on where the bands end (70-75 or 70-79, 80-85 or 80-89): they join here.
var Zones = []Zone{
	{55, 70, 3, 6, 18, 30, 24},
	{70, 80, 3, 6, 12, 24, 18},
	{80, 90, 2, 4, 10, 20, 15},
	{90, 105, 1, 2, 4, 10, 7},
}

// ZoneAt is the row for a percentage of the best lift. The error is a *RangeError below 55
// and from 105 %.
func ZoneAt(percent float64) (Zone, error) {
	for _, z := range Zones {
		if percent >= z.From && percent < z.Below {
			return z, nil
		}
	}
	return Zone{}, &RangeError{"% of a maximum", percent, Zones[0].From, Zones[len(Zones)-1].Below}
}

// StepMost is by how many per cent a load is raised at most, once it has become too easy:
// 2 to 10 % by the position stand of the American College of Sports Medicine (N. A.
// Ratamess and others, Med. Sci. Sports Exerc. 2009;41(3):687-708).
const StepMost = 10

// Rise is by how many per cent a load is heavier than the one before; less than 0 where it
// is lighter. The error is a *RangeError where the one before is not more than nothing.
func Rise(before, now float64) (percent float64, err error) {
	if before > 0 {
		return 100 * (now - before) / before, nil
	}
	return 0, &RangeError{"as a load", before, 0, now}
}
