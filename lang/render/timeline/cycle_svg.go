package timeline

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"stint.example/stint/lang/analysis/cycle"
	"stint.example/stint/lang/book"
	"stint.example/stint/lang/units"
)

// stacks are what the repetitions of a week are drawn as, from the ground up. The patterns
// of the book are more than can be told apart in grey.
var stacks = []struct {
	name, fill string
	has        func(book.Pattern) bool
}{
	{"squats and lunges", allWork, func(p book.Pattern) bool { return p == book.Squat || p == book.Lunge }},
	{"hinges", toSlow, cycle.Hinge},
	{"pushes", toTyp, cycle.Push},
	{"pulls", slack, cycle.Pull},
	{"trunk and turns", dots, func(p book.Pattern) bool { return p == book.Trunk || p == book.Rotation }},
	{"jumps", mixed, func(p book.Pattern) bool { return p == book.Jump }},
}

// What the legend of a cycle explains beside them.
const (
	dots     = "dots"
	easyWeek = "easy"
	testWeek = "test"
)

// A chart is the picture of a cycle in the making.
type chart struct {
	drawing
	cycle *Cycle
	slot  float64 // px a week
}

// SVG draws the cycle: a line for the load of its sessions, and under it a stack a week of
// what is done of each pattern. It stands by itself, needs no script and no style sheet,
// and reads in black and white.
func (c *Cycle) SVG(p Picture) string {
	if p.Width == 0 {
		p.Width = Desktop
	}
	p.Width = min(max(p.Width, Narrowest), Widest)
	if p.ID == "" {
		p.ID = "cycle"
	}
	d := &chart{cycle: c}
	d.id, d.width, d.used = p.ID, float64(p.Width), map[string]bool{}
	d.narrow = d.width < 700
	d.margin, d.small, d.plain = 24, 13, 15
	if d.narrow {
		d.margin, d.small, d.plain = 12, 12, 14
	}
	d.left, d.right = d.margin+44, d.width-d.margin
	d.slot = (d.right - d.left) / float64(max(1, len(c.Weeks)))
	d.head()
	d.loads()
	d.volumes()
	d.weeks()
	d.legend()
	d.y += 2
	d.lines(d.margin, d.width-2*d.margin, d.small, c.feet()...)
	d.y += d.margin
	return d.done()
}

// middle is where a week lies.
func (d *chart) middle(i int) float64 { return d.left + d.slot*(float64(i)+0.5) }

func (d *chart) head() {
	c := d.cycle
	d.y = d.margin + 20
	d.text(d.margin, d.y, 22, "bold", "start", c.Cycle)
	d.y += 4
	d.lines(d.margin, d.width-2*d.margin, d.plain, c.subtitle())
	if c.Purpose != "" {
		d.lines(d.margin, d.width-2*d.margin, d.plain, c.Purpose)
	}
	d.y += 14
}

// subtitle says how long the cycle is, from when, and in which version.
func (c *Cycle) subtitle() string {
	text := fmt.Sprintf("%d weeks", len(c.Weeks))
	if len(c.Weeks) == 1 {
		text = "1 week"
	}
	if c.From != "" {
		text += " from " + c.From
	}
	if c.Scaling != "" {
		text += ", version " + c.Scaling
	}
	return text + "."
}

// line is what the line above the stacks shows, week by week; not a number where nothing
// is known of a week.
func (c *Cycle) line() (name string, values []float64) {
	rated := slices.ContainsFunc(c.Weeks, func(w *CycleWeek) bool { return w.Load != nil })
	name = "session load: how hard (0 to 10) x minutes, about"
	for _, w := range c.Weeks {
		v := math.NaN()
		switch {
		case w.Load != nil:
			v = w.Load.Total
		case !rated && len(w.Days) > 0:
			v = w.Minutes.Min
		}
		values = append(values, v)
	}
	if !rated {
		name = "minutes, about"
	}
	return name, values
}

// loads draws the line.
func (d *chart) loads() {
	name, values := d.cycle.line()
	d.y += d.small
	d.text(d.margin, d.y, d.small, "", "start", name)
	d.top = d.y + 6
	high := 0.0
	for _, v := range values {
		if !math.IsNaN(v) {
			high = max(high, v)
		}
	}
	if high == 0 {
		d.y += 8
		return
	}
	const tall = 84.0
	base := d.y + 28 + tall
	y := func(v float64) float64 { return base - tall*v/high }
	d.el("line", "x1", px(d.left), "y1", px(base), "x2", px(d.right), "y2", px(base), "stroke", text, "stroke-width", "1")
	d.text(d.left-8, base+4, d.small, "", "end", "0")
	path, pen := "", "M"
	for i, v := range values {
		if math.IsNaN(v) {
			pen = "M"
			continue
		}
		path += fmt.Sprintf("%s%s %s ", pen, px(d.middle(i)), px(y(v)))
		pen = "L"
	}
	d.el("path", "d", strings.TrimSpace(path), "fill", "none", "stroke", ink, "stroke-width", "2")
	for i, v := range values {
		if math.IsNaN(v) {
			continue
		}
		d.el("circle", "cx", px(d.middle(i)), "cy", px(y(v)), "r", "4", "fill", "#fff", "stroke", ink, "stroke-width", "2")
		if d.labelled(i, "0000") {
			d.text(d.middle(i), y(v)-10, d.small, "", "middle", units.FormatNumber(math.Round(v)))
		}
	}
	d.y = base + 16
}

