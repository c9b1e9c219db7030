package model

// The words that a field can hold, each a type of its own, so that a switch can be proven to
// cover them all and a slip of the pen does not compile. Their values are what the JSON says.

// A GroupKind is what a head or a lead opens.
type GroupKind string

// Kinds of groups.
const (
	WarmUp   GroupKind = "warm-up"
	Part     GroupKind = "part"
	CoolDown GroupKind = "cool-down"
	Plain    GroupKind = "group" // a head inside a part
	Slot     GroupKind = "slot"
	Station  GroupKind = "station"
	RoundOf  GroupKind = "round" // what some turns hold beside the rest
	Label    GroupKind = "label" // a name that the author gives
	// OnlyIf is done where its condition holds, and Otherwise where that of none beside it does.
	OnlyIf    GroupKind = "if"
	Otherwise GroupKind = "otherwise"
)

// A RepeatKind is how a group comes round again.
type RepeatKind string

// Kinds of repeats. An emom is Every 1:00.
const (
	Once      RepeatKind = "once"
	Rounds    RepeatKind = "rounds"
	Ladder    RepeatKind = "ladder"
	Every     RepeatKind = "every"
	On        RepeatKind = "on"
	AnyOrder  RepeatKind = "any order"
	ChooseOne RepeatKind = "choose one"
)

// A Mode is how work is done and scored.
type Mode string

// Modes. Where none is stated, the work is done once and not scored by the clock.
const (
	NoMode        Mode = ""
	ForTime       Mode = "for time"
	ForLoad       Mode = "for load"
	ForCompletion Mode = "for completion"
	AMRAP         Mode = "amrap"
)

// A DoseOrigin is where the dose of a line comes from.
type DoseOrigin string

// Origins of a dose.
const (
	FromLine  DoseOrigin = "line"
	FromHead  DoseOrigin = "head"  // a ladder or sets gives it
	FromClock DoseOrigin = "clock" // the window or slot is all there is
)

// A Sharing is how a team divides work.
type Sharing string

// Sharings.
const (
	NotShared   Sharing = ""
	Split       Sharing = "split"
	SplitEvenly Sharing = "split evenly"
	Together    Sharing = "together"
)

// A Whose says whose work a stated total is of.
type Whose string

// Whose work a total is of.
const (
	OfAnyone Whose = ""     // it is the same for one athlete and for a team
	EachOne  Whose = "each" // one athlete's
	OfTeam   Whose = "team" // what the board asks of a team
)

// A RestPlace is where a rest is taken.
type RestPlace string

// Places of a rest.
const (
	RestHere         RestPlace = "here"
	RestBetweenTurns RestPlace = "between turns"
	RestBetweenSets  RestPlace = "between sets"
	RestAfterPart    RestPlace = "after the part"
	RestInInterval   RestPlace = "in its interval"
	RestBetweenParts RestPlace = "between parts" // of what is asked
)

// A Turns names the repeat between whose turns a rest is taken, where that is not the nearest.
type Turns string

// Repeats that a rest can stand between the turns of.
const (
	NearestTurns Turns = ""
	OfRounds     Turns = "rounds" // of slots on a clock, passes over all of them
	OfRungs      Turns = "rungs"
	OfParts      Turns = "parts"
	OfStations   Turns = "stations"
	OfSlots      Turns = "slots"
)

// A Bound says that a number is the least or the most. It makes a rest something that is asked for:
// that asserts and adds nothing.
type Bound string

// Bounds.
const (
	Unbounded Bound = ""
	AtLeast   Bound = "at least"
	AtMost    Bound = "at most"
)

// An EndKind is what work goes on until.
type EndKind string

// Kinds of ends.
const (
	UntilClock   EndKind = "clock"
	UntilReading EndKind = "reading" // a monitor shows it
	UntilMissed  EndKind = "missed"
	UntilDone    EndKind = "done"
	UntilPast    EndKind = "past" // a turn compares so with an earlier one
	UntilNote    EndKind = "note" // what the line's note says
)

// A PeopleKind is how a class is divided.
type PeopleKind string

// Kinds of divisions.
const (
	Pairs PeopleKind = "pairs"
	Teams PeopleKind = "teams"
	Heats PeopleKind = "heats"
)

// A BaseKind is what a percentage is of.
type BaseKind string

// Kinds of bases.
const (
	OfRM         BaseKind = "RM"        // a maximum of so many repetitions
	OfToday      BaseKind = "today"     // the best so far in the session
	OfFirst      BaseKind = "the first" // of the turns done of what comes round
	OfLast       BaseKind = "the last"  // turn before this one
	OfBodyweight BaseKind = "bodyweight"
	OfMovement   BaseKind = "movement" // another movement's one-repetition maximum
	OfMaxReps    BaseKind = "reps"
	OfMaxTime    BaseKind = "time"
	OfHeartRate  BaseKind = "heart rate"
	OfMaxSpeed   BaseKind = "speed"
	OfMaxPower   BaseKind = "power"
)

// An EventKind is when work is dropped into other work.
type EventKind string

// Kinds of events. Of AtEach the event says how often, and the others name what brings them.
const (
	AtTime      EventKind = "at"
	Meanwhile   EventKind = "meanwhile"
	WhenDone    EventKind = "when done"
	AtEach      EventKind = "at each" // a time, a distance or a count
	AtEachBreak EventKind = "at each break"
)

// Divides says whether the members of a team share out the work among them.
func (s Sharing) Divides() bool { return s == Split || s == SplitEvenly }
