package cycle

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"stint.example/stint/lang/analysis/intensity"
	"stint.example/stint/lang/book"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/units"
)

// DefaultHardThresholds are those of a cycle unless a house sets others: 80 % is what the American
// College of Sports Medicine has experienced lifters train at and above. That an effort counts like
// a share of a maximum has no source.
var DefaultHardThresholds = intensity.HardThresholds{Share: 80, Effort: 80}

// A Hard is a pattern that a session trains hard, with the lines that do so.
type Hard struct {
	Pattern book.Pattern
	Lines   []*Line
}

// strengthPatterns are the patterns that need days of rest after hard work. The figure of two days
// is about the muscles that lift; running and rowing on two days running are another matter.
var strengthPatterns = []book.Pattern{book.Squat, book.Hinge, book.Lunge, book.HorizontalPush, book.VerticalPush, book.HorizontalPull, book.VerticalPull, book.Carry, book.Trunk, book.Rotation, book.Jump}

// Hard are the patterns that the session trains hard, in the order of the book's patterns.
// All that a movement trains counts, not only what it chiefly does: a thruster is a
// vertical push too.
func (s *SessionAnalysis) Hard(from intensity.HardThresholds) []Hard {
	by := map[book.Pattern][]*Line{}
	for _, l := range s.Lines {
		if !l.Hard(from) {
			continue
		}
		seen := map[book.Pattern]bool{}
		for _, mv := range l.Work.Moves {
			if mv.Movement == nil || !slices.Contains(strengthPatterns, mv.Movement.Main()) {
				continue
			}
			for _, p := range mv.Movement.Trains {
				if !seen[p] && slices.Contains(strengthPatterns, p) {
					seen[p] = true
					by[p] = append(by[p], l)
				}
			}
		}
	}
	var out []Hard
	for _, p := range strengthPatterns {
		if len(by[p]) > 0 {
			out = append(out, Hard{p, by[p]})
		}
	}
	return out
}

// Hard says whether the line is, by its load or its effort.
func (l *Line) Hard(from intensity.HardThresholds) bool {
	return l.UpTo || l.Share.Top >= from.Share || l.hardEffort(from)
}

func (l *Line) hardEffort(from intensity.HardThresholds) bool {
	return l.effort.As != nil && l.effort.Hard(from, l.Share.Top)
}

// Text is the line in a few words: 5 x 3 front squat @ 80%.
func (l *Line) Text(from intensity.HardThresholds) string {
	names := make([]string, len(l.Work.Moves))
	for i, mv := range l.Work.Moves {
		names[i] = mv.Name
	}
	text := strings.Join(names, " + ")
	if l.Work.Choice {
		text = strings.Join(names, " or ")
	}
	if n := reps(l.Work.Dose); n != "" && len(names) == 1 {
		text = n + " " + text
		if l.Sets > 1 && l.Work.Dose.Form != syntax.Series {
			text = units.FormatNumber(l.Sets) + " x " + text
		}
	}
	switch {
	case l.Share.Top >= from.Share:
		return text + " @ " + Round(l.Share.Top) + "%"
	case l.UpTo:
		return text + ", built up to the heaviest"
	case l.hardEffort(from):
		return text + " @ " + l.EffortText()
	}
	return text
}

// EffortText is the effort of the line in the way in which the text says it.
func (l *Line) EffortText() string {
	switch l.effort.As.Unit {
	case "RPE":
		return "RPE " + Round(l.Effort/10)
	case "RIR":
		return Round(10-l.Effort/10) + " RIR"
	default:
		return "effort " + Round(l.Effort) + "%"
	}
}

// reps is a count of repetitions in words; empty where it is another unit, or open.
func reps(q *model.Quantity) string {
	if q == nil || q.Unit != "rep" || q.Max || len(q.Terms) == 0 || q.Tiers() > 1 {
		return ""
	}
	terms := make([]string, len(q.Terms))
	for i, row := range q.Terms {
		terms[i] = units.FormatNumber(row[0])
	}
	if len(terms) > 6 {
		terms = append(terms[:2:2], "...", terms[len(terms)-1])
	}
	return strings.Join(terms, "-")
}

// Round is a number as a sentence says one that was worked out: to a tenth.
func Round(v float64) string { return fmt.Sprint(math.Round(v*10) / 10) }
