package prose

import (
	"fmt"
	"strings"

	"stint.example/stint/lang/model"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/units"
)

// Head is what a group says of itself: its name, how it comes round, how it is done.
func Head(g *model.Group) string {
	var words []string
	add := func(prefix, text string) {
		if text != "" {
			words = append(words, prefix+text)
		}
	}
	if g.Kind != model.Plain && g.Kind != model.Label {
		add("", string(g.Kind))
	}
	add("", g.Letter)
	add("", g.Label)
	if g.Number > 0 {
		add("", fmt.Sprint(g.Number))
	}
	if g.Last > g.Number {
		words[len(words)-1] += "-" + fmt.Sprint(g.Last)
	}
	add("at ", Amount(g.Start))
	add("", repeat(g.Repeat))
	add("", string(g.Mode))
	add("", Amount(g.Time))
	text := strings.Join(words, " ")
	if g.Kind == model.OnlyIf {
		return text + " > " + g.If
	}
	for i, c := range clauses(g) {
		if i > 0 || g.Repeat.Kind != model.Once || g.Mode != "" {
			text += ","
		}
		text = strings.TrimSpace(text + " " + c)
	}
	if g.Unread || g.Gaps {
		text = strings.TrimSpace(text + " (some of this could not be read)")
	}
	if text == "" {
		return "once"
	}
	return text
}

// IsLead says whether a group says when or where, and not how often.
func IsLead(g *model.Group) bool {
	return g.IsSlot() || g.Kind == model.RoundOf || g.Kind == model.Label || g.Kind == model.Otherwise
}

func clauses(g *model.Group) []string {
	var out []string
	add := func(prefix, text string) {
		if text != "" {
			out = append(out, prefix+text)
		}
	}
	say := func(yes bool, text string) {
		if yes {
			add("", text)
		}
	}
	say(g.Side, "each side")
	add("cap ", Amount(g.Cap))
	add("lasts ", Amount(g.Lasts))
	add("in ", people(g.People))
	add("in ", people(g.Heats))
	say(g.Solo, "one works")
	add("", string(g.Share))
	out = append(out, kit(g.With)...)
	say(g.CarryOn, "carry on")
	for _, q := range g.Each {
		sign := "+"
		if strings.HasPrefix(Amount(q), "-") {
			sign = ""
		}
		add("each "+sign, Amount(q))
	}
	add("if > ", g.If)
	return out
}

func people(p *model.People) string {
	if p == nil {
		return ""
	}
	text := string(p.Kind)
	if p.Kind == model.Teams || p.Kind == model.Heats {
		text += " of " + Amount(p.Size)
	}
	if p.Every != nil {
		text += " every " + Amount(p.Every)
	}
	return text
}

// Event is when work is dropped into other work.
func Event(e *model.Event) string {
	text := strings.TrimSpace(string(e.Kind) + " " + span(e.When))
	if e.First != nil {
		text += " from " + Amount(e.First)
	}
	return text
}

func repeat(r model.Repeat) string {
	text := string(r.Kind)
	switch r.Kind {
	case model.Once:
		return strings.TrimSpace(until(r.Until))
	case model.Rounds:
		if text = string(model.Rounds); r.Count != nil {
			text = Number(r.Count) + " rounds"
			text = oneRound(text)
		}
		return text + until(r.Until)
	case model.Ladder:
		if r.Series != nil {
			text += " " + Number(r.Series)
		}
	case model.Every:
		if r.Whole != nil {
			return "emom " + Amount(r.Whole) + until(r.Until)
		}
		text += " " + Amount(r.Interval)
	case model.On:
		if text += " " + Amount(r.On); r.Off != nil {
			text += " off " + Amount(r.Off)
		}
	case model.AnyOrder, model.ChooseOne: // the words alone
	}
	if r.Count != nil {
		n := Number(r.Count)
		if r.Laps {
			n = oneRound(n + " rounds")
		}
		text += " x " + n
	}
	return text + until(r.Until)
}

// oneRound takes the plural from one round.
func oneRound(text string) string {
	if text == "1 rounds" || text == "at most 1 rounds" {
		return strings.TrimSuffix(text, "s")
	}
	return text
}

// Step is a step that is one line, and empty for a group.
func Step(s model.Step) string {
	switch s := s.(type) {
	case *model.Work:
		return Work(s)
	case *model.Rest:
		return Placed(s)
	case *model.Tag:
		return "tag" + Remark(s.Notes)
	}
	return ""
}

// Work is a line of work.
func Work(w *model.Work) string {
	var text string
	if w.Sets != nil {
		text = Number(w.Sets) + " x "
	}
	if w.Dose != nil && w.From != model.FromHead {
		if text += dose(w); w.Side {
			text += "/side"
		}
		text += " "
	}
	for i, m := range w.Moves {
		switch {
		case i > 0 && w.Choice:
			text += " or "
		case i > 0:
			text += " + "
		}
		if m.Count != nil {
			text += Amount(m.Count) + " "
		}
		text += m.Name
	}
	for i, t := range w.Terms {
		sign := " + "
		if i == 0 {
			sign = " = "
		}
		text += sign + Number(t.Count)
		if w.Dose == nil || writtenIn(t.Count) != writtenIn(w.Dose) {
			text = strings.TrimSpace(text + " " + unitOf(t.Count))
		}
		text = strings.TrimSpace(text + " " + t.Label)
	}
	text += Loads(w.Loads) + until(w.Until)
	if c := manner(w); len(c) > 0 {
		text += ", " + strings.Join(c, ", ")
	}
	for _, l := range w.Loads {
		if l.Kind == syntax.Noted {
			text += " @ " + Load(l)
		}
	}
	if len(w.Notes) > 0 {
		text += " > " + strings.Join(w.Notes, " ")
	}
	return text
}

// Progress is what a movement is to be from week to week: 3-4-5 x 5 front squat @ 70-72.5-75%.
func Progress(p *model.Progress) string {
	w := model.Work{Moves: []model.Move{p.Move}, Sets: p.Sets, Dose: p.Dose}
	if p.Load.Kind != "" {
		w.Loads = []model.Load{p.Load}
	}
	return Work(&w)
}

// dose is how much of it, for a side where it is counted by sides.
func dose(w *model.Work) string {
	text := Amount(w.Dose)
	switch {
	case w.Past != nil && w.Dose.Unit == "%":
		text += " of " + Past(w.Past)
	case w.Past != nil:
		text = Past(w.Past)
	case w.RM > 0:
		text = units.FormatNumber(w.RM) + "RM"
	case w.Dose.Max && w.Window != nil:
		text = Amount(w.Window) + " " + text
	case w.Dose.Unit == "%":
		text += " of max"
	}
	return text
}

// manner is how work is to be done.
func manner(w *model.Work) []string {
	var out []string
	add := func(yes bool, text string) {
		if yes {
			out = append(out, text)
		}
	}
	add(w.Side && (w.Dose == nil || w.From == model.FromHead), "each side")
	add(w.Alternating, "alternating")
	add(w.Tempo != "", "tempo "+w.Tempo)
	add(w.Unbroken, "unbroken")
	add(w.AnySets, "any sets")
	add(w.SetsOf != nil, "sets of "+Amount(w.SetsOf))
	add(w.Share != "", string(w.Share))
	add(w.ShareOfEach != nil, "each "+Amount(w.ShareOfEach))
	out = append(out, kit(w.With)...)
	add(w.Every != nil, "every "+Amount(w.Every))
	if w.Rest != nil {
		out = append(out, Rest(w.Rest))
	}
	add(w.If != "", "if > "+w.If)
	return out
}
