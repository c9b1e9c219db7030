package hover

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"stint.example/stint/lang/analysis/equipment"
	"stint.example/stint/lang/book"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/refs"
	"stint.example/stint/lang/render/prose"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/units"
	"stint.example/stint/lang/workspace"
)

// movement is the card of a movement.
func (s *spot) movement(m *book.Movement) *Card {
	c := &Card{Title: m.Name, Kind: "movement"}
	c.row("standard", m.Standard...)
	c.row("set-up", m.SetUp...)
	c.row("cue", m.Cues...)
	c.row("fault", m.Faults...)
	c.row("caution", m.Cautions...)
	c.row("easier", list(m.Easier))
	c.row("harder", list(m.Harder))
	c.row("instead", list(m.Instead))
	var trains []string
	for _, p := range m.Trains {
		trains = append(trains, string(p))
	}
	c.row("trains", list(trains))
	var moves []string
	for _, j := range m.Joints {
		moves = append(moves, string(j))
	}
	c.row("moves", list(moves))
	for _, k := range m.Needs {
		c.row("needs", k+s.stock(k))
	}
	if m.Best == book.BestLoad {
		c.row("tested", "athletes know a one-repetition maximum of it, so a percentage can be of that")
	}
	for _, p := range m.Paces {
		c.row("pace", prose.Pace(p)+" (fast / typical / slow)")
	}
	if u := prose.Unbroken(m); u != "" {
		c.row("unbroken", u+" before a pause (fast / typical / slow)")
	}
	c.row("also", list(m.Also))
	c.row("used", s.used(m))
	return c
}

// stock is what the house has of a piece of kit, behind its name: empty where the house
// lists no kit at all.
func (s *spot) stock(name string) string {
	if len(s.env().House.Kit) == 0 {
		return ""
	}
	if has := s.has(name); len(has) > 0 {
		return " (the house has " + and(has) + ")"
	}
	return " (not on the house's list)"
}

// has says how many of a piece of kit the house has, a text for each line of its list.
func (s *spot) has(name string) []string {
	var out []string
	for _, k := range s.env().House.Kit {
		called, ok := s.env().Book.Kit(k.Name)
		if !ok {
			called = k.Name
		}
		if book.Key(called) != book.Key(name) {
			continue
		}
		text := fmt.Sprint(k.Count)
		if len(k.Loads) > 0 {
			text += " of " + strings.TrimPrefix(strings.ReplaceAll(prose.Loads(k.Loads), " @ ", ", "), ", ")
		}
		out = append(out, text)
	}
	return out
}

// loadable are the pieces of kit of a movement that the house has in weights or heights.
func (s *spot) loadable(m *book.Movement, kind syntax.LoadKind) (kit string, owned []equipment.Thing) {
	if m == nil {
		return "", nil
	}
	for _, k := range m.Needs {
		if owned := equipment.Owned(s.env().Book, s.env().House, k, kind); len(owned) > 0 {
			return k, owned
		}
	}
	return "", nil
}

// A Use is a session that has a thing in it.
type Use struct {
	Session string
	File    *workspace.File
	Written bool // as the session is written, and not only in a version of it
}

// UsesOf are the sessions that have a thing in them, by file and place.
func UsesOf(snap *workspace.Snapshot, id refs.ID) []Use {
	var out []Use
	for f, r := range snap.Uses(id) {
		if len(f.Decls.Sessions) == 0 {
			continue
		}
		name := sessionAt(f, r.At.Start)
		if name == "" {
			continue
		}
		root := rootOf(f.Syntax(), f.Syntax().Lines[f.Src.LineAt(r.At.Start)])
		_, scaling := root.Line.Stmt.(*syntax.Scaling)
		i := slices.IndexFunc(out, func(u Use) bool { return u.File == f && u.Session == name })
		if i < 0 {
			i = len(out)
			out = append(out, Use{Session: name, File: f})
		}
		out[i].Written = out[i].Written || !scaling
	}
	return out
}

