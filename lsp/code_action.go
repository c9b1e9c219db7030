package lsp

import (
	"encoding/json"
	"path"
	"reflect"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/ide/codeaction"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/workspace"
)

// fixAll is the kind of the action that makes all safe fixes of a document. Clients that
// fix files as they are saved ask for it by name.
const fixAll = protocol.CodeActionKindSourceFixAll + ".stint"

// actionKinds are the kinds of actions that there are.
var actionKinds = []protocol.CodeActionKind{
	protocol.CodeActionKindQuickFix, protocol.CodeActionKindRefactorRewrite, fixAll,
}

// codeActions are the changes that can be made at a range: fixes of the diagnostics there, all
// safe fixes of the document, and rewrites of what stands there. One that would change nothing
// is never offered.
func (v *view) codeActions(p protocol.CodeActionParams) ([]protocol.CommandOrCodeAction, error) {
	a := actionCollector{view: v, p: p, at: v.span(p.Range)}
	byHand := p.Context.TriggerKind != protocol.CodeActionTriggerKindAutomatic || len(p.Context.Only) > 0
	if a.wants(protocol.CodeActionKindQuickFix) {
		a.addQuickFixes()
	}
	if a.wants(protocol.CodeActionKindRefactorRewrite) && byHand {
		a.addRewrites()
	}
	if a.wants(fixAll) && byHand && codeaction.HasSafeFixes(v.snap, v.file) {
		a.addFixAll()
	}
	return a.list, v.ctx.Err()
}

// actionCollector gathers actions.
type actionCollector struct {
	*view
	p    protocol.CodeActionParams
	at   source.Span
	list []protocol.CommandOrCodeAction
}

// wants says whether actions of a kind are asked for.
func (a *actionCollector) wants(kind protocol.CodeActionKind) bool {
	return len(a.p.Context.Only) == 0 || slices.ContainsFunc(a.p.Context.Only, func(only protocol.CodeActionKind) bool {
		return only == "" || kind == only || strings.HasPrefix(string(kind), string(only)+".")
	})
}

// add offers an action, unless it is offered already or has no edit.
func (a *actionCollector) add(
	kind protocol.CodeActionKind, title string, edit *protocol.WorkspaceEdit, d *protocol.Diagnostic, preferred bool,
) {
	if edit == nil || len(edit.Changes)+len(edit.DocumentChanges) == 0 {
		return
	}
	action := &protocol.CodeAction{Title: capitalized(title), Kind: &kind, Edit: edit}
	if d != nil {
		action.Diagnostics = []protocol.Diagnostic{*d}
	}
	if preferred {
		action.IsPreferred = &preferred
	}
	for _, o := range a.list {
		if o, ok := o.(*protocol.CodeAction); ok &&
			(o.Title == action.Title || reflect.DeepEqual(o.Edit, action.Edit)) {
			return
		}
	}
	a.list = append(a.list, action)
}

// capitalized is a title with a capital start, as menus have them.
func capitalized(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(r)) + s[n:]
}

// findings are those that the range touches, and those that the client asks about.
func (a *actionCollector) findings() []diag.Diagnostic {
	var out []diag.Diagnostic
	for _, d := range a.snap.Diagnostics(a.file) {
		asked := slices.ContainsFunc(a.p.Context.Diagnostics, func(o protocol.Diagnostic) bool {
			code, _ := o.Code.(protocol.String)
			return string(code) == d.Rule && o.Range == a.rangeOf(d.At)
		})
		if asked || d.At.Start <= a.at.End && a.at.Start <= d.At.End {
			out = append(out, d)
		}
	}
	return out
}

// addQuickFixes offers fixes of the diagnostics: safe ones first, then those to be looked at, then
// waivers.
func (a *actionCollector) addQuickFixes() {
	found := a.findings()
	for _, safe := range []bool{true, false} {
		for _, d := range found {
			shown := a.diagnostic(d)
			first := slices.IndexFunc(d.Fixes, func(f diag.Fix) bool { return f.Safe })
			for i, f := range d.Fixes {
				if f.Safe != safe || !changesText(f.Edits) {
					continue
				}
				title := f.Title
				if !safe {
					title += " (look before you take it)"
				}
				a.add(protocol.CodeActionKindQuickFix, title, a.edits(f.Edits), &shown, i == max(first, 0))
			}
		}
	}
	for _, d := range found {
		shown := a.diagnostic(d)
		if to := a.fileFor(d); to != "" {
			rename := &protocol.WorkspaceEdit{DocumentChanges: []protocol.DocumentChange{a.renameFile(a.file.Path, to)}}
			a.add(protocol.CodeActionKindQuickFix, "rename the file to "+path.Base(to), rename, &shown, true)
		}
	}
	for _, d := range found {
		shown := a.diagnostic(d)
		if w, ok := codeaction.Waive(a.snap, a.file, d); ok {
			a.add(protocol.CodeActionKindQuickFix, w.Title, a.snippet(w.Edits[0], "why it may stand"), &shown, false)
		}
	}
}

