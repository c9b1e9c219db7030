package syntax

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stint.example/stint/lang/source"
)

// Each example of the table is read as the clause that it is of, where it may stand, and
// refused where it may not.
func TestClauseExamples(t *testing.T) {
	for _, c := range clauseTypes {
		if c.kind == StartAt || c.kind == EffortOf {
			continue // on a side of a swap only, or nowhere: it is refused by who knows the block
		}
		require.True(t, c.onHead.allowed() || c.onWork.allowed(), c.kind)
		for _, place := range []struct {
			line     string
			head     bool
			allowed  usage
			opposite usage
		}{
			{"part A 3 rounds for time, ", true, c.onHead, c.onWork},
			{"part A\n  3 x 8 burpee, ", false, c.onWork, c.onHead},
		} {
			if c.kind == EachSide && !place.head {
				place.line = "part A ladder 3-2-1\n  burpee, " // behind a dose it is the dose's
			}
			for _, example := range place.allowed.examples {
				f := Parse(source.New("a.stint", place.line+example+"\n"))
				assert.Empty(t, f.Diags, place.line+example)
				assert.Equal(t, []ClauseKind{c.kind}, kindsOf(f.Lines[len(f.Lines)-1].Stmt), place.line+example)
			}
			if !place.allowed.allowed() && c.kind != RestOf { // a rest on a head is refused by who knows the block
				f := Parse(source.New("a.stint", place.line+place.opposite.examples[0]+"\n"))
				require.Len(t, f.Diags, 1, place.line+place.opposite.examples[0])
				assert.Equal(t, misplaced, f.Diags[0].Rule)
			}
		}
		if c.opens != "" {
			f := Parse(source.New("a.stint", "part A\n  "+c.opens+"\n"))
			assert.Empty(t, f.Diags, c.opens)
			assert.Contains(t, kindsOf(f.Lines[1].Stmt), c.kind)
		}
		assert.NotEmpty(t, c.meaning, c.kind)
		assert.Equal(t, c.takes == takesDuration || c.takes == takesPercent, c.noun != "", "%s: a noun is what a duration or a share is called by", c.kind)
	}
}

// What is offered first differs for each clause of a place.
func TestClauseRanksDiffer(t *testing.T) {
	for _, head := range []bool{true, false} {
		seen := map[int]ClauseKind{}
		for _, c := range likeliest(head) {
			rank := c.usage(head).rank
			assert.Empty(t, seen[rank], "%s has the rank of %s", c.kind, seen[rank])
			seen[rank] = c.kind
		}
	}
}

func TestExcludes(t *testing.T) {
	for _, tt := range []struct {
		a, b string
		want bool
	}{
		{"rest 1:30", "rest 2:00", true},
		{"rest 1:30", "every 1:30", false},
		{"split", "together", true},
		{"split", "split evenly", true},
		{"split", "unbroken", false},
		{"with vest", "with plate", false},
		{"each +5 kg", "each -5 kg", false},
		{"each side", "each +5 kg", false},
		{"in pairs", "in threes", true},
		{"in pairs", "in heats of 8", false},
		{"in heats of 4", "in heats of 8", true},
	} {
		a, b := clauseOf(t, tt.a), clauseOf(t, tt.b)
		assert.Equal(t, tt.want, a.Excludes(&b), "%s and %s", tt.a, tt.b)
		assert.Equal(t, tt.want, b.Excludes(&a), "%s and %s", tt.b, tt.a)
	}
}

func clauseOf(t *testing.T, text string) Clause {
	t.Helper()
	f := Parse(source.New("a.stint", "scaling x\n  "+text+" -> nothing\n"))
	require.Empty(t, f.Diags, text)
	switch s := f.Lines[1].Stmt.(*Swap).From.(type) {
	case *ClauseSide:
		return s.Clause
	case *Rest:
		return Clause{Kind: RestOf, Rest: s}
	}
	t.Fatalf("%s is no clause", text)
	return Clause{}
}

func kindsOf(s Stmt) []ClauseKind {
	var cs []Clause
	switch s := s.(type) {
	case *Head:
		cs = s.Clauses
	case *Item:
		cs = s.Clauses
	}
	var out []ClauseKind
	for _, c := range cs {
		out = append(out, c.Kind)
	}
	return out
}

func TestClauseMeaning(t *testing.T) {
	assert.Equal(t, "the work stops then; whoever is done before is done", ClauseMeaning("cap"))
	assert.Equal(t, "broken up into sets of that size", ClauseMeaning("sets of"))
	assert.Equal(t, "one works while the others rest", ClauseMeaning("one"), "by its first word")
	assert.Equal(t, "each side: all of it for one side, then for the other; each at least 20: how much of what partners split each of them does, at least or at most; each +5 kg: every load goes up by that after each turn", ClauseMeaning("each"))
	assert.Empty(t, ClauseMeaning("burpee"))
}
