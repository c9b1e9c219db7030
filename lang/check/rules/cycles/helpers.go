// Package cycles has the rules about training cycles: days and dates, load from week to week, tests.
package cycles

import (
	"fmt"
	"math"
	"strings"
	"time"

	"stint.example/stint/lang/analysis/cycle"
	"stint.example/stint/lang/analysis/intensity"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/units"
)

// plan is a cycle with the volume and intensity of its days.
func plan(p *check.Pass, c *model.Cycle) *cycle.Analysis {
	return cycle.New(c, p.Workspace.SessionAnalysis)
}

// acsm48 says where two days between hard sessions come from.
const acsm48 = "American College of Sports Medicine: 48 h or more between sessions for one muscle group (C. E. Garber and others, Med. Sci. Sports Exerc. 2011;43(7):1334-1359)"

// whenIs is a day in words: Monday of week 2, or Monday for one of the same week.
func whenIs(d *cycle.DayAnalysis, from *cycle.DayAnalysis) string {
	day := dayNames[d.Weekday]
	if from != nil && from.Week == d.Week {
		return day
	}
	return fmt.Sprintf("%s of week %d", day, d.Week.Number)
}

var dayNames = map[string]string{"mon": "Monday", "tue": "Tuesday", "wed": "Wednesday", "thu": "Thursday",
	"fri": "Friday", "sat": "Saturday", "sun": "Sunday"}

// hoursText is a span of hours, whole days as hours too: 24 h, 37.5 h.
func hoursText(h float64) string { return units.FormatTenth(h) + " h" }

// dateAt is the place of a date line among the first lines of an entry: from of a cycle,
// date of a session.
func dateAt(p *check.Pass, kind, key string, name source.Place) (source.Place, bool) {
	for _, b := range p.File.Syntax.Roots {
		e, ok := b.Line.Stmt.(*syntax.Entry)
		if !ok || e.Kind != kind || b.Line.Body+e.Name.Span.Start != name.Start {
			continue
		}
		for _, k := range b.Kids {
			s, ok := k.Line.Stmt.(*syntax.Property)
			if !ok || s.Key != key || s.Date == "" {
				continue
			}
			start := k.Line.Body + s.Span.Start
			text := p.File.Syntax.Src.Text[start : k.Line.Body+s.Span.End]
			if i := strings.LastIndex(text, s.Date); i >= 0 {
				return p.File.Syntax.Src.At(source.Span{Start: start + i, End: start + i + len(s.Date)}), true
			}
		}
	}
	return source.Place{}, false
}

// dayOf is a date and its weekday, as a sentence says them: Tuesday 2027-03-02.
func dayOf(date string) string {
	t, err := time.Parse(time.DateOnly, date)
	if err != nil {
		return date
	}
	return t.Weekday().String() + " " + date
}

// percentRise is by how much a figure is over another one, in per cent.
func percentRise(before, now float64) float64 { return 100 * (now - before) / before }

// rounded is a figure of which the digits behind the point say nothing.
func rounded(v float64) string { return units.FormatNumber(math.Round(v)) }

// about marks a figure that an estimate is part of.
func about(v float64, estimate bool) string {
	if estimate {
		return "about " + rounded(v)
	}
	return rounded(v)
}

// percentHard is from where on a line is hard; several rules ask.
var (
	percentHard = &check.Threshold{Name: "percent", Unit: "%", Default: cycle.DefaultHardThresholds.Share,
		Source: "of a maximum: American College of Sports Medicine, experienced lifters at 80 % and up; of an effort: no source"}
)

// hardThresholds are from where on a line is hard, as the house sets it.
func hardThresholds(p *check.Pass) intensity.HardThresholds {
	return intensity.HardThresholds{Share: p.Value(percentHard), Effort: p.Value(percentHard)}
}
