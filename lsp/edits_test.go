package lsp

import (
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"
	"pgregory.net/rapid"

	"stint.example/stint/lang/check/rules"
	"stint.example/stint/lang/format"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/workspace"
)

// made is the texts of the open documents by name, with an edit made as an editor would:
// versions have to be right, and a file that is renamed takes its text along.
func (e *editor) made(w *protocol.WorkspaceEdit) map[string]string {
	e.t.Helper()
	out := map[string]string{}
	name := func(u uri.URI) string { return strings.TrimPrefix(u.FsPath(), e.dir+"/") }
	for u, text := range e.texts {
		out[name(u)] = text
	}
	for u, edits := range w.Changes {
		out[name(u)] = e.apply(name(u), edits)
	}
	for _, c := range w.DocumentChanges {
		switch c := c.(type) {
		case *protocol.TextDocumentEdit:
			require.NotNil(e.t, c.TextDocument.Version, "%s is open", c.TextDocument.URI)
			assert.Equal(e.t, e.versions[c.TextDocument.URI], *c.TextDocument.Version)
			var edits []protocol.TextEdit
			for _, one := range c.Edits {
				switch one := one.(type) {
				case *protocol.TextEdit:
					edits = append(edits, *one)
				case *protocol.SnippetTextEdit:
					edits = append(edits, protocol.TextEdit{Range: one.Range, NewText: one.Snippet.Value})
				}
			}
			out[name(c.TextDocument.URI)] = e.apply(name(c.TextDocument.URI), edits)
		case *protocol.RenameFile:
			_, there := out[name(c.NewURI)]
			require.False(e.t, there, "%s is there already", c.NewURI)
			out[name(c.NewURI)] = out[name(c.OldURI)]
			delete(out, name(c.OldURI))
		default:
			e.t.Errorf("%T was not asked for", c)
		}
	}
	return out
}

// startOpen starts an editor that has all files of a workspace open.
func startOpen(t *testing.T, files map[string]string, change ...func(*protocol.InitializeParams)) *editor {
	t.Helper()
	e := start(t, files, change...)
	for _, name := range slices.Sorted(maps.Keys(files)) {
		e.open(name)
	}
	return e
}

// encoded changes which encoding an editor counts in.
func encoded(enc protocol.PositionEncodingKind) func(*protocol.InitializeParams) {
	return func(p *protocol.InitializeParams) {
		p.Capabilities.General.PositionEncodings = []protocol.PositionEncodingKind{enc}
	}
}

func canRenameFiles(p *protocol.InitializeParams) {
	p.Capabilities.Workspace.WorkspaceEdit.ResourceOperations = []protocol.ResourceOperationKind{protocol.ResourceOperationKindRename}
}

func TestRename(t *testing.T) {
	for enc := range positionEncodings {
		e := startOpen(t, quay, encoded(enc), canRenameFiles)
		at := e.within("sessions/reef.stint", "quay hops", "")
		var ready protocol.PrepareRenamePlaceholder
		e.ask(protocol.MethodTextDocumentPrepareRename, &protocol.PrepareRenameParams{TextDocumentPositionParams: at},
			&ready)
		assert.Equal(t, "quay hop", ready.Placeholder)
		assert.Equal(t, e.rangeOf("sessions/reef.stint", "quay hops"), ready.Range)

		at = e.within("sessions/reef.stint", "pier hop", "12 pier hop")
		var edit protocol.WorkspaceEdit
		e.ask(protocol.MethodTextDocumentRename,
			&protocol.RenameParams{TextDocumentPositionParams: at, NewName: "jetty jump"}, &edit)
		texts := e.made(&edit)
		assert.Contains(t, texts["movements/jetty-jump.stint"], "movement jetty jump\n  also quay hop\n")
		assert.NotContains(t, texts, "movements/pier-hop.stint")
		assert.Contains(t, texts["sessions/reef.stint"], "12 jetty jump")
		assert.NotContains(t, texts["sessions/reef.stint"]+texts["sessions/bowline.stint"], "pier hop")
	}
}

