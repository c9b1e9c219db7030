package timeline

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/render/svg"
	"stint.example/stint/lang/units"
)

// SVG draws the timeline: a lane for each part, a bar where there is work, a gap where there
// is rest. It stands by itself, needs no script and no style sheet, and reads in black and
// white.
func (c *Clock) SVG(opt svg.Options) string {
	d := newDrawing(c, opt)
	d.head()
	d.axis()
	for i := range c.Parts {
		d.lane(i)
	}
	d.Under.Line(d.Margin, d.Y, d.Right, d.Y, svg.Text, 1, "")
	d.legend()
	d.foot()
	return d.Document("Timeline of "+c.Title(), c.Description())
}

// A drawing is the picture of a timeline in the making.
type drawing struct {
	svg.Canvas
	clock *Clock

	names     float64 // width of the column of names; 0 where they stand above their bars
	end       float64 // of the axis, in s since the session began
	zero      float64 // when the clock shows 0:00, in s since the session began
	restarted bool    // the clock is started more than once
	top       float64 // of the lanes

	ticks []float64 // x of each mark on the axis
}

// The forms of a timeline, beside the fills.
const (
	gap      svg.Form = "gap"
	next     svg.Form = "next"
	pinned   svg.Form = "pinned"
	capMark  svg.Form = "cap"
	unproven svg.Form = "unproven"
	length   svg.Form = "length"
)

const (
	barHeight   = 20.0
	narrowest   = 0.3 // px: a stretch of a bar that is narrower is not drawn
	epsilon     = 1e-6
	unprovenGap = 24.0 // px that the marks of an unproven end take
)

func newDrawing(c *Clock, opt svg.Options) *drawing {
	d := &drawing{Canvas: svg.NewCanvas(opt, "clock"), clock: c}
	if !d.Narrow {
		d.names = 236
		d.Left += d.names
	}
	d.end = c.Length.Taken
	if c.Length.Stated != nil {
		d.end = max(d.end, *c.Length.Stated)
	}
	for _, p := range c.Parts {
		d.end = max(d.end, p.Began+p.longest(), p.Began+p.Room, p.Began+p.lastStart()+min(p.Work.Slow, 2*p.Cap))
	}
	d.end = max(d.end, 60)
	if n := len(c.Parts); n > 0 { // a clock that is started twice shows one time twice
		d.zero = c.Parts[n-1].Began - c.Parts[n-1].Start
		for _, p := range c.Parts {
			d.restarted = d.restarted || math.Abs(p.Began-p.Start-d.zero) > 0.5
		}
		if d.restarted {
			d.zero = 0
		}
	}
	return d
}

// longest is how long the last of the three levels is at work, in s.
func (p *Part) longest() float64 { return max(p.Cut.Fast, p.Cut.Typical, p.Cut.Slow) }

// x is where a time lies, in px.
func (d *drawing) x(s float64) float64 { return d.Left + (d.Right-d.Left)*s/d.end }

func (d *drawing) head() {
	c := d.clock
	sub := "as written"
	if c.Scaling != "" {
		sub = "version " + c.Scaling
	}
	if c.Class > 0 {
		sub += ", class of " + fmt.Sprint(c.Class)
	}
	d.Title(c.Session, sub+". Length "+c.Length.Text()+".")
	d.Y += 10
}

// axis draws the minutes.
func (d *drawing) axis() {
	words := "minutes on the clock"
	if d.restarted {
		words = "minutes since the session began"
	}
	d.Y += d.Small
	d.Type(d.Left, d.Y, d.Small, svg.Start, words)
	if s := d.clock.Length.Stated; s != nil { // over its line, or as near as the frame lets it
		d.Used[length] = true
		label := units.FormatClock(*s) + " stated"
		half := svg.TextWidth(label, d.Small) / 2
		x := max(d.Left+half, min(d.x(*s), d.Right-half))
		if x-half < d.Left+svg.TextWidth(words, d.Small)+8 {
			d.Y += d.Small + 4
		}
		d.Type(x, d.Y, d.Small, svg.Middle, label)
	}
	d.Y += d.Small + 6
	d.top = d.Y + 6
	step := d.minutesPerTick()
	for m := math.Ceil(-d.zero / 60 / step); m*step*60+d.zero <= d.end+epsilon; m++ {
		x := d.x(m*step*60 + d.zero)
		d.ticks = append(d.ticks, x)
		d.Under.Line(x, d.top, x, d.top+5, svg.Text, 1, "")
		label := strings.Replace(units.FormatNumber(m*step), "-", "−", 1)
		half := svg.TextWidth(label, d.Small) / 2
		if x-half >= d.Left-d.Margin/2 && x+half <= d.Right+d.Margin/2 {
			d.Type(x, d.Y, d.Small, svg.Middle, label)
		}
	}
	d.Under.Line(d.Left, d.top, d.Right, d.top, svg.Text, 1, "")
	d.stated(d.top-4, d.top+5)
	d.Y = d.top
}

