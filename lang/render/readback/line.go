package readback

import (
	"fmt"
	"slices"
	"strings"

	"stint.example/stint/lang/model"
	"stint.example/stint/lang/render/prose"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/units"
)

// line is a line of work in words: how much of what, how heavy or hard, and how it is done. Around
// are the groups that hold it, outermost first.
func (t teller) line(w *model.Work, around []*model.Group) string {
	text := t.work(w, around)
	if w.Sets != nil {
		text = t.count(w.Sets, "set") + " of " + text
	}
	if w.Side {
		text += " on each side" + twice(w)
	}
	for i, p := range w.Terms {
		piece := map[bool]string{true: ", of them ", false: " and "}[i == 0] + prose.Amount(p.Count)
		text += strings.TrimRight(piece+" "+p.Label, " ")
	}
	for i := range w.Loads {
		text += join(t.load(&w.Loads[i], w.Moves[0].Name))
	}
	if w.Sets != nil && w.Until != nil && !w.Until.OfTurns() {
		text += ", each set"
	}
	text += until(w.Until, around)
	if w.Until.OfTurns() {
		text += t.inAnyCase(w.Until, w.Sets)
	} else {
		text += t.inAnyCase(w.Until, w.Dose)
	}
	return text + t.manner(w)
}

// inAnyCase says what is done of a range whatever ends the rest of it.
func (t teller) inAnyCase(e *model.End, q *model.Quantity) string {
	if !e.Untold() || !q.HoldsLeast() || q.Form != syntax.Range {
		return ""
	}
	least := *q
	least.Form, least.Terms = syntax.One, q.Terms[:1]
	return ", but at least " + t.amount(&least)
}

// join sets a load off from what is before it: "with" and "at" need no comma.
func join(load string) string {
	for _, word := range []string{"with ", "at ", "as fast "} {
		if strings.HasPrefix(load, word) {
			return " " + load
		}
	}
	return ", " + load
}

// twice says what a count on each side adds up to, where that is one number.
func twice(w *model.Work) string {
	n, ok := w.Dose.One()
	if !ok || w.Dose.Unit == "s" {
		return ""
	}
	sum := *w.Dose
	sum.Terms = [][]float64{{2 * n}}
	return " (" + prose.Amount(&sum) + " in all)"
}

// work is how much of what.
func (t teller) work(w *model.Work, around []*model.Group) string {
	if w.Choice && slices.ContainsFunc(w.Moves, func(m model.Move) bool { return m.Count != nil && m.Count.Unit == "s" }) {
		return t.timedChoice(w, around)
	}
	name := t.moves(w)
	d := w.Dose
	switch {
	case d == nil || w.From == model.FromClock:
		return name + t.forAsLong(w, around)
	case w.RM > 0:
		return "up to the heaviest " + units.FormatNumber(w.RM) + " " + name
	case d.Max:
		return t.most(w, name, around)
	case w.Past != nil && d.Unit == "%":
		return name + ", " + t.amount(d) + " of " + mostOf(w.Past) + ", rounded up"
	case w.Past != nil:
		told := ""
		if len(d.Terms) > 0 {
			told = t.amount(d)
		}
		return name + ", " + strings.Replace(from(w.Past, told), "as in", "as many as in", 1)
	case d.Unit == "%":
		return t.amount(d) + " of the most " + name + " that they can do at once"
	case d.Unit == "s":
		return name + " for " + t.amount(d)
	}
	amount := t.amount(d)
	switch {
	case d.Unit == "breath":
		return name + " for " + amount + "s"
	case w.Sets != nil && d.Form == syntax.Series: // a count for each set
		return name + " (" + amount + ")"
	case d.Open || strings.HasSuffix(amount, ")"): // a series without end, or one for each tier
		return name + ", " + amount
	}
	return amount + " " + name
}

// timedChoice is a choice of movements of which some are done for a time of their own.
func (t teller) timedChoice(w *model.Work, around []*model.Group) string {
	each := make([]string, len(w.Moves))
	for i, m := range w.Moves {
		one := *w
		if m.Count != nil {
			one.Dose = m.Count
			m.Count = nil
		}
		one.Moves, one.Choice = []model.Move{m}, false
		each[i] = t.work(&one, around)
	}
	last := len(each) - 1
	return strings.Join(each[:last], ", ") + " or " + each[last]
}

