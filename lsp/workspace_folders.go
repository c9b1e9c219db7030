package lsp

import (
	"context"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"go.lsp.dev/protocol"

	"stint.example/stint/lang/workspace"
)

// A workspaceFolder is a workspace: a folder with a house, or a workspace folder of the client. The
// server's lock guards its fields.
type workspaceFolder struct {
	root   workspace.Root // as it was found
	house  bool           // it has a house now
	flat   bool           // only files directly in it are read: it is too broad to search
	wanted bool           // it is in a folder of the client; otherwise it is dropped with its last document

	snap          *workspace.Snapshot // nil until it is loaded
	partial       *workspace.Snapshot // until then: the open documents and what they depend on
	partialLoaded chan struct{}       // closed when there is a snapshot of either kind
	loaded        chan struct{}       // closed when it is loaded
	loading       bool                // now, for the first time or again
	reloadQueued  bool                // load it again when that is done
	changedFiles  map[string]bool     // that changed on disk during a load
	watched       bool                // the client watches it, though it is outside its folders

	reports reports
}

func newFolder(root workspace.Root) *workspaceFolder {
	return &workspaceFolder{root: root, house: root.House,
		partialLoaded: make(chan struct{}), loaded: make(chan struct{})}
}

// name is the path of a file in the folder.
func (f *workspaceFolder) name(abs string) (string, bool) {
	if !within(f.root.Dir, abs) {
		return "", false
	}
	rel, err := filepath.Rel(f.root.Dir, abs)
	return filepath.ToSlash(rel), err == nil
}

// within says whether a path is in a folder or below.
func within(dir, abs string) bool {
	if dir == "" {
		return false
	}
	rel, err := filepath.Rel(dir, abs)
	return err == nil && filepath.IsLocal(rel)
}

// assignWorkspace finds the workspace that a document is read in. It is called with the lock held.
func (s *Server) assignWorkspace(ctx context.Context, b *buffer) {
	b.folder, b.name = nil, ""
	abs, file := filePath(parseURI(string(b.uri)))
	switch {
	case b.foreign || file && s.pages.holds(abs):
	case file:
		b.folder = s.folderAt(ctx, s.rootOf(abs))
		b.name, _ = b.folder.name(abs)
	default:
		s.assignUntitled(b)
	}
}

// assignUntitled puts a document that is no file yet into the first workspace, whose movements it
// may use.
func (s *Server) assignUntitled(b *buffer) {
	if len(s.folders) == 0 {
		f := newFolder(workspace.Root{})
		f.snap = workspace.Make(f.root, nil)
		close(f.partialLoaded)
		close(f.loaded)
		s.folders = append(s.folders, f)
	}
	b.folder = s.folders[0]
	if i := slices.IndexFunc(s.folders, func(f *workspaceFolder) bool { return f.root.Dir != "" }); i >= 0 {
		b.folder = s.folders[i] // the one without a folder was made before the others were found
	}
	b.name = path.Base(parseURI(string(b.uri)).Path())
	for b.folder.snap != nil && b.folder.snap.File(b.name) != nil {
		b.name = "new/" + b.name
	}
}

// rootOf is the root of the workspace that a file, which need not be there yet, is in. It
// is called with the lock held.
func (s *Server) rootOf(abs string) workspace.Root {
	start := filepath.Dir(abs)
	for {
		if _, err := os.Stat(start); err == nil || filepath.Dir(start) == start {
			break
		}
		start = filepath.Dir(start)
	}
	root, err := workspace.Find(start)
	if err != nil {
		root = workspace.Root{Dir: start}
	}
	if root.House {
		return root
	}
	for _, dir := range s.clientFolders {
		if within(dir, abs) && !tooBroad(dir) {
			return workspace.Root{Dir: dir}
		}
	}
	return root
}

// tooBroad says whether a folder is the home folder or above it, which is too much to search for
// workspaces.
func tooBroad(dir string) bool {
	if filepath.Dir(dir) == dir {
		return true
	}
	home, err := os.UserHomeDir()
	return err == nil && within(dir, home)
}

// folderAt is the workspace at a root; one that is new is loaded. It is called with the
// lock held.
func (s *Server) folderAt(ctx context.Context, root workspace.Root) *workspaceFolder {
	for _, f := range s.folders {
		if f.root.Dir == root.Dir {
			f.house = root.House
			return f
		}
	}
	f := newFolder(root)
	f.flat, f.loading = !root.House && tooBroad(root.Dir), true
	s.folders = append(s.folders, f)
	s.spawn(func() { s.loadFolder(ctx, f) })
	if outer := s.folderWith(filepath.Dir(root.Dir)); outer != nil && outer.snap != nil {
		s.spawn(func() { s.discover(ctx) }) // what is in it was the outer one's until now
	}
	return f
}