// A name behind letters that take more than one unit of an encoding is found and renamed
// where it stands.
func TestRenameBehindWideLetters(t *testing.T) {
	for enc := range positionEncodings {
		files := maps.Clone(quay)
		files["sessions/bowline.stint"] = "stint 1\n\nsession Bowline\n\npart A\n  6 \U0001d4b9ash é + 2 pier hops > 🪢 Hop.\n"
		e := startOpen(t, files, encoded(enc))
		at := e.within("sessions/bowline.stint", "pier hops", "")
		var edit protocol.WorkspaceEdit
		e.ask(protocol.MethodTextDocumentRename,
			&protocol.RenameParams{TextDocumentPositionParams: at, NewName: "jetty jump"}, &edit)
		assert.Contains(t, e.made(&edit)["sessions/bowline.stint"], "  6 \U0001d4b9ash é + 2 jetty jumps > 🪢 Hop.\n")
	}
}

// A client that takes no versions gets plain edits, and one that renames no files keeps
// the file's name.
func TestRenamePlain(t *testing.T) {
	e := startOpen(t, quay, func(p *protocol.InitializeParams) { p.Capabilities.Workspace.WorkspaceEdit = nil })
	var edit protocol.WorkspaceEdit
	e.ask(protocol.MethodTextDocumentRename,
		&protocol.RenameParams{TextDocumentPositionParams: e.within("sessions/reef.stint", "Reef", "session Reef"),
			NewName: "Lee Shore"}, &edit)
	assert.Empty(t, edit.DocumentChanges)
	texts := e.made(&edit)
	assert.Contains(t, texts["sessions/reef.stint"], "session Lee Shore")
	assert.Contains(t, texts["cycles/neap.stint"], "mon Lee Shore, no-kit")
}

func TestRenameSaysWhyNot(t *testing.T) {
	e := startOpen(t, quay)
	ctx := t.Context()
	var ready protocol.PrepareRenamePlaceholder
	err := e.call(ctx, protocol.MethodTextDocumentPrepareRename,
		&protocol.PrepareRenameParams{TextDocumentPositionParams: e.within("sessions/reef.stint", "row", "")}, &ready)
	assert.ErrorContains(t, err, "row is in the built-in book, where it cannot be renamed")
	e.ask(protocol.MethodTextDocumentPrepareRename,
		&protocol.PrepareRenameParams{TextDocumentPositionParams: e.within("sessions/reef.stint", "400", "")}, &ready)
	assert.Empty(t, ready.Placeholder)
	var edit protocol.WorkspaceEdit
	err = e.call(ctx, protocol.MethodTextDocumentRename,
		&protocol.RenameParams{TextDocumentPositionParams: e.within("sessions/reef.stint", "Reef", "session Reef"),
			NewName: "Bowline"}, &edit)
	assert.ErrorContains(t, err, "sessions/bowline.stint has a session Bowline already")
}

// Formatting as edits is formatting, in every encoding, whatever the text; of a range, only
// its lines change.
func TestFormattingIsFormatting(t *testing.T) {
	for enc := range positionEncodings {
		e := start(t, quay, encoded(enc))
		e.open("sessions/new.stint", "")
		rapid.Check(t, func(t *rapid.T) {
			text := draw(t, "text")
			if strings.ContainsRune(strings.ReplaceAll(text, "\r\n", ""), '\r') {
				return // a line end to the protocol, and none to stint
			}
			e.change("sessions/new.stint", text)
			f := syntax.Parse(source.New("new.stint", text))
			var edits []protocol.TextEdit
			e.ask(protocol.MethodTextDocumentFormatting,
				&protocol.DocumentFormattingParams{TextDocument: e.doc("sessions/new.stint"),
					Options: protocol.FormattingOptions{TabSize: 8}}, &edits)
			if got := e.apply("sessions/new.stint", edits); got != format.Source(f) {
				t.Fatalf("%q becomes %q, and is to be %q", text, got, format.Source(f))
			}
			if f.Src.Lines() == 0 {
				return
			}
			a := rapid.IntRange(0, f.Src.Lines()-1).Draw(t, "first line")
			b := rapid.IntRange(a, f.Src.Lines()-1).Draw(t, "last line")
			var some []protocol.TextEdit
			e.ask(protocol.MethodTextDocumentRangeFormatting,
				&protocol.DocumentRangeFormattingParams{TextDocument: e.doc("sessions/new.stint"),
					Range: protocol.Range{Start: protocol.Position{Line: uint32(a)},
						End: newLineIndex(text, e.enc).position(f.Src.Line(b).End)}}, &some)
			want := slices.DeleteFunc(slices.Clone(edits), func(x protocol.TextEdit) bool {
				return int(x.Range.Start.Line) < a || int(x.Range.Start.Line) > b
			})
			if b > a && f.Src.Line(b).Len() == 0 { // the range ends at the margin of that line
				want = slices.DeleteFunc(want, func(x protocol.TextEdit) bool { return int(x.Range.Start.Line) == b })
			}
			if !slices.Equal(want, some) {
				t.Fatalf("lines %d-%d of %q: %v, and are to be %v", a, b, text, some, want)
			}
		})
	}
}

