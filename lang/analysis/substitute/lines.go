package substitute

import (
	"slices"
	"strings"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/units"
)

// A Replacement is what a version needs for one movement: the lines of its scaling, each with the
// blanks that it is indented by below the scaling's own lines.
type Replacement struct {
	For   string // the movements of the lines that it is for, as Moves has them
	Lines []string
}

// Replacements are those that a version of a session needs so that it can be done with the kit that
// it has, in the order of the session's movements. What swaps of the house
// or of the session itself do already is left out. Left are lines that the book has nothing
// for, and those for which the session's scaling says something that needs other kit.
func Replacements(env *model.Env, s *model.Session, version string) (swaps []Replacement, left []Lack) {
	kit, known := Kit(env, s, version)
	if !known {
		return nil, nil
	}
	return fitting(env, s, version, kit)
}

// Lines are the lines of a scaling that holds those swaps.
func Lines(swaps []Replacement) []string {
	var out []string
	for _, s := range swaps {
		out = append(out, s.Lines...)
	}
	return out
}

// An attempt is one way to write a version: fewer repetitions of what was heavy, and
// shorter distances, where the clock leaves no room for more.
type attempt struct {
	reps float64
	less bool
}

var attempts = []attempt{{12, false}, {10, false}, {8, false}, {8, true}}

// A maker writes the swaps of one version.
type maker struct {
	env *model.Env
	kit []string
	try attempt
}

// A lackingLine is a line that the version cannot do, and what is done instead.
type lackingLine struct {
	work  *model.Work // as the session has it
	part  *model.Group
	right string
}

func (m *maker) make(s *model.Session, version string) (swaps []Replacement, left []Lack) {
	written := map[source.Place]*model.Work{}
	around := map[source.Place][]*model.Group{}
	for w, in := range s.Lines(model.Everything) {
		written[w.At], around[w.At] = w, slices.Clone(in)
	}
	target := s
	v, own := versionOf(s, version)
	if v != nil {
		target = v.Session
	}
	var keys []string
	byKey := map[string][]lackingLine{}
	add := func(key string) {
		if !slices.Contains(keys, key) {
			keys = append(keys, key)
		}
	}
	rewritten := map[*model.Group]bool{}
	parts := map[string][]string{}
	if !own { // a scaling of the session has swaps that look for what its parts hold
		for _, g := range s.Parts {
			if lack := Lacking(m.env, &model.Session{Parts: []*model.Group{g}}, m.kit); len(lack) > 0 && lack[0].Work != nil {
				if key, lines := m.rewrite(g); lines != nil {
					rewritten[g] = true
					parts[key] = append(parts[key], lines...)
				}
			}
		}
	}
	for _, lack := range Lacking(m.env, target, m.kit) {
		w := lack.Work
		if w != nil && w.Written.File != nil {
			w = written[w.Written]
		} else if target != s {
			w = nil // a part that the scaling writes itself
		}
		if w != nil && rewritten[around[w.At][0]] {
			add(w.MoveNames())
			continue
		}
		if lack.With != nil {
			key := "with " + lack.With.Name
			add(key)
			parts[key] = append(parts[key], without(lack.With))
			continue
		}
		if at := lack.Work.At; w != nil && at != w.At && at.File == s.At.File && s.Block.Contains(at.Start) {
			w = nil // its right side is what has to be fixed: a second swap would clash with it
		}
		if w == nil {
			left = append(left, lack)
			continue
		}
		right := m.swap(w, around[w.At])
		if right == "" {
			left = append(left, lack)
			continue
		}
		add(w.MoveNames())
		byKey[w.MoveNames()] = append(byKey[w.MoveNames()], lackingLine{w, around[w.At][0], right})
	}
	for _, k := range keys {
		lines := parts[k]
		for _, l := range entries(k, byKey[k]) {
			if text, ok := printed(l); ok {
				lines = append(lines, text)
			} else {
				lines = nil
				break
			}
		}
		if len(lines) > 0 {
			swaps = append(swaps, Replacement{For: k, Lines: once(lines)})
		}
	}
	return swaps, left
}

// versionOf is the version of a name that a session has, or nil; own says whether the
// session itself has a scaling for it.
func versionOf(s *model.Session, name string) (v *model.Version, own bool) {
	v = s.FindVersion(name)
	return v, v != nil && v.At.File == s.At.File && s.Block.Contains(v.At.Start) && s.Block.Contains(v.At.End)
}

// instead picks what is done in place of a movement.
func (m *maker) instead(from *book.Movement, unit string, most bool) *book.Movement {
	return choose(m.env, from, m.kit, unit, most)
}

