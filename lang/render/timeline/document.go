package timeline

import (
	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/source"
)

// Clocks are the timelines of sessions in their versions: the shape that is published as
// JSON, by the schema in spec/schema/clock.schema.json. Times are in seconds.
type Clocks struct {
	Version  int      `json:"version"` // of this shape: 1
	Sessions []*Clock `json:"sessions"`
	// Figures and Paces are what the estimate used, where that is asked for.
	Figures []Figure `json:"figures,omitempty"`
	Paces   []Pace   `json:"paces,omitempty"`
	Caution string   `json:"caution"`
}

// A Clock is the timeline of a session, as written or in one version.
type Clock struct {
	Session string       `json:"session"`
	Scaling string       `json:"scaling,omitempty"` // the version; empty as written
	Week    string       `json:"week,omitempty"`    // of a cycle, where it is looked at in one: week 3 of Spring Tide
	At      source.Place `json:"at"`
	Class   int          `json:"class,omitempty"` // people; left out where the house does not say
	Length  Length       `json:"length"`
	Parts   []*Part      `json:"parts"`

	timeline *estimate.Timeline
}

// A Length is how long a session occupies the room, and how long it says that it is.
type Length struct {
	Taken   float64  `json:"taken"`
	Settled bool     `json:"settled"`          // otherwise it is the least
	Beyond  bool     `json:"beyond,omitempty"` // where it is not settled: an estimate beyond the range of the model, and no least
	Stated  *float64 `json:"stated,omitempty"`
}

// Levels are a figure for a fast, a typical and a slow athlete.
type Levels struct {
	Fast    float64 `json:"fast"`
	Typical float64 `json:"typical"`
	Slow    float64 `json:"slow"`
}

// At is the figure of level 0, 1 or 2.
func (l Levels) At(level int) float64 { return [3]float64{l.Fast, l.Typical, l.Slow}[level] }

// A Part is what a part of the session takes.
type Part struct {
	Name    string  `json:"part"`             // warm-up, part A, cool-down
	How     string  `json:"how,omitempty"`    // amrap 12:00, every 2:30 x 5
	Start   float64 `json:"start"`            // on the wall clock, which 0:00 starts
	Began   float64 `json:"began"`            // from the start of the session
	Early   float64 `json:"early,omitempty"`  // by how much sooner it may start, where its end is at least so late
	Pinned  bool    `json:"pinned"`           // the text says when it starts
	Settled bool    `json:"settled"`          // nothing that is missing moves its start
	Proven  bool    `json:"proven"`           // otherwise its times are the least
	Beyond  bool    `json:"beyond,omitempty"` // where it is not proven: an estimate beyond the range of the model, and no least

	Tier  string     `json:"tier,omitempty"` // whose times these are, where the tiers differ: the slowest
	Tiers []TierWork `json:"tiers,omitempty"`

	Work     Levels  `json:"work"`
	Near     *Levels `json:"near,omitempty"`  // the work where no more is done than the text asks for; left out where that is the same
	Needs    *Levels `json:"needs,omitempty"` // of a part that lasts a stated time: what it would take
	Cap      float64 `json:"cap,omitempty"`
	Cut      Levels  `json:"cut"`  // the work, no longer than the cap
	Rest     Levels  `json:"rest"` // of the work: written, and what clocks and windows leave
	End      Levels  `json:"end"`
	Left     *Levels `json:"left,omitempty"` // until the next part; less than nothing where it runs into it
	Room     float64 `json:"room"`           // that the part has the room: the slow athlete or the cap, and all heats
	WorkEnd  Levels  `json:"workEnd"`        // since it began, until the last work in it ends
	Queue    *Queue  `json:"queue,omitempty"`
	Heats    *Heats  `json:"heats,omitempty"`
	Skill    *Skill  `json:"skill,omitempty"`
	Outlasts bool    `json:"outlasts"` // counts are open, and the fast work longest

	Rounds []Rounds `json:"rounds"`
	// Uncounted are those of which nobody knows how many rounds are done.
	Uncounted []Uncounted `json:"uncounted,omitempty"`
	Choices   bool        `json:"choices,omitempty"` // rounds are those of who chooses what takes longest
	Counts    []Counted   `json:"counts"`
	Turns     []Turns     `json:"turns"`
	Limits    []Limit     `json:"limits"`
	Missing   []Missing   `json:"missing"`
	Notes     []Note      `json:"notes"`

	Spent []Spent `json:"spent,omitempty"` // how the work is made up, by level, where that is asked for
	Lines []Line  `json:"lines,omitempty"` // and line by line

	of      *estimate.PartTime
	soonest *Levels // when it is done with no more than the text asks for
}

// TierWork is how long the work takes a tier.
type TierWork struct {
	Tier string `json:"tier"`
	Work Levels `json:"work"`
}

// Rounds are how many rounds are done, where only the clock ends them.
type Rounds struct {
	Of      string `json:"of"` // the part, or what stands in it
	Unit    string `json:"unit"`
	Fast    Done   `json:"fast"`
	Typical Done   `json:"typical"`
	Slow    Done   `json:"slow"`
}

// Done is whole rounds, and what is done of the next.
type Done struct {
	Rounds int     `json:"rounds"`
	Then   []Count `json:"then"`
	Open   bool    `json:"open,omitempty"` // no turn is ever missed
	// Windows are the same for each window, where rounds are done in several.
	Windows []Done `json:"windows,omitempty"`
}

