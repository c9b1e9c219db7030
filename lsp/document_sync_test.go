package lsp

import (
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.lsp.dev/protocol"
	"pgregory.net/rapid"

	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/workspace"
)

// speaking is an editor that counts in one encoding.
func speaking(kind protocol.PositionEncodingKind) func(*protocol.InitializeParams) {
	return func(p *protocol.InitializeParams) {
		p.Capabilities.General.PositionEncodings = []protocol.PositionEncodingKind{kind}
	}
}

// snapshot is the workspace of a document as the server has it.
func (e *editor) snapshot(name string) (*workspace.Snapshot, *workspace.File) {
	e.t.Helper()
	e.srv.mu.Lock()
	defer e.srv.mu.Unlock()
	f, path, _ := e.srv.findDocument(string(e.uri(name)))
	require.NotNil(e.t, f)
	return f.snap, f.snap.File(path)
}

// settle waits until the server has read all that was sent, and the workspace is there.
func (e *editor) settle() {
	e.t.Helper()
	var r *protocol.WorkspaceDiagnosticReport
	e.ask(protocol.MethodWorkspaceDiagnostic, &protocol.WorkspaceDiagnosticParams{}, &r)
}

// Whatever somebody types and wherever, the server has the text that the editor has, reads
// it as if it had been opened so, and finds the same in it.
func TestEditsComeToTheSame(t *testing.T) {
	for _, kind := range []protocol.PositionEncodingKind{"utf-8", "utf-16", "utf-32"} {
		t.Run(string(kind), func(t *testing.T) {
			e := start(t, map[string]string{"house.stint": "stint 1\n\nhouse Quayside Hall\n", "a.stint": ""},
				speaking(kind))
			fresh := start(t, map[string]string{"house.stint": "stint 1\n\nhouse Quayside Hall\n", "a.stint": ""},
				speaking(kind))
			rapid.Check(t, func(r *rapid.T) {
				e.open("a.stint", draw(r, "text"))
				for range rapid.IntRange(1, 6).Draw(r, "edits") {
					var changes []protocol.TextDocumentContentChangeEvent
					text := e.text("a.stint")
					for range rapid.IntRange(1, 3).Draw(r, "changes") {
						with := draw(r, "with")
						if rapid.IntRange(0, 9).Draw(r, "whole") == 0 {
							changes = append(changes, &protocol.TextDocumentContentChangeWholeDocument{Text: with})
							text = with
							continue
						}
						at := source.Span{Start: rapid.IntRange(0, len(text)).Draw(r, "start")}
						at.End = rapid.IntRange(at.Start, len(text)).Draw(r, "end")
						for !between(text, at.Start) {
							at.Start--
						}
						for !between(text, at.End) {
							at.End++
						}
						changes = append(changes, &protocol.TextDocumentContentChangePartial{Range: plainRange(text,
							e.enc, at), Text: with})
						text = text[:at.Start] + with + text[at.End:]
					}
					e.changes("a.stint", text, changes...)
				}
				e.settle()
				snap, file := e.snapshot("a.stint")
				require.Equal(r, e.text("a.stint"), file.Src.Text)
				fresh.open("a.stint", e.text("a.stint"))
				fresh.settle()
				freshSnap, freshFile := fresh.snapshot("a.stint")
				sameTree(r, freshFile.Syntax(), file.Syntax())
				assert.Equal(r, len(freshSnap.Diagnostics(freshFile)), len(snap.Diagnostics(file)))
				got, want := e.diagnostics("a.stint"), fresh.diagnostics("a.stint")
				assert.Equal(r, fmt.Sprintf("%+v", stripped(want)), fmt.Sprintf("%+v", stripped(got)))
				e.close("a.stint")
				fresh.close("a.stint")
			})
		})
	}
}

// sameTree says whether two files are read alike, line by line.
func sameTree(t assert.TestingT, want, got *syntax.File) {
	if !assert.Len(t, got.Lines, len(want.Lines)) {
		return
	}
	for i, w := range want.Lines {
		g := got.Lines[i]
		assert.Equal(t, []any{w.Body, w.Depth, w.Text, w.Bad, w.Note, w.Comment},
			[]any{g.Body, g.Depth, g.Text, g.Bad, g.Note, g.Comment})
		assert.True(t, syntax.Same(w.Stmt, g.Stmt), "%q", w.Text)
	}
	assert.Equal(t, want.Diags, got.Diags)
}

