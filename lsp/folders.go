package lsp

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"go.lsp.dev/protocol"

	"stint.example/stint/lang/workspace"
)

// A folder is a workspace: a folder with a house, or one that the client has open.
type folder struct {
	root   workspace.Root
	wanted bool                // a folder of the client holds it; otherwise it goes with its last document
	snap   *workspace.Snapshot // nil until it is loaded
	loaded chan struct{}       // closed when it is

	shown map[string]shown // what the client has been sent, by path
}

// name is the path of a file in the folder.
func (f *folder) name(abs string) (string, bool) {
	rel, err := filepath.Rel(f.root.Dir, abs)
	if err != nil || !filepath.IsLocal(rel) {
		return "", false
	}
	return filepath.ToSlash(rel), true
}

// place finds the workspace that a document is read in. It is called with the lock held.
func (s *Server) place(ctx context.Context, b *buffer) {
	b.ws, b.name = nil, ""
	if len(b.text) > maxText {
		s.log.infof("%s is too long to be read: %d bytes", b.uri, len(b.text))
		return
	}
	abs, ok := pathOf(b.uri)
	if !ok {
		s.placeUntitled(ctx, b)
		return
	}
	if s.pages.holds(abs) {
		return
	}
	b.ws = s.folderOf(ctx, abs)
	b.name, _ = b.ws.name(abs)
}

// placeUntitled reads a document that is no file yet with the first workspace, whose
// movements it may use.
func (s *Server) placeUntitled(ctx context.Context, b *buffer) {
	if len(s.folders) == 0 {
		s.folders = append(s.folders, &folder{snap: workspace.Make(workspace.Root{}, nil), loaded: closed()})
	}
	b.ws = s.folders[0]
	b.name = path.Base(b.uri.Path())
}

func closed() chan struct{} {
	c := make(chan struct{})
	close(c)
	return c
}

// folderOf is the workspace that a file belongs to.
func (s *Server) folderOf(ctx context.Context, abs string) *folder {
	return s.folderAt(ctx, s.rootOf(abs))
}

// rootOf is the root of the workspace that a file, which need not be there yet, is in.
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
	for _, dir := range s.asked {
		if within(dir, abs) {
			return workspace.Root{Dir: dir}
		}
	}
	return root
}

// within says whether a path is in a folder or below.
func within(dir, abs string) bool {
	rel, err := filepath.Rel(dir, abs)
	return err == nil && filepath.IsLocal(rel)
}

// folderAt is the workspace at a root; one that is new is loaded.
func (s *Server) folderAt(ctx context.Context, root workspace.Root) *folder {
	for _, f := range s.folders {
		if f.root.Dir == root.Dir {
			return f
		}
	}
	f := &folder{root: root, loaded: make(chan struct{})}
	s.folders = append(s.folders, f)
	s.spawn(func() { s.load(ctx, f) })
	return f
}

