// Package agreement holds all that is said of a session's times against each other.
package agreement

import (
	"encoding/json"
	"fmt"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stint.example/stint/lang/analysis/equipment"
	"stint.example/stint/lang/bench"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/ide/codelens"
	"stint.example/stint/lang/ide/hover"
	"stint.example/stint/lang/ide/inlayhint"
	"stint.example/stint/lang/internal/demotest"
	"stint.example/stint/lang/internal/marktest"
	"stint.example/stint/lang/internal/svgtest"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/render/layout"
	"stint.example/stint/lang/render/readback"
	"stint.example/stint/lang/render/svg"
	"stint.example/stint/lang/render/timeline"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/units"
	"stint.example/stint/lang/workspace"
)

// Whatever says a figure of how long something takes says the same: the JSON of stint clock, its text, the
// picture, what is read back, the cards, hints and lenses of editors, and findings. The JSON is read
// as another program would, and what the others print is read out of their texts.
func TestOutputsAgree(t *testing.T) {
	for _, name := range []string{"quayside", "broken"} {
		t.Run(name, func(t *testing.T) { agree(t, demotest.Load(t, name)) })
	}
	cases, err := filepath.Glob(filepath.Join("..", "..", "workspace", "testdata", "readings", "*.txtar"))
	require.NoError(t, err)
	require.Greater(t, len(cases), 50)
	for _, name := range cases {
		c := marktest.Load(t, name)
		texts := map[string]string{}
		for _, f := range c.Files() {
			texts[f.Name] = f.Text
		}
		t.Run(filepath.Base(name), func(t *testing.T) { agree(t, workspaceOf(texts)) })
	}
	for seed := range uint64(2) {
		texts := bench.Workspace(12, seed)
		t.Run(fmt.Sprint("generated ", seed), func(t *testing.T) { agree(t, workspaceOf(texts)) })
		for name, text := range texts { // the same with other figures, so that much of it does not hold
			texts[name] = shortened(text)
		}
		t.Run(fmt.Sprint("shortened ", seed), func(t *testing.T) { agree(t, workspaceOf(texts)) })
	}
}

func workspaceOf(texts map[string]string) *workspace.Snapshot {
	return workspace.Make(workspace.Root{Dir: "/quayside", House: true}, texts)
}

var clockValue = regexp.MustCompile(`(at|cap|every|length) (\d+):(\d\d)\b`)

// shortened is a text whose starts, caps, intervals and lengths are two thirds as long.
func shortened(text string) string {
	return clockValue.ReplaceAllStringFunc(text, func(words string) string {
		m := clockValue.FindStringSubmatch(words)
		v, err := units.ParseClock(m[2] + ":" + m[3])
		if err != nil {
			return words
		}
		return m[1] + " " + units.FormatClock(v*2/3)
	})
}

func agree(t *testing.T, snap *workspace.Snapshot) {
	t.Helper()
	for _, f := range snap.Files {
		said := said{t: t, snap: snap, file: f}
		for _, s := range f.Program().Sessions {
			for _, x := range s.Variants() {
				said.session(s, x)
			}
		}
		if t.Failed() {
			return
		}
	}
}

// said is what is said of the sessions of a file.
type said struct {
	t    *testing.T
	snap *workspace.Snapshot
	file *workspace.File

	name    string
	written *model.Session
	variant *model.Session
	clock   *timeline.Clock // as another program reads it
}

// placeOf is a place as it is published, which is only written and never read.
var placeOf = regexp.MustCompile(`"at":\{"file":"[^"]*","start":\{[^}]*\},"end":\{[^}]*\}\},`)

func (s *said) session(written, x *model.Session) {
	env := s.snap.Env.For(written)
	made := timeline.NewClock(equipment.Timeline(x, env), env.House)
	doc, err := json.Marshal(timeline.NewClocks([]*timeline.Clock{made}, false))
	require.NoError(s.t, err)
	var read timeline.Clocks
	require.NoError(s.t, json.Unmarshal(placeOf.ReplaceAll(doc, nil), &read))
	s.written, s.variant, s.clock, s.name = written, x, read.Sessions[0], made.Title()
	var text strings.Builder
	made.Write(&text, func(source.Place) string { return "" })
	s.text(text.String())
	for line := range strings.Lines(text.String()) {
		s.true(layout.Cells(strings.TrimSuffix(line, "\n")) <= 80, "too wide: "+line)
	}
	s.picture(made.SVG(svg.Options{}))
	s.readBack(readback.Of(x, env, nil))
	if x == written {
		s.cards()
		s.hints()
		s.lenses()
	}
	s.findings()
}

