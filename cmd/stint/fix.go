package main

import (
	"errors"
	"slices"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/workspace"
)

// maxRounds bounds how often a workspace is fixed and read again: one fix may make room
// for the next, but two that undo each other would never end.
const maxRounds = 10

// fix makes the fixes of a job's files and writes them, or shows them as a diff. It
// returns how many were made; the job then holds the mended text.
func (a *app) fix(j *job, f checkFlags) (made int, err error) {
	old := texts(j.snap)
	for range maxRounds {
		next, n := j.mended(f.unsafe)
		if n == 0 {
			break
		}
		made += n
		j.snap = workspace.Make(j.root, next)
	}
	var errs []error
	for _, file := range j.snap.Files {
		was, is := old[file.Path], file.Syntax.Src.Text
		switch name := j.abs(file.Path); {
		case was == is:
		case f.diff:
			a.diff(shown(name), was, is)
		default:
			errs = append(errs, replace(name, was, is))
		}
	}
	return made, errors.Join(errs...)
}

// texts are the texts of a workspace by path.
func texts(s *workspace.Snapshot) map[string]string {
	out := make(map[string]string, len(s.Files))
	for _, f := range s.Files {
		out[f.Path] = f.Syntax.Src.Text
	}
	return out
}

// mended is the workspace's texts with a round of fixes made, and how many: of each
// finding the first fix, or the first safe one. A fix is made whole or not at all, and
// only where it touches no file but those asked for and no edit of an earlier fix.
func (j *job) mended(unsafe bool) (next map[string]string, made int) {
	edits := map[*source.File][]diag.Edit{}
	next = texts(j.snap)
	for _, d := range j.found() {
		i := slices.IndexFunc(d.Fixes, func(f diag.Fix) bool { return unsafe || f.Safe })
		if i < 0 {
			continue
		}
		if with, ok := j.add(edits, d.Fixes[i]); ok {
			edits = with
			made++
		}
	}
	for f, es := range edits {
		next[f.Name], _ = diag.Apply(f, es)
	}
	return next, made
}

// add is the edits with those of a fix, if it can be made beside them and changes
// anything.
func (j *job) add(edits map[*source.File][]diag.Edit, fix diag.Fix) (map[*source.File][]diag.Edit, bool) {
	own := map[*source.File][]diag.Edit{}
	changes := false
	for _, e := range fix.Edits {
		f := e.At.File
		if f == nil || !j.files[f.Name] || !j.owns(f) {
			return nil, false
		}
		own[f] = append(own[f], e)
		changes = changes || e.At.Text() != e.New
	}
	if !changes {
		return nil, false
	}
	for f, es := range own {
		all := slices.Concat(edits[f], es)
		if _, apart := diag.Apply(f, all); !apart {
			return nil, false
		}
		own[f] = all
	}
	for f, es := range edits {
		if own[f] == nil {
			own[f] = es
		}
	}
	return own, true
}
