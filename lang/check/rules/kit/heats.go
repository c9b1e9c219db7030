package kit

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"

	"stint.example/stint/lang/analysis/equipment"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/units"
)

// offerHeats starts the class in so many heats as fit at once, a little after one another if
// that will do and else one after the other.
func offerHeats(p *check.Pass, s *model.Session, i int, u *shortKit) (remedy, bool) {
	part := s.Parts[i]
	held := false
	team := 1.0
	for g := range part.Groups(model.Everything) {
		held = held || g.Heats != nil
		if g.People != nil {
			if v, ok := g.People.Size.One(); ok && v >= 1 {
				team = math.Floor(v)
			}
		}
	}
	if held {
		return remedy{}, false
	}
	class := p.Env.House.Class
	heats := func(size int, every float64) func(*model.Group) *model.Group {
		return func(g *model.Group) *model.Group {
			c := *g
			c.Heats = &model.People{Kind: model.Heats, Size: oneQuantity(float64(size), "person"), At: g.At}
			if every > 0 {
				c.Heats.Every = oneQuantity(every, "s")
			}
			return &c
		}
	}
	size := 0
	for n := class - 1; n >= 1 && size == 0; n-- {
		many := (class + n - 1) / n // as even as they can be
		n = (class + many - 1) / many
		whole := int(math.Ceil(float64(n)/team) * team)
		if whole >= class {
			continue
		}
		tried := withPart(s, i, heats(whole, 0)(part))
		if !slices.ContainsFunc(equipment.Of(tried, p.Env, p.Unqueued(s)), func(o equipment.Use) bool {
			return o.Part == tried.Parts[i] && slices.Contains(u.kits, o.Kit) && lacking(p, &o)
		}) {
			size = whole
		}
	}
	if size == 0 {
		return remedy{}, false
	}
	n := (class + size - 1) / size
	for _, every := range staggers(p, s, i, u, n) {
		t, ok := tryRemedy(p, s, i, u.kits, heats(size, every))
		if !ok {
			continue
		}
		clause := fmt.Sprintf("in heats of %d", size)
		if every > 0 {
			clause += " every " + units.FormatClock(every)
		}
		r := remedy{text: fmt.Sprintf("write %s: %s fit, and the last would be done at about %s", clause, fmt.Sprintf("%d heats of %d", n, size), units.FormatClock(t.Start+t.Room))}
		r.fix = addClause(p, part, clause)
		return r, true
	}
	return remedy{}, false
}

func oneQuantity(v float64, unit string) *model.Quantity {
	return &model.Quantity{Unit: unit, Form: syntax.One, Terms: [][]float64{{v}}}
}

// staggers are how far apart heats may start, in s, the quickest first; 0 is one after the
// other.
func staggers(p *check.Pass, s *model.Session, i int, u *shortKit, heats int) []float64 {
	t := p.Unqueued(s).Parts[i]
	g := t.Group
	if g.Repeat.Kind == model.Every && g.Slots() == 0 {
		if v, ok := g.Repeat.Interval.One(); ok && math.Mod(v, 5*float64(heats)) == 0 {
			return []float64{v / float64(heats), 0}
		}
	}
	to := 0.0
	for _, l := range t.Lines {
		if slices.ContainsFunc(u.Lines, func(w *model.Work) bool { return w == l.Work }) {
			to = max(to, l.To.Slow, l.To.Fast)
		}
	}
	if to <= 0 || g.Repeat.Clocked() || !t.Proven() {
		return []float64{0}
	}
	return []float64{math.Ceil(to/30) * 30, 0}
}

// offerPairs lets one of two work at a time.
func offerPairs(p *check.Pass, s *model.Session, i int, u *shortKit) (remedy, bool) {
	part := s.Parts[i]
	divided := false
	for g := range part.Groups(model.Everything) {
		divided = divided || g.People != nil || g.Solo || g.Heats != nil || g.Kind == model.Station
	}
	if divided {
		return remedy{}, false
	}
	t, ok := tryRemedy(p, s, i, u.kits, func(g *model.Group) *model.Group {
		c := *g
		c.People, c.Solo = &model.People{Kind: model.Pairs, Size: oneQuantity(2, "person"), At: g.At}, true
		return &c
	})
	if !ok {
		return remedy{}, false
	}
	r := remedy{text: fmt.Sprintf("write in pairs, one works: %d at once fit, and all would be done at about %s", (p.Env.House.Class+1)/2, units.FormatClock(t.Start+t.Room)),
		fix: addClause(p, part, "in pairs, one works")}
	if r.fix != nil {
		r.fix.Edits = append(r.fix.Edits, sayEach(p.Written)...)
	}
	return r, true
}

// sayEach writes before the totals of a session that they are one athlete's, as they are before
// its class is divided.
func sayEach(s *model.Session) []diag.Edit {
	var out []diag.Edit
	seen := map[int]bool{}
	say := func(ts []*model.Total) {
		for _, t := range ts {
			at := source.Span{Start: t.At.Start, End: t.At.Start}
			if t.Whose == model.OfAnyone && !seen[at.Start] {
				seen[at.Start] = true
				out = append(out, diag.Edit{At: t.At.File.At(at), New: "each "})
			}
		}
	}
	for _, v := range s.Variants() {
		say(v.Totals)
		for g := range v.Groups(model.Everything) {
			say(g.Totals)
		}
	}
	return out
}

// bareHead is a head that is only a name and a start, behind which the first clause has no
// comma before it.
var bareHead = regexp.MustCompile(`^(?i:part [a-z]|warm-?up|cool-?down)( at \d+:\d\d)?$`)

// addClause is a fix that writes a clause behind the others of a part's head.
func addClause(p *check.Pass, part *model.Group, text string) *diag.Fix {
	if p.Version != nil || part.At.File == nil {
		return nil
	}
	head := part.At.Text()
	if i := strings.Index(head, ": "); i >= 0 {
		head = head[:i]
	}
	head = strings.TrimSuffix(head, ":")
	edit := ", " + text
	if bareHead.MatchString(head) {
		edit = " " + text
	}
	end := part.At.Start + len(head)
	return &diag.Fix{Title: "write " + text, Edits: []diag.Edit{{At: part.At.File.At(source.Span{Start: end, End: end}), New: edit}}}
}
