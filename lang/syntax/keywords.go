package syntax

import (
	"maps"
	"slices"
	"strings"
)

// Context is the kind of block that a line stands in. With the line's first word it
// settles what the line is.
type Context uint8

// The contexts.
const (
	InFile Context = iota
	InSession
	InGroup
	InScaling
	InMovement
	InHouse
	InHouseScaling
	InKit
	InKitItem
	InCycle
	InWeek
	InNothing // under a line that opens no block: notes and waivers only
	// InUnclear is under a section in a scaling of which it is not said whether it replaces the
	// session's or changes it: a line with an arrow is read as in a scaling, any other as in a part.
	InUnclear
)

// block is how a message calls the block.
var block = map[Context]string{
	InFile: "at the margin", InSession: "in a session's first lines", InGroup: "in a part", InScaling: "in a scaling",
	InMovement: "in a movement", InHouse: "in a house", InHouseScaling: "in a house's scaling", InKit: "in a kit list",
	InKitItem: "under a line of kit",
	InCycle:   "in a cycle", InWeek: "in a week", InNothing: "under this line", InUnclear: "in a part",
}

// shape is which of the reader's methods reads a line.
type shape uint8

const (
	noShape shape = iota // of a word that is no keyword
	aAim
	aAllow
	aAmount
	aBare
	aDate
	aDay
	aEffort
	aEntry
	aHead
	aHeat
	aLead
	aNames
	aNeeds
	aPace
	aProgress
	aRest
	aRounding
	aRule
	aScaling
	aScore
	aStart
	aSwap
	aTag
	aTotal
	aVersions
	aWeek
)

// A keyword says how a line that starts with it is read, and which block it opens.
type keyword struct {
	shape shape
	opens Context
	form  string // an example, for messages
}

// keywords by context. A word that is not in the list of its block is no keyword
// there. Nothing but this table says which lines the notation has.
var keywords = func() map[Context]map[string]keyword {
	group := map[string]keyword{
		"rest":      {aRest, InNothing, "rest 1:30"},
		"tag":       {aTag, InNothing, "tag"},
		"slot":      {aLead, InGroup, "slot 2: 12 burpee"},
		"station":   {aLead, InGroup, "station 2: 12 burpee"},
		"round":     {aLead, InGroup, "round 1-3: 8 ring row"},
		"at":        {aLead, InGroup, "at 7:00: 12 lunge"},
		"meanwhile": {aLead, InGroup, "meanwhile: wall sit"},
		"if":        {aLead, InGroup, "if > You are fresh"},
		"otherwise": {aLead, InGroup, "otherwise: 200 m run"},
		"when":      {aLead, InGroup, "when done: max burpee"},
		"for":       {aHead, InGroup, "for load, lasts 10:00"},
		"amrap":     {aHead, InGroup, "amrap 9:00"},
		"emom":      {aHead, InGroup, "emom 12:00"},
		"every":     {aHead, InGroup, "every 2:30 x 5"},
		"on":        {aHead, InGroup, "on 0:40 off 0:20 x 6"},
		"ladder":    {aHead, InGroup, "ladder 12-9-6"},
		"any":       {aHead, InGroup, "any order"},
		"choose":    {aHead, InGroup, "choose one"},
		"score": {aScore, InNothing, "score total reps: total, best, worst, last or each, and " +
			"reps, load, time, distance, cal or rounds; behind a comma what is added, such as +0:07 per wet foot; or in words: score > Points."},
		"total":  {aTotal, InNothing, "total 45 burpee, 800 m row"},
		"aim":    {aAim, InNothing, "aim 7:00-9:00"},
		"effort": {aEffort, InNothing, "effort 80-85%"},
		"allow":  {aAllow, InNothing, "allow class-uneven > Why it may stand."},
	}
	for _, c := range clauseTypes {
		if c.opens != "" {
			group[c.kind.first()] = keyword{aHead, InGroup, c.opens}
		}
	}
	waiver := group["allow"]
	all := map[Context]map[string]keyword{
		InFile: {
			"stint":     {aEntry, InNothing, "stint 1"},
			"session":   {aEntry, InSession, "session Bowline"},
			"movement":  {aEntry, InMovement, "movement strict pull-up"},
			"house":     {aEntry, InHouse, "house Quayside Hall"},
			"cycle":     {aEntry, InCycle, "cycle Spring Tide"},
			"warm-up":   {aHead, InGroup, "warm-up 3 rounds, lasts 12:00"},
			"part":      {aHead, InGroup, "part A at 0:00 for time, cap 12:00"},
			"cool-down": {aHead, InGroup, "cool-down lasts 5:00"},
			"scaling":   {aScaling, InScaling, "scaling no-kit"},
			"total":     group["total"],
		},
		InSession: {
			"date":    {aDate, InNothing, "date 2027-03-01"},
			"start":   {aStart, InNothing, "start 9:20"},
			"length":  {aAmount, InNothing, "length 60:00"},
			"effort":  group["effort"],
			"heat":    {aHeat, InNothing, "heat 29 C"},
			"purpose": {aBare, InNothing, "purpose > What the session is for."},
			"caution": {aBare, InNothing, "caution > What can hurt today."},
			"rest":    group["rest"],
			"aim":     group["aim"],
			"kit":     {aBare, InKit, "kit"},
			"allow":   waiver,
		},
		InGroup:   group,
		InUnclear: group,
		InScaling: {
			"part":      {aSwap, InUnclear, "part B: row -> run"},
			"warm-up":   {aSwap, InUnclear, "warm-up: row -> run"},
			"cool-down": {aSwap, InUnclear, "cool-down: row -> run"},
			"has":       {aNames, InNothing, "has loaded bag"},
			"effort":    {aSwap, InNothing, "effort 70%"},
			"length":    {aSwap, InNothing, "length 30:00"},
			"purpose":   {aBare, InNothing, "purpose > What the session is for."},
			"caution":   {aBare, InNothing, "caution > What can hurt today."},
			"aim":       group["aim"],
			"total":     group["total"],
			"allow":     waiver,
		},
		InHouseScaling: {
			"has":    {aNames, InNothing, "has loaded bag"},
			"effort": {aSwap, InNothing, "effort 70%"},
			"allow":  waiver,
		},
		InMovement: {
			"also":     {aNames, InNothing, "also dead-hang pull-up"},
			"trains":   {aNames, InNothing, "trains vertical pull"},
			"moves":    {aNames, InNothing, "moves shoulder, hip"},
			"needs":    {aNeeds, InNothing, "needs pull-up bar"},
			"best":     {aNames, InNothing, "best load"},
			"pace":     {aPace, InNothing, "pace 2.0 / 2.8 / 4.0 s per rep"},
			"unbroken": {aPace, InNothing, "unbroken 8 / 4 / 2"},
			"class":    {aAmount, InNothing, "class 30%"},
			"set-up":   {aBare, InNothing, "set-up > How to start."},
			"standard": {aBare, InNothing, "standard > What makes a repetition count."},
			"cue":      {aBare, InNothing, "cue > What to think of."},
			"fault":    {aBare, InNothing, "fault > What goes wrong."},
			"caution":  {aBare, InNothing, "caution > What can hurt."},
			"easier":   {aNames, InNothing, "easier ring row, band pull-up"},
			"harder":   {aNames, InNothing, "harder weighted pull-up"},
			"instead":  {aNames, InNothing, "instead prone pull"},
			"allow":    waiver,
		},
		InHouse: {
			"length":  {aAmount, InNothing, "length 60:00"},
			"class":   {aAmount, InNothing, "class 16"},
			"tiers":   {aNames, InNothing, "tiers full, lesser"},
			"heat":    {aHeat, InNothing, "heat 29 C"},
			"rest":    group["rest"],
			"needs":   {aVersions, InNothing, "needs no-kit"},
			"scaling": {aScaling, InHouseScaling, "scaling no-kit > At home."},
			"kit":     {aBare, InKit, "kit"},
			"effort":  group["effort"],
			"round":   {aRounding, InNothing, "round loads down to 2.5 kg"},
			"rule":    {aRule, InNothing, "rule class-uneven error > Why."},
			"purpose": {aBare, InNothing, "purpose > What the house is for."},
			"allow":   waiver,
		},
		InKit: {"allow": waiver},
		InKitItem: {
			"also":  {aNames, InNothing, "also training bar"},
			"allow": waiver,
		},
		InCycle: {
			"from":     {aDate, InNothing, "from 2027-03-01"},
			"weeks":    {aAmount, InNothing, "weeks 6"},
			"purpose":  {aBare, InNothing, "purpose > What the weeks build."},
			"week":     {aWeek, InWeek, "week 1"},
			"progress": {aProgress, InNothing, "progress front squat @ 70-75-80%"},
			"total":    group["total"],
			"allow":    waiver,
		},
		InWeek: {
			"total":  group["total"],
			"length": {aAmount, InNothing, "length 4:00:00"},
			"allow":  waiver,
		},
		InNothing: {"allow": waiver},
	}
	for _, day := range Weekdays {
		all[InWeek][day] = keyword{aDay, InNothing, day + " Bowline"}
	}
	return all
}()

