package syntax

import (
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/source"
)

// A File is the whole of one text, read: every line of it, and the tree that their
// indents make. Nothing of the text is lost.
type File struct {
	Src   *source.File
	Lines []*Line
	Roots []*Block
	Diags []diag.Diagnostic
	// NotUTF8 marks a text in another encoding: no line of it is read, and whoever prints
	// the file leaves it as it is.
	NotUTF8 bool
}

// A Line is one line of the text. What it says is shared between all lines of the
// same text in the same kind of block; where it stands is its own.
type Line struct {
	Body  int // offset of the first byte behind the indent, in the file
	Depth int // 0 is the margin; each two blanks, or a tab, one more
	*Parsed
}

// Span places a span of the line's body in the file.
func (l *Line) Span(s source.Span) source.Span { return s.Shift(l.Body) }

// A Block is a line and the lines that stand under it.
type Block struct {
	Line *Line
	Kids []*Block
}

// Parsed is what one line says. Spans count from the first byte of the body.
type Parsed struct {
	Stmt    Stmt // nil where the line is blank or holds only a note or a comment
	Note    *Text
	Comment *Text
	Toks    []Tok
	Text    string // the body as it is written
	Len     int    // bytes of the body, trailing blanks included
	Bad     bool   // something on the line is an error; the formatter leaves it as it is
	diags   []lineDiag
	plain   []substitution
	opens   Context // what kind of block the line opens

	in        Context // the kind of block that it was read for
	misplaced bool    // reported as a line that may not stand where it does
	timeless  bool    // a time of it has no unit, so that it is not known
	noteMeans bool    // its note is a score, a load or an end in words, and no remark
}

// Text is free text behind > or #, without that mark and the blanks around it.
type Text struct {
	source.Span
	Text string
}

// Stmt is what a line says: an Entry, Head, Lead, Item, Rest, Tag, Swap, Property
// or, where it cannot be read, a Bad.
type Stmt interface{ Extent() source.Span }

func (n node) Extent() source.Span { return n.Span }

type node struct{ source.Span }

// Entry opens a session, movement, house or cycle, or states the version
// of the notation ("stint 1").
type Entry struct {
	node
	Kind string
	Name Name // a version number for "stint"
}

// Head opens a group of work: a part, the warm-up, the cool-down, or any group
// inside them. Part is "part", "warm-up", "cool-down", or empty for a group.
type Head struct {
	node
	Part    string
	Letter  Name
	At      *Value // where a part is pinned to the clock
	Repeat  *Repeat
	Mode    *Mode
	Clauses []Clause
	Until   *End // where it has no repeat that says it
	Inline  Stmt // what stands behind a colon
	Unread  bool // a time of it has no unit, so that its turns are not known

	// Sets is where the head says "sets", which no head does any more: its numbers are read as those
	// of a ladder, and whoever knows the block under it says how to write them.
	Sets source.Span

	// Replaces says that the section takes the place of the session's own, in a scaling.
	Replaces bool
}

// RepeatKind is how a group comes round again.
type RepeatKind string

// The repeats.
const (
	Rounds    RepeatKind = "rounds"
	Ladder    RepeatKind = "ladder"
	Emom      RepeatKind = "emom"
	Every     RepeatKind = "every"
	OnOff     RepeatKind = "on"
	AnyOrder  RepeatKind = "any order"
	ChooseOne RepeatKind = "choose one"
)

// Repeat is the repeat of a head.
type Repeat struct {
	source.Span
	Kind  RepeatKind
	Count *Amount   // rounds, or the series of a ladder
	Unit  string    // of the series, where it does not count repetitions
	Every *Quantity // the interval of every, the whole of emom
	On    *Quantity
	Off   *Quantity
	Times *Amount // how many starts or windows; with Laps, how many rounds over the slots
	Laps  bool
	Until *End
}

// Mode is what the athlete is after.
type Mode struct {
	source.Span
	Kind string    // "for time", "for load", "for completion", "amrap"
	Time *Quantity // the time of an amrap
}

// A Clause narrows a head or an item. Which fields it has depends on its kind.
type Clause struct {
	source.Span
	Kind   ClauseKind
	Amount *Quantity // cap, lasts, sets of, every, each +, effort
	Tempo  string    // four phases
	People *People   // in
	Kit    Name      // with
	Loads  []Load    // with
	Rest   *Rest     // rest
	Minus  bool      // each -V
}

