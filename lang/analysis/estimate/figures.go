package estimate

import (
	"math"
	"strconv"
	"strings"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/units"
)

// Figures are the constants of the model beside the paces of the book. The first four are the
// house's; work.go and cost.go apply them. Most are practice,
// not measurement: List says which.
type Figures struct {
	Change   book.Levels // s, from one movement to the next
	Break    book.Levels // s, between two unbroken runs of one movement
	Handover book.Levels // s, in a team
	SetUp    book.Levels // s, under a bar in its rack before a set
	ShortSet float64     // repetitions: a set below it is followed by a shorter break

	Drift      float64 // how much slower each minute of moving makes what follows
	DriftUntil float64 // s of moving, beyond which everything stays as slow
	RestFrom   float64 // s of rest up to which none of it is cleared
	RestAll    float64 // s of rest that clear all of it

	Effort      float64 // how much slower per unit of effort below the hardest
	LeastEffort float64 // the effort that a lower one is read as
	Heavy       float64 // how much slower per unit of a maximum above HeavyFrom
	HeavyFrom   float64
	SetLimit    float64 // repetitions: a set at the share s of a maximum holds SetLimit · (1/s - 1)
	AgainstTime float64 // the part of that limit which holds against a clock
	LoadPace    float64 // the power of the ratio of loads that the pace goes up by
	LoadRun     float64 // the power that the unbroken count goes down by
	LeastRatio  float64 // of a load to that of the pace; outside nothing is claimed
	MostRatio   float64
	AsFast      float64 // s that the X of a tempo takes

	RowWatts float64 // W · (s/m)³ of a rower
	CalWatt  float64 // kcal an hour on its monitor for each watt
	CalBase  float64 // and with none

	Margin     float64 // how far off a time may well be
	MostMoving float64 // s of moving in a part, beyond which nothing is claimed

	LongestTurn float64 // s of moving that somebody of a team does at a time of what is never put down
}

// figuresOf are the figures of a house.
func figuresOf(h *model.House) Figures {
	f := Figures{
		Drift: 0.01, DriftUntil: 1200,
		RestFrom: 30, RestAll: 180,
		Effort: 0.8, LeastEffort: 0.60,
		ShortSet: 3,
		Heavy:    1, HeavyFrom: 0.60,
		SetLimit: 30, AgainstTime: 0.5,
		LoadPace: 0.25, LoadRun: 1.5, LeastRatio: 0.5, MostRatio: 2,
		AsFast:   1,
		RowWatts: 2.80, CalWatt: 4 * 0.8604, CalBase: 300,
		Margin: margin, MostMoving: mostMoving,
		LongestTurn: 120,
	}
	if h != nil {
		f.Change, f.Break, f.Handover, f.SetUp = sound(h.Change), sound(h.Break), sound(h.Handover), sound(h.SetUp)
	}
	return f
}

// sound corrects a figure of a house that is out of order, so that nobody who is slower needs less
// time. Reading the house reports the mistake itself.
func sound(l book.Levels) book.Levels {
	l.Fast = finite(l.Fast)
	l.Typical = max(finite(l.Typical), l.Fast)
	l.Slow = max(finite(l.Slow), l.Typical)
	return l
}

func finite(v float64) float64 {
	if !(v > 0) || math.IsInf(v, 0) {
		return 0
	}
	return v
}

// A Figure is one constant of the model, for a report.
type Figure struct{ Name, Value, Source string }

// List says every figure with its unit and where it comes from, for a report.
func (f *Figures) List() []Figure {
	three := func(l book.Levels) string {
		return strings.Join([]string{num(l.Fast), num(l.Typical), num(l.Slow)}, " / ") + " s"
	}
	return []Figure{
		{"change of movement", three(f.Change), f.Change.Source},
		{"break between unbroken runs", three(f.Break), f.Break.Source},
		{"break after a set of fewer than " + num(f.ShortSet), "a half of it, and a " + num(2*f.ShortSet) + "th more for each repetition", "no source"},
		{"handover in a team", three(f.Handover), f.Handover.Source},
		{"set-up of a bar out of a rack", three(f.SetUp), f.SetUp.Source},
		{"longest turn in a team of what is never put down", units.FormatClock(f.LongestTurn) + " of moving", "no source"},
		{"drift", num(100*f.Drift) + " % a minute of moving, until " + units.FormatClock(f.DriftUntil), "no source; in line with the 10-30 % that coaches add"},
		{"rest that clears drift", "from " + units.FormatClock(f.RestFrom) + " to " + units.FormatClock(f.RestAll), "refill of high-energy stores in 2.5-3 min; the lower end is chosen so that a rest never pays for itself"},
		{"effort", num(f.Effort) + " % slower a point below 100 %", "no source; between the cube law (0.4 near 80 %) and a plain share of speed (1.25)"},
		{"heavy", num(f.Heavy) + " % slower a point above " + num(100*f.HeavyFrom) + " % of a maximum", "no source"},
		{"limit of a set", num(f.SetLimit) + " · (1/share - 1) repetitions, half of it against a clock", "Epley 1985 turned round; the half has no source"},
		{"load", "pace · ratio^" + num(f.LoadPace) + ", unbroken / ratio^" + num(f.LoadRun), "no source"},
		{"X in a tempo", num(f.AsFast) + " s", "convention; published reading of 3111 is 6 s"},
		{"rower", num(f.RowWatts) + " / (s per m)³ W; " + num(f.CalWatt) + " · W + " + num(f.CalBase) + " kcal an hour", "maker's published formula"},
		{"margin", num(100*f.Margin) + " % either way", "no source; all paces 10 % off move a time by 8.4 %"},
	}
}

