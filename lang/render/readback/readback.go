// Package readback tells a session in plain words, as one coach tells another: who does how much
// of what and in which order, when it starts and ends, what rest there is, what each number between
// slashes stands for and what each version changes. It says of each stated number how it was held
// to be true, so that nothing that a text states goes without a word.
package readback

import (
	"fmt"
	"slices"
	"strings"

	"stint.example/stint/lang/analysis/equipment"
	"stint.example/stint/lang/analysis/totals"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/render/prose"
	"stint.example/stint/lang/render/timeline"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
)

// A Document is what sessions say, in sentences: the shape that is published as JSON, by the schema
// in spec/schema/readback.schema.json.
type Document struct {
	Version  int        `json:"version"` // of this shape: 1
	Sessions []*Reading `json:"sessions"`
	Cycles   []*Plan    `json:"cycles"`
	Caution  string     `json:"caution"`
}

// NewDocument reads sessions and cycles back. Sessions finds those that cycles plan, by name; found are the
// findings of their files.
func NewDocument(of *model.Document, env *model.Env, sessions func(name string) *model.Session, found []diag.Diagnostic) *Document {
	d := &Document{Version: 1, Sessions: []*Reading{}, Cycles: []*Plan{}, Caution: timeline.Caution}
	for _, s := range of.Sessions {
		d.Sessions = append(d.Sessions, Of(s, env, found))
	}
	for _, c := range of.Cycles {
		d.Cycles = append(d.Cycles, OfCycle(c, env.House, sessions, found))
	}
	return d
}

// A Reading is a session in sentences, as written or in one version.
type Reading struct {
	Session  string       `json:"session"`
	Version  string       `json:"version,omitempty"` // empty as written
	Week     string       `json:"week,omitempty"`    // of a cycle, where it is told in one: week 3 of Spring Tide
	At       source.Place `json:"at"`
	About    []Sentence   `json:"about"` // what holds for all of it
	Parts    []Part       `json:"parts"`
	Account  []Claim      `json:"account"`
	Versions []Change     `json:"versions,omitempty"` // of a session as written
}

// A Part is a part of a session in sentences.
type Part struct {
	Name      string       `json:"name"` // Warm-up, Part A
	At        source.Place `json:"at"`
	Sentences []Sentence   `json:"sentences"`
}

// A Sentence says one thing. What is deeper belongs to the nearest sentence before it that is less
// deep.
type Sentence struct {
	At    source.Place `json:"at"`
	Depth int          `json:"depth"`
	Text  string       `json:"says"`
	Note  bool         `json:"note,omitempty"` // the author's own words, for people

	aside bool   // it says nothing of what is done: how long it takes, whose a number is
	brief string // without what its lines, or its head, show too
}

// Of reads a session back. Found are the findings of its file: what they say of a stated number
// stands in the account.
func Of(s *model.Session, env *model.Env, found []diag.Diagnostic) *Reading {
	r := read(s, env, found)
	for _, v := range s.Versions {
		r.Versions = append(r.Versions, change(r, read(v.Session, env, found), v))
	}
	return r
}

func read(s *model.Session, env *model.Env, found []diag.Diagnostic) *Reading {
	t := teller{house: env.House}
	times := equipment.Timeline(s, env)
	clock := timeline.NewClock(times, env.House)
	r := t.sentences(s, clock)
	a := accountant{teller: t, session: s, clock: clock, times: times, found: found}
	r.Account = a.all()
	return r
}

// sentences are those of a session; without a clock, those that say nothing of how long it takes.
func (t teller) sentences(s *model.Session, clock *timeline.Clock) *Reading {
	t.start = s.Start
	r := &Reading{Session: s.Name, Version: s.Version, Week: s.Week.String(), At: s.At, About: t.about(s), Parts: []Part{}}
	for i, g := range s.Parts {
		var p *timeline.Part
		if clock != nil {
			p = clock.Parts[i]
		}
		r.Parts = append(r.Parts, t.part(g, p))
	}
	return r
}

