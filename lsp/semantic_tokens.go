package lsp

import (
	"cmp"
	"hash/fnv"
	"slices"
	"strconv"
	"sync"

	"go.lsp.dev/protocol"

	"stint.example/stint/lang/refs"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/workspace"
)

// tokenTypes are the kinds of tokens, by the names that every theme has colours for.
var tokenTypes = []string{
	"keyword", "function", "namespace", "class", "enumMember", "type", "decorator", "property",
	"number", "string", "comment", "operator", "macro", "parameter",
}

const (
	keywordToken  = iota // part, rounds, rest
	movementToken        // function
	sessionToken         // namespace: a session, a house or a cycle
	kitToken             // class
	patternToken         // enumMember
	scalingToken         // type
	ruleToken            // decorator
	clauseToken          // property: a word of a clause, a unit
	numberToken          // number, clock value, date, tempo
	noteToken            // string
	commentToken         // comment
	markToken            // operator
	effortToken          // macro
	unitToken            // parameter
)

// tokenModifiers go on top of a type.
var tokenModifiers = []string{"declaration"}

const declarationModifier = 1 // the first of them

// A token is a piece of a line with its type.
type token struct {
	at   source.Span
	kind uint32
	mods uint32
}

// tokensOf are the tokens of some bytes of a file, in order and apart, none longer than its
// line.
func tokensOf(f *workspace.File, in source.Span) []token {
	var out []token
	rs := f.Refs()
	next := 0
	for _, l := range f.Syntax().Lines {
		if l.Body+l.Len < in.Start || l.Body > in.End || len(l.Toks) == 0 {
			continue
		}
		end := l.Body + l.Len
		for next < len(rs) && rs[next].At.Start < l.Body {
			next++
		}
		from := next
		for next < len(rs) && rs[next].At.Start < end {
			next++
		}
		out = append(out, lineTokens(l, rs[from:next])...)
	}
	return slices.DeleteFunc(out, func(t token) bool { return t.at.End <= in.Start || t.at.Start >= in.End })
}

var tokenTypeOfRef = map[refs.SymbolKind]uint32{
	refs.Movement: movementToken, refs.Session: sessionToken, refs.House: sessionToken, refs.Cycle: sessionToken,
	refs.Kit:     kitToken,
	refs.Pattern: patternToken, refs.Scaling: scalingToken, refs.Rule: ruleToken, refs.Effort: effortToken,
}

// lineTokens are those of a line: its names, and between them what its words and marks are.
func lineTokens(l *syntax.Line, names []refs.Ref) []token {
	var out []token
	for _, r := range names {
		t := token{at: r.At.Span, kind: tokenTypeOfRef[r.Kind]}
		if r.Def {
			t.mods |= declarationModifier
		}
		if t.at.Len() > 0 && (len(out) == 0 || out[len(out)-1].at.End <= t.at.Start) {
			out = append(out, t)
		}
	}
	named := len(out)
	for i, tok := range l.Toks {
		at := l.Span(tok.Span)
		if at.Len() == 0 || slices.ContainsFunc(out[:named],
			func(t token) bool { return t.at.Start < at.End && at.Start < t.at.End }) {
			continue
		}
		kind := wordToken(l, i)
		if kind < 0 {
			continue
		}
		out = append(out, token{at: at, kind: uint32(kind)})
	}
	slices.SortFunc(out, func(a, b token) int { return cmp.Compare(a.at.Start, b.at.Start) })
	return out
}

// wordToken is what a word or a mark that is in no name is; less than 0 for what is best
// left plain.
func wordToken(l *syntax.Line, i int) int {
	switch t := l.Toks[i]; t.Kind {
	case syntax.Note:
		return noteToken
	case syntax.Comment:
		return commentToken
	case syntax.Number, syntax.Clock, syntax.Date, syntax.Tempo, syntax.RM:
		return numberToken
	case syntax.Unit, syntax.Side, syntax.Percent:
		return unitToken
	case syntax.At, syntax.Plus, syntax.Equals, syntax.Arrow, syntax.Times, syntax.Slash, syntax.Dash, syntax.Dots,
		syntax.Colon:
		return markToken
	case syntax.Or, syntax.Until, syntax.Bound:
		return keywordToken
	case syntax.Word:
		if l.Bad {
			return -1 // it could be anything
		}
		if j := slices.IndexFunc(l.Toks[:i], func(o syntax.Tok) bool { return o.Kind == syntax.Comma }); j >= 0 {
			return clauseToken
		}
		return keywordToken
	}
	return -1
}

