package model

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/units"
)

// A Cycle is a plan of weeks.
type Cycle struct {
	Name     string       `json:"name"`
	At       source.Place `json:"at"`
	From     string       `json:"from,omitempty"` // year-month-day, the first day of week 1
	Weeks    int          `json:"weeks,omitempty"`
	Purpose  string       `json:"purpose,omitempty"`
	Plan     []*Week      `json:"plan"`
	Progress []*Progress  `json:"progress,omitempty"`
	Totals   []*Total     `json:"totals,omitempty"` // as stated, of the parts of all weeks that are no test
	Notes    []string     `json:"notes,omitempty"`
	Block    source.Span  `json:"-"`
}

// The kinds of week that a cycle may name.
const (
	EasyWeek = "easy"
	TestWeek = "test"
)

// A Week is one week of a cycle.
type Week struct {
	Number int          `json:"number"`         // from 1
	Kind   string       `json:"kind,omitempty"` // "easy", "test", or empty
	Note   string       `json:"note,omitempty"`
	At     source.Place `json:"at"`
	Days   []*Day       `json:"days"`
	Length *Quantity    `json:"length,omitempty"` // s, of its sessions together
	Totals []*Total     `json:"totals,omitempty"` // as stated, of its sessions together
	Block  source.Span  `json:"-"`
}

// A Day is a session's place in a week.
type Day struct {
	Weekday string       `json:"weekday"`        // "mon" ... "sun"
	Date    string       `json:"date,omitempty"` // year-month-day, where the cycle says from when
	Time    string       `json:"time,omitempty"` // h:mm
	Rest    bool         `json:"rest,omitempty"` // a day of rest
	Session string       `json:"session,omitempty"`
	Version string       `json:"version,omitempty"` // which of its versions, where that is not the session as written
	Known   bool         `json:"known"`             // some file has the session
	At      source.Place `json:"at"`                // the session's name
	Note    string       `json:"note,omitempty"`
}

func (l *lowerer) cycle(b *syntax.Block, e *syntax.Entry) *Cycle {
	c := &Cycle{Name: e.Name.Text, At: l.place(b.Line, e.Name.Span), Block: blockSpan(b), Plan: []*Week{}}
	seen := map[string]bool{}
	for _, kid := range b.Kids {
		line := kid.Line
		p, ok := line.Stmt.(*syntax.Property)
		if !ok {
			c.Notes = appendNote(c.Notes, line)
			continue
		}
		if (p.Key == "from" || p.Key == "weeks") && seen[p.Key] {
			l.twice(line, p, c.Name)
			continue
		}
		seen[p.Key] = true
		switch p.Key {
		case "from":
			c.From = p.Date
		case "weeks":
			c.Weeks = int(p.Quantity.Steps[0].Tiers[0].Value)
		case "purpose":
			c.Purpose = note(line)
		case "total":
			l.after(line, p, false)
			c.Totals = append(c.Totals, l.totals(line, p)...)
		case "week":
			c.Plan = append(c.Plan, l.weeks(kid, p)...)
		case "progress":
			l.progress(c, line, p)
		}
	}
	l.dates(c)
	return c
}

// weeks lowers a week, or each of a range of them: they hold the same.
func (l *lowerer) weeks(b *syntax.Block, p *syntax.Property) []*Week {
	first := l.week(b, p)
	out := []*Week{first}
	last := p.Quantity.Steps[len(p.Quantity.Steps)-1].Tiers
	if len(last) == 0 || last[0].Value > maxWeeks {
		return out
	}
	for n := first.Number + 1; n <= int(last[0].Value); n++ {
		next := *first
		next.Number, next.Days = n, nil
		for _, d := range first.Days {
			day := *d
			next.Days = append(next.Days, &day)
		}
		out = append(out, &next)
	}
	return out
}

func (l *lowerer) week(b *syntax.Block, p *syntax.Property) *Week {
	w := &Week{Number: int(p.Quantity.Steps[0].Tiers[0].Value), Note: note(b.Line), At: l.place(b.Line, p.Span), Days: []*Day{}, Block: blockSpan(b)}
	if len(p.Names) > 0 {
		w.Kind = strings.ToLower(p.Names[0].Text)
		if w.Kind != EasyWeek && w.Kind != TestWeek {
			at := l.place(b.Line, p.Names[0].Span)
			help, fix := "write week 4 easy, week 6 test, or nothing behind the number", (*diag.Fix)(nil)
			switch w.Kind {
			case "deload", "light", "lighter", "recovery", "down":
				help, fix = "a lighter week is written easy", &diag.Fix{Title: "write easy", Edits: []diag.Edit{{At: at, New: "easy"}}}
			}
			l.report(book.WordUnknown, at, fmt.Sprintf("%q is no kind of week", p.Names[0].Text), help, fix)
		}
	}
	for _, kid := range b.Kids {
		d, ok := kid.Line.Stmt.(*syntax.Property)
		switch {
		case !ok:
			continue
		case d.Key == "total":
			l.after(kid.Line, d, false)
			w.Totals = append(w.Totals, l.totals(kid.Line, d)...)
			continue
		case d.Key == "length" && w.Length != nil:
			l.twice(kid.Line, d, fmt.Sprintf("week %d", w.Number))
			continue
		case d.Key == "length":
			w.Length = l.quantity(kid.Line, d.Quantity, "")
			continue
		case !slices.Contains(syntax.Weekdays, d.Key):
			continue
		}
		day := &Day{Weekday: d.Key, Session: d.Names[0].Text, At: l.place(kid.Line, d.Names[0].Span), Note: note(kid.Line)}
		if d.Time != nil {
			day.Time = units.FormatClock(d.Time.Tiers[0].Value)
		}
		day.Version = strings.ToLower(d.Version.Text)
		if strings.EqualFold(day.Session, "rest") {
			day.Rest, day.Session, day.Known = true, "", true
		} else if n, ok := l.env.Sessions[book.Key(day.Session)]; ok {
			day.Session, day.Known = n, true
		} else {
			l.unknownSession(day)
		}
		w.Days = append(w.Days, day)
	}
	return w
}

func (l *lowerer) unknownSession(day *Day) {
	var keys []string
	for k := range l.env.Sessions {
		keys = append(keys, k)
	}
	help := "write the session's name as its file has it"
	if near := syntax.Nearest(book.Key(day.Session), keys, 2); len(near) > 0 {
		help = "did you mean " + l.env.Sessions[near[0]] + "?"
	}
	l.report(sessionUnknown, day.At, fmt.Sprintf("no file of this workspace has a session %q", day.Session), help, nil)
}

// dates gives each day its date: week 1 is the calendar week (Monday first, ISO 8601)
// that holds the cycle's first day.
func (l *lowerer) dates(c *Cycle) {
	from, err := time.Parse(time.DateOnly, c.From)
	if err != nil {
		return
	}
	monday := from.AddDate(0, 0, -(int(from.Weekday())+6)%7)
	for _, w := range c.Plan {
		if w.Number > maxWeeks {
			continue
		}
		for _, d := range w.Days {
			d.Date = monday.AddDate(0, 0, 7*(w.Number-1)+slices.Index(syntax.Weekdays, d.Weekday)).Format(time.DateOnly)
		}
	}
}

// maxWeeks keeps dates inside the years that a date can be written in.
const maxWeeks = 10_000