// Line is a line of work in words; around are the groups that hold it, outermost first.
func Line(h *model.House, w *model.Work, around []*model.Group) string {
	return teller{house: h}.line(w, around)
}

// Rest is a rest in words: how long, and where it is taken.
func Rest(h *model.House, r *model.Rest, around []*model.Group) string {
	return teller{house: h}.rest(r, around)
}

// Head is how a group is done, in words: how it comes round, for what, how long, with whom.
func Head(h *model.House, g *model.Group) string {
	var out []string
	for _, text := range (teller{house: h}).head(g) {
		out = append(out, sentence(text))
	}
	return strings.Join(out, " ")
}

// Total says how a stated total was held to be true against the sum of its lines, and by what.
func Total(t *model.Total, row totals.Row) (Holds, string) { return proof(t, row) }

// about is what a session says of all of it.
func (t teller) about(s *model.Session) []Sentence {
	out := []Sentence{}
	say := func(at source.Place, text string) {
		if text != "" {
			out = append(out, Sentence{At: at, Text: sentence(text)})
		}
	}
	out = append(out, notes(s.At, 0, []string{s.Purpose})...)
	if s.Date != "" {
		say(s.At, "it is held on "+s.Date)
	}
	if s.Start != nil {
		say(s.Start.At, "it starts at "+s.Start.Time+", the time of day, unless a cycle says another")
	}
	if l := s.Length; l != nil {
		say(l.At, "it is meant to take "+t.amount(l)+", from the warm-up to the cool-down")
	}
	if e := s.Effort; e != nil {
		say(e.At, "all of it is meant to be at "+effort(t, e))
	}
	heat := s.Heat
	if heat == nil {
		heat = t.house.Heat
	}
	if heat != nil {
		say(heat.At, "it is as hot as "+t.amount(heat)+" of the wet-bulb globe temperature")
	}
	if usesTiers(s) {
		out = append(out, Sentence{At: s.At, Text: sentence("of two numbers between slashes, " + t.tiers()), aside: true})
	}
	for _, r := range s.Rests {
		say(r.At, t.asked(r))
	}
	if len(s.Kit) > 0 {
		var kit []string
		for _, k := range s.Kit {
			kit = append(kit, prose.KitItem(k))
		}
		say(s.Kit[0].At, "the kit there is, in the place of the house's: "+strings.Join(kit, ", "))
	}
	for _, c := range s.Cautions {
		say(s.At, "mind: "+c)
	}
	return append(out, notes(s.At, 0, s.Notes)...)
}

func effort(t teller, q *model.Quantity) string {
	text := t.loaded(&model.Load{Amount: q}) // behind "at", at most is no more than
	if q.Unit == "RPE" {
		return text
	}
	return text + " effort"
}

// tiers says whose each number between slashes is.
func (t teller) tiers() string {
	words := []string{}
	for i, name := range t.house.Tiers {
		which := "the next"
		if i == 0 {
			which = "the first"
		}
		if i == 1 && len(t.house.Tiers) == 2 {
			which = "the second"
		}
		words = append(words, which+" is for "+name)
	}
	return strings.Join(words, ", ")
}

// usesTiers says whether any line of a session tells tiers apart.
func usesTiers(s *model.Session) bool {
	for w := range s.Lines(model.Everything) {
		qs := []*model.Quantity{w.Dose, w.Sets}
		for _, l := range w.Loads {
			qs = append(qs, l.Amount)
		}
		if slices.ContainsFunc(qs, func(q *model.Quantity) bool { return q.Tiers() > 1 }) {
			return true
		}
	}
	return false
}

