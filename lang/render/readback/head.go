package readback

import (
	"fmt"
	"slices"
	"strings"

	"stint.example/stint/lang/analysis/totals"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/render/prose"
	"stint.example/stint/lang/units"
)

// head is how a group is done, a thing each: how it comes round, for what, how long, with whom.
func (t teller) head(g *model.Group) []string {
	var out []string
	add := func(text string) {
		if text != "" {
			out = append(out, text)
		}
	}
	add(t.scheme(g))
	if holdsStations(g) {
		add("the class starts spread over the stations, and all change together")
	}
	add(t.mode(g))
	if g.CarryOn {
		add("each goes on where the last one stopped")
	}
	if g.Cap != nil {
		add("stopped after " + t.amount(g.Cap) + onTheClock(g, g.Cap))
	}
	if g.Lasts != nil {
		add("takes " + t.amount(g.Lasts) + ", whatever anybody does")
	}
	add(t.people(g))
	if g.Side {
		add("all of it for one side, then for the other")
	}
	for _, k := range g.With {
		add(t.kit(k))
	}
	for _, q := range g.Each {
		add(step(q))
	}
	if g.Effort != nil {
		add("at " + effort(t, g.Effort))
	}
	if g.If != "" {
		add(onlyIf(g.If))
	}
	if g.Unread || g.Gaps {
		add("some of this could not be read")
	}
	return out
}

func holdsStations(g *model.Group) bool {
	return slices.ContainsFunc(g.Steps, func(s model.Step) bool {
		k, ok := s.(*model.Group)
		return ok && k.Kind == model.Station
	})
}

// scheme is how often a group comes round.
func (t teller) scheme(g *model.Group) string {
	r := g.Repeat
	end := until(r.Until, nil) + t.inAnyCase(r.Until, r.Count)
	text := ""
	switch r.Kind {
	case model.Once:
	case model.Rounds:
		text = "round after round"
		if r.Count != nil {
			text = t.count(r.Count, "round")
		}
	case model.Ladder:
		text = "a ladder of " + t.amount(r.Series)
	case model.Every:
		text = "a start every " + t.amount(r.Interval) + t.starts(g) + end + "; what is left of each interval is rest"
		end = ""
	case model.On:
		text = "windows of " + t.amount(r.On)
		if r.Off != nil {
			text += " with " + t.amount(r.Off) + " off behind each"
		}
		text += t.starts(g)
		if g.Mode != model.AMRAP && !g.OnceOverWindows() {
			text += ", all of it once in each"
		}
	case model.AnyOrder:
		text = "all of it, in whatever order they like"
	case model.ChooseOne:
		switch {
		case g.Chooses():
			text = "one of these, as each of them chooses"
		case g.MayDoNothing():
			text = "at most one of these: the first whose condition holds"
		default:
			text = "one of these: the first whose condition holds, or else the last"
		}
	}
	return strings.TrimSpace(text + end)
}

// starts is how often a clock starts the work, and how long that is in all.
func (t teller) starts(g *model.Group) string {
	r := g.Repeat
	if r.Count == nil {
		return ""
	}
	text := ", " + t.count(r.Count, "time")
	if r.Laps {
		text = ", " + t.count(r.Count, "round") + " over all of them"
	}
	if whole, ok := totals.Whole(g, 0); ok {
		text += " (" + units.FormatClock(whole) + " in all)"
	}
	return text
}

// count is so many of something: 3 rounds, 1 lap, at least 1 round.
func (t teller) count(q *model.Quantity, noun string) string {
	bare := *q
	bare.Bound = ""
	if n, ok := bare.One(); ok && n == 1 && !q.More {
		return t.amount(q) + " " + noun
	}
	return t.amount(q) + " " + noun + "s"
}

// mode is what they are after.
func (t teller) mode(g *model.Group) string {
	switch g.Mode {
	case model.ForTime:
		return "for time: the sooner done, the better"
	case model.ForLoad:
		return "for load: sets up to the heaviest"
	case model.ForCompletion:
		return "to be done well; nobody counts"
	case model.AMRAP:
		switch {
		case g.Time != nil:
			return "as many rounds as they can in " + t.amount(g.Time) + onTheClock(g, g.Time)
		case g.Repeat.Kind == model.On:
			return "over and over in each window"
		}
		return "over and over until the time is up"
	case model.NoMode:
	}
	return ""
}

// onTheClock is when a time of a part is over on the wall clock, where the part is pinned to that.
func onTheClock(g *model.Group, q *model.Quantity) string {
	at, pinned := g.Start.One()
	long, one := q.One()
	if !pinned || !one || at == 0 {
		return ""
	}
	return " (at " + units.FormatClock(at+long) + ")"
}

