package lsp

import (
	"context"
	"maps"
	"slices"

	"go.lsp.dev/uri"

	"stint.example/stint/lang/source"
	"stint.example/stint/lang/workspace"
)

// A view is what one request sees: the document and the snapshot that were current when it
// arrived. Nothing of it changes while the request is answered. One goroutine uses it.
type view struct {
	ctx     context.Context
	srv     *Server
	folder  *workspaceFolder    // the workspace of the document
	snap    *workspace.Snapshot // never changes
	partial bool                // the snapshot holds only the open documents and what they depend on
	file    *workspace.File     // the document; nil if it is none of the workspace's
	enc     encoding
	config  Configuration
	caps    *clientCapabilities // what the client can do

	open  map[string]*buffer // the open documents of the workspace, by path in it
	lines map[*source.File]*lineIndex
}

func sortedNames[V any](m map[string]V) []string { return slices.Sorted(maps.Keys(m)) }

// currentView is what a request sees now, or nil where the workspace is not loaded yet. It is
// called with the lock held.
func (s *Server) currentView(ctx context.Context, f *workspaceFolder, name string, allowPartial bool) *view {
	snap := f.snap
	if snap == nil && allowPartial {
		snap = f.partial
	}
	if snap == nil {
		return nil
	}
	v := &view{
		ctx: ctx, srv: s, folder: f, snap: snap, partial: f.snap == nil,
		enc: s.enc, config: s.config, caps: s.clientCapabilities(), open: map[string]*buffer{},
	}
	for _, b := range s.docs {
		if b.folder == f {
			v.open[b.name] = b
		}
	}
	if name != "" {
		v.file = snap.File(name)
	}
	return v
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
		if name, in := v.folder.name(abs); in && v.snap.File(name) != nil {
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