// part is a part in sentences. Without its times they say nothing of how long it takes.
func (t teller) part(g *model.Group, p *timeline.Part) Part {
	name := strings.TrimSpace(string(g.Kind) + " " + g.Letter)
	out := Part{Name: strings.ToUpper(name[:1]) + name[1:], At: g.At}
	say := func(text string, aside bool) {
		if text != "" {
			out.Sentences = append(out.Sentences, Sentence{At: g.At, Text: sentence(text), aside: aside})
		}
	}
	_, pinned := g.Start.One()
	say(t.begins(g, p), !pinned)
	for _, text := range t.head(g) {
		say(text, false)
	}
	out.Sentences = append(out.Sentences, notes(g.At, 0, g.Notes)...)
	if words := order(g); words != "" {
		say(words+":", true)
	}
	depth := 1
	if len(out.Sentences) == 0 { // there is no head that its lines could stand under
		depth = 0
	}
	out.Sentences = append(out.Sentences, t.inside(g, nil, depth)...)
	if p != nil {
		if s := p.Skill; s != nil {
			say(s.Text+", as not everybody can do a "+s.Movement, true)
		}
		say(t.ends(g, p), true)
	}
	return out
}

// begins is when a part starts.
func (t teller) begins(g *model.Group, p *timeline.Part) string {
	day := ""
	if p != nil && p.BeganSettled() {
		day = t.ofDay(p.Began)
	}
	switch at, pinned := g.Start.One(); {
	case pinned && at == 0:
		return "the wall clock starts with it" + day
	case pinned:
		return "starts at " + prose.Amount(g.Start) + " on the wall clock" + day
	case g.Kind == model.WarmUp, p == nil, p.Began == 0 && p.Settled:
		return ""
	case !p.Settled && strings.HasPrefix(p.StartText(), "about "):
		return "starts when all is done that is before it, at " + p.StartText()
	case !p.Settled, strings.HasPrefix(p.StartText(), "not before "):
		return "starts when all is done that is before it, " + p.StartText()
	}
	return "starts when all is done that is before it, at about " + p.StartText() + day
}

// ends is when a part is over, and what is left then.
func (t teller) ends(g *model.Group, p *timeline.Part) string {
	if len(model.WorkSteps(g.Steps)) == 0 || g.Kind == model.WarmUp && p.EndText() == "0:00" {
		return ""
	}
	if p.End.Slow <= 0 && p.Start < 0 { // what stands before 0:00
		return "takes " + levels(p.WorkText()) + ", and is over before the wall clock starts"
	}
	text := "it is over at " + levels(p.EndText())
	if p.BeganSettled() {
		before := p.Began - p.Start // how long the session has gone on when the wall clock starts
		text += t.ofDay(before+p.End.Fast, before+p.End.Typical, before+p.End.Slow)
	}
	if !p.Proven || !p.Settled {
		return "when it is over is not proven: " + levels(p.EndText())
	}
	if p.End.Fast != p.End.Slow {
		text = "by the estimate " + text
	}
	switch left := p.LeftText(); left {
	case "":
		return text
	case "none":
		return text + ", and what comes next follows at once"
	default:
		which := p.Left.Leaves(" before what comes next", "late for what comes next")
		return text + ", which " + strings.Replace(which, left, levels(left), 1)
	}
}

// levels says whose three times are, where there are three.
func levels(text string) string {
	if strings.Count(text, " / ") == 2 {
		return text + " (fast / typical / slow)"
	}
	return text
}

// inside are the steps of a group, its events, and what it asks for, in sentences.
func (t teller) inside(g *model.Group, around []*model.Group, depth int) []Sentence {
	around = append(slices.Clip(around), g)
	out := t.steps(g.Steps, around, depth)
	if g.IsSection() { // what is not in the order of its lines
		depth = 0
	}
	return append(out, t.beside(g, around, depth)...)
}

// beside is what a group says beside its steps: its events, what rest it asks for, and its scores.
func (t teller) beside(g *model.Group, around []*model.Group, depth int) []Sentence {
	var out []Sentence
	for _, e := range g.Events {
		out = append(out, t.under(e.At, capital(t.event(e)), e.Steps, e.Notes, nil, around, depth)...)
	}
	for _, r := range g.Rests {
		out = append(out, Sentence{At: r.At, Depth: depth, Text: sentence(t.asked(r))})
		out = append(out, notes(r.At, depth+1, r.Notes)...)
	}
	for _, sc := range g.Scores {
		what := strings.Join(strings.Fields(sc.Agg+" "+sc.What), " ")
		text := "the score is the " + what
		switch {
		case sc.What == syntax.ScoreNote:
			text = fmt.Sprintf("the score in words: %q", oneLine(strings.TrimRight(sc.Note, ".")))
		case sc.Agg == "each":
			text = "the score is the " + sc.What + " of each turn"
		}
		text += bestTime(sc, g)
		for _, p := range sc.Penalties {
			amount, off := strings.CutPrefix(t.amount(p.Amount), "-")
			if off {
				text += ", less " + amount + " per " + p.Per
			} else {
				text += ", and " + amount + " more per " + p.Per
			}
		}
		if len(sc.Penalties) > 0 {
			text += ": this is of the score, and the clock goes on as it does"
		}
		out = append(out, Sentence{At: sc.At, Depth: depth, Text: sentence(text)})
		out = append(out, notes(sc.At, depth+1, sc.Notes)...)
	}
	return out
}