// mostOf is what a share of earlier work is of.
func mostOf(p *model.Past) string {
	text := map[model.BaseKind]string{model.OfFirst: "what they did in the first", model.OfLast: "what they did in the one before",
		model.OfToday: "the most that they did today"}[p.Of]
	if p.Offset == nil {
		return text
	}
	return text + " (" + prose.Past(p) + ")"
}

// most is as much as somebody can do: in a time of its own, or in what holds it where it is the last there.
func (t teller) most(w *model.Work, name string, around []*model.Group) string {
	within := ""
	switch {
	case w.Window != nil:
		within = " in " + t.amount(w.Window)
	case w.Sets == nil && !w.ToFailure() && w.Until == nil && lastIn(w, around):
		within = strings.Replace(t.timeOf(around), " for ", " in ", 1)
	}
	switch w.Dose.Unit {
	case "s":
		return name + " for as long as they can" + within
	case "rep":
		return "as many " + name + " as they can" + within
	case "m":
		return "as many metres of " + name + " as they can" + within
	case "cal":
		return "as many calories of " + name + " as they can" + within
	}
	return "as much " + name + " as they can" + within
}

// lastIn says whether a line is the last of all that holds it, as far out as the next time.
func lastIn(w *model.Work, around []*model.Group) bool {
	var last model.Step = w
	for _, g := range slices.Backward(around) {
		steps := model.WorkSteps(g.Steps)
		if !g.IsSlot() && g.Kind != model.RoundOf && (len(steps) == 0 || steps[len(steps)-1] != last) {
			return false
		}
		if g.Lasts != nil || g.Repeat.Clocked() || g.IsSlot() {
			return true
		}
		last = g
	}
	return false
}

// forAsLong says how long a line without a count is done: all of what holds it, or what other work
// leaves of that.
func (t teller) forAsLong(w *model.Work, around []*model.Group) string {
	if w.Until != nil {
		return ""
	}
	if w.Shares {
		for _, g := range slices.Backward(around) {
			if g.Lasts != nil {
				return " for a share of the " + t.amount(g.Lasts) + ", which is left open"
			}
		}
	}
	return t.timeOf(around)
}

// timeOf is the time that groups give to what has none of its own: all of it, or what other work leaves.
func (t teller) timeOf(around []*model.Group) string {
	shared := false
	for i, g := range slices.Backward(around) {
		shared = shared || g.Slots() == 0 && len(model.WorkSteps(g.Steps)) > 1
		whole, of := "", ""
		switch {
		case g.Lasts != nil:
			whole, of = t.amount(g.Lasts), t.amount(g.Lasts)
		case g.Repeat.Kind == model.On:
			whole, of = t.amount(g.Repeat.On), "the window"
		case g.IsSlot() && i > 0 && around[i-1].Repeat.Kind == model.Every, g.Repeat.Kind == model.Every && g.Slots() == 0:
			whole, of = "the whole interval", "the interval"
		default:
			continue
		}
		if shared {
			return " for what is left of " + of
		}
		return " for " + whole
	}
	return ""
}

// moves are the movements of a line: one, a choice of them, or a complex.
func (t teller) moves(w *model.Work) string {
	names := make([]string, len(w.Moves))
	for i, m := range w.Moves {
		names[i] = m.Name
		if m.Count != nil {
			names[i] = t.amount(m.Count) + " " + m.Name
		}
	}
	switch {
	case len(names) < 2:
		return strings.Join(names, "")
	case w.Choice:
		last := len(names) - 1
		return strings.Join(names[:last], ", ") + " or " + names[last]
	}
	return and(names) + " in one go"
}