// load reads a workspace from disk, and puts the open documents over it.
func (s *Server) load(ctx context.Context, f *folder) {
	snap, err := workspace.Load(f.root)
	if err != nil {
		s.log.once("%v", err)
	}
	if snap == nil {
		snap = workspace.Make(f.root, nil)
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, b := range s.docs {
		if b.ws == f {
			snap = snap.With(b.name, b.text)
		}
	}
	f.snap = snap
	close(f.loaded)
	s.changed()
}

// discover finds the workspaces of the client's folders.
func (s *Server) discover(ctx context.Context) {
	s.mu.Lock()
	asked := slices.Clone(s.asked)
	s.mu.Unlock()
	for _, dir := range asked {
		roots := []workspace.Root{}
		if root, err := workspace.Find(dir); err == nil {
			roots = append(roots, root)
		}
		below, err := workspace.Below(dir)
		if err != nil {
			s.log.once("%v", err)
		}
		for _, b := range below {
			roots = append(roots, workspace.Root{Dir: filepath.Join(dir, filepath.FromSlash(b)), House: true})
		}
		s.mu.Lock()
		for _, r := range roots {
			s.folderAt(ctx, r).wanted = true
		}
		s.mu.Unlock()
	}
}

// left takes a closed document out: what is on disk counts again.
func (s *Server) left(b *buffer) {
	if b.ws == nil {
		return
	}
	s.reread(b.ws, b.name)
}

// reread takes a file over as it is on disk. It is called with the lock held.
func (s *Server) reread(f *folder, name string) {
	if f.snap == nil {
		return
	}
	text, err := os.ReadFile(f.abs(name))
	switch {
	case err == nil:
		f.snap = f.snap.With(name, string(text))
	default:
		if !errors.Is(err, fs.ErrNotExist) {
			s.log.once("%v", err)
		}
		f.snap = f.snap.Without(name)
	}
	s.changed()
}

func (s *Server) didChangeWatchedFiles(_ context.Context, raw []byte) error {
	var p protocol.DidChangeWatchedFilesParams
	if err := decode(raw, &p); err != nil {
		return err
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, c := range p.Changes {
		abs, ok := pathOf(c.URI)
		if !ok || !strings.HasSuffix(abs, workspace.Extension) || s.docs[key(string(c.URI))] != nil {
			continue
		}
		for _, f := range s.folders {
			if name, in := f.name(abs); in {
				s.reread(f, name)
			}
		}
	}
	return nil
}

func (s *Server) didChangeWorkspaceFolders(context.Context, []byte) error { return nil }

func (s *Server) didChangeConfiguration(context.Context, []byte) error { return nil }

// look takes a view for a document. What it returns waits until the workspace is loaded.
func (s *Server) look(ctx context.Context, spelt string) func() (*view, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	b := s.docs[key(spelt)]
	var f *folder
	var name string
	if b != nil {
		f, name = b.ws, b.name
	} else if abs, ok := pathOf(parse(spelt)); ok {
		f = s.folderWith(abs)
		if f != nil {
			name, _ = f.name(abs)
		}
	}
	if f == nil {
		return func() (*view, error) { return &view{ctx: ctx, srv: s}, nil }
	}
	if f.snap != nil {
		v := s.view(ctx, f, name)
		return func() (*view, error) { return v, nil }
	}
	return func() (*view, error) {
		select {
		case <-ctx.Done():
			return nil, ctx.Err()
		case <-f.loaded:
		}
		s.mu.Lock()
		defer s.mu.Unlock()
		v := s.view(ctx, f, name)
		if b != nil && v.file != nil && v.file.Syntax.Src.Text != b.text {
			return nil, protocol.ErrContentModified
		}
		return v, nil
	}
}

// view is what a request sees now. It is called with the lock held.
func (s *Server) view(ctx context.Context, f *folder, name string) *view {
	v := &view{ctx: ctx, srv: s, ws: f, snap: f.snap, enc: s.enc, set: s.set, can: &s.can, open: map[string]*buffer{}}
	for _, b := range s.docs {
		if b.ws == f {
			v.open[b.name] = b
		}
	}
	if name != "" {
		v.file = f.snap.File(name)
	}
	return v
}

// lookAll takes a view of every workspace.
func (s *Server) lookAll(ctx context.Context) func() ([]*view, error) {
	s.mu.Lock()
	fs := slices.Clone(s.folders)
	s.mu.Unlock()
	return func() ([]*view, error) {
		var out []*view
		for _, f := range fs {
			select {
			case <-ctx.Done():
				return nil, ctx.Err()
			case <-f.loaded:
			}
			s.mu.Lock()
			out = append(out, s.view(ctx, f, ""))
			s.mu.Unlock()
		}
		return out, nil
	}
}

// folderWith is the innermost workspace that a file is in.
func (s *Server) folderWith(abs string) *folder {
	var best *folder
	for _, f := range s.folders {
		if within(f.root.Dir, abs) && (best == nil || len(f.root.Dir) > len(best.root.Dir)) {
			best = f
		}
	}
	return best
}
