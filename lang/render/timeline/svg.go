package timeline

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/units"
)

// How wide pictures are, in pixels.
const (
	Phone     = 360
	Desktop   = 1200
	Narrowest = 320
	Widest    = 2400
)

// A Picture says how a timeline is drawn.
type Picture struct {
	Width int // Desktop unless told
	// ID tells this picture's own names from those of others on one page; clock unless told.
	ID string
}

// The picture is one dark ink on white, and everything in it is told apart by its form: a
// full bar, two hatches, stripes, lines that are thin, thick, dashed or dotted.
const (
	ink   = "#17324d"
	text  = "#1a1a1a"
	faint = "#c9ced6"
)

// SVG draws the timeline: a lane a part, a bar where there is work, a gap where there is
// rest. It stands by itself, needs no script and no style sheet, and reads in black and
// white.
func (c *Clock) SVG(p Picture) string {
	if p.Width == 0 {
		p.Width = Desktop
	}
	p.Width = min(max(p.Width, Narrowest), Widest)
	if p.ID == "" {
		p.ID = "clock"
	}
	d := &drawing{clock: c, id: p.ID, width: float64(p.Width), used: map[string]bool{}}
	d.layout()
	d.head()
	d.axis()
	for i := range c.Parts {
		d.lane(i)
	}
	d.grid()
	d.legend()
	d.foot()
	return d.done()
}

// A drawing is a picture in the making.
type drawing struct {
	markup
	under markup // what lies below all else
	clock *Clock
	id    string
	width float64

	narrow       bool
	margin       float64
	names        float64 // how wide the column of names is; 0 where they stand above their bars
	left, right  float64 // the axis, in px
	from, to     float64 // the same in s since the session began
	zero         float64 // when the clock shows 0:00
	twice        bool    // the clock is started more than once
	y            float64 // how far down it is drawn
	top          float64 // where the lanes begin
	small, plain float64 // sizes of type

	ticks []float64       // where the minutes of the axis lie
	bars  []float64       // where the bar of each lane lies
	used  map[string]bool // what the legend has to explain
}

// What the legend explains, in its order.
const (
	allWork  = "work"
	toTyp    = "dense"
	toSlow   = "light"
	mixed    = "mixed"
	slack    = "slack"
	beyond   = "beyond"
	gap      = "gap"
	next     = "next"
	pinned   = "pinned"
	capMark  = "cap"
	unproven = "unproven"
	length   = "length"
)

const (
	barHeight = 20
	second    = 1e-6
)

func (d *drawing) layout() {
	d.narrow = d.width < 700
	d.margin, d.small, d.plain = 24, 13, 15
	if d.narrow {
		d.margin, d.small, d.plain = 12, 12, 14
	} else {
		d.names = 236
	}
	d.left, d.right = d.margin+d.names, d.width-d.margin
	c := d.clock
	d.to = c.Length.Taken
	if c.Length.Stated != nil {
		d.to = max(d.to, *c.Length.Stated)
	}
	for _, p := range c.Parts {
		d.to = max(d.to, p.Began+max(p.Cut.Fast, p.Cut.Typical, p.Cut.Slow), p.Began+p.Room, p.Began+min(p.Work.Slow, 2*p.Cap))
	}
	d.to = max(d.to, 60)
	if n := len(c.Parts); n > 0 { // a clock that is started twice shows one time twice
		d.zero = c.Parts[n-1].Began - c.Parts[n-1].Start
		for _, p := range c.Parts {
			d.twice = d.twice || math.Abs(p.Began-p.Start-d.zero) > 0.5
		}
		if d.twice {
			d.zero = 0
		}
	}
}

// x is where a time lies.
func (d *drawing) x(s float64) float64 {
	return d.left + (d.right-d.left)*(s-d.from)/(d.to-d.from)
}

func (d *drawing) head() {
	c := d.clock
	d.y = d.margin + 20
	d.text(d.margin, d.y, 22, "bold", "start", c.Session)
	sub := "as written"
	if c.Scaling != "" {
		sub = "version " + c.Scaling
	}
	if c.Class > 0 {
		sub += ", class of " + fmt.Sprint(c.Class)
	}
	d.y += 4
	d.lines(d.margin, d.width-2*d.margin, d.plain, sub+". Length "+c.Length.Says()+".")
	d.y += 10
}

