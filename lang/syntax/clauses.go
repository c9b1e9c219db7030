package syntax

import (
	"cmp"
	"slices"
	"strings"
)

// ClauseKind names a clause by its words, without what follows them.
type ClauseKind string

// The clauses.
const (
	EachSide    ClauseKind = "each side"
	Cap         ClauseKind = "cap"
	Lasts       ClauseKind = "lasts"
	In          ClauseKind = "in"
	OneWorks    ClauseKind = "one works"
	Alternating ClauseKind = "alternating"
	TempoOf     ClauseKind = "tempo"
	Unbroken    ClauseKind = "unbroken"
	AnySets     ClauseKind = "any sets"
	SetsOf      ClauseKind = "sets of"
	Split       ClauseKind = "split"
	SplitEvenly ClauseKind = "split evenly"
	ShareOfEach ClauseKind = "each at least" // how much of a split each does: at least 20
	Together    ClauseKind = "together"
	With        ClauseKind = "with"
	CarryOn     ClauseKind = "carry on"
	EachPlus    ClauseKind = "each +"
	EveryOf     ClauseKind = "every"
	RestOf      ClauseKind = "rest"
	notScored   ClauseKind = "not scored" // refused with a reason
	EffortOf    ClauseKind = "effort"
	StartAt     ClauseKind = "at"
	If          ClauseKind = "if"
)

// first is the word that a clause of the kind starts with.
func (k ClauseKind) first() string {
	word, _, _ := strings.Cut(string(k), " ")
	return word
}

// operand is what follows a clause's words. Those that have a structure of their own in the
// grammar are takesOther.
type operand uint8

const (
	takesNothing operand = iota
	takesDuration
	takesPercent
	takesOther
)

// A clauseType is all that is known of a kind of clause before it means anything: how it is
// read, where it may stand, how messages, completion and hovers present it.
type clauseType struct {
	kind    ClauseKind
	takes   operand
	noun    string // how a message calls what it takes: "a cap"
	onHead  usage
	onWork  usage
	opens   string // a head that starts with it; empty where it needs a repeat, a mode or a section before it
	meaning string
	hint    string // what a message adds to the example

	// ambiguous: the word that it starts with may as well start a line or end a movement's
	// name, so that the word alone proves no clause.
	ambiguous bool
	// repeats: one line may have it several times.
	repeats bool
	// excludes names a set of clauses of which one line may have one.
	excludes string
	// notOnHead is the help for a head that has it and may not.
	notOnHead string
	// synonyms are what people write for it, separated by blanks.
	synonyms string

	order int // its place in the table
}

// A usage says that a clause may stand in a place: how likely it is there (the least number
// is offered first), and examples. The zero value says that it may not.
type usage struct {
	rank     int
	examples []string
}

func use(rank int, examples ...string) usage { return usage{rank, examples} }

func (u usage) allowed() bool { return len(u.examples) > 0 }

// conditionHelp is what a message says of how a condition is written.
const conditionHelp = "what it depends on is a note: if > You are fresh"

