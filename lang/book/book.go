// Package book knows the movements: what each trains and needs, how long a repetition
// takes, what makes one count, and what to do instead. The built-in book is written in
// the notation and embedded; a workspace adds movements of its own or changes the
// book's.
package book

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
)

// Best is what athletes test of a movement.
type Best string

// What can be tested.
const (
	BestLoad Best = "load" // a one-repetition maximum
	BestReps Best = "reps"
	BestTime Best = "time"
)

// A Movement is one entry of the book.
type Movement struct {
	Name   string
	Also   []string
	Trains []Pattern // the main pattern first; none for a duty, such as judging
	Joints []Joint   // that it says it moves, beside those of its patterns; nil where it says nothing of them
	Needs  []string  // kit, by its name in the book; nothing where it needs none
	// StandIns is kit that stands in for kit that it needs, the nearest first, by that.
	StandIns map[string][]string
	Best     Best // what athletes test of it
	Paces    []Pace
	Unbroken *Levels // repetitions, metres, or seconds of a hold, before a pause in a mixed piece
	// UnbrokenPer is what Unbroken counts: "m"; empty for repetitions, and for seconds of a hold.
	UnbrokenPer string
	// Class is the share of a mixed class that can do it at all: its figures are of those. Nil where
	// everybody can.
	Class    *Share
	SetUp    []string
	Standard []string // what makes a repetition count
	Cues     []string
	Faults   []string
	Cautions []string
	Easier   []string
	Harder   []string
	Instead  []string // of the same pattern with other kit or none, the most useful first
	At       source.Place
}

// Held says whether it is a hold: there is nothing of it to count, and only how long it lasts to tell.
func (m *Movement) Held() bool {
	return m != nil && len(m.Paces) == 0 && m.Unbroken != nil && m.UnbrokenPer == ""
}

// Main is the pattern that a movement chiefly trains, and empty for a duty.
func (m *Movement) Main() Pattern {
	if len(m.Trains) == 0 {
		return ""
	}
	return m.Trains[0]
}

// Called says whether a word is the movement's own name, whatever its hyphens, case and
// plural, and not another name for it.
func (m *Movement) Called(word string) bool { return Called(m.Name, word) }

// Called says whether a word is a name, whatever its hyphens, case and plural.
func Called(name, word string) bool {
	return Key(word) == Key(name) || slices.Contains(plurals(name), Key(word))
}

// Ways are the pieces of kit of which it needs one, for each that it needs: first that, and then
// what stands in for it.
func (m *Movement) Ways() [][]string {
	out := make([][]string, len(m.Needs))
	for i, n := range m.Needs {
		out[i] = append([]string{n}, m.StandIns[n]...)
	}
	return out
}

// Kit is all kit that it is done with, in one way or another.
func (m *Movement) Kit() []string { return slices.Concat(m.Ways()...) }

// NeedsText are its needs as a sentence has them: dumbbell, box or bench.
func (m *Movement) NeedsText() []string {
	var out []string
	for _, w := range m.Ways() {
		out = append(out, strings.Join(w, " or "))
	}
	return out
}

// Pace is how long a fast, a typical and a slow member take.
type Pace struct {
	Levels
	Per  string // "rep", "m", "cal" or "breath"
	Load string // the load at which the pace was taken, as written: "24/16 kg"; empty if none is said
}

// Levels is a figure for a fast, a typical and a slow member: the 10th, 50th and 90th
// percentile of a house's members. Paces are in seconds, unbroken counts in
// repetitions, metres or seconds.
type Levels struct {
	Fast    float64 `json:"fast"`
	Typical float64 `json:"typical"`
	Slow    float64 `json:"slow"`
	Source  string  `json:"source,omitempty"` // where the figure comes from, as its note says
}

// A Share is a share of a mixed class.
type Share struct {
	Of     float64 // more than 0, at most 1
	AtMost bool    // how many it is has not been counted, and no more than that
	Source string  // where the figure comes from, as its note says
}

// Skill says whether there are people who cannot do it at all, whatever they are given for it.
func (m *Movement) Skill() bool {
	return m != nil && m.Class != nil && (m.Class.Of < 1 || m.Class.AtMost)
}

