// Package timemodel is a second implementation of the model of time, written apart from the
// first and only for tests: what both of them say is unlikely to be a slip of either.
//
// It knows nothing of the notation. A test builds a [Part] out of [Work], [Rest], [Group] and
// [Tag], and [House.Walk] walks it at one standing:
//
//	burpee := timemodel.Book["burpee"]
//	part := timemodel.Part{Steps: []timemodel.Step{timemodel.Work{Move: burpee, Count: 100}}}
//	seconds := timemodel.Standard.Walk(part, timemodel.Typical).Time
//
// A standing is a z value, the number of standard deviations that somebody is slower than the
// middle. For a team it is the team's own standing among teams. Times are seconds on one
// clock, which starts at 0 unless [House.After] says otherwise. Nothing is rounded but counts
// of work that a clock cuts short, which are whole. The package trusts its input: a count below
// zero or an interval of zero has no meaning and no error.
//
// [Result] has times, work ends, turns, bouts and scores. [Share], [Heats] and [Queue] say what
// a class makes of a part.
package timemodel
