// Package warmup has the rules about warm-ups: raise, mobilise, and ramp sets before heavy lifts.
package warmup

import (
	"fmt"
	"slices"

	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/analysis/intensity"
	"stint.example/stint/lang/analysis/strength"
	"stint.example/stint/lang/analysis/totals"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/check/edit"
	"stint.example/stint/lang/units"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/syntax"
)

// warmUps are the warm-ups of a session; seldom more than one.
func warmUps(s *model.Session) []*model.Group {
	var out []*model.Group
	for _, g := range s.Parts {
		if g.Kind == model.WarmUp {
			out = append(out, g)
		}
	}
	return out
}

// judgeable says whether a session can be judged as a whole hour: it is one, it has a part,
// and every line of it could be read. Else one mistake would draw another.
func judgeable(p *check.Pass, s *model.Session) bool {
	return p.Whole(s) && !p.HasUnreadableLine(p.Written) && !slices.ContainsFunc(s.Parts, func(g *model.Group) bool {
		return g.Unread || g.Gaps || !p.PartReadWithoutErrors(g)
	}) && slices.ContainsFunc(s.Parts, func(g *model.Group) bool { return g.Kind == model.Part && len(g.Steps) > 0 })
}

// foundAsWritten is what a function finds in the session as written, where a version of it is
// looked at: what it says of the version too has been said.
func foundAsWritten[T comparable](p *check.Pass, f func(*model.Session) []T) []T {
	if p.Version == nil {
		return nil
	}
	return f(p.Written)
}

// primedPatterns are those that hard work may find cold. Trunk, rotation and carries
// are held rather than moved through, and any work before them primes them; what is run, rowed
// or cycled is its own warm-up, but for a sprint.
var primedPatterns = []book.Pattern{book.Squat, book.Hinge, book.Lunge, book.HorizontalPush, book.VerticalPush,
	book.HorizontalPull, book.VerticalPull, book.Jump}

// patternsToPrime are the patterns that a hard line of a movement asks a warm-up for: its main one, and
// the press overhead wherever there is one.
func patternsToPrime(m *book.Movement) []book.Pattern {
	if m == nil {
		return nil
	}
	if intensity.Sprints(m) {
		return []book.Pattern{book.Run}
	}
	var out []book.Pattern
	for i, t := range m.Trains {
		if slices.Contains(primedPatterns, t) && (i == 0 || t == book.VerticalPush) {
			out = append(out, t)
		}
	}
	return out
}

// touchesPattern says whether a movement moves as a pattern does. A pull is a pull, as among the
// five patterns of the American Council on Exercise, and a press overhead readies one in front,
// but not the other way round. A machine that is rowed or skied readies nothing but its own.
func touchesPattern(m *book.Movement, want book.Pattern) bool {
	return m != nil && slices.ContainsFunc(m.Trains, func(t book.Pattern) bool {
		if m.Main().Cyclic() && t != book.Run && t != book.Jump {
			return false
		}
		return t == want || want != book.VerticalPush && want.Coarse() == t.Coarse() &&
			(want.Coarse() == "pull" || want.Coarse() == "push")
	})
}

// drillFor is what a coach adds to a warm-up for a pattern: light, and with no kit.
var drillFor = map[book.Pattern]string{
	book.Squat: "8 air squat", book.Hinge: "8 hip hinge drill", book.Lunge: "8 reverse lunge, alternating",
	book.HorizontalPush: "8 scapular push-up", book.VerticalPush: "8 wall slide", book.HorizontalPull: "8 prone pull",
	book.VerticalPull: "8 prone pull", book.Jump: "15 pogo hop", book.Run: "20 high knees",
}

// A coldPattern is a pattern that a session loads hard and nothing readies.
type coldPattern struct {
	pattern book.Pattern
	line    *intensity.Line
	move    model.Move
}