// Pace returns the movement's pace per unit ("rep", "m", "cal", "breath"), if it has one.
func (m *Movement) Pace(per string) (Pace, bool) {
	i := slices.IndexFunc(m.Paces, func(p Pace) bool { return p.Per == per })
	if i < 0 {
		return Pace{}, false
	}
	return m.Paces[i], true
}

// A Book is a set of movements with the words that lead to them. It never changes
// once made.
type Book struct {
	list  []*Movement
	names map[string]*Movement   // by the key of a name, singular or plural
	also  map[string][]*Movement // by the key of another name; more than one: unclear
	kit   map[string]string      // the name of a piece of kit by its key
	// kitAlso are the other words for a piece of kit, by its name.
	kitAlso map[string][]string
}

// Movements lists all movements by name.
func (b *Book) Movements() []*Movement { return b.list }

// Lookup finds the movement that a word stands for, whatever its hyphens, plural and
// case, and whether it spells its kit out or not: a KB swing is a kettlebell swing. Where two
// movements claim the word and neither is called by it, the word is unclear: m is nil, and claims
// names them.
func (b *Book) Lookup(name string) (m *Movement, claims []*Movement) {
	if m, claims = b.lookup(name); m != nil || len(claims) > 0 {
		return m, claims
	}
	long, kit, short := spelledOut(name)
	if long == "" {
		return nil, nil
	}
	if m, claims = b.lookup(long); m != nil || len(claims) > 0 || short == "" {
		return m, claims
	}
	// A BB back squat is the back squat, which needs a barbell.
	m, claims = b.lookup(short)
	if m != nil && slices.Contains(m.Kit(), kit) {
		return m, nil
	}
	claims = slices.DeleteFunc(slices.Clone(claims), func(c *Movement) bool { return !slices.Contains(c.Kit(), kit) })
	if len(claims) == 1 {
		return claims[0], nil
	}
	return nil, claims
}

// spelledOut is a name with its kit spelled out, and empty where none is in short. Where the name
// starts with it, short is the name without it.
func spelledOut(name string) (long, kit, short string) {
	words := strings.Fields(name)
	for i, w := range words {
		full := kitLetters[strings.ToLower(w)]
		if full == "" {
			continue
		}
		if i == 0 {
			short = strings.Join(words[1:], " ")
		}
		words[i], kit = full, full
		long = strings.Join(words, " ")
	}
	return long, kit, short
}

func (b *Book) lookup(name string) (m *Movement, claims []*Movement) {
	k := Key(name)
	if m := b.names[k]; m != nil {
		return m, nil
	}
	switch claims := b.also[k]; len(claims) {
	case 0:
		return nil, nil
	case 1:
		return claims[0], nil
	default:
		return nil, claims
	}
}

// Kit finds the name of a piece of kit, whatever its hyphens, plural and case.
func (b *Book) Kit(name string) (string, bool) {
	k, ok := b.kit[Key(name)]
	return k, ok
}

