package estimate

import "stint.example/stint/lang/units"

const (
	margin     = 0.10 // how far off a time may well be, as a share of it
	mostMoving = 2400 // s of moving in a part, beyond which nothing is claimed
)

// MarginText is how far off a time may well be, as a sentence says it: 10 %.
func MarginText() string { return units.FormatNumber(100*margin) + " %" }