func TestFormattingLeavesAlone(t *testing.T) {
	files := maps.Clone(quay)
	files["sessions/odd.stint"] = "\xff\xfes\x00e\x00\n\x00"
	e := start(t, files)
	e.open("sessions/reef.stint")
	for _, name := range []string{"sessions/odd.stint", "sessions/reef.stint"} {
		var edits []protocol.TextEdit
		e.ask(protocol.MethodTextDocumentFormatting, &protocol.DocumentFormattingParams{TextDocument: e.doc(name)},
			&edits)
		assert.Empty(t, edits)
		e.ask(protocol.MethodTextDocumentRangesFormatting,
			&protocol.DocumentRangesFormattingParams{TextDocument: e.doc(name),
				Ranges: []protocol.Range{{End: protocol.Position{Line: 99}}}}, &edits)
		assert.Empty(t, edits)
		e.ask(protocol.MethodTextDocumentOnTypeFormatting,
			&protocol.DocumentOnTypeFormattingParams{TextDocument: e.doc(name), Position: protocol.Position{Line: 1},
				Ch: "\n"}, &edits)
		assert.Empty(t, edits)
	}
}

func TestOnTypeFormatting(t *testing.T) {
	e := start(t, quay)
	for _, c := range []struct{ text, want string }{ // the cursor stands at ‸
		{"session Reef\n\npart A\n    10  burpee  \n  ‸\n", "session Reef\n\npart A\n  10 burpee\n  ‸\n"},
		{"session Reef\n\npart A\n‸\n", "session Reef\n\npart A\n  ‸\n"},
		{"session Reef\n\npart A\n‸", "session Reef\n\npart A\n  ‸"},
		{"session Reef\n\npart A\n  3 Rounds\n  ‸", "session Reef\n\npart A\n  3 rounds\n    ‸"},
		{"session Reef\n\npart A\n  3 rounds: 10 burpee\n‸\n", "session Reef\n\npart A\n  3 rounds: 10 burpee\n  ‸\n"},
		{"session Reef\n\npart A\n  10 burpee\n‸ > more",
			"session Reef\n\npart A\n  10 burpee\n‸ > more"}, // a line cut in two
		{"session Reef\n‸\npart A\n   5   burpee\n",
			"session Reef\n  ‸\npart A\n   5   burpee\n"}, // other lines stay
		{"session Reef\n  \n‸\npart A\n", "session Reef\n\n‸\npart A\n"},
		{"session Reef\n\npart A\n  10 burpee 💪  é\n    ‸",
			"session Reef\n\npart A\n  10 burpee 💪  é\n  ‸"}, // cannot be read
		{"stint 1\n‸", "stint 1\n‸"},
	} {
		at := strings.Index(c.text, "‸")
		text := strings.Replace(c.text, "‸", "", 1)
		e.open("sessions/new.stint", text)
		p := &protocol.DocumentOnTypeFormattingParams{TextDocument: e.doc("sessions/new.stint"),
			Position: newLineIndex(text, e.enc).position(at), Ch: "\n"}
		var edits []protocol.TextEdit
		e.ask(protocol.MethodTextDocumentOnTypeFormatting, p, &edits)
		assert.Equal(t, strings.Replace(c.want, "‸", "", 1), e.apply("sessions/new.stint", edits), "%q", text)
		for _, x := range edits { // none reaches behind the cursor
			assert.LessOrEqual(t, newLineIndex(text, e.enc).span(x.Range).End, at, "%q", text)
		}
		p.Ch = ":"
		edits = nil
		e.ask(protocol.MethodTextDocumentOnTypeFormatting, p, &edits)
		assert.Empty(t, edits)
		e.close("sessions/new.stint")
	}
}

