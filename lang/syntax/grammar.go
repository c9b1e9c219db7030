package syntax

import (
	"errors"
	"io"

	"github.com/alecthomas/participle/v2"
	"github.com/alecthomas/participle/v2/lexer"
)

// The grammar of one line, as participle reads it. A file is never parsed as a
// whole: which of these grammars a line or a piece of it gets is settled by its first
// word and the block it stands in (see keywords.go), so one bad line affects nothing
// but itself. The structs are flat and left-factored, because participle allocates
// for each that it tries; lower.go turns them into the tree that others see.

type tok = lexer.Token

// tokenRange holds the tokens that a struct was read from. Participle fills it in.
type tokenRange struct{ Tokens []tok }

type gValue struct {
	Nums []tok `parser:"@( (Number|Clock) ( Slash (Number|Clock) )* )"` // the slashes too
}

type gAmount struct {
	Bound *tok    `parser:"@Bound?"`
	First gValue  `parser:"@@"`
	To    *gValue `parser:"( 'to' @@"`
	Rest  []gStep `parser:"| ( Dash @@ )+ )?"`
}

type gStep struct {
	Dots *tok    `parser:"  @Dots"`
	Val  *gValue `parser:"| @@"`
}

type gQuantity struct {
	Amount gAmount `parser:"@@"`
	Unit   *tok    `parser:"( @Unit | @Percent )?"`
}

type gName struct {
	Words []tok `parser:"@( Word+ )"`
}

type gDose struct {
	Sets   *gAmount   `parser:"( @@ Times )?"`
	RM     *tok       `parser:"(   @RM"`
	Max    *gMax      `parser:"  | @@"`
	Past   *gPast     `parser:"  | @@"`
	Qty    *gQuantity `parser:"  | @@"`
	Of     *tok       `parser:"    ( 'of' ( @'max'"`
	OfPast *gPast     `parser:"      | @@ )"`
	Window *gMax      `parser:"    | @@ )? )"`
	Side   *tok       `parser:"@Side?"`
}

type gMax struct {
	Max  tok  `parser:"@'max'"`
	Unit *tok `parser:"@Unit?"`
}

type gMove struct {
	Count *gQuantity `parser:"@@?"`
	Name  gName      `parser:"@@"`
}

type gItem struct {
	Dose  *gDose        `parser:"@@?"`
	First gName         `parser:"@@"`
	Side  *tok          `parser:"@Side?"`
	After *gDose        `parser:"@@?"`
	Or    []gMove       `parser:"(   ( Or @@ )+"`
	Plus  []gMove       `parser:"  | ( Plus @@ )+ )?"`
	Terms []gTerm       `parser:"( Equals @@ ( Plus @@ )* )?"`
	Tail  []gTail       `parser:"@@*"`
	How   []gItemClause `parser:"( Comma @@ )*"`
}

// gTail is what may follow the names of an item in any order.
type gTail struct {
	Load  *gLoad  `parser:"  @@"`
	Until *gUntil `parser:"| @@"`
	Tempo []tok   `parser:"| @( 'tempo' Tempo )"`
}

type gTerm struct {
	Count gValue `parser:"@@"`
	Unit  *tok   `parser:"@Unit?"`
	Label *gName `parser:"@@?"`
}

type gLoad struct {
	tokenRange
	Bound  *tok     `parser:"At @Bound?"`
	RPE    *gAmount `parser:"   (   'rpe' @@"`
	Effort *gAmount `parser:"  | 'effort' @@ Percent"`
	Past   *gPast   `parser:"  | @@"`
	Word   *gName   `parser:"  | @@"`
	Num    *gNumber `parser:"  | @@ )?"` // without any of them the line's note says it
}

type gNumber struct {
	Count *gAmount   `parser:"( @@ Times )?"`
	Qty   gQuantity  `parser:"@@"`
	Pace  *tok       `parser:"( @'pace'"`
	Sign  *tok       `parser:"  ( @(Plus|Dash)"`
	By    *gQuantity `parser:"    @@ )? )?"`
	Of    *gBase     `parser:"( 'of' @@ )?"`
	Per   *gPer      `parser:"@@?"`
	Unit2 *gQuantity `parser:"@@?"` // "2 m 10 cm" and the like, refused with a reason
}

