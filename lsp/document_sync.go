package lsp

import (
	"context"
	"encoding/json"
	"fmt"
	"path/filepath"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"stint.example/stint/lang/workspace"
)

// maxTextLen is the longest text that is read, in bytes: a thousand times a long session.
const maxTextLen = 1 << 20

var errTooLong = fmt.Errorf("longer than %d bytes, which is more than is read", maxTextLen)

// A buffer is an open document at one version. It is immutable: an edit makes the next one.
type buffer struct {
	uri     uri.URI // as the client spells it
	version int32
	text    string
	foreign bool             // not read: in another language
	folder  *workspaceFolder // nil where it is read by no workspace
	name    string           // its path in the workspace
}

// filePath is the path on disk that a URI names, if it does.
func filePath(u uri.URI) (string, bool) {
	if !u.IsFile() {
		return "", false
	}
	return filepath.Clean(u.FsPath()), true
}

// canonicalURI is one spelling for all spellings of a document's URI.
func canonicalURI(rawURI string) string {
	u, err := uri.Parse(rawURI)
	if err != nil {
		return rawURI
	}
	return string(u)
}

func (s *Server) didOpen(ctx context.Context, raw []byte) error {
	var p protocol.DidOpenTextDocumentParams
	var named struct {
		TextDocument struct {
			URI string `json:"uri"`
		} `json:"textDocument"`
	}
	if err := decode(raw, &p); err != nil {
		return err
	}
	if err := json.Unmarshal(raw, &named); err != nil {
		return err
	}
	b := &buffer{uri: uri.URI(named.TextDocument.URI), version: p.TextDocument.Version, text: p.TextDocument.Text}
	b.foreign = p.TextDocument.LanguageID != language && !isStintFile(string(p.TextDocument.URI))
	s.mu.Lock()
	defer s.mu.Unlock()
	k := canonicalURI(named.TextDocument.URI)
	if s.docs[k] != nil {
		s.log.warnOnce("%s was opened twice", b.uri)
	}
	s.docs[k] = b
	s.updateBuffer(ctx, b)
	if b.folder != nil {
		b.folder.reports.drop(b.name) // the client may have forgotten what it was sent when it closed it
	}
	return nil
}

// language is what editors call a document in the notation.
const language = "stint"

// updateBuffer applies a buffer to its workspace, unless it is too long to be read. It is called
// with the lock held.
func (s *Server) updateBuffer(ctx context.Context, b *buffer) {
	if long := len(b.text) > maxTextLen; long && b.folder == nil {
		s.log.warnOnce("%s: %v", b.uri, errTooLong)
		return
	} else if long {
		s.log.warnOnce("%s: %v", b.uri, errTooLong)
		was := *b
		b.folder, b.name = nil, ""
		s.revertToDisk(&was)
		return
	}
	if b.folder == nil {
		s.assignWorkspace(ctx, b)
	}
	s.applyBuffer(b)
}

// changes are the parameters of didChange. They are read here, as the protocol's own type
// reads a range that is none, such as one before the first line, as no range at all: as a
// change of the whole text.
type changes struct {
	TextDocument struct {
		URI     string `json:"uri"`
		Version int32  `json:"version"`
	} `json:"textDocument"`
	ContentChanges []textChange `json:"contentChanges"`
}

// A textChange puts a text in the place of a range, or of all.
type textChange struct {
	Range *protocol.Range `json:"range"`
	Text  string          `json:"text"`
}

func (s *Server) didChange(ctx context.Context, raw []byte) error {
	var p changes
	if err := json.Unmarshal(raw, &p); err != nil {
		return err
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	k := canonicalURI(p.TextDocument.URI)
	old := s.docs[k]
	if old == nil {
		return fmt.Errorf("%s is not open", p.TextDocument.URI)
	}
	b := *old
	b.version = p.TextDocument.Version
	for _, c := range p.ContentChanges {
		b.text = c.apply(b.text, s.enc)
	}
	s.docs[k] = &b
	s.updateBuffer(ctx, &b)
	return nil
}

// apply is a text with the change made.
func (c textChange) apply(text string, enc encoding) string {
	if c.Range == nil {
		return c.Text
	}
	at := newLineIndex(text, enc).span(*c.Range)
	return text[:at.Start] + c.Text + text[at.End:]
}

// didSave looks for a new house, which a client that watches no files does not tell of.
func (s *Server) didSave(ctx context.Context, raw []byte) error {
	var p protocol.DidSaveTextDocumentParams
	if err := decode(raw, &p); err != nil {
		return err
	}
	abs, ok := filePath(p.TextDocument.URI)
	if !ok || !isHouseFile(abs) {
		return nil
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	if f := s.folderWith(abs); f == nil || f.root.Dir != filepath.Dir(abs) || !f.house {
		s.spawn(func() { s.discover(ctx) })
	}
	return nil
}

func (s *Server) didClose(_ context.Context, raw []byte) error {
	var p protocol.DidCloseTextDocumentParams
	if err := decode(raw, &p); err != nil {
		return err
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	k := canonicalURI(string(p.TextDocument.URI))
	b := s.docs[k]
	if b == nil {
		return fmt.Errorf("%s is not open", p.TextDocument.URI)
	}
	delete(s.docs, k)
	s.revertToDisk(b)
	s.dropIdle()
	return nil
}

// applyBuffer puts a buffer's text into its workspace's snapshot. It is called with the lock held.
func (s *Server) applyBuffer(b *buffer) {
	if b.folder == nil {
		return
	}
	b.folder.updateSnapshots(func(snap *workspace.Snapshot) *workspace.Snapshot { return snap.With(b.name, b.text) })
	s.changed()
}

func parseURI(rawURI string) uri.URI {
	u, err := uri.Parse(rawURI)
	if err != nil {
		return ""
	}
	return u
}
