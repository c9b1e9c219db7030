package lsp

import (
	"go.lsp.dev/protocol"

	"stint.example/stint/lang/ide/hover"
	"stint.example/stint/lang/refs"
)

// hover is the card of the place under the pointer.
func (v *view) hover(p protocol.HoverParams) (*protocol.Hover, error) {
	c := hover.At(v.snap, v.file, v.offset(p.Position))
	if c == nil {
		return nil, nil
	}
	v.link(c)
	r := v.rangeOf(c.At)
	return &protocol.Hover{Contents: markup(c, v.caps.markdown), Range: &r}, nil
}

// link adds where to read more to the card of a rule.
func (v *view) link(c *hover.Card) {
	if _, ok := v.snap.Rule(c.Title); !ok {
		return
	}
	if page := v.rulePage(c.Title); page != "" {
		c.Rows = append(c.Rows, hover.CardRow{Text: "more, with examples", Link: string(page)})
	}
}

// markup is a card as Markdown or as plain text.
func markup(c *hover.Card, markdown bool) *protocol.MarkupContent {
	if markdown {
		return &protocol.MarkupContent{Kind: protocol.MarkupKindMarkdown, Value: c.Markdown()}
	}
	return &protocol.MarkupContent{Kind: protocol.MarkupKindPlainText, Value: c.Plain()}
}

// cardOf is the card of a thing, with a link where there is one; nil where there is none.
func (v *view) cardOf(id refs.ID, name string) *hover.Card {
	c := hover.Named(v.snap, v.file, id, name)
	if c != nil {
		v.link(c)
	}
	return c
}
