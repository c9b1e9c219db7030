package completion

import (
	"cmp"
	"slices"
	"strings"
	"sync/atomic"

	"stint.example/stint/lang/analysis/equipment"
	"stint.example/stint/lang/analysis/totals"
	"stint.example/stint/lang/book"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/refs"
	"stint.example/stint/lang/render/prose"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/units"
)

// movements offers movements. Rank says how likely one is, and whether it is offered at
// all.
func (h *here) movements(rank func(*book.Movement) (int, bool)) {
	all := h.entries()
	for i := range all {
		e := &all[i]
		if how, also := h.fits(e.names); how != unfit {
			if n, ok := rank(e.m); ok {
				n -= e.common
				h.items = append(h.items, Item{Label: e.m.Name, New: e.m.Name, Kind: Movement, Detail: e.detail, Ref: e.ref, Also: also, how: how, rank: n})
			}
		}
	}
}

// An entry is a movement as it is offered.
type entry struct {
	m      *book.Movement
	detail string
	ref    refs.ID
	names  []spelled // its own first
	common int       // how often it is written here, to commonest
}

// made are the entries of the book that was asked for last: mostly there is one.
var made atomic.Pointer[struct {
	of      *book.Book
	entries []entry
}]

func (h *here) entries() []entry {
	b := h.snap.Env.Book
	if m := made.Load(); m != nil && m.of == b {
		return m.entries
	}
	common := h.common()
	out := make([]entry, 0, len(b.Movements()))
	for _, m := range b.Movements() {
		detail := string(m.Main())
		if len(m.Needs) > 0 {
			detail = strings.TrimPrefix(detail+", "+strings.Join(m.Needs, ", "), ", ")
		}
		out = append(out, entry{m, detail, refs.ID{Kind: refs.Movement, Key: book.Key(m.Name)}, spell(append([]string{m.Name}, m.Also...)...), min(common[book.Key(m.Name)], commonest)})
	}
	made.Store(&struct {
		of      *book.Book
		entries []entry
	}{b, out})
	return out
}

// asked is how many sessions are asked which movements are common.
const asked = 200

// common counts how often movements are written, in some of the workspace's sessions. It is
// done once for a book: what is common does not change from one key press to the next.
func (h *here) common() map[string]int {
	out := map[string]int{}
	step := 1 + len(h.snap.Files)/asked
	for i := 0; i < len(h.snap.Files); i += step {
		f := h.snap.Files[i]
		if len(f.Decls.Sessions) == 0 {
			continue
		}
		for _, r := range f.Refs() {
			if r.Kind == refs.Movement {
				out[r.Key]++
			}
		}
	}
	return out
}

func (h *here) everyMovement(*book.Movement) (int, bool) { return 0, true }

// How likely a movement is on a line of work; less is likelier.
const (
	commonest = 999    // the most that being common counts
	fresh     = 0      // its pattern is not in the part yet
	again     = 1000   // it is
	unlikely  = 3000   // a duty, or a stretch outside the warm-up
	unfitting = 5000   // it is not counted so
	unstocked = 10_000 // the kit for it is not there
)

// likely ranks movements for a line of work: those first that there is kit for, in the
// version that is written or in the house, and that train what the part does not train yet.
func (h *here) likely(m *book.Movement) (int, bool) {
	rank := fresh
	if slices.Contains(h.patterns(), m.Main()) {
		rank = again
	}
	easy := h.part != nil && h.part.Kind != model.Part
	if stretch := m.Main() == book.Mobility; m.Main() == "" || stretch && !easy {
		rank = unlikely
	} else if stretch && h.part.Kind == model.CoolDown {
		rank = fresh - 1000
	}
	if !h.counted(m) {
		rank += unfitting
	}
	if !h.stocked(m) {
		rank += unstocked
	}
	return rank, true
}

