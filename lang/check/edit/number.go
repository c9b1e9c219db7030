package edit

import (
	"regexp"
	"strconv"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/units"
)

var NumberText = regexp.MustCompile(`\d+(\.\d+)?`)

// Number is the edit that puts one number for another in an amount as written, wherever
// it stands there. It is false where the text has no such number: dots or steps made it.
func Number(q *model.Quantity, from, to float64) (diag.Fix, bool) {
	was, _ := units.FormatAs(from, q.Unit, q.Written)
	text, unit := units.FormatAs(to, q.Unit, q.Written)
	if _, in := units.FormatAs(from, q.Unit, q.Written); in != unit {
		return diag.Fix{}, false
	}
	old, err := strconv.ParseFloat(was, 64)
	if err != nil {
		return diag.Fix{}, false
	}
	fix := diag.Fix{Title: "write " + text + " " + unit}
	for _, at := range NumberText.FindAllStringIndex(q.At.Text(), -1) {
		if v, err := strconv.ParseFloat(q.At.Text()[at[0]:at[1]], 64); err == nil && v == old {
			place := q.At.File.At(source.Span{Start: q.At.Start + at[0], End: q.At.Start + at[1]})
			fix.Edits = append(fix.Edits, diag.Edit{At: place, New: text})
		}
	}
	return fix, len(fix.Edits) > 0
}
