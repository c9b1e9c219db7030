// Package svgtest reads pictures back, so that tests can hold them against what they show.
package svgtest

import (
	"encoding/xml"
	"errors"
	"io"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// An Element is an element of a picture.
type Element struct {
	Name   string
	Attr   map[string]string
	Text   string
	Parent string // the name of the element around it
}

// Number is an attribute as a number.
func (e Element) Number(t testing.TB, name string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(e.Attr[name], 64)
	require.NoError(t, err, "%s of %v", name, e)
	return v
}

// Parse lists the elements of a picture in their order. It ends the test where the picture
// is not well-formed XML.
func Parse(t testing.TB, svg string) []Element {
	t.Helper()
	var out []Element
	var open []int
	d := xml.NewDecoder(strings.NewReader(svg))
	for {
		tok, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		require.NoError(t, err)
		switch tok := tok.(type) {
		case xml.StartElement:
			e := Element{Name: tok.Name.Local, Attr: map[string]string{}}
			for _, a := range tok.Attr {
				assert.NotContains(t, e.Attr, a.Name.Local)
				e.Attr[a.Name.Local] = a.Value
			}
			if len(open) > 0 {
				e.Parent = out[open[len(open)-1]].Name
			}
			open = append(open, len(out))
			out = append(out, e)
		case xml.CharData:
			if len(open) > 0 {
				out[open[len(open)-1]].Text += string(tok)
			}
		case xml.EndElement:
			open = open[:len(open)-1]
		}
	}
	require.Empty(t, open)
	return out
}

// Sound parses a picture of a width and checks what holds for every picture: it is named and
// described for whoever does not see it, needs nothing from outside, and all of it lies
// inside its frame. Title names the case in failures.
func Sound(t testing.TB, title, svg string, width int) []Element {
	t.Helper()
	es := Parse(t, svg)
	root := es[0]
	require.Equal(t, "svg", root.Name)
	assert.Equal(t, "img", root.Attr["role"])
	assert.Equal(t, "0 0 "+strconv.Itoa(width)+" "+root.Attr["height"], root.Attr["viewBox"])
	assert.Equal(t, []string{"title", "desc"}, []string{es[1].Name, es[2].Name})
	assert.Equal(t, es[1].Attr["id"]+" "+es[2].Attr["id"], root.Attr["aria-labelledby"])
	for _, bad := range []string{"<script", "href", "<style", "NaN", "Inf", "<image", "<foreignObject"} {
		assert.NotContains(t, svg, bad)
	}
	inFrame(t, title, es, float64(width))
	return es
}

func inFrame(t testing.TB, title string, es []Element, width float64) {
	t.Helper()
	height := es[0].Number(t, "height")
	ids := map[string]bool{}
	for _, e := range es {
		if id := e.Attr["id"]; id != "" {
			assert.False(t, ids[id], "%s twice", id)
			ids[id] = true
		}
		if e.Parent == "pattern" || e.Name == "svg" {
			continue
		}
		switch e.Name {
		case "rect":
			x, y := 0.0, 0.0
			if e.Attr["x"] != "" {
				x, y = e.Number(t, "x"), e.Number(t, "y")
			}
			w, h := e.Number(t, "width"), e.Number(t, "height")
			inside := x >= 0 && y >= 0 && w > 0 && h > 0 && x+w <= width+0.5 && y+h <= height
			assert.True(t, inside, "%s at %g: %v", title, width, e)
			if id, ok := strings.CutPrefix(e.Attr["fill"], "url(#"); ok {
				assert.Contains(t, ids, strings.TrimSuffix(id, ")"))
			}
		case "line":
			for _, k := range []string{"x1", "x2"} {
				v := e.Number(t, k)
				assert.True(t, v >= 0 && v <= width, "%s at %g: %v", title, width, e)
			}
			for _, k := range []string{"y1", "y2"} {
				v := e.Number(t, k)
				assert.True(t, v >= 0 && v <= height, "%s at %g: %v", title, width, e)
			}
		case "text":
			x, y := e.Number(t, "x"), e.Number(t, "y")
			assert.NotEmpty(t, strings.TrimSpace(e.Text))
			least := 0.45 * e.Number(t, "font-size") * float64(len([]rune(e.Text)))
			if e.Attr["text-anchor"] == "" {
				assert.LessOrEqual(t, x+least, width, "%s: %q runs out", title, e.Text)
			}
			assert.True(t, x >= 0 && y > 0 && y < height, "%s: %v", title, e)
		}
	}
}
