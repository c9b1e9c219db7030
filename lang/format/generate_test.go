package format

import (
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"
)

// The guards on text that follows the grammar, oddly spelt: what a fuzzer of bytes
// seldom finds.
func TestGuardsOnGenerated(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) { check(t, generated(t, "file")) })
}

// phrases are what text may be made of: a word in braces stands for one of its own
// phrases. The first of each is a short one, on which a failing text is shrunk.
var phrases = map[string][]string{
	"file":  {"{block}", "{block}{block}", "{block}{block}{block}"},
	"block": {"part A\n{in}{work}{end}{in}{work}{end}", "Warm Up\n{in}{work}{end}", "scaling x\n{in}{swap}{end}{in}{swap}{end}", "scaling x from Y,z a\n{in}length {qty}{end}{in}{swap}{end}", "movement m\n{in}{pace}{end}", "movement m\n{in}class {qty}{end}", "movement m\n{in}needs {name}, {name} OR {name}{end}", "session S\n  kit\n{in}{num} {name}{load}{end}", "house H\n{in}{pace}{end}{in}{rest}{end}{in}{rule}{end}", "cycle C\n{in}{cycle}{end}", "session S\n{in}{session}{end}"},
	"in":    {"  ", "\t", "   ", "    "},
	"end":   {"\n", "\r\n", " \n", " > n  \n", " #c\n"},

	"work":    {"{item}", "{item}", "{item}", "{head}", "{lead}", "{rest}", "{clock} rest", "{num} min Rest", "score {agg}{scored}", "score {agg}{scored} , +{qty} per {name},-{qty} per {name}", "effort RPE {amount}", "total {qty} {name}, {qty}", "aim {qty} {name}", "aim at {amount}", "aim {rest}"},
	"swap":    {"{thing}{arrow}{thing}", "{thing}{arrow}nothing", "{where}{thing}{arrow}{thing}", "{where}{thing}{arrow}{thing}", "{where}", "part B {head}", "part C{arrow}nothing"},
	"where":   {"part B: ", "warm-up:", "part b :", "cool down : ", "part C at 1:00: "},
	"arrow":   {" -> ", "->", " → "},
	"thing":   {"{item}", "{head}", "{clause}", "{rest}", "{load}", "@ {loaded}{load}"},
	"agg":     {"", "total ", "Each ", "best "},
	"scored":  {"reps", "rungs", "sets", "points", "Level", "power"},
	"pace":    {"{paced} {num} / {num} / {num} s", "{paced} {num}/{num} /{num}{_}{unit} per {unit}{?load}"},
	"paced":   {"pace", "unbroken", "change", "break", "handover"},
	"cycle":   {"from 2027–03-01", "weeks 6.0", "progress {name}{load}", "week 1 {name}", "week {amount}", "week 1–3\n    {day}\n    {day}"},
	"day":     {"mon Bowline", "Tuesday {clock} Bowline", "wed 07:00 Bow–line ,  light x", "thu rest", "fri a, b"},
	"session": {"start {clock}", "length {qty}", "effort {qty}", "effort {name} {amount} %", "effort rpe {amount}", "aim {qty} {name}", "{rest}", "purpose > x"},
	"rule":    {"rule cap-tight Off, {name} {qty} > x", "rule cap-tight error, {name} {qty},{name} {qty}  > x"},

	"name":   {"run", "row", "squat", "split squat", "push‑up", "child’s pose", "{odd}", "{odd} {odd}"},
	"odd":    {"foot", "up", "round", "rnds", "rft", "ea", "e", "m", "drill", "rounds", "to", "x", "work", "max", "reps", "per", "tempo", "from", "sec\u00adond", "rising", "kg", "in", "rir"},
	"num":    {"1", "0", "2", "3", "10", "12.50", "0.5", "2.3", "100", "5+"},
	"clock":  {"1:00", "00:45", "1:30:00", "99:59"},
	"count":  {"{num}", "{num}", "{clock}"},
	"value":  {"{count}", "{count}", "{count}{_}/{_}{count}"},
	"amount": {"{value}", "{value}", "{value}{_}-{_}{value}", "{num} to {num}", "{value} to {value}", "{value}–{value}-{value}", "{value}-{value}-...", "{value}-{value}-…-{value}"},
	"unit":   {"m", "s", "secs", "min", "h", "km", "cals", "reps", "breaths", "kg", "feet"},
	"qty":    {"{amount}", "{amount}{_}{unit}", "{amount}{_}{unit}", "{amount}%"},
	"_":      {"", " ", "  ", "\t", "\u00a0", "\u200b"},
	"x":      {" x ", "x", "×", "*", "X "},

	"item":   {"{dose} {name}{tail}", "{dose}{name}{more}{tail}", "{name} {dose}{tail}", "{name} {dose}{more}{tail}", "{name}{tail}"},
	"more":   {"", " or {name}", "+{name}", " + {amount} {name}", " or {qty} {name}", " or {qty} {name} or {name}", "+{qty}{name}", " ={num} Left + {num} right"},
	"tail":   {"", "{?load}{?until}{how}", "{load}{load} tempo 31x1", "{?until}{?load}{how}{how}", "{?load}{how}{how}{how}"},
	"how":    {", {clause}", ", {clause}", ",{clause}{load}", "{_},{_}{clause}{until}"},
	"dose":   {"{qty}", "{qty}", "{amount}{x}{qty}", "{maxed}", "{qty}{side}", "{maxed}{side}", "{num}{x}{maxed}", "{qty} {maxed}", "{clock} {maxed}{side}", "up to {qty}", "{num}{x}Up to {num}{side}", "3rm", "{num}{x}5RM", "{num}{x}{amount}% of max", "{amount}{_}% of Max{side}", "{past}", "{past}{side}", "{num}{x}{past}", "{amount}% of {past}"},
	"past":   {"the first", "The  last +{qty}", "today–{num}", "TODAY", "the last - {clock}"},
	"maxed":  {"max", "MAX cals", "max reps"},
	"side":   {"/side", " / leg", "/arm ", " per side", " per leg "},
	"?load":  {"", "{load}"},
	"load":   {"{_}@{_}{loaded}"},
	"loaded": {"{amount}{_}{mass}", "{amount}%", "rpe {amount}", "{amount} RIR", "{amount} rpe", "{num}{x}{value} kg", "{amount}% of {base}", "{name}", "rising", "Falling", "faster", "{clock}/{num} {unit}", "{clock} / km", "{amount}{_}{read}", "{num}{x}{amount} {read}", "{qty} pace", "{qty}{_}Pace", "{amount} of {num}", "Effort {amount} %", "{qty} per {num} {unit}", "{qty} per {unit}", "{past}", "at most {past}", "{amount}% of {past}"},
	"read":   {"bpm", "SPM", "watts", "w"},
	"mass":   {"kg", "lbs", "cm", "in", "m"},
	"base":   {"5rm", "Today", "bodyweight", "max reps", "max heart rate", "Max Time", "max speed", "max power", "{name}"},
	"?until": {"", "{until}"},
	"until":  {" until 2:40", " until missed", " UNTIL Done", " until 125 bpm", " until The  first +{qty}", " until today–{qty}", " until failure", " until", " until {value}"},
	"clause": {"alternating", "each side", "each leg", "tempo 31x1", "tempo 3-01-x-10", "tempo 3-1-1-0", "unbroken", "any sets", "sets of {amount}", "split", "split evenly", "together", "synchronised", "every {qty}", "with {name}", "with {name}{load}", "{rest}", "{bound}", "{bound}"},
	"bound":  {"cap {qty}", "lasts {qty}", "in pairs", "in fours", "in teams of {amount}", "in heats of 6 every {qty}", "one works", "carry on", "each +{qty}", "each - {qty}", "effort {amount} %", "at {value}"},
	"rest":   {"rest {qty}", "Rest as needed", "rest {value} x work", "rest between {name} {qty}", "rest at least {qty} between Laps", "rest at most {qty} between parts", "rest between parts at least {qty}", "rest {qty} after", "rest after", "rest at most {qty}{until}", "rest{until} between rounds", "rest: {item}", "rest {qty} : {item}", "rest as needed after:{item}"},
	"head":   {"{repeat}{inline}", "{repeat}, {bound}{inline}", "{repeat} {mode}{inline}", "{mode}, {bound},{bound}, {clause}", "{repeat}{until} {mode}, {bound}", "{repeat}, {bound}{until}{inline}", "amrap {qty}{until}", "{repeat} {mode}, with {name}{load}, {bound}", "{bound}{inline}", "{bound}, {bound}{inline}", "with {name}{load}, {clause}{inline}", "{repeat}, {clause}"},
	"repeat": {"3 rounds", "{amount} rounds", "1 rounds", "ladder {amount}", "sets", "Sets {amount}", "ladder {qty}", "sets {qty}", "emom {qty}", "every 1:00 x {amount}", "every 60 secs{x}8", "every {qty}{x}{amount}", "on {qty} off {qty} x {amount} lap", "on {qty}{x}{num}", "any order", "Choose one"},
	"mode":   {"for time", "For practice", "amrap {qty}"},
	"inline": {"", ":", ": {item}", " :{rest}"},
	"lead":   {"slot 1:{item}", "station {num}: {item}", "at each {qty}: {item}", "At each break : {rest}", "at {qty}: {head}", "meanwhile:{_}{item}", "slot 2", "when done: {item}", "When Done", "At each break", "at each break:{item}", "at each {qty} from {qty}: {item}", "at each 3 min from 0:00", "round {amount}: {item}", "round 1–3", "{label}{_}:", "{label} : {item}", "{label}:{rest}", "{label}: {head}"},
	"label":  {"A1", "b 2", "raise", "Buy–in", "buy in x", "{name}", "{name} {num}", "child’s 1 - 2"},
}

// generated draws a text for one of the phrases, in odd case now and then.
func generated(t *rapid.T, phrase string) string {
	text := rapid.SampledFrom(phrases[phrase]).Draw(t, phrase)
	var b strings.Builder
	for {
		before, name, found := strings.Cut(text, "{")
		b.WriteString(before)
		if !found {
			break
		}
		name, text, _ = strings.Cut(name, "}")
		b.WriteString(generated(t, name))
	}
	if len(phrase) > 3 && rapid.IntRange(0, 19).Draw(t, "case") == 19 {
		r, size := utf8.DecodeRuneInString(b.String())
		return strings.ToUpper(string(r)) + b.String()[size:]
	}
	return b.String()
}
