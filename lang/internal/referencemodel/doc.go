// Package referencemodel is a second implementation of the model of time, written apart from the
// first and only for tests: what both of them say is unlikely to be a slip of either. It has
// what lang/analysis/estimate does not have yet: teams of independent partners, heats walked
// each, queues at kit, work ends, set-up at racks. Its own tests hold it to worked examples and
// to simulation; nothing compares the two models yet.
//
// It knows nothing of the notation. A test builds a [Part] out of [Work], [Rest], [Group] and
// [Tag], and [House.Walk] walks it at one standing:
//
//	burpee := referencemodel.Book["burpee"]
//	part := referencemodel.Part{Steps: []referencemodel.Step{referencemodel.Work{Move: burpee, Count: 100}}}
//	seconds := referencemodel.Standard.Walk(part, referencemodel.Typical).Time
//
// A standing is a z value, the number of standard deviations that somebody is slower than the
// middle. For a team it is the team's own standing among teams. Times are seconds on one
// clock, which starts at 0 unless [House.After] says otherwise. Nothing is rounded but counts
// of work that a clock cuts short, which are whole. The package trusts its input: a count below
// zero or an interval of zero has no meaning and no error.
//
// [Result] has times, work ends, turns, bouts and scores. [Share], [Heats] and [Queue] say what
// a class makes of a part.
package referencemodel