func (s *said) equal(want, got, where string) {
	s.t.Helper()
	assert.Equal(s.t, want, got, "%s: %s: %s", s.file.Path, s.name, where)
}

func (s *said) true(holds bool, where string) {
	s.t.Helper()
	assert.True(s.t, holds, "%s: %s: %s", s.file.Path, s.name, where)
}

// three are three times as they are printed.
func three(l timeline.Levels) string {
	a, b, c := units.FormatClock(l.Fast), units.FormatClock(l.Typical), units.FormatClock(l.Slow)
	if a == b && b == c {
		return a
	}
	return a + " / " + b + " / " + c
}

// The figures of a part, from the JSON.

func work(p *timeline.Part) string {
	switch {
	case p.Proven:
		return three(p.Work)
	case p.Beyond:
		return "about " + three(p.Work)
	case p.Near != nil:
		return "at least " + three(*p.Near)
	}
	return "at least " + three(p.Work)
}

func left(p *timeline.Part) string {
	switch {
	case p.Left == nil:
		return ""
	case !p.Proven || !p.Settled:
		return "not proven"
	case *p.Left == timeline.Levels{}:
		return "none"
	}
	return three(*p.Left)
}

// begins is when a part starts, and hedged where something before it is missing.
func begins(p *timeline.Part, text string) string {
	at := units.FormatClock(p.Start)
	if p.Early > 0 {
		return "not before " + units.FormatClock(p.Start-p.Early)
	}
	if !p.Settled && (text == "not before "+at || text == "about "+at) {
		return text
	}
	return at
}

func (s *said) length() string {
	switch l := s.clock.Length; {
	case l.Settled:
		return units.FormatClock(l.Taken)
	case l.Beyond:
		return "about " + units.FormatClock(l.Taken)
	}
	return "at least " + units.FormatClock(s.clock.Length.Taken)
}

var columnAt = regexp.MustCompile(`\S+(?: \S+)*`)

// rowsOf reads the rows of a table until an empty line, by where the columns of its head begin. What
// begins with no cell goes on in those above it.
func rowsOf(head string, lines []string) [][]string {
	at := columnAt.FindAllStringIndex(head, -1)
	var rows [][]string
	for _, line := range lines {
		if line == "" {
			break
		}
		cells := make([]string, len(at))
		for i, x := range at {
			end := len(line)
			if i+1 < len(at) {
				end = min(end, at[i+1][0])
			}
			if x[0] < end {
				cells[i] = strings.TrimSpace(line[x[0]:end])
			}
		}
		if len(rows) == 0 || !strings.HasPrefix(line, " ") && !(cells[1] == "" && cells[3] == "") {
			rows = append(rows, cells)
			continue
		}
		above := rows[len(rows)-1]
		for i, c := range cells {
			above[i] = strings.TrimSpace(above[i] + " " + c)
		}
	}
	return rows
}

// text is what stint clock prints.
func (s *said) text(text string) {
	_, table, found := strings.Cut(text, "\npart ")
	require.True(s.t, found, text)
	head, table, _ := strings.Cut(table, "\n")
	rows := rowsOf("part "+head, strings.Split(table, "\n"))
	for i, p := range s.clock.Parts {
		cells := rows[i]
		s.equal(p.Name, cells[0], "name in the table")
		s.equal(begins(p, cells[1]), cells[1], "start in the table")
		s.equal(work(p), cells[2], "work in the table")
		if p.Proven && p.Settled {
			s.equal(three(p.End), cells[3], "end in the table")
		}
		s.equal(left(p), cells[4], "rest left in the table")
	}
	_, length, _ := strings.Cut(text, "\nlength: ")
	s.equal(s.length(), firstOf(length), "length below the table")
}

var figure = regexp.MustCompile(`^(?:at least |about )?-?\d+:\d\d(?::\d\d)?`)

// firstOf is the time that a text starts with.
func firstOf(text string) string { return figure.FindString(text) }

