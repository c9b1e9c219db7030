package lsp

import (
	"cmp"
	"context"
	"encoding/json"
	"reflect"

	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"
)

// A handler answers requests of one method. It is called in the order in which they arrive and
// takes what the request needs from the state; the function that it returns runs concurrently
// with later messages.
type handler func(s *Server, ctx context.Context, params []byte) (func() (any, error), error)

// requestHandlers handle requests, by method name. A capability is a method of view, a row here,
// and its part of Server.capabilities.
var requestHandlers map[string]handler

func init() { // set here, as the capabilities are made from the table: an initializer would refer to itself
	requestHandlers = map[string]handler{
		protocol.MethodInitialize: synchronous((*Server).initialize),
		protocol.MethodShutdown:   synchronous((*Server).shutdown),

		protocol.MethodTextDocumentHover:                   document((*view).hover),
		protocol.MethodTextDocumentCompletion:              partialDocument((*view).completion),
		protocol.MethodCompletionItemResolve:               resolveInDocument((*view).resolveItem),
		protocol.MethodTextDocumentSemanticTokensFull:      partialDocument((*view).tokens),
		protocol.MethodTextDocumentSemanticTokensFullDelta: partialDocument((*view).tokensDelta),
		protocol.MethodTextDocumentSemanticTokensRange:     partialDocument((*view).tokensRange),
		protocol.MethodTextDocumentInlayHint:               partialDocument((*view).inlayHints),
		protocol.MethodInlayHintResolve:                    resolveInDocument((*view).resolveHint),
		protocol.MethodTextDocumentCodeLens:                partialDocument((*view).codeLenses),
		protocol.MethodCodeLensResolve:                     resolveInDocument((*view).resolveLens),

		protocol.MethodTextDocumentDiagnostic: partialDocument((*view).pullDocument),
		protocol.MethodWorkspaceDiagnostic:    allWorkspaces(pullWorkspaces),
		protocol.MethodTextDocumentFormatting: partialDocument((*view).formatting),

		protocol.MethodTextDocumentDefinition:        document((*view).definition),
		protocol.MethodTextDocumentImplementation:    document((*view).implementation),
		protocol.MethodTextDocumentReferences:        document((*view).references),
		protocol.MethodTextDocumentDocumentHighlight: partialDocument((*view).highlights),
		protocol.MethodTextDocumentDocumentSymbol:    partialDocument((*view).symbols),
		protocol.MethodTextDocumentFoldingRange:      partialDocument((*view).folding),
		protocol.MethodTextDocumentSelectionRange:    partialDocument((*view).selection),
		protocol.MethodTextDocumentDocumentLink:      document((*view).documentLinks),
		protocol.MethodWorkspaceSymbol:               allWorkspaces(workspaceSymbols),
		protocol.MethodWorkspaceSymbolResolve:        allWorkspaces(resolveSymbol),

		protocol.MethodTextDocumentRangeFormatting:  partialDocument((*view).rangeFormatting),
		protocol.MethodTextDocumentRangesFormatting: partialDocument((*view).rangesFormatting),
		protocol.MethodTextDocumentOnTypeFormatting: partialDocument((*view).onTypeFormatting),
		protocol.MethodTextDocumentPrepareRename:    document((*view).prepareRename),
		protocol.MethodTextDocumentRename:           document((*view).rename),
		protocol.MethodTextDocumentCodeAction:       document((*view).codeActions),
		protocol.MethodCodeActionResolve:            allWorkspaces(resolveAction),
	}
}

