// Package model is what the text means: sessions, houses and cycles with every name
// resolved, every value typed, and every node knowing the words that it came from.
//
// A version of a session (a scaling) is a whole session of its own, with the swaps
// made, so whoever computes with sessions need not know of swaps.
package model

import (
	"stint.example/stint/lang/book"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
)

// A Session is one hour of training, as written or in one version.
type Session struct {
	Name    string       `json:"name"`
	Version string       `json:"version,omitempty"` // empty as written
	Week    *PlannedWeek `json:"week,omitempty"`    // nil as it is in the first week that plans it, or in any
	At      source.Place `json:"at"`                // its name
	Date    string       `json:"date,omitempty"`    // year-month-day
	Start   *TimeOfDay   `json:"start,omitempty"`   // of its first line, unless a cycle says another
	Length  *Quantity    `json:"length,omitempty"`  // s
	Effort  *Quantity    `json:"effort,omitempty"`  // %
	Heat    *Quantity    `json:"heat,omitempty"`    // C, of the wet-bulb globe temperature
	Purpose string       `json:"purpose,omitempty"`
	// Cautions are what whoever briefs the session says of what can hurt.
	Cautions []string  `json:"cautions,omitempty"`
	Aims     []*Aim    `json:"aims,omitempty"`
	Rests    []*Rest   `json:"rests,omitempty"`  // what it asks between parts
	Kit      []KitItem `json:"kit,omitempty"`    // in the place of the house's
	Parts    []*Group  `json:"parts"`            // warm-up, parts and cool-down, in order
	Totals   []*Total  `json:"totals,omitempty"` // as stated
	Notes    []string  `json:"notes,omitempty"`

	Versions []*Version `json:"versions,omitempty"`

	OwnKit bool        `json:"-"` // a version that is done with kit of its own, and not the house's
	Block  source.Span `json:"-"` // all its lines
}

// A TimeOfDay is a time that a session starts at.
type TimeOfDay struct {
	Time    string       `json:"time"` // h:mm
	Minutes float64      `json:"-"`    // since midnight
	At      source.Place `json:"at"`
}

// A Version is a session in one of its scalings.
type Version struct {
	Name    string       `json:"name"`
	From    []string     `json:"from,omitempty"`
	Note    string       `json:"note,omitempty"`
	At      source.Place `json:"at"`
	Has     []string     `json:"has,omitempty"` // kit; nothing else, where HasOnly
	HasOnly bool         `json:"hasOnly"`
	Session *Session     `json:"session"`
	// Left is what of the session as written it leaves out and says why: lines, and whole
	// parts.
	Left  []source.Place `json:"-"`
	Swaps []Swap         `json:"-"` // the session's and the house's, and those of versions that it starts from
}

// A Swap is a line of a scaling, and the lines of the session as written that it changes.
type Swap struct {
	At      source.Place
	Changes []source.Place
}

// A Step is what a group holds: a Group, Work, Rest or Tag.
type Step interface {
	Where() source.Place
	step()
}

// A Group is work under a head or a lead: a part, the warm-up, rounds, a slot.
type Group struct {
	// Kind is "warm-up", "part", "cool-down", "group", "slot", "station", "round" (what
	// some turns hold beside the rest), "label" (a name that the author gives), "if" or "otherwise".
	Kind    GroupKind    `json:"kind"`
	If      string       `json:"if,omitempty"` // what it depends on whether it is done
	Letter  string       `json:"letter,omitempty"`
	Label   string       `json:"label,omitempty"`
	Number  int          `json:"number,omitempty"` // of a slot, a station or the first round, from 1
	Last    int          `json:"last,omitempty"`   // of the last round
	At      source.Place `json:"at"`               // the head
	Start   *Quantity    `json:"start,omitempty"`  // s on the wall clock, where the part is pinned
	Repeat  Repeat       `json:"repeat"`
	Mode    Mode         `json:"mode,omitempty"` // "for time", "for load", "for completion", "amrap"
	Time    *Quantity    `json:"time,omitempty"` // s of an amrap
	Cap     *Quantity    `json:"cap,omitempty"`  // s
	Lasts   *Quantity    `json:"lasts,omitempty"`
	People  *People      `json:"people,omitempty"`   // who works together
	Heats   *People      `json:"heats,omitempty"`    // who starts together
	Share   Sharing      `json:"share,omitempty"`    // "split", "split evenly": the turns are shared
	Side    bool         `json:"eachSide,omitempty"` // all of it, for one side and then for the other
	Solo    bool         `json:"oneWorks,omitempty"` // one works while the others rest
	CarryOn bool         `json:"carryOn,omitempty"`
	Each    []*Quantity  `json:"each,omitempty"` // what every load inside goes up by after each turn
	Effort  *Quantity    `json:"effort,omitempty"`
	With    []Kit        `json:"with,omitempty"`
	Aims    []*Aim       `json:"aims,omitempty"`
	Totals  []*Total     `json:"totals,omitempty"`
	Rests   []*Rest      `json:"rests,omitempty"` // what it asks of the rest that follows
	Scores  []*Score     `json:"scores,omitempty"`
	Steps   []Step       `json:"steps"`
	Events  []*Event     `json:"events,omitempty"`
	Notes   []string     `json:"notes,omitempty"`

	Block source.Span `json:"-"`
	// Unread says that the head could not be read, so that its turns are not known.
	Unread bool `json:"unread,omitempty"`
	// Gaps says that a line under it could not be read, so that its sums are not what was
	// meant.
	Gaps bool `json:"gaps,omitempty"`

	refused bool        // its head is refused, with a fix that writes all of it otherwise
	share   source.Span // of the share clause
}

