package lsp

import (
	"encoding/json"
	"slices"

	"go.lsp.dev/protocol"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/ide/codelens"
	"stint.example/stint/lang/refs"
)

// showReferences is the command of a lens that leads to the uses of something: its
// arguments are a document, a position in it and locations. The server cannot show these;
// an editor's plug-in maps the command to its own list of references.
const showReferences = "stint.showReferences"

// lensData is what a client gives back when it resolves a lens.
type lensData struct {
	URI  string `json:"uri"`
	Kind string `json:"kind"`
	Name string `json:"name"`
	Part string `json:"part,omitempty"`
}

// codeLenses are the lenses of sessions, parts and movements. Their titles are computed when the
// client resolves them, as they scroll into view.
func (v *view) codeLenses(p protocol.CodeLensParams) ([]protocol.CodeLens, error) {
	out := []protocol.CodeLens{}
	if !v.config.CodeLens.Enabled {
		return out, nil
	}
	for _, l := range codelens.Lenses(v.file) {
		lens := protocol.CodeLens{Range: v.rangeOf(l.At)}
		data, err := json.Marshal(lensData{URI: string(p.TextDocument.URI), Kind: l.Kind, Name: l.Name, Part: l.Part})
		if err != nil {
			continue
		}
		lens.Data = data
		out = append(out, lens)
	}
	return out, nil
}

// resolveLens adds a lens's title.
func (v *view) resolveLens(l protocol.CodeLens) (*protocol.CodeLens, error) {
	var data lensData
	if err := json.Unmarshal(l.Data, &data); err != nil {
		return &l, nil
	}
	lens := codelens.Lens{Kind: data.Kind, Name: data.Name, Part: data.Part}
	l.Command.Title = lens.Title(v.snap, v.file)
	if data.Kind == "movement" && l.Command.Title != "" {
		v.leadToUses(&l, data)
	}
	return &l, nil
}

// leadToUses makes a lens of a movement lead to where it is used.
func (v *view) leadToUses(l *protocol.CodeLens, data lensData) {
	uses := []protocol.Location{}
	for _, r := range v.snap.Uses(refs.ID{Kind: refs.Movement, Key: book.Key(data.Name)}) {
		if !r.Def {
			uses = append(uses, v.location(r.At))
		}
	}
	for _, arg := range []any{v.uriAt(v.file.Path), l.Range.Start, uses} {
		raw, err := protocol.Marshal(arg)
		if err != nil {
			return
		}
		l.Command.Arguments = append(l.Command.Arguments, slices.Clone(raw))
	}
	l.Command.Command = showReferences
}
