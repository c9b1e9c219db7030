// Package weeks shows a cycle week by week: as data for other programs, as sentences and as
// a picture. The sums are made by lang/analysis/cycle.
package weeks

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"stint.example/stint/lang/analysis/cycle"
	"stint.example/stint/lang/analysis/strength"
	"stint.example/stint/lang/book"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/render/internal/round"
	"stint.example/stint/lang/units"
)

// Caution is printed under everything that shows the figures of a cycle.
const Caution = "Counts are those of parts, for one typical member who comes every day; " +
	"minutes, and counts that the clock ends, are estimates."

// A Cycle is the figures of a cycle, week by week: the shape that is published as JSON, by the
// schema in spec/schema/cycle.schema.json.
type Cycle struct {
	Version int    `json:"version"` // of this shape: 1
	Cycle   string `json:"cycle"`
	// Scaling is the version in which every session counts; empty where that is as written, or
	// as the days name it.
	Scaling string  `json:"scaling,omitempty"`
	From    string  `json:"from,omitempty"`
	Purpose string  `json:"purpose,omitempty"`
	Weeks   []*Week `json:"weeks"`
	// How some of it was calculated.
	Deviation string `json:"deviation"`
	Rating    string `json:"rating"`
	Hard      string `json:"hard"`
	Caution   string `json:"caution"`
}

// A Week is one week.
type Week struct {
	Week     int      `json:"week"`
	ISOWeek  string   `json:"isoWeek,omitempty"`
	Kind     string   `json:"kind,omitempty"`
	Note     string   `json:"note,omitempty"`
	Days     []Day    `json:"days"`
	Minutes  Minutes  `json:"minutes"`
	Volume   []Volume `json:"volume"`
	Lifts    []Lift   `json:"lifts"`
	Moved    Moved    `json:"moved"`
	HardSets float64  `json:"hardSets"`
	Balance  Balance  `json:"balance"`
	Load     *Strain  `json:"load,omitempty"` // where every session states its effort
}

// A Day is a session on its day.
type Day struct {
	Weekday string   `json:"weekday"`
	Date    string   `json:"date,omitempty"`
	Time    string   `json:"time,omitempty"`
	Session string   `json:"session"`
	Scaling string   `json:"scaling,omitempty"`
	Known   bool     `json:"known"` // the session is there, in that version; otherwise nothing of it is counted
	Minutes *Minutes `json:"minutes,omitempty"`
	Rating  *float64 `json:"rating,omitempty"` // from 0 to 10
	Load    *float64 `json:"load,omitempty"`
	Hard    []Hard   `json:"hard"`
}

// Hard is a pattern that a day trains hard, and by which lines.
type Hard struct {
	Pattern string   `json:"pattern"`
	Lines   []string `json:"lines"`
}

// Minutes is how long something is.
type Minutes struct {
	Min       float64 `json:"min"`
	Estimated bool    `json:"estimated"`
	Least     bool    `json:"least"` // something is missing: it is at least so much
}

// Volume is how much is done of a pattern.
type Volume struct {
	Pattern     string  `json:"pattern"`
	Repetitions float64 `json:"repetitions"`
	Metres      float64 `json:"metres"`
	Seconds     float64 `json:"seconds"`
	Calories    float64 `json:"calories"`
	Estimate    bool    `json:"estimate"`
}

// A Lift is how heavy a lift is in a week: in percent of a one-repetition maximum, or in
// kg, whichever the text says.
type Lift struct {
	Movement string   `json:"movement"`
	Percent  *TopMean `json:"percent,omitempty"`
	Kg       *TopMean `json:"kg,omitempty"`
}

// TopMean is the heaviest load and the mean over the repetitions.
type TopMean struct {
	Top  float64 `json:"top"`
	Mean float64 `json:"mean"`
}

// Moved is the load that one member moves.
type Moved struct {
	Kg       float64  `json:"kg"`
	Estimate bool     `json:"estimate"`
	Without  []string `json:"without"` // movements of which the load is no weight
}

// Balance holds repetitions against each other.
type Balance struct {
	Push  float64 `json:"push"`
	Pull  float64 `json:"pull"`
	Squat float64 `json:"squat"`
	Hinge float64 `json:"hinge"`
}

// A Strain is the load of a week's sessions.
type Strain struct {
	Daily      []float64 `json:"daily"` // Monday first
	Total      float64   `json:"total"`
	Mean       float64   `json:"mean"`
	Deviation  float64   `json:"deviation"`
	Monotony   *float64  `json:"monotony,omitempty"` // left out where nothing varies
	Strain     *float64  `json:"strain,omitempty"`
	Moderate   float64   `json:"moderate"` // minutes rated 5 or 6
	Vigorous   float64   `json:"vigorous"` // from 7
	Equivalent float64   `json:"equivalent"`
}

// New makes of a cycle what is published.
func New(c *cycle.Analysis, scaling string) *Cycle {
	out := &Cycle{Version: 1, Cycle: c.Name, Scaling: scaling, From: c.From, Purpose: c.Purpose, Weeks: []*Week{},
		Deviation: strength.SDName + " of 7 days, rest days as 0",
		Rating:    cycle.RatingSource,
		Hard: fmt.Sprintf("hard is %s%% of a maximum or of an effort, RPE %s, or the heaviest of the day",
			units.FormatNumber(cycle.DefaultHardThresholds.Share), units.FormatNumber(cycle.DefaultHardThresholds.Effort/10)),
		Caution: Caution}
	for _, w := range c.Weeks {
		out.Weeks = append(out.Weeks, newWeek(w))
	}
	return out
}