// actions asks for those at words of a document.
func (e *editor) actions(name string, at protocol.Range, only ...protocol.CodeActionKind) []*protocol.CodeAction {
	e.t.Helper()
	p := &protocol.CodeActionParams{TextDocument: e.doc(name), Range: at}
	p.Context.Only = only
	p.Context.Diagnostics = []protocol.Diagnostic{}
	var got []protocol.CommandOrCodeAction
	e.ask(protocol.MethodTextDocumentCodeAction, p, &got)
	var out []*protocol.CodeAction
	for _, a := range got {
		out = append(out, a.(*protocol.CodeAction))
	}
	return out
}

func titles(as []*protocol.CodeAction) []string {
	var out []string
	for _, a := range as {
		title := a.Title
		if a.IsPreferred != nil && *a.IsPreferred {
			title = "* " + title
		}
		out = append(out, title)
	}
	return out
}

const faulty = `stint 1

session Reef

part A at 0:00 2 rounds
  10 kettlebell swings @ 24/16 kg > 🪢 Float.
  9 Push Ups

total 21 kettlebell swing
`

func TestCodeActions(t *testing.T) {
	for enc := range positionEncodings {
		e := start(t, map[string]string{"house.stint": "stint 1\n\nhouse Hall\n", "sessions/reef.stint": faulty},
			encoded(enc))
		const name = "sessions/reef.stint"
		e.open(name)
		assert.Equal(t, []string{"* Write push-up", "Let it stand: allow name-spelling, and say why",
			"Make all safe fixes of this file"},
			titles(e.actions(name, e.rangeOf(name, "Push Ups"))))
		assert.Equal(t, []string{"* Write the total as 20 (look before you take it)",
			"Let it stand: allow total-wrong, and say why",
			"State all that the session comes to", "Make all safe fixes of this file"}, titles(e.actions(name,
			e.rangeOf(name, "21 kettlebell"))))
		assert.Equal(t, []string{"Write 24/16 kg as 53/35 lb", "Make all safe fixes of this file"},
			titles(e.actions(name, e.rangeOf(name, "kg > "))))
		assert.Equal(t, []string{"Write 24/16 kg as 53/35 lb"},
			titles(e.actions(name, e.rangeOf(name, "16 kg"), protocol.CodeActionKindRefactor)))
		assert.Equal(t, []string{"Make all safe fixes of this file"},
			titles(e.actions(name, e.rangeOf(name, "16 kg"), protocol.CodeActionKindSource)))
		assert.Equal(t, []string{"Make all safe fixes of this file"},
			titles(e.actions(name, e.rangeOf(name, "16 kg"), fixAll)))
		assert.Empty(t, e.actions(name, e.rangeOf(name, "16 kg"), protocol.CodeActionKindSourceOrganizeImports))
		assert.Empty(t, e.actions(name, e.rangeOf(name, "16 kg"), "quick"))

		all := e.actions(name, protocol.Range{}, fixAll)[0]
		fixed := e.made(all.Edit)[name]
		assert.Contains(t, fixed, "  10 kettlebell swing @ 24/16 kg > 🪢 Float.\n  9 push-up\n")
		e.change(name, fixed)
		assert.Empty(t, e.actions(name, protocol.Range{}, fixAll))

		waive := e.actions(name, e.rangeOf(name, "21 kettlebell"), protocol.CodeActionKindQuickFix)[1]
		assert.Equal(t, "total-wrong", string(waive.Diagnostics[0].Code.(protocol.String)))
		assert.Contains(t, e.made(waive.Edit)[name], "total 21 kettlebell swing\n  allow total-wrong > \n")
	}
}