// encode is tokens as the protocol has them: five numbers each, counted from the one before.
func (v *view) encode(ts []token) []uint32 {
	out := make([]uint32, 0, 5*len(ts))
	lines := v.linesOf(v.file.Src)
	var last protocol.Position
	for _, t := range ts {
		r := lines.rangeOf(t.at)
		if r.End.Line != r.Start.Line || r.End.Character <= r.Start.Character {
			continue // a lone carriage return is a line end to the protocol
		}
		column := r.Start.Character
		if r.Start.Line == last.Line {
			column -= last.Character
		}
		out = append(out, r.Start.Line-last.Line, column, r.End.Character-r.Start.Character, t.kind, t.mods)
		last = r.Start
	}
	return out
}

// semanticTokenCache holds the tokens that each document was last answered, by its URI, for the
// deltas of semanticTokens/full/delta.
type semanticTokenCache struct {
	mu   sync.Mutex
	last map[string]tokenResult
}

type tokenResult struct {
	id   string
	data []uint32
}

// maxCachedDocuments is how many documents' tokens are kept.
const maxCachedDocuments = 50

// keep takes down what a document is given, and returns what it had before.
func (c *semanticTokenCache) keep(uri string, now tokenResult) tokenResult {
	c.mu.Lock()
	defer c.mu.Unlock()
	before := c.last[uri]
	if c.last == nil || len(c.last) >= maxCachedDocuments && before.id == "" {
		c.last = map[string]tokenResult{}
	}
	c.last[uri] = now
	return before
}

// tokensID names some tokens by what they are.
func tokensID(data []uint32) string {
	h := fnv.New64a()
	for _, n := range data {
		h.Write([]byte{byte(n), byte(n >> 8), byte(n >> 16), byte(n >> 24)})
	}
	return strconv.FormatUint(h.Sum64(), 36)
}

func (v *view) allTokens() []uint32 {
	return v.encode(tokensOf(v.file, source.Span{End: len(v.file.Src.Text)}))
}

func (v *view) tokens(p protocol.SemanticTokensParams) (*protocol.SemanticTokens, error) {
	data := v.allTokens()
	id := tokensID(data)
	v.srv.tokenCache.keep(string(p.TextDocument.URI), tokenResult{id, data})
	return &protocol.SemanticTokens{ResultID: &id, Data: data}, nil
}

func (v *view) tokensRange(p protocol.SemanticTokensRangeParams) (*protocol.SemanticTokens, error) {
	return &protocol.SemanticTokens{Data: v.encode(tokensOf(v.file, v.span(p.Range)))}, nil
}

// tokensDelta is what has changed since the tokens that the client has, or all of them
// where those are not known.
func (v *view) tokensDelta(p protocol.SemanticTokensDeltaParams) (protocol.SemanticTokensDeltaResult, error) {
	data := v.allTokens()
	id := tokensID(data)
	before := v.srv.tokenCache.keep(string(p.TextDocument.URI), tokenResult{id, data})
	if before.id == "" || before.id != p.PreviousResultID {
		return &protocol.SemanticTokens{ResultID: &id, Data: data}, nil
	}
	return &protocol.SemanticTokensDelta{ResultID: &id, Edits: tokenEdits(before.data, data)}, nil
}

// tokenEdits is the one edit that makes one list of numbers another: all between what both
// begin with and what both end with. None where they are alike.
func tokenEdits(old, now []uint32) []protocol.SemanticTokensEdit {
	start := 0
	for start < len(old) && start < len(now) && old[start] == now[start] {
		start++
	}
	end := 0
	for end < len(old)-start && end < len(now)-start && old[len(old)-1-end] == now[len(now)-1-end] {
		end++
	}
	if start == len(old) && start == len(now) {
		return []protocol.SemanticTokensEdit{}
	}
	return []protocol.SemanticTokensEdit{{Start: uint32(start), DeleteCount: uint32(len(old) - start - end),
		Data: now[start : len(now)-end]}}
}
