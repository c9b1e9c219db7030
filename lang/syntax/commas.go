package syntax

import (
	"slices"
	"strings"

	"stint.example/stint/lang/source"
)

// insertCommas reports the clauses of an item that lack their comma, or an effort its @, and reads on
// as if these stood there. A clause that only heads have is reported where its place is checked:
// a comma would not repair it.
func (r *reader) insertCommas() {
	for i := 2; i < len(r.toks); i++ {
		c := r.clauseAt(i)
		if c == nil {
			continue
		}
		missing := Tok{Kind: Comma, Text: ","}
		switch {
		case c.kind == EffortOf:
			missing = Tok{Kind: At, Text: "@"}
			r.report(lineDiag{rule: unreadable, span: r.toks[i].Span, message: "how hard it is stands behind @", help: "put an @ before it",
				fix: insertion("put an @ before "+r.toks[i].Raw, r.toks[i-1].End, " @")})
		case c.onWork.allowed():
			n := 1
			if c.takes == takesNothing {
				n = len(strings.Fields(string(c.kind)))
			}
			r.reportComma(i, n)
		}
		end := r.toks[i-1].End
		missing.Span = source.Span{Start: end, End: end}
		r.toks = slices.Insert(slices.Clone(r.toks), i, missing)
		i = 1 // what stands before it may be one as well, now that it has an end
	}
}

// maxClauseWords is how many words that start a clause a line may have for its missing commas
// to be looked for. It bounds the work on nonsense.
const maxClauseWords = 12

// clauseWordCount counts the words that start a clause.
func (r *reader) clauseWordCount() int {
	n := 0
	for _, t := range r.toks {
		if t.Kind == Word && startsClause(t.Text) {
			n++
		}
	}
	return n
}

// clauseEnds are the indexes at which what token i starts may end: at the next comma or the
// line's end, or before one of the next words that start another clause.
func (r *reader) clauseEnds(i int) []int {
	var before []int
	for i++; r.kind(i) != Comma && r.kind(i) != EOL; i++ {
		if startsClause(r.word(i)) {
			before = append(before, i)
		}
	}
	return append([]int{i}, before...)
}

// wholeClause is the kind of clause that the tokens from i to one of those ends are; nil
// where they are none.
func (r *reader) wholeClause(i int) (c *clauseType, end int) {
	if r.kind(i) != Word || !startsClause(r.word(i)) {
		return nil, 0
	}
	for _, end := range r.clauseEnds(i) {
		if g, _ := behindComma.parse(r.toks[i:end]); g != nil {
			return g.Clause.kind().clauseType(), end
		}
	}
	return nil, 0
}

// clauseAt is the clause that token i of an item starts without a comma before it; nil where
// it starts none, or may as well be of the movement's name.
func (r *reader) clauseAt(i int) *clauseType {
	if r.kind(i-1) == Comma || r.kind(i-1) == At || r.word(i-1) == "at" { // "at effort 80%" is a load
		return nil
	}
	c, end := r.wholeClause(i)
	if c == nil {
		return nil
	}
	item, _ := itemGrammar.parse(r.toks[:i])
	if item == nil {
		return nil
	}
	named := r.kind(i-1) == Word
	switch {
	case c.kind == StartAt: // of swaps
		return nil
	case c.kind == TempoOf && !named: // straight behind a load it needs no comma
		return nil
	case c.kind == With && named: // "box jump with step down": whoever knows the names can tell
		return nil
	case !named && r.perHand(i) != nil: // "@ 16 kg each hand"
		return nil
	case end == i+1 && c.takes != takesNothing && named: // "active rest"
		return nil
	case c.ambiguous && string(c.kind) == c.kind.first() && item.Dose == nil && named: // "hollow hold 0:30"
		return nil
	}
	return c
}