// People says how people are divided.
type People struct {
	source.Span
	Kind  string    // "pairs", "teams", "heats"
	Size  *Amount   // people in a team or a heat
	Every *Quantity // from one heat's start to the next
}

// Lead says when or where what follows is done.
type Lead struct {
	node
	// Kind is "slot", "station", "round", "at each", "at", "meanwhile", "when done", "if",
	// "otherwise", "part", "warm-up", "cool-down", or "label" for a name that the author gives what
	// follows. What an "if" depends on is the line's note.
	Kind   string
	Label  string
	Amount *Quantity // which slot, station or rounds; the time or the distance
	From   *Quantity // at each: when it comes first, where that is not after one such time
	Event  string    // at each: break, where it is no time
	Letter Name      // part
	Inline Stmt
}

// Item is a line of work.
type Item struct {
	node
	Dose    *Dose
	Moves   []Move
	Or      bool // the moves are a choice; otherwise they are one set, done without letting go
	Terms   []Term
	Loads   []Load
	Until   *End
	Clauses []Clause
	Whose   string // of a total: "each", "team", or empty
}

// A Move is one movement of an item, with its own count inside a complex.
type Move struct {
	source.Span
	Count *Quantity // nil for the first, which has the item's dose
	Name  Name
}

// Dose is how much of a movement.
type Dose struct {
	source.Span
	Sets   *Amount // N x
	Max    bool
	Amount *Quantity // nil with a bare max, or as much as before; how long, where a max has a time
	Unit   string    // the unit of a max
	OfMax  bool      // the amount is a percentage of the most that the athlete can do
	Past   *Past     // as much as that; with an amount, a percentage of it
	RM     float64   // build up to the heaviest of so many repetitions; nothing else is said
	Side   bool      // on each side
}

// A Term is a part of a dose that is spelled out behind =.
type Term struct {
	source.Span
	Count Value
	Unit  string // "rep" too; empty where it is that of the dose
	Label Name   // empty where a piece is called nothing
}

// Form is how the steps of an amount are meant.
type Form string

// The forms of an amount.
const (
	One    Form = "one"
	Range  Form = "range"
	Series Form = "series"
	FromTo Form = "from-to"
)

// An Amount is a number, a range, a series, or steps from one to another.
type Amount struct {
	source.Span
	Form  Form
	Steps []Step
	// Bound says that each of its numbers is the least or the most: AtLeast, AtMost or empty.
	Bound string
}

// The bounds of an amount.
const (
	AtLeast = "at least"
	AtMost  = "at most"
)

// A Step is a value of an amount, or the dots that stand for the values between.
type Step struct {
	Dots bool
	Value
}

// A Value is a number for each tier, or one for all.
type Value struct {
	source.Span
	Tiers []Num
}

// A Num is a number as written. A clock's value is in seconds.
type Num struct {
	source.Span
	Value float64
	Clock bool
	More  bool // or more, of one number of a series: the 1+ of 5-3-1+
}

// Quantity is an amount and its unit: "rep" where a bare number counts repetitions,
// empty where a clock says it.
type Quantity struct {
	source.Span
	Amount
	Unit     string
	UnitSpan source.Span
}

// LoadKind is what a load speaks of.
type LoadKind string

// The kinds of load.
const (
	Mass    LoadKind = "mass"    // kg or lb
	Height  LoadKind = "height"  // a length: a box, a target
	Share   LoadKind = "share"   // percent of a base
	RPE     LoadKind = "RPE"     // rating of perceived exertion
	RIR     LoadKind = "RIR"     // repetitions in reserve
	Effort  LoadKind = "effort"  // how hard, in percent
	Cadence LoadKind = "cadence" // a duration per unit
	Rising  LoadKind = "rising"  // it changes each turn, the athlete chooses by how much
	Reading LoadKind = "reading" // what a monitor shows: bpm, spm, W
	Pace    LoadKind = "pace"    // as fast as a race over that distance, or for that time
	Named   LoadKind = "named"   // a word of the book
	Earlier LoadKind = "earlier" // as heavy, or as hard, as before
	Noted   LoadKind = "note"    // what the line's note says
)

