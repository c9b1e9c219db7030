// Package rules lists all rules. Each family of them is a package of its own below this one,
// each rule a file there.
package rules

import (
	"slices"

	"stint.example/stint/lang/check"
	"stint.example/stint/lang/check/rules/arithmetic"
	"stint.example/stint/lang/check/rules/clock"
	"stint.example/stint/lang/check/rules/coaching"
	"stint.example/stint/lang/check/rules/cycles"
	"stint.example/stint/lang/check/rules/form"
	"stint.example/stint/lang/check/rules/kit"
	"stint.example/stint/lang/check/rules/load"
	"stint.example/stint/lang/check/rules/names"
	"stint.example/stint/lang/check/rules/notation"
	"stint.example/stint/lang/check/rules/rest"
	"stint.example/stint/lang/check/rules/scaling"
	"stint.example/stint/lang/check/rules/warmup"
)

// Families in the order in which they are listed.
var Families = []string{"notation", "names", "arithmetic", "clock", "rest", "load", "form", "scaling", "warm-up", "kit", "cycle", "coaching"}

// registry has all rules by family, in the order in which they are listed and run. A rule's
// page is spec/rules/NAME.md.
var registry = check.NewRegistry(slices.Concat(
	notation.Rules,
	names.Rules,
	[]check.Rule{
		// Whether counts add up.
		arithmetic.TotalWrong, arithmetic.TotalUnproven, arithmetic.TotalUnclear, arithmetic.SplitWrong, arithmetic.SidesUneven,
		arithmetic.SidesUnclear,
		arithmetic.PartnersUneven, arithmetic.SetsUneven, arithmetic.SeriesTurns, arithmetic.StepsUneven,
		arithmetic.LadderFlat, arithmetic.SlotsUneven, arithmetic.SlotsOrder, arithmetic.LabelsOrder, arithmetic.MinutesUneven,
		arithmetic.CountFraction, arithmetic.CountBeyond, arithmetic.ClassUneven, arithmetic.EachUnused,

		// Whether it fits the clock.
		clock.PartRunsOver, clock.StartsBackwards, clock.IntervalOverfull, clock.CapTight, clock.CapGenerous,
		clock.SessionOverlong, clock.AimUnreachable, clock.ClockUnproven,

		// What rest is left.
		rest.RestGapShort, rest.RestSetsShort, rest.EffortRestShort, rest.WorkRestOff,

		// How heavy it is, and with what.
		load.RepsTooMany, load.LiftsTooMany, load.WeightUnbuildable, load.LoadUnowned, load.UnitsMixed,
		load.TiersSame, load.EffortImpossible, load.TempoUnlikePace,

		// How files are kept.
		form.NameSpelling, form.PartEmpty, form.ClauseInNote, form.FileName, form.StintMissing, check.WaiverUnused, check.RuleUnknown,

		// What a version promises.
		scaling.VersionMissing, scaling.VersionKit, scaling.PatternLost, scaling.PatternGained, scaling.VersionFar,
		scaling.NoteDiffers, scaling.SkillUnscaled,

		// What bodies do before it is hard.
		warmup.LengthMissing, warmup.WarmupMissing, warmup.WarmupShort, warmup.WarmupLong, warmup.PatternCold,
		warmup.JointCold, warmup.PhasesMissing, warmup.RampMissing,

		// Whether there is kit enough for the class.
		kit.KitAbsent, kit.KitShort,

		// How the weeks of a cycle follow each other.
		cycles.DateDiffers, cycles.DayBeforeStart, cycles.DayTwice, cycles.DayVersionUnknown, cycles.SessionTwice,
		cycles.SessionUnplanned, cycles.WeekEmpty, cycles.WeeksUneven, cycles.IntensityJump, cycles.PatternAgain,
		cycles.PatternBalance, cycles.ProgressBroken, cycles.RetestUnlike, cycles.TestTired, cycles.VolumeJump,
		cycles.WeekMonotone, cycles.WeekNotEasy, cycles.WeekLengthWrong,

		// What whoever briefs a session can say.
		coaching.StandardMissing, coaching.CueMissing, coaching.EasierMissing, coaching.CautionMissing,
		coaching.HeatCaution,
	},
)...)

// Registry is the list of all rules.
func Registry() *check.Registry { return registry }

// All are all rules, by family.
func All() []check.Rule { return registry.All() }

// Find looks up a rule by its name.
func Find(name string) (check.Rule, bool) { return registry.Find(name) }
