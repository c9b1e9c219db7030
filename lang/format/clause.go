package format

import (
	"slices"
	"strconv"
	"strings"

	"stint.example/stint/lang/syntax"
)

// ordered sorts clauses; of one kind, they stay as they are written. On a head a rest stands
// behind the others, since it is taken behind all that the head says; a condition is the last.
func ordered(cs []syntax.Clause, head bool) []syntax.Clause {
	return slices.SortedStableFunc(slices.Values(cs), func(a, b syntax.Clause) int {
		if ifA, ifB := a.Kind == syntax.If, b.Kind == syntax.If; ifA != ifB {
			return pick(ifA, 1, -1)
		}
		if restA, restB := a.Kind == syntax.RestOf, b.Kind == syntax.RestOf; head && restA != restB {
			return pick(restA, 1, -1)
		}
		return a.Kind.Compare(b.Kind)
	})
}

func clause(c *syntax.Clause) string {
	switch c.Kind {
	case syntax.TempoOf:
		return "tempo " + tempo(c.Tempo)
	case syntax.SetsOf:
		return "sets of " + written(c.Amount)
	case syntax.With:
		return "with " + c.Kit.Text + loads(c.Loads, false)
	case syntax.RestOf:
		return rest(c.Rest)
	case syntax.In:
		return people(c.People)
	case syntax.ShareOfEach:
		return "each " + quantity(c.Amount)
	case syntax.EachPlus:
		return "each " + pick(c.Minus, "-", "+") + quantity(c.Amount)
	}
	if c.Amount != nil {
		return string(c.Kind) + " " + quantity(c.Amount)
	}
	return string(c.Kind)
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
	switch {
	case r.Needed:
		text += " as needed"
	case r.Work != nil:
		if r.Bound != "" {
			text += " " + r.Bound
		}
		text += " " + value(*r.Work) + " x work"
	case r.Amount != nil:
		text += " " + quantity(r.Amount)
	}
	text += until(r.Until)
	if between != "" && between != "parts" {
		text += " between " + between
	}
	if r.After {
		text += " after"
	}
	return text + inline(r.Inline)
}
