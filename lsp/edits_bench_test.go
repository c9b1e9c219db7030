package lsp

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/require"
	"go.lsp.dev/protocol"
)

// BenchmarkAsking is what is asked of one session of many, once all have been looked at.
func BenchmarkAsking(b *testing.B) {
	dir, name := large(b)
	e := startIn(b, dir)
	e.open(name)
	e.open("house.stint")
	e.settle()
	house := e.within("house.stint", "no-kit", "scaling no-kit")
	top := protocol.Range{Start: protocol.Position{Line: 2, Character: 9},
		End: protocol.Position{Line: 2, Character: 9}}
	actions := &protocol.CodeActionParams{TextDocument: e.doc(name), Range: top}
	actions.Context.Diagnostics = []protocol.Diagnostic{}
	for _, c := range []struct {
		name, method string
		params       any
	}{
		{"references", protocol.MethodTextDocumentReferences,
			&protocol.ReferenceParams{TextDocumentPositionParams: house}},
		{"implementation", protocol.MethodTextDocumentImplementation,
			&protocol.ImplementationParams{TextDocumentPositionParams: house}},
		{"rename", protocol.MethodTextDocumentRename,
			&protocol.RenameParams{TextDocumentPositionParams: house, NewName: "at home"}},
		{"workspace symbols", protocol.MethodWorkspaceSymbol, &protocol.WorkspaceSymbolParams{Query: "bo"}},
		{"symbols", protocol.MethodTextDocumentDocumentSymbol,
			&protocol.DocumentSymbolParams{TextDocument: e.doc(name)}},
		{"folding", protocol.MethodTextDocumentFoldingRange, &protocol.FoldingRangeParams{TextDocument: e.doc(name)}},
		{"actions", protocol.MethodTextDocumentCodeAction, actions},
		{"formatting", protocol.MethodTextDocumentFormatting,
			&protocol.DocumentFormattingParams{TextDocument: e.doc(name)}},
	} {
		b.Run(c.name, func(b *testing.B) {
			for range b.N {
				var r json.RawMessage
				require.NoError(b, e.call(b.Context(), c.method, c.params, &r))
			}
		})
	}
}