// picture is what its lanes say.
func (s *said) picture(picture string) {
	es := svgtest.Parse(s.t, picture)
	var lanes []string
	for _, e := range es {
		if e.Name == "title" && e.Parent == "g" {
			lanes = append(lanes, e.Text)
		}
	}
	require.Len(s.t, lanes, len(s.clock.Parts))
	for i, p := range s.clock.Parts {
		s.true(strings.Contains(lanes[i], "takes "+work(p)+"."), "work in the picture: "+lanes[i])
		s.true(p.Left == nil || strings.Contains(lanes[i], "Rest left: "+left(p)+"."), "rest in the picture: "+lanes[i])
		for _, l := range p.Limits {
			if l.Kind != "start" { // the rest before it tells more
				s.true(strings.Contains(lanes[i], l.Text), "limit in the picture")
			}
		}
	}
	s.true(strings.Contains(picture, "Length "+s.length()), "length in the picture")
}

// readBack is what stint show says.
func (s *said) readBack(r *readback.Reading) {
	over := regexp.MustCompile(`(?:is over at|not proven:) ((?:at least |about )?[-\d:/ ]+\d)`)
	rest := regexp.MustCompile(`which leaves ([-\d:/ ]+\d)`)
	for i, part := range r.Parts {
		p := s.clock.Parts[i]
		for _, x := range part.Sentences {
			if x.Note {
				continue
			}
			sure := p.Proven && p.Settled
			if m := over.FindStringSubmatch(strings.ToLower(x.Text)); m != nil && sure {
				s.equal(three(p.End), m[1], "end of "+p.Name+" in "+x.Text)
			}
			if m := rest.FindStringSubmatch(x.Text); m != nil && sure && strings.Count(x.Text, " / ") > 1 && p.Left.Slow > 0 {
				s.equal(left(p), m[1], "rest behind "+p.Name+" in "+x.Text)
			}
		}
	}
	for _, c := range r.Account {
		if strings.HasPrefix(c.What, "length ") && c.Of == "" {
			s.equal(s.length(), firstOf(c.Why), "length in the account")
		}
		for _, p := range s.clock.Parts {
			same := 0 // limits of one name, such as those of two heads that last 4:00
			agrees := slices.ContainsFunc(p.Limits, func(l timeline.Limit) bool {
				if !l.Proven || l.What != c.What {
					return false
				}
				same++
				return strings.HasPrefix(l.What+": "+c.Why, l.Text)
			})
			if same > 0 && c.Of == p.Name && c.Holds == readback.Estimated {
				s.true(agrees, "share in the account: "+c.Why)
			}
		}
	}
}

// cards are those of the session and of its parts.
func (s *said) cards() {
	row := func(c *hover.Card, label string) (string, bool) {
		i := slices.IndexFunc(c.Rows, func(r hover.CardRow) bool { return r.Label == label })
		if i < 0 {
			return "", false
		}
		return strings.TrimSuffix(c.Rows[i].Text, " (fast / typical / slow)"), true
	}
	if c := hover.At(s.snap, s.file, s.written.At.Start); c != nil && c.Kind == "session" {
		length, _ := row(c, "length")
		s.equal(s.length(), firstOf(length), "length on its card")
		for i, p := range s.clock.Parts {
			named := func(o *timeline.Part) bool { return o.Name == p.Name }
			if text, ok := row(c, p.Name); ok && slices.IndexFunc(s.clock.Parts, named) == i {
				s.true(strings.HasSuffix(text, work(p)), "work of "+p.Name+" on the session's card: "+text)
			}
		}
	}
	for i, g := range s.variant.Parts {
		p := s.clock.Parts[i]
		if g.Unread || g.At.File != s.file.Src || s.variant.FindPart(g.Kind, g.Letter) != g {
			continue
		}
		c := hover.At(s.snap, s.file, g.At.Start)
		if c == nil || c.Title != p.Name {
			continue
		}
		for label, want := range map[string]string{"work": work(p), "rest left": left(p)} {
			text, ok := row(c, label)
			s.equal(want, text, label+" on the card of "+p.Name)
			s.true((want != "") == ok, label+" on the card of "+p.Name)
		}
		starts, _ := row(c, "starts")
		s.equal(begins(p, starts), starts, "start on the card of "+p.Name)
		if text, _ := row(c, "done at"); p.Proven && p.Settled {
			s.equal(three(p.End), text, "end on the card of "+p.Name)
		}
		for _, v := range s.written.Versions {
			in := timeline.NewTimes(equipment.Timeline(v.Session, s.snap.Env.For(s.written)), s.snap.Env.House)
			k := slices.IndexFunc(v.Session.Parts, func(o *model.Group) bool { return o.Kind == g.Kind && o.Letter == g.Letter })
			if text, ok := row(c, v.Name); ok {
				s.equal(in.Parts[k].WorkText(), text, "work in version "+v.Name)
			}
		}
	}
}

