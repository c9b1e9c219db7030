package main

import (
	"encoding/json"
	"io"
)

// writeJSON prints a value for other programs. Signs such as > and & stay as they are.
func writeJSON(w io.Writer, v any) error {
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(v)
}
