package arithmetic

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"stint.example/stint/lang/analysis/intensity"
	"stint.example/stint/lang/book"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
)

var EachUnused = check.Rule{Name: "each-unused", Family: "arithmetic", Severity: diag.Warning,
	Summary: "a load that is to change each turn, where nothing comes round, or where there is no such load",
	Session: func(p *check.Pass, s *model.Session) {
		for g, around := range s.Groups(model.Everything) {
			for _, q := range g.Each {
				if !g.ComesRound() {
					p.Report(diag.Diagnostic{At: q.At, Message: doneOnce,
						Help: "say how often on the same head: 3 rounds, each +5 kg"})
					continue
				}
				if !changesLoad(g, q.Unit) {
					p.Report(diag.Diagnostic{At: q.At,
						Message: fmt.Sprintf("no load inside is in %s, so nothing changes", cmp.Or(q.Written, q.Unit)),
						Help:    "write the first turn's load on the line that it is for, in the same unit: 5 front squat @ 60 kg"})
				}
			}
			turns := severalTurns(append(slices.Clip(around), g)) || hasSets(g)
			for _, k := range g.With {
				changing(p, k.Loads, turns, 0, "")
			}
		}
		for w, around := range s.Lines(model.Everything) {
			turns := w.Sets != nil || w.RM > 0 || severalTurns(around)
			changing(p, w.Loads, turns, setsToWrite(w), weightless(w))
			for _, k := range w.With {
				changing(p, k.Loads, turns, 0, "")
			}
		}
	}}

const doneOnce = "what changes each turn needs turns, and this is done once"

// changing reports loads that change each turn and cannot: where nothing comes round, or where what is
// done, if it is named, moves no weight. Sets are how many numbers say it instead, 0 where that is not known.
func changing(p *check.Pass, loads []model.Load, turns bool, sets int, weightless string) {
	for _, ld := range loads {
		if ld.Kind != syntax.Rising {
			continue
		}
		out := diag.Fix{Title: "take it out", Edits: []diag.Edit{{At: withBlank(ld.At)}}}
		switch speed := map[string]string{"rising": "faster", "falling": "slower"}[ld.Word]; {
		case !turns:
			p.Report(diag.Diagnostic{At: ld.At, Message: doneOnce,
				Help: "say how many sets, such as 5 x 3, or put it under what comes round, such as 3 rounds", Fixes: []diag.Fix{out}})
		case weightless != "" && speed != "":
			write := diag.Fix{Title: "write @ " + speed, Edits: []diag.Edit{{At: ld.At, New: "@ " + speed}}}
			efforts := intensity.Efforts(sets, ld.Word == "falling")
			fixes := []diag.Fix{write, out}
			if sets > 0 {
				fixes = slices.Insert(fixes, 0, diag.Fix{Title: "write " + efforts, Edits: []diag.Edit{{At: ld.At, New: efforts}}})
			}
			p.Report(diag.Diagnostic{At: ld.At,
				Message: fmt.Sprintf("@ %s is about weight, and %s moves none", ld.Word, weightless),
				Help:    fmt.Sprintf("write @ %s for its speed, or how hard each is, which says how long it takes too: %s", speed, efforts),
				Fixes:   fixes})
		}
	}
}

// withBlank is a place with the blanks before it.
func withBlank(at source.Place) source.Place {
	at.Start = len(strings.TrimRight(at.File.Text[:at.Start], " "))
	return at
}

// severalTurns says whether what stands in some groups is done more than once, or built up to.
func severalTurns(around []*model.Group) bool {
	return slices.ContainsFunc(around, func(g *model.Group) bool {
		return g.Unread || g.ComesRound() || g.Mode == model.ForLoad
	})
}

// setsToWrite is how many sets a line has, 0 where that is open, or they are one or too many to write
// a number for each.
func setsToWrite(w *model.Work) int {
	if w.Sets == nil {
		return 0
	}
	if n, ok := w.Sets.One(); ok && n > 1 && n <= 8 {
		return int(n)
	}
	return 0
}

// weightless is the movement of a line that is done at a pace or for mobility, and so without a weight;
// empty where there may be one.
func weightless(w *model.Work) string {
	if len(w.Moves) != 1 || w.Moves[0].Movement == nil {
		return ""
	}
	if main := w.Moves[0].Movement.Main(); main.Cyclic() || main == book.Mobility {
		return w.Moves[0].Name
	}
	return ""
}

// changesLoad says whether a step in a unit changes a load inside: one that is written in that unit,
// one that rises from what was lifted before, or one that the athlete chooses for the first turn.
func changesLoad(g *model.Group, unit string) bool {
	for w := range g.Lines(model.Everything) {
		open := unit == "kg" && slices.ContainsFunc(w.Moves, func(m model.Move) bool { return m.Movement != nil && m.Movement.Best == book.BestLoad })
		for _, ld := range w.Loads {
			today := ld.Base != nil && ld.Base.Kind == model.OfToday
			if ld.Kind == syntax.Rising || ld.Amount != nil && ld.Amount.Unit == unit || today && unit == "kg" {
				return true
			}
			open = open && !slices.Contains([]syntax.LoadKind{syntax.Mass, syntax.Share}, ld.Kind)
		}
		if open {
			return true
		}
	}
	return false
}

func hasSets(g *model.Group) bool {
	found := false
	for w := range g.Lines(model.Everything) {
		found = found || w.Sets != nil
	}
	return found
}