// minutesPerTick is the shortest round step that leaves room for the labels.
func (d *drawing) minutesPerTick() float64 {
	const room = 38 // px a label
	perMinute := (d.Right - d.Left) / d.end * 60
	for _, step := range []float64{1, 2, 5, 10, 15, 30, 60} {
		if step*perMinute >= room {
			return step
		}
	}
	return 120
}

// lane draws a part.
func (d *drawing) lane(i int) {
	p := d.clock.Parts[i]
	if i > 0 {
		d.Under.Line(d.Margin, d.Y, d.Right, d.Y, svg.Faint, 1, "")
	}
	d.Open("g")
	d.Leaf("title", strings.Join(p.sentences(), ". ")+".")
	name := p.Name
	if p.Pinned {
		name += " at " + p.StartText()
	} else if !p.Settled {
		name += ", " + p.StartText()
	}
	start := d.Y
	d.Y += d.Body + 6
	d.Bold(d.Margin, d.Y, d.Body, svg.Start, name)
	beside := d.Y
	d.Y += 3
	if d.Narrow {
		d.Lines(d.Margin, d.Width-2*d.Margin, d.Small, p.How, "takes "+p.WorkText())
	} else {
		d.Lines(d.Margin, d.names-16, d.Small, p.How, "takes "+p.WorkText())
		beside, d.Y = d.Y, start
	}
	d.Y += 16
	if p.Cap > 0 { // its words stand above the bar
		d.Y += 10
	}
	bar := d.Y
	for _, x := range d.ticks {
		d.Under.Line(x, bar-5, x, bar+barHeight+5, svg.Faint, 1, "")
	}
	d.stated(bar-5, bar+barHeight+5)
	d.bar(i, bar)
	d.Y += barHeight + 6
	d.Lines(d.Left, d.Right-d.Left, d.Small, d.remarks(i)...)
	d.Y = max(d.Y, beside) + 12
	d.Close("g")
}

// remarks are the sentences under a bar.
func (d *drawing) remarks(i int) []string {
	p := d.clock.Parts[i]
	var out []string
	if p.Left != nil && *p.Left != (Levels{}) && p.Proven && p.Settled && i+1 < len(d.clock.Parts) {
		out = append(out, "rest left before "+d.clock.Parts[i+1].Name+": "+p.LeftText())
	}
	return append(out, p.Remarks()...)
}

// bar draws what a part takes, its cap and its rest.
func (d *drawing) bar(i int, y float64) {
	p := d.clock.Parts[i]
	if !d.turns(p, y) {
		d.work(p, y)
	}
	if !p.Proven {
		d.Used[unproven] = true
		x := d.x(p.Began + p.lastStart() + p.longest())
		for k := range 3 {
			d.Path(svg.PathData("M%s %s l5 %s l-5 %s", x+3+6*float64(k), y+2, barHeight/2-2, barHeight/2-2), svg.Text, 1.6, "")
		}
	}
	if p.Cap > 0 {
		d.cap(p, y)
	}
	d.begins(p, y)
	if i+1 < len(d.clock.Parts) {
		then := d.clock.Parts[i+1]
		d.gap(p, then, y)
		if then.Pinned {
			d.Used[next] = true
			x := d.x(then.Began)
			d.Line(x, y-6, x, y+barHeight+6, svg.Text, 1.5, "5 3")
		}
	}
}

// work draws the work of a part as one bar in three pieces: until the fast are done, the
// typical, the slow. Heats are bars one below the other.
func (d *drawing) work(p *Part, y float64) {
	if p.Heats != nil {
		d.heats(p, y)
		return
	}
	ends := []float64{p.Cut.Fast, p.Cut.Typical, p.Cut.Slow}
	slices.Sort(ends) // where counts are open, the fast may work longest
	first := svg.Solid
	switch {
	case p.Needs != nil: // the window, and what the work takes of it
		whole := ends[2]
		d.stretch(p.Began, p.Began+whole, y, svg.Open)
		ends = []float64{min(p.Needs.Fast, whole), min(p.Needs.Typical, whole), min(p.Needs.Slow, whole)}
		if inside(p.of.Group.Steps) {
			first = svg.Mixed
		}
	case p.rests():
		first = svg.Mixed
	}
	at := p.Began
	for k, fill := range []svg.Form{first, svg.Dense, svg.Light} {
		d.stretch(at, p.Began+ends[k], y, fill)
		at = p.Began + ends[k]
	}
}

