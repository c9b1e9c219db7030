package warmup

import (
	"slices"

	"stint.example/stint/lang/analysis/intensity"
	"stint.example/stint/lang/book"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/check/phrase"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
)

var PhasesMissing = check.Rule{Name: phasesMissingName, Family: "warm-up", Severity: diag.Suggestion,
	Summary:    "a warm-up before hard work that lacks what raises, what mobilises or what leads up to it",
	Thresholds: append(slices.Clone(check.HardWork), phasesMissingHeavy),
	Session: func(p *check.Pass, s *model.Session) {
		if !judgeable(p, s) || len(warmUps(s)) == 0 {
			return
		}
		said := foundAsWritten(p, func(s *model.Session) []string { return phaseNames(missingPhases(p, s)) })
		missing := slices.DeleteFunc(missingPhases(p, s), func(m phase) bool { return slices.Contains(said, m.what) })
		if len(missing) == 0 {
			return
		}
		g := warmUps(s)[0]
		d := diag.Diagnostic{At: g.At, Message: "the warm-up has nothing that " + phrase.Or(phaseNames(missing)...),
			Label: "raise, mobilise, then lead up to what is hard",
			Help:  "add to it, such as " + phrase.And(phaseLines(missing)...)}
		if edits, ok := addPhases(p, g, missing); ok {
			d.Fixes = []diag.Fix{{Title: "add " + phrase.And(phaseLines(missing)...), Edits: edits}}
		}
		p.Report(d)
	}}

// A phase is what a warm-up lacks, and the line that would fix it.
type phase struct{ what, line string }

func phaseNames(ms []phase) (out []string) {
	for _, m := range ms {
		out = append(out, m.what)
	}
	return out
}

func phaseLines(ms []phase) (out []string) {
	for _, m := range ms {
		out = append(out, m.line)
	}
	return out
}

const (
	raises    = "raises the heart rate"
	mobilises = "moves the joints without a load"
)

// missingPhases are what the warm-up of a session lacks before its hard work.
func missingPhases(p *check.Pass, s *model.Session) []phase {
	gs := warmUps(s)
	hard := false
	for l := range intensity.HardLines(s, p.HardThresholds()) {
		hard = hard || l.Why != ""
	}
	if !hard || len(gs) == 0 {
		return nil
	}
	var raise, mobilise bool
	for _, g := range gs {
		for w := range g.Lines(model.Everything) {
			for _, m := range w.Moves {
				if m.Movement != nil {
					raise = raise || raising(m.Movement)
					mobilise = mobilise || mobilising(w, m.Movement)
				}
			}
		}
	}
	var out []phase
	if !raise {
		out = append(out, phase{raises, "2:00 jog @ easy"})
	}
	if !mobilise {
		out = append(out, phase{mobilises, "6 inchworm"})
	}
	// Near a maximum ramp-missing asks for more, and of a pattern that is cold pattern-cold does.
	colds := coldPatternsIn(s, p.HardThresholds())
	for _, l := range heavyLifts(s, p.Value(phasesMissingHeavy)) {
		isCold := slices.ContainsFunc(colds, func(c coldPattern) bool { return c.move.Movement == l.lift })
		if l.line.Share < nearMaximum(p) && l.sets == 0 && !isCold && !hasPotentiation(s, l.lift) {
			out = append(out, phase{"leads up to the " + l.lift.Name + " " + l.line.Why, rampLines(l.lift.Name, 2)[0]})
		}
	}
	return out
}

// raising says whether a movement gets the heart going: it is run, rowed, cycled, skied, swum
// or crawled, or it is a skip or a hop.
func raising(m *book.Movement) bool {
	return m.Main() == book.Jump && !intensity.Leaps(m) || slices.ContainsFunc(m.Trains, func(t book.Pattern) bool {
		return t == book.Crawl || t.Cyclic()
	})
}

// mobilising says whether a line takes joints through their range: it is mobility, or a pattern
// without a load.
func mobilising(w *model.Work, m *book.Movement) bool {
	return slices.Contains(m.Trains, book.Mobility) ||
		len(w.Loads) == 0 && len(w.With) == 0 && len(m.Needs) == 0 &&
			slices.ContainsFunc(primedPatterns, func(t book.Pattern) bool {
				return t != book.Jump && slices.Contains(m.Trains, t)
			})
}

// hasPotentiation says whether a warm-up has something fast, such as a jump, that readies the legs
// for a lift that they drive.
func hasPotentiation(s *model.Session, lift *book.Movement) bool {
	if t := lift.Main(); t != book.Squat && t != book.Hinge && t != book.Lunge {
		return false
	}
	found := false
	for _, g := range warmUps(s) {
		for w := range g.Lines(model.Everything) {
			found = found || slices.ContainsFunc(w.Moves,
				func(m model.Move) bool { return intensity.Leaps(m.Movement) })
		}
	}
	return found
}

// addPhases are the edits that add what a warm-up lacks, each where it belongs: what raises
// first, what leads up last.
func addPhases(p *check.Pass, g *model.Group, missing []phase) (edits []diag.Edit, ok bool) {
	var last []string
	for _, m := range missing {
		var e diag.Edit
		switch m.what {
		case raises:
			e, ok = addFirst(p, g, []string{m.line})
		case mobilises:
			e, ok = addDrills(p, g, []string{m.line})
		default:
			last = append(last, m.line)
			ok = !g.ComesRound()
			continue
		}
		if !ok {
			return nil, false
		}
		edits = append(edits, e)
	}
	if len(last) > 0 {
		e, added := addLines(p, g, last)
		if !added || !ok {
			return nil, false
		}
		if i := slices.IndexFunc(edits, func(o diag.Edit) bool { return o.At == e.At }); i >= 0 {
			edits[i].New += e.New // both at the end
			return edits, true
		}
		edits = append(edits, e)
	}
	return edits, true
}
