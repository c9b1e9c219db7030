package lsp

import (
	"context"
	"os"

	"go.lsp.dev/protocol"
)

// fileOperations are the operations on files that the server wants to hear of. Nothing in
// the notation names a file, so a rename of one changes no text, and the client need not
// ask before it makes one.
func fileOperations() *protocol.FileOperationOptions {
	files := func(glob string, of protocol.FileOperationPatternKind) protocol.FileOperationFilter {
		return protocol.FileOperationFilter{Scheme: new("file"),
			Pattern: protocol.FileOperationPattern{Glob: glob, Matches: of}}
	}
	filters := []protocol.FileOperationFilter{
		files("**/*.stint", protocol.FileOperationPatternKindFile),
		files("**", protocol.FileOperationPatternKindFolder),
	}
	return &protocol.FileOperationOptions{DidRename: protocol.FileOperationRegistrationOptions{Filters: filters}}
}

// didRenameFiles takes over files and folders that have another name now, also from a
// client that does not watch files.
func (s *Server) didRenameFiles(ctx context.Context, raw []byte) error {
	var p protocol.RenameFilesParams
	if err := decode(raw, &p); err != nil {
		return err
	}
	var changes []protocol.FileEvent
	for _, f := range p.Files {
		changes = append(changes, protocol.FileEvent{URI: parseURI(f.OldURI), Type: protocol.FileChangeTypeDeleted},
			protocol.FileEvent{URI: parseURI(f.NewURI), Type: protocol.FileChangeTypeCreated})
	}
	s.changedOnDisk(ctx, changes)
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, f := range p.Files {
		abs, ok := filePath(parseURI(f.NewURI))
		if !ok {
			continue
		}
		if info, err := os.Stat(abs); err == nil && info.IsDir() {
			if w := s.folderWith(abs); w != nil {
				s.reloadFolder(ctx, w)
			}
		}
	}
	return nil
}