// Work is one line of work.
type Work struct {
	At     source.Place `json:"at"`
	Moves  []Move       `json:"moves"`
	If     string       `json:"if,omitempty"`     // what it depends on whether it is done
	Choice bool         `json:"choice,omitempty"` // one of the moves; otherwise all, as one set
	Sets   *Quantity    `json:"sets,omitempty"`   // N x
	Dose   *Quantity    `json:"dose,omitempty"`
	// From says where the dose comes from: "line", "head" (a ladder or sets gives it), or
	// "clock" (the window or slot is all there is).
	From        DoseOrigin `json:"doseFrom"`
	Shares      bool       `json:"sharesTime,omitempty"` // with others, it has what is left of the time of a head that lasts
	Side        bool       `json:"perSide,omitempty"`    // the dose is for each side
	RM          float64    `json:"rm,omitempty"`         // built up to the heaviest of so many repetitions
	Window      *Quantity  `json:"window,omitempty"`     // s that a max has
	Every       *Quantity  `json:"every,omitempty"`      // s from one set's start to the next
	Past        *Past      `json:"past,omitempty"`       // what the dose comes from; in %, it is a share of that
	Terms       []Term     `json:"terms,omitempty"`
	Loads       []Load     `json:"loads,omitempty"`
	Until       *End       `json:"until,omitempty"`
	Alternating bool       `json:"alternating,omitempty"`
	Tempo       string     `json:"tempo,omitempty"`
	Unbroken    bool       `json:"unbroken,omitempty"`
	AnySets     bool       `json:"anySets,omitempty"`
	SetsOf      *Quantity  `json:"setsOf,omitempty"`
	ShareOfEach *Quantity  `json:"shareOfEach,omitempty"` // how much of a split each does: a bound or a range
	Share       Sharing    `json:"share,omitempty"`       // "split", "split evenly", "together"
	With        []Kit      `json:"with,omitempty"`
	Rest        *Rest      `json:"rest,omitempty"` // between the sets of the line
	Notes       []string   `json:"notes,omitempty"`

	// Written is the line as the session has it, where a version's swap has taken its
	// place.
	Written source.Place `json:"-"`

	original *Work       // in a version, the line as the session has it
	share    source.Span // of the share clause
}

// A Move is a movement of a line of work.
type Move struct {
	Movement *book.Movement `json:"-"`
	Name     string         `json:"movement"`        // as the book has it; as written where no book does
	Count    *Quantity      `json:"count,omitempty"` // its own, behind the first
	At       source.Place   `json:"at"`
}

// A Term is a stated piece of a dose.
type Term struct {
	Count *Quantity `json:"count"`
	Label string    `json:"label,omitempty"`
}