// axis draws the minutes.
func (d *drawing) axis() {
	words := "minutes on the clock"
	if d.twice {
		words = "minutes since the session began"
	}
	d.y += d.small
	d.text(d.left, d.y, d.small, "", "start", words)
	if s := d.clock.Length.Stated; s != nil {
		d.used[length] = true
		d.text(d.right, d.y, d.small, "", "end", units.FormatClock(*s)+" stated")
	}
	d.y += d.small + 6
	perMinute := (d.right - d.left) / (d.to - d.from) * 60
	step := 120.0
	for _, s := range []float64{1, 2, 5, 10, 15, 30, 60} {
		if s*perMinute >= 38 {
			step = s
			break
		}
	}
	d.top = d.y + 6
	for m := math.Ceil((d.from - d.zero) / 60 / step); m*step*60+d.zero <= d.to+second; m++ {
		x := d.x(m*step*60 + d.zero)
		d.ticks = append(d.ticks, x)
		d.under.el("line", "x1", px(x), "y1", px(d.top), "x2", px(x), "y2", px(d.top+5), "stroke", text, "stroke-width", "1")
		label := strings.Replace(units.FormatNumber(m*step), "-", "−", 1)
		if half := extent(label, d.small, false) / 2; x-half >= d.left-d.margin/2 && x+half <= d.right+d.margin/2 {
			d.text(x, d.y, d.small, "", "middle", label)
		}
	}
	d.under.el("line", "x1", px(d.left), "y1", px(d.top), "x2", px(d.right), "y2", px(d.top), "stroke", text, "stroke-width", "1")
	d.y = d.top
}

// lane draws a part.
func (d *drawing) lane(i int) {
	p := d.clock.Parts[i]
	if i > 0 {
		d.under.el("line", "x1", px(d.margin), "y1", px(d.y), "x2", px(d.right), "y2", px(d.y), "stroke", faint, "stroke-width", "1")
	}
	d.open("g")
	d.leaf("title", strings.Join(p.sentences(), ". ")+".")
	name := p.Name
	if p.Pinned {
		name += " at " + p.StartSays()
	} else if !p.Settled {
		name += ", " + p.StartSays()
	}
	start := d.y
	d.y += d.plain + 6
	d.text(d.margin, d.y, d.plain, "bold", "start", name)
	beside := d.y
	d.y += 3
	if d.narrow {
		d.lines(d.margin, d.width-2*d.margin, d.small, p.How, "takes "+p.WorkSays())
	} else {
		d.lines(d.margin, d.names-16, d.small, p.How, "takes "+p.WorkSays())
		beside, d.y = d.y, start
	}
	d.y += 16
	if p.Cap > 0 { // its words stand above the bar
		d.y += 10
	}
	bar := d.y
	d.bars = append(d.bars, bar)
	for _, x := range d.ticks {
		d.under.el("line", "x1", px(x), "y1", px(bar-5), "x2", px(x), "y2", px(bar+barHeight+5), "stroke", faint, "stroke-width", "1")
	}
	d.bar(i, bar)
	d.y += barHeight + 6
	d.lines(d.left, d.right-d.left-8, d.small, d.remarks(i)...) // clear of the line of the stated length
	d.y = max(d.y, beside) + 12
	d.close("g")
}

// remarks are the sentences under a bar.
func (d *drawing) remarks(i int) []string {
	p := d.clock.Parts[i]
	var out []string
	if p.Left != nil && *p.Left != (Levels{}) && p.Proven && p.Settled && i+1 < len(d.clock.Parts) {
		out = append(out, "rest left before "+d.clock.Parts[i+1].Name+": "+p.LeftSays())
	}
	return append(out, p.Says()...)
}