// On its own account an editor is told what fixes a mistake, and no other way to write things.
func TestCodeActionsUnasked(t *testing.T) {
	e := start(t, map[string]string{"house.stint": "stint 1\n\nhouse Hall\n", "sessions/reef.stint": faulty})
	e.open("sessions/reef.stint")
	p := &protocol.CodeActionParams{TextDocument: e.doc("sessions/reef.stint"),
		Range: e.rangeOf("sessions/reef.stint", "16 kg")}
	p.Context.TriggerKind = protocol.CodeActionTriggerKindAutomatic
	p.Context.Diagnostics = []protocol.Diagnostic{}
	var got []protocol.CommandOrCodeAction
	e.ask(protocol.MethodTextDocumentCodeAction, p, &got)
	assert.Empty(t, got)
	p.Range = e.rangeOf("sessions/reef.stint", "Push Ups")
	e.ask(protocol.MethodTextDocumentCodeAction, p, &got)
	assert.Len(t, got, 2)
}

// A client that asks for edits when it takes an action gets that of the file's fixes then,
// for the text as it then is.
func TestCodeActionResolve(t *testing.T) {
	e := start(t, map[string]string{"house.stint": "stint 1\n\nhouse Hall\n", "sessions/reef.stint": faulty},
		func(p *protocol.InitializeParams) {
			p.Capabilities.TextDocument.CodeAction = &protocol.CodeActionClientCapabilities{DataSupport: new(true),
				ResolveSupport: protocol.ClientCodeActionResolveOptions{Properties: []string{"edit"}}}
		})
	e.open("sessions/reef.stint")
	as := e.actions("sessions/reef.stint", protocol.Range{}, fixAll)
	require.Len(t, as, 1)
	assert.Nil(t, as[0].Edit)
	e.replace("sessions/reef.stint", "9 Push Ups", "9 Push Ups 💪, 8 Sit Ups")
	e.replace("sessions/reef.stint", "9 Push Ups 💪, 8 Sit Ups", "9 Sit Ups")
	e.ask(protocol.MethodCodeActionResolve, as[0], as[0])
	require.NotNil(t, as[0].Edit)
	assert.Contains(t, e.made(as[0].Edit)["sessions/reef.stint"], "  9 sit-up\n")
}

// A waiver's reason is asked for where the client can have it written in place.
func TestWaiverSnippet(t *testing.T) {
	e := start(t, map[string]string{"house.stint": "stint 1\n\nhouse Hall\n", "sessions/reef.stint": faulty},
		func(p *protocol.InitializeParams) {
			p.Capabilities.Workspace.WorkspaceEdit.SnippetEditSupport = new(true)
		})
	e.open("sessions/reef.stint")
	waive := e.actions("sessions/reef.stint", e.rangeOf("sessions/reef.stint", "21 kettlebell"),
		protocol.CodeActionKindQuickFix)[1]
	assert.Contains(t, e.made(waive.Edit)["sessions/reef.stint"], "\n  allow total-wrong > ${1:why it may stand}\n")
}

func TestFileName(t *testing.T) {
	files := map[string]string{"house.stint": "stint 1\n\nhouse Hall\n",
		"sessions/old.stint": "stint 1\n\nsession Lee Shore\n\npart A\n  10 burpee\n"}
	e := start(t, files, canRenameFiles)
	e.open("sessions/old.stint")
	as := e.actions("sessions/old.stint", e.rangeOf("sessions/old.stint", "Lee Shore"), protocol.CodeActionKindQuickFix)
	require.NotEmpty(t, as)
	assert.Equal(t, "* Rename the file to lee-shore.stint", titles(as)[0])
	assert.Equal(t, files["sessions/old.stint"], e.made(as[0].Edit)["sessions/lee-shore.stint"])
	e = start(t, files)
	e.open("sessions/old.stint")
	for _, title := range titles(e.actions("sessions/old.stint", e.rangeOf("sessions/old.stint", "Lee Shore"))) {
		assert.NotContains(t, title, "Rename the file")
	}
}