// A Load is what stands behind @.
type Load struct {
	Kind   syntax.LoadKind `json:"kind"`
	Count  *Quantity       `json:"implements,omitempty"` // the 2 of 2x15 kg
	Amount *Quantity       `json:"amount,omitempty"`
	Base   *Base           `json:"of,omitempty"`
	Share  *Quantity       `json:"share,omitempty"`  // pace: % of it
	Power  bool            `json:"power,omitempty"`  // pace: the share is of the power that is held, as on bikes, and not of the speed
	Offset *Quantity       `json:"offset,omitempty"` // pace: s that are added for so many of the unit, less than nothing where it is faster
	Per    float64         `json:"per,omitempty"`    // cadence, and an offset: seconds per that many
	Unit   string          `json:"perUnit,omitempty"`
	Word   string          `json:"word,omitempty"`
	Past   *Past           `json:"past,omitempty"` // what it comes from; the amount is there where the text tells it
	Note   string          `json:"note,omitempty"` // what it is, in words
	At     source.Place    `json:"at"`
}

// A Base is what a percentage is of.
type Base struct {
	// Kind is "RM" (a maximum of Reps repetitions), "today", "bodyweight", "movement"
	// (another movement's 1RM), or the greatest of something: "reps", "time", "heart rate",
	// "speed", "power".
	Kind     BaseKind       `json:"kind"`
	Reps     int            `json:"reps,omitempty"`
	Movement *book.Movement `json:"-"`
	Name     string         `json:"movement,omitempty"`
}

// A Past is what was done before in the session, with what is added to it: of a line's movement, its
// count or its load; of turns, their time.
type Past struct {
	Of     BaseKind     `json:"of"`               // "the first", "the last" or "today"
	Bound  Bound        `json:"bound,omitempty"`  // of a load
	Offset *Quantity    `json:"offset,omitempty"` // less than nothing where it is taken off
	At     source.Place `json:"at"`
}

// Kit is what an athlete carries or wears beside the movement's own kit.
type Kit struct {
	Name  string       `json:"name"`
	Loads []Load       `json:"loads,omitempty"`
	At    source.Place `json:"at"`
}

// An End is what work, a rest or what comes round goes on until.
type End struct {
	Kind    EndKind      `json:"kind"`
	Clock   *Quantity    `json:"clock,omitempty"`   // s on the nearest clock
	Reading *Quantity    `json:"reading,omitempty"` // bpm, spm or W
	Past    *Past        `json:"past,omitempty"`    // the earlier turn that a turn is compared with
	Note    string       `json:"note,omitempty"`
	At      source.Place `json:"at"`
}

// Rest is a rest, or what is asked of one.
type Rest struct {
	At     source.Place `json:"at"`
	Amount *Quantity    `json:"amount,omitempty"` // s
	Bound  Bound        `json:"bound,omitempty"`  // "at least", "at most": asserts, adds nothing
	Needed bool         `json:"asNeeded,omitempty"`
	Until  *End         `json:"until,omitempty"`     // its Amount, with the bound, then says how long at least or at most
	Work   *Quantity    `json:"timesWork,omitempty"` // times the last turn's own work
	// Place says where it is taken: "here", "between turns", "between sets", "after the
	// part", "in its interval", or "between parts" for what is asked.
	Place RestPlace `json:"place"`
	// Of is the repeat between whose turns it is, where that is said: "rounds", "rungs",
	// "stations", "slots", "parts".
	Of    Turns    `json:"of,omitempty"`
	Steps []Step   `json:"steps,omitempty"` // what is done in it, easily: a jog
	Notes []string `json:"notes,omitempty"`

	// fills says that it takes what a slot, or a head that lasts, leaves, where nothing says how long it is.
	fills  bool
	behind *restClause // the clause of the line before it, where it is no line of its own; nil once its place is settled
}

// A Tag hands on to the next athlete of a team.
type Tag struct {
	At    source.Place `json:"at"`
	Notes []string     `json:"notes,omitempty"`
}

// An Event is work that is dropped into other work.
type Event struct {
	At source.Place `json:"at"`
	// Kind is "at", "meanwhile", "when done", "at each" (a time, a distance or a count), or
	// "at each break".
	Kind  EventKind `json:"kind"`
	When  *Quantity `json:"when,omitempty"`  // s; of "at each" also m, rep or cal
	First *Quantity `json:"first,omitempty"` // s: of "at each", where that is not after one such time
	Steps []Step    `json:"steps,omitempty"` // what is done
	Notes []string  `json:"notes,omitempty"`
}

