package main

import (
	"errors"

	"stint.example/stint/lang/ide/codeaction"
	"stint.example/stint/lang/workspace"
)

// fix makes the fixes of a job's files and writes them, or shows them as a diff. It
// returns how many were made; the job then holds the fixed text.
func (a *app) fix(j *job, f checkFlags) (made int, err error) {
	old := texts(j.snap)
	j.snap, made = codeaction.ApplyFixes(j.snap, func(f *workspace.File) bool { return j.files[f.Path] }, f.unsafe)
	var errs []error
	for _, file := range j.snap.Files {
		was, is := old[file.Path], file.Src.Text
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
		out[f.Path] = f.Src.Text
	}
	return out
}
