package lsp

import (
	"slices"

	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"
)

// codec writes and reads what messages carry, unions and all.
type codec struct{}

// Marshal writes a value; what is already written is passed on.
func (codec) Marshal(v any) ([]byte, error) {
	if raw, ok := v.(jsonrpc2.RawMessage); ok {
		if raw == nil {
			return []byte("null"), nil
		}
		return raw, nil
	}
	return protocol.Marshal(v)
}

// Unmarshal reads a value, or copies it where it is to stay unread.
func (codec) Unmarshal(data []byte, v any) error {
	if raw, ok := v.(*jsonrpc2.RawMessage); ok {
		*raw = append((*raw)[:0:0], data...)
		return nil
	}
	return protocol.Unmarshal(slices.Clone(data), v) // of lists, it keeps strings that are pieces of what it is given
}

// decode reads the parameters of a request. Parameters that are not there are empty ones.
func decode(raw []byte, v any) error {
	if len(raw) == 0 || string(raw) == "null" {
		return nil
	}
	return protocol.Unmarshal(raw, v)
}
