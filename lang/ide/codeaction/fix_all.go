package codeaction

import (
	"slices"

	"github.com/aymanbagabas/go-udiff"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/workspace"
)

// maxRounds bounds how often fixes are applied and the workspace is checked again: one fix may
// enable the next, but two that undo each other would never end.
const maxRounds = 10

// ApplyFixes applies fixes in the files that in picks: of each diagnostic the first safe fix or,
// where unsafe is set, the first. It returns the snapshot after them, and their number.
func ApplyFixes(
	s *workspace.Snapshot, in func(*workspace.File) bool, unsafe bool,
) (fixed *workspace.Snapshot, made int) {
	for range maxRounds {
		m := fixer{snap: s, in: in, edits: map[*source.File][]diag.Edit{}}
		n := m.collect(unsafe)
		if n == 0 {
			break
		}
		made += n
		s = m.apply()
	}
	return s, made
}

// FixAll are the edits that apply all safe fixes of one file, and those that they enable in turn;
// none where there is nothing to fix.
func FixAll(s *workspace.Snapshot, f *workspace.File) []diag.Edit {
	fixed, made := ApplyFixes(s, isFile(f), false)
	if made == 0 {
		return nil
	}
	src := f.Src
	var out []diag.Edit
	for _, e := range udiff.Lines(src.Text, fixed.File(f.Path).Src.Text) {
		out = append(out, diag.Edit{At: src.At(source.Span{Start: e.Start, End: e.End}), New: e.New}.Narrow())
	}
	return out
}

// HasSafeFixes says whether a file has safe fixes to make.
func HasSafeFixes(s *workspace.Snapshot, f *workspace.File) bool {
	m := fixer{snap: s, in: isFile(f), edits: map[*source.File][]diag.Edit{}}
	return m.collect(false) > 0
}

func isFile(f *workspace.File) func(*workspace.File) bool {
	return func(o *workspace.File) bool { return o.Path == f.Path }
}

// A fixer collects the edits of one round, by file.
type fixer struct {
	snap  *workspace.Snapshot
	in    func(*workspace.File) bool
	edits map[*source.File][]diag.Edit
}

func (m *fixer) collect(unsafe bool) (made int) {
	for _, f := range m.snap.Files {
		if !m.in(f) {
			continue
		}
		for _, d := range m.snap.Diagnostics(f) {
			i := slices.IndexFunc(d.Fixes, func(x diag.Fix) bool { return unsafe || x.Safe })
			if i >= 0 && m.add(d.Fixes[i]) {
				made++
			}
		}
	}
	return made
}

// add takes the edits of a fix, whole or not at all, and only where it changes something,
// touches no file but those asked for and no edit of an earlier fix.
func (m *fixer) add(fix diag.Fix) bool {
	own := map[*source.File][]diag.Edit{}
	changes := false
	for _, e := range fix.Edits {
		if !inWorkspace(m.snap, e.At.File) || !m.in(m.snap.File(e.At.File.Name)) {
			return false
		}
		own[e.At.File] = append(own[e.At.File], e)
		changes = changes || e.At.Text() != e.New
	}
	if !changes {
		return false
	}
	for f, es := range own {
		all := slices.Concat(m.edits[f], es)
		if _, apart := diag.Apply(f, all); !apart {
			return false
		}
		own[f] = all
	}
	for f, es := range own {
		m.edits[f] = es
	}
	return true
}

func (m *fixer) apply() *workspace.Snapshot {
	s := m.snap
	for f, es := range m.edits {
		text, _ := diag.Apply(f, es)
		s = s.With(f.Name, text)
	}
	return s
}
