package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/bmatcuk/doublestar/v4"

	"stint.example/stint/lang/workspace"
)

// A target is a file or a folder that a command is to work on.
type target struct {
	path   string // absolute
	folder bool
	found  bool // by a pattern, not by its name
}

// targets are what the arguments name: files in the notation, folders, and patterns of
// files. None at all name the current folder. A folder with workspaces below it stands
// for those too. The error joins all that is wrong with the arguments.
func targets(args []string) ([]target, error) {
	if len(args) == 0 {
		args = []string{"."}
	}
	var out []target
	var errs []error
	for _, arg := range args {
		ts, err := named(arg)
		errs = append(errs, err)
		for _, t := range ts {
			if !slices.ContainsFunc(out, func(o target) bool { return o.path == t.path }) {
				out = append(out, t)
			}
		}
	}
	return out, errors.Join(errs...)
}

// named is what one argument names.
func named(arg string) ([]target, error) {
	abs, err := filepath.Abs(arg)
	if err != nil {
		return nil, err
	}
	info, err := os.Stat(abs)
	switch {
	case errors.Is(err, os.ErrNotExist) && strings.ContainsAny(arg, "*?[{"):
		return matching(arg)
	case err != nil:
		return nil, fmt.Errorf("%s: %w", shown(arg), reason(err))
	case info.IsDir():
		return within(abs)
	case !strings.HasSuffix(abs, workspace.Extension):
		return nil, fmt.Errorf("%s is not in the notation: the names of such files end in %s",
			shown(arg), workspace.Extension)
	case !info.Mode().IsRegular():
		return nil, fmt.Errorf("%s is not a plain file", shown(arg))
	}
	return []target{{path: abs}}, nil
}

// matching is the files in the notation that a pattern matches: most shells have done
// this already, but not all of them do.
func matching(pattern string) ([]target, error) {
	names, err := doublestar.FilepathGlob(pattern, doublestar.WithFilesOnly())
	if err != nil {
		return nil, fmt.Errorf("%s is no pattern of files: %w", pattern, err)
	}
	var out []target
	for _, n := range names {
		if !strings.HasSuffix(n, workspace.Extension) {
			continue
		}
		abs, err := filepath.Abs(n)
		if err != nil {
			return nil, err
		}
		out = append(out, target{path: abs, found: true})
	}
	if len(out) == 0 {
		return nil, fmt.Errorf("no file in the notation matches %s", pattern)
	}
	return out, nil
}

// within is a folder, if it holds files in the notation, and the workspaces below it.
func within(dir string) ([]target, error) {
	files, err := workspace.List(dir)
	if err != nil {
		return nil, fmt.Errorf("cannot read %s: %w", shown(dir), reason(err))
	}
	below, err := workspace.NestedRoots(dir)
	if err != nil {
		return nil, fmt.Errorf("cannot read %s: %w", shown(dir), reason(err))
	}
	var out []target
	if len(files) > 0 {
		out = append(out, target{path: dir, folder: true})
	}
	for _, b := range below {
		out = append(out, target{path: filepath.Join(dir, filepath.FromSlash(b)), folder: true})
	}
	if len(out) == 0 {
		return nil, fmt.Errorf("%s holds no files in the notation: their names end in %s, "+
			"and stint init makes a first workspace", folder(dir), workspace.Extension)
	}
	return out, nil
}

// files are the files of targets, by absolute path, each once.
func files(ts []target) ([]string, error) {
	var out []string
	for _, t := range ts {
		if !t.folder {
			out = append(out, t.path)
			continue
		}
		names, err := workspace.List(t.path)
		if err != nil {
			return nil, fmt.Errorf("cannot read %s: %w", shown(t.path), reason(err))
		}
		for _, n := range names {
			out = append(out, filepath.Join(t.path, filepath.FromSlash(n)))
		}
	}
	seen := map[string]bool{}
	return slices.DeleteFunc(out, func(name string) bool {
		again := seen[name]
		seen[name] = true
		return again
	}), nil
}

// splitName takes the name of a session or a cycle off the arguments: what is neither there as a file nor
// written like one.
func splitName(args []string) (name string, paths []string) {
	if len(args) == 1 && !strings.HasSuffix(args[0], workspace.Extension) {
		if _, err := os.Stat(args[0]); errors.Is(err, os.ErrNotExist) && !strings.ContainsAny(args[0], "/\\*?[{") {
			return args[0], nil
		}
	}
	return "", args
}

// namedTarget is the one workspace that the argument is in, and the name in it, if it is one.
func namedTarget(args []string) (j *job, name string, err error) {
	name, paths := splitName(args)
	ts, err := targets(paths)
	if err != nil {
		return nil, "", err
	}
	js, err := jobs(ts)
	if err != nil {
		return nil, "", err
	}
	if len(js) > 1 {
		return nil, "", errors.New("there are several workspaces in this: name one of them, or a file")
	}
	return js[0], name, nil
}