// folderWith is the innermost workspace that a file is in. It is called with the lock held.
func (s *Server) folderWith(abs string) *workspaceFolder {
	var best *workspaceFolder
	for _, f := range s.folders {
		if within(f.root.Dir, abs) && (best == nil || len(f.root.Dir) > len(best.root.Dir)) {
			best = f
		}
	}
	return best
}

// discover finds the workspaces in the client's folders, loads those that are new, drops
// those that are no more, and puts every document into its own.
func (s *Server) discover(ctx context.Context) {
	s.discoverMu.Lock()
	defer s.discoverMu.Unlock()
	s.mu.Lock()
	asked := slices.Clone(s.clientFolders)
	s.mu.Unlock()
	var roots []workspace.Root
	for _, dir := range asked {
		roots = append(roots, s.rootsIn(dir)...)
	}

	s.mu.Lock()
	defer s.mu.Unlock()
	before := slices.Clone(s.folders)
	for _, f := range before {
		f.wanted = false
	}
	for _, r := range roots {
		s.folderAt(ctx, r).wanted = true
	}
	// A house may be gone from a folder that nobody asked for, or have come above one.
	for k, b := range s.docs {
		if len(b.text) > maxTextLen {
			continue
		}
		c := *b
		if s.assignWorkspace(ctx, &c); c.folder != b.folder {
			s.docs[k] = &c
			s.revertToDisk(b)
			s.applyBuffer(&c)
		}
	}
	gone := s.dropIdle()
	for _, f := range before {
		if !slices.Contains(s.folders, f) {
			continue
		}
		// Files that were another workspace's may be its own now, or the other way about.
		stale := slices.ContainsFunc(gone, func(dir string) bool { return within(f.root.Dir, dir) })
		for _, o := range s.folders {
			if name, in := f.name(o.root.Dir); in && o != f {
				stale = stale || len(f.filesBelow(name)) > 1
			}
		}
		if stale {
			s.reloadFolder(ctx, f)
		}
	}
	s.registerOutsideWatchers(ctx)
}

// rootsIn are the roots of the workspaces that a folder of the client is in or has in it.
func (s *Server) rootsIn(dir string) []workspace.Root {
	root, err := workspace.Find(dir)
	if err != nil {
		s.log.warnOnce("%v", err)
		return nil
	}
	if !root.House && tooBroad(dir) {
		s.log.warnOnce("%s is too much to search for workspaces; what you open in it is checked", dir)
		return nil
	}
	roots := []workspace.Root{root}
	below, err := workspace.NestedRoots(dir)
	if err != nil {
		s.log.warnOnce("%v", err)
	}
	for _, b := range below {
		roots = append(roots, workspace.Root{Dir: filepath.Join(dir, filepath.FromSlash(b)), House: true})
	}
	return roots
}

// dropIdle drops the workspaces that neither a folder of the client nor a document is in,
// and names their folders. It is called with the lock held.
func (s *Server) dropIdle() []string {
	var gone []string
	s.folders = slices.DeleteFunc(s.folders, func(f *workspaceFolder) bool {
		if f.wanted {
			return false
		}
		for _, b := range s.docs {
			if b.folder == f {
				return false
			}
		}
		gone = append(gone, f.root.Dir)
		s.droppedFolders = append(s.droppedFolders, f)
		return true
	})
	if len(gone) > 0 {
		s.changed()
	}
	return gone
}

// revertToDisk puts the file on disk into the place of a document that was closed, or that is in
// another workspace now. It is called with the lock held, after the document is out of s.docs.
func (s *Server) revertToDisk(b *buffer) {
	if b.folder == nil {
		return
	}
	s.reloadFiles(b.folder, b.name)
}

func (s *Server) didChangeWorkspaceFolders(ctx context.Context, raw []byte) error {
	var p protocol.DidChangeWorkspaceFoldersParams
	if err := decode(raw, &p); err != nil {
		return err
	}
	s.mu.Lock()
	for _, f := range p.Event.Removed {
		if dir, ok := filePath(f.URI); ok {
			s.clientFolders = slices.DeleteFunc(s.clientFolders, func(a string) bool { return a == dir })
		}
	}
	for _, f := range p.Event.Added {
		if dir, ok := filePath(f.URI); ok && !slices.Contains(s.clientFolders, dir) {
			s.clientFolders = append(s.clientFolders, dir)
		}
	}
	s.mu.Unlock()
	s.spawn(func() { s.discover(ctx) })
	return nil
}

// isHouseFile says whether a path is that of a house file.
func isHouseFile(abs string) bool { return filepath.Base(abs) == workspace.HouseFile }

// isStintFile says whether a path is that of a file in the notation.
func isStintFile(abs string) bool { return strings.HasSuffix(abs, workspace.Extension) }
