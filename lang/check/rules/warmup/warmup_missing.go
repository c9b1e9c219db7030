package warmup

import (
	"slices"
	"strings"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/check/edit"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
)

var WarmupMissing = check.Rule{Name: "warmup-missing", Family: "warm-up", Severity: diag.Warning,
	Summary: "a session with parts to work in and no warm-up before them",
	Session: func(p *check.Pass, s *model.Session) {
		lacks := func(s *model.Session) []bool {
			if judgeable(p, s) && len(warmUps(s)) == 0 {
				return []bool{true}
			}
			return nil
		}
		if lacks(s) == nil || foundAsWritten(p, lacks) != nil {
			return
		}
		d := diag.Diagnostic{At: s.At, Message: "the session has no warm-up",
			Help: "write one before the first part: what raises the heart rate, then the movements of the session in a light form; " +
				"where the first part is one, call it that: warm-up lasts 5:00"}
		if p.Version != nil {
			d.At = p.Version.At
			d.Help = "leave the warm-up in this version, or swap its lines for others"
		} else if fix, ok := newWarmUp(p, s); ok {
			d.Fixes = []diag.Fix{fix}
		}
		p.Report(d)
	}}

// newWarmUp is a fix that writes a warm-up as a coach would: something that raises, a light
// form of all that is done hard, and sets that lead up to what is heavy.
func newWarmUp(p *check.Pass, s *model.Session) (diag.Fix, bool) {
	at := s.Parts[0].At
	if at.File != p.File.Syntax.Src {
		return diag.Fix{}, false
	}
	drills := []string{"4 inchworm"} // moves the hips, the back and the shoulders
	moved := movedBy(p, "jog", "inchworm")
	var left []book.Joint
	for _, v := range s.Variants() { // it is the warm-up of all of them
		for _, c := range coldPatternsIn(v, p.HardThresholdsOf(patternColdName)) {
			moved = append(moved, c.pattern.Joints()...) // by the drill for it
			if line := drillFor[c.pattern]; !slices.Contains(drills, line) {
				drills = append(drills, line)
			}
		}
		left = append(left, hardJoints(v, p.HardThresholdsOf(jointColdName))...)
	}
	left = slices.DeleteFunc(left, func(j book.Joint) bool { return slices.Contains(moved, j) })
	if len(left) > 0 {
		drills = append(drills, drillsFor(p, left)...)
	}
	lines := []string{"warm-up lasts 10:00", "  2:00 jog @ easy", "  2 rounds"}
	for _, l := range drills {
		lines = append(lines, "    "+l)
	}
	heavy := map[*book.Movement]bool{}
	need := int(p.ValueOf(rampMissingName, rampMissingSets))
	for _, l := range heavyLifts(s, min(nearMaximum(p), p.ValueOf(phasesMissingName, phasesMissingHeavy))) {
		if !heavy[l.lift] && l.need(need) > 0 {
			heavy[l.lift] = true
			for _, r := range rampLines(l.lift.Name, l.need(need)) {
				lines = append(lines, "  "+r)
			}
		}
	}
	f := at.File
	off := edit.LineStart(f, at.Start)
	for off > 0 && strings.HasPrefix(f.Slice(f.Line(f.LineAt(off-1))), "#") {
		off = edit.LineStart(f, off-1) // a comment above the part stays with it
	}
	return diag.Fix{Title: "write a warm-up before " + s.Parts[0].PartName(),
		Edits: []diag.Edit{edit.Lines(f, off, 0, append(lines, ""))}}, true
}
