package lsp

import (
	"go.lsp.dev/protocol"
)

// capabilities is what a client is told that the server can do.
func (s *Server) capabilities(can clientCapabilities) protocol.ServerCapabilities {
	c := protocol.ServerCapabilities{
		HoverProvider: protocol.Boolean(true),
		CompletionProvider: &protocol.CompletionOptions{TriggerCharacters: completionTriggers,
			ResolveProvider: new(true)},
		SemanticTokensProvider: &protocol.SemanticTokensOptions{
			Legend: protocol.SemanticTokensLegend{TokenTypes: tokenTypes, TokenModifiers: tokenModifiers},
			Full:   &protocol.SemanticTokensFullDelta{Delta: new(true)},
			Range:  protocol.Boolean(true),
		},
		InlayHintProvider: &protocol.InlayHintOptions{ResolveProvider: new(true)},
		CodeLensProvider:  &protocol.CodeLensOptions{ResolveProvider: new(true)},

		TextDocumentSync: &protocol.TextDocumentSyncOptions{
			OpenClose: new(true),
			Change:    new(protocol.TextDocumentSyncKindIncremental),
			Save:      &protocol.SaveOptions{IncludeText: new(false)},
		},
		Workspace: &protocol.WorkspaceOptions{
			WorkspaceFolders: &protocol.WorkspaceFoldersServerCapabilities{
				Supported:           new(true),
				ChangeNotifications: protocol.Boolean(true),
			},
			FileOperations: fileOperations(),
		},
		DocumentFormattingProvider: protocol.Boolean(true),

		DefinitionProvider:        protocol.Boolean(true),
		ImplementationProvider:    protocol.Boolean(true),
		ReferencesProvider:        protocol.Boolean(true),
		DocumentHighlightProvider: protocol.Boolean(true),
		DocumentSymbolProvider:    protocol.Boolean(true),
		FoldingRangeProvider:      protocol.Boolean(true),
		SelectionRangeProvider:    protocol.Boolean(true),
		DocumentLinkProvider:      &protocol.DocumentLinkOptions{},
		WorkspaceSymbolProvider:   &protocol.WorkspaceSymbolOptions{ResolveProvider: new(true)},

		DocumentRangeFormattingProvider:  &protocol.DocumentRangeFormattingOptions{RangesSupport: new(true)},
		DocumentOnTypeFormattingProvider: protocol.DocumentOnTypeFormattingOptions{FirstTriggerCharacter: "\n"},
		RenameProvider:                   protocol.Boolean(true),
		CodeActionProvider: &protocol.CodeActionOptions{CodeActionKinds: actionKinds,
			ResolveProvider: new(true)},
	}
	if t := can.client.TextDocument; t != nil && t.Rename != nil && isTrue(t.Rename.PrepareSupport) {
		c.RenameProvider = &protocol.RenameOptions{PrepareProvider: new(true)}
	}
	if can.pull {
		c.DiagnosticProvider = &protocol.DiagnosticOptions{Identifier: new("stint"), InterFileDependencies: true,
			WorkspaceDiagnostics: true}
	}
	return c
}
