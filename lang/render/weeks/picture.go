package weeks

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"stint.example/stint/lang/analysis/cycle"
	"stint.example/stint/lang/book"
	"stint.example/stint/lang/render/svg"
	"stint.example/stint/lang/units"
)

// stacks are what the repetitions of a week are drawn as, from the bottom up. The book has
// more patterns than can be told apart in grey.
var stacks = []struct {
	name string
	fill svg.Form
	has  func(book.Pattern) bool
}{
	{"squats and lunges", svg.Solid, func(p book.Pattern) bool { return p == book.Squat || p == book.Lunge }},
	{"hinges", svg.Light, cycle.Hinge},
	{"pushes", svg.Dense, cycle.Push},
	{"pulls", svg.Open, cycle.Pull},
	{"trunk and turns", svg.Dots, func(p book.Pattern) bool { return p == book.Trunk || p == book.Rotation }},
	{"jumps", svg.Mixed, func(p book.Pattern) bool { return p == book.Jump }},
}

// The marks of a week, beside the fills of the stacks.
const (
	easyWeek svg.Form = "easy"
	testWeek svg.Form = "test"
)

// A chart is the picture of a cycle in the making.
type chart struct {
	svg.Canvas
	cycle *Cycle
	slot  float64 // px a week
	top   float64 // of the plots
}

// SVG draws the cycle: a line for the load of its sessions, and under it a stack for each
// week, of what is done of each pattern. It stands by itself, needs no script and no style
// sheet, and reads in black and white.
func (c *Cycle) SVG(opt svg.Options) string {
	d := &chart{Canvas: svg.NewCanvas(opt, "cycle"), cycle: c}
	d.Left += 44 // the figures of the axis
	d.slot = (d.Right - d.Left) / float64(max(1, len(c.Weeks)))
	d.head()
	d.loads()
	d.volumes()
	d.weeks()
	d.legend()
	d.Y += 2
	d.Lines(d.Margin, d.Width-2*d.Margin, d.Small, c.feet()...)
	d.Y += d.Margin
	return d.Document("Weeks of "+c.Cycle, c.Description())
}

// middle is where a week lies.
func (d *chart) middle(i int) float64 { return d.Left + d.slot*(float64(i)+0.5) }