// counted says whether a movement is counted in what stands before the cursor: a number
// with a unit, or without one.
func (h *here) counted(m *book.Movement) bool {
	i := h.before
	for i > 0 && h.toks[i-1].Kind == syntax.Word {
		i--
	}
	if i == 0 {
		return true
	}
	per := ""
	switch t := h.toks[i-1]; t.Kind {
	case syntax.Number:
		per = "rep"
	case syntax.Unit:
		if u, ok := units.Lookup(t.Text); ok {
			switch u.Dimension() {
			case units.Length:
				per = "m"
			case units.Energy:
				per = "cal"
			}
		}
	}
	if len(m.Paces) == 0 { // a hold, a stretch or a duty
		return per == "" || per == "rep"
	}
	_, ok := m.Pace(per)
	return per == "" || ok
}

// patterns are the main patterns of the movements in the part.
func (h *here) patterns() []book.Pattern {
	if h.part == nil {
		return nil
	}
	var out []book.Pattern
	for w := range h.part.Lines(model.InsideEvents) {
		if w.At.Contains(h.off) {
			continue
		}
		for _, m := range w.Moves {
			if m.Movement != nil {
				out = append(out, m.Movement.Main())
			}
		}
	}
	return out
}

// stocked says whether there is the kit for a movement: in the version, or in the house,
// where that lists any.
func (h *here) stocked(m *book.Movement) bool {
	has := func(k string) bool { return true }
	switch {
	case h.version != nil && h.version.HasOnly:
		has = func(k string) bool {
			return slices.ContainsFunc(h.version.Has, func(o string) bool { return book.Key(o) == book.Key(k) })
		}
	case len(h.snap.Env.House.Kit) > 0:
		has = func(k string) bool {
			return slices.ContainsFunc(h.snap.Env.House.Kit, func(o model.KitItem) bool {
				name, _ := h.snap.Env.Book.Kit(o.Name)
				return book.Key(name) == book.Key(k)
			})
		}
	}
	for _, k := range m.Needs {
		if !has(k) {
			return false
		}
	}
	return true
}

// swapSides offers the session's own lines, for the left side of a swap: those first that
// the version does not change yet and cannot do with its kit.
func (h *here) swapSides() {
	if h.session == nil || h.version == nil {
		return
	}
	done := map[string]bool{}
	for w := range h.version.Session.Lines(model.Everything) {
		if w.Written != w.At {
			for _, m := range h.movesAt(w) {
				done[m] = true
			}
		}
	}
	seen := map[string]bool{}
	for w := range h.session.Lines(model.Everything) {
		for _, m := range w.Moves {
			if m.Movement == nil || seen[m.Name] {
				continue
			}
			seen[m.Name] = true
			rank := -200*unstocked + len(seen)
			if h.stocked(m.Movement) {
				rank += 50 * unstocked
			}
			if done[m.Name] {
				rank += 100 * unstocked
			}
			h.add(Item{
				Label: m.Name + " ->", New: m.Name + " -> ", Kind: Line, Detail: "swap it", rank: rank,
				Ref: refs.ID{Kind: refs.Movement, Key: book.Key(m.Name)},
			})
		}
	}
}

// movesAt are the movements of the session as written whose line a version's line is in
// the place of.
func (h *here) movesAt(w *model.Work) []string {
	var out []string
	for o := range h.session.Lines(model.Everything) {
		if o.At == w.Written {
			for _, m := range o.Moves {
				out = append(out, m.Name)
			}
		}
	}
	return out
}

// instead ranks movements for the right side of a swap: what the book has instead of the
// one on the left first, as far as there is kit for it, then the easier ones, then those of
// its pattern.
func (h *here) instead(of *book.Movement) func(*book.Movement) (int, bool) {
	return func(m *book.Movement) (int, bool) {
		rank, ok := h.likely(m)
		if of == nil {
			return rank, ok
		}
		named := func(names []string) int {
			return slices.IndexFunc(names, func(n string) bool { return book.Key(n) == book.Key(m.Name) })
		}
		switch {
		case m == of:
			return 2 * unstocked, true
		case named(of.Instead) >= 0:
			rank = -9000 + named(of.Instead)*commonest/10
		case named(of.Easier) >= 0:
			rank = -7000 + named(of.Easier)
		case m.Main() == of.Main():
			rank = -4000
		default:
			rank = max(rank, 0)
		}
		if !h.stocked(m) {
			rank += unstocked
		}
		return rank, ok
	}
}