// clauseTypes are the clauses, in the order in which the formatter prints them. Nothing but
// this table says which clauses there are and where they stand; the grammar (gClause) has
// their words once more, and a test holds the two together.
var clauseTypes = []*clauseType{
	{kind: EachSide, onHead: use(70, "each side"), onWork: use(20, "each side"),
		meaning: "all of it for one side, then for the other"},
	{kind: Cap, takes: takesDuration, noun: "a cap", onHead: use(10, "cap 12:00"), synonyms: "timecap",
		meaning: "the work stops then; whoever is done before is done"},
	{kind: Lasts, takes: takesDuration, noun: "what follows lasts", onHead: use(20, "lasts 10:00"),
		opens: "lasts 0:40: plank", meaning: "it takes that long, whatever anybody does"},
	{kind: In, takes: takesOther, opens: "in pairs, one works", meaning: "how people are divided",
		hint:   "heats may have a start each, in heats of 8 every 9:00",
		onHead: use(30, "in pairs", "in teams of 4", "in heats of 8")},
	{kind: OneWorks, onHead: use(40, "one works"), opens: "one works",
		meaning: "one works while the others rest"},
	{kind: Alternating, onWork: use(10, "alternating"), synonyms: "alternate alt",
		meaning: "sides take turns within the count",
		notOnHead: "athletes who take turns are written in pairs, one works; " +
			"legs or arms that do, behind the line that they are for"},
	{kind: TempoOf, takes: takesOther, onWork: use(60, "tempo 31X1"), hint: "down, bottom, up, top",
		meaning: "how fast each phase is: down, at the bottom, up, at the top, in seconds; X is as fast as possible"},
	{kind: Unbroken, onWork: use(30, "unbroken"),
		meaning: "without a pause"},
	{kind: AnySets, onWork: use(40, "any sets"), ambiguous: true, synonyms: "partitioned",
		meaning: "broken up as the athlete likes"},
	{kind: SetsOf, takes: takesOther, onWork: use(50, "sets of 5"), ambiguous: true,
		meaning: "broken up into sets of that size"},
	{kind: Split, onHead: use(50, "split"), onWork: use(100, "split"), excludes: "sharing",
		meaning: "partners share the count as they like"},
	{kind: SplitEvenly, onHead: use(60, "split evenly"), onWork: use(110, "split evenly"), excludes: "sharing",
		synonyms: "evenly", meaning: "partners share the count, each as much as the other"},
	{kind: ShareOfEach, takes: takesOther, onWork: use(115, "each at least 20"),
		meaning: "how much of what partners split each of them does, at least or at most"},
	{kind: Together, onWork: use(120, "together"), excludes: "sharing",
		synonyms: "synchro synchronized sync synch synced", meaning: "partners do it at once, and it is over with the last"},
	{kind: With, takes: takesOther, onHead: use(100, "with vest @ 6/4 kg"), onWork: use(140, "with vest @ 6/4 kg"),
		opens: "with vest @ 6/4 kg", repeats: true, meaning: "kit on top of what the movement needs"},
	{kind: CarryOn, onHead: use(90, "carry on"), opens: "carry on",
		meaning: "each window, or each partner, goes on where the last one stopped"},
	{kind: EachPlus, takes: takesOther, onHead: use(80, "each +5 kg"), repeats: true,
		meaning: "every load goes up by that after each turn"},
	{kind: EveryOf, takes: takesDuration, noun: "an interval", onWork: use(80, "every 1:30"), ambiguous: true,
		meaning: "a set starts so often", hint: "a set starts so often"},
	{kind: RestOf, takes: takesOther, onWork: use(90, "rest 1:30"), ambiguous: true,
		meaning: "a rest between the sets of the line"},
	{kind: EffortOf, takes: takesPercent, noun: "an effort", // refused by who knows the block
		meaning: "how hard, as a share of the hardest that somebody could go"},
	{kind: If, onHead: use(130, "if > You are fresh"), onWork: use(160, "if > You are fresh"),
		meaning: "done or left out: the note behind it says what that depends on"},
	{kind: StartAt, takes: takesDuration, noun: "a start", ambiguous: true, // on a side of a swap only
		meaning: "when a part starts", notOnHead: "the start stands behind the letter: part A at 11:00"},
}

// clauseType is the row of a kind of clause; never nil for a kind that is in the tree.
func (k ClauseKind) clauseType() *clauseType { return clausesByKind[k] }

var clausesByKind, clausesByWord = func() (map[ClauseKind]*clauseType, map[string][]*clauseType) {
	byKind, byWord := map[ClauseKind]*clauseType{}, map[string][]*clauseType{}
	for i, c := range clauseTypes {
		c.order = i
		byKind[c.kind] = c
		byWord[c.kind.first()] = append(byWord[c.kind.first()], c)
	}
	return byKind, byWord
}()

// clauseSynonyms are the clauses that other words are known to mean.
var clauseSynonyms = func() map[string]ClauseKind {
	out := map[string]ClauseKind{}
	for _, c := range clauseTypes {
		for _, w := range strings.Fields(c.synonyms) {
			out[w] = c.kind
		}
	}
	return out
}()

// clauseWords are the words that clauses start with.
func clauseWords() []string {
	var out []string
	for _, c := range clauseTypes {
		out = append(out, c.kind.first())
	}
	return out
}

