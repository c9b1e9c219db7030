package lsp

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"go.lsp.dev/protocol"
)

// BenchmarkReading is what an editor asks for while somebody types in one session of many:
// each is asked for behind a change, so that nothing is known of the new text yet.
func BenchmarkReading(b *testing.B) {
	dir, name := large(b)
	e := startIn(b, dir)
	e.open(name)
	e.settle()
	text := e.text(name)
	end := plainPosition(text, e.enc, len(text))
	doc := e.doc(name)
	all := protocol.Range{End: end}
	typing := protocol.Position{Line: end.Line + 3, Character: 14}
	for _, c := range []struct {
		name, method string
		params       any
	}{
		{"completion", protocol.MethodTextDocumentCompletion,
			&protocol.CompletionParams{TextDocumentPositionParams: protocol.TextDocumentPositionParams{TextDocument: doc, Position: typing}}},
		{"hover", protocol.MethodTextDocumentHover,
			&protocol.HoverParams{TextDocumentPositionParams: protocol.TextDocumentPositionParams{TextDocument: doc,
				Position: typing}}},
		{"tokens", protocol.MethodTextDocumentSemanticTokensFull, &protocol.SemanticTokensParams{TextDocument: doc}},
		{"hints", protocol.MethodTextDocumentInlayHint, &protocol.InlayHintParams{TextDocument: doc, Range: all}},
		{"lenses", protocol.MethodTextDocumentCodeLens, &protocol.CodeLensParams{TextDocument: doc}},
	} {
		b.Run(c.name, func(b *testing.B) {
			var took []time.Duration
			for i := range b.N {
				e.change(name, fmt.Sprintf("%s\n# %d\npart Z\n  10 kettlebell swing\n", text, i))
				var raw any
				began := time.Now()
				e.ask(c.method, c.params, &raw)
				took = append(took, time.Since(began))
			}
			slices.Sort(took)
			b.ReportMetric(float64(took[len(took)/2].Microseconds())/1000, "p50-ms")
			b.ReportMetric(float64(took[len(took)*99/100].Microseconds())/1000, "p99-ms")
		})
	}
}
