package lsp

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"go.lsp.dev/protocol"

	"stint.example/stint/lang/ide/completion"
	"stint.example/stint/lang/ide/hover"
	"stint.example/stint/lang/refs"
	"stint.example/stint/lang/syntax"
)

// completionTriggers are the trigger characters: a blank behind a number, an @, a comma, and the
// end of an arrow.
var completionTriggers = []string{" ", "@", ",", ">"}

// itemKinds are the protocol's kinds of items, which editors draw as icons.
var itemKinds = map[completion.Category]protocol.CompletionItemKind{
	completion.Keyword:  protocol.CompletionItemKindKeyword,
	completion.Clause:   protocol.CompletionItemKindProperty,
	completion.Movement: protocol.CompletionItemKindFunction,
	completion.Name:     protocol.CompletionItemKindReference,
	completion.Kit:      protocol.CompletionItemKindClass,
	completion.Value:    protocol.CompletionItemKindValue,
	completion.Line:     protocol.CompletionItemKindText,
}

// itemData is what a client gives back when it resolves an item.
type itemData struct {
	URI  string  `json:"uri"`
	ID   refs.ID `json:"id,omitzero"`
	Name string  `json:"name,omitempty"`
	// Form is an example in the notation, and Block the kind of block that it stands in.
	Form  string         `json:"form,omitempty"`
	Block syntax.Context `json:"block,omitempty"`
}

func (v *view) completion(p protocol.CompletionParams) (*protocol.CompletionList, error) {
	out := &protocol.CompletionList{Items: []protocol.CompletionItem{}}
	off := v.offset(p.Position)
	if !v.triggered(p.Context, off) {
		return out, nil
	}
	l := completion.At(v.snap, v.file, off)
	if l.Whole && p.Context.TriggerKind == protocol.CompletionTriggerKindTriggerCharacter {
		return out, nil // whoever goes on to the next line would get a longer name
	}
	// Which items there are, and in which order, depends on all that is typed: a client asks
	// again when more is. filterText is what is typed already, so that the client's own filter
	// keeps each item, and sortText alone gives the order.
	out.IsIncomplete = len(l.Items) > 0
	at := v.rangeOf(l.At)
	for i, it := range l.Items {
		item := protocol.CompletionItem{Label: it.Label, Kind: itemKinds[it.Kind],
			SortText: protocol.NewOptional(fmt.Sprintf("%03d", i))}
		edit := &protocol.TextEdit{Range: at, NewText: it.New}
		if it.Snippet != "" && v.caps.snippets {
			edit.NewText = it.Snippet
			item.InsertTextFormat = protocol.InsertTextFormatSnippet
			if v.caps.indents {
				item.InsertTextMode = protocol.InsertTextModeAdjustIndentation
			}
		}
		item.TextEdit = edit
		if it.Detail != "" {
			item.Detail = protocol.NewOptional(it.Detail)
		}
		if it.Also != "" {
			item.Detail = protocol.NewOptional(strings.TrimPrefix(it.Detail+"; also "+it.Also, "; "))
		}
		if l.Typed != "" {
			item.FilterText = protocol.NewOptional(l.Typed)
		}
		if data, err := json.Marshal(itemData{URI: string(p.TextDocument.URI), ID: it.Ref, Name: it.Label,
			Form: it.Example, Block: it.Block}); err == nil {
			item.Data = data
		}
		out.Items = append(out.Items, item)
	}
	return out, nil
}

// triggered says whether completion is wanted after a trigger character: not after a blank that
// indents a line, and not after the > of a note.
func (v *view) triggered(c protocol.CompletionContext, off int) bool {
	if c.TriggerKind != protocol.CompletionTriggerKindTriggerCharacter || c.TriggerCharacter == nil {
		return true
	}
	text := v.file.Src.Text[:off]
	line := text[strings.LastIndexByte(text, '\n')+1:]
	switch *c.TriggerCharacter {
	case " ":
		return strings.TrimSpace(line) != ""
	case ">":
		return strings.HasSuffix(line, "->")
	}
	return true
}

// resolveItem adds an item's documentation.
func (v *view) resolveItem(it protocol.CompletionItem) (*protocol.CompletionItem, error) {
	var data itemData
	if err := json.Unmarshal(it.Data, &data); err != nil {
		return &it, nil
	}
	markdown := slices.Contains(v.caps.itemDocs, protocol.MarkupKindMarkdown)
	if data.ID.Kind != "" && v.file != nil {
		if c := v.cardOf(data.ID, v.nameOf(data)); c != nil {
			it.Documentation = markup(c, markdown)
		}
		return &it, nil
	}
	if data.Form != "" {
		text := data.Form
		if markdown {
			text = "```stint\n" + text + "\n```"
		}
		if m := hover.Meaning(data.Block, data.Name); m != "" {
			text = m + "\n\n" + text
		}
		it.Documentation = &protocol.MarkupContent{Kind: kindOf(markdown), Value: text}
	}
	return &it, nil
}

func kindOf(markdown bool) protocol.MarkupKind {
	if markdown {
		return protocol.MarkupKindMarkdown
	}
	return protocol.MarkupKindPlainText
}

// nameOf is the name of what an item is of. The label of a total or a swap has more words.
func (v *view) nameOf(d itemData) string {
	if d.ID.Kind == refs.Movement {
		if m, _ := v.snap.Env.Book.Lookup(d.ID.Key); m != nil {
			return m.Name
		}
	}
	return d.Name
}
