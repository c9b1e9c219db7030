// Package workspace holds the files of a folder, read and resolved against each other.
//
// A Snapshot never changes once it is made. With makes the next one, and shares with it
// all that an edit did not touch.
package workspace

import (
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"
	"weak"

	"stint.example/stint/lang/check"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/refs"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
)

// Extension is what the names of files in the notation end in.
const Extension = ".stint"

// HouseFile is the name of the file that marks a workspace.
const HouseFile = "house" + Extension

// A Root is the folder of a workspace.
type Root struct {
	Dir   string // absolute
	House bool   // a house file marks it; otherwise it is only the folder that was asked for
}

// Find looks for the workspace that a file or folder is in: the nearest folder upward
// with a house file, else the folder itself.
func Find(name string) (Root, error) {
	abs, err := filepath.Abs(name)
	if err != nil {
		return Root{}, err
	}
	info, err := os.Stat(abs)
	if err != nil {
		return Root{}, err
	}
	start := abs
	if !info.IsDir() {
		start = filepath.Dir(abs)
	}
	for dir := start; ; {
		if info, err := os.Stat(filepath.Join(dir, HouseFile)); err == nil && info.Mode().IsRegular() {
			return Root{Dir: dir, House: true}, nil
		}
		up := filepath.Dir(dir)
		if up == dir {
			return Root{Dir: start}, nil
		}
		dir = up
	}
}

// A Snapshot is the workspace at one moment. What its files mean, and what does not hold in
// them, is worked out when it is asked for, and once.
type Snapshot struct {
	Root  Root
	Files []*File // by path
	Env   *model.Env

	cache    *syntax.Cache
	settings *check.Settings
	shared   []diag.Diagnostic // what files draw only together
	homes    map[string]string // the path of the file that has a session, by the session's key
	plans    func() plans
}

// A File is one file of a snapshot.
type File struct {
	Path  string // from the root, with slashes
	Src   *source.File
	Decls *model.Decls

	tree    *lazy[syntax.File]
	held    *syntax.File // the tree of a file that was changed since the workspace was read, or is one of few
	program *lazy[model.File]
	refs    *lazy[[]refs.Ref]
	planned func() []string // the keys of the sessions that its cycles plan
	names   func() []uint64 // see namesIn
	facts   *facts
	found   *findings
}

// Syntax is the file as it was read: its lines and their tree. That of a file which has been
// changed is kept, so that the next change costs a line; those of others are too in a small
// workspace, and in a large one they are read again when they are asked for, as with Program.
func (f *File) Syntax() *syntax.File {
	if f.held != nil {
		return f.held
	}
	return f.tree.get()
}

// Program is what the file means. Two calls may give two copies, alike in all but their
// addresses: whoever compares those holds on to one.
func (f *File) Program() *model.File { return f.program.get() }

// Refs are the names in the file, in order.
func (f *File) Refs() []refs.Ref { return *f.refs.get() }

// few is how many files may all keep their trees: what those take is not felt.
const few = 200

// maxFiles is where a folder is taken for something that is not a workspace, such as a
// home folder.
const maxFiles = 100_000

// List names the files in the notation in a folder and below, from the folder and with
// slashes. What is hidden, other tools' folders, and folders with a house of their own
// are left out.
func List(dir string) ([]string, error) {
	// A folder that is itself a link is walked where it leads to.
	dir, err := filepath.EvalSymlinks(dir)
	if err != nil {
		return nil, err
	}
	var out []string
	err = filepath.WalkDir(dir, func(name string, e fs.DirEntry, err error) error {
		if err != nil {
			if name == dir {
				return err
			}
			return nil // what cannot be read below is not ours
		}
		if e.IsDir() {
			if name == dir {
				return nil
			}
			if leftOut(e.Name()) {
				return filepath.SkipDir
			}
			if _, err := os.Stat(filepath.Join(name, HouseFile)); err == nil {
				return filepath.SkipDir
			}
			return nil
		}
		if !strings.HasSuffix(name, Extension) || strings.HasPrefix(e.Name(), ".") {
			return nil
		}
		rel, err := filepath.Rel(dir, name)
		if err != nil {
			return err
		}
		if out = append(out, filepath.ToSlash(rel)); len(out) > maxFiles {
			return fmt.Errorf("%s holds more than %d files in the notation: is it the right folder?", dir, maxFiles)
		}
		return nil
	})
	slices.Sort(out)
	return out, err
}

