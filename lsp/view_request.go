package lsp

import (
	"context"
	"slices"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"
)

// documentView takes what a request for a document needs from the state now. What it returns makes
// the view; it waits until the workspace is loaded, unless the request can do with what
// the document hangs on.
func (s *Server) documentView(ctx context.Context, spelt string, early bool) func() (*view, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	f, name, b := s.findDocument(spelt)
	if f == nil && b == nil && s.initializedSeen && !closed(s.discovered) {
		return func() (*view, error) {
			select {
			case <-ctx.Done():
				return nil, ctx.Err()
			case <-s.discovered:
			}
			return s.documentView(ctx, spelt, early)()
		}
	}
	if f == nil {
		return func() (*view, error) { return &view{ctx: ctx, srv: s}, nil }
	}
	if v := s.currentView(ctx, f, name, early); v != nil {
		return func() (*view, error) { return v, nil }
	}
	ready := f.loaded
	if early {
		ready = f.ready
	}
	return func() (*view, error) {
		select {
		case <-ctx.Done():
			return nil, ctx.Err()
		case <-ready:
		}
		s.mu.Lock()
		defer s.mu.Unlock()
		v := s.currentView(ctx, f, name, early)
		if b != nil && (v.file == nil || v.file.Src.Text != b.text) {
			return nil, protocol.ErrContentModified // there is no snapshot of that text
		}
		return v, nil
	}
}

func closed(c chan struct{}) bool {
	select {
	case <-c:
		return true
	default:
		return false
	}
}

// findDocument finds a document, open or not, and its workspace.
func (s *Server) findDocument(spelt string) (*folder, string, *buffer) {
	if b := s.docs[canonicalURI(spelt)]; b != nil {
		return b.ws, b.name, b
	}
	abs, ok := filePath(parseURI(spelt))
	if !ok {
		return nil, "", nil
	}
	f := s.folderWith(abs)
	if f == nil {
		return nil, "", nil
	}
	name, _ := f.name(abs)
	return f, name, nil
}

// currentView is what a request sees now, or nil where that is not read yet. It is called with
// the lock held.
func (s *Server) currentView(ctx context.Context, f *folder, name string, early bool) *view {
	snap := f.snap
	if snap == nil && early {
		snap = f.partial
	}
	if snap == nil {
		return nil
	}
	v := &view{ctx: ctx, srv: s, ws: f, snap: snap, partial: f.snap == nil, enc: s.enc, config: s.config, caps: s.clientCapabilities(), open: map[string]*buffer{}}
	for _, b := range s.docs {
		if b.ws == f {
			v.open[b.name] = b
		}
	}
	if name != "" {
		v.file = snap.File(name)
	}
	return v
}

// workspaceViews takes what a request for all workspaces needs from the state now. Of those that
// are not read yet it waits for the first that is.
func (s *Server) workspaceViews(ctx context.Context) func() ([]*view, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	now := map[*folder]*view{}
	for _, f := range s.folders {
		now[f] = s.currentView(ctx, f, "", false)
	}
	begun := s.initializedSeen
	return func() ([]*view, error) {
		if begun {
			select {
			case <-ctx.Done():
				return nil, ctx.Err()
			case <-s.discovered:
			}
		}
		s.mu.Lock()
		folders := slices.Clone(s.folders)
		s.mu.Unlock()
		var out []*view
		for _, f := range folders {
			v := now[f]
			if v == nil {
				select {
				case <-ctx.Done():
					return nil, ctx.Err()
				case <-f.loaded:
				}
				s.mu.Lock()
				v = s.currentView(ctx, f, "", false)
				s.mu.Unlock()
			}
			out = append(out, v)
		}
		return out, nil
	}
}

// viewContaining is the view of the workspace that has a file, with the file in it; nil where none
// has.
func viewContaining(vs []*view, u uri.URI) *view {
	for _, v := range vs {
		for name, b := range v.open {
			if canonicalURI(string(b.uri)) == canonicalURI(string(u)) {
				return v.withFile(name)
			}
		}
	}
	abs, ok := filePath(u)
	if !ok {
		return nil
	}
	for _, v := range vs {
		if name, in := v.ws.name(abs); in && v.snap.File(name) != nil {
			return v.withFile(name)
		}
	}
	return nil
}

// withFile is the view of another file of the workspace.
func (v *view) withFile(name string) *view {
	c := *v
	c.file = v.snap.File(name)
	return &c
}
