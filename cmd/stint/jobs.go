package main

import (
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"strings"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/render/report"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/workspace"
)

// A job is a workspace and those of its files that a command is to work on.
type job struct {
	root  workspace.Root
	snap  *workspace.Snapshot
	files map[string]bool // by path from the root
	bad   map[string]bool // those that could not be read
}

// jobs finds the workspace of each target and reads it once. What cannot be read is in
// the error, and the jobs hold the rest.
func jobs(ts []target) ([]*job, error) {
	var out []*job
	var errs []error
	byDir := map[string]*job{}
	for _, t := range ts {
		root, err := workspace.Find(t.path)
		if err != nil {
			errs = append(errs, fmt.Errorf("%s: %w", shown(t.path), reason(err)))
			continue
		}
		j := byDir[root.Dir]
		if j == nil {
			if j, err = open(root); j == nil {
				errs = append(errs, err)
				continue
			}
			errs = append(errs, err)
			byDir[root.Dir] = j
			out = append(out, j)
		}
		errs = append(errs, j.take(t))
	}
	return out, errors.Join(errs...)
}

// open reads a workspace. The error names the files that could not be read.
func open(root workspace.Root) (*job, error) {
	snap, err := workspace.Load(root)
	if snap == nil {
		return nil, fmt.Errorf("cannot read %s: %w", folder(root.Dir), reason(err))
	}
	j := &job{root: root, snap: snap, files: map[string]bool{}, bad: map[string]bool{}}
	var errs []error
	for _, e := range each(err) {
		var p *fs.PathError
		if !errors.As(e, &p) {
			errs = append(errs, e)
			continue
		}
		if rel, err := filepath.Rel(root.Dir, p.Path); err == nil {
			j.bad[filepath.ToSlash(rel)] = true
		}
		errs = append(errs, fmt.Errorf("cannot read %s: %w", shown(p.Path), reason(p)))
	}
	return j, errors.Join(errs...)
}

// each is the errors that an error joins.
func each(err error) []error {
	if joined, ok := err.(interface{ Unwrap() []error }); ok {
		return joined.Unwrap()
	}
	if err == nil {
		return nil
	}
	return []error{err}
}

// take adds a target's files to the job.
func (j *job) take(t target) error {
	rel, err := filepath.Rel(j.root.Dir, t.path)
	if err != nil {
		return err
	}
	rel = filepath.ToSlash(rel)
	if t.folder {
		for _, f := range j.snap.Files {
			if rel == "." || strings.HasPrefix(f.Path, rel+"/") {
				j.files[f.Path] = true
			}
		}
		return nil
	}
	switch {
	case j.snap.File(rel) != nil:
		j.files[rel] = true
	case !j.bad[rel] && !t.found:
		return fmt.Errorf("%s is left out of its workspace, which is %s: "+
			"files that are hidden, or in a folder called vendor or node_modules, are not read",
			shown(t.path), folder(j.root.Dir))
	}
	return nil
}

// found is what does not hold in the job's files.
func (j *job) found() []diag.Diagnostic {
	var out []diag.Diagnostic
	for _, d := range j.snap.Check() {
		if d.At.File != nil && j.files[d.At.File.Name] {
			out = append(out, d)
		}
	}
	return out
}

// abs is the absolute path of a file of the workspace.
func (j *job) abs(name string) string {
	return filepath.Join(j.root.Dir, filepath.FromSlash(name))
}

// name is how the workspace is called in a sentence.
func (j *job) name() string {
	if house := j.snap.Env.House; house.Name != "" && j.owns(house.At.File) {
		return house.Name + " (" + folder(j.root.Dir) + ")"
	}
	return folder(j.root.Dir)
}

// owns reports whether a file is one of the workspace's, and not of the built-in book.
func (j *job) owns(f *source.File) bool {
	own := j.snap.File(f.Name)
	return own != nil && own.Src == f
}

// relabel gives the files of diagnostics the names that they have from the current
// folder, so that those of several workspaces can stand in one report.
func (j *job) relabel(ds []diag.Diagnostic) []diag.Diagnostic {
	byFile := map[*source.File]*source.File{}
	move := func(p source.Place) source.Place {
		f := p.File
		if f == nil {
			return p
		}
		if byFile[f] == nil {
			byFile[f] = f // the built-in book's keep their names
			if j.owns(f) {
				byFile[f] = source.New(shown(j.abs(f.Name)), f.Text)
			}
		}
		return byFile[f].At(p.Span)
	}
	out := make([]diag.Diagnostic, len(ds))
	for i, d := range ds {
		d.At = move(d.At)
		related := make([]diag.Related, len(d.Related))
		for k, r := range d.Related {
			related[k] = diag.Related{At: move(r.At), Message: r.Message}
		}
		fixes := make([]diag.Fix, len(d.Fixes))
		for k, f := range d.Fixes {
			edits := make([]diag.Edit, len(f.Edits))
			for n, e := range f.Edits {
				edits[n] = diag.Edit{At: move(e.At), New: e.New}
			}
			fixes[k] = diag.Fix{Title: f.Title, Safe: f.Safe, Edits: edits}
		}
		d.Related, d.Fixes = related, fixes
		out[i] = d
	}
	return out
}

// summary is the last line about a job: what was found, in how many files of which
// workspace.
func (j *job) summary(ds []diag.Diagnostic) string {
	s := "checked " + plural(len(j.files), "file", "files")
	if j.root.House {
		return s + " of " + j.name() + ": " + report.Summary(ds)
	}
	dir := folder(j.root.Dir)
	return s + ": " + report.Summary(ds) +
		fmt.Sprintf("\nno %s upward of %s: took %s as the workspace", workspace.HouseFile, dir, dir)
}

// programs are the files that the job is about, with what their text means.
func (j *job) programs() []*model.File {
	var out []*model.File
	for _, file := range j.snap.Files {
		if j.files[file.Path] {
			out = append(out, file.Program())
		}
	}
	return out
}