// bar draws what a part takes, its cap and its rest.
func (d *drawing) bar(i int, y float64) {
	p := d.clock.Parts[i]
	ends := []float64{p.Cut.Fast, p.Cut.Typical, p.Cut.Slow}
	slices.Sort(ends) // of what the quick are at longest
	whole := ends[2]
	solid := allWork
	switch {
	case d.turns(p, y):
		ends = nil
	case p.Needs != nil: // the window, and what the work takes of it
		d.frame(p.Began, p.Began+whole, y, slack)
		ends = []float64{min(p.Needs.Fast, whole), min(p.Needs.Typical, whole), min(p.Needs.Slow, whole)}
		if inside(p.of.Group.Steps) {
			solid = mixed
		}
	case p.rests():
		solid = mixed
	}
	if ends != nil {
		at := p.Began
		for k, fill := range []string{solid, toTyp, toSlow} {
			d.block(at, p.Began+ends[k], y, barHeight, fill)
			at = p.Began + ends[k]
		}
	}
	if !p.Proven {
		d.used[unproven] = true
		x := d.x(p.Began + whole)
		for k := range 3 {
			at := x + 3 + 6*float64(k)
			d.el("path", "d", fmt.Sprintf("M%s %s l5 %s l-5 %s", px(at), px(y+2), px(barHeight/2-2), px(barHeight/2-2)), "fill", "none", "stroke", text, "stroke-width", "1.6")
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
			d.used[next] = true
			x := d.x(then.Began)
			d.el("line", "x1", px(x), "y1", px(y-6), "x2", px(x), "y2", px(y+barHeight+6), "stroke", text, "stroke-width", "1.5", "stroke-dasharray", "5 3")
		}
	}
}

// begins marks a start: a thick line, with a foot where the clock gives it.
func (d *drawing) begins(p *Part, y float64) {
	x := d.x(p.Began)
	d.el("line", "x1", px(x), "y1", px(y-4), "x2", px(x), "y2", px(y+barHeight), "stroke", text, "stroke-width", "2")
	if p.Pinned {
		d.used[pinned] = true
		d.el("path", "d", fmt.Sprintf("M%s %s l-5 -8 h10 z", px(x), px(y-1)), "fill", text)
	}
}

// cap marks a cap, and what would go on behind it.
func (d *drawing) cap(p *Part, y float64) {
	at := p.Began + p.Cap
	if p.Work.Slow > p.Cap+0.5 {
		d.frame(at, p.Began+min(p.Work.Slow, d.to-p.Began), y, beyond)
	}
	d.used[capMark] = true
	x := d.x(at)
	d.el("path", "d", fmt.Sprintf("M%s %s h-5 M%s %s v%s m0 0 h-5", px(x), px(y-4), px(x), px(y-4), px(barHeight+8)), "fill", "none", "stroke", text, "stroke-width", "3")
	label := "cap " + units.FormatClock(p.Cap)
	wide := extent(label, d.small, false)
	left := min(max(x-wide/2, d.left), d.right-wide)
	if p.Pinned { // not over the mark of the start
		left = min(max(left, d.x(p.Began)+8), d.right-wide)
	}
	d.text(left, y-8, d.small, "", "start", label)
}

// gap draws the rest until the next part.
func (d *drawing) gap(p, then *Part, y float64) {
	from := p.Began + max(p.Cut.Fast, p.Cut.Typical, p.Cut.Slow)
	if !p.Proven {
		from += 24 / (d.right - d.left) * (d.to - d.from)
	}
	a, b := d.x(from)+2, d.x(then.Began)
	if b-a < 4 {
		return
	}
	d.used[gap] = true
	mid := y + barHeight/2
	d.el("path", "d", fmt.Sprintf("M%s %s H%s", px(a), px(mid), px(b)), "fill", "none", "stroke", text, "stroke-width", "1.5", "stroke-dasharray", "1.5 3")
}

