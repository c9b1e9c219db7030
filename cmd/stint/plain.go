package main

import (
	"fmt"
	"strings"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"
	tables "github.com/yuin/goldmark/extension/ast"
	"github.com/yuin/goldmark/text"
	"github.com/yuin/goldmark/util"

	"stint.example/stint/lang/render/layout"
)

// plain is a page of Markdown as plain text: code is indented, headings stand by
// themselves, and emphasis and the targets of links are left out. A heading at the top that
// only repeats the title is left out too, and so are the markers (#@) by which the tests know
// what an example must report.
func plain(page, title string) string {
	p := plainPrinter{[]byte(page)}
	doc := goldmark.New(goldmark.WithExtensions(extension.Table)).Parser().Parse(text.NewReader(p.source))
	if h, ok := doc.FirstChild().(*ast.Heading); ok && p.inline(h) == title {
		doc.RemoveChild(doc, h)
	}
	return p.blocks(doc, "\n\n") + "\n"
}

// A plainPrinter prints the parsed blocks of a Markdown source.
type plainPrinter struct{ source []byte }

// blocks prints the blocks in a node, with a separator between them.
func (p plainPrinter) blocks(parent ast.Node, separator string) string {
	var out []string
	for n := parent.FirstChild(); n != nil; n = n.NextSibling() {
		out = append(out, p.block(n))
	}
	return strings.Join(out, separator)
}

func (p plainPrinter) block(n ast.Node) string {
	switch n := n.(type) {
	case *ast.FencedCodeBlock:
		code := p.code(n)
		if _, path, ok := strings.Cut(p.info(n), "path="); ok {
			code = path + ":\n" + code
		}
		return code
	case *ast.CodeBlock:
		return p.code(n)
	case *ast.List:
		separator := "\n\n"
		if n.IsTight {
			separator = "\n"
		}
		var items []string
		for item := n.FirstChild(); item != nil; item = item.NextSibling() {
			mark := string(n.Marker) + " "
			if n.IsOrdered() {
				mark = fmt.Sprint(n.Start+len(items)) + mark
			}
			body := p.blocks(item, separator)
			items = append(items, mark+hang(body, strings.Repeat(" ", len(mark))))
		}
		return strings.Join(items, separator)
	case *ast.Blockquote:
		return "> " + hang(p.blocks(n, "\n\n"), "> ")
	case *tables.Table:
		return p.table(n)
	case *ast.Heading, *ast.Paragraph, *ast.TextBlock:
		return p.inline(n)
	}
	return strings.TrimRight(string(n.Lines().Value(p.source)), "\n") // as it stands
}

// tableWidth is how many columns a table takes: its last column is wrapped, and the others take no
// more than this share of it each.
const (
	tableWidth  = 80
	columnShare = 30
)

// table prints a table in columns, a line between its rows where one of them has several lines.
func (p plainPrinter) table(t *tables.Table) string {
	var rows [][]string
	var first int // cells of the widest first columns
	tall := false
	for row := t.FirstChild(); row != nil; row = row.NextSibling() {
		var cells []string
		for c := row.FirstChild(); c != nil; c = c.NextSibling() {
			text := p.inline(c)
			if c.NextSibling() != nil {
				text = strings.Join(layout.WrapCells(text, columnShare), "\n")
			}
			cells = append(cells, text)
			tall = tall || strings.Contains(text, "\n")
		}
		rows = append(rows, cells)
	}
	for _, cells := range rows {
		for _, c := range cells[:len(cells)-1] {
			for line := range strings.SplitSeq(c, "\n") {
				first = max(first, layout.Cells(line))
			}
		}
	}
	var out [][]string
	for i, cells := range rows {
		last := len(cells) - 1
		var lines []string
		for line := range strings.SplitSeq(cells[last], "\n") {
			indent := line[:len(line)-len(strings.TrimLeft(line, " "))]
			for _, l := range layout.WrapCells(line, tableWidth-last*(first+2)-len(indent)) {
				lines = append(lines, indent+l)
			}
		}
		cells[last] = strings.Join(lines, "\n")
		if tall && i > 0 {
			out = append(out, nil)
		}
		out = append(out, cells)
	}
	return strings.TrimRight(layout.Table(out), "\n")
}

// hang puts a prefix before each line of a text but the first.
func hang(text, prefix string) string {
	lines := strings.Split(text, "\n")
	for i := 1; i < len(lines); i++ {
		lines[i] = strings.TrimRight(prefix+lines[i], " ")
	}
	return strings.Join(lines, "\n")
}

func (p plainPrinter) info(n *ast.FencedCodeBlock) string {
	if n.Info == nil {
		return ""
	}
	return string(n.Info.Value(p.source))
}

// code prints code without the markers of tests. A line that held nothing else is left out.
func (p plainPrinter) code(n ast.Node) string {
	var out []string
	for line := range strings.Lines(string(n.Lines().Value(p.source))) {
		code, _, marked := strings.Cut(line, "#@")
		code = strings.TrimRight(code, " \n")
		if code == "" && (marked || len(out) == 0 || out[len(out)-1] == "") {
			continue
		}
		if code != "" {
			code = "    " + code
		}
		out = append(out, code)
	}
	return strings.Join(out, "\n")
}

// inline prints what stands in a paragraph or a heading.
func (p plainPrinter) inline(parent ast.Node) string {
	var b strings.Builder
	_ = ast.Walk(parent, func(n ast.Node, entering bool) (ast.WalkStatus, error) { // which returns no error
		if !entering {
			return ast.WalkContinue, nil
		}
		switch n := n.(type) {
		case *ast.CodeSpan:
			for c := n.FirstChild(); c != nil; c = c.NextSibling() {
				if t, ok := c.(*ast.Text); ok {
					b.Write(t.Value(p.source)) // no escapes in code
				}
			}
			return ast.WalkSkipChildren, nil
		case *ast.Text:
			b.Write(util.UnescapePunctuations(util.ResolveEntityNames(n.Value(p.source))))
			if n.SoftLineBreak() || n.HardLineBreak() {
				b.WriteByte('\n')
			}
		case *ast.String:
			b.Write(n.Value)
		case *ast.AutoLink:
			b.Write(n.URL(p.source))
		case *ast.RawHTML:
			if tag := string(n.Segments.Value(p.source)); tag == "<br>" {
				b.WriteByte('\n')
			} else {
				b.WriteString(tag)
			}
		}
		return ast.WalkContinue, nil
	})
	return b.String()
}
