package lsp

import (
	"slices"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/source"
)

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
