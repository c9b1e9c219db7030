package completion

import (
	"slices"
	"strings"
	"sync/atomic"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/check/rules"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/refs"
	"stint.example/stint/lang/syntax"
)

// scalings offers the versions that the house declares, from a token on.
func (h *here) scalings(from int) {
	h.name(h.commaOr(from))
	for i, s := range h.snap.Env.House.Scalings {
		rank := i
		if h.hasScaling(s.Name) {
			rank += 100
		}
		h.add(Item{Label: s.Name, New: s.Name, Kind: Name, Detail: s.Note, rank: rank, Ref: refs.ID{Kind: refs.Scaling, Key: book.Key(s.Name)}})
	}
	if h.session != nil && h.behindWord("from") > 0 {
		h.versions(h.session)
	}
}

// hasScaling says whether the session writes a version of its own. That which is being
// written does not count.
func (h *here) hasScaling(name string) bool {
	if h.session == nil {
		return false
	}
	v := h.session.FindVersion(name)
	return v != nil && v.At.File == h.file.Src && !v.At.Contains(h.off)
}

// versions offers the versions of a session.
func (h *here) versions(s *model.Session) {
	for i, v := range s.Versions {
		if !slices.ContainsFunc(h.items, func(o Item) bool { return o.Label == v.Name }) {
			h.add(Item{Label: v.Name, New: v.Name, Kind: Name, Detail: v.Note, rank: i, Ref: refs.ID{Kind: refs.Scaling, Key: book.Key(v.Name), In: book.Key(s.Name)}})
		}
	}
}

// rules offers the rules that can be waived, behind allow: those first that draw something
// in this file.
func (h *here) rules() { h.ruleNames(h.commaOr(1)) }

func (h *here) ruleNames(from int) {
	h.span(from, namelike)
	drawn := map[string]bool{}
	for _, d := range h.snap.Diagnostics(h.file) {
		drawn[d.Rule] = true
	}
	for i, r := range rules.All() {
		if r.Fixed {
			continue
		}
		rank := 100 + i
		if drawn[r.Name] {
			rank = i
		}
		h.add(Item{Label: r.Name, New: r.Name, Kind: Name, Detail: r.Summary, rank: rank, Ref: refs.ID{Kind: refs.Rule, Key: book.Key(r.Name)}})
	}
}

// kitNames offers kit from a token on: the house's own first.
func (h *here) kitNames(from int) {
	h.name(from)
	own := map[string]int{}
	for _, k := range h.snap.Env.House.Kit {
		own[book.Key(k.Name)] += k.Count
		if name, ok := h.snap.Env.Book.Kit(k.Name); ok && book.Key(name) != book.Key(k.Name) {
			own[book.Key(name)] += k.Count
		}
	}
	for _, name := range h.kit() {
		it := Item{Label: name, New: name, Kind: Kit, Ref: refs.ID{Kind: refs.Kit, Key: book.Key(name)}}
		if own[book.Key(name)] == 0 && len(own) > 0 {
			it.rank, it.Detail = unstocked, "not on the house's list"
		}
		for _, s := range h.snap.Env.House.Scalings {
			if slices.Contains(s.Has, name) {
				it.rank-- // what versions are made for is likely
			}
		}
		h.add(it)
	}
	if h.ctx == syntax.InScaling || h.ctx == syntax.InHouseScaling {
		h.add(Item{Label: "nothing", New: "nothing", Kind: Value, Detail: "no kit at all", rank: 9})
	}
}

// kit are the pieces of kit that movements need and the house lists, but for one that is
// being written.
func (h *here) kit() []string {
	var out []string
	for _, m := range h.snap.Env.Book.Movements() {
		for _, k := range m.Needs {
			if m.At.File != h.file.Src || book.Key(k) != book.Key(h.file.Src.Text[h.from:h.off]) {
				out = append(out, k)
			}
		}
	}
	for _, k := range h.snap.Env.House.Kit {
		if k.At.File == h.file.Src && k.At.Contains(h.off) {
			continue
		}
		if name, ok := h.snap.Env.Book.Kit(k.Name); ok {
			out = append(out, name)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// kitLine offers what may stand on a line of the house's kit.
func (h *here) kitLine() {
	switch {
	case h.word(0) == "allow":
		h.rules()
	case h.toks[0].Kind == syntax.Number && h.last(syntax.At) < 0:
		h.kitNames(1)
	}
}

// day offers sessions for a day of a cycle, and behind a comma the versions of the one that
// is planned: those first that no day has yet.
func (h *here) day() {
	if i := h.last(syntax.Comma); i > 0 {
		from := 1
		for from < i && h.toks[from].Kind != syntax.Word { // the time of the day
			from++
		}
		if from >= i {
			return
		}
		name := h.text[h.toks[from].Start:h.toks[i-1].End]
		h.name(i + 1)
		if s, _ := h.snap.Session(name); s != nil {
			h.versions(s)
		}
		return
	}
	from := 1
	for from < h.before && h.toks[from].Kind != syntax.Word {
		from++
	}
	h.span(from, namelike)
	h.add(Item{Label: "rest", New: "rest", Kind: Value, Detail: "a day of rest", rank: 1})
	planned, free := 0, 0
	for i := range sessions(h.snap.Env) {
		s := &sessions(h.snap.Env)[i]
		how, _ := h.fits(s.names)
		if how == unfit {
			continue
		}
		rank, n := 0, &free
		if h.snap.IsPlanned(s.key) {
			rank, n = 2, &planned
		}
		if *n++; *n > most && h.from == h.off {
			continue // they come by name, and no better one follows
		}
		h.items = append(h.items, Item{Label: s.name, New: s.name, Kind: Name, Detail: "session", rank: rank, how: how, Ref: refs.ID{Kind: refs.Session, Key: s.key}})
	}
}

// A titled is a session's name and its key.
type titled struct {
	name, key string
	names     []spelled
}

// listed are the sessions of the env that was asked for last.
var listed atomic.Pointer[struct {
	of       *model.Env
	sessions []titled
}]

func sessions(env *model.Env) []titled {
	if l := listed.Load(); l != nil && l.of == env {
		return l.sessions
	}
	out := make([]titled, 0, len(env.Sessions))
	for k, n := range env.Sessions {
		out = append(out, titled{n, k, spell(n)})
	}
	slices.SortFunc(out, func(a, b titled) int { return strings.Compare(a.name, b.name) })
	listed.Store(&struct {
		of       *model.Env
		sessions []titled
	}{env, out})
	return out
}
