package lsp

import (
	"context"
	"maps"
	"path/filepath"
	"slices"
	"strings"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/workspace"
)

// A view is what one request sees: the text and the workspace that were current when it
// came. Nothing of it changes while the request is answered. It is used by one goroutine.
type view struct {
	ctx     context.Context
	srv     *Server
	ws      *folder             // the workspace of the document
	snap    *workspace.Snapshot // never changes
	partial bool                // the snapshot has only the open documents and what they hang on
	file    *workspace.File     // the document; nil if it is none of the workspace's
	enc     encoding
	config  Configuration
	caps    *clientCapabilities // what the client can do

	open  map[string]*buffer // the open documents of the workspace, by path in it
	lines map[*source.File]*lineIndex
}

// linesOf are the lines of a file, worked out once a request.
func (v *view) linesOf(f *source.File) *lineIndex {
	l := v.lines[f]
	if l == nil {
		if v.lines == nil {
			v.lines = map[*source.File]*lineIndex{}
		}
		l = newLineIndex(f.Text, v.enc)
		v.lines[f] = l
	}
	return l
}

// offset is the byte offset of a position in the document. A position past an end is read
// as that end.
func (v *view) offset(p protocol.Position) int { return v.linesOf(v.file.Src).offset(p) }

// span is the range of bytes of a range in the document.
func (v *view) span(r protocol.Range) source.Span { return v.linesOf(v.file.Src).span(r) }

// rangeOf is the range of a place, in the text of its own file.
func (v *view) rangeOf(at source.Place) protocol.Range {
	return v.linesOf(at.File).rangeOf(at.Span)
}

// location is where a place is: in a file of the workspace, or in the built-in book,
// whose files are written where an editor can open them.
func (v *view) location(at source.Place) protocol.Location {
	return protocol.Location{URI: v.uriOf(at.File), Range: v.rangeOf(at)}
}

// uriOf names a file as the client does. It is empty for a file of the built-in book that
// could not be written.
func (v *view) uriOf(f *source.File) uri.URI {
	if strings.HasPrefix(f.Name, builtinPrefix) && slices.Contains(book.Files(), f) {
		return v.srv.pages.book(f)
	}
	return v.uriAt(f.Name)
}

// uriAt names the file at a path in the workspace.
func (v *view) uriAt(name string) uri.URI {
	if d := v.open[name]; d != nil {
		return d.uri
	}
	return v.ws.uri(name)
}

// version is the version of an open file, or nil.
func (v *view) version(name string) *int32 {
	if d := v.open[name]; d != nil {
		return &d.version
	}
	return nil
}

// textEdits are the edits of one file.
func (v *view) textEdits(f *source.File, es []diag.Edit) []protocol.TextEdit {
	out := []protocol.TextEdit{}
	for _, e := range es {
		if e.At.File == f {
			e = wholeLineEnds(e)
			out = append(out, protocol.TextEdit{Range: v.rangeOf(e.At), NewText: e.New})
		}
	}
	return out
}

// wholeLineEnds is an edit that begins and ends where there are positions: between the two
// bytes of a line end there is none, so it takes in both.
func wholeLineEnds(e diag.Edit) diag.Edit {
	text := e.At.File.Text
	between := func(off int) bool { return off > 0 && off < len(text) && text[off-1] == '\r' && text[off] == '\n' }
	if between(e.At.Start) {
		e.At.Start--
		e.New = "\r" + e.New
	}
	if between(e.At.End) {
		e.At.End++
		e.New += "\n"
	}
	return e
}

// edits are edits of any files of the workspace, with the versions that they were made
// for where the client can check them. Edits of the built-in book are left out.
func (v *view) edits(es []diag.Edit) *protocol.WorkspaceEdit {
	var files []*source.File
	for _, e := range es {
		if !slices.Contains(files, e.At.File) && !slices.Contains(book.Files(), e.At.File) {
			files = append(files, e.At.File)
		}
	}
	out := &protocol.WorkspaceEdit{}
	if !v.caps.documentChanges {
		out.Changes = map[uri.URI][]protocol.TextEdit{}
		for _, f := range files {
			out.Changes[v.uriOf(f)] = v.textEdits(f, es)
		}
		return out
	}
	for _, f := range files {
		edit := &protocol.TextDocumentEdit{}
		edit.TextDocument.URI = v.uriOf(f)
		edit.TextDocument.Version = v.version(f.Name)
		for _, e := range v.textEdits(f, es) {
			edit.Edits = append(edit.Edits, &e)
		}
		out.DocumentChanges = append(out.DocumentChanges, edit)
	}
	return out
}

// abs is the path on disk of a file of the workspace.
func (f *folder) abs(name string) string { return filepath.Join(f.root.Dir, filepath.FromSlash(name)) }

// uri names a file of the workspace that is not open.
func (f *folder) uri(name string) uri.URI { return uri.File(f.abs(name)) }

func sortedNames[V any](m map[string]V) []string { return slices.Sorted(maps.Keys(m)) }