// coldPatternsIn are the patterns that hard lines find cold, each at its first. What is not hard touches
// a pattern, in the warm-up as in the parts before; so do the lighter turns of the line itself.
func coldPatternsIn(s *model.Session, from intensity.HardThresholds) []coldPattern {
	var out []coldPattern
	var before []*intensity.Line
	seen := map[book.Pattern]bool{}
	for l := range intensity.HardLines(s, from) {
		if l.Why == "" {
			before = append(before, l)
			continue
		}
		if lighterTurns(l) > 0 {
			before = append(before, &intensity.Line{Work: l.Work})
		}
		for _, m := range l.Work.Moves {
			for _, pattern := range patternsToPrime(m.Movement) {
				touched := slices.ContainsFunc(before, func(o *intensity.Line) bool {
					return o.Share < max(l.Share, from.Share) &&
						slices.ContainsFunc(o.Work.Moves, func(om model.Move) bool {
							return touchesPattern(om.Movement, pattern)
						})
				})
				if !touched && !seen[pattern] {
					seen[pattern] = true
					out = append(out, coldPattern{pattern, l, m})
				}
			}
		}
	}
	return out
}

// lighterTurns is how many turns of a line are lighter than its heaviest: by their share of a
// maximum or, where the load goes by feel, with more repetitions.
func lighterTurns(h *intensity.Line) int {
	w, n := h.Work, 0
	if ld := intensity.ShareOf(w); ld != nil {
		for _, share := range h.Shares() {
			if share < h.Share-1e-9 {
				n++
			}
		}
		return n / ld.Amount.Tiers()
	}
	byFeel := slices.ContainsFunc(w.Loads, func(l model.Load) bool {
		return l.Kind == syntax.RPE || l.Kind == syntax.RIR || l.Kind == syntax.Rising
	})
	if !byFeel && !intensity.GoesHeavy(w, h.Around) || w.Dose == nil || w.Dose.Form != syntax.Series {
		return 0
	}
	for _, row := range w.Dose.Terms {
		if row[0] > intensity.FewestReps(w) {
			n++
		}
	}
	return n
}

// A rampSet is a set that leads up to a heavier one.
type rampSet struct{ reps, share int }

// rampSets are the sets that lead up to a heavy one, the lightest first: the repetitions are
// those of the test warm-up of a maximum (see ramp-missing), the shares its light, middling and
// near-maximal ones in numbers, as coaches write them: common practice, no source.
var rampSets = []rampSet{{5, 50}, {3, 70}, {2, 80}}

// rampLines are lines for the last so many of those sets of a lift.
func rampLines(lift string, n int) []string {
	var out []string
	for _, r := range rampSets[len(rampSets)-min(max(n, 0), len(rampSets)):] {
		out = append(out, fmt.Sprintf("%d %s @ %d%%", r.reps, lift, r.share))
	}
	return out
}

// editable is a group as the session as written has it, whose lines can be edited: of a
// version, they may be swaps that stand elsewhere. It is nil where a version has it for itself,
// and where lines cannot be added to it: they stand behind its head, or a clock or slots say
// when each is done.
func editable(p *check.Pass, g *model.Group) *model.Group {
	var found *model.Group
	for k := range p.Written.Groups(model.Everything) {
		if k.At == g.At {
			found = k
		}
	}
	f := p.File.Syntax.Src
	if found == nil || found.At.File != f || len(found.Steps) == 0 || found.Slots() > 0 || found.Repeat.Clocked() ||
		f.LineAt(found.Steps[0].Where().Start) == f.LineAt(found.At.Start) {
		return nil
	}
	return found
}

// addDrills is the edit that adds light lines to a warm-up: to its rounds, where it has some.
func addDrills(p *check.Pass, g *model.Group, lines []string) (diag.Edit, bool) {
	for _, st := range g.Steps {
		if k, ok := st.(*model.Group); ok && k.Repeat.Kind == model.Rounds {
			if e, ok := addLines(p, k, lines); ok {
				return e, true
			}
		}
	}
	return addLines(p, g, lines)
}

// addLines is the edit that adds lines to the end of a group.
func addLines(p *check.Pass, g *model.Group, lines []string) (diag.Edit, bool) {
	if g = editable(p, g); g == nil {
		return diag.Edit{}, false
	}
	f := g.At.File
	last := g.Steps[len(g.Steps)-1].Where().Start
	return edit.Lines(f, edit.BehindLine(f, last), edit.DepthOf(f, g.Steps[0].Where().Start), lines), true
}