// leftOut says whether a folder below a workspace is none of its own: hidden, or kept
// by another tool.
func leftOut(base string) bool {
	return strings.HasPrefix(base, ".") || base == "node_modules" || base == "vendor"
}

// Below names the folders below a folder that have a house of their own, from the
// folder and with slashes, by name. They are workspaces apart: List leaves them out.
func Below(dir string) ([]string, error) {
	dir, err := filepath.EvalSymlinks(dir)
	if err != nil {
		return nil, err
	}
	var out []string
	err = filepath.WalkDir(dir, func(name string, e fs.DirEntry, err error) error {
		switch {
		case err != nil || name == dir:
			return nil
		case e.IsDir() && leftOut(e.Name()):
			return filepath.SkipDir
		case e.IsDir() || e.Name() != HouseFile || filepath.Dir(name) == dir:
			return nil
		}
		rel, err := filepath.Rel(dir, filepath.Dir(name))
		out = append(out, filepath.ToSlash(rel))
		return err
	})
	return out, err
}

// Load reads a workspace. The error joins those of files that could not be read; the
// snapshot then holds the others.
func Load(root Root) (*Snapshot, error) {
	names, err := List(root.Dir)
	if err != nil {
		return nil, err
	}
	texts := make(map[string]string, len(names))
	var errs []error
	for _, n := range names {
		text, err := os.ReadFile(filepath.Join(root.Dir, filepath.FromSlash(n)))
		if err != nil {
			errs = append(errs, err)
			continue
		}
		texts[n] = string(text)
	}
	return Make(root, texts), errors.Join(errs...)
}

// Make makes a snapshot of texts by path.
func Make(root Root, texts map[string]string) *Snapshot {
	s := &Snapshot{Root: root, cache: new(syntax.Cache)}
	names := slices.Sorted(maps.Keys(texts))
	s.Files = make([]*File, len(names))
	each(len(names), func(i int) {
		s.Files[i] = s.read(names[i], texts[names[i]], len(names) <= few)
	})
	s.declare(nil)
	for i := range s.Files {
		s.Files[i] = s.Files[i].against(s.Env)
	}
	return s
}

// File finds a file by its path.
func (s *Snapshot) File(name string) *File {
	i, found := slices.BinarySearchFunc(s.Files, path.Clean(name), func(f *File, n string) int { return cmp.Compare(f.Path, n) })
	if !found {
		return nil
	}
	return s.Files[i]
}

// read reads a file. One that is held keeps its tree.
func (s *Snapshot) read(name, text string, hold bool) *File {
	src := source.New(name, text)
	cache := s.cache
	parsed := cache.Parse(src)
	f := &File{Path: name, Src: src, Decls: model.Declare(parsed)}
	f.tree = &lazy[syntax.File]{kept: weak.Make(parsed), make: func() *syntax.File { return cache.Parse(src) }}
	if hold {
		f.held = parsed
	}
	return f
}

// against is the file as it reads in an env, of which nothing has been worked out.
func (f *File) against(env *model.Env) *File {
	c := &File{Path: f.Path, Src: f.Src, Decls: f.Decls, tree: f.tree, held: f.held, facts: new(facts), found: new(findings)}
	c.program = &lazy[model.File]{make: func() *model.File { return model.Resolve(c.Syntax(), env) }}
	c.refs = &lazy[[]refs.Ref]{make: func() *[]refs.Ref { rs := refs.Of(c.Syntax(), env); return &rs }}
	c.planned = sync.OnceValue(c.plans)
	c.names = sync.OnceValue(func() []uint64 { return namesIn(c.Refs()) })
	return c
}

// afresh is the file with its meaning, of which no findings are known.
func (f *File) afresh() *File {
	c := *f
	c.found = new(findings)
	return &c
}

// each runs f for 0 to n-1, on as many processors as there are. A panic of f is the
// caller's, so that a front end can recover from it.
func each(n int, f func(int)) {
	workers := min(runtime.GOMAXPROCS(0), n)
	var wg sync.WaitGroup
	next := make(chan int, n)
	for i := range n {
		next <- i
	}
	close(next)
	panics := make(chan any, workers)
	for range workers {
		wg.Go(func() {
			defer func() {
				if p := recover(); p != nil {
					panics <- p
				}
			}()
			for i := range next {
				f(i)
			}
		})
	}
	wg.Wait()
	select {
	case p := <-panics:
		panic(p)
	default:
	}
}