// A Queue is what is known of how long people take who wait for kit. Times are in s since the part began.
type Queue struct {
	Groups []Levels `json:"groups,omitempty"` // until each group is done, about; left out where there are several queues
	Most   Levels   `json:"most"`             // after which nobody is still at it
}

// Uncounted is something of which nobody knows how many rounds, or turns, are done.
type Uncounted struct {
	Of   string `json:"of"` // the part, or what stands in it
	Unit string `json:"unit"`
}

// A Skill is the movement of a part that the fewest can do, where not everybody can. Times and shares of the part
// are of those who can.
type Skill struct {
	Movement string  `json:"movement"`
	Share    float64 `json:"share"`            // of a mixed class that can do it, 0 to 1
	AtMost   bool    `json:"atMost,omitempty"` // it is the most, and nobody has counted
	Can      int     `json:"can,omitempty"`    // people; left out where nobody knows how many
	Others   int     `json:"others,omitempty"` // who need another version, at least where atMost
	Text     string  `json:"says"`             // in a sentence

	At source.Place `json:"-"` // its name in the text
}

// Heats are who starts one after the other. The times of the part are those of the last.
type Heats struct {
	Starts []float64 `json:"starts"` // s since the part began
	Sizes  []int     `json:"sizes"`  // people, or teams
}

// A Count is so much of a movement.
type Count struct {
	N        float64 `json:"n"`
	Unit     string  `json:"unit"`
	Movement string  `json:"movement"`
}

// Counted is how much is done of a movement that has a time and no count.
type Counted struct {
	Movement string `json:"movement"`
	Unit     string `json:"unit"`
	Or       bool   `json:"or,omitempty"` // by who chooses it, and not what is listed before it
	Levels
	Windows int `json:"windows,omitempty"` // in so many windows or turns of a clock; left out where there is one
}

// Turns are the longest turn of those that a clock starts.
type Turns struct {
	Of       string `json:"of"`
	Slot     string `json:"slot,omitempty"` // whose turn it is for the typical, with what it holds: slot 2 (12 cal row)
	List     bool   `json:"list,omitempty"` // it is a list that is done once over all windows
	Took     Levels `json:"took"`
	Interval Levels `json:"interval"`
	Least    Levels `json:"least"` // of rest that a turn leaves; less than nothing where one does not fit
	Number   [3]int `json:"number"`
}

// A Limit is something that some of the class may miss.
type Limit struct {
	Kind   string  `json:"kind"`  // cap, lasts, start, rest, turn, rounds
	What   string  `json:"what"`  // cap 9:00
	Value  float64 `json:"value"` // s of the part's own time, or of a turn; rounds
	Share  float64 `json:"share"` // of the class, 0 to 1, that misses it
	Low    float64 `json:"low"`   // with all times shorter by the margin
	High   float64 `json:"high"`  // and longer
	People *People `json:"people,omitempty"`
	Proven bool    `json:"proven"`
	Sure   string  `json:"sure,omitempty"` // met or missed, where that is sure though the times are not proven
	Text   string  `json:"says"`           // in a sentence

	At source.Place `json:"-"` // of what states it, where that is a head inside the part, or what a head lasts
}

// People is a share of the class in people.
type People struct {
	About int `json:"about"`
	Low   int `json:"low"`
	High  int `json:"high"`
	Of    int `json:"of"`
	Team  int `json:"team"` // people in each of them: 1, or more where they are teams
}

// Missing is a figure that the text does not give, and the words that need it.
type Missing struct {
	At    source.Place `json:"at"`
	Words string       `json:"words"`
	Why   string       `json:"why"`
	Add   string       `json:"add"`
	Held  bool         `json:"held"` // inside a window of fixed length, so that no time depends on it
	// Beyond says that the model was not made for so much work, and nothing else is missing.
	Beyond bool `json:"beyond,omitempty"`
}

// A Note is what the estimate leaves out or reads otherwise.
type Note struct {
	At    source.Place `json:"at"`
	Words string       `json:"words"`
	Text  string       `json:"says"`
}

// Spent is how a level's time is made up, in s.
type Spent struct {
	Level       string  `json:"level"`
	Moving      float64 `json:"moving"`
	Drift       float64 `json:"drift"`
	Changes     float64 `json:"changes"`
	ChangeCount int     `json:"changeCount"`
	SetUps      float64 `json:"setUps"`
	Breaks      float64 `json:"breaks"`
	Handovers   float64 `json:"handovers"`
	Fixed       float64 `json:"fixed"`
	Rest        float64 `json:"rest"`
	Over        float64 `json:"over"` // what turns ran over their interval: taken off
	Total       float64 `json:"total"`
}

// A Line is all turns of a line together.
type Line struct {
	Movement string  `json:"movement"`
	Unit     string  `json:"unit"`
	N        Levels  `json:"n"`
	Spent    []Spent `json:"spent"`
	// Pace is how long the typical take for one unit by the book, in s, and Effort by what factor the effort
	// makes that longer: the least and the most of its turns. Both are left out where no pace of one
	// movement is in it.
	Pace   float64   `json:"pace,omitempty"`
	Effort []float64 `json:"effort,omitempty"`
}

// A Figure is a parameter of the estimates.
type Figure struct {
	Name   string `json:"name"`
	Value  string `json:"value"`
	Source string `json:"source"`
}

// A Pace is what the book says of how quickly a movement is done.
type Pace struct {
	Movement string `json:"movement"`
	What     string `json:"what"` // pace or unbroken
	Value    string `json:"value"`
	Source   string `json:"source"`
}