// hints are those behind the heads of parts.
func (s *said) hints() {
	takes, rest := regexp.MustCompile(`~(\d+:[\d:]+)`), regexp.MustCompile(`(rest|over by) (\d+:[\d:]+)`)
	all := source.Span{Start: 0, End: len(s.file.Src.Text)}
	for _, h := range inlayhint.Hints(s.snap, s.file, all, inlayhint.Kinds{Times: true}) {
		i := slices.IndexFunc(s.variant.Parts, func(g *model.Group) bool { return g.At.File == s.file.Src && g.At.Start == h.Of })
		if i < 0 {
			continue
		}
		p := s.clock.Parts[i]
		s.true(p.Proven && p.Settled, "a hint is of what is proven")
		if m := takes.FindStringSubmatch(h.Text); m != nil {
			s.equal(units.FormatClock(p.Work.Typical), m[1], "work in the hint of "+p.Name)
		}
		if m := rest.FindStringSubmatch(h.Text); m != nil {
			over := p.Left.Typical
			if m[1] == "over by" {
				over = -over
			}
			s.equal(units.FormatClock(over), m[2], "rest in the hint of "+p.Name)
		}
	}
}

// lenses are those above the session and its parts.
func (s *said) lenses() {
	for _, l := range codelens.Lenses(s.file) {
		if l.Name != s.written.Name || l.Kind == "movement" {
			continue
		}
		title := l.Title(s.snap, s.file)
		if l.Kind == "session" {
			s.equal(s.length(), firstOf(title), "length in the lens")
			continue
		}
		i := slices.IndexFunc(s.clock.Parts, func(p *timeline.Part) bool { return p.Name == l.Part })
		if i < 0 {
			continue
		}
		p := s.clock.Parts[i]
		text, more, _ := strings.Cut(title, "; ")
		s.equal(work(p), strings.TrimSuffix(text, ", not proven"), "work in the lens of "+p.Name)
		if rest, ok := strings.CutPrefix(more, "rest left "); ok {
			s.equal(three(*p.Left), rest, "rest in the lens of "+p.Name)
		}
	}
}

var (
	people     = regexp.MustCompile(`about (\d+) of (\d+).*?(?: \((\d+) to (\d+)\))?`)
	ofThree    = regexp.MustCompile(`^typical (\S+) \((\S+) fast, (\S+) slow\)`)
	sessionHas = regexp.MustCompile(`^the session takes (\S+), and`)
	runsInto   = regexp.MustCompile(`^(.*) runs (\S+) into (.*), which starts at (\S+)$`)
	stillAt    = regexp.MustCompile(`still at (.*) when (.*) starts at ([\d:]+)`)
	leavesRest = regexp.MustCompile(`^(.*) leaves (\S+) of rest before (.*), and (?:it|the \w+) asks for (\S+)$`)
	lessRest   = regexp.MustCompile(`^(.*) leaves less than (\S+) of rest before (.*?) for `)
	missesCap  = regexp.MustCompile(`miss(?:es)? the cap of ([\d:]+)`)
	doesNotFit = regexp.MustCompile(`^(.*) takes (\S+), and has (\S+)$`)
)

// findings are those on the session: their figures are those of its clock.
func (s *said) findings() {
	for _, d := range s.snap.Diagnostics(s.file) {
		if d.At.File != s.file.Src || !(s.written.Block.Contains(d.At.Start) || s.written.At.Contains(d.At.Start)) {
			continue
		}
		s.finding(d)
	}
}