// heats draws each heat as a bar of its own, from its own start.
func (d *drawing) heats(p *Part, y float64) {
	ends := []float64{p.Cut.Fast, p.Cut.Typical, p.Cut.Slow}
	slices.Sort(ends)
	height := barHeight / float64(len(p.Heats.Starts))
	for i, start := range p.Heats.Starts {
		at := p.Began + start
		from := at
		for k, fill := range []svg.Form{svg.Solid, svg.Dense, svg.Light} {
			d.strip(from, at+ends[k], y+float64(i)*height, max(1, height-1), fill)
			from = at + ends[k]
		}
	}
}

// begins marks a start: a thick line, and an arrow where the clock gives it.
func (d *drawing) begins(p *Part, y float64) {
	x := d.x(p.Began)
	d.Line(x, y-4, x, y+barHeight, svg.Text, 2, "")
	if p.Pinned {
		d.Used[pinned] = true
		d.arrow(x, y-1)
	}
}

// arrow draws a triangle that points down at a place.
func (d *drawing) arrow(x, y float64) {
	d.Element("path", "d", svg.PathData("M%s %s l-5 -8 h10 z", x, y), "fill", svg.Text)
}

// cap marks a cap, and the work that it cuts off.
func (d *drawing) cap(p *Part, y float64) {
	began := p.Began + p.lastStart()
	at := began + p.Cap
	if p.Work.Slow > p.Cap+0.5 {
		d.stretch(at, began+min(p.Work.Slow, d.end-began), y, svg.Dashed)
	}
	d.Used[capMark] = true
	x := d.x(at)
	d.Path(svg.PathData("M%s %s h-5 M%s %s v%s m0 0 h-5", x, y-4, x, y-4, barHeight+8), svg.Text, 3, "")
	label := "cap " + units.FormatClock(p.Cap)
	width := svg.TextWidth(label, d.Small)
	left := min(max(x-width/2, d.Left), d.Right-width)
	if p.Pinned { // not over the mark of the start
		left = min(max(left, d.x(p.Began)+8), d.Right-width)
	}
	d.Type(left, y-8, d.Small, svg.Start, label)
}

// gap draws the rest until the next part.
func (d *drawing) gap(p, then *Part, y float64) {
	from := p.Began + p.lastStart() + p.longest()
	if !p.Proven {
		from += unprovenGap / (d.Right - d.Left) * d.end
	}
	a, b := d.x(from)+2, d.x(then.Began)
	if b-a < 4 {
		return
	}
	d.Used[gap] = true
	d.Path(svg.PathData("M%s %s H%s", a, y+barHeight/2, b), svg.Text, 1.5, "1.5 3")
}

// turns draws the turns that a clock starts, where each is wide enough to see, and reports
// whether it did. Every turn is drawn as long as the longest.
func (d *drawing) turns(p *Part, y float64) bool {
	t, ok := d.turnsOf(p)
	if !ok {
		return false
	}
	d.stretch(p.Began, p.Began+p.Work.Typical, y, svg.Open)
	for i := range t.n {
		took, found := t.took(p, i)
		if !found {
			continue
		}
		at := p.Began + float64(i)*(t.length+t.off)
		from := at
		for k, fill := range []svg.Form{svg.Solid, svg.Dense, svg.Light} {
			end := at + min(took.At(k), t.length)
			d.stretch(from, end, y, fill)
			from = max(from, end)
		}
		if i > 0 {
			x := d.x(at)
			d.Line(x, y-2, x, y+barHeight+2, svg.Text, 1, "")
		}
	}
	return true
}

// clockedTurns are the turns of a part whose clock is even from its start to its end.
type clockedTurns struct {
	n           int
	length, off float64        // s of a turn, and between turns
	windows     bool           // all of a turn is work
	slots       []*model.Group // that take turns; none where all turns are the same
}

// turnsOf reads the turns of a part, where they can be drawn.
func (d *drawing) turnsOf(p *Part) (t clockedTurns, ok bool) {
	g := p.of.Group
	r := g.Repeat
	n, ok := r.Count.One()
	if !ok || !r.Clocked() || r.Until != nil || p.Cap > 0 || n < 1 {
		return t, false
	}
	for _, s := range g.Steps {
		if slot, ok := s.(*model.Group); ok && slot.IsSlot() {
			t.slots = append(t.slots, slot)
		}
	}
	least := 16.0 // px a turn
	t.length, ok = r.Interval.One()
	if r.Kind == model.On {
		t.windows, least = true, 8
		t.length, ok = r.On.One()
		t.off, _ = r.Off.One()
	}
	if r.Laps {
		n *= float64(max(1, len(t.slots)))
	}
	t.n = int(n)
	// Rests between rounds, and what stands beside the turns, would put them elsewhere.
	whole := n * (t.length + t.off)
	even := math.Abs(whole-p.Work.Typical) <= 1 || math.Abs(whole-t.off-p.Work.Typical) <= 1
	return t, ok && even && d.x(t.length+t.off)-d.x(0) >= least
}

