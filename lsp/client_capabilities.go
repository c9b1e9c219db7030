package lsp

import (
	"slices"

	"go.lsp.dev/protocol"
)

// clientCapabilities are the capabilities of the client that the server looks at.
type clientCapabilities struct {
	documentChanges bool // takes edits with the version that they are for
	pull            bool // asks for diagnostics, so that none are sent
	pullRefresh     bool
	related         bool // shows the other places that a diagnostic speaks of
	tags            []protocol.DiagnosticTag
	ruleLinks       bool // shows a link behind a rule's name
	data            bool // gives a diagnostic's data back
	hintRefresh     bool
	lensRefresh     bool
	tokenRefresh    bool
	progress        bool
	watch           bool // watches files when asked to
	watchElsewhere  bool // also outside its folders
	configure       bool // answers workspace/configuration
	configured      bool // takes a registration for changes of settings
	markdown        bool // hovers
	snippets        bool // takes items with stops
	indents         bool // indents their lines as the one that they stand on
	itemDocs        []protocol.MarkupKind
	client          *protocol.ClientCapabilities
}

func readClientCapabilities(c *protocol.ClientCapabilities) clientCapabilities {
	a := clientCapabilities{client: c}
	if w := c.Workspace; w != nil {
		if e := w.WorkspaceEdit; e != nil {
			a.documentChanges = isTrue(e.DocumentChanges)
		}
		if d := w.DidChangeWatchedFiles; d != nil {
			a.watch, a.watchElsewhere = isTrue(d.DynamicRegistration), isTrue(d.RelativePatternSupport)
		}
		if d := w.DidChangeConfiguration; d != nil {
			a.configured = isTrue(d.DynamicRegistration)
		}
		if d := w.Diagnostics; d != nil {
			a.pullRefresh = isTrue(d.RefreshSupport)
		}
		if h := w.InlayHint; h != nil {
			a.hintRefresh = isTrue(h.RefreshSupport)
		}
		if l := w.CodeLens; l != nil {
			a.lensRefresh = isTrue(l.RefreshSupport)
		}
		if t := w.SemanticTokens; t != nil {
			a.tokenRefresh = isTrue(t.RefreshSupport)
		}
		a.configure = isTrue(w.Configuration)
	}
	if t := c.TextDocument; t != nil {
		a.pull = t.Diagnostic != nil
		var shown protocol.DiagnosticsCapabilities
		if p := t.PublishDiagnostics; p != nil {
			shown = p.DiagnosticsCapabilities
		}
		if a.pull && t.Diagnostic.RelatedInformation != nil {
			shown = t.Diagnostic.DiagnosticsCapabilities
		}
		a.related = isTrue(shown.RelatedInformation)
		a.tags = shown.TagSupport.ValueSet
		a.ruleLinks = isTrue(shown.CodeDescriptionSupport)
		a.data = isTrue(shown.DataSupport)
		if c := t.Completion; c != nil && c.CompletionItem != nil {
			a.snippets = isTrue(c.CompletionItem.SnippetSupport)
			a.itemDocs = c.CompletionItem.DocumentationFormat
			a.indents = slices.Contains(c.CompletionItem.InsertTextModeSupport.ValueSet,
				protocol.InsertTextModeAdjustIndentation)
		}
		if h := t.Hover; h != nil {
			a.markdown = slices.Contains(h.ContentFormat, protocol.MarkupKindMarkdown)
		}
	}
	if w := c.Window; w != nil {
		a.progress = isTrue(w.WorkDoneProgress)
	}
	return a
}

func isTrue(b *bool) bool { return b != nil && *b }

// clientCapabilities is what the client can do: nothing before it has said so.
func (s *Server) clientCapabilities() *clientCapabilities {
	if can := s.caps.Load(); can != nil {
		return can
	}
	return &clientCapabilities{}
}