func newWeek(w *cycle.WeekAnalysis) *Week {
	s := w.Sums()
	out := &Week{Week: w.Number, ISOWeek: w.ISO, Kind: w.Kind, Note: w.Note,
		Days: []Day{}, Volume: []Volume{}, Lifts: []Lift{},
		Minutes: minutes(s.Minutes), HardSets: s.HardSets,
		Moved: Moved{round.Hundredths(s.Moved.Kg), s.Moved.Estimate, append([]string{}, s.Moved.Without...)},
		Balance: Balance{
			Push: round.Hundredths(s.Of(cycle.Push).Reps), Pull: round.Hundredths(s.Of(cycle.Pull).Reps),
			Squat: round.Hundredths(s.Of(cycle.Squat).Reps), Hinge: round.Hundredths(s.Of(cycle.Hinge).Reps)}}
	slices.Sort(out.Moved.Without)
	for _, d := range w.Days {
		out.Days = append(out.Days, newDay(d))
	}
	for _, v := range s.Volume {
		row := Volume{Pattern: string(v.Pattern), Estimate: v.Estimate,
			Repetitions: round.Hundredths(v.Reps), Metres: round.Hundredths(v.Metres),
			Seconds: round.Hundredths(v.Seconds), Calories: round.Hundredths(v.Calories)}
		if row.Repetitions+row.Metres+row.Seconds+row.Calories > 0 {
			out.Volume = append(out.Volume, row)
		}
	}
	for _, l := range s.Lifts {
		out.Lifts = append(out.Lifts, Lift{l.Movement.Name, topMean(l.Share), topMean(l.Mass)})
	}
	if s.Rated {
		out.Load = newStrain(s)
	}
	return out
}

func newDay(d *cycle.DayAnalysis) Day {
	out := Day{Weekday: d.Weekday, Date: d.Date, Time: d.Clock, Session: d.Session, Scaling: d.Version,
		Known: d.Of != nil, Hard: []Hard{}}
	if d.Of == nil {
		return out
	}
	m := minutes(d.Of.Minutes)
	out.Minutes = &m
	if r, ok := d.Of.Rating(); ok {
		out.Rating = &r
	}
	if l, ok := d.Of.Load(); ok {
		l = round.Hundredths(l)
		out.Load = &l
	}
	for _, h := range d.Of.Hard(cycle.DefaultHardThresholds) {
		p := Hard{Pattern: string(h.Pattern)}
		for _, l := range h.Lines {
			p.Lines = append(p.Lines, l.Text(cycle.DefaultHardThresholds))
		}
		out.Hard = append(out.Hard, p)
	}
	return out
}

func minutes(m cycle.Minutes) Minutes { return Minutes{round.Hundredths(m.Min), m.Estimated, m.Least} }

func topMean(h cycle.Heavy) *TopMean {
	if h.Top == 0 {
		return nil
	}
	return &TopMean{round.Hundredths(h.Top), round.Hundredths(h.Mean)}
}

func newStrain(s *cycle.WeekSums) *Strain {
	out := &Strain{
		Total:      round.Hundredths(s.Load.Load),
		Mean:       round.Hundredths(s.Load.Mean),
		Deviation:  round.Hundredths(s.Load.SD),
		Moderate:   round.Hundredths(s.Moderate),
		Vigorous:   round.Hundredths(s.Vigorous),
		Equivalent: round.Hundredths(strength.Equivalent(s.Moderate, s.Vigorous))}
	for _, l := range s.Daily {
		out.Daily = append(out.Daily, round.Hundredths(l))
	}
	if s.Load.Varied {
		m, strain := round.Hundredths(s.Load.Monotony), round.Hundredths(s.Load.Strain)
		out.Monotony, out.Strain = &m, &strain
	}
	return out
}

// In is a cycle in one version of its sessions: each day asks for that.
func In(c *model.Cycle, version string) *model.Cycle {
	if version == "" {
		return c
	}
	out := *c
	out.Plan = nil
	for _, w := range c.Plan {
		week := *w
		week.Days = nil
		for _, d := range w.Days {
			day := *d
			if !day.Rest {
				day.Version = version
			}
			week.Days = append(week.Days, &day)
		}
		out.Plan = append(out.Plan, &week)
	}
	return &out
}

// Remarks are what there is to know of a day beside its session: how long it is, how hard, and
// what is hard in it.
func (d Day) Remarks() []string {
	if !d.Known {
		return []string{"not there"}
	}
	first := d.Minutes.Text() + " min"
	if d.Rating != nil {
		first += ", RPE " + units.FormatNumber(math.Round(*d.Rating*10)/10)
	}
	out := []string{first}
	if len(d.Hard) > 0 {
		names := make([]string, len(d.Hard))
		for i, h := range d.Hard {
			names[i] = h.Pattern
		}
		out = append(out, "hard: "+strings.Join(names, ", "))
	}
	return out
}

// Text is a length in minutes, to the minute.
func (m Minutes) Text() string {
	text := units.FormatNumber(math.Round(m.Min))
	if m.Least {
		return text + "+"
	}
	return text
}

// Patterns are those of which some weeks have anything, in the order of the book's.
func Patterns(weeks []*Week) []string {
	var out []string
	for _, p := range book.Patterns {
		if slices.ContainsFunc(weeks, func(w *Week) bool { return w.Of(string(p)) != Volume{} }) {
			out = append(out, string(p))
		}
	}
	return out
}

// Of is the week's volume of a pattern; empty where it has none.
func (w *Week) Of(pattern string) Volume {
	i := slices.IndexFunc(w.Volume, func(v Volume) bool { return v.Pattern == pattern })
	if i < 0 {
		return Volume{}
	}
	return w.Volume[i]
}
