package completion

import (
	"slices"
	"strings"
	"sync/atomic"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/refs"
	"stint.example/stint/lang/syntax"
)

// day offers sessions for a day of a cycle, and behind a comma the versions of the one that
// is planned: those first that no day has yet.
func (c *completer) day() {
	if i := c.last(syntax.Comma); i > 0 {
		from := 1
		for from < i && c.toks[from].Kind != syntax.Word { // the time of the day
			from++
		}
		if from >= i {
			return
		}
		name := c.text[c.toks[from].Start:c.toks[i-1].End]
		c.name(i + 1)
		if s, _ := c.snap.Session(name); s != nil {
			c.versions(s)
		}
		return
	}
	from := 1
	for from < c.before && c.toks[from].Kind != syntax.Word {
		from++
	}
	c.span(from, isNameToken)
	c.add(Suggestion{Label: "rest", New: "rest", Kind: Value, Detail: "a day of rest", rank: 1})
	planned, free := 0, 0
	for i := range sessions(c.snap.Env) {
		s := &sessions(c.snap.Env)[i]
		how, _ := c.match(s.names)
		if how == noMatch {
			continue
		}
		rank, n := 0, &free
		if c.snap.IsPlanned(s.key) {
			rank, n = 2, &planned
		}
		if *n++; *n > maxItems && c.from == c.off {
			continue // they come by name, and no better one follows
		}
		c.items = append(c.items, Suggestion{Label: s.name, New: s.name, Kind: Name, Detail: "session", rank: rank,
			matchQuality: how, Ref: refs.ID{Kind: refs.Session, Key: s.key}})
	}
}

// A sessionName is a session's name and its key.
type sessionName struct {
	name, key string
	names     []searchName
}

// cachedSessions are the sessions of the env that was asked for last.
var cachedSessions atomic.Pointer[struct {
	of       *model.Env
	sessions []sessionName
}]

func sessions(env *model.Env) []sessionName {
	if l := cachedSessions.Load(); l != nil && l.of == env {
		return l.sessions
	}
	out := make([]sessionName, 0, len(env.Sessions))
	for k, n := range env.Sessions {
		out = append(out, sessionName{n, k, searchNames(n)})
	}
	slices.SortFunc(out, func(a, b sessionName) int { return strings.Compare(a.name, b.name) })
	cachedSessions.Store(&struct {
		of       *model.Env
		sessions []sessionName
	}{env, out})
	return out
}

// cycleLine offers what may stand on a line of a cycle.
func (c *completer) cycleLine(first string) {
	switch first {
	case "week":
		if c.before >= 2 {
			c.span(c.before, isNameToken)
			c.values(Value, "what kind of week it is", "easy", "test")
		}
	case "progress":
		if i := c.last(syntax.At); i > 0 {
			c.loadsFor(i, c.movementAt(1, i), nil)
			return
		}
		c.name(1)
		c.movements(func(m *book.Movement) (int, bool) { return 0, m.Best == book.BestLoad })
	case "allow":
		c.rules()
	}
}