// changesText says whether edits change anything.
func changesText(es []diag.Edit) bool {
	return slices.ContainsFunc(es, func(e diag.Edit) bool { return e.At.Text() != e.New })
}

// fileFor is what a file is to be called that is not called after its session, if that is
// the finding and the client can rename files.
func (a *actionCollector) fileFor(d diag.Diagnostic) string {
	sessions := a.file.Program().Sessions
	if d.Rule != "file-name" || len(sessions) != 1 || !a.renamesFiles() {
		return ""
	}
	to := path.Join(path.Dir(a.file.Path), workspace.FileFor(sessions[0].Name))
	if a.snap.File(to) != nil {
		return ""
	}
	return to
}

// snippet is an edit at whose end the client is to let a text be written, where it can.
func (a *actionCollector) snippet(e diag.Edit, hint string) *protocol.WorkspaceEdit {
	w := a.caps.client.Workspace
	line, whole := strings.CutSuffix(e.New, "\n")
	if !whole || !a.caps.documentChanges || w == nil || w.WorkspaceEdit == nil ||
		!isTrue(w.WorkspaceEdit.SnippetEditSupport) {
		return a.edits([]diag.Edit{e})
	}
	literal := strings.NewReplacer(`\`, `\\`, `$`, `\$`, `}`, `\}`)
	edit := &protocol.TextDocumentEdit{Edits: []protocol.TextDocumentEditElement{&protocol.SnippetTextEdit{
		Range: a.rangeOf(e.At), Snippet: protocol.StringValue{Kind: "snippet",
			Value: literal.Replace(line) + "${1:" + literal.Replace(hint) + "}\n"},
	}}}
	edit.TextDocument.URI, edit.TextDocument.Version = a.uriOf(e.At.File), a.version(e.At.File.Name)
	return &protocol.WorkspaceEdit{DocumentChanges: []protocol.DocumentChange{edit}}
}

// addRewrites offers rewrites of what stands at the start of the range: units, scalings, totals
// and starts.
func (a *actionCollector) addRewrites() {
	off := a.at.Start
	list := append(codeaction.Units(a.snap, a.file, off), codeaction.Scalings(a.snap, a.file, off)...)
	if t, ok := codeaction.Total(a.snap, a.file, off); ok {
		list = append(list, t)
	}
	if s, ok := codeaction.Start(a.snap, a.file, off); ok {
		list = append(list, s)
	}
	for _, r := range list {
		if changesText(r.Edits) {
			a.add(protocol.CodeActionKindRefactorRewrite, r.Title, a.edits(r.Edits), nil, false)
		}
	}
}

// actionData is what a client gives back with an action whose edit it asks for.
type actionData struct {
	URI  uri.URI                 `json:"uri"`
	Kind protocol.CodeActionKind `json:"kind"`
}

// addFixAll offers to make all safe fixes. Where the client asks for the edit later, it is
// worked out then.
func (a *actionCollector) addFixAll() {
	const title = "Make all safe fixes of this file"
	if !a.resolvesActions() {
		a.add(fixAll, title, a.edits(codeaction.FixAll(a.snap, a.file)), nil, false)
		return
	}
	action := &protocol.CodeAction{Title: title, Kind: new(fixAll)}
	action.Data, _ = json.Marshal(actionData{URI: a.p.TextDocument.URI, Kind: fixAll})
	a.list = append(a.list, action)
}

// resolvesActions says whether the client asks for the edit of an action that it takes.
func (v *view) resolvesActions() bool {
	t := v.caps.client.TextDocument
	return t != nil && t.CodeAction != nil && isTrue(t.CodeAction.DataSupport) &&
		slices.Contains(t.CodeAction.ResolveSupport.Properties, "edit")
}

// resolveAction works out the edit of an action, on the document as it is now.
func resolveAction(vs []*view, p protocol.CodeAction) (*protocol.CodeAction, error) {
	var data actionData
	if p.Edit != nil || json.Unmarshal(p.Data, &data) != nil {
		return &p, nil
	}
	if v := viewContaining(vs, data.URI); v != nil && v.file != nil && data.Kind == fixAll {
		p.Edit = v.edits(codeaction.FixAll(v.snap, v.file))
	}
	return &p, nil
}