// addFirst is the edit that adds lines to the beginning of a group.
func addFirst(p *check.Pass, g *model.Group, lines []string) (diag.Edit, bool) {
	if g = editable(p, g); g == nil {
		return diag.Edit{}, false
	}
	at := g.Steps[0].Where().Start
	return edit.Lines(g.At.File, edit.LineStart(g.At.File, at), edit.DepthOf(g.At.File, at), lines), true
}

// The rules whose thresholds others keep to.
const (
	patternColdName   = "pattern-cold"
	jointColdName     = "joint-cold"
	phasesMissingName = "phases-missing"
	rampMissingName   = "ramp-missing"
)

// hardJoints are the joints that the hard lines of a session load.
func hardJoints(s *model.Session, from intensity.HardThresholds) []book.Joint {
	var out []book.Joint
	for l := range intensity.HardLines(s, from) {
		if l.Why != "" {
			for _, m := range l.Work.Moves {
				out = append(out, loadedJoints(m)...)
			}
		}
	}
	return out
}

// movedBy are the joints that movements of the book move.
func movedBy(p *check.Pass, names ...string) []book.Joint {
	var out []book.Joint
	for _, n := range names {
		m, _ := p.Env.Book.Lookup(n)
		out = append(out, jointsOf(model.Move{Movement: m})...)
	}
	return out
}

func jointsOf(m model.Move) []book.Joint {
	if m.Movement == nil {
		return nil
	}
	return m.Movement.Moves()
}

// loadedJoints are those that a movement asks a warm-up for. A trunk that holds still while
// something else moves, as in a push-up, asks for none.
func loadedJoints(m model.Move) []book.Joint {
	if m.Movement == nil {
		return nil
	}
	chief := *m.Movement
	chief.Trains = nil
	for i, t := range m.Movement.Trains {
		if i == 0 || t != book.Trunk {
			chief.Trains = append(chief.Trains, t)
		}
	}
	return chief.Moves()
}

// A drill is a line of a warm-up: how many of what.
type drill struct{ dose, name string }

func (d drill) String() string { return d.dose + " " + d.name }

// jointDrills are what a coach adds to a warm-up for joints: light, with no kit, those of one
// joint first. The counts are common practice, no source.
var jointDrills = []drill{
	{"8/side", "ankle rock"}, {"8/side", "hip circle"}, {"6", "cat-cow"}, {"10", "arm circle"}, {"10", "wrist circle"},
	{"8", "wall slide"}, {"4/side", "thread the needle"}, {"8", "hip hinge drill"}, {"8", "air squat"},
	{"6", "squat-to-stand"}, {"4/side", "lunge with reach"}, {"6", "inchworm"},
}

// drillsFor is the drill that moves all of some joints or, where none does, the first two that
// do together.
func drillsFor(p *check.Pass, joints []book.Joint) []string {
	lacks := func(d drill, joints []book.Joint) []book.Joint {
		m, _ := p.Env.Book.Lookup(d.name)
		if m == nil || len(m.Needs) > 0 { // a workspace has it otherwise
			return joints
		}
		return slices.DeleteFunc(slices.Clone(joints), func(j book.Joint) bool { return slices.Contains(m.Moves(), j) })
	}
	for _, d := range jointDrills {
		if len(lacks(d, joints)) == 0 {
			return []string{d.String()}
		}
	}
	for i, d := range jointDrills {
		left := lacks(d, joints)
		for _, o := range jointDrills[i+1:] {
			if len(left) < len(joints) && len(lacks(o, left)) == 0 {
				return []string{d.String(), o.String()}
			}
		}
	}
	return nil
}

// From where on lifts are led up to. Rules keep to each other's thresholds, so that one says
// nothing where another does.
var (
	phasesMissingHeavy = &check.Threshold{Name: "heavy", Unit: "%", Default: 85, // the load trains strength
		Source: strength.Handbook +
			", chapter 17: 85 % and up trains strength; that it wants leading up to is our own reading of " +
			check.RampSource}
	rampMissingShare = &check.Threshold{Name: "share", Unit: "%", Default: 90,
		Source: "common practice, no source: from where a lift is near a maximum"}
	// rampMissingSets are each heavier, before the first attempt.
	rampMissingSets = &check.Threshold{Name: "sets", Default: 3, Source: testSource}
)