// load is what stands behind an @, on a line of a movement; of kit there is none.
func (t teller) load(l *model.Load, movement string) string {
	if l.Past != nil {
		text := from(l.Past, t.amount(l.Amount))
		if l.Past.Of == model.OfToday {
			text = strings.Replace(text, "in "+pastTurn(model.OfToday), "their heaviest "+movement+" today", 1)
		}
		if strings.HasPrefix(text, "as ") {
			text = "as heavy " + text
		}
		return text
	}
	amount := t.loaded(l)
	switch l.Kind {
	case syntax.Mass:
		if l.Count != nil {
			n := t.amount(l.Count)
			return "with " + t.byTier(l.Amount, func(q *model.Quantity) string { return n + " x " + amountInWords(q) })
		}
		return "with " + amount
	case syntax.Height:
		return "at a height of " + amount
	case syntax.Share:
		text := "at " + amount + of(l.Base, movement)
		if r := t.house.Rounding; r != nil && ofWeight(l.Base) {
			text += ", " + prose.Rounded(r)
		}
		return text
	case syntax.RIR:
		return "with " + strings.Replace(t.count(l.Amount, "repetition"), " RIR", "", 1) + " left in reserve"
	case syntax.RPE, syntax.Reading:
		return "at " + amount
	case syntax.Effort:
		return "at " + amount + " effort"
	case syntax.Rising:
		return map[string]string{"rising": "heavier", "falling": "lighter"}[l.Word] + each(l.Word)
	case syntax.Cadence:
		per := prose.Per(*l)
		for _, than := range []string{" or faster", " or slower"} {
			if pace, bounded := strings.CutSuffix(amount, than); bounded {
				return "at " + pace + per + than
			}
		}
		return "at " + amount + per
	case syntax.Pace:
		return t.pace(l) + prose.Slower(*l, t.amount)
	case syntax.Noted:
		return fmt.Sprintf("at a load in words: %q", oneLine(strings.TrimRight(l.Note, ".")))
	case syntax.Named:
		if l.Amount == nil {
			return l.Word
		}
		return l.Word + " (" + amount + " effort)"
	}
	return prose.Load(*l)
}

// pace is how fast as the pace of a distance or of a time, or as a share of one.
func (t teller) pace(l *model.Load) string {
	held, in := t.amount(l.Amount), "in a race over "
	if l.Amount.Unit == "s" {
		in = "for "
	}
	if l.Share == nil && l.Amount.Unit == "s" {
		return "as hard as they can keep up for " + held
	}
	if l.Share == nil {
		return "as fast as " + in + held
	}
	share := *l
	share.Amount = l.Share
	what := "speed"
	if l.Power {
		what = "power"
	}
	return "at " + t.loaded(&share) + " of the " + what + " that they hold " + in + held
}

// loaded is the amount of a load. Behind "at" a bound is said as no more than; of a pace, as faster
// or slower, since the numbers go the other way than the speed.
func (t teller) loaded(l *model.Load) string {
	if l.Amount == nil || l.Amount.Bound == model.Unbounded || l.Kind == syntax.Mass {
		return t.amount(l.Amount)
	}
	bare := *l.Amount
	bare.Bound = ""
	text, most := t.amount(&bare), l.Amount.Bound == model.AtMost
	switch {
	case l.Kind == syntax.Cadence && most:
		return text + " or faster"
	case l.Kind == syntax.Cadence:
		return text + " or slower"
	case most:
		return "no more than " + text
	}
	return "no less than " + text
}

// each ends what a load does from turn to turn.
func each(word string) string {
	if word == "faster" || word == "slower" {
		return word + " each time"
	}
	return " each time"
}

// of is what a percentage is of, behind a movement.
func of(b *model.Base, movement string) string {
	switch {
	case b == nil:
		return ""
	case b.Kind == model.OfRM && b.Reps <= 1:
		return " of their 1RM"
	case b.Kind == model.OfRM:
		return " of their " + units.FormatNumber(float64(b.Reps)) + "RM"
	case b.Kind == model.OfToday:
		return " of their heaviest " + movement + " today"
	case b.Kind == model.OfFirst || b.Kind == model.OfLast:
		return " of that in " + pastTurn(b.Kind)
	case b.Kind == model.OfBodyweight:
		return " of their own weight"
	case b.Kind == model.OfMovement:
		return " of their 1RM in the " + b.Name
	}
	return " of their greatest " + string(b.Kind)
}

// until is what work goes on until. A time is on the nearest clock around it.
func until(e *model.End, around []*model.Group) string {
	switch {
	case e == nil:
		return ""
	case e.Clock != nil:
		text := " until " + prose.Amount(e.Clock)
		for i := len(around) - 1; i >= 0; i-- {
			switch g := around[i]; {
			case g.Repeat.Kind == model.Every:
				return text + " of the interval"
			case g.Repeat.Kind == model.On:
				return text + " of the window"
			case g.Lasts != nil || g.Cap != nil || g.Time != nil:
				return text + " of its time"
			}
		}
		return text + " on the clock of the part"
	}
	switch e.Kind {
	case model.UntilMissed:
		return " until they miss one, each for themselves"
	case model.UntilDone:
		return " until all of it is done"
	case model.UntilReading:
		return " until the monitor shows " + prose.Amount(e.Reading)
	case model.UntilPast:
		return " until one is " + comparedWith(e.Past)
	case model.UntilNote:
		return fmt.Sprintf(" until %q", oneLine(strings.TrimRight(e.Note, ".")))
	case model.UntilClock:
	}
	return ""
}