type gBase struct {
	RM   *tok       `parser:"  @RM"`
	Past *gPast     `parser:"| @@"`
	Pace *gQuantity `parser:"| @@ 'pace'"`
	Name *gName     `parser:"| @@"`
}

type gPer struct {
	Count *tok `parser:"'per' @Number?"`
	Unit  tok  `parser:"@Unit"`
}

type gUntil struct {
	Word   tok        `parser:"@Until"`
	Amount *gQuantity `parser:"(   @@"` // a clock value, or what a monitor shows
	Past   *gPast     `parser:"  | @@"`
	Event  *gName     `parser:"  | @@ )?"`
}

// gPast is what was done before in the session, and what is added to it.
type gPast struct {
	tokenRange
	What   []tok      `parser:"@( 'the' ( 'first' | 'last' ) | 'today' )"`
	Sign   *tok       `parser:"( @(Plus|Dash)"`
	Offset *gQuantity `parser:"  @@ )?"`
}

// gItemClause is what may stand behind a comma of an item: a clause and the loads that trail it.
type gItemClause struct {
	Clause gClause `parser:"@@"`
	Loads  []gLoad `parser:"@@*"`
	Until  *gUntil `parser:"@@?"`
}

type gClause struct {
	tokenRange
	Tempo  []tok      `parser:"  @( 'tempo' Tempo )"`
	SetsOf *gAmount   `parser:"| 'sets' 'of' @@"`
	With   *gKit      `parser:"| 'with' @@"`
	Rest   *gRest     `parser:"| @@"`
	In     *gPeople   `parser:"| 'in' @@"`
	Word   *tok       `parser:"| @( 'every' | 'cap' | 'lasts' | 'effort' | 'at' )"`
	Qty    *gQuantity `parser:"  @@"`
	Side   *tok       `parser:"| 'each' ( @'side'"`
	Sign   *tok       `parser:"         | @(Plus|Dash)"`
	By     *gQuantity `parser:"           @@"`
	OfEach *gQuantity `parser:"         | @@ )"`
	Words  []tok      `parser:"| @( 'alternating' | 'unbroken' | 'together' | 'synchronised' | 'not' 'scored' | 'any' 'sets' | 'one' 'works' | 'carry' 'on' | 'split' 'evenly'? | 'if' )"`
}

type gKit struct {
	Name  gName   `parser:"@@"`
	Loads []gLoad `parser:"@@*"`
}

type gPeople struct {
	Named *tok       `parser:"  @('pairs'|'threes'|'fours'|'halves')"`
	Kind  *tok       `parser:"| @('teams'|'heats') 'of'"`
	Size  *gAmount   `parser:"  @@"`
	Every *gQuantity `parser:"  ( 'every' @@ )?"`
}

type gRest struct {
	tokenRange
	Parts   *tok       `parser:"'rest' ( 'between' @Word )?"` // a house's "rest between parts at least"
	Needed  *tok       `parser:"(   @'as' 'needed'"`
	Bound   *tok       `parser:"  | ( @Bound?"`
	Work    *gValue    `parser:"      @@ Times 'work' )"`
	Qty     *gQuantity `parser:"  | @@ )?"`
	Until   *gUntil    `parser:"@@?"`
	Between *tok       `parser:"(   'between' @Word"`
	After   *tok       `parser:"  | @'after' )?"`
}

type gHead struct {
	Part    *gPart    `parser:"@@?"`
	Repeat  *gRepeat  `parser:"@@?"`
	Mode    *gMode    `parser:"@@?"`
	Clauses []gClause `parser:"( Comma? @@ ( Comma @@ )* )?"`
	Until   *gUntil   `parser:"@@?"`
}

type gPart struct {
	Part   *tok       `parser:"(   @'part'"`
	Letter *tok       `parser:"    @Word"`
	At     *gQuantity `parser:"    ( 'at' @@ )?"`
	Other  *tok       `parser:"  | @('warm-up'|'cool-down') )"`
}

