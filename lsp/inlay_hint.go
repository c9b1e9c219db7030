package lsp

import (
	"encoding/json"

	"go.lsp.dev/protocol"

	"stint.example/stint/lang/ide/hover"
	"stint.example/stint/lang/ide/inlayhint"
)

// hintData is what a client gives back when it resolves a hint.
type hintData struct {
	URI string `json:"uri"`
	Of  int    `json:"of"`  // an offset in the words that it is about
	Off int    `json:"off"` // where it stands
	Is  string `json:"is"`
}

// inlayHints are what turns add up to, how long parts take, and quantities in other units.
func (v *view) inlayHints(p protocol.InlayHintParams) ([]protocol.InlayHint, error) {
	kinds := inlayhint.Kinds(v.config.InlayHints)
	out := []protocol.InlayHint{}
	for _, h := range inlayhint.Hints(v.snap, v.file, v.span(p.Range), kinds) {
		hint := protocol.InlayHint{Position: v.linesOf(v.file.Src).position(h.Off), Label: protocol.String(h.Text),
			PaddingLeft: new(true)}
		if data, err := json.Marshal(hintData{URI: string(p.TextDocument.URI), Of: h.Of, Off: h.Off,
			Is: h.Text}); err == nil {
			hint.Data = data
		}
		out = append(out, hint)
	}
	return out, nil
}

// resolveHint adds the hover card of the words that a hint is about as its tooltip, unless the
// text has changed since.
func (v *view) resolveHint(h protocol.InlayHint) (*protocol.InlayHint, error) {
	var data hintData
	if err := json.Unmarshal(h.Data, &data); err != nil || data.Of < 0 || data.Of > data.Off ||
		data.Off > len(v.file.Src.Text) {
		return &h, nil
	}
	if c := hover.At(v.snap, v.file, data.Of); c != nil && c.At.Contains(data.Of) {
		h.Tooltip = markup(c, v.caps.markdown)
	}
	return &h, nil
}
