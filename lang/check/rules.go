package check

import "stint.example/stint/lang/diag"

// Families in the order in which they are listed.
var Families = []string{"notation", "names", "arithmetic", "clock", "rest", "load", "form", "scaling", "warm-up", "kit", "cycle", "coaching"}

// Rules are all rules, by family. A rule's page is spec/rules/NAME.md.
var Rules = []Rule{
	// What a line says. These are found while reading; a house cannot set them.
	{Name: "line-unreadable", Family: "notation", Severity: diag.Error, Fixed: true, Summary: "a line that is none of the notation's"},
	{Name: "word-misplaced", Family: "notation", Severity: diag.Error, Fixed: true, Summary: "a word of the notation in a place where it has no meaning"},
	{Name: "word-unknown", Family: "notation", Severity: diag.Error, Fixed: true, Summary: "a word where only certain words may stand"},
	{Name: "number-malformed", Family: "notation", Severity: diag.Error, Fixed: true, Summary: "a number, clock value or date that cannot be"},
	{Name: "unit-wrong", Family: "notation", Severity: diag.Error, Fixed: true, Summary: "a number without its unit, or with one of another kind"},
	{Name: "comma-missing", Family: "notation", Severity: diag.Error, Fixed: true, Summary: "a clause that lacks the comma before it"},
	{Name: "character-odd", Family: "notation", Severity: diag.Error, Fixed: true, Summary: "a character that has no meaning where it stands"},
	{Name: "characters-plain", Family: "notation", Severity: diag.Suggestion, Fixed: true, Summary: "characters that a keyboard or an editor put in the place of plain ones"},
	{Name: "indent-odd", Family: "notation", Severity: diag.Error, Fixed: true, Summary: "an indent that is not two blanks a level, or too deep"},
	{Name: "reason-missing", Family: "notation", Severity: diag.Error, Fixed: true, Summary: "a waiver or a rule of the house that does not say why"},
	{Name: "property-twice", Family: "notation", Severity: diag.Error, Fixed: true, Summary: "the same property stated twice"},
	{Name: "count-missing", Family: "notation", Severity: diag.Error, Fixed: true, Summary: "work without a count, under a head that gives none"},
	{Name: "work-misplaced", Family: "notation", Severity: diag.Error, Fixed: true, Summary: "work where none may stand"},
	{Name: "rest-misplaced", Family: "notation", Severity: diag.Error, Fixed: true, Summary: "a rest where the clock or the head already says it"},
	{Name: "session-missing", Family: "notation", Severity: diag.Error, Fixed: true, Summary: "a part, a total or a scaling that belongs to no session"},

	// What names lead to.
	{Name: "movement-unknown", Family: "names", Severity: diag.Error, Fixed: true, Summary: "a movement that no book has"},
	{Name: "movement-unclear", Family: "names", Severity: diag.Error, Fixed: true, Summary: "a word that several movements are called by"},
	{Name: "kit-unknown", Family: "names", Severity: diag.Error, Fixed: true, Summary: "kit that neither the house nor the book has"},
	{Name: "pattern-unknown", Family: "names", Severity: diag.Error, Fixed: true, Summary: "a pattern that is not in the list"},
	{Name: "session-unknown", Family: "names", Severity: diag.Error, Fixed: true, Summary: "a cycle that plans a session that no file has"},
	{Name: "version-unknown", Family: "names", Severity: diag.Error, Fixed: true, Summary: "a scaling that nothing declares, or that starts from itself"},
	{Name: "name-taken", Family: "names", Severity: diag.Error, Fixed: true, Summary: "two things called by one name"},
	{Name: "figures-wrong", Family: "names", Severity: diag.Error, Fixed: true, Summary: "paces or counts of a movement that cannot be"},
	{Name: "unit-unfit", Family: "names", Severity: diag.Error, Fixed: true, Summary: "a movement counted in a unit that it has no pace in"},
	{Name: "share-baseless", Family: "names", Severity: diag.Error, Fixed: true, Summary: "a percentage of a maximum that nobody knows"},
	{Name: "tiers-wrong", Family: "names", Severity: diag.Error, Fixed: true, Summary: "more or fewer numbers between slashes than the house has tiers"},
	{Name: "swap-unmatched", Family: "names", Severity: diag.Error, Fixed: true, Summary: "a swap of a scaling that matches nothing in the session"},
	{Name: "swap-unclear", Family: "names", Severity: diag.Error, Fixed: true, Summary: "two swaps that match one line, neither closer than the other"},
	{Name: "swap-unchanged", Family: "names", Severity: diag.Error, Fixed: true, Summary: "a swap of a thing for itself"},

	// What numbers come to.
	totalWrong, totalUnproven, splitWrong, sidesUneven, partnersUneven, setsUneven, seriesTurns, stepsUneven, ladderFlat,
	slotsUneven, slotsOrder, minutesUneven, countFraction, countBeyond, classUneven, eachUnused,

	// What the clock comes to.
	partRunsOver, startsBackwards, intervalOverfull, capTight, capGenerous, sessionOverlong, aimUnreachable, clockUnproven,

	// What rest is left.
	restGapShort, restSetsShort, effortRestShort, workRestOff,

	// How heavy it is, and with what.
	repsTooMany, liftsTooMany, weightUnbuildable, loadUnowned, unitsMixed, tiersSame, effortImpossible,

	// How files are kept.
	nameSpelling, partEmpty, fileName, stintMissing, waiverUnused, ruleUnknown,

	// What a version promises.
	versionMissing, versionKit, patternLost, patternGained, versionFar, noteDiffers,

	// What bodies do before it is hard.
	warmupMissing, warmupShort, warmupLong, patternCold, jointCold, phasesMissing, rampMissing,

	// Whether there is kit enough for the class.
	kitAbsent, kitShort,

	// What the weeks of a cycle come to.
	dateDiffers, dayBeforeStart, dayTwice, dayVersionUnknown, sessionTwice, sessionUnplanned, weekEmpty, weeksUneven,
	intensityJump, patternAgain, patternBalance, progressBroken, retestUnlike, testTired, volumeJump, weekMonotone, weekNotEasy,

	// What whoever briefs a session can say.
	standardMissing, cueMissing, easierMissing, cautionMissing, heatCaution,
}