func (d *chart) head() {
	c := d.cycle
	below := []string{c.subtitle()}
	if c.Purpose != "" {
		below = append(below, c.Purpose)
	}
	d.Title(c.Cycle, below...)
	d.Y += 14
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

// line is what the line above the stacks shows, week by week; NaN where nothing is known of
// a week.
func (c *Cycle) line() (name string, values []float64) {
	rated := slices.ContainsFunc(c.Weeks, func(w *Week) bool { return w.Load != nil })
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
	d.Y += d.Small
	d.Type(d.Margin, d.Y, d.Small, svg.Start, name)
	d.top = d.Y + 6
	high := 0.0
	for _, v := range values {
		if !math.IsNaN(v) {
			high = max(high, v)
		}
	}
	if high == 0 {
		d.Y += 8
		return
	}
	const tall = 84.0
	base := d.Y + 28 + tall
	y := func(v float64) float64 { return base - tall*v/high }
	d.Line(d.Left, base, d.Right, base, svg.Text, 1, "")
	d.Type(d.Left-8, base+4, d.Small, svg.End, "0")
	var path []string
	pen := "M"
	for i, v := range values {
		if math.IsNaN(v) {
			pen = "M"
			continue
		}
		path = append(path, pen+svg.PathData("%s %s", d.middle(i), y(v)))
		pen = "L"
	}
	d.Path(strings.Join(path, " "), svg.Ink, 2, "")
	for i, v := range values {
		if math.IsNaN(v) {
			continue
		}
		d.Element("circle", "cx", svg.Px(d.middle(i)), "cy", svg.Px(y(v)), "r", "4",
			"fill", svg.Ground, "stroke", svg.Ink, "stroke-width", "2")
		if d.labelled(i, "0000") {
			d.Type(d.middle(i), y(v)-10, d.Small, svg.Middle, units.FormatNumber(math.Round(v)))
		}
	}
	d.Y = base + 16
}

// labelled reports whether week i has a label. Where the slots are narrower than the widest
// label, only every second, third, ... week has one.
func (d *chart) labelled(i int, widest string) bool {
	every := int(math.Ceil((svg.TextWidth(widest, d.Small) + 4) / d.slot))
	return i%max(1, every) == 0
}

// repetitions are what each stack of a week has, and all of them together.
func (w *Week) repetitions() (of []float64, all float64, estimate bool) {
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
	d.Y += d.Small + 6
	d.Type(d.Margin, d.Y, d.Small, svg.Start, "repetitions, by pattern")
	high := 0.0
	for _, w := range d.cycle.Weeks {
		_, all, _ := w.repetitions()
		high = max(high, all)
	}
	tall := 280.0
	if d.Narrow {
		tall = 220
	}
	base := d.Y + 26 + tall
	step := roundUp(high / 4)
	y := func(v float64) float64 { return base - tall*v/max(high, 1) }
	for v := 0.0; v <= high; v += step {
		colour := svg.Faint
		if v == 0 {
			colour = svg.Text
		}
		d.Under.Line(d.Left, y(v), d.Right, y(v), colour, 1, "")
		d.Type(d.Left-8, y(v)+4, d.Small, svg.End, units.FormatNumber(v))
	}
	width := min(72, d.slot*0.62)
	for i, w := range d.cycle.Weeks {
		of, all, estimate := w.repetitions()
		x := d.middle(i) - width/2
		d.Open("g")
		d.Leaf("title", w.sentence())
		at := 0.0
		for k, n := range of {
			if n <= 0 {
				continue
			}
			d.Used[stacks[k].fill] = true
			d.Rect(x, y(at+n), width, y(at)-y(at+n), stacks[k].fill)
			at += n
		}
		d.Close("g")
		label := units.FormatNumber(math.Round(all))
		if estimate {
			label = "~" + label
		}
		if all > 0 && d.labelled(i, "~000") {
			d.Type(d.middle(i), y(all)-6, d.Small, svg.Middle, label)
		}
	}
	d.Y = base
}

// roundUp is the smallest round step of an axis that is no less than v.
func roundUp(v float64) float64 {
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
	bottom := d.Y
	d.Y += d.Body + 6
	number := d.Y
	d.Type(d.Margin, number, d.Small, svg.Start, "week")
	below := 0.0
	for i, w := range d.cycle.Weeks {
		if !d.labelled(i, "00") {
			continue
		}
		d.Bold(d.middle(i), number, d.Body, svg.Middle, fmt.Sprint(w.Week))
		at := number
		if _, iso, ok := strings.Cut(w.ISOWeek, "-"); ok && d.labelled(i, "W00") {
			at += d.Small + 4
			d.Type(d.middle(i), at, d.Small, svg.Middle, iso)
		}
		if w.Kind != "" {
			at += d.Small + 4
			d.Type(d.middle(i), at, d.Small, svg.Middle, w.Kind)
		}
		below = max(below, at-number)
	}
	d.Y = number + below + 8
	for i, w := range d.cycle.Weeks {
		x := d.Left + d.slot*float64(i) + 2
		switch w.Kind {
		case cycle.Easy:
			d.Used[easyWeek] = true
			d.Under.Element("rect", "x", svg.Px(x), "y", svg.Px(d.top),
				"width", svg.Px(d.slot-4), "height", svg.Px(d.Y-d.top),
				"fill", "none", "stroke", svg.Text, "stroke-width", "1.2", "stroke-dasharray", "5 3")
		case cycle.Test:
			d.Used[testWeek] = true
			for _, at := range []float64{x, x + 3, x + d.slot - 7, x + d.slot - 4} {
				d.Under.Line(at, bottom-6, at, d.Y, svg.Text, 1.2, "")
			}
		}
	}
	d.Y += 4
}

// legend explains the forms that the picture uses.
func (d *chart) legend() {
	d.Y += 10
	var entries []svg.Entry
	for _, s := range stacks {
		entries = append(entries, svg.Entry{Form: s.fill, Words: s.name})
	}
	d.Legend(append(entries,
		svg.Entry{Form: easyWeek, Words: "easy week", Sample: func(x, y float64) {
			d.Rect(x, y, svg.SampleWidth, svg.SampleHeight, svg.Dashed)
		}},
		svg.Entry{Form: testWeek, Words: "test week", Sample: func(x, y float64) {
			for _, at := range []float64{x + 3, x + 6, x + 20, x + 23} {
				d.Line(at, y, at, y+svg.SampleHeight, svg.Text, 1.2, "")
			}
		}}))
	d.Y += 10
}

// feet explain how the figures were calculated.
func (c *Cycle) feet() []string {
	out := []string{"Distances and times are not in the stacks; the table of stint cycle has them. ~ marks an estimate."}
	if slices.ContainsFunc(c.Weeks, func(w *Week) bool { return w.Load != nil }) {
		out[0] += " In the session load, " + c.Rating + "."
	}
	return append(out, c.Caution)
}

// Description is the cycle in sentences, for whoever does not see the picture.
func (c *Cycle) Description() string {
	var out []string
	for _, w := range c.Weeks {
		out = append(out, w.sentence())
	}
	return strings.Join(append(out, c.Caution), " ")
}

// sentence says all of a week that the picture shows.
func (w *Week) sentence() string {
	text := fmt.Sprintf("Week %d", w.Week)
	if w.Kind != "" {
		text += ", " + w.Kind
	}
	of, all, estimate := w.repetitions()
	about := ""
	if estimate {
		about = "about "
	}
	text += fmt.Sprintf(": %d sessions, about %s minutes, %s%s repetitions",
		len(w.Days), w.Minutes.Text(), about, units.FormatNumber(math.Round(all)))
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