// took is how long turn i takes the three levels, in s.
func (t clockedTurns) took(p *Part, i int) (took Levels, ok bool) {
	if t.windows {
		return Levels{t.length, t.length, t.length}, true
	}
	if len(t.slots) > 0 {
		slot, ok := p.of.GroupOf(t.slots[i%len(t.slots)])
		return levels(slot.Took), ok
	}
	g, ok := p.of.GroupOf(p.of.Group)
	return levels(estimate.Times{Fast: g.Turns[0].Took, Typical: g.Turns[1].Took, Slow: g.Turns[2].Took}), ok
}

// stretch draws a piece of a bar, from one time to another.
func (d *drawing) stretch(from, to, y float64, fill svg.Form) {
	d.strip(from, to, y, barHeight, fill)
}

// strip draws a stretch of some height, in px.
func (d *drawing) strip(from, to, y, height float64, fill svg.Form) {
	a, b := d.x(from), d.x(to)
	if b-a < narrowest {
		return
	}
	d.Used[fill] = true
	d.Rect(a, y, b-a, height, fill)
}

// stated draws a piece of the line of the stated length. It stands beside the bars only, so that it goes
// through no words.
func (d *drawing) stated(from, to float64) {
	if s := d.clock.Length.Stated; s != nil {
		x := d.x(*s)
		for _, at := range []float64{x - 2, x + 1} {
			d.Under.Line(at, from, at, to, svg.Text, 1.2, "")
		}
	}
}

// legend explains the forms that the picture uses.
func (d *drawing) legend() {
	d.Y += 12
	// A sample is drawn by the data of a path whose only lengths are its start.
	line := func(dx, dy float64, rest string, width float64, dash string) func(x, y float64) {
		return func(x, y float64) { d.Path(svg.PathData("M%s %s "+rest, x+dx, y+dy), svg.Text, width, dash) }
	}
	d.Legend([]svg.Entry{
		{Form: svg.Solid, Words: "work, all are at it"},
		{Form: svg.Mixed, Words: "work with rests in it"},
		{Form: svg.Dense, Words: "from when the fast are done to the typical"},
		{Form: svg.Light, Words: "from the typical to the slow"},
		{Form: svg.Open, Words: "rest inside its time"},
		{Form: svg.Dashed, Words: "cut off by the cap"},
		{Form: gap, Words: "rest until the next part", Sample: line(0, 7, "h26", 1.5, "1.5 3")},
		{Form: pinned, Words: "start by the clock", Sample: func(x, y float64) {
			line(13, 0, "v15", 2, "")(x, y)
			d.arrow(x+13, y+8)
		}},
		{Form: next, Words: "start of the next part", Sample: line(13, -1, "v16", 1.5, "5 3")},
		{Form: capMark, Words: "cap", Sample: func(x, y float64) {
			d.Path(svg.PathData("M%s %s h-5 M%s %s v14 h-5", x+15, y, x+15, y), svg.Text, 3, "")
		}},
		{Form: unproven, Words: "not proven: it may go on", Sample: func(x, y float64) {
			for k := range 3 {
				line(4+6*float64(k), 2, "l5 5 l-5 5", 1.6, "")(x, y)
			}
		}},
		{Form: length, Words: "stated length", Sample: line(12, 0, "v15 m3 0 v-15", 1.2, "")},
	})
	d.Y += 14
}

func (d *drawing) foot() {
	d.Lines(d.Margin, d.Width-2*d.Margin, d.Small, "Three times are for a fast, a typical and a slow member. "+Caution)
	d.Y += d.Margin
}

// Description is the timeline in sentences, for whoever does not see the picture.
func (c *Clock) Description() string {
	out := []string{"Length " + c.Length.Text()}
	for _, p := range c.Parts {
		out = append(out, p.sentences()...)
	}
	return strings.Join(out, ". ") + ". " + Caution
}

// sentences say all of a part, each without its full stop.
func (p *Part) sentences() []string {
	first := p.Name
	if p.How != "" {
		first += ", " + p.How + ","
	}
	at := "at " + p.StartText()
	if !p.Settled {
		at = p.StartText()
	}
	first += " starts " + at + " and takes " + p.WorkText()
	out := []string{first}
	if p.Left != nil {
		out = append(out, "Rest left: "+p.LeftText())
	}
	return append(out, p.Remarks()...)
}
