package cycles

import (
	"fmt"
	"regexp"
	"strings"

	"stint.example/stint/lang/check"
	"stint.example/stint/lang/check/phrase"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/source"
)

var WeeksUneven = check.Rule{Name: "weeks-uneven", Family: "cycle", Severity: diag.Error,
	Summary: "weeks of a cycle that are missing, that stand there twice, or that are more than it says it has",
	Cycle: func(p *check.Pass, c *model.Cycle) {
		if len(c.Plan) == 0 || !p.NoReadErrorsIn(p.File.Syntax.Src.At(c.Block)) {
			return // what is missing may well be there
		}
		first := map[int]*model.Week{}
		var twice []*model.Week
		last := 0
		for _, w := range c.Plan {
			if first[w.Number] != nil {
				twice = append(twice, w)
				continue
			}
			first[w.Number] = w
			last = max(last, w.Number)
		}
		if c.Weeks > 0 {
			last = c.Weeks
		}
		const most = 1000 // enough for any cycle
		var missing []string
		gap := 0
		for n := 1; n <= min(last, most); n++ {
			if first[n] == nil {
				missing = append(missing, fmt.Sprint(n))
				gap = n
			}
		}
		for _, w := range twice {
			d := diag.Diagnostic{At: w.At, Message: fmt.Sprintf("week %d stands in %s twice", w.Number, c.Name),
				Label:   "the second time",
				Help:    "write its own number, or put the days of both in one",
				Related: []diag.Related{{At: first[w.Number].At, Message: "the first time"}}}
			if fix, ok := renumber(w, gap); ok && len(missing) == 1 && len(twice) == 1 {
				d.Fixes = []diag.Fix{fix}
				missing = nil
			}
			p.Report(d, check.OncePerPlace)
		}
		for _, w := range c.Plan {
			if c.Weeks > 0 && w.Number > c.Weeks {
				p.Report(diag.Diagnostic{At: w.At,
					Message: fmt.Sprintf("%s has %s, and this is week %d", c.Name, weeksText(c.Weeks), w.Number),
					Label:   "one too many",
					Help:    "write how many weeks there are, or take this one out"}, check.OncePerPlace)
			}
		}
		if len(missing) > 0 {
			said := "plans up to week " + fmt.Sprint(last)
			if c.Weeks > 0 {
				said = "has " + weeksText(c.Weeks)
			}
			if len(missing) > 6 {
				missing = append(missing[:5:5], fmt.Sprintf("%d others", len(missing)-5))
			}
			noun := "week " + missing[0] + " is"
			if len(missing) > 1 {
				noun = "weeks " + phrase.And(missing...) + " are"
			}
			p.Report(diag.Diagnostic{At: c.At, Message: fmt.Sprintf("%s %s, and %s missing", c.Name, said, noun),
				Label: strings.TrimSuffix(strings.TrimSuffix(noun, " is"), " are") + " missing",
				Help:  "write the week, if only with a rest in it, or say fewer weeks"})
		}
	}}

func weeksText(n int) string {
	if n == 1 {
		return "1 week"
	}
	return fmt.Sprintf("%d weeks", n)
}

var weekNumber = regexp.MustCompile(`\d+`)

// renumber is the edit that gives a week another number, where its head has just one.
func renumber(w *model.Week, to int) (diag.Fix, bool) {
	at := weekNumber.FindAllStringIndex(w.At.Text(), -1)
	if len(at) != 1 || to == 0 {
		return diag.Fix{}, false
	}
	span := source.Span{Start: w.At.Start + at[0][0], End: w.At.Start + at[0][1]}
	return diag.Fix{Title: fmt.Sprintf("call it week %d", to),
		Edits: []diag.Edit{{At: w.At.File.At(span), New: fmt.Sprint(to)}}}, true
}