// swap is the right side of the swap of a line, empty where the book has nothing.
func (m *maker) swap(w *model.Work, around []*model.Group) string {
	unit, most := "s", false
	if w.Dose != nil {
		unit, most = w.Dose.Unit, w.Dose.Max
	}
	if w.From == model.FromClock && !most {
		unit = "s"
	}
	var to *book.Movement
	switch {
	case len(w.Moves) == 1:
		to = m.instead(w.Moves[0].Movement, unit, most)
	case w.Choice:
		for i := 0; i < len(w.Moves) && to == nil; i++ {
			to = m.instead(w.Moves[i].Movement, unit, most)
		}
	default:
		if to = whole(m.env, w.Moves, m.kit); to == nil {
			to = m.instead(w.Moves[0].Movement, unit, most)
		}
	}
	if to == nil {
		return ""
	}
	text := m.right(w, around, to)
	if text == "" {
		return ""
	}
	if w.Side && !sided(to) {
		text += " > One side at a time."
	}
	return text
}

// sided says whether a movement is done by one side as a matter of course.
func sided(m *book.Movement) bool {
	return m.Main() == book.Lunge || strings.Contains(m.Name, "single") || strings.Contains(m.Name, "side") || m.Main() == book.Mobility
}

func without(k *model.Kit) string {
	text := "with " + k.Name
	for _, l := range k.Loads {
		text += " " + l.At.Text()
	}
	return text + " -> nothing"
}

// entries are the swaps of lines of the same movements: one for all where they agree, else
// one by its count, its sets or its part.
func entries(key string, lines []lackingLine) []string {
	if len(lines) == 0 {
		return nil
	}
	if agree(lines) {
		return []string{key + " -> " + lines[0].right}
	}
	usual := carrying(lines)
	var out []string
	done := map[string]bool{}
	for _, l := range lines {
		short, long := count(l.work, false), count(l.work, true)
		like := only(lines, func(o lackingLine) bool { return count(o.work, false) == short })
		switch {
		case short == "": // a head or a clock counts it
			here := only(like, func(o lackingLine) bool { return o.part == l.part })
			if l.right != usual && agree(here) {
				out = append(out, place(l.part)+": "+key+" -> "+l.right)
			} else if l.right != usual {
				return nil // no swap could tell them apart
			}
		case agree(like):
			if l.right != usual && !done[short] {
				done[short] = true
				out = append(out, short+key+" -> "+l.right)
			}
		case agree(only(like, func(o lackingLine) bool { return count(o.work, true) == long })):
			if (l.right != usual || long != short) && !done[long] {
				done[long] = true
				out = append(out, long+key+" -> "+l.inSets())
			}
		default:
			here := only(like, func(o lackingLine) bool { return o.part == l.part })
			left, right := place(l.part)+": "+short, l.right
			if !agree(here) {
				here = only(here, func(o lackingLine) bool { return count(o.work, true) == long })
				left, right = place(l.part)+": "+long, l.inSets()
			}
			if !agree(here) {
				return nil
			}
			if (l.right != usual || !agree(only(like, func(o lackingLine) bool { return o.part == l.part }))) && !done[left] {
				done[left] = true
				out = append(out, left+key+" -> "+right)
			}
		}
	}
	if usual != "" {
		out = append(out, key+" -> "+usual)
	}
	return out
}

// inSets is the right side of a swap whose left names the sets of its line: a count there is that of each of them.
func (l lackingLine) inSets() string {
	if l.work.Sets == nil || l.right == "" || l.right[0] < '0' || l.right[0] > '9' {
		return l.right
	}
	return l.work.Sets.At.Text() + " x " + l.right
}

// carrying is the right side without a count of its own that most lines have, which can
// stand for all that no other swap is closer to; empty where none has.
func carrying(lines []lackingLine) string {
	best, most := "", 0
	for _, l := range lines {
		if l.right == "" || l.right[0] >= '0' && l.right[0] <= '9' {
			continue
		}
		if n := len(only(lines, func(o lackingLine) bool { return o.right == l.right })); n > most {
			best, most = l.right, n
		}
	}
	return best
}

func only(lines []lackingLine, is func(lackingLine) bool) []lackingLine {
	return slices.DeleteFunc(slices.Clone(lines), func(l lackingLine) bool { return !is(l) })
}

func agree(lines []lackingLine) bool {
	return !slices.ContainsFunc(lines, func(l lackingLine) bool { return l.right != lines[0].right })
}

// count is the dose of a line as the left side of a swap has it, with a blank behind it;
// empty where the line has none of its own.
func count(w *model.Work, sets bool) string {
	if w.Dose == nil || w.Dose.Max || w.From != model.FromLine || w.RM > 0 || w.Dose.Unit == "%" {
		return ""
	}
	text := w.Dose.At.Text()
	if w.Side {
		text += "/side"
	}
	if sets && w.Sets != nil {
		text = w.Sets.At.Text() + " x " + text
	}
	return text + " "
}

func place(g *model.Group) string {
	if g.Kind == model.Part {
		return "part " + g.Letter
	}
	return string(g.Kind)
}

func number(v float64) string { return units.FormatNumber(v) }