// comparedWith says what the time of a turn is held against.
func comparedWith(p *model.Past) string {
	of := pastTurn(p.Of)
	if p.Offset == nil {
		return "done in the time of " + of
	}
	amount := prose.Amount(p.Offset)
	if less, negative := strings.CutPrefix(amount, "-"); negative {
		return less + " faster than " + of
	}
	return amount + " slower than " + of
}

// pastTurn is an earlier turn in words.
func pastTurn(of model.BaseKind) string {
	switch of {
	case model.OfFirst:
		return "the first"
	case model.OfLast:
		return "the one before"
	default:
		return "the best of today"
	}
}

// from is what was done before in words, and what is added to it. Told is what that comes to, where the
// text tells it.
func from(p *model.Past, told string) string {
	text := "as in " + pastTurn(p.Of)
	if p.Offset != nil {
		amount := prose.Amount(p.Offset)
		if less, negative := strings.CutPrefix(amount, "-"); negative {
			text = less + " less than in " + pastTurn(p.Of)
		} else {
			text = amount + " more than in " + pastTurn(p.Of)
		}
	}
	if p.Bound != model.Unbounded {
		text = string(p.Bound) + " " + text
	}
	if told != "" {
		text += " (" + told + ")"
	}
	return text
}

// manner is how a line is done, each thing behind a comma.
func (t teller) manner(w *model.Work) string {
	text := ""
	add := func(yes bool, what string) {
		if yes {
			text += ", " + what
		}
	}
	add(w.Alternating, "taking the sides in turn")
	add(w.Tempo != "", tempo(w.Tempo))
	add(w.Unbroken, "without a break")
	add(w.AnySets, "broken up as they like")
	if w.SetsOf != nil {
		add(true, "in sets of "+t.amount(w.SetsOf))
	}
	add(w.Share != model.NotShared, sharing(w.Share))
	if w.ShareOfEach != nil {
		add(true, "each of them "+t.amount(w.ShareOfEach))
	}
	for _, k := range w.With {
		add(true, t.kit(k))
	}
	if w.Every != nil {
		add(true, "a set every "+t.amount(w.Every))
	}
	if w.Rest != nil {
		add(true, "with "+t.howLong(w.Rest)+" between the sets"+t.inRest(w.Rest, nil))
	}
	if w.If != "" {
		add(true, onlyIf(w.If))
	}
	return text
}

func sharing(s model.Sharing) string {
	switch s {
	case model.Split:
		return "shared between them as they like"
	case model.SplitEvenly:
		return "shared evenly between them"
	case model.Together:
		return "all of them together"
	case model.NotShared:
	}
	return ""
}

// kit is what somebody carries or wears on top.
func (t teller) kit(k model.Kit) string {
	text := "with " + k.Name
	for i := range k.Loads {
		if load := t.load(&k.Loads[i], ""); k.Loads[i].Kind == syntax.Mass {
			text += " of " + strings.TrimPrefix(load, "with ")
		} else {
			text += join(load)
		}
	}
	return text
}

// tempo is the four phases of a repetition in words.
func tempo(text string) string {
	phases := strings.Split(text, "")
	if strings.Contains(text, "-") {
		phases = strings.Split(text, "-")
	}
	if len(phases) != 4 {
		return "tempo " + text
	}
	var words []string
	for i, p := range phases {
		pause := i%2 == 1
		where := []string{"down", "at the bottom", "up", "at the top"}[i]
		switch {
		case p == "0" && pause:
			continue
		case strings.EqualFold(p, "x"):
			words = append(words, where+" as fast as they can")
		case pause:
			words = append(words, p+" s "+where)
		default:
			words = append(words, p+" s "+where)
		}
	}
	return strings.Join(words, ", ")
}

// ofWeight says whether a share is of a weight, so that it is one.
func ofWeight(b *model.Base) bool {
	return b == nil || b.Kind == model.OfRM || b.Kind == model.OfMovement || b.Kind == model.OfToday || b.Kind == model.OfBodyweight
}
