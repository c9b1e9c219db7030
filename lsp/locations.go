package lsp

import (
	"path/filepath"
	"slices"
	"strings"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/source"
)

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
	return v.folder.uri(name)
}

// version is the version of an open file, or nil.
func (v *view) version(name string) *int32 {
	if d := v.open[name]; d != nil {
		return &d.version
	}
	return nil
}

// abs is the path on disk of a file of the workspace.
func (f *workspaceFolder) abs(name string) string {
	return filepath.Join(f.root.Dir, filepath.FromSlash(name))
}

// uri names a file of the workspace that is not open.
func (f *workspaceFolder) uri(name string) uri.URI { return uri.File(f.abs(name)) }
