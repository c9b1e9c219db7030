package lsp

import (
	"context"
	"slices"

	"go.lsp.dev/protocol"
)

// documentView takes what a request for a document needs from the state now. The function that it
// returns makes the view: it waits until the workspace is loaded or, where a partial snapshot is
// allowed, until there is at least that.
func (s *Server) documentView(ctx context.Context, rawURI string, allowPartial bool) func() (*view, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	f, name, b := s.findDocument(rawURI)
	if f == nil && b == nil && s.initializedSeen && !closed(s.discovered) {
		return func() (*view, error) {
			select {
			case <-ctx.Done():
				return nil, ctx.Err()
			case <-s.discovered:
			}
			return s.documentView(ctx, rawURI, allowPartial)()
		}
	}
	if f == nil {
		return func() (*view, error) { return &view{ctx: ctx, srv: s}, nil }
	}
	if v := s.currentView(ctx, f, name, allowPartial); v != nil {
		return func() (*view, error) { return v, nil }
	}
	loaded := f.loaded
	if allowPartial {
		loaded = f.partialLoaded
	}
	return func() (*view, error) {
		select {
		case <-ctx.Done():
			return nil, ctx.Err()
		case <-loaded:
		}
		s.mu.Lock()
		defer s.mu.Unlock()
		v := s.currentView(ctx, f, name, allowPartial)
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
func (s *Server) findDocument(rawURI string) (*workspaceFolder, string, *buffer) {
	if b := s.docs[canonicalURI(rawURI)]; b != nil {
		return b.folder, b.name, b
	}
	abs, ok := filePath(parseURI(rawURI))
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

// workspaceViews takes what a request for all workspaces needs from the state now. The function
// that it returns waits for those that are not loaded yet.
func (s *Server) workspaceViews(ctx context.Context) func() ([]*view, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	now := map[*workspaceFolder]*view{}
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