func num(v float64) string { return units.FormatNumber(v) }

// drift is how much longer w seconds of moving take by fatigue, in s. It grows with the square, so
// the order of steps does not matter, and cutting one in two changes nothing.
func (f *Figures) drift(w float64) float64 {
	d := f.Drift / 60
	if w <= f.DriftUntil {
		return d / 2 * w * w
	}
	return d/2*f.DriftUntil*f.DriftUntil + d*f.DriftUntil*(w-f.DriftUntil)
}

// movingIn is how many seconds of moving, without what fatigue adds, so many seconds take.
func (f *Figures) movingIn(seconds float64) float64 {
	lo, hi := 0.0, seconds
	for range 50 {
		if mid := (lo + hi) / 2; mid+f.drift(mid) < seconds {
			lo = mid
		} else {
			hi = mid
		}
	}
	return hi
}

// unrecoveredAfter is the share of the moving before it that a rest of so many seconds does not clear.
func (f *Figures) unrecoveredAfter(rest float64) float64 {
	return min(1, max(0, 1-(rest-f.RestFrom)/(f.RestAll-f.RestFrom)))
}

// shortBreak is by what factor the break after a set is shorter: a set of one or two leaves more in
// hand than a long one.
func (f *Figures) shortBreak(set float64) float64 {
	if set >= f.ShortSet {
		return 1
	}
	return 0.5 + set/(2*f.ShortSet)
}

// effortSlowdown is by what factor everything takes longer at an effort, 0 to 1.
func (f *Figures) effortSlowdown(e float64) float64 {
	return 1 + f.Effort*(1-min(1, max(f.LeastEffort, e)))
}

// heavySlowdown is by what factor a repetition takes longer at a share of a maximum, 0 to 1.
func (f *Figures) heavySlowdown(share float64) float64 { return 1 + f.Heavy*max(0, share-f.HeavyFrom) }

// setLimit is how many repetitions in a row a share of a maximum, 0 to 1, allows: Epley's formula
// turned round.
func (f *Figures) setLimit(share float64, against bool) float64 {
	if share <= 0 {
		return math.Inf(1)
	}
	u := f.SetLimit * (1/share - 1)
	if against {
		u *= f.AgainstTime
	}
	return max(1, u)
}

// watts is the power that a rower's monitor shows at a pace.
func (f *Figures) watts(secondsPerMetre float64) float64 {
	return f.RowWatts / (secondsPerMetre * secondsPerMetre * secondsPerMetre)
}

// perCal is how long a calorie takes on a rower at a pace, in s.
func (f *Figures) perCal(secondsPerMetre float64) float64 {
	return 3600 / (f.CalWatt*f.watts(secondsPerMetre) + f.CalBase)
}

// perMetre is the pace on a rower at a power, in s a metre.
func (f *Figures) perMetre(watts float64) float64 { return math.Cbrt(f.RowWatts / watts) }

// tempo is how long a repetition in a tempo takes, in s: the sum of its phases; 0 where it is none.
func (f *Figures) tempo(text string) float64 {
	seconds, asFast, ok := model.TempoSeconds(text)
	if !ok {
		return 0
	}
	return seconds + float64(asFast)*f.AsFast
}

// mass reads the load that a pace was taken at, such as "24/16 kg" or "2x15/10 kg": kg for
// each tier.
func mass(text string) []float64 {
	text = strings.TrimSpace(strings.TrimPrefix(strings.TrimSpace(text), "@"))
	each := 1.0
	if n, rest, ok := strings.Cut(text, "x"); ok {
		v, err := strconv.ParseFloat(strings.TrimSpace(n), 64)
		if err != nil {
			return nil
		}
		each, text = v, rest
	}
	i := strings.IndexFunc(text, func(r rune) bool { return r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' })
	if i < 0 {
		return nil
	}
	u, ok := units.Lookup(strings.ToLower(strings.TrimSpace(text[i:])))
	if !ok || u.Dimension() != units.Mass {
		return nil
	}
	var out []float64
	for n := range strings.SplitSeq(text[:i], "/") {
		v, err := strconv.ParseFloat(strings.TrimSpace(n), 64)
		if err != nil || !(v > 0) {
			return nil
		}
		out = append(out, each*u.ToBase(v))
	}
	return out
}