// ofPart reports a finding on the head of a part: not on one that stands in it.
func (s *said) ofPart(d diag.Diagnostic) bool {
	return slices.ContainsFunc(s.variant.Parts, func(g *model.Group) bool {
		return g.At.File == d.At.File && g.At.Contains(d.At.Start)
	})
}

func (s *said) finding(d diag.Diagnostic) {
	part := func(name string) *timeline.Part {
		i := slices.IndexFunc(s.clock.Parts, func(p *timeline.Part) bool { return p.Name == name })
		if i < 0 {
			return &timeline.Part{}
		}
		return s.clock.Parts[i]
	}
	at := func() *timeline.Part { // the part that the finding is on
		for i, g := range s.variant.Parts {
			if g.At.File == d.At.File && (g.At.Contains(d.At.Start) || g.Block.Contains(d.At.Start)) {
				return s.clock.Parts[i]
			}
		}
		return &timeline.Part{}
	}
	// A finding is of the session as written, or of a version, or a week of a cycle, which its message then
	// begins with.
	if s.variant != s.written || strings.HasPrefix(d.Message, "in version ") || strings.HasPrefix(d.Message, "in week ") {
		return
	}
	m := d.Message
	if x := sessionHas.FindStringSubmatch(m); x != nil {
		s.equal(s.length(), x[1], m)
	}
	if x := runsInto.FindStringSubmatch(m); x != nil {
		p, next := part(x[1]), part(x[3])
		s.equal(units.FormatClock(p.Cut.Typical+lastHeat(p, next)-(next.Began-p.Began)), x[2], m)
	}
	if x := leavesRest.FindStringSubmatch(m); x != nil {
		s.equal(units.FormatClock(max(0, part(x[1]).Left.Typical)), x[2], m)
	}
	if x := stillAt.FindStringSubmatch(m); x != nil {
		s.share(m, part(x[1]), func(l timeline.Limit) bool { return l.What == x[2]+" at "+x[3] })
	}
	if x := lessRest.FindStringSubmatch(m); x != nil {
		s.share(m, part(x[1]), func(l timeline.Limit) bool { return strings.HasPrefix(l.What, x[2]+" of rest before "+x[3]) })
	}
	if x := missesCap.FindStringSubmatch(m); x != nil {
		s.share(m, at(), func(l timeline.Limit) bool { return l.What == "cap "+x[1] })
	}
	if x := doesNotFit.FindStringSubmatch(m); x != nil && d.Rule == "interval-overfull" {
		found := slices.ContainsFunc(at().Turns, func(of timeline.Turns) bool {
			return units.FormatClock(of.Took.Typical) == x[2] && units.FormatClock(of.Interval.Typical) == x[3]
		})
		s.true(found, m)
	}
	x := ofThree.FindStringSubmatch(d.Label)
	switch d.Rule {
	case "cap-tight", "cap-generous", "part-runs-over":
		if x != nil && s.ofPart(d) {
			takes := at().Work
			if needs := at().Needs; needs != nil { // what lasts takes its time, whatever the work takes
				takes = *needs
			}
			s.equal(three(takes), x[2]+" / "+x[1]+" / "+x[3], d.Rule+": "+d.Label)
		}
	case "interval-overfull":
		if x != nil {
			found := slices.ContainsFunc(at().Turns, func(of timeline.Turns) bool { return three(of.Took) == x[2]+" / "+x[1]+" / "+x[3] })
			s.true(found, d.Rule+": "+d.Label)
		}
	}
}

// share holds how many of the class a message names against a limit of a part.
func (s *said) share(message string, p *timeline.Part, is func(timeline.Limit) bool) {
	x := people.FindStringSubmatch(message)
	i := slices.IndexFunc(p.Limits, is)
	if x == nil {
		return
	}
	s.true(i >= 0, "the clock has the limit of: "+message)
	if i < 0 || p.Limits[i].People == nil {
		return
	}
	s.equal(strconv.Itoa(p.Limits[i].People.About), x[1], message)
}

// lastHeat is when the last heat starts that a part waits for.
func lastHeat(p, next *timeline.Part) float64 {
	if p.Heats == nil || next.Heats != nil && slices.Equal(p.Heats.Starts, next.Heats.Starts) {
		return 0
	}
	return p.Heats.Starts[len(p.Heats.Starts)-1]
}