// KitNames lists the kit that the book's movements need, by name.
func (b *Book) KitNames() []string {
	var out []string
	for _, k := range b.kit {
		out = append(out, k)
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// KitAlso are the other words that lead to a piece of kit, by name.
func (b *Book) KitAlso(name string) []string { return b.kitAlso[name] }

// Near names the movements that a name may mean, the nearest first: those a few slips
// away or, where there are none, those that share most of its words.
func (b *Book) Near(name string, most int) []string {
	near := b.Slips(name)
	if len(near) == 0 {
		near = b.sharing(name)
	}
	return near[:min(most, len(near))]
}

// Slips names the movements that are a few slips of the fingers away from a name, the
// nearest first.
func (b *Book) Slips(name string) []string {
	words := make(map[string]string, len(b.names)) // the key as typed to the name
	var keys []string
	for k, m := range b.names {
		words[k] = m.Name
		keys = append(keys, k)
	}
	for k, ms := range b.also {
		if len(ms) == 1 {
			words[k] = ms[0].Name
			keys = append(keys, k)
		}
	}
	var out []string
	for _, k := range syntax.Nearest(Key(name), keys, 2) {
		if n := words[k]; !slices.Contains(out, n) && !b.otherWords(name, n) {
			out = append(out, n)
		}
	}
	return out
}

// otherWords says whether a name differs from a movement's by nothing but words that the book has itself, so that
// it is no slip of the fingers: a press is no pass.
func (b *Book) otherWords(name, other string) bool {
	ws, os := words(name), words(other)
	if len(ws) != len(os) {
		return false
	}
	differ := false
	for i := range ws {
		if Key(ws[i]) == Key(os[i]) {
			continue
		}
		if differ = true; !slices.ContainsFunc(b.list, func(m *Movement) bool {
			return slices.ContainsFunc(words(m.Name), func(w string) bool { return Key(w) == Key(ws[i]) })
		}) {
			return false
		}
	}
	return differ
}

// endingIn names the movements of which a name is the last words, such as "floor press" of the
// dumbbell floor press; none where there are so many that the name says too little.
func (b *Book) endingIn(name string) []string {
	var out []string
	for _, m := range b.list {
		ws := words(m.Name)
		for i := 1; i < len(ws); i++ {
			if Key(strings.Join(ws[i:], " ")) == Key(name) {
				out = append(out, m.Name)
			}
		}
	}
	if len(out) > maxEndingIn {
		return nil
	}
	return out
}

// maxEndingIn is how many movements are offered for their last words.
const maxEndingIn = 4

// sharing names the movements that have words in common with a name, most first.
func (b *Book) sharing(name string) []string {
	want := map[string]bool{}
	for _, w := range words(name) {
		want[Key(w)] = true
	}
	type near struct {
		name         string
		kind         int // 1 where the last word is shared, which says what kind of movement it is
		shared, rest int
	}
	last := func(ws []string) string {
		if len(ws) == 0 {
			return ""
		}
		return Key(ws[len(ws)-1])
	}
	kind := last(words(name))
	var found []near
	for _, m := range b.list {
		n := near{name: m.Name}
		ws := words(m.Name)
		if last(ws) == kind {
			n.kind = 1
		}
		for _, w := range ws {
			if want[Key(w)] {
				n.shared++
			}
		}
		if n.rest = len(ws) - n.shared; n.shared > 0 {
			found = append(found, n)
		}
	}
	slices.SortStableFunc(found, func(a, b near) int { return cmp.Or(b.kind-a.kind, b.shared-a.shared, a.rest-b.rest) })
	if len(found) > 0 && found[0].kind == 1 { // never another kind
		found = slices.DeleteFunc(found, func(n near) bool { return n.kind == 0 })
	}
	out := make([]string, len(found))
	for i, f := range found {
		out[i] = f.name
	}
	return out
}

// Make makes a book of movements. Two with one name, or one whose name is another's
// also, cannot both be in it: the later one is left out and reported.
func Make(ms []*Movement) (*Book, []diag.Diagnostic) {
	b := &Book{names: map[string]*Movement{}, also: map[string][]*Movement{}, kit: map[string]string{}, kitAlso: map[string][]string{}}
	var ds []diag.Diagnostic
	for _, m := range ms {
		if old := b.names[Key(m.Name)]; old != nil {
			ds = append(ds, taken(m, old))
			continue
		}
		b.names[Key(m.Name)] = m
		b.list = append(b.list, m)
	}
	// A plural or another name never hides a movement that is called by it.
	for _, m := range b.list {
		for _, k := range plurals(m.Name) {
			if b.names[k] == nil {
				b.names[k] = m
			}
		}
	}
	for _, m := range b.list {
		for _, a := range m.Also {
			for _, k := range append(plurals(a), Key(a)) {
				if old := b.names[k]; old != nil && old != m && Key(old.Name) == k {
					ds = append(ds, taken(m, old))
					break
				}
				if !slices.Contains(b.also[k], m) {
					b.also[k] = append(b.also[k], m)
				}
			}
		}
		for _, n := range m.Kit() {
			b.addKit(n, n)
		}
	}
	for _, k := range kitNames {
		if b.kit[Key(k.name)] == k.name {
			for _, also := range k.also {
				b.addKit(also, k.name)
			}
		}
	}
	slices.SortFunc(b.list, func(a, b *Movement) int { return strings.Compare(a.Name, b.Name) })
	return b, ds
}

// addKit lets a word lead to a piece of kit, where it leads to none yet.
func (b *Book) addKit(word, name string) {
	if _, taken := b.kit[Key(word)]; !taken && !Called(name, word) {
		b.kitAlso[name] = append(slices.Clip(b.kitAlso[name]), word)
	}
	for _, k := range append(plurals(word), Key(word)) {
		if _, ok := b.kit[k]; !ok {
			b.kit[k] = name
		}
	}
}

// A KitWord is a word for kit, and other words that lead to the same.
type KitWord struct {
	Name string
	Also []string
}

// WithKit is the book with more words for kit, such as those of a house's list.
func (b *Book) WithKit(words []KitWord) *Book {
	c := *b
	c.kit, c.kitAlso = maps.Clone(b.kit), maps.Clone(b.kitAlso)
	for _, w := range words {
		name, known := c.Kit(w.Name)
		if !known {
			name = w.Name
		}
		c.addKit(w.Name, name)
		for _, also := range w.Also {
			c.addKit(also, name)
		}
	}
	return &c
}

// NeededBy are the movements that are done with a piece of kit, in one way or another, by name.
func (b *Book) NeededBy(kit string) []*Movement {
	var out []*Movement
	for _, m := range b.list {
		if slices.ContainsFunc(m.Kit(), func(k string) bool { return Key(k) == Key(kit) }) {
			out = append(out, m)
		}
	}
	return out
}

func taken(m, old *Movement) diag.Diagnostic {
	d := diag.Diagnostic{Rule: NameTaken, Severity: diag.Error, At: m.At,
		Message: fmt.Sprintf("%s is called by a name that %s has already", m.Name, old.Name),
		Help:    "call one of them otherwise, or write both as one movement"}
	if old.At.File != nil && old.At.File != m.At.File || old.At.File == m.At.File && old.At.Start != m.At.Start {
		d.Related = []diag.Related{{At: old.At, Message: "the other is here"}}
	}
	return d
}

// With is the book with a workspace's own movements. One that the book has too changes
// those properties that it states and keeps the others.
func (b *Book) With(own []*Movement) (*Book, []diag.Diagnostic) {
	all := slices.Clone(b.list)
	for _, m := range own {
		i := slices.IndexFunc(all, func(o *Movement) bool { return Key(o.Name) == Key(m.Name) })
		if i < 0 || slices.Contains(own, all[i]) {
			all = append(all, m)
			continue
		}
		all[i] = merge(all[i], m)
	}
	return Make(all)
}

func merge(old, m *Movement) *Movement {
	c := *m
	c.Also = append(slices.Clone(old.Also), m.Also...)
	for _, f := range []struct{ to, from *[]string }{{&c.SetUp, &old.SetUp}, {&c.Standard, &old.Standard},
		{&c.Cues, &old.Cues}, {&c.Faults, &old.Faults}, {&c.Cautions, &old.Cautions}, {&c.Easier, &old.Easier},
		{&c.Harder, &old.Harder}, {&c.Instead, &old.Instead}} {
		if len(*f.to) == 0 {
			*f.to = *f.from
		}
	}
	if c.Needs == nil {
		c.Needs, c.StandIns = old.Needs, old.StandIns
	}
	if len(c.Trains) == 0 {
		c.Trains = old.Trains
	}
	if c.Joints == nil {
		c.Joints = old.Joints
	}
	if len(c.Paces) == 0 {
		c.Paces = old.Paces
	}
	if c.Unbroken == nil {
		c.Unbroken, c.UnbrokenPer = old.Unbroken, old.UnbrokenPer
	}
	c.Class = cmp.Or(c.Class, old.Class)
	c.Best = cmp.Or(c.Best, old.Best)
	return &c
}
