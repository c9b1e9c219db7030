package readback

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/render/prose"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
)

// A Plan is a cycle in sentences.
type Plan struct {
	Cycle   string       `json:"cycle"`
	At      source.Place `json:"at"`
	About   []Sentence   `json:"about"` // what holds for all of it
	Weeks   []Part       `json:"weeks"`
	Account []Claim      `json:"account"`
}

// OfCycle reads a cycle back. Sessions finds those that it plans, by name. Found are the findings of its
// file: they hold its weeks against the sessions that are planned in them.
func OfCycle(c *model.Cycle, house *model.House, sessions func(name string) *model.Session, found []diag.Diagnostic) *Plan {
	t := teller{house: house}
	p := &Plan{Cycle: c.Name, At: c.At, About: notes(c.At, 0, []string{c.Purpose}), Weeks: []Part{}}
	n := max(c.Weeks, len(c.Plan))
	if text := t.span(c, n); text != "" {
		p.About = append(p.About, Sentence{At: c.At, Text: sentence(text)})
	}
	p.About = append(p.About, notes(c.At, 0, c.Notes)...)
	for _, w := range c.Plan {
		p.Weeks = append(p.Weeks, week(w))
	}
	a := accountant{teller: t, found: found, claims: []Claim{}}
	for _, w := range c.Plan {
		of := fmt.Sprintf("week %d", w.Number)
		if w.Length != nil {
			a.claim(w.Length.At, of, "length "+prose.Amount(w.Length), Proven, "the lengths of its sessions add up to it")
		}
		a.planned(of, w.Totals, "the sessions of the week add up to it")
	}
	a.planned("", c.Totals, "the parts of all weeks that are no test add up to it")
	for _, g := range c.Progress {
		a.progress(g, n)
		a.followings(c, g, sessions)
	}
	p.Account = a.claims
	return p
}

// span is how long a cycle goes on, and from when.
func (t teller) span(c *model.Cycle, weeks int) string {
	text := fmt.Sprintf("it goes on for %d weeks", weeks)
	if weeks == 1 {
		text = "it is one week"
	}
	if c.From != "" {
		text += " from " + day(c.From)
	}
	return text
}

// day is a date with its day of the week.
func day(date string) string {
	d, err := time.Parse(time.DateOnly, date)
	if err != nil {
		return date
	}
	return d.Weekday().String() + ", " + date
}

// weekdays are the days of the week as a sentence has them.
var weekdays = map[string]string{
	"mon": "Monday", "tue": "Tuesday", "wed": "Wednesday", "thu": "Thursday", "fri": "Friday", "sat": "Saturday",
	"sun": "Sunday",
}

// week is a week of a cycle in sentences.
func week(w *model.Week) Part {
	out := Part{Name: fmt.Sprintf("Week %d", w.Number), At: w.At, Sentences: []Sentence{}}
	switch w.Kind {
	case "":
	case "test":
		out.Name += ", with tests"
	default:
		out.Name += ", " + w.Kind
	}
	out.Sentences = append(out.Sentences, notes(w.At, 0, []string{w.Note})...)
	for _, d := range w.Days {
		text := weekdays[d.Weekday]
		if d.Date != "" {
			text += ", " + d.Date
		}
		if d.Time != "" {
			text += ", at " + d.Time
		}
		text += ": " + d.Session
		switch {
		case d.Rest:
			text += "rest"
		case d.Version != "":
			text += ", version " + d.Version
		}
		if !d.Known && !d.Rest {
			text += " (no file has it)"
		}
		out.Sentences = append(out.Sentences, Sentence{At: d.At, Text: text})
		out.Sentences = append(out.Sentences, notes(d.At, 1, []string{d.Note})...)
	}
	return out
}

// planned are totals over sessions. The findings say which of them these do not add up to.
func (a *accountant) planned(of string, ts []*model.Total, why string) {
	for _, t := range ts {
		stated := *t
		stated.Notes = nil
		a.claim(t.At, of, prose.Stated(&stated), Proven, why)
	}
}

// progress is how a load is to go from week to week, against the sessions that are planned.
func (a *accountant) progress(p *model.Progress, weeks int) {
	what := "progress " + prose.Progress(p)
	holds, why := Proven, fmt.Sprintf("the heaviest of each of the %d weeks is as it says", weeks)
	switch {
	case p.Load.Kind == "":
		why = fmt.Sprintf("a line of each of the %d weeks has these sets and counts", weeks)
	case p.Sets != nil || p.Dose != nil:
		why += ", and a line of each has its sets and counts"
	}
	switch {
	case p.Load.Kind == "":
	case p.Load.Word == "rising":
		why = "each week that is no test and not easy is heavier than the last such"
	case p.Load.Word == "falling":
		why = "each week that is no test and not easy is lighter than the last such"
	case p.Load.Kind != syntax.Mass && p.Load.Kind != syntax.Share:
		holds, why = OnlyShown, "a load of this kind is not held against those of the sessions"
	}
	i := slices.IndexFunc(a.found, func(d diag.Diagnostic) bool { return d.Severity != diag.Error && overlap(d.At, p.At) })
	if i >= 0 {
		holds, why = OnlyShown, a.found[i].Message
	}
	a.claim(p.At, "", what, holds, why)
}

// followings are the lines that follow a progress from week to week, and those that stay as they are.
func (a *accountant) followings(c *model.Cycle, p *model.Progress, sessions func(name string) *model.Session) {
	for _, f := range Followings(c, p, sessions) {
		holds := Proven
		if !f.Moves {
			holds = OnlyShown
		}
		a.claims = append(a.claims, Claim{At: p.At, Of: f.Of, What: p.Move.Name, Holds: holds, Why: f.Text})
	}
}

// A Following is a line that follows a progress from week to week, in words.
type Following struct {
	Of    string // the session, as written or in a version
	Text  string // what it is in each week, and what of it stays
	Moves bool   // something of it does
}

// Followings are the lines that follow a progress, of the sessions that its cycle plans as written, and
// of their versions where they differ. Sessions finds a session by its name.
func Followings(c *model.Cycle, p *model.Progress, sessions func(name string) *model.Session) []Following {
	var out []Following
	seen := map[string]bool{}
	for _, w := range c.Plan {
		for _, d := range w.Days {
			s := sessions(d.Session)
			if s == nil || seen[s.Name] {
				continue
			}
			seen[s.Name] = true
			told := map[string]bool{}
			for _, f := range c.Followings(p, s) {
				text, moves := following(&f)
				of := s.Name
				if v := f.Session.Version; v != "" {
					of += ", version " + v
				}
				if !told[text] {
					out = append(out, Following{of, text, moves})
				}
				told[text] = true
			}
		}
	}
	return out
}

// following is what a line is in each week, and what of it stays. Moves says whether anything of it does.
func following(f *model.Following) (text string, moves bool) {
	if f.Line == nil {
		return strings.Join(f.Stays, "; "), false
	}
	var out []string
	for i, w := range f.Lines {
		moves = moves || w != f.Line
		out = append(out, fmt.Sprintf("week %d: %s", f.Weeks[i], brief(w)))
	}
	if !moves {
		out = []string{brief(f.Line) + " in every week"}
	}
	return strings.Join(append(out, f.Stays...), "; "), moves
}

// brief is how much a line is of what, and at what load, without how it is done.
func brief(w *model.Work) string {
	return prose.Work(&model.Work{Moves: w.Moves, Choice: w.Choice, Sets: w.Sets, Dose: w.Dose, From: w.From, Side: w.Side, RM: w.RM, Window: w.Window, Loads: w.Loads})
}