// labelled says whether there is room for a label at a week: else only every second,
// third, ... has one.
func (d *chart) labelled(i int, widest string) bool {
	every := int(math.Ceil((extent(widest, d.small, false) + 4) / d.slot))
	return i%max(1, every) == 0
}

// repetitions are what each stack of a week has, and all of them together.
func (w *CycleWeek) repetitions() (of []float64, all float64, estimate bool) {
	of = make([]float64, len(stacks))
	for i, s := range stacks {
		for _, v := range w.Volume {
			if s.has(book.Pattern(v.Pattern)) {
				of[i] += v.Repetitions
				estimate = estimate || v.Estimate && v.Repetitions > 0
			}
		}
		all += of[i]
	}
	return of, all, estimate
}

// volumes draws the stacks.
func (d *chart) volumes() {
	d.y += d.small + 6
	d.text(d.margin, d.y, d.small, "", "start", "repetitions, by pattern")
	high := 0.0
	for _, w := range d.cycle.Weeks {
		_, all, _ := w.repetitions()
		high = max(high, all)
	}
	tall := 280.0
	if d.narrow {
		tall = 220
	}
	base := d.y + 26 + tall
	step := nice(high / 4)
	y := func(v float64) float64 { return base - tall*v/max(high, 1) }
	for v := 0.0; v <= high; v += step {
		stroke := faint
		if v == 0 {
			stroke = text
		}
		d.under.el("line", "x1", px(d.left), "y1", px(y(v)), "x2", px(d.right), "y2", px(y(v)), "stroke", stroke, "stroke-width", "1")
		d.text(d.left-8, y(v)+4, d.small, "", "end", units.FormatNumber(v))
	}
	wide := min(72, d.slot*0.62)
	for i, w := range d.cycle.Weeks {
		of, all, estimate := w.repetitions()
		x := d.middle(i) - wide/2
		d.open("g")
		d.leaf("title", w.sentence())
		at := 0.0
		for k, n := range of {
			if n <= 0 {
				continue
			}
			d.used[stacks[k].fill] = true
			d.stack(x, y(at+n), wide, y(at)-y(at+n), stacks[k].fill)
			at += n
		}
		d.close("g")
		label := units.FormatNumber(math.Round(all))
		if estimate {
			label = "~" + label
		}
		if all > 0 && d.labelled(i, "~000") {
			d.text(d.middle(i), y(all)-6, d.small, "", "middle", label)
		}
	}
	d.y = base
}

// stack draws one piece of a stack, or a sample of it.
func (d *chart) stack(x, y, w, h float64, fill string) {
	if fill == slack {
		d.empty(x, y, w, h, slack)
		return
	}
	d.swatch(x, y, w, h, fill)
}

// nice is a round step that is no less than a figure.
func nice(v float64) float64 {
	for step := 10.0; ; step *= 10 {
		for _, k := range []float64{1, 2, 2.5, 5} {
			if step*k >= v {
				return step * k
			}
		}
	}
}

// weeks writes the numbers of the weeks, and marks those that are easy and those that test.
func (d *chart) weeks() {
	bottom := d.y
	d.y += d.plain + 6
	number := d.y
	d.text(d.margin, number, d.small, "", "start", "week")
	below := 0.0
	for i, w := range d.cycle.Weeks {
		if !d.labelled(i, "00") {
			continue
		}
		d.text(d.middle(i), number, d.plain, "bold", "middle", fmt.Sprint(w.Week))
		at := number
		if _, iso, ok := strings.Cut(w.ISOWeek, "-"); ok && d.labelled(i, "W00") {
			at += d.small + 4
			d.text(d.middle(i), at, d.small, "", "middle", iso)
		}
		if w.Kind != "" {
			at += d.small + 4
			d.text(d.middle(i), at, d.small, "", "middle", w.Kind)
		}
		below = max(below, at-number)
	}
	d.y = number + below + 8
	for i, w := range d.cycle.Weeks {
		x := d.left + d.slot*float64(i) + 2
		switch w.Kind {
		case cycle.Easy:
			d.used[easyWeek] = true
			d.under.el("rect", "x", px(x), "y", px(d.top), "width", px(d.slot-4), "height", px(d.y-d.top), "fill", "none", "stroke", text, "stroke-width", "1.2", "stroke-dasharray", "5 3")
		case cycle.Test:
			d.used[testWeek] = true
			for _, at := range []float64{x, x + 3, x + d.slot - 7, x + d.slot - 4} {
				d.under.el("line", "x1", px(at), "y1", px(bottom-6), "x2", px(at), "y2", px(d.y), "stroke", text, "stroke-width", "1.2")
			}
		}
	}
	d.y += 4
}

