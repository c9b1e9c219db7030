package syntax

import "stint.example/stint/lang/source"

// Kind is what sort of token stands at a place of a line.
type Kind int8

// The kinds. A word that is a unit in the place where it stands is a Unit; what ends a name,
// "or", "until" and the two words of a bound, has a kind of its own.
const (
	EOL     Kind = iota
	Word         // squat, pull-up, child's
	Or           // or
	Until        // until
	Bound        // at least, at most
	Number       // 12, 2.5
	Clock        // 9:00, 1:30:00
	Date         // 2027-03-01, only after date and from
	Tempo        // 31X1, only after tempo
	RM           // 5RM
	Unit         // kg, m, cal ... straight after a number
	Side         // /side
	Times        // x
	Slash        // /
	Dash         // -
	Dots         // ...
	At           // @
	Comma        // ,
	Plus         // +
	Equals       // =
	Colon        // :
	Percent      // %
	Arrow        // ->
	Note         // > to the end of the line
	Comment      // # to the end of the line
	Odd          // a character that has no meaning here
)

var kindNames = [...]string{"EOL", "Word", "Or", "Until", "Bound", "Number", "Clock", "Date", "Tempo", "RM", "Unit", "Side",
	"Times", "Slash", "Dash", "Dots", "At", "Comma", "Plus", "Equals", "Colon", "Percent", "Arrow", "Note", "Comment", "Odd"}

func (k Kind) String() string { return kindNames[k] }

// A Tok is a token of one line. Its span counts bytes from the first byte behind the
// line's indent, so that one scanned line can serve wherever the same text stands.
type Tok struct {
	Kind Kind
	source.Span
	Text string // as the grammar reads it: words in lower case, marks and units in their printed form
	Raw  string // as it is written
	More bool   // a number or clock value with a plus straight behind it: 5+, five or more
}