// movementAt is the movement whose name stands between two tokens.
func (h *here) movementAt(from, to int) *book.Movement {
	to = min(to, len(h.toks))
	if from >= to {
		return nil
	}
	text := h.text[h.toks[from].Start:h.toks[to-1].End]
	m, _ := h.snap.Env.Book.Lookup(text)
	return m
}

// lineMovement is the movement of the line before a token.
func (h *here) lineMovement(before int) *book.Movement {
	end := before
	for end > 0 && h.toks[end-1].Kind != syntax.Word {
		end--
	}
	start := end
	for start > 0 && h.toks[start-1].Kind == syntax.Word {
		start--
	}
	// The words of a head or a lead may stand before the name.
	for ; start < end; start++ {
		if m := h.movementAt(start, end); m != nil {
			return m
		}
	}
	return nil
}

// total offers what the session comes to, movement by movement.
func (h *here) total() {
	i := h.commaOr(1)
	h.span(i, func(t syntax.Tok) bool {
		return t.Kind != syntax.Comma && t.Kind != syntax.Note && t.Kind != syntax.Comment
	})
	s := h.session
	if h.version != nil {
		s = h.version.Session
	}
	if s == nil {
		return
	}
	t := totals.OfSession(s, len(h.snap.Env.House.Tiers))
	if h.ctx == syntax.InGroup && h.part != nil {
		t = totals.OfGroup(h.part, len(h.snap.Env.House.Tiers))
	}
	if t.Unread {
		if t = h.without(); t == nil || t.Unread {
			return
		}
	}
	stated := strings.ToLower(h.text)
	for _, r := range t.Rows {
		open := slices.ContainsFunc(r.Tiers, func(s totals.Sum) bool { return !s.Exact() })
		if open || r.Unread || r.Unit == "s" {
			continue
		}
		text := prose.Sum(r) + " " + r.Movement
		rank := 0
		if strings.Contains(stated, strings.ToLower(r.Movement)) {
			rank = 5
		}
		h.add(Item{Label: text, New: text, Kind: Line, Detail: "what the lines come to", rank: rank, keys: []string{r.Movement},
			Ref: refs.ID{Kind: refs.Movement, Key: book.Key(r.Movement)}})
	}
}

// without is what the session comes to without the line that is being written, which may
// well be one that cannot be read yet.
func (h *here) without() *totals.Totals {
	src := h.file.Src
	line := src.Line(src.LineAt(h.off))
	f := syntax.Parse(source.New(src.Name, src.Text[:line.Start]+src.Text[line.End:]))
	for _, s := range model.Resolve(f, h.snap.Env).Sessions {
		if s.Name == h.session.Name && h.version == nil && h.ctx == syntax.InFile {
			return totals.OfSession(s, len(h.snap.Env.House.Tiers))
		}
		for _, v := range s.Versions {
			if s.Name == h.session.Name && h.version != nil && v.Name == h.version.Name {
				return totals.OfSession(v.Session, len(h.snap.Env.House.Tiers))
			}
		}
		for _, p := range s.Parts {
			if s.Name == h.session.Name && h.part != nil && p.Kind == h.part.Kind && p.Letter == h.part.Letter {
				return totals.OfGroup(p, len(h.snap.Env.House.Tiers))
			}
		}
	}
	return nil
}

