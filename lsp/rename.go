package lsp

import (
	"slices"

	"go.lsp.dev/protocol"

	"stint.example/stint/lang/ide/codeaction"
)

// prepareRename says which words a rename at a position is of, and what is typed over: a
// name in the plural is renamed in the singular. Where a name cannot be changed, the error
// says why.
func (v *view) prepareRename(p protocol.PrepareRenameParams) (protocol.PrepareRenameResult, error) {
	at, name, err := codeaction.Renamable(v.snap, v.file, v.offset(p.Position))
	if err != nil || name == "" {
		return nil, err
	}
	return &protocol.PrepareRenamePlaceholder{Range: v.rangeOf(at), Placeholder: name}, nil
}

// rename gives the thing at a position another name in all files. A file that is called
// after it follows, if the client can rename files.
func (v *view) rename(p protocol.RenameParams) (*protocol.WorkspaceEdit, error) {
	r, err := codeaction.Rename(v.snap, v.file, v.offset(p.Position), p.NewName)
	if err != nil {
		return nil, err
	}
	edit := v.edits(r.Edits)
	if r.From != "" && v.renamesFiles() {
		edit.DocumentChanges = append(edit.DocumentChanges, v.renameFile(r.From, r.To))
	}
	return edit, v.ctx.Err()
}

// renamesFiles says whether the client renames files as part of an edit.
func (v *view) renamesFiles() bool {
	w := v.caps.client.Workspace
	return v.caps.documentChanges && w != nil && w.WorkspaceEdit != nil &&
		slices.Contains(w.WorkspaceEdit.ResourceOperations, protocol.ResourceOperationKindRename)
}

// renameFile renames a file of the workspace, and never over another.
func (v *view) renameFile(from, to string) *protocol.RenameFile {
	return &protocol.RenameFile{Kind: "rename", OldURI: v.uriAt(from), NewURI: v.folder.uri(to),
		Options: &protocol.RenameFileOptions{Overwrite: new(false), IgnoreIfExists: new(false)}}
}