// A Load stands behind @.
type Load struct {
	source.Span
	Kind   LoadKind
	Count  *Amount   // implements: the 2 of 2x15 kg
	Amount *Quantity // nil for rising and named
	Share  *Quantity // pace: how much of it, in percent
	Base   Name      // share: 1RM where empty; today, bodyweight, another movement ...
	Minus  bool      // pace: the offset is taken off
	Offset *Quantity // pace: how much slower, a duration per that many
	Per    float64   // cadence: a duration per that many
	Unit   string    // cadence: rep, m, cal, breath
	Past   *Past     // earlier: with the bound of what it comes to
	Word   Name      // named; rising: "rising", "falling", "faster" or "slower"
	Note   string    // note
}

// End is what ends work, a rest or what comes round.
type End struct {
	source.Span
	Kind   EndKind
	Amount *Quantity // the clock value, or the reading
	Past   *Past
	Note   string // what ends it in words; empty on the left of a swap, where until alone names any such end
}

// EndKind is what an end speaks of.
type EndKind string

// The kinds of end.
const (
	EndClock   EndKind = "clock"
	EndReading EndKind = "reading" // what a monitor shows: bpm, spm, W
	EndMissed  EndKind = "missed"  // a turn is missed
	EndDone    EndKind = "done"    // all of it is done
	EndPast    EndKind = "past"    // a turn compares so with an earlier one
	EndNote    EndKind = "note"    // what the line's note says
)

// Past is what was done before in the session.
type Past struct {
	source.Span
	What   string // "the first", "the last" or "today"
	Bound  string // of a load: AtLeast, AtMost or empty
	Minus  bool   // the offset is taken off
	Offset *Quantity
}

// Rest is a line or a clause of rest.
type Rest struct {
	node
	Bound   string    // "at least", "at most", or empty
	Amount  *Quantity // nil where nothing is said
	Until   *End      // what ends it
	Needed  bool      // as needed
	Work    *Value    // N x work
	Between Name      // rounds, laps, parts ...
	After   bool      // when all turns are done, not between them
	Inline  Stmt      // what is done in it: rest: 400 m jog
}

// Scaling opens a version of the session: in a session it says what changes, in a
// house it declares what the version is for.
type Scaling struct {
	node
	Name Name
	From []Name // the versions that it starts from, each on top of those before
}

// Tag hands work to the next athlete of a team.
type Tag struct{ node }

// Swap changes a written thing in a version of the session.
type Swap struct {
	node
	Part    string // "part", "warm-up", "cool-down", or empty for the whole session
	Letter  Name
	From    Stmt
	To      Stmt // nil for nothing
	Nothing bool
}

// ClauseSide is a clause alone, as one side of a swap.
type ClauseSide struct {
	node
	Clause Clause
}

// LoadSide is loads alone, as one side of a swap.
type LoadSide struct {
	node
	Loads []Load
}

// Property is a line that is no work: a keyword and what belongs to it.
type Property struct {
	node
	Key      string
	KeySpan  source.Span
	Names    []Name
	Sets     *Amount  // progress: how many sets
	Or       [][]Name // needs: by name, the kit that stands in for it; nil where none does
	Quantity *Quantity
	Per      string // pace: the unit it is per
	Items    []*Item
	After    int // of totals: the round that is over; 0 for all of them
	Loads    []Load
	Rest     *Rest
	Date     string
	Time     *Value // a day's time, or a session's start: minutes of the day
	At       bool   // aim: when it is over, not how long it takes
	Version  Name   // a day's version of the session
	Up       bool   // round: up, not down; without a quantity, to what discs make
	Score    *Score
	Error    bool      // rule: what it finds is an error
	Settings []Setting // rule: its thresholds
}

// Score is what a part is scored by.
type Score struct {
	Agg  string // one of ScoreOrders, or empty
	What string // one of Scores, or ScoreNote
	// Penalties are what is added to it, or taken off, for each of something.
	Penalties []Penalty
}

// A Penalty is so much of a score for each of something, in words.
type Penalty struct {
	source.Span
	Minus  bool
	Amount *Quantity
	Per    Name
}

// A Setting is a threshold of a rule that a house sets.
type Setting struct {
	source.Span
	Key   Name
	Value Quantity
}

// Bad is a line that cannot be read. Its text is in the file; what stands under it
// is read all the same.
type Bad struct{ node }

// A Name is words, joined by single blanks, with plain hyphens and apostrophes, in
// the case in which they are written.
type Name struct {
	source.Span
	Text string
}