// Weekdays in the order of the week, Monday first (ISO 8601).
var Weekdays = []string{"mon", "tue", "wed", "thu", "fri", "sat", "sun"}

// spelled are other spellings of a first word, read and printed as the keyword.
var keywordSpellings = map[string]string{
	"warmup": "warm-up", "cooldown": "cool-down", "setup": "set-up", "stations": "station", "slots": "slot",
	"monday": "mon", "tuesday": "tue", "wednesday": "wed", "thursday": "thu", "friday": "fri", "saturday": "sat",
	"sunday": "sun", "tues": "tue", "thur": "thu", "thurs": "thu", "weds": "wed",
}

// A Keyword is a first word of a line.
type Keyword struct {
	Word string
	Form string // an example
}

// Keywords lists the first words that a block of the kind knows, in order.
func Keywords(ctx Context) []Keyword {
	var out []Keyword
	for w, k := range keywords[ctx] {
		out = append(out, Keyword{Word: w, Form: k.form})
	}
	slices.SortFunc(out, func(a, b Keyword) int { return strings.Compare(a.Word, b.Word) })
	return out
}

// KeywordsIn lists the words of Keywords.
func KeywordsIn(ctx Context) []string { return slices.Sorted(maps.Keys(keywords[ctx])) }

// StartsLine reports whether lines of a block of the kind start with a word.
func StartsLine(ctx Context, word string) bool { return keywords[ctx][word].shape != noShape }

// StartsHead reports whether a word starts a head, at the margin or in a part.
func StartsHead(word string) bool {
	return keywords[InFile][word].shape == aHead || keywords[InGroup][word].shape == aHead
}

// GroupWords are the first words that a line of work may not start a movement's name
// with, because they are keywords there.
func GroupWords() []string {
	return append(KeywordsIn(InGroup), "part", "max", "has", "each", "team", "the", "today")
}

// startsRepeat reports whether a word starts a repeat or a mode, in whatever block.
func startsRepeat(word string) bool {
	k := keywords[InGroup][word]
	return k.shape == aHead && !slices.ContainsFunc(clausesByWord[word], func(c *clauseType) bool { return c.opens != "" })
}
