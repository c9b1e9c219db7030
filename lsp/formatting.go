package lsp

import (
	"go.lsp.dev/protocol"

	"stint.example/stint/lang/format"
)

// formatting writes the document the one way, with an edit for each line that changes.
func (v *view) formatting(protocol.DocumentFormattingParams) ([]protocol.TextEdit, error) {
	return v.textEdits(v.file.Syntax.Src, format.Edits(v.file.Syntax)), nil
}
