// Package names declares the rules about what names lead to. They are found while a text is read, where
// the syntax and the model report them; a house cannot set them.
package names

import (
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/diag"
)

// Rules are those of the family.
var Rules = []check.Rule{
	{Name: "movement-unknown", Family: "names", Severity: diag.Error, Fixed: true,
		Summary: "a movement that no book has"},
	{Name: "movement-unclear", Family: "names", Severity: diag.Error, Fixed: true,
		Summary: "a word that several movements are called by"},
	{Name: "kit-unknown", Family: "names", Severity: diag.Error, Fixed: true,
		Summary: "kit that neither the house nor the book has"},
	{Name: "pattern-unknown", Family: "names", Severity: diag.Error, Fixed: true,
		Summary: "a pattern that is not in the list"},
	{Name: "session-unknown", Family: "names", Severity: diag.Error, Fixed: true,
		Summary: "a cycle that plans a session that no file has"},
	{Name: "version-unknown", Family: "names", Severity: diag.Error, Fixed: true,
		Summary: "a scaling that nothing declares, or that starts from itself"},
	{Name: "name-taken", Family: "names", Severity: diag.Error, Fixed: true, Summary: "two things called by one name"},
	{Name: "figures-wrong", Family: "names", Severity: diag.Error, Fixed: true,
		Summary: "paces or counts of a movement that cannot be"},
	{Name: "unit-unfit", Family: "names", Severity: diag.Error, Fixed: true,
		Summary: "a movement counted in a unit that it has no pace in"},
	{Name: "share-baseless", Family: "names", Severity: diag.Error, Fixed: true,
		Summary: "a percentage of a maximum that nobody knows"},
	{Name: "tiers-wrong", Family: "names", Severity: diag.Error, Fixed: true,
		Summary: "more or fewer numbers between slashes than the house has tiers"},
	{Name: "swap-unmatched", Family: "names", Severity: diag.Error, Fixed: true,
		Summary: "a swap of a scaling that matches nothing in the session"},
	{Name: "swap-unclear", Family: "names", Severity: diag.Error, Fixed: true,
		Summary: "a line of a scaling that could be meant in two ways: two swaps for one line, or a part with neither arrow nor colon"},
	{Name: "swap-unchanged", Family: "names", Severity: diag.Error, Fixed: true,
		Summary: "a swap of a thing for itself"},
}