// notificationHandlers handle notifications, by method name. Others are ignored.
var notificationHandlers = map[string]func(*Server, context.Context, []byte) error{
	protocol.MethodInitialized:                        (*Server).initialized,
	protocol.MethodSetTrace:                           (*Server).setTrace,
	protocol.MethodTextDocumentDidOpen:                (*Server).didOpen,
	protocol.MethodTextDocumentDidChange:              (*Server).didChange,
	protocol.MethodTextDocumentDidSave:                (*Server).didSave,
	protocol.MethodTextDocumentDidClose:               (*Server).didClose,
	protocol.MethodWorkspaceDidChangeWatchedFiles:     (*Server).didChangeWatchedFiles,
	protocol.MethodWorkspaceDidChangeWorkspaceFolders: (*Server).didChangeWorkspaceFolders,
	protocol.MethodWorkspaceDidChangeConfiguration:    (*Server).didChangeConfiguration,
	protocol.MethodWorkspaceDidRenameFiles:            (*Server).didRenameFiles,
}

// document makes the handler of a capability of one document, which P names as textDocument. In
// a document that no workspace has, the answer is null.
func document[P, R any](f func(*view, P) (R, error)) handler {
	return onDocument(f, noAnswer[P], false)
}

// partialDocument is document for a capability that can be answered on a partial snapshot: the
// open documents and what they depend on. It need not wait until thousands of files are read.
func partialDocument[P, R any](f func(*view, P) (R, error)) handler {
	return onDocument(f, noAnswer[P], true)
}

// noAnswer is the answer on a document that no workspace has.
func noAnswer[P any](P) any { return nil }

// resolveInDocument makes the handler of a resolve request, which fills in what an answer left
// out. The data of P names the document; where that is gone, P is answered as it is.
func resolveInDocument[P any](f func(*view, P) (*P, error)) handler {
	return onDocument(f, func(p P) any { return &p }, false)
}

// A documentName is what parameters name a document by: textDocument, or the data of what is resolved.
type documentName struct {
	TextDocument struct {
		URI string `json:"uri"`
	} `json:"textDocument"`
	Data struct {
		URI string `json:"uri"`
	} `json:"data"`
}

// onDocument makes the handler of a capability of one document. Without is the answer where no workspace
// has the document.
func onDocument[P, R any](f func(*view, P) (R, error), without func(P) any, allowPartial bool) handler {
	return func(s *Server, ctx context.Context, raw []byte) (func() (any, error), error) {
		var p P
		if err := decode(raw, &p); err != nil {
			return nil, invalid(err)
		}
		var name documentName
		if err := json.Unmarshal(raw, &name); err != nil {
			return nil, invalid(err)
		}
		look := s.documentView(ctx, cmp.Or(name.TextDocument.URI, name.Data.URI), allowPartial)
		return func() (any, error) {
			v, err := look()
			if err != nil {
				return nil, err
			}
			if v.file == nil {
				return without(p), nil
			}
			return nullable(f(v, p))
		}, nil
	}
}

// allWorkspaces makes the handler of a capability of all workspaces: it gets a view of each,
// with no document. The first is that of the client's first workspace folder.
func allWorkspaces[P, R any](f func([]*view, P) (R, error)) handler {
	return func(s *Server, ctx context.Context, raw []byte) (func() (any, error), error) {
		var p P
		if err := decode(raw, &p); err != nil {
			return nil, invalid(err)
		}
		look := s.workspaceViews(ctx)
		return func() (any, error) {
			vs, err := look()
			if err != nil {
				return nil, err
			}
			return nullable(f(vs, p))
		}, nil
	}
}

// synchronous makes a handler that is done before the next message is read.
func synchronous[P, R any](f func(*Server, context.Context, P) (R, error)) handler {
	return func(s *Server, ctx context.Context, raw []byte) (func() (any, error), error) {
		var p P
		if err := decode(raw, &p); err != nil {
			return nil, invalid(err)
		}
		r, err := nullable(f(s, ctx, p))
		return func() (any, error) { return r, err }, nil
	}
}

// nullable turns a nil result of any type into null.
func nullable[R any](r R, err error) (any, error) {
	if err != nil {
		return nil, err
	}
	switch v := reflect.ValueOf(&r).Elem(); v.Kind() {
	case reflect.Pointer, reflect.Slice, reflect.Map, reflect.Interface:
		if v.IsNil() {
			return jsonrpc2.RawMessage("null"), nil
		}
		return r, nil
	}
	return &r, nil
}