// startsClause reports whether clauses start with a word, those that are refused with a reason
// and other spellings among them.
func startsClause(word string) bool {
	return clausesByWord[word] != nil || word == "synchronised" || word == "not"
}

// StartsWorkClause reports whether clauses that may stand on a line of work start with a word.
func StartsWorkClause(word string) bool {
	return slices.ContainsFunc(clausesByWord[word], func(c *clauseType) bool { return c.onWork.allowed() })
}

// provesClause reports whether a word starts clauses and nothing else.
func provesClause(word string) bool {
	return slices.ContainsFunc(clausesByWord[word], func(c *clauseType) bool { return !c.ambiguous })
}

// ClauseExamples are examples of the clauses that may stand on a head, or else on a line of
// work, the likeliest first.
func ClauseExamples(head bool) []string {
	var out []string
	for _, c := range likeliest(head) {
		out = append(out, c.usage(head).examples...)
	}
	return out
}

// ExamplesOf are the examples of one kind of clause on a head, or else on a line of work.
func ExamplesOf(k ClauseKind, head bool) []string {
	return slices.Clone(k.clauseType().usage(head).examples)
}

func (c *clauseType) usage(head bool) usage {
	if head {
		return c.onHead
	}
	return c.onWork
}

func likeliest(head bool) []*clauseType {
	out := slices.DeleteFunc(slices.Clone(clauseTypes), func(c *clauseType) bool { return !c.usage(head).allowed() })
	slices.SortFunc(out, func(a, b *clauseType) int { return cmp.Compare(a.usage(head).rank, b.usage(head).rank) })
	return out
}

// clauseList is what a message offers where a clause cannot be read.
var clauseList = func() string {
	var work, head []string
	for _, c := range likeliest(false) {
		work = append(work, c.onWork.examples[0])
	}
	for _, c := range likeliest(true) {
		if !c.onWork.allowed() {
			head = append(head, c.onHead.examples[0])
		}
	}
	return strings.Join(work, ", ") + "; and on a head also " + strings.Join(head, ", ")
}()

// clauseForm is an example of the clauses that start with a word, for messages; empty where
// none does.
func clauseForm(word string) string {
	var work, head []string
	hint := ""
	for _, c := range clausesByWord[word] {
		if c.onWork.allowed() {
			work = append(work, c.onWork.examples...)
		} else {
			head = append(head, c.onHead.examples...)
		}
		hint = c.hint
	}
	text := strings.Join(work, ", ")
	if len(work) > 0 && len(head) > 0 {
		text += ", or on a head "
	}
	text += strings.Join(head, ", ")
	if hint != "" {
		text += ": " + hint
	}
	return text
}

// ClauseMeaning is what a clause means, by its words or by the first of them; empty where no
// clause has these words.
func ClauseMeaning(words string) string {
	if c := clausesByKind[ClauseKind(words)]; c != nil {
		return c.meaning
	}
	cs := clausesByWord[words]
	if len(cs) == 1 {
		return cs[0].meaning
	}
	var out []string
	for _, c := range cs {
		out = append(out, clauseExample(c)+": "+c.meaning)
	}
	return strings.Join(out, "; ")
}

func clauseExample(c *clauseType) string {
	if c.onWork.allowed() {
		return c.onWork.examples[0]
	}
	return strings.Join(c.onHead.examples, ", ")
}

// Compare orders kinds of clause as they are printed.
func (k ClauseKind) Compare(other ClauseKind) int {
	return cmp.Compare(k.clauseType().order, other.clauseType().order)
}

// OpensHead reports whether a head may start with a clause of the kind.
func (k ClauseKind) OpensHead() bool { return k.clauseType().opens != "" }

// Excludes reports whether one line may not have both clauses: they say the same thing again,
// or otherwise.
func (c *Clause) Excludes(other *Clause) bool {
	a, b := c.Kind.clauseType(), other.Kind.clauseType()
	switch {
	case a.excludes != "" && a.excludes == b.excludes:
		return true
	case a != b || a.repeats:
		return false
	case c.People != nil && other.People != nil: // a head may have both teams and heats
		return (c.People.Kind == "heats") == (other.People.Kind == "heats")
	}
	return true
}