// turns draws the turns that a clock starts, where each is wide enough to see. They are
// drawn as long as the longest.
func (d *drawing) turns(p *Part, y float64) bool {
	g := p.of.Group
	r := g.Repeat
	n, ok := r.Count.One()
	if !ok || !r.Clocked() || r.Until != nil || p.Cap > 0 || n < 1 {
		return false
	}
	var slots []*model.Group
	for _, s := range g.Steps {
		if k, ok := s.(*model.Group); ok && k.IsSlot() {
			slots = append(slots, k)
		}
	}
	length, ok := r.Interval.One()
	off := 0.0
	if r.Kind == model.On {
		length, ok = r.On.One()
		off, _ = r.Off.One()
	}
	turns := n
	if r.Laps {
		turns *= float64(max(1, len(slots)))
	}
	// Rests between laps, or what stands beside the turns, put them elsewhere.
	if !ok || math.Abs(turns*(length+off)-p.Work.Typical) > 1 && math.Abs(turns*(length+off)-off-p.Work.Typical) > 1 {
		return false
	}
	narrowest := 8.0 // of a window and its rest; bands need more
	if r.Kind == model.Every {
		narrowest = 16
	}
	if d.x(length+off)-d.x(0) < narrowest {
		return false
	}
	d.frame(p.Began, p.Began+p.Work.Typical, y, slack)
	for i := range int(turns) {
		at := p.Began + float64(i)*(length+off)
		took := Levels{length, length, length} // a window is all work
		if r.Kind == model.Every {
			of := g
			if len(slots) > 0 {
				of = slots[i%len(slots)]
			}
			t, found := p.of.GroupOf(of)
			if !found {
				continue
			}
			took = levels(t.Took)
			if of == g {
				took = levels(estimate.Times{Fast: t.Turns[0].Took, Typical: t.Turns[1].Took, Slow: t.Turns[2].Took})
			}
		}
		from := at
		for k, fill := range []string{allWork, toTyp, toSlow} {
			end := at + min(took.At(k), length)
			d.block(from, end, y, barHeight, fill)
			from = max(from, end)
		}
		if i > 0 {
			x := d.x(at)
			d.el("line", "x1", px(x), "y1", px(y-2), "x2", px(x), "y2", px(y+barHeight+2), "stroke", text, "stroke-width", "1")
		}
	}
	return true
}

// block draws a stretch of a bar.
func (d *drawing) block(from, to, y, height float64, fill string) {
	a, b := d.x(from), d.x(to)
	if b-a < 0.3 {
		return
	}
	d.used[fill] = true
	d.swatch(a, y, b-a, height, fill)
}

// swatch draws a rectangle in one of the fills.
func (d *drawing) swatch(x, y, w, h float64, fill string) {
	paint := "url(#" + d.id + "-" + fill + ")"
	if fill == allWork {
		paint = ink
	}
	d.el("rect", "x", px(x), "y", px(y), "width", px(w), "height", px(h), "fill", paint, "stroke", ink, "stroke-width", "1")
}

// frame draws an empty stretch: of a window that is left, or of work that a cap cuts off.
func (d *drawing) frame(from, to, y float64, what string) {
	a, b := d.x(from), d.x(to)
	if b-a < 0.3 {
		return
	}
	d.used[what] = true
	d.empty(a, y, b-a, barHeight, what)
}

func (d *drawing) empty(x, y, w, h float64, what string) {
	dash := "none"
	if what == beyond {
		dash = "4 3"
	}
	d.el("rect", "x", px(x), "y", px(y), "width", px(w), "height", px(h), "fill", "#fff", "stroke", ink, "stroke-width", "1", "stroke-dasharray", dash)
}

// grid draws what goes down through all lanes.
func (d *drawing) grid() {
	if s := d.clock.Length.Stated; s != nil {
		x := d.x(*s)
		for _, at := range []float64{x - 2, x + 1} {
			d.under.el("line", "x1", px(at), "y1", px(d.top-4), "x2", px(at), "y2", px(d.y), "stroke", text, "stroke-width", "1.2")
		}
	}
	bottom := px(d.y)
	d.under.el("line", "x1", px(d.margin), "y1", bottom, "x2", px(d.right), "y2", bottom, "stroke", text, "stroke-width", "1")
}

// legend explains the forms that the picture uses.
func (d *drawing) legend() {
	d.y += 12
	x := d.margin
	for _, k := range []struct{ what, words string }{
		{allWork, "work, all are at it"}, {mixed, "work with rests in it"}, {toTyp, "from when the fast are done to the typical"},
		{toSlow, "from the typical to the slow"}, {slack, "rest inside its time"}, {beyond, "cut off by the cap"}, {gap, "rest until the next part"},
		{pinned, "start by the clock"}, {next, "start of the next part"}, {capMark, "cap"}, {unproven, "not proven: it may go on"}, {length, "stated length"},
	} {
		if !d.used[k.what] {
			continue
		}
		const box = 26.0
		wide := box + 8 + extent(k.words, d.small, false) + 20
		if x > d.margin && x+wide-20 > d.width-d.margin {
			x = d.margin
			d.y += d.small + 10
		}
		d.sample(k.what, x, d.y)
		d.text(x+box+8, d.y+11, d.small, "", "start", k.words)
		x += wide
	}
	d.y += d.small + 14
}

