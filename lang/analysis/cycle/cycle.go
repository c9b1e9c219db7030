// Package cycle analyses a cycle: its weeks as days one after the other, and of each day what is hard in it,
// how much of what is done, how heavy, how long, and how hard it is as a whole.
package cycle

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"stint.example/stint/lang/analysis/totals"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
)

// An Analysis is a cycle with the totals and the intensity of its sessions.
type Analysis struct {
	*model.Cycle
	Weeks []*WeekAnalysis // by their number, each number once

	days []*DayAnalysis
}

// A WeekAnalysis is a week of a cycle.
type WeekAnalysis struct {
	Number int
	Kind   string // "easy", "test", or empty
	Note   string
	ISO    string // 2027-W09; empty where the cycle does not say from when it is
	At     source.Place
	Days   []*DayAnalysis // in order; two sessions on one day are two of them
	Repeat bool           // it stands on one line with the week before it, and holds the same

	sums *WeekSums
}

// A DayAnalysis is a session of a cycle on its day. Days of rest are none.
type DayAnalysis struct {
	*model.Day
	Week   *WeekAnalysis
	Index  int              // days since the Monday of week 1
	Clock  string           // h:mm: when it starts, as the cycle says, or else the session
	Minute int              // the same since midnight; -1 where neither says when
	Of     *SessionAnalysis // in the day's version; nil where no file has it

	place int // among the days of the cycle
}

// Easy and Test are the kinds of week that the notation knows.
const (
	Easy = model.EasyWeek
	Test = model.TestWeek
)

// New analyses a cycle. The lookup gives the analysis of a session in a version, as the cycle has it in a
// week, and nil where there is none such.
func New(c *model.Cycle, analysisOf func(of *model.Cycle, week int, name, version string) *SessionAnalysis) *Analysis {
	out := &Analysis{Cycle: c}
	numbered := map[int]*WeekAnalysis{}
	for _, w := range c.Plan {
		week := numbered[w.Number]
		if week == nil {
			week = &WeekAnalysis{Number: w.Number, Kind: w.Kind, Note: w.Note, At: w.At}
			numbered[w.Number] = week
			out.Weeks = append(out.Weeks, week)
		}
		for _, d := range w.Days {
			week.ISO = cmp.Or(week.ISO, totals.ISOWeek(d.Date))
			if d.Rest {
				continue
			}
			day := &DayAnalysis{Day: d, Week: week, Clock: d.Time}
			day.Index = 7*(w.Number-1) + slices.Index(syntax.Weekdays, d.Weekday)
			day.Of = analysisOf(c, w.Number, d.Session, d.Version)
			if day.Of != nil && d.Time == "" {
				day.Clock = day.Of.Start
			}
			day.Minute = minute(day.Clock)
			week.Days = append(week.Days, day)
		}
	}
	slices.SortStableFunc(out.Weeks, func(a, b *WeekAnalysis) int { return cmp.Compare(a.Number, b.Number) })
	for i, w := range out.Weeks {
		slices.SortStableFunc(w.Days, func(a, b *DayAnalysis) int {
			return cmp.Or(cmp.Compare(a.Index, b.Index), cmp.Compare(a.Minute, b.Minute))
		})
		w.Repeat = i > 0 && out.Weeks[i-1].At == w.At
		for _, d := range w.Days {
			d.place = len(out.days)
			out.days = append(out.days, d)
		}
	}
	return out
}

// minute turns 17:30 into minutes since midnight.
func minute(clock string) int {
	h, m, ok := strings.Cut(clock, ":")
	hours, err := strconv.Atoi(h)
	minutes, err2 := strconv.Atoi(m)
	if !ok || err != nil || err2 != nil {
		return -1
	}
	return 60*hours + minutes
}

// Days are all days, in order, over the borders of weeks.
func (c *Analysis) Days() []*DayAnalysis { return c.days }

// Until are the days before one, in order.
func (c *Analysis) Until(d *DayAnalysis) []*DayAnalysis { return c.days[:d.place] }

// Last is the number of the last week: what the cycle states, or else what it plans.
func (c *Analysis) Last() int { return c.LastWeek() }

// Known says whether the sessions of all its days are, and every line of them could be read.
func (w *WeekAnalysis) Known() bool {
	return !slices.ContainsFunc(w.Days, func(d *DayAnalysis) bool { return d.Of == nil || !d.Of.Whole })
}

// Hours is how long after one day another one is: by their times where both have one,
// otherwise by whole days.
func Hours(a, b *DayAnalysis) float64 {
	h := 24 * float64(b.Index-a.Index)
	if a.Minute >= 0 && b.Minute >= 0 {
		h += float64(b.Minute-a.Minute) / 60
	}
	return h
}
