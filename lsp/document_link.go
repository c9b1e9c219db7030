package lsp

import (
	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"stint.example/stint/lang/check/rules"
	"stint.example/stint/lang/refs"
)

// documentLinks are what leads out of a document: the rules that it names to their pages,
// and the sessions that a cycle plans to their files.
func (v *view) documentLinks(protocol.DocumentLinkParams) ([]protocol.DocumentLink, error) {
	t := v.caps.client.TextDocument
	tips := t != nil && t.DocumentLink != nil && isTrue(t.DocumentLink.TooltipSupport)
	out := []protocol.DocumentLink{}
	for _, r := range v.file.Refs() {
		var to uri.URI
		tip := ""
		switch {
		case r.Kind == refs.Rule:
			if rule, known := rules.Find(r.Name); known {
				to, tip = v.rulePage(r.Name), rule.Summary
			}
		case r.Kind == refs.Session && !r.Def:
			if s, f := v.snap.Session(r.Name); s != nil {
				to, tip = v.uriAt(f.Path), s.Purpose
			}
		}
		if to == "" {
			continue
		}
		l := protocol.DocumentLink{Range: v.rangeOf(r.At), Target: &to}
		if tips && tip != "" {
			l.Tooltip = &tip
		}
		out = append(out, l)
	}
	return out, nil
}