// sessionAt is the session that a line of a file belongs to: the last one declared above
// it, unless another entry comes between.
func sessionAt(f *workspace.File, off int) string {
	name := ""
	for _, b := range f.Syntax().Roots {
		if b.Line.Body > off {
			break
		}
		if e, ok := b.Line.Stmt.(*syntax.Entry); ok {
			name = ""
			if e.Kind == "session" {
				name = e.Name.Text
			}
		}
	}
	return name
}

// many is more sessions than are looked at one by one.
const many = 200

// roughly is in how many sessions a thing is, where a file that has it and more than one
// session counts with all of them.
func (s *spot) roughly(id refs.ID) int {
	n := 0
	for _, f := range s.snap.FilesNaming(id) {
		n += len(f.Decls.Sessions)
	}
	return n
}

// few is how many sessions are named one by one.
const few = 6

// used says where a movement is used: in the cycle on which days, else in which sessions.
func (s *spot) used(m *book.Movement) string {
	id := refs.ID{Kind: refs.Movement, Key: book.Key(m.Name)}
	if n := s.roughly(id); n > many {
		return "in " + count(n, "session") + ", their versions counted too"
	}
	uses := UsesOf(s.snap, id)
	written := slices.DeleteFunc(slices.Clone(uses), func(u Use) bool { return !u.Written })
	only := len(uses) - len(written)
	if len(uses) == 0 {
		return "in no session here"
	}
	var text string
	if len(written) > 0 {
		text = "in " + count(len(written), "session")
	}
	if days := s.days(written); len(days) > 0 && len(days) <= 2*few {
		text += ": " + list(days)
	} else if len(written) > 0 && len(written) <= few {
		var names []string
		for _, u := range written {
			names = append(names, u.Session)
		}
		text += ": " + list(names)
	}
	if only > 0 {
		if text != "" {
			text += "; "
		}
		text += "in the versions of " + count(only, "other session")
		if len(written) == 0 {
			text = strings.Replace(text, " other", "", 1)
		}
	}
	return text
}

// days are the days that cycles plan some sessions on, in their order: those of the cycles
// that plan the session which the place is in, if any do. The cycle is named where there
// are several.
func (s *spot) days(uses []Use) []string {
	var planned []check.Planned
	for _, u := range uses {
		planned = append(planned, s.snap.Planned(u.Session)...)
	}
	if s.written != nil {
		mine := s.snap.Planned(s.written.Name)
		in := slices.DeleteFunc(slices.Clone(planned), func(p check.Planned) bool {
			return !slices.ContainsFunc(mine, func(m check.Planned) bool { return m.Cycle == p.Cycle })
		})
		if len(in) > 0 {
			planned = in
		}
	}
	several := slices.ContainsFunc(planned, func(p check.Planned) bool { return p.Cycle != planned[0].Cycle })
	slices.SortStableFunc(planned, func(a, b check.Planned) int {
		return cmp.Or(cmp.Compare(a.Cycle.Name, b.Cycle.Name), a.Week.Number-b.Week.Number,
			slices.Index(syntax.Weekdays, a.Day.Weekday)-slices.Index(syntax.Weekdays, b.Day.Weekday))
	})
	var out []string
	for _, p := range planned {
		cycle := ""
		if several {
			cycle = p.Cycle.Name + ", "
		}
		out = append(out, fmt.Sprintf("%s (%sweek %d %s)", p.Day.Session, cycle, p.Week.Number, p.Day.Weekday))
	}
	return out
}

func list(ns []string) string { return strings.Join(ns, ", ") }

// and joins words as a sentence does.
func and(ns []string) string {
	if len(ns) < 2 {
		return list(ns)
	}
	return list(ns[:len(ns)-1]) + " and " + ns[len(ns)-1]
}

// count is a number and its noun: 1 session, 2 sessions.
func count(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

func num(v float64) string { return units.FormatNumber(v) }