// people is who works together, and who rests meanwhile.
func (t teller) people(g *model.Group) string {
	var words []string
	if p := g.People; p != nil {
		words = append(words, "in "+division(p, t))
	}
	if g.Solo {
		words = append(words, "one works while the others rest")
	}
	if g.Solo && g.Share == model.NotShared {
		switch {
		case g.Repeat.Kind == model.On:
			words = append(words, "changing inside each window, which is for all of them")
		case g.Repeat.Kind == model.Every && g.Slots() == 0:
			words = append(words, "changing inside each interval, which is for all of them")
		case g.Lasts != nil:
			words = append(words, "in this time together")
		}
	}
	if g.Share != model.NotShared {
		words = append(words, "the turns are "+sharing(g.Share))
	}
	if p := g.People; p != nil && !g.Solo && g.Share == model.NotShared && someForEach(g) {
		words = append(words, "each does all of what no line says is shared")
	}
	if h := g.Heats; h != nil {
		text := "in " + division(h, t)
		switch {
		case g.People == nil:
		case g.People.Kind == model.Pairs:
			text += " pairs"
		default: // those who work together start together
			text += " teams"
		}
		if h.Every != nil {
			text += ", the next " + t.amount(h.Every) + " after the one before"
		}
		words = append(words, text)
	}
	return strings.Join(words, ", ")
}

// someForEach says whether a group holds work that its partners neither share nor do together.
func someForEach(g *model.Group) bool {
	for w := range g.Lines(model.Everything) {
		if w.Share == model.NotShared && w.Dose != nil {
			return true
		}
	}
	return false
}

func division(p *model.People, t teller) string {
	text := string(p.Kind)
	if p.Size != nil && (p.Kind == model.Teams || p.Kind == model.Heats) {
		text += " of " + t.amount(p.Size)
	}
	return text
}

// step is what every load goes up or down by from turn to turn.
func step(q *model.Quantity) string {
	amount := prose.Amount(q)
	if less, down := strings.CutPrefix(amount, "-"); down {
		return "every load goes down by " + less + " each time"
	}
	return "every load goes up by " + amount + " each time"
}

// order says in which order the steps of a group are done, where there are several.
func order(g *model.Group) string {
	switch {
	case len(model.WorkSteps(g.Steps)) < 2, g.Slots() > 0, g.Repeat.Kind == model.AnyOrder, g.Repeat.Kind == model.ChooseOne:
		return ""
	case g.ComesRound():
		return "each time in this order"
	}
	return "in this order"
}

// lead is when or where the steps of a group are done, or what they are called.
func (t teller) lead(g *model.Group, around []*model.Group) string {
	switch g.Kind {
	case model.Slot:
		return fmt.Sprintf("slot %d%s", g.Number, t.slotTurns(g, around))
	case model.Station:
		return fmt.Sprintf("station %d", g.Number)
	case model.RoundOf:
		if g.Last > g.Number {
			return fmt.Sprintf("in rounds %d to %d", g.Number, g.Last)
		}
		return fmt.Sprintf("in round %d", g.Number)
	case model.OnlyIf:
		return onlyIf(g.If)
	case model.Otherwise:
		return "otherwise"
	default:
		return g.Label
	}
}

// onlyIf is what it depends on whether something is done, in the author's words.
func onlyIf(text string) string { return "only if \"" + strings.TrimSuffix(text, ".") + "\"" }

// slotTurns are the intervals that a slot is done in: 1, 5 and 9.
func (t teller) slotTurns(g *model.Group, around []*model.Group) string {
	if len(around) == 0 {
		return ""
	}
	r := around[len(around)-1]
	n, ok := r.Repeat.Count.One()
	slots := r.Slots()
	if r.Repeat.Laps {
		n *= float64(slots)
	}
	const most = 6
	if !ok || r.Repeat.Kind != model.Every || slots == 0 || int(n)/slots > most {
		return ""
	}
	var turns []string
	for i := g.Number; i <= int(n); i += slots {
		turns = append(turns, fmt.Sprint(i))
	}
	if len(turns) == 0 {
		return ""
	}
	return " (interval " + and(turns) + ")"
}

// event is when work is dropped into other work.
func (t teller) event(e *model.Event) string {
	when := t.amount(e.When)
	switch e.Kind {
	case model.AtTime:
		return "at " + when + " on the clock, whatever they are at"
	case model.Meanwhile:
		return "meanwhile, whoever is not working"
	case model.WhenDone:
		return "whoever is done goes on, for the time that is left, with"
	case model.AtEach:
		if e.When.Unit != "s" {
			return "each time they have done another " + when
		}
		text := "every " + when
		if e.First != nil {
			text += ", the first time at " + t.amount(e.First)
		}
		return text
	default:
		return string(e.Kind)
	}
}
