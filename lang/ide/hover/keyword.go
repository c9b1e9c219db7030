package hover

import (
	"slices"
	"strings"

	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
)

// meanings say what the words of the notation mean, by the word or the words that a clause
// starts with. Where a word means another thing in a kind of block, inBlock says so.
var meanings = map[string]string{
	// The margin.
	"stint":     "the version of the notation, on the first line of every file",
	"session":   "an hour of training: what follows up to the next entry is of it",
	"movement":  "an entry of the book: what a movement trains, needs and takes, and what makes a repetition count",
	"house":     "the hall that sessions are run in: its people, its kit, its versions and its rules",
	"cycle":     "a plan of weeks, with a session on each day",
	"warm-up":   "what is done before the clock starts",
	"part":      "a part of the session, called by a letter; at pins it to the wall clock",
	"cool-down": "what is done when the clock has stopped",
	"scaling":   "a version of the session: what takes the place of what",
	"total":     "a sum that is stated; the checks prove it against the lines",

	// A session's first lines.
	"date":    "when the session is held",
	"start":   "the time of day that it starts at, unless a cycle says another",
	"length":  "how long the hour is: warm-up, clock and cool-down together",
	"effort":  "how hard, as a share of the hardest that somebody could go",
	"heat":    "how hot it is, in degrees of the wet-bulb globe temperature: what a heat table asks for",
	"purpose": "what it is for, on the board and on the page",
	"aim":     "what the coach expects of it; the checks hold the estimate against it",
	"allow":   "lets a rule stand here, for the reason behind the >",

	// How work comes round.
	"rounds":         "all that stands under it, in order, so many times",
	"round":          "what some turns hold beside the rest",
	"ladder":         "a count for each turn: all lines under it are done so often, turn by turn",
	"emom":           "a start every minute on the minute; what is left of it is rest",
	"every":          "the clock starts the work again and again; what is left of each interval is rest",
	"on":             "windows of work by the clock, and off between them",
	"any":            "any order: all of it, in whatever order",
	"choose":         "choose one: one of the lines, as the athlete likes",
	"slot":           "what one interval of the clock holds, in turn with the other slots",
	"station":        "a slot that the class starts spread over: everybody does all of them, not at the same time",
	"at":             "work that is dropped in when the clock shows that time",
	"meanwhile":      "what the others do while one works",
	"if":             "done where what the note behind it says holds, and else left out",
	"otherwise":      "in a choose one of ifs: done where the condition of none of them holds",
	"when":           "when done: what is done by whoever is done early",
	"tag":            "hands the work on to the next of a team",
	"rest":           "a rest; where it stands says when it is taken",
	"score":          "what the part is scored by",
	"amrap":          "as many rounds and repetitions as possible in the time",
	"for time":       "the shortest time counts",
	"for load":       "the heaviest load counts",
	"for":            "what the athlete is after: time, load or completion",
	"for completion": "doing all of it well; nobody counts",

	// Inside a line. What clauses mean is in the table of clauses.
	"in heats": "the class starts in groups, one after the other",
	"until":    "what ends it: a time on the clock, what a monitor shows, a missed turn, or what a note says",
	"at least": "so much or more; before a rest it asks for so much and adds none",
	"at most":  "so much or less; before a rest it asks for no more and adds none",

	// A scaling.
	"has": "all the kit that there is in this version",

	// A movement.
	"also":     "other names that lead to it",
	"trains":   "the patterns that it trains, the main one first",
	"moves":    "the joints that it moves, where its patterns do not say so",
	"needs":    "the kit that it needs, with what stands in for it behind or; nothing where it needs none",
	"best":     "athletes test their best of it, so a percentage can be of that",
	"pace":     "how long one takes a fast, a typical and a slow member: the 10th, 50th and 90th percentile",
	"set-up":   "how to start",
	"standard": "what makes a repetition count",
	"cue":      "what to think of",
	"fault":    "what it looks like when it goes wrong",
	"caution":  "where it can hurt",
	"easier":   "movements that are easier, and lead to it",
	"harder":   "movements that are harder, and that it leads to",
	"instead":  "movements of the same pattern with other kit or none, the most useful first",

	// A house.
	"class": "how many people come",
	"tiers": "what the numbers between slashes stand for, in their order",
	"kit":   "what the house has: how many of a thing, and in which weights",
	"rule":  "how strict a rule is here, and why",

	// A cycle.
	"from":     "the first day of week 1",
	"weeks":    "how many weeks there are",
	"week":     "what a week holds; easy and test say what kind of week it is",
	"progress": "what a movement is to be from week to week: its sets, its count, its load; a session follows it from the first week that plans it, and its versions by their share",
	"mon":      "Monday's session", "tue": "Tuesday's session", "wed": "Wednesday's session", "thu": "Thursday's session",
	"fri": "Friday's session", "sat": "Saturday's session", "sun": "Sunday's session",
}

