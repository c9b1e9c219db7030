package model

import (
	"fmt"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
)

// loads are the loads of a line, of which one may say each thing: how heavy, how high, how hard, how
// fast, and each reading of a monitor.
func (l *lowerer) loads(line *syntax.Line, loads []syntax.Load, of *Move) []Load {
	var out []Load
	for i := range loads {
		ld := l.load(line, &loads[i], of)
		for _, old := range out {
			if ld.says() == old.says() && !ld.bounds(old) && !old.bounds(ld) {
				l.loadTwice(line, old, ld)
				break
			}
		}
		out = append(out, ld)
	}
	return out
}

// says is what a load speaks of, in words.
func (ld Load) says() string {
	switch ld.Kind {
	case syntax.Mass:
		return "how heavy it is"
	case syntax.Height:
		return "how high it is"
	case syntax.RPE, syntax.RIR, syntax.Effort, syntax.Named:
		return "how hard it is"
	case syntax.Cadence, syntax.Pace:
		return "how fast it is"
	case syntax.Reading:
		return readingOf(ld.Amount.Unit)
	case syntax.Share:
		if ld.Base == nil {
			return "how heavy it is"
		}
		switch ld.Base.Kind {
		case OfMaxReps, OfMaxTime:
			return "how much of the most it is"
		case OfHeartRate:
			return readingOf("bpm")
		case OfMaxPower:
			return readingOf("W")
		case OfMaxSpeed:
			return "how fast it is"
		default: // a share of a weight
			return "how heavy it is"
		}
	case syntax.Earlier:
		return "how heavy it is"
	case syntax.Noted:
		return "what its note says"
	case syntax.Rising:
		if ld.Word == "faster" || ld.Word == "slower" {
			return "how the speed changes"
		}
		return "how the load changes"
	}
	return string(ld.Kind)
}

func readingOf(unit string) string { return "what a monitor shows in " + unit }

// bounds reports whether a load is a bound beside a value, or beside the bound of the other side.
func (ld Load) bounds(value Load) bool {
	return ld.Amount.IsBound() && value.Amount != nil && value.Amount.Bound != ld.Amount.Bound
}

// loadTwice reports two loads that say the same thing of a line, and offers to keep either.
func (l *lowerer) loadTwice(line *syntax.Line, first, second Load) {
	l.reportRelated(book.PropertyTwice, second.At, fmt.Sprintf("a load before it already says %s", second.says()),
		"keep one of the two; two tiers are written 24/16 kg, more each turn as a series, and a limit beside a load @ at most 40 kg", first.At)
	d := &(*l.diags)[len(*l.diags)-1]
	for _, pair := range [][2]Load{{first, second}, {second, first}} {
		keep, drop := pair[0], pair[1]
		d.Fixes = append(d.Fixes, diag.Fix{Title: "keep " + keep.At.Text(), Edits: []diag.Edit{{At: l.withBlanks(line, drop.At)}}})
	}
}

// withBlanks is a place with the blanks before it on its line.
func (l *lowerer) withBlanks(line *syntax.Line, at source.Place) source.Place {
	for at.Start > line.Body && l.file.Src.Text[at.Start-1] == ' ' {
		at.Start--
	}
	return at
}
