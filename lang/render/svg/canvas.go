// Package svg is what the pictures of the tool share: their colours, their layout, the forms
// by which they tell things apart, and the XML that they are written in.
package svg

import "math"

// How wide pictures are, in px.
const (
	Phone     = 360
	Desktop   = 1200
	Narrowest = 320
	Widest    = 2400

	narrow = 700 // below this, names stand above what they name
)

// Options say how a picture is drawn.
type Options struct {
	Width int // in px, from Narrowest to Widest; 0 is Desktop
	// ID is the prefix of the picture's element ids, which must be unique on a page; each
	// kind of picture has its own where it is empty.
	ID string
}

// A Form is one of the looks by which a picture tells things apart. Pictures have forms of
// their own beside the fills below.
type Form string

// The fills. Hatches are named by how they look, and defined in a picture that uses them.
const (
	Solid  Form = "solid"
	Dense  Form = "dense" // hatched
	Light  Form = "light" // hatched, thin and wide apart
	Mixed  Form = "mixed" // striped
	Dots   Form = "dots"
	Open   Form = "open" // an outline
	Dashed Form = "dashed"
)

// A Canvas is a picture that is being drawn from top to bottom. All lengths are in px.
type Canvas struct {
	Markup        // what lies on top
	Under  Markup // what lies below it: grid lines

	Width       float64
	Narrow      bool // too narrow for names beside what they name
	Margin      float64
	Left, Right float64 // the ends of the axis
	Y           float64 // how far down it is drawn
	Small, Body float64 // sizes of type

	Used map[Form]bool // what the legend has to explain

	id string
}

// NewCanvas is an empty picture; id is for options that name none.
func NewCanvas(opt Options, id string) Canvas {
	if opt.Width == 0 {
		opt.Width = Desktop
	}
	if opt.ID == "" {
		opt.ID = id
	}
	c := Canvas{id: opt.ID, Width: float64(min(max(opt.Width, Narrowest), Widest)), Used: map[Form]bool{}}
	c.Narrow = c.Width < narrow
	c.Margin, c.Small, c.Body = 24, 13, 15
	if c.Narrow {
		c.Margin, c.Small, c.Body = 12, 12, 14
	}
	c.Left, c.Right = c.Margin, c.Width-c.Margin
	return c
}

// Title writes the heading of the picture, and paragraphs below it.
func (c *Canvas) Title(title string, below ...string) {
	const size, bolder = 22, 1.08 // how much wider bold type is
	c.Y = c.Margin - 6
	for _, line := range Wrap(title, (c.Width-2*c.Margin)/bolder, size) {
		c.Y += size + 4
		c.Bold(c.Margin, c.Y, size, Start, line)
	}
	c.Y += 4
	c.Lines(c.Margin, c.Width-2*c.Margin, c.Body, below...)
}

// Lines writes texts, each from a new line on, wrapped to a width.
func (c *Canvas) Lines(x, width, size float64, texts ...string) {
	for _, t := range texts {
		for _, l := range Wrap(t, width, size) {
			c.Y += size + 4
			c.Type(x, c.Y, size, Start, l)
		}
	}
}

// Rect draws a rectangle in one of the fills. It does not mark the fill as used.
func (c *Canvas) Rect(x, y, w, h float64, fill Form) {
	var paint, dash string
	switch fill {
	default:
		paint = "url(#" + c.id + "-" + string(fill) + ")"
	case Solid:
		paint = Ink
	case Open:
		paint = Ground
	case Dashed:
		paint, dash = Ground, "4 3"
	}
	c.Element("rect", "x", Px(x), "y", Px(y), "width", Px(w), "height", Px(h),
		"fill", paint, "stroke", Ink, "stroke-width", "1", "stroke-dasharray", dash)
}

// The size of a sample in the legend.
const (
	SampleWidth  = 26.0
	SampleHeight = 14.0
)

// An Entry of the legend explains a form.
type Entry struct {
	Form   Form
	Words  string
	Sample func(x, y float64) // draws the form; nil for a fill
}

// Legend explains the forms that the picture uses.
func (c *Canvas) Legend(entries []Entry) {
	x := c.Margin
	for _, e := range entries {
		if !c.Used[e.Form] {
			continue
		}
		wide := SampleWidth + 8 + TextWidth(e.Words, c.Small) + 20
		if x > c.Margin && x+wide-20 > c.Width-c.Margin {
			x = c.Margin
			c.Y += c.Small + 10
		}
		if e.Sample != nil {
			e.Sample(x, c.Y)
		} else {
			c.Rect(x, c.Y, SampleWidth, SampleHeight, e.Form)
		}
		c.Type(x+SampleWidth+8, c.Y+11, c.Small, Start, e.Words)
		x += wide
	}
	c.Y += c.Small
}

// Document is the whole picture as XML. Its title and its description are for whoever does
// not see it.
func (c *Canvas) Document(title, description string) string {
	var m Markup
	w, h := Px(c.Width), Px(math.Ceil(c.Y))
	m.Open("svg", "xmlns", "http://www.w3.org/2000/svg", "width", w, "height", h,
		"viewBox", "0 0 "+w+" "+h, "role", "img",
		"aria-labelledby", c.id+"-title "+c.id+"-desc", "font-family", fontFamily)
	m.Leaf("title", title, "id", c.id+"-title")
	m.Leaf("desc", description, "id", c.id+"-desc")
	m.Open("defs")
	c.patterns(&m)
	m.Close("defs")
	m.Element("rect", "width", w, "height", h, "fill", Ground)
	m.b.WriteString(c.Under.String())
	m.b.WriteString(c.String())
	m.Close("svg")
	return m.String()
}

// patterns defines the hatches, stripes and dots that the picture uses.
func (c *Canvas) patterns(m *Markup) {
	pattern := func(fill Form, size float64, transform string, draw func()) {
		if !c.Used[fill] {
			return
		}
		s := Px(size)
		m.Open("pattern", "id", c.id+"-"+string(fill), "patternUnits", "userSpaceOnUse", "width", s, "height", s,
			"patternTransform", transform)
		m.Element("rect", "width", s, "height", s, "fill", Ground)
		draw()
		m.Close("pattern")
	}
	pattern(Dense, 5, "rotate(45)", func() { m.Line(0, 0, 0, 5, Ink, 3.4, "") })
	pattern(Light, 7, "rotate(-45)", func() { m.Line(0, 0, 0, 7, Ink, 1.2, "") })
	pattern(Mixed, 6, "rotate(0)", func() { m.Line(0, 0, 0, 6, Ink, 6.4, "") })
	pattern(Dots, 7, "", func() { m.Element("circle", "cx", "3.5", "cy", "3.5", "r", "1.5", "fill", Ink) })
}