type gRepeat struct {
	tokenRange
	Rounds *gAmount   `parser:"(   @@ ('rounds'|'round')"`
	Ladder *gQuantity `parser:"  | 'ladder' @@"`
	Emom   *gQuantity `parser:"  | 'emom' @@"`
	Every  *gQuantity `parser:"  | 'every' @@"`
	On     *gQuantity `parser:"  | 'on' @@"`
	Off    *gQuantity `parser:"    ( 'off' @@ )?"`
	Order  *tok       `parser:"  | @'any' 'order'"`
	Choose *tok       `parser:"  | @'choose' 'one' )"`
	Times  *gAmount   `parser:"( Times @@"`
	Laps   *tok       `parser:"  @('rounds'|'round')? )?"`
	Until  *gUntil    `parser:"@@?"`
}

type gMode struct {
	tokenRange
	For   *tok       `parser:"  'for' @('time'|'load'|'completion'|'practice')"`
	Amrap *tok       `parser:"| @'amrap'"`
	Time  *gQuantity `parser:"  @@?"`
}

type gLead struct {
	Slot   *tok       `parser:"(   @('slot'|'station'|'round')"`
	Number *gQuantity `parser:"    @@"`
	Each   *tok       `parser:"  | 'at' ( @'each'"`
	Break  *tok       `parser:"    ( @'break'"`
	Period *gQuantity `parser:"    | @@"`
	From   *gQuantity `parser:"      ( 'from' @@ )? )"`
	At     *gQuantity `parser:"    | @@ )"`
	Mean   *tok       `parser:"  | @'meanwhile'"`
	When   *tok       `parser:"  | 'when' @'done'"`
	If     *tok       `parser:"  | @('if'|'otherwise')"`
	Part   *gPart     `parser:"  | @@ )"`
}

// Properties, a struct for each shape.

type gNames struct {
	Names []gName `parser:"@@ ( Comma @@ )*"`
}

// gNeeds is the kit of a movement, each piece with what stands in for it.
type gNeeds struct {
	Needs []gNeed `parser:"@@ ( Comma @@ )*"`
}

type gNeed struct {
	Name gName   `parser:"@@"`
	Or   []gName `parser:"( Or @@ )*"`
}

type gNamedAmount struct {
	Name *gName    `parser:"@@?"`
	Qty  gQuantity `parser:"@@"`
}

type gPace struct {
	Value gValue  `parser:"@@"`
	Unit  *tok    `parser:"@Unit?"`
	Per   *gPer   `parser:"@@?"`
	Loads []gLoad `parser:"@@*"`
}

type gDate struct {
	Date tok `parser:"@Date"`
}

type gRounding struct {
	Way   tok        `parser:"'loads' @('down'|'up') 'to'"`
	Discs *tok       `parser:"(   @'discs'"`
	Step  *gQuantity `parser:"  | @@ )"`
}

type gStart struct {
	Time tok `parser:"@Clock"`
}

type gHeat struct {
	Number tok `parser:"@Number"`
	Unit   tok `parser:"@'c'"`
}

type gScore struct {
	Agg       *tok       `parser:"@('total'|'best'|'worst'|'last'|'each'|'lowest'|'fewest'|'slowest')?"`
	What      tok        `parser:"@('reps'|'load'|'time'|'distance'|'cal'|'calories'|'rounds'|'laps'|'rungs'|'sets'|'breaks'|'points'|'level'|'power')"`
	Penalties []gPenalty `parser:"( Comma @@ )*"`
}

// gPenalty is what is added to a score for each of something.
type gPenalty struct {
	Sign tok       `parser:"@(Plus|Dash)"`
	Qty  gQuantity `parser:"@@"`
	Per  gName     `parser:"'per' @@"`
}

type gAim struct {
	Rest *gRest     `parser:"  @@"`
	At   *tok       `parser:"| @'at'?"`
	Qty  *gQuantity `parser:"  @@"`
	Name *gName     `parser:"  @@?"`
}

type gTotal struct {
	After *tok        `parser:"( 'after' 'round' @Number Colon )?"`
	Items []gItemDose `parser:"@@ ( Comma @@ )*"`
}

type gItemDose struct {
	Whose *tok      `parser:"@( 'each' | 'team' )?"`
	Qty   gQuantity `parser:"@@"`
	Name  *gName    `parser:"@@?"`
	Loads []gLoad   `parser:"@@*"`
}

type gProgress struct {
	Sets  *gAmount   `parser:"( @@ Times )?"`
	Dose  *gQuantity `parser:"@@?"`
	Name  gName      `parser:"@@"`
	Loads []gLoad    `parser:"@@*"`
}