// legend explains the forms that the picture uses.
func (d *chart) legend() {
	d.y += 10
	x := d.margin
	one := func(what, words string, sample func(x, y float64)) {
		if !d.used[what] {
			return
		}
		const box = 26.0
		wide := box + 8 + extent(words, d.small, false) + 20
		if x > d.margin && x+wide-20 > d.width-d.margin {
			x = d.margin
			d.y += d.small + 10
		}
		sample(x, d.y)
		d.text(x+box+8, d.y+11, d.small, "", "start", words)
		x += wide
	}
	for _, s := range stacks {
		one(s.fill, s.name, func(x, y float64) { d.stack(x, y, 26, 14, s.fill) })
	}
	one(easyWeek, "easy week", func(x, y float64) { d.empty(x, y, 26, 14, beyond) })
	one(testWeek, "test week", func(x, y float64) {
		for _, at := range []float64{x + 3, x + 6, x + 20, x + 23} {
			d.el("line", "x1", px(at), "y1", px(y), "x2", px(at), "y2", px(y+14), "stroke", text, "stroke-width", "1.2")
		}
	})
	d.y += d.small + 10
}

// feet say how the picture was reckoned.
func (c *Cycle) feet() []string {
	out := []string{"Distances and times are not in the stacks; the table of stint cycle has them. ~ marks an estimate."}
	if slices.ContainsFunc(c.Weeks, func(w *CycleWeek) bool { return w.Load != nil }) {
		out[0] += " In the session load, " + c.Rating + "."
	}
	return append(out, c.Caution)
}

// Says is the cycle in sentences, for whoever does not see the picture.
func (c *Cycle) Says() string {
	var out []string
	for _, w := range c.Weeks {
		out = append(out, w.sentence())
	}
	return strings.Join(append(out, c.Caution), " ")
}

// sentence says all of a week that the picture shows.
func (w *CycleWeek) sentence() string {
	text := fmt.Sprintf("Week %d", w.Week)
	if w.Kind != "" {
		text += ", " + w.Kind
	}
	of, all, estimate := w.repetitions()
	about := ""
	if estimate {
		about = "about "
	}
	text += fmt.Sprintf(": %d sessions, about %s minutes, %s%s repetitions", len(w.Days), w.Minutes.Says(), about, units.FormatNumber(math.Round(all)))
	var parts []string
	for i, n := range of {
		if n > 0 {
			parts = append(parts, units.FormatNumber(math.Round(n))+" "+stacks[i].name)
		}
	}
	if len(parts) > 0 {
		text += " (" + strings.Join(parts, ", ") + ")"
	}
	if w.Load != nil {
		text += fmt.Sprintf(", a session load of about %s", units.FormatNumber(math.Round(w.Load.Total)))
		if w.Load.Monotony != nil {
			text += fmt.Sprintf(" with a monotony of %.2f", *w.Load.Monotony)
		}
	}
	return text + "."
}

// done is the whole picture.
func (d *chart) done() string {
	title := "Weeks of " + d.cycle.Cycle
	var m markup
	w, h := px(d.width), px(math.Ceil(d.y))
	m.open("svg", "xmlns", "http://www.w3.org/2000/svg", "width", w, "height", h, "viewBox", "0 0 "+w+" "+h, "role", "img",
		"aria-labelledby", d.id+"-title "+d.id+"-desc", "font-family", family)
	m.leaf("title", title, "id", d.id+"-title")
	m.leaf("desc", d.cycle.Says(), "id", d.id+"-desc")
	m.open("defs")
	d.fills(&m)
	if d.used[dots] {
		m.open("pattern", "id", d.id+"-"+dots, "patternUnits", "userSpaceOnUse", "width", "7", "height", "7")
		m.el("rect", "width", "7", "height", "7", "fill", "#fff")
		m.el("circle", "cx", "3.5", "cy", "3.5", "r", "1.5", "fill", ink)
		m.close("pattern")
	}
	m.close("defs")
	m.el("rect", "width", w, "height", h, "fill", "#fff")
	m.WriteString(d.under.String())
	m.WriteString(d.String())
	m.close("svg")
	return m.String()
}