// stripped are diagnostics without what names the folder.
func stripped(ds []protocol.Diagnostic) []string {
	var out []string
	for _, d := range ds {
		out = append(out, fmt.Sprint(d.Range, d.Code, d.Severity, d.Message, len(d.RelatedInformation)))
	}
	return out
}

func TestUnsavedTextCounts(t *testing.T) {
	e := start(t, map[string]string{
		"house.stint": "stint 1\n\nhouse Quayside Hall\n",
		"book.stint":  "stint 1\n\nmovement tide swing\n  trains hinge\n",
		"reef.stint":  "stint 1\n\nsession Reef\n\npart A\n  10 tide swing\n",
	})
	e.open("reef.stint")
	e.rules("reef.stint")
	e.open("book.stint")
	e.replace("book.stint", "tide swing", "ebb swing")
	e.rules("reef.stint", "movement-unknown")
	e.close("book.stint")
	e.rules("reef.stint")
}

func TestDocumentsElsewhere(t *testing.T) {
	e := start(t, hall)
	other, err := filepath.EvalSymlinks(t.TempDir())
	require.NoError(t, err)
	write(t, filepath.Join(other, "house.stint"), "stint 1\n\nhouse Breakwater\n")
	write(t, filepath.Join(other, "own", "book.stint"), "stint 1\n\nmovement tide swing\n  trains hinge\n")
	write(t, filepath.Join(other, "s", "reef.stint"),
		"stint 1\n\nsession Reef\n\npart A\n  10 tide swing\n  10 ebb swing\n")
	reef := string(protocol.URI("file://" + filepath.ToSlash(filepath.Join(other, "s", "reef.stint"))))
	e.open(reef)
	e.rules(reef, "movement-unknown")
	e.replace(reef, "10 ebb swing", "10 tide swing")
	e.rules(reef)
	e.replace(reef, "10 tide swing", "10 ebb swing")
	e.rules(reef, "movement-unknown")
	e.close(reef)
	e.rules(reef) // nobody is in that workspace any more
	e.srv.mu.Lock()
	defer e.srv.mu.Unlock()
	for _, f := range e.srv.folders {
		assert.NotEqual(t, other, f.root.Dir, "the workspace goes with its last document")
	}
}

func TestAnUntitledDocument(t *testing.T) {
	for _, files := range []map[string]string{hall, nil} {
		e := start(t, files, func(p *protocol.InitializeParams) {
			if files == nil {
				p.WorkspaceFolders = protocol.Nullable[[]protocol.WorkspaceFolder]{}
			}
		})
		e.open("untitled:Untitled-1", "stint 1\n\nsession Reef\n\npart A\n  10 burpee\n\ntotal 9 burpee\n")
		want := []string{"file-name", "total-wrong"}
		if files == nil {
			want = []string{"file-name", "length-missing", "total-wrong"} // no house says how long it is
		}
		e.rules("untitled:Untitled-1", want...)
		var edits []protocol.TextEdit
		e.ask(protocol.MethodTextDocumentFormatting,
			&protocol.DocumentFormattingParams{TextDocument: e.doc("untitled:Untitled-1")}, &edits)
		assert.Empty(t, edits)
		e.close("untitled:Untitled-1")
		e.rules("untitled:Untitled-1")
	}
}

func TestOtherLanguagesAreLeft(t *testing.T) {
	e := start(t, hall)
	e.languageID = "markdown"
	e.open("notes.md", "session Reef\n")
	e.settle()
	e.mu.Lock()
	defer e.mu.Unlock()
	assert.NotContains(t, e.sent, e.uri("notes.md"))
	assert.Empty(t, e.logged)
}

func TestALongDocumentIsLeft(t *testing.T) {
	e := start(t, hall)
	e.open("long.stint", "session Reef\n"+strings.Repeat("part A\n  10 burpee\n", maxTextLen/18))
	e.settle()
	e.change("long.stint", "sesion Reef\n")
	e.rules("long.stint", "word-unknown")
	e.change("long.stint", strings.Repeat("part A\n  10 burpee\n", maxTextLen/18))
	e.settle()
	e.wait("the findings to go", func() bool { return len(e.sent[e.uri("long.stint")].Diagnostics) == 0 })
	e.mu.Lock()
	defer e.mu.Unlock()
	assert.Contains(t, strings.Join(e.logged, "\n"), "longer than 1048576 bytes")
}
