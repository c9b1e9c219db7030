package lsp

import (
	"go.lsp.dev/protocol"

	"stint.example/stint/lang/model"
	"stint.example/stint/lang/refs"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/workspace"
)

// references are all places that name the thing at a position, in all files.
func (v *view) references(p protocol.ReferenceParams) ([]protocol.Location, error) {
	r, ok := refs.At(v.file.Refs(), v.offset(p.Position))
	if !ok {
		return nil, nil
	}
	var out []protocol.Location
	for _, o := range v.snap.Uses(r.ID) {
		if !o.Def || p.Context.IncludeDeclaration {
			out = append(out, v.location(o.At))
		}
	}
	return out, v.ctx.Err()
}

// implementation leads from a movement, a scaling or kit to the sessions that use it, and
// from a session to the days that plan it: to one place in each. From the rest of a line
// of work it leads to the lines of scalings that change it.
func (v *view) implementation(p protocol.ImplementationParams) (protocol.DefinitionResult, error) {
	links := v.caps.client.TextDocument != nil && v.caps.client.TextDocument.Implementation != nil &&
		isTrue(v.caps.client.TextDocument.Implementation.LinkSupport)
	off := v.offset(p.Position)
	r, ok := refs.At(v.file.Refs(), off)
	if !ok {
		from, to := v.changedBy(off)
		return v.definitionResult(from, to, links), nil
	}
	var out []source.Place
	type entry struct {
		file *workspace.File
		at   int
	}
	var last entry // not its address: a tree that nobody holds may be read twice
	for f, o := range v.snap.Uses(r.ID) {
		if o.Def && r.Kind != refs.Scaling {
			continue
		}
		if r.Kind == refs.Session {
			out = append(out, o.At)
			continue
		}
		b := f.EntryAt(o.At.Start)
		if b == nil || b.Line.Stmt.(*syntax.Entry).Kind != "session" {
			continue
		}
		if e := (entry{f, b.Line.Body}); e != last {
			last = e
			out = append(out, o.At)
		}
	}
	return v.definitionResult(r.At, out, links), v.ctx.Err()
}

// sessionOf is the session of a file that a place is in, or nil.
func sessionOf(f *workspace.File, at source.Place) *model.Session {
	for _, s := range f.Program().Sessions {
		if s.Block.Contains(at.Start) {
			return s
		}
	}
	return nil
}

// changedBy is the line of a session that an offset is in, and the lines of scalings that
// change it.
func (v *view) changedBy(off int) (line source.Place, by []source.Place) {
	for _, s := range v.file.Program().Sessions {
		for _, version := range s.Versions {
			for _, w := range version.Swaps {
				for _, c := range w.Changes {
					if c.File == v.file.Src && c.Contains(off) {
						line, by = c, appendNew(by, w.At)
					}
				}
			}
		}
	}
	return line, by
}

// highlights are the names in the document of what a position is on: where it is declared
// they are written, elsewhere read.
func (v *view) highlights(p protocol.DocumentHighlightParams) ([]protocol.DocumentHighlight, error) {
	names := v.file.Refs()
	r, ok := refs.At(names, v.offset(p.Position))
	if !ok {
		return nil, nil
	}
	var out []protocol.DocumentHighlight
	for _, o := range names {
		if o.ID != r.ID {
			continue
		}
		kind := protocol.DocumentHighlightKindRead
		if o.Def {
			kind = protocol.DocumentHighlightKindWrite
		}
		out = append(out, protocol.DocumentHighlight{Range: v.rangeOf(o.At), Kind: kind})
	}
	return out, nil
}
