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

// maxText is the longest text that is read as a workspace's. It is a thousand times what
// a long session takes.
const maxText = 1 << 20

var errLong = fmt.Errorf("longer than %d bytes, which is more than is read", maxText)

// A buffer is an open document. It never changes; a change makes the next one.
type buffer struct {
	uri     uri.URI // as the client spells it
	version int32
	text    string
	foreign bool    // none of a workspace's: in another language, or too long
	ws      *folder // nil where it is read by no workspace
	name    string  // its path in the workspace
}

// pathOf is the path on disk that a URI names, if it does.
func pathOf(u uri.URI) (string, bool) {
	if !u.IsFile() {
		return "", false
	}
	return filepath.Clean(u.FsPath()), true
}

// key is what a document goes by, however its URI is spelt.
func key(spelt string) string {
	u, err := uri.Parse(spelt)
	if err != nil {
		return spelt
	}
	return string(u)
}

func (s *Server) didOpen(ctx context.Context, raw []byte) error {
	var p protocol.DidOpenTextDocumentParams
	var spelt struct {
		TextDocument struct {
			URI string `json:"uri"`
		} `json:"textDocument"`
	}
	if err := decode(raw, &p); err != nil {
		return err
	}
	if err := json.Unmarshal(raw, &spelt); err != nil {
		return err
	}
	b := &buffer{uri: uri.URI(spelt.TextDocument.URI), version: p.TextDocument.Version, text: p.TextDocument.Text}
	b.foreign = p.TextDocument.LanguageID != language && !inNotation(string(p.TextDocument.URI))
	s.mu.Lock()
	defer s.mu.Unlock()
	k := key(spelt.TextDocument.URI)
	if s.docs[k] != nil {
		s.log.once("%s was opened twice", b.uri)
	}
	s.docs[k] = b
	s.fit(ctx, b)
	if b.ws != nil {
		b.ws.reports.drop(b.name) // the client may have forgotten what it was sent when it closed it
	}
	return nil
}

// language is what editors call a document in the notation.
const language = "stint"

// fit puts a buffer into its workspace, unless it is too long to be read. It is called with
// the lock held.
func (s *Server) fit(ctx context.Context, b *buffer) {
	if long := len(b.text) > maxText; long && b.ws == nil {
		s.log.once("%s: %v", b.uri, errLong)
		return
	} else if long {
		s.log.once("%s: %v", b.uri, errLong)
		was := *b
		b.ws, b.name = nil, ""
		s.leave(&was)
		return
	}
	if b.ws == nil {
		s.place(ctx, b)
	}
	s.show(b)
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
	k := key(p.TextDocument.URI)
	old := s.docs[k]
	if old == nil {
		return fmt.Errorf("%s is not open", p.TextDocument.URI)
	}
	b := *old
	b.version = p.TextDocument.Version
	for _, c := range p.ContentChanges {
		b.text = c.on(b.text, s.enc)
	}
	s.docs[k] = &b
	s.fit(ctx, &b)
	return nil
}

// on makes the change on a text.
func (c textChange) on(text string, enc encoding) string {
	if c.Range == nil {
		return c.Text
	}
	at := newLines(text, enc).span(*c.Range)
	return text[:at.Start] + c.Text + text[at.End:]
}

// didSave is where a house may have come to be, with a client that watches no files.
func (s *Server) didSave(ctx context.Context, raw []byte) error {
	var p protocol.DidSaveTextDocumentParams
	if err := decode(raw, &p); err != nil {
		return err
	}
	abs, ok := pathOf(p.TextDocument.URI)
	if !ok || !isHouse(abs) {
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
	k := key(string(p.TextDocument.URI))
	b := s.docs[k]
	if b == nil {
		return fmt.Errorf("%s is not open", p.TextDocument.URI)
	}
	delete(s.docs, k)
	s.leave(b)
	s.dropIdle()
	return nil
}

// show takes a buffer's text over into its workspace.
func (s *Server) show(b *buffer) {
	if b.ws == nil {
		return
	}
	b.ws.edit(func(snap *workspace.Snapshot) *workspace.Snapshot { return snap.With(b.name, b.text) })
	s.changed()
}

func parse(spelt string) uri.URI {
	u, err := uri.Parse(spelt)
	if err != nil {
		return ""
	}
	return u
}
