// Package notation declares the rules about what a line says. They are found while a text is read, where
// the syntax and the model report them; a house cannot set them.
package notation

import (
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/diag"
)

// Rules are those of the family.
var Rules = []check.Rule{
	{Name: "line-unreadable", Family: "notation", Severity: diag.Error, Fixed: true,
		Summary: "a line that is none of the notation's"},
	{Name: "word-misplaced", Family: "notation", Severity: diag.Error, Fixed: true,
		Summary: "a word of the notation in a place where it has no meaning"},
	{Name: "word-unknown", Family: "notation", Severity: diag.Error, Fixed: true,
		Summary: "a word where only certain words may stand"},
	{Name: "number-malformed", Family: "notation", Severity: diag.Error, Fixed: true,
		Summary: "a number, clock value or date that cannot be"},
	{Name: "unit-wrong", Family: "notation", Severity: diag.Error, Fixed: true,
		Summary: "a number without its unit, or with one of another kind"},
	{Name: "comma-missing", Family: "notation", Severity: diag.Error, Fixed: true,
		Summary: "a clause that lacks the comma before it"},
	{Name: "character-odd", Family: "notation", Severity: diag.Error, Fixed: true,
		Summary: "a character that has no meaning where it stands"},
	{Name: "characters-plain", Family: "notation", Severity: diag.Suggestion, Fixed: true,
		Summary: "characters that a keyboard or an editor put in the place of plain ones"},
	{Name: "indent-odd", Family: "notation", Severity: diag.Error, Fixed: true,
		Summary: "an indent that is not two blanks a level, or too deep"},
	{Name: "reason-missing", Family: "notation", Severity: diag.Error, Fixed: true,
		Summary: "a waiver or a rule of the house that does not say why"},
	{Name: "property-twice", Family: "notation", Severity: diag.Error, Fixed: true,
		Summary: "the same property stated twice"},
	{Name: "count-missing", Family: "notation", Severity: diag.Error, Fixed: true,
		Summary: "work without a count, under a head that gives none"},
	{Name: "work-misplaced", Family: "notation", Severity: diag.Error, Fixed: true,
		Summary: "work where none may stand"},
	{Name: "rest-misplaced", Family: "notation", Severity: diag.Error, Fixed: true,
		Summary: "a rest where the clock or the head already says it"},
	{Name: "session-missing", Family: "notation", Severity: diag.Error, Fixed: true,
		Summary: "a part, a total or a scaling that belongs to no session"},
}