// sample draws one form for the legend, 26 wide and 14 high.
func (d *drawing) sample(what string, x, y float64) {
	line := func(path, width, dash string) {
		d.el("path", "d", path, "fill", "none", "stroke", text, "stroke-width", width, "stroke-dasharray", dash)
	}
	mid := y + 7
	switch what {
	case slack, beyond:
		d.empty(x, y, 26, 14, what)
	case gap:
		line(fmt.Sprintf("M%s %s h26", px(x), px(mid)), "1.5", "1.5 3")
	case next:
		line(fmt.Sprintf("M%s %s v16", px(x+13), px(y-1)), "1.5", "5 3")
	case pinned:
		line(fmt.Sprintf("M%s %s v15", px(x+13), px(y)), "2", "none")
		d.el("path", "d", fmt.Sprintf("M%s %s l-5 -8 h10 z", px(x+13), px(y+8)), "fill", text)
	case capMark:
		line(fmt.Sprintf("M%s %s h-5 M%s %s v14 h-5", px(x+15), px(y), px(x+15), px(y)), "3", "none")
	case unproven:
		for k := range 3 {
			line(fmt.Sprintf("M%s %s l5 5 l-5 5", px(x+4+6*float64(k)), px(y+2)), "1.6", "none")
		}
	case length:
		line(fmt.Sprintf("M%s %s v15 m3 0 v-15", px(x+12), px(y)), "1.2", "none")
	default:
		d.swatch(x, y, 26, 14, what)
	}
}

func (d *drawing) foot() {
	d.lines(d.margin, d.width-2*d.margin, d.small, "Three times are for a fast, a typical and a slow member. "+Caution)
	d.y += d.margin
}

// done is the whole picture.
func (d *drawing) done() string {
	var m markup
	w, h := px(d.width), px(math.Ceil(d.y))
	m.open("svg", "xmlns", "http://www.w3.org/2000/svg", "width", w, "height", h, "viewBox", "0 0 "+w+" "+h, "role", "img",
		"aria-labelledby", d.id+"-title "+d.id+"-desc", "font-family", family)
	m.leaf("title", "Timeline of "+d.clock.Title(), "id", d.id+"-title")
	m.leaf("desc", d.clock.Says(), "id", d.id+"-desc")
	m.open("defs")
	d.fills(&m)
	m.close("defs")
	m.el("rect", "width", w, "height", h, "fill", "#fff")
	m.WriteString(d.under.String())
	m.WriteString(d.String())
	m.close("svg")
	return m.String()
}

// family is the type that pictures are set in: whatever the reader's machine has.
const family = "system-ui, -apple-system, 'Segoe UI', Roboto, 'Helvetica Neue', Arial, sans-serif"

// fills defines the hatches and stripes that the picture uses.
func (d *drawing) fills(m *markup) {
	for _, p := range []struct {
		name, turn, size, stroke string
	}{{toTyp, "rotate(45)", "5", "3.4"}, {toSlow, "rotate(-45)", "7", "1.2"}, {mixed, "rotate(0)", "6", "6.4"}} {
		if d.used[p.name] {
			m.open("pattern", "id", d.id+"-"+p.name, "patternUnits", "userSpaceOnUse", "width", p.size, "height", p.size, "patternTransform", p.turn)
			m.el("rect", "width", p.size, "height", p.size, "fill", "#fff")
			m.el("line", "x1", "0", "y1", "0", "x2", "0", "y2", p.size, "stroke", ink, "stroke-width", p.stroke)
			m.close("pattern")
		}
	}
}

// Says is the timeline in sentences, for whoever does not see the picture.
func (c *Clock) Says() string {
	out := []string{"Length " + c.Length.Says()}
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
	at := "at " + p.StartSays()
	if !p.Settled {
		at = p.StartSays()
	}
	first += " starts " + at + " and takes " + p.WorkSays()
	out := []string{first}
	if p.Left != nil {
		out = append(out, "Rest left: "+p.LeftSays())
	}
	return append(out, p.Says()...)
}