type gRule struct {
	Name     gName      `parser:"@@"` // of the rule, and behind it error
	Settings []gSetting `parser:"( Comma @@ )*"`
}

type gSetting struct {
	Key gName     `parser:"@@"`
	Qty gQuantity `parser:"@@"`
}

type gWeek struct {
	Number gAmount `parser:"@@"`
	Kind   *gName  `parser:"@@?"`
}

// gTimes are the turns of a clock alone, as a swap has them on either side.
type gTimes struct {
	Times gAmount `parser:"Times @@"`
	Laps  *tok    `parser:"@('rounds'|'round')?"`
}

// gLoads are loads alone, as a swap has them on either side.
type gLoads struct {
	Loads []gLoad `parser:"@@+"`
}

// lines is a lexer of tokens that are scanned already.
type tokenStream struct {
	toks []tok
	at   int
	end  int
}

func (l *tokenStream) Next() (tok, error) {
	if l.at == len(l.toks) {
		return lexer.EOFToken(lexer.Position{Offset: l.end}), nil
	}
	l.at++
	return l.toks[l.at-1], nil
}

// definition tells participle the names of our kinds of token. It lexes nothing: each
// line reaches the parser scanned.
type definition struct{}

func (definition) Symbols() map[string]lexer.TokenType {
	m := map[string]lexer.TokenType{"EOF": lexer.EOF}
	for k := Word; k <= Odd; k++ {
		m[k.String()] = tokenType(k)
	}
	return m
}

func (definition) Lex(string, io.Reader) (lexer.Lexer, error) {
	return nil, errors.New("syntax: lines are scanned before they are parsed")
}

// tokenType keeps clear of participle's own types: EOF is -1, and those of runes rise
// from 0.
func tokenType(k Kind) lexer.TokenType { return lexer.TokenType(-2 - int(k)) }

// grammar is a parser of one kind of line or piece.
type grammar[G any] struct{ p *participle.Parser[G] }

func build[G any]() grammar[G] {
	return grammar[G]{participle.MustBuild[G](participle.Lexer(definition{}), participle.UseLookahead(maxLookahead))}
}

// maxLookahead lets a dose be told from the sets before it ("3 x 12-15"), whatever
// the length of its series: no line has more tokens than bytes. A branch seldom fails
// late, so that this costs nothing.
const maxLookahead = MaxBody

// parse reads all of toks. Where it cannot, it returns the index of the token that
// does not fit, which is len(toks) at the end of the line.
func (g grammar[G]) parse(toks []Tok) (*G, int) {
	l := &tokenStream{toks: make([]tok, len(toks))}
	for i, t := range toks {
		l.toks[i] = tok{Type: tokenType(t.Kind), Value: t.Text, Pos: lexer.Position{Offset: i}}
	}
	l.end = len(toks)
	peeking, err := lexer.Upgrade(l)
	if err != nil {
		return nil, 0
	}
	out, err := g.p.ParseFromLexer(peeking)
	if err == nil {
		return out, -1
	}
	var perr participle.Error
	if errors.As(err, &perr) {
		return nil, min(max(perr.Position().Offset, 0), len(toks))
	}
	return nil, 0
}

var (
	headGrammar     = build[gHead]()
	leadGrammar     = build[gLead]()
	itemGrammar     = build[gItem]()
	restGrammar     = build[gRest]()
	clauseGrammar   = build[gClause]()
	behindComma     = build[gItemClause]()
	namesGrammar    = build[gNames]()
	needsGrammar    = build[gNeeds]()
	amountGrammar   = build[gNamedAmount]()
	paceGrammar     = build[gPace]()
	dateGrammar     = build[gDate]()
	roundingGrammar = build[gRounding]()
	startGrammar    = build[gStart]()
	heatGrammar     = build[gHeat]()
	scoreGrammar    = build[gScore]()
	aimGrammar      = build[gAim]()
	totalGrammar    = build[gTotal]()
	progressGrammar = build[gProgress]()
	ruleGrammar     = build[gRule]()
	weekGrammar     = build[gWeek]()
	loadsGrammar    = build[gLoads]()
	timesGrammar    = build[gTimes]()
)