const testSource = "the protocol of the National Strength and Conditioning Association for testing a maximum: 5 to 10 light, 3 to 5, and 2 to 3 near it, then the attempts"

// nearMaximum is from what share of a maximum on ramp-missing asks for lighter sets.
func nearMaximum(p *check.Pass) float64 { return p.ValueOf(rampMissingName, rampMissingShare) }

// A heavyLift is the first line of a lift that comes near a maximum, and how many lighter sets
// of it, or of another lift of its pattern, lead up to it.
type heavyLift struct {
	lift *book.Movement
	line *intensity.Line
	sets int
}

// need is how many more sets are asked for.
func (l heavyLift) need(sets int) int { return sets - l.sets }

// heavyLifts are the lifts of a session that reach a share of a maximum or more.
func heavyLifts(s *model.Session, share float64) []heavyLift {
	var out []heavyLift
	type led struct {
		lift  *book.Movement
		share float64
		sets  int
	}
	var before []led
	for l := range intensity.Lines(s) {
		m := intensity.TestedLift(l.Work)
		if m == nil {
			continue
		}
		if l.Around[0].Kind == model.Part && l.Share >= share &&
			!slices.ContainsFunc(out, func(h heavyLift) bool { return h.lift == m }) {
			l.Why = saidLoad(l.Work, l.Around)
			h := heavyLift{lift: m, line: l, sets: ownSets(l)}
			for _, b := range before {
				if b.lift.Main() == m.Main() && b.share < l.Share {
					h.sets += b.sets
				}
			}
			out = append(out, h)
		}
		before = append(before, led{m, l.Share, max(1, totals.LineTurns(l.Work, l.Around))})
	}
	return out
}

// ownSets is how many lighter sets a line has of its own: the lighter turns of its series. One
// that goes as heavy as it will is built up to; where nobody says in how many sets, one counts.
func ownSets(h *intensity.Line) int {
	if !intensity.GoesHeavy(h.Work, h.Around) {
		return lighterTurns(h)
	}
	if n := totals.LineTurns(h.Work, h.Around); n > 1 {
		return n - 1
	}
	return 1
}

// saidLoad is what makes a line heavy, as a sentence says it.
func saidLoad(w *model.Work, around []*model.Group) string {
	switch {
	case w.RM > 0:
		return "built up to a heaviest " + units.FormatTenth(w.RM)
	case intensity.GoesHeavy(w, around):
		return "as heavy as it goes"
	}
	for _, ld := range w.Loads {
		return ld.Text()
	}
	return ""
}

// warmUpTime reports what f says of the time of a session's warm-up, where it is wrong and the
// same is not wrong as written.
func warmUpTime(p *check.Pass, s *model.Session, wrong func(float64) bool,
	f func(v float64, said string) diag.Diagnostic) {
	find := func(s *model.Session) []bool {
		if v, _, ok := warmUpTakes(p, s); ok && wrong(v) {
			return []bool{true}
		}
		return nil
	}
	if !judgeable(p, s) || find(s) == nil || foundAsWritten(p, find) != nil {
		return
	}
	v, said, _ := warmUpTakes(p, s)
	d := f(v, said)
	g := warmUps(s)[0]
	d.At = g.At
	if g.Lasts != nil {
		d.At = g.Lasts.At
	}
	p.Report(d)
}

// warmUpTakes is how long the warm-up takes: as it says, or a typical member by the estimate.
func warmUpTakes(p *check.Pass, s *model.Session) (sum float64, said string, ok bool) {
	for _, g := range warmUps(s) {
		if v, is := g.Lasts.One(); is {
			sum, ok = sum+v, true
			continue
		}
		i := slices.IndexFunc(p.Timeline(s).Parts, func(t *estimate.PartTime) bool { return t.Group == g })
		if i < 0 || !p.Timeline(s).Parts[i].Proven() {
			return 0, "", false
		}
		work := p.Timeline(s).Parts[i].Work
		if sum, ok = sum+work.Typical, true; !units.Same(work.Fast, work.Slow) {
			said = " by the estimate"
		}
	}
	return sum, said, ok
}
