package format

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"stint.example/stint/lang/syntax"
)

// headOrder and workOrder are the orders in which clauses stand: on a head, and on a
// line of work. What is on neither list, such as the start of a part in a swap, stands
// alone.
var (
	headOrder = []syntax.ClauseKind{syntax.EachSide, syntax.Cap, syntax.Lasts, syntax.In, syntax.OneWorks, syntax.Split,
		syntax.SplitEvenly, syntax.With, syntax.CarryOn, syntax.EachPlus, syntax.NotScored, syntax.EffortOf, syntax.RestOf}
	workOrder = []syntax.ClauseKind{syntax.EachSide, syntax.Alternating, syntax.TempoOf, syntax.HoldOf, syntax.Unbroken, syntax.AnySets,
		syntax.SetsOf, syntax.Split, syntax.SplitEvenly, syntax.Together, syntax.Synchronised, syntax.With, syntax.EveryOf, syntax.RestOf,
		syntax.NotScored, syntax.EffortOf}
)

// ordered sorts clauses; of one kind, they stay as they are written.
func ordered(cs []syntax.Clause, order []syntax.ClauseKind) []syntax.Clause {
	return slices.SortedStableFunc(slices.Values(cs), func(a, b syntax.Clause) int {
		return cmp.Compare(slices.Index(order, a.Kind), slices.Index(order, b.Kind))
	})
}

func clause(c *syntax.Clause) string {
	switch c.Kind {
	case syntax.TempoOf:
		return "tempo " + tempo(c.Tempo)
	case syntax.SetsOf:
		return "sets of " + written(c.Amount)
	case syntax.With:
		return "with " + c.Kit.Text + loads(c.Loads)
	case syntax.RestOf:
		return rest(c.Rest)
	case syntax.In:
		return people(c.People)
	case syntax.EachPlus:
		return "each " + pick(c.Minus, "-", "+") + quantity(c.Amount)
	case syntax.Cap, syntax.Lasts, syntax.EffortOf, syntax.StartAt, syntax.HoldOf, syntax.EveryOf:
		return string(c.Kind) + " " + quantity(c.Amount)
	}
	return string(c.Kind) // the others are their words and nothing else
}

// tempo prints four phases tight, or with hyphens where one has ten seconds or more.
func tempo(text string) string {
	phases := strings.Split(text, "-")
	hyphen := ""
	for i, p := range phases {
		if n, err := strconv.Atoi(p); err == nil && len(phases) > 1 {
			phases[i] = strconv.Itoa(n)
		}
		if len(phases) > 1 && len(phases[i]) > 1 {
			hyphen = "-"
		}
	}
	return strings.Join(phases, hyphen)
}

func people(p *syntax.People) string {
	text := "in " + p.Kind
	if p.Size != nil {
		text += " of " + amount(p.Size)
	}
	if p.Every != nil {
		text += " every " + quantity(p.Every)
	}
	return text
}

// rest prints a line or a clause of rest. "between parts" is a house's and stands first.
func rest(r *syntax.Rest) string {
	text := "rest"
	between := strings.ToLower(r.Between.Text)
	if between == "parts" {
		text += " between parts"
	}
	if r.Bound != "" {
		text += " " + r.Bound
	}
	switch {
	case r.Needed:
		text += " as needed"
	case r.Work != nil:
		text += " " + value(*r.Work) + " x work"
	case r.Amount != nil:
		text += " " + quantity(r.Amount)
	}
	if between != "" && between != "parts" {
		text += " between " + between
	}
	if r.After {
		text += " after"
	}
	return text + inline(r.Inline)
}
