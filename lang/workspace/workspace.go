// Package workspace holds the files of a folder, parsed and resolved against each other, in
// immutable snapshots, as language servers do.
//
// Load reads a folder, and Make takes texts. Snapshot.With gives the next snapshot after an
// edit: it shares what the edit does not affect, and invalidates the diagnostics of the files
// that it does (invalidation.go). Trees, programs and references are computed when they are
// asked for, and cached weakly (weak_cache.go).
package workspace

import (
	"cmp"
	"errors"
	"maps"
	"os"
	"path"
	"path/filepath"
	"slices"
	"weak"

	"stint.example/stint/lang/check"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/refs"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
)

// A Snapshot is the workspace at one moment. What its files mean, and what does not hold in
// them, is worked out when it is asked for, and once.
type Snapshot struct {
	Root  Root
	Files []*File // by path
	Env   *model.Env

	cache         *syntax.Cache
	houseRules    *check.HouseRules
	sharedDiags   []diag.Diagnostic // diagnostics of several files together, such as a name taken twice
	pathOfSession map[string]string // the path of the file that has a session, by the session's key
	plans         func() plannedDays
	lacksLength   string // the path of the file to say in that no length is stated; empty where one is
}

// A File is one file of a snapshot.
type File struct {
	Path  string // from the root, with slashes
	Src   *source.File
	Decls *model.Decls

	tree        *weakCache[syntax.File]
	heldTree    *syntax.File // kept where the file was edited, or the workspace is small; see Syntax
	program     *weakCache[model.File]
	refs        *weakCache[[]refs.Ref]
	plannedKeys func() []string // the keys of the sessions that its cycles plan
	symbols     func() []uint64 // hashes of the things that it names; see symbolHashes
	analyses    *sessionAnalyses
	diags       *diagnosticsOnce
}

// Syntax is the parsed file: its lines and their tree. The tree of an edited file is kept, so
// that the next edit parses one line. Other trees are kept in a small workspace; in a large
// one they are parsed again when asked for, as with Program.
func (f *File) Syntax() *syntax.File {
	if f.heldTree != nil {
		return f.heldTree
	}
	return f.tree.get()
}

// Program is what the file means. The cache is weak: two calls may give two equal copies, so
// whoever compares pointers keeps one.
func (f *File) Program() *model.File { return f.program.get() }

// Refs are the names in the file, in the order of the text.
func (f *File) Refs() []refs.Ref { return *f.refs.get() }

// maxHeldTrees is how many files may all keep their trees: they take little memory then.
const maxHeldTrees = 200

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
	parallelFor(len(names), func(i int) {
		s.Files[i] = s.read(names[i], texts[names[i]], len(names) <= maxHeldTrees)
	})
	s.collectDecls(nil)
	for i := range s.Files {
		s.Files[i] = s.Files[i].withEnv(s.Env)
	}
	return s
}

// File finds a file by its path.
func (s *Snapshot) File(name string) *File {
	i, found := slices.BinarySearchFunc(s.Files, path.Clean(name),
		func(f *File, n string) int { return cmp.Compare(f.Path, n) })
	if !found {
		return nil
	}
	return s.Files[i]
}

// read parses a file; hold keeps its tree.
func (s *Snapshot) read(name, text string, hold bool) *File {
	src := source.New(name, text)
	cache := s.cache
	parsed := cache.Parse(src)
	f := &File{Path: name, Src: src, Decls: model.Declare(parsed)}
	f.tree = &weakCache[syntax.File]{kept: weak.Make(parsed), compute: func() *syntax.File { return cache.Parse(src) }}
	if hold {
		f.heldTree = parsed
	}
	return f
}
