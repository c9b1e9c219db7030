package syntax

import (
	"maps"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// A pattern is a regular expression over symbols, in a canonical form: equal patterns have
// equal keys. Grammars of one line hold no recursion, so that two of them can be compared as
// the languages that they describe, however each is laid out.
type pattern struct {
	op   op
	sym  string
	subs []*pattern
	key  string
}

type op byte

const (
	none  op = iota // matches nothing
	empty           // matches the empty sequence
	symbol
	seq
	alt
	star
)

var (
	noMatch  = &pattern{op: none, key: "!"}
	emptySeq = &pattern{op: empty, key: "_"}
)

func sym(s string) *pattern { return &pattern{op: symbol, sym: s, key: s} }

func sequence(ps ...*pattern) *pattern {
	var subs []*pattern
	for _, p := range ps {
		switch p.op {
		case none:
			return noMatch
		case empty:
		case seq:
			subs = append(subs, p.subs...)
		default:
			subs = append(subs, p)
		}
	}
	return compound(seq, emptySeq, subs)
}

func alternatives(ps ...*pattern) *pattern {
	var subs []*pattern
	for _, p := range ps {
		switch p.op {
		case none:
		case alt:
			subs = append(subs, p.subs...)
		default:
			subs = append(subs, p)
		}
	}
	slices.SortFunc(subs, func(a, b *pattern) int { return strings.Compare(a.key, b.key) })
	return compound(alt, noMatch, slices.CompactFunc(subs, func(a, b *pattern) bool { return a.key == b.key }))
}

func compound(o op, unit *pattern, subs []*pattern) *pattern {
	switch len(subs) {
	case 0:
		return unit
	case 1:
		return subs[0]
	}
	keys := make([]string, len(subs))
	for i, s := range subs {
		keys[i] = s.key
	}
	return &pattern{op: o, subs: subs, key: "(" + strings.Join(keys, map[op]string{seq: " ", alt: " | "}[o]) + ")"}
}

func optional(p *pattern) *pattern { return alternatives(emptySeq, p) }

func repeated(p *pattern) *pattern {
	switch p.op {
	case none, empty:
		return emptySeq
	case star:
		return p
	}
	return &pattern{op: star, subs: []*pattern{p}, key: "{" + p.key + "}"}
}

// nullable reports whether the pattern matches the empty sequence.
func (p *pattern) nullable() bool {
	switch p.op {
	case empty, star:
		return true
	case seq:
		return !slices.ContainsFunc(p.subs, func(s *pattern) bool { return !s.nullable() })
	case alt:
		return slices.ContainsFunc(p.subs, (*pattern).nullable)
	}
	return false
}

// first are the symbols that a match may start with, in order.
func (p *pattern) first() []string {
	out := map[string]bool{}
	var collect func(p *pattern)
	collect = func(p *pattern) {
		switch p.op {
		case symbol:
			out[p.sym] = true
		case alt, star:
			for _, s := range p.subs {
				collect(s)
			}
		case seq:
			for _, s := range p.subs {
				if collect(s); !s.nullable() {
					return
				}
			}
		}
	}
	collect(p)
	return slices.Sorted(maps.Keys(out))
}

// after is what may follow a symbol: the derivative of the pattern (Brzozowski 1964).
func (p *pattern) after(s string) *pattern {
	switch p.op {
	case symbol:
		if p.sym == s {
			return emptySeq
		}
	case alt:
		out := make([]*pattern, len(p.subs))
		for i, sub := range p.subs {
			out[i] = sub.after(s)
		}
		return alternatives(out...)
	case star:
		return sequence(p.subs[0].after(s), p)
	case seq:
		var out []*pattern
		for i, sub := range p.subs {
			out = append(out, sequence(append([]*pattern{sub.after(s)}, p.subs[i+1:]...)...))
			if !sub.nullable() {
				break
			}
		}
		return alternatives(out...)
	}
	return noMatch
}

// missing is a shortest sequence of symbols that one pattern matches and the other does not;
// found is false where there is none. A word in quotes is also what the other has as any word.
func missing(p, other *pattern) (sequence []string, found bool) {
	type state struct {
		p, other *pattern
		path     []string
	}
	todo, seen := []state{{p, other, nil}}, map[[2]string]bool{}
	for len(todo) > 0 {
		s := todo[0]
		todo = todo[1:]
		if s.p.nullable() && !s.other.nullable() {
			return s.path, true
		}
		for _, f := range s.p.first() {
			to := s.other.after(f)
			if strings.HasPrefix(f, `"`) {
				to = alternatives(to, s.other.after("<word>"))
			}
			next := state{s.p.after(f), to, append(slices.Clone(s.path), f)}
			if key := [2]string{next.p.key, next.other.key}; !seen[key] {
				seen[key] = true
				todo = append(todo, next)
			}
		}
	}
	return nil, false
}

func TestMissing(t *testing.T) {
	a, b, c := sym("a"), sym("b"), sym("c")
	for _, tt := range []struct {
		what     string
		p, other *pattern
		want     string
	}{
		{"laid out otherwise", sequence(a, alternatives(b, c)), alternatives(sequence(a, b), sequence(a, c)), "none"},
		{"one or more", sequence(a, repeated(a)), sequence(repeated(a), a), "none"},
		{"an alternative is missing", alternatives(a, b), a, "b"},
		{"optional where it is repeated", repeated(a), optional(a), "a a"},
		{"optional where it is needed", optional(a), a, ""},
		{"in another order", sequence(a, b), sequence(b, a), "a b"},
		{"less than is allowed", a, optional(a), "none"},
		{"a word where any word may stand", sym(`"rest"`), sym("<word>"), "none"},
	} {
		got, found := missing(tt.p, tt.other)
		if !found {
			got = []string{"none"}
		}
		assert.Equal(t, tt.want, strings.Join(got, " "), tt.what)
	}
}