// loadsFor offers loads behind the @ at a token, for a movement if it is known.
func (h *here) loadsFor(at int, m *book.Movement, version *model.Version) {
	h.span(at+1, func(t syntax.Tok) bool {
		return t.Kind != syntax.At && t.Kind != syntax.Comma && t.Kind != syntax.Note && t.Kind != syntax.Comment && t.Kind != syntax.Arrow && t.Kind != syntax.Until
	})
	rank := 0
	add := func(text, detail string) {
		if slices.ContainsFunc(h.items, func(o Item) bool { return o.Label == text }) {
			return
		}
		h.add(Item{Label: text, New: text, Kind: Value, Detail: detail, rank: rank})
		rank++
	}
	for _, l := range h.loadsHere(m) {
		add(l, "as elsewhere in this session")
	}
	if version == nil || !version.HasOnly {
		h.weights(m, add)
	}
	if m != nil && m.Best == book.BestLoad || m == nil {
		for _, p := range []string{"70%", "75%", "80%", "85%", "70 to 80%"} {
			add(p, "of a one-repetition maximum")
		}
		add("80% of today", "of the heaviest of this session")
	}
	if m == nil || len(m.Paces) == 0 || slices.ContainsFunc(m.Paces, func(p book.Pace) bool { return p.Per == "rep" }) {
		add("RPE 8", "two repetitions left")
		add("2 RIR", "two repetitions in reserve")
		add("rising", "more each turn, as the athlete chooses")
		add("bodyweight", "as heavy as the athlete")
	}
	if m == nil || slices.ContainsFunc(m.Paces, func(p book.Pace) bool { return p.Per == "m" || p.Per == "cal" }) {
		add("2:00 per 500 m", "a pace")
	}
	efforts := make([]string, 0, len(h.snap.Env.House.Efforts))
	byWord := h.effortWords()
	for w := range byWord {
		efforts = append(efforts, w)
	}
	least := func(w string) float64 {
		if q := byWord[w]; q != nil && len(q.Terms) > 0 {
			return q.Terms[0][0]
		}
		return 0
	}
	slices.SortFunc(efforts, func(a, b string) int { return cmp.Or(cmp.Compare(least(a), least(b)), strings.Compare(a, b)) })
	for _, w := range efforts {
		add(w, prose.Amount(byWord[w]))
	}
	add("effort 80%", "of the hardest")
}

// effortWords are the house's words for how hard, as they are written.
func (h *here) effortWords() map[string]*model.Quantity {
	out := map[string]*model.Quantity{}
	for key, q := range h.snap.Env.House.Efforts {
		out[effortName(q, key)] = q
	}
	return out
}

// effortName is a word for how hard as its line has it: the words between effort and the
// number.
func effortName(q *model.Quantity, key string) string {
	src := q.At.File
	if src == nil {
		return key
	}
	line := src.Slice(src.Line(src.LineAt(q.At.Start)))
	_, rest, ok := strings.Cut(line, "effort ")
	if i := strings.IndexAny(rest, "0123456789"); ok && i > 0 && book.Key(rest[:i]) == key {
		return strings.ToLower(strings.Join(strings.Fields(rest[:i]), " "))
	}
	return key
}

// loadsHere are the loads that the session has a movement with.
func (h *here) loadsHere(m *book.Movement) []string {
	if m == nil || h.session == nil {
		return nil
	}
	var out []string
	for w := range h.session.Lines(model.Everything) {
		if len(w.Moves) == 0 || w.Moves[0].Movement != m || w.At.Contains(h.off) {
			continue
		}
		for _, l := range w.Loads {
			if text := prose.Load(l); text != "" && !slices.Contains(out, text) {
				out = append(out, text)
			}
		}
	}
	return out
}

// weights offers the weights and heights that the house has of a movement's kit: in pairs,
// where members choose between two tiers, and one by one.
func (h *here) weights(m *book.Movement, add func(text, detail string)) {
	if m == nil {
		return
	}
	for _, k := range m.Needs {
		if slices.Contains(equipment.BarKinds, k) {
			continue // discs make any weight
		}
		for _, kind := range []syntax.LoadKind{syntax.Mass, syntax.Height} {
			things := equipment.Owned(h.snap.Env.Book, h.snap.Env.House, k, kind)
			slices.Reverse(things) // the heaviest first, as tiers are written
			if len(h.snap.Env.House.Tiers) == 2 {
				for i := 0; i+1 < len(things); i++ {
					if a, b := amountOf(things[i], kind), amountOf(things[i+1], kind); a.unit == b.unit && a.n != b.n {
						add(a.n+"/"+b.n+" "+a.unit, "the house's "+k)
					}
				}
			}
			for _, t := range things {
				a := amountOf(t, kind)
				add(a.n+" "+a.unit, "the house's "+k)
			}
		}
	}
}

type amount struct{ n, unit string }

// amountOf is a thing's weight or height, in the unit that the house writes it in.
func amountOf(t equipment.Thing, kind syntax.LoadKind) amount {
	base := "kg"
	if kind == syntax.Height {
		base = "m"
	}
	unit := base
	if t.Written != "" {
		unit = t.Written
	}
	return amount{prose.Value(t.Value, base, t.Written), unit}
}