// bestTime says which time of the turns a score is: the shortest of work that is counted, the longest of
// what is held.
func bestTime(sc *model.Score, g *model.Group) string {
	if sc.What != "time" || sc.Agg != "best" && sc.Agg != "worst" {
		return ""
	}
	if (sc.Agg == "best") == g.HeldForTime() {
		return ", which is the longest"
	}
	return ", which is the shortest"
}

func (t teller) steps(steps []model.Step, around []*model.Group, depth int) []Sentence {
	var out []Sentence
	for _, s := range steps {
		switch s := s.(type) {
		case *model.Group:
			out = append(out, t.group(s, around, depth)...)
		case *model.Work:
			line := Sentence{At: s.At, Depth: depth, Text: t.line(s, around)}
			if s.From == model.FromHead {
				bare := *s
				bare.Dose = nil
				line.brief = t.line(&bare, nil)
			}
			out = append(out, line)
			out = append(out, notes(s.At, depth+1, s.Notes)...)
		case *model.Rest:
			out = append(out, Sentence{At: s.At, Depth: depth, Text: t.rest(s, around)})
			out = append(out, notes(s.At, depth+1, s.Notes)...)
		case *model.Tag:
			out = append(out, Sentence{At: s.At, Depth: depth, Text: "then the next of the team goes on"})
			out = append(out, notes(s.At, depth+1, s.Notes)...)
		}
	}
	return out
}

func (t teller) group(g *model.Group, around []*model.Group, depth int) []Sentence {
	if g.Kind != model.Plain {
		within := append(slices.Clip(around), g)
		return t.under(g.At, t.lead(g, around), g.Steps, g.Notes, t.beside(g, within, depth+1), within, depth)
	}
	words := t.head(g)
	if len(words) == 0 {
		words = []string{"once"}
	}
	head := Sentence{At: g.At, Depth: depth, brief: strings.Join(words, ", ")}
	head.Text = head.brief + ":"
	if o := order(g); o != "" {
		head.Text = head.brief + ", " + o + ":"
	}
	out := []Sentence{head}
	out = append(out, notes(g.At, depth+1, g.Notes)...)
	return append(out, t.inside(g, around, depth+1)...)
}

// under is what stands under a lead: one thing on its line, several below it. What is beside the steps
// stands behind them.
func (t teller) under(at source.Place, lead string, steps []model.Step, remarks []string, beside []Sentence, around []*model.Group, depth int) []Sentence {
	below := t.steps(steps, around, depth+1)
	if len(steps) == 0 && len(remarks)+len(beside) == 0 { // a version has left it out
		return nil
	}
	if len(steps) == 1 && len(below) > 0 && len(remarks)+len(beside) == 0 {
		if _, group := steps[0].(*model.Group); !group {
			below[0].Text, below[0].Depth = lead+": "+below[0].Text, depth
			return below
		}
	}
	out := append([]Sentence{{At: at, Depth: depth, Text: lead + ":"}}, notes(at, depth+1, remarks)...)
	return append(append(out, below...), beside...)
}

func notes(at source.Place, depth int, texts []string) []Sentence {
	var out []Sentence
	for _, n := range texts {
		if n != "" {
			out = append(out, Sentence{At: at, Depth: depth, Text: n, Note: true})
		}
	}
	return out
}