// Of all mistakes of the broken workspace, every action gives a text that can be read as
// well as before and is another one, and the first fix of each finding silences it.
func TestActionsOfEveryMistake(t *testing.T) {
	dir := filepath.Join("..", "testdata", "broken")
	names, err := workspace.List(dir)
	require.NoError(t, err)
	files := map[string]string{}
	for _, n := range names {
		text, err := os.ReadFile(filepath.Join(dir, n))
		require.NoError(t, err)
		files[n] = string(text)
	}
	e := startOpen(t, files, canRenameFiles)
	snap := workspace.Make(workspace.Root{Dir: e.dir, House: true}, files)
	fixes, others := 0, 0
	for _, f := range snap.Files {
		src := f.Src
		for _, d := range snap.Diagnostics(f) {
			as := e.actions(f.Path, newLineIndex(src.Text, e.enc).rangeOf(d.At.Span))
			own := 0
			for _, a := range as {
				texts := e.made(a.Edit)
				if _, renamed := texts[f.Path]; !renamed {
					continue
				}
				assert.NotEqual(t, files, texts, "%s: %q changes nothing", d.Rule, a.Title)
				now := snap
				for name, text := range texts {
					if text != files[name] {
						now = now.With(name, text)
					}
				}
				if *a.Kind != protocol.CodeActionKindQuickFix {
					others++
					assert.LessOrEqual(t, unread(now.File(f.Path)), unread(f), "%s: %q", d.Rule, a.Title)
					continue
				}
				if len(a.Diagnostics) != 1 || string(a.Diagnostics[0].Code.(protocol.String)) != d.Rule ||
					strings.HasPrefix(a.Title, "Let it stand") {
					continue
				}
				if own++; own == 1 && a.Diagnostics[0].Range == newLineIndex(src.Text, e.enc).rangeOf(d.At.Span) {
					fixes++
					assert.Less(t, drawn(now, f.Path, d.Rule), drawn(snap, f.Path, d.Rule), "%s: %s: %q", f.Path,
						d.Message, a.Title)
				}
			}
			if r, _ := rules.Find(d.Rule); len(d.Fixes) > 0 {
				assert.Positive(t, own, "%s has fixes that are not offered", r.Name)
			}
		}
	}
	assert.Greater(t, fixes, 20)
	assert.Greater(t, others, 20)
}

// unread counts the lines that cannot be read.
func unread(f *workspace.File) int {
	n := 0
	for _, l := range f.Syntax().Lines {
		if l.Bad {
			n++
		}
	}
	return n
}

func drawn(s *workspace.Snapshot, name, rule string) int {
	n := 0
	for _, d := range s.Diagnostics(s.File(name)) {
		if d.Rule == rule {
			n++
		}
	}
	return n
}

// A renamed file, or folder of files, is read where it is now, also by a server whose
// client watches nothing. No text changes with it.
func TestDidRenameFiles(t *testing.T) {
	files := maps.Clone(quay)
	e := start(t, files)
	e.open("cycles/neap.stint")
	e.rules("cycles/neap.stint")
	moved := func(from, to string) {
		require.NoError(t, os.Rename(filepath.Join(e.dir, from), filepath.Join(e.dir, to)))
		e.notify(protocol.MethodWorkspaceDidRenameFiles, &protocol.RenameFilesParams{Files: []protocol.FileRename{
			{OldURI: string(e.uri(from)), NewURI: string(e.uri(to))}}})
	}
	definition := func() []string {
		var got protocol.LocationSlice
		e.ask(protocol.MethodTextDocumentDefinition,
			&protocol.DefinitionParams{TextDocumentPositionParams: e.within("cycles/neap.stint", "Bowline", "")}, &got)
		var out []string
		for _, l := range got {
			out = append(out, strings.TrimPrefix(l.URI.FsPath(), e.dir+"/"))
		}
		return out
	}
	assert.Equal(t, []string{"sessions/bowline.stint"}, definition())
	moved("sessions/bowline.stint", "sessions/loop.stint")
	assert.Equal(t, []string{"sessions/loop.stint"}, definition())
	moved("sessions", "hours")
	require.Eventually(t, func() bool { return slices.Equal([]string{"hours/loop.stint"}, definition()) }, patience,
		patience/1000)
	assert.NotNil(t, e.result.Capabilities.Workspace.FileOperations)
}