// Repeat is how a group comes round again.
type Repeat struct {
	// Kind is "once", or as the head says: "rounds", "ladder", "every", "on", "any
	// order", "choose one". An emom is every 1:00.
	Kind     RepeatKind   `json:"kind"`
	Count    *Quantity    `json:"count,omitempty"`    // how many turns: rounds, starts, windows
	Series   *Quantity    `json:"series,omitempty"`   // of a ladder or sets: a count a turn
	Laps     bool         `json:"laps,omitempty"`     // Count counts passes over the slots
	Interval *Quantity    `json:"interval,omitempty"` // s from start to start
	On       *Quantity    `json:"on,omitempty"`       // s of work
	Off      *Quantity    `json:"off,omitempty"`      // s of rest
	Whole    *Quantity    `json:"whole,omitempty"`    // s: the time of an emom as written
	Until    *End         `json:"until,omitempty"`
	At       source.Place `json:"at"`
}

// Clocked says whether a clock starts the turns.
func (r Repeat) Clocked() bool { return r.Kind == Every || r.Kind == On }

// People says how a class is divided.
type People struct {
	Kind  PeopleKind   `json:"kind"` // "pairs", "teams", "heats"
	Size  *Quantity    `json:"size"` // people in one
	Every *Quantity    `json:"every,omitempty"`
	At    source.Place `json:"at"`
}

// AimedEnd is what an aim counts that says when something is over, on the class's clock.
const AimedEnd = "end"

// An Aim is what the author expects of a part.
type Aim struct {
	At     source.Place `json:"at"`
	Amount *Quantity    `json:"amount,omitempty"`
	What   string       `json:"what,omitempty"` // "time", "end" (on the class's clock), "rounds", "reps", ... what the amount counts
	Rest   *Rest        `json:"rest,omitempty"`
	Notes  []string     `json:"notes,omitempty"`
}

// A Score is what a part is scored by.
type Score struct {
	Agg  string `json:"of,omitempty"` // total, best, worst, last, each
	What string `json:"what"`
	Note string `json:"note,omitempty"` // what is scored, in words
	// Penalties are what is added to it for each of something: to the score, not to the clock.
	Penalties []Penalty    `json:"penalties,omitempty"`
	At        source.Place `json:"at"`
	Notes     []string     `json:"notes,omitempty"`
}

// A Penalty is so much of a score, less than nothing where it is taken off, for each of something.
type Penalty struct {
	Amount *Quantity    `json:"amount"`
	Per    string       `json:"per"` // in words, for people
	At     source.Place `json:"at"`
}

// A Total is a sum that the author states and the checker proves.
type Total struct {
	At       source.Place   `json:"at"`
	Amount   *Quantity      `json:"amount"`
	Whose    Whose          `json:"whose,omitempty"`
	After    int            `json:"after,omitempty"` // the turn of the group that is over then; 0 for all of them
	Movement *book.Movement `json:"-"`
	Name     string         `json:"movement,omitempty"` // empty for all repetitions together
	Notes    []string       `json:"notes,omitempty"`
}

// Slots counts the slots or stations of a group.
func (g *Group) Slots() int {
	n := 0
	for _, s := range g.Steps {
		if k, ok := s.(*Group); ok && k.IsSlot() {
			n++
		}
	}
	return n
}

// IsSection says whether the group is a part, the warm-up or the cool-down.
func (g *Group) IsSection() bool {
	return g.Kind == Part || g.Kind == WarmUp || g.Kind == CoolDown
}

// IsSlot says whether the group is a slot or a station of the group around it.
func (g *Group) IsSlot() bool { return g.Kind == Slot || g.Kind == Station }

// Where is the head's place.
func (g *Group) Where() source.Place { return g.At }

// Where is the line's place.
func (w *Work) Where() source.Place { return w.At }

// Where is the line's place.
func (r *Rest) Where() source.Place { return r.At }

// Where is the line's place.
func (t *Tag) Where() source.Place { return t.At }

func (*Group) step() {}
func (*Work) step()  {}
func (*Rest) step()  {}
func (*Tag) step()   {}

// ShareAt is the place of a head's split.
func (g *Group) ShareAt() source.Place { return source.Place{File: g.At.File, Span: g.share} }

// ShareAt is the place of a line's split or together.
func (w *Work) ShareAt() source.Place { return source.Place{File: w.At.File, Span: w.share} }

// A Waiver lets named rules stand in what it covers.
type Waiver struct {
	Rules  []Name
	Reason string
	Scope  source.Place // what it covers
	At     source.Place
}

// A Name is a word of the text and its place.
type Name struct {
	Text string
	At   source.Place
}