// meaningsInBlock are meanings of words in one kind of block.
var meaningsInBlock = map[syntax.Context]map[string]string{
	syntax.InMovement: {"unbroken": "how much a fast, a typical and a slow member do before a pause",
		"class": "the share of a mixed class that can do it at all; its pace and its unbroken run are of those"},
	syntax.InHouse: {
		"round": "how shares of a maximum become weights that can be loaded: down or up, to a step or to what discs make",
		"needs": "the versions that every session needs", "allow": "what is allowed in every session of the house, and why",
		"length": "how long sessions are that do not say so", "rest": "the least rest that is to be left between parts",
		"effort": "a word for how hard, and the share that it stands for", "purpose": "what the house is for",
	},
	syntax.InSession: {
		"caution": "what can hurt in this session, and what to do about it",
		"kit":     "what there is for this session, in the place of the house's kit",
		"rest":    "the least rest that is to be left between parts", "effort": "how hard the whole of it is meant to be",
	},
	syntax.InScaling: {
		"effort": "how hard this version is meant to be", "length": "how long this version is", "total": "a sum of this version",
		"part":      "a part that differs in this version",
		"warm-up":   "a warm-up that differs in this version",
		"cool-down": "a cool-down that differs in this version",
	},
	syntax.InHouseScaling: {"effort": "how hard this version is meant to be"},
	syntax.InWeek: {
		"length": "how long its sessions are together", "total": "a sum of its sessions together; the checks prove it",
	},
	syntax.InKitItem: {"also": "other names of this kit"},
	syntax.InCycle:   {"purpose": "what the weeks build"},
}

// Meaning is what a word of the notation means in a kind of block: a first word, or the
// first words of a clause. It is empty for other words.
func Meaning(ctx syntax.Context, words string) string {
	words = strings.ToLower(words)
	if m := meaningsInBlock[ctx][words]; m != "" {
		return m
	}
	if m := meanings[words]; m != "" {
		return m
	}
	return syntax.ClauseMeaning(words)
}

// keywordCard is the card of a word of the notation that the place is on; nil where it is on
// none.
func (s *target) keywordCard() *Card {
	word, at, ctx := s.keyword()
	if word == "" {
		return nil
	}
	c := &Card{At: s.file.Src.At(at), Title: word, Kind: "word of the notation"}
	c.row("", Meaning(ctx, word))
	for _, k := range syntax.Keywords(ctx) {
		if k.Word == word && k.Form != word {
			c.code("like", k.Form)
			return c
		}
	}
	for _, f := range slices.Concat(syntax.ClauseExamples(false), syntax.ClauseExamples(true)) {
		if strings.HasPrefix(f, word+" ") {
			c.code("like", f)
			break
		}
	}
	return c
}

// keyword is the word of the notation that the place is on, with what belongs to it, and
// the kind of block that it stands in.
func (s *target) keyword() (word string, at source.Span, ctx syntax.Context) {
	i := slices.IndexFunc(s.line.Toks, func(t syntax.Tok) bool {
		return (t.Kind == syntax.Word || t.Kind == syntax.Until || t.Kind == syntax.Bound) && s.line.Span(t.Span).Contains(s.off)
	})
	if i < 0 || s.line.Bad {
		return "", at, ctx
	}
	toks := s.line.Toks
	ctx, _ = s.file.Syntax().Under(s.off)
	if i == 0 && syntax.StartsLine(ctx, toks[0].Text) {
		return toks[0].Text, s.line.Span(toks[0].Span), ctx
	}
	switch s.line.Stmt.(type) {
	case *syntax.Head, *syntax.Item, *syntax.Swap, *syntax.Lead:
	default:
		return "", at, ctx
	}
	for _, pair := range [][2]int{{i - 1, i}, {i, i + 1}, {i, i}} {
		a, b := pair[0], pair[1]
		if a < 0 || b >= len(toks) || toks[b].Kind != toks[i].Kind {
			continue
		}
		text := toks[a].Text
		if a != b {
			text += " " + toks[b].Text
		}
		if Meaning(syntax.InGroup, text) != "" {
			return text, s.line.Span(toks[a].Span.Join(toks[b].Span)), syntax.InGroup
		}
	}
	return "", at, ctx
}
