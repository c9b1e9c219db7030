package arithmetic

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"stint.example/stint/lang/check"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/source"
)

var LabelsOrder = check.Rule{Name: "labels-order", Family: "arithmetic", Severity: diag.Error,
	Summary: "labels such as A1 and A2 whose numbers or letters do not rise in the order in which they are done",
	Session: func(p *check.Pass, s *model.Session) {
		for g := range s.Groups(model.Everything) {
			orderedLabels(p, g)
		}
	}}

// orderedLabels holds the labels beside each other against their numbers, by the name before those.
func orderedLabels(p *check.Pass, g *model.Group) {
	byName := map[string][]*model.Group{}
	var names []string
	for _, s := range g.Steps {
		k, is := s.(*model.Group)
		if !is || k.Kind != model.Label {
			continue
		}
		if name, _, ok := k.LabelNumber(); ok {
			if byName[name] == nil {
				names = append(names, name)
			}
			byName[name] = append(byName[name], k)
		}
	}
	for _, name := range names {
		labels := byName[name]
		for i := 1; i < len(labels); i++ {
			if number(labels[i]) > number(labels[i-1]) || !p.Here(labels[i].At) {
				continue
			}
			d := diag.Diagnostic{At: labelAt(labels[i]),
				Message: fmt.Sprintf("%s stands behind %s: lines are done in the order in which they stand, whatever they are called",
					labels[i].Label, labels[i-1].Label),
				Help:    "put them in the order of their numbers, or number them in the order in which they stand",
				Related: []diag.Related{{At: labelAt(labels[i-1]), Message: "this is done first"}}}
			d.Fixes = append(d.Fixes, renumbered(labels))
			if fix, ok := reordered(labels); ok {
				d.Fixes = append(d.Fixes, fix)
			}
			p.Report(d)
			break
		}
	}
}

func number(g *model.Group) int {
	_, n, _ := g.LabelNumber()
	return n
}

// labelAt is the place of a label's words, without the colon.
func labelAt(g *model.Group) source.Place {
	at := g.At
	at.End = at.Start + strings.IndexByte(at.File.Text[at.Start:], ':')
	return at
}

// renumbered is the fix that numbers labels as they stand, from the least of their numbers on.
func renumbered(labels []*model.Group) diag.Fix {
	least := number(labels[0])
	for _, g := range labels {
		least = min(least, number(g))
	}
	fix := diag.Fix{Title: "number them as they stand"}
	for i, g := range labels {
		at, n := labelAt(g), least+i
		text := at.Text()
		var want string
		if digits := strings.TrimRight(text, "0123456789"); digits != text {
			want = digits + strconv.Itoa(n)
		} else if n <= 26 {
			want = string(text[0] - byte(number(g)-n))
		}
		if want != "" && want != text {
			fix.Edits = append(fix.Edits, diag.Edit{At: at, New: want})
		}
	}
	return fix
}

// reordered is the fix that puts labels, with all that is under them, in the order of their numbers.
// There is none where two have the same number.
func reordered(labels []*model.Group) (fix diag.Fix, ok bool) {
	sorted := slices.Clone(labels)
	slices.SortStableFunc(sorted, func(a, b *model.Group) int { return number(a) - number(b) })
	fix.Title = "put them in the order of their numbers"
	for i, g := range labels {
		if i > 0 && number(sorted[i]) == number(sorted[i-1]) {
			return fix, false
		}
		if g != sorted[i] {
			fix.Edits = append(fix.Edits, diag.Edit{At: blockOf(g), New: blockOf(sorted[i]).Text()})
		}
	}
	return fix, true
}

func blockOf(g *model.Group) source.Place { return source.Place{File: g.At.File, Span: g.Block} }
