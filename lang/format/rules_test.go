package format

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// above is what stands above a line, by the kind of block that the line is meant for.
var above = map[string]string{
	"margin":   "",
	"session":  "session T\n",
	"part":     "part A\n",
	"scaling":  "scaling no-kit\n",
	"movement": "movement air squat\n",
	"house":    "house T\n",
	"kit":      "house T\n  kit\n",
	"cycle":    "cycle T\n",
	"week":     "cycle T\n  week 1\n",
}

// printed prints one line where it stands, without its indent.
func printed(block, text string) string {
	head := above[block]
	depth := 0
	if head != "" {
		depth = (len(head)-len(strings.TrimLeft(head[strings.LastIndex(head[:len(head)-1], "\n")+1:], " ")))/len(head) + 1
	}
	if strings.Contains(head, "\n  ") {
		depth = 2
	}
	f := parse(head + strings.Repeat("  ", depth) + text)
	return strings.TrimLeft(Line(f.Lines[len(f.Lines)-1]), " ")
}

// A row for each rule of the notation's grammar that says how something is printed.
func TestRules(t *testing.T) {
	for _, c := range []struct{ rule, block, in, want string }{
		{"sides in short", "part", "10 ea lunge", "10/side lunge"},
		{"sides in short", "part", "3 x 10 lunge e/s", "3 x 10/side lunge"},
		{"sides in short", "part", "lunge x 10 e", "10/side lunge"},
		{"sides in short", "part", "3x8 lunge each leg @ 16 kg", "3 x 8/side lunge @ 16 kg"},
		{"sides behind a comma", "part", "10 lunge @ 16 kg, each side", "10/side lunge @ 16 kg"},
		{"a count behind its movement", "part", "lunge x 10", "10 lunge"},
		{"a count behind its movement", "part", "x10 lunge", "10 lunge"},
		{"as many as can be", "part", "3 x AMRAP dip", "3 x max dip"},
		{"kilometres in short", "part", "2k row @ 5k pace", "2 km row @ 5 km pace"},
		{"per kilometre in short", "part", "1 km run @ 4:30/k", "1 km run @ 4:30 per km"},
		{"seconds and minutes by their marks", "part", "45\" plank, rest 2'", "0:45 plank, rest 2:00"},
		{"minutes and seconds by their marks", "part", "1'30\" plank", "1:30 plank"},
		{"inches and feet by their marks", "part", "10 box jump @ 24\"", "10 box jump @ 24 in"},
		{"seconds without minutes", "part", "3 x :40 plank", "3 x 0:40 plank"},
		{"a maximum, apart", "part", "5 RM squat @ 80% of 3 rm", "5RM squat @ 80% of 3RM"},
		{"rounds in short", "part", "3 rnds for time", "3 rounds for time"},
		{"rounds in short", "margin", "part a 5 RFT, cap 12'", "part A 5 rounds for time, cap 12:00"},
		{"rounds of", "part", "3 rounds of 8 lunge", "3 rounds: 8 lunge"},
		{"the work to the rest", "part", "3 x 8 lunge, rest 2:1", "3 x 8 lunge, rest 0.5 x work"},
		{"a rest in short", "part", "r 90 s", "rest 1:30"},
		{"with in short", "part", "8 lunge, w/ vest", "8 lunge, with vest"},
		{"warm-up in short", "margin", "w/u 3 rds", "warm-up 3 rounds"},
		{"bullets", "part", "* 12 burpee", "12 burpee"},
		{"bullets", "part", "3) 12 burpee", "12 burpee"},
		{"labels with a bracket", "part", "B) 12 burpee", "B: 12 burpee"},
		{"N1: no trailing zeros", "part", "12.0 air squat @ 22.50 kg", "12 air squat @ 22.5 kg"},
		{"N1: no more decimals lost than zeros", "movement", "pace 0.2120 / 0.25 / 0.30 s per m", "pace 0.212 / 0.25 / 0.3 s per m"},
		{"heat: a blank before its unit", "session", "Heat 29.0c", "heat 29 C"},
		{"heat: no degree sign", "session", "heat 29 °C", "heat 29 C"},
		{"heat: a house's", "house", "heat 29°C > By the meter at the door.", "heat 29 C > By the meter at the door."},
		{"N2: no blanks round a range", "part", "8 - 12 air squat", "8-12 air squat"},
		{"N2: a range of loads", "part", "5 back squat @ 70 - 80 %", "5 back squat @ 70-80%"},
		{"N3: a series", "part", "14 - 10 -6 kettlebell swing", "14-10-6 kettlebell swing"},
		{"N3: dots", "part", "2-4-… push-up", "2-4-... push-up"},
		{"N3: dots in the middle", "part", "Ladder 2 - 4 - ... - 12", "ladder 2-4-...-12"},
		{"N3: up and down", "part", "2-4-...-10-8-...-2 push-up", "2-4-...-10-8-...-2 push-up"},
		{"N4: from-to of counts", "part", "1 to 9 burpee", "1 to 9 burpee"},
		{"N4: downwards", "part", "9 to  1 burpee", "9 to 1 burpee"},
		{"N4: in a ladder", "part", "ladder 1 to 2", "ladder 1-2"},
		{"N4: nothing between", "part", "ladder 1 to 3", "ladder 1-2-3"},
		{"N4: ladder", "part", "ladder 10 to 1 for time", "ladder 10-9-...-1 for time"},
		{"N4: in a complex", "part", "1 clean + 3 to 1 jerk", "1 clean + 3 to 1 jerk"},
		{"N4: loads keep it", "part", "4 front squat @ 50 to 70 % of today", "4 front squat @ 50 to 70% of today"},
		{"N4: rests keep it", "part", "rest 60 to 30 s", "rest 1:00 to 0:30"},
		{"N4: efforts keep it", "part", "effort 70 to 80 %", "effort 70 to 80%"},
		{"N4: what has a unit keeps it", "part", "100 to 500 m run", "100 to 500 m run"},
		{"N4: tiers keep it", "part", "10/8 to 20/16 burpee", "10/8 to 20/16 burpee"},
		{"N5: tiers", "part", "14 / 11 cal ski", "14/11 cal ski"},
		{"N5: tiers of a load", "part", "10 goblet squat @ 24 / 16 kg", "10 goblet squat @ 24/16 kg"},
		{"N6: side", "part", "10 / side single-arm row", "10/side single-arm row"},
		{"N6: leg, arm, hand", "part", "10/leg split squat", "10/side split squat"},
		{"N6: side behind a unit", "part", "40m / arm suitcase carry", "40 m/side suitcase carry"},
		{"N6: each side on a dose", "part", "10 split squat @ 24/16 kg, each leg, tempo 30x1", "10/side split squat @ 24/16 kg, tempo 30X1"},
		{"N6: no dose, a clause", "part", "split squat, each arm", "split squat, each side"},
		{"N6: max", "part", "max/side split squat", "max/side split squat"},
		{"N7: sets", "part", "5x3 back squat", "5 x 3 back squat"},
		{"N7: other signs", "part", "5 × 3 back squat", "5 x 3 back squat"},
		{"N7: and others still", "part", "5*3 back squat", "5 x 3 back squat"},
		{"N7: sets of max", "part", "3 X max ring row", "3 x max ring row"},
		{"N8: implements", "part", "8 dumbbell press @ 2 x 15 kg", "8 dumbbell press @ 2x15 kg"},
		{"N8: with tiers", "part", "8 dumbbell press @ 2×15/10kg", "8 dumbbell press @ 2x15/10 kg"},
		{"N9: one colon below 100:00", "session", "length 1:30:00", "length 90:00"},
		{"N9: two from there on", "session", "length 120:00", "length 2:00:00"},
		{"N9: one form within an amount", "part", "aim 85:30/99:00/112:30", "aim 1:25:30/1:39:00/1:52:30"},
		{"N9: leading zeros", "part", "at 07:00: 12 lunge", "at 7:00: 12 lunge"},
		{"N10: seconds", "part", "45 secs plank", "0:45 plank"},
		{"N10: minutes", "part", "amrap 12 min", "amrap 12:00"},
		{"N10: minutes of a start", "", "part A at 2 min", "part A at 2:00"},
		{"N10: minutes of an end", "part", "max squat until 8 min", "max squat until 8:00"},
		{"N10: hours", "session", "length 1 h", "length 60:00"},
		{"N10: a part of a minute", "part", "rest 1.5 min", "rest 1:30"},
		{"N10: a tenth of a second", "part", "rest 0.5 s", "rest 0:00.5"},
		{"N10: less than a tenth stays", "part", "rest 0.25 s", "rest 0.25 s"},
		{"N10: a range", "part", "30-45 s plank", "0:30-0:45 plank"},
		{"N10: a clock and a unit stay", "part", "1:00-2 min plank", "1:00-2 min plank"},
		{"N10: an aim", "part", "aim 7 to 9 minutes", "aim 7:00 to 9:00"},
		{"N10: intervals", "part", "on 40 s off 20 s x 6", "on 0:40 off 0:20 x 6"},
		{"N10: people", "part", "for time, in heats of 6 every 9 min", "for time, in heats of 6 every 9:00"},
		{"N10: kept in a pace", "movement", "pace 1.5/2.1/3.4 s per rep", "pace 1.5 / 2.1 / 3.4 s per rep"},
		{"N10: kept in a cadence", "part", "20 push-up @ 3 secs per rep", "20 push-up @ 3 s per rep"},
		{"N10: kept in at each", "part", "at each 2 minutes: 100m run", "at each 2 min: 100 m run"},
		{"N10: a clock in at each stays", "part", "at each 2:00: 100 m run", "at each 2:00: 100 m run"},
		{"N11: a blank before the unit", "part", "300m row", "300 m row"},
		{"N11: percent tight", "part", "3 front squat @ 80 %", "3 front squat @ 80%"},
		{"N11: spellings", "part", "8 thruster @ 95 lbs", "8 thruster @ 95 lb"},
		{"N11: metres, calories", "part", "500 Metres row", "500 m row"},
		{"N11: calories", "part", "12 calories row", "12 cal row"},
		{"N11: breath has no plural", "part", "5 breaths deep squat hold", "5 breath deep squat hold"},
		{"N11: repetitions need no word", "part", "12 reps burpee", "12 burpee"},
		{"N11: nor with max", "part", "max reps burpee", "max burpee"},
		{"N11: nor in a total", "part", "total 45 reps burpee, 90 reps", "total 45 burpee, 90 reps"},
		{"N11: inches", "part", "10 box jump @ 24 inches", "10 box jump @ 24 in"},
		{"N11: max of a unit", "part", "MAX calories ski", "max cal ski"},
		{"N11: RPE first", "part", "5 back squat @ 8 rpe", "5 back squat @ RPE 8"},
		{"N11: RPE", "part", "5 back squat @rpe 7 - 8", "5 back squat @ RPE 7-8"},
		{"N11: RIR", "part", "5 back squat @ 2 rir", "5 back squat @ 2 RIR"},
		{"N12: tempo", "part", "3 front squat, tempo 31x1", "3 front squat, tempo 31X1"},
		{"N12: hyphens where needed", "part", "3 front squat, tempo 3-1-x-1", "3 front squat, tempo 31X1"},
		{"N12: a long phase", "part", "3 front squat, tempo 12-1-x-1", "3 front squat, tempo 12-1-X-1"},
		{"N13: a date", "session", "date  2027–03–12", "date 2027-03-12"},
		{"N13: a cycle's start", "cycle", "from 2027-03-01", "from 2027-03-01"},
		{"N14: any dash", "part", "8–12 air squat", "8-12 air squat"},
		{"N15: blanks round the slash", "movement", "pace 1.5/1.7/2.1 s per reps @24 / 16kg > no source", "pace 1.5 / 1.7 / 2.1 s per rep @ 24/16 kg > no source"},
		{"N15: unbroken", "movement", "unbroken 1:20/0:45/0:20", "unbroken 1:20 / 0:45 / 0:20"},
		{"N15: a cadence over more", "part", "500 m row @ 2:05 per 500m", "500 m row @ 2:05 per 500 m"},
		{"N15: over calories", "part", "50 cal row @ 45 s per 10 cals", "50 cal row @ 45 s per 10 cal"},

		{"W1: a movement before its dose", "part", "run 300 m", "300 m run"},
		{"W1: before its sets", "part", "back squat 5x5 @ 70%, rest 2 min", "5 x 5 back squat @ 70%, rest 2:00"},
		{"W1: a choice behind its dose", "part", "row 500m or ski", "500 m row or ski"},
		{"W1: tempo straight after a load", "part", "3 front squat @ 80% tempo 31X1", "3 front squat @ 80%, tempo 31X1"},
		{"W1: a name that would be read as a unit", "part", "foot drill 10", "10 rep foot drill"},
		{"W1: stays so", "part", "10 reps foot drill", "10 rep foot drill"},
		{"W1: with max", "part", "max reps foot drill", "max rep foot drill"},
		{"W1: that would be read as rounds", "part", "rounds 1:00", "rounds 1:00"},
		{"W1: names keep words and case", "part", "10  Child’s   Pose", "10 Child's Pose"},
		{"W1: and plain hyphens", "part", "10 push‑up", "10 push-up"},
		{"W2b: a load behind a clause", "part", "8 lunge, alternating @ 24 kg", "8 lunge @ 24 kg, alternating"},
		{"W2b: the kit's stays", "part", "8 lunge, with vest @ 6/4 kg, alternating @ 24 kg", "8 lunge @ 24 kg, alternating, with vest @ 6/4 kg"},
		{"W2b: on a head too", "part", "3 rounds, with vest @6kg", "3 rounds, with vest @ 6 kg"},
		{"W4: one set without letting go", "part", "1 power clean+2 hang clean +1 jerk", "1 power clean + 2 hang clean + 1 jerk"},
		{"W4: terms", "part", "16 leg swing=8 Left+8 right", "16 leg swing = 8 left + 8 right"},
		{"W5: a note", "part", "12 sit-up   >Feet free.  ", "12 sit-up > Feet free."},
		{"W5: its text is untouched", "part", "12 sit-up >  Feet   free – 3x5,  # all of it.", "12 sit-up > Feet   free – 3x5,  # all of it."},
		{"W5: a comment", "part", "12 sit-up   #  as it is,  >  even  ", "12 sit-up #  as it is,  >  even"},
		{"W5: no blank where none was", "part", "12 sit-up #@tag", "12 sit-up #@tag"},
		{"W5: a comment alone", "part", "#!strength", "#!strength"},
		{"W5: a note alone", "part", ">Go easy.", "> Go easy."},
		{"W5: an empty note", "part", "12 sit-up >  ", "12 sit-up >"},
		{"W5: the arrow", "scaling", "row→run", "row -> run"},
		{"W6: a lead", "part", "slot 2:15 burpee", "slot 2:15 burpee"}, // a clock, and so an error
		{"W6: a lead and its colon", "part", "Slot 2 : 15 burpee", "slot 2: 15 burpee"},
		{"W6: a colon over a block", "part", "slot 2:", "slot 2"},
		{"W9: blanks", "part", "12\u00a0sit-up\t@\u30009 kg", "12 sit-up @ 9 kg"},
		{"W9: what cannot be seen", "part", "12\u200b sit\u00ad-up", "12 sit-up"},

		{"1 round", "part", "1 rounds", "1 round"},
		{"more rounds", "part", "3 round", "3 rounds"},
		{"laps", "part", "on 0:40 off 0:20 x 3 lap", "on 0:40 off 0:20 x 3 rounds"},
		{"emom", "part", "every 1:00 x 8", "emom 8:00"},
		{"emom of a minute", "part", "every 1 min x 8", "emom 8:00"},
		{"no emom: laps", "part", "every 1:00 x 3 rounds", "every 1:00 x 3 rounds"},
		{"no emom: until", "part", "every 1:00 until missed", "every 1:00 until missed"},
		{"no emom: another interval", "part", "every 2:00 x 8", "every 2:00 x 8"},
		{"no emom: a range", "part", "every 1:00 x 8-10", "every 1:00 x 8-10"},
		{"keywords", "part", "ANY order", "any order"},
		{"keywords: choose", "part", "Choose One For Completion", "choose one for completion"},
		{"keywords: sections", "margin", "WARM UP lasts 12 min", "warm-up lasts 12:00"},
		{"keywords: warmup", "margin", "Warmup 3 Rounds, lasts 12:00", "warm-up 3 rounds, lasts 12:00"},
		{"keywords: cooldown", "margin", "cooldown", "cool-down"},
		{"keywords: weekdays", "week", "Monday  Bowline", "mon Bowline"},
		{"keywords: rest", "part", "Rest As Needed", "rest as needed"},
		{"keywords: loads", "part", "row @ Rising until Missed", "row @ rising until missed"},
		{"keywords: bases", "part", "3 front squat @ 80% of Today", "3 front squat @ 80% of today"},
		{"keywords: a base of repetitions", "part", "3 front squat @ 80% of 5rm", "3 front squat @ 80% of 5RM"},
		{"letters", "margin", "part a At 0:00 sets", "part A at 0:00 sets"},
		{"no comma behind the section", "margin", "part A, lasts 10:00, cap 9:00", "part A cap 9:00, lasts 10:00"},
		{"a comma behind the mode", "margin", "part B at 15:00 for time,cap 11:00", "part B at 15:00 for time, cap 11:00"},
		{"order of a head's clauses", "part", "for time, rest 1:00, effort 80%, each +5 kg, carry on, with vest, one works, in pairs, lasts 10:00, cap 9:00",
			"for time, cap 9:00, lasts 10:00, in pairs, one works, with vest, carry on, each +5 kg, effort 80%, rest 1:00"},
		{"order of a line's clauses", "part", "row, effort 80%, rest 1:00, with vest, together, split evenly, sets of 5, any sets, unbroken, tempo 31X1, alternating, each side",
			"row, each side, alternating, tempo 31X1, unbroken, any sets, sets of 5, split evenly, together, with vest, rest 1:00, effort 80%"},
		{"order of load and until", "part", "max bag swing until 2:40 @ 20 kg", "max bag swing @ 20 kg until 2:40"},
		{"each less", "part", "3 rounds, each - 5kg", "3 rounds, each -5 kg"},
		{"a head behind a head", "part", "3 rounds : 5 burpee", "3 rounds: 5 burpee"},
		{"a rest and its place", "part", "rest  90 s between Laps", "rest 1:30 between rounds"},
		{"a rest of work", "part", "rest 2x work", "rest 2 x work"},
		{"a rest that is bounded", "part", "rest At Least 90 s", "rest at least 1:30"},
		{"a house's rest", "house", "rest at least 1 min between parts", "rest between parts at least 1:00"},
		{"named loads", "part", "2:00 row@can talk", "2:00 row @ can talk"},
		{"effort", "part", "2:00 row @ Effort 80 %", "2:00 row @ effort 80%"},
		{"two loads", "part", "12 wall ball @ 9 / 6kg@3/2.7m", "12 wall ball @ 9/6 kg @ 3/2.7 m"},
		{"implements of a kit list", "kit", "16  kettlebell@24kg", "16 kettlebell @ 24 kg"},
		{"a swap", "scaling", "Part b : row 300m->run 300m", "part B: 300 m row -> 300 m run"},
		{"a swap for nothing", "scaling", "step-up->Nothing", "step-up -> nothing"},
		{"a swap of clauses", "scaling", "part C:cap 9 min->cap 11 min", "part C: cap 9:00 -> cap 11:00"},
		{"a swap of heads", "scaling", "part C: every 1:00 x 8 -> 4 Rounds", "part C: emom 8:00 -> 4 rounds"},
		{"a swap of rests", "scaling", "rest 60 s -> rest 90 s", "rest 1:00 -> rest 1:30"},
		{"a part left out", "scaling", "Part c->nothing", "part C -> nothing"},
		{"a part of a scaling", "scaling", "part B:", "part B:"},
		{"a part in its place", "scaling", "part b for time", "part B for time"},
		{"a scaling from another", "margin", "Scaling shed  From  no-kit", "scaling shed from no-kit"},
		{"needs", "house", "Sessions Need no-kit,shed", "needs no-kit, shed"},
		{"allowed", "house", "rule cap-tight off  >Why.", "allow cap-tight > Why."},
		{"threes", "part", "for time, in threes", "for time, in teams of 3"},
		{"fours", "part", "for time, In Fours", "for time, in teams of 4"},
		{"lowest", "part", "score lowest reps", "score worst reps"},
		{"lowest time", "part", "score fewest time", "score best time"},
		{"calories", "part", "score total cal", "score total cal"},
		{"rungs", "part", "score rungs", "score rounds"},
		{"score", "part", "Score Total Reps", "score total reps"},
		{"aim", "part", "aim 5 - 6 Rounds", "aim 5-6 rounds"},
		{"aim of rest", "part", "aim Rest 2 × work", "aim rest 2 x work"},
		{"total", "margin", "total 57 kettlebell swing,800m row", "total 57 kettlebell swing, 800 m row"},
		{"progress", "cycle", "progress front squat @ 70 - 72.50 - 75 %", "progress front squat @ 70-72.5-75%"},
		{"week", "cycle", "Week 4  easy  >A lighter week.", "week 4 easy > A lighter week."},
		{"rule", "house", "rule cap-tight Error,share 20 %,gap 90 s  >Why.", "rule cap-tight error, share 20%, gap 1:30 > Why."},
		{"entry", "margin", "Session  Sheet–Bend  2", "session Sheet-Bend 2"},
		{"version", "margin", "STINT  1", "stint 1"},

		{"or more", "part", "5+  back squat", "5+ back squat"},
		{"or more: a time", "part", "45+ s plank", "at least 0:45 plank"},
		{"or more: at the end of a series", "part", "Sets 5-5-5+", "sets 5-5-5+"},
		{"a max with a time", "part", "2 min MAX cals air bike", "2:00 max cal air bike"},
		{"a max of repetitions with a time", "part", "30 s max reps burpee", "0:30 max burpee"},
		{"up to", "part", "3×Up To 10 / leg lunge", "3 x at most 10/side lunge"},
		{"a maximum as a dose", "part", "3rm bench press", "3RM bench press"},
		{"a share of the most", "part", "5x60 % of Max push-up", "5 x 60% of max push-up"},
		{"a choice with its own dose", "part", "10 push-up or 20 reps knee push-up", "10 push-up or 20 knee push-up"},
		{"a choice in another unit", "part", "500m row or 30 secs plank", "500 m row or 0:30 plank"},
		{"a complex with another unit", "part", "1 clean+10m carry", "1 clean + 10 m carry"},
		{"a count before a unit's word", "part", "1 run or 5 reps foot drill", "1 run or 5 rep foot drill"},
		{"side behind the name", "part", "10 lunge / side @ 8 kg", "10/side lunge @ 8 kg"},
		{"per side", "part", "8 lunge Per leg", "8/side lunge"},
		{"a unit behind open dots", "part", "5-6-… cals row", "5-6-... cal row"},
		{"a name that begins with round", "part", "8 h round", "8 h round"},
		{"a name that begins with up", "part", "12 up and over", "12 up and over"},
		{"a series in a unit", "part", "ladder 50-40-30cals", "ladder 50-40-30 cal"},
		{"sets in a unit", "part", "Sets 500-400-300 metres", "sets 500-400-300 m"},
		{"until: two words", "part", "max burpee until  The  First –  8 s, unbroken", "max burpee until the first -0:08, unbroken"},
		{"until: a reading", "part", "max burpee Until 125 BPM", "max burpee until 125 bpm"},
		{"until: a note", "part", "max burpee Until, unbroken > Form breaks", "max burpee, unbroken until > Form breaks"},
		{"until: a note and a rest", "part", "3 x 8 burpee Until, rest 1 min > Form breaks", "3 x 8 burpee until, rest 1:00 > Form breaks"},
		{"until: a note on a head", "part", "9 rounds until, cap 9 min > x", "9 rounds, cap 9:00 until > x"},
		{"until: failure", "part", "push-up Until Failure, unbroken", "max push-up, unbroken"},
		{"until: an amrap", "part", "amrap 9 min, with vest until Missed", "amrap 9:00, with vest until missed"},
		{"until: a rest", "part", "rest at most 140 s until 125 bpm between Rounds", "rest at most 2:20 until 125 bpm between rounds"},
		{"no emom: or more", "part", "every 1:00 x 8+", "every 1:00 x 8+"}, // an error
		{"rest with work in it", "part", "Rest : 400m jog", "rest: 400 m jog"},
		{"rest with work and a time", "part", "rest 2 min:walk@easy", "rest 2:00: walk @ easy"},
		{"rest after", "part", "rest 180 s After", "rest 3:00 after"},
		{"rest behind its time", "part", "2:00 Rest", "rest 2:00"},
		{"rest behind its time and more", "part", "90s rest Between Rounds : walk", "rest 1:30 between rounds: walk"},
		{"a label", "part", "A1 :8 push press", "A1: 8 push press"},
		{"a label keeps its case", "part", "Buy–in: 800m run", "Buy-in: 800 m run"},
		{"a label over a block keeps its colon", "part", "raise :", "raise:"},
		{"a label before a head", "part", "day 2:5 rounds", "day 2:5 rounds"}, // a clock, and so an error
		{"a lead behind a label's place", "part", "slot 1:A2 : 8 press", "slot 1: A2: 8 press"},
		{"some rounds", "part", "Round 1 – 3 :", "round 1-3"},
		{"one round", "part", "round 5:8 burpee", "round 5:8 burpee"}, // a clock, and so an error
		{"when done", "part", "When  Done:max burpee", "when done: max burpee"},
		{"events", "part", "At each Break : 5 burpee", "at each break: 5 burpee"},
		{"at each, from when", "part", "at each 3mins from 0 s: 5 burpee", "at each 3 min from 0:00: 5 burpee"},
		{"at each, a distance", "part", "At Each 2km:20 air squat", "at each 2 km: 20 air squat"},
		{"at each, a count", "part", "at each 10 rep:3 burpee", "at each 10 reps: 3 burpee"},
		{"a head that starts with a clause", "part", "Lasts 40 s : plank", "lasts 0:40: plank"},
		{"such a head keeps a clause first that can stand there", "part", "one works, cap 9 min, each side", "one works, each side, cap 9:00"},
		{"people", "part", "In Fours", "in teams of 4"},
		{"people and heats", "part", "for time, in  heats of 4 every 3 min, in pairs", "for time, in heats of 4 every 3:00, in pairs"},
		{"clauses of a head", "part", "for time, rest 1:00, Split Evenly, cap 9:00, each leg",
			"for time, each side, cap 9:00, split evenly, rest 1:00"},
		{"clauses of a line: the new", "part", "4 x 50m swim, every 75 s, Synchronised, unbroken",
			"4 x 50 m swim, unbroken, together, every 1:15"},
		{"a pace with a slash", "part", "500m row @2:05/500m", "500 m row @ 2:05 per 500 m"},
		{"a pace over one", "part", "run @ 5:00 / km", "run @ 5:00 per km"},
		{"readings", "part", "row @120–130BPM@26 SPM", "row @ 120-130 bpm @ 26 spm"},
		{"power", "part", "row @ 250 watts", "row @ 250 W"},
		{"a race's pace", "part", "400m run @5km Pace", "400 m run @ 5 km pace"},
		{"what changes each turn", "part", "row @ FALLING", "row @ falling"},
		{"bases", "part", "plank @ 50% of Max  Time", "plank @ 50% of max time"},
		{"RPE of a session", "session", "effort rpe 7 – 8", "effort RPE 7-8"},
		{"score each", "part", "Score Each Rungs", "score each rounds"},
		{"parents of a version", "margin", "scaling masters From light,no-kit", "scaling masters from light, no-kit"},
		{"a version's length", "scaling", "length 30 min", "length 30:00"},
		{"a swap of loads", "scaling", "part A:@24 / 16kg->@16/12kg", "part A: @ 24/16 kg -> @ 16/12 kg"},
		{"a swap of clauses that are new", "scaling", "cap 2 s->cap 0:04", "cap 0:02 -> cap 0:04"},
		{"weeks alike", "cycle", "Week 1 – 3", "week 1-3"},
		{"a day's time and version", "week", "Monday 07:00  Bowline ,light", "mon 7:00 Bowline, light"},
		{"a day of rest", "week", "wed  rest", "wed rest"},

		{"an error keeps its line", "part", "8  squat  @@ 24kg  >  x  ", "8  squat  @@ 24kg  >  x"},
		{"whatever it is", "part", "8,5 squat #  so", "8,5 squat #  so"},
	} {
		t.Run(c.rule, func(t *testing.T) {
			got := printed(c.block, c.in)
			assert.Equal(t, c.want, got, "%s", c.in)
			assert.Equal(t, got, printed(c.block, got), "a second time")
		})
	}
}

// What stands round the lines: indents, blank lines, line ends.
func TestSource(t *testing.T) {
	for _, c := range []struct{ what, in, want string }{
		{"nothing", "", ""},
		{"a line feed", "\n", "\n"},
		{"no final line feed", "stint 1", "stint 1\n"},
		{"line ends of Windows", "stint 1\r\n\r\nsession T\r\n", "stint 1\n\nsession T\n"},
		{"and none at the end", "stint 1\r\nsession T\r", "stint 1\nsession T\n"},
		{"a byte order mark", "\ufeffstint 1\n", "stint 1\n"},
		{"nothing else", "\ufeff", "\n"},
		{"blank lines stay, emptied", "stint 1\n  \n\t\n\nsession T\n\n\n", "stint 1\n\n\n\nsession T\n\n\n"},
		{"tabs", "part A\n\t3 rounds\n\t\t5 burpee\n", "part A\n  3 rounds\n    5 burpee\n"},
		{"an odd indent", "part A\n   5 burpee\n", "part A\n  5 burpee\n"},
		{"an indent too deep", "part A\n      5 burpee\n", "part A\n  5 burpee\n"},
		{"an error too", "part A\n   5 @@ burpee  \n", "part A\n  5 @@ burpee\n"},
		{"odd blanks in the indent", "part A\n\u00a0\u20025 burpee\n", "part A\n  5 burpee\n"},
		{"a comment has its depth", "part A\n\t# so\n  3 rounds\n    # so\n    5 burpee\n", "part A\n  # so\n  3 rounds\n    # so\n    5 burpee\n"},
	} {
		t.Run(c.what, func(t *testing.T) {
			assert.Equal(t, c.want, Source(parse(c.in)))
			check(t, c.in)
		})
	}
}

// A line longer than is read stays as it is, and one that would become so does too.
func TestLongLines(t *testing.T) {
	long := "part A\n  8 " + strings.Repeat("long ", 1000) + "squat"
	assert.Equal(t, long+"\n", Source(parse(long+"  ")))
	check(t, long)
	grows := "part A\n  total " + strings.Repeat("1m a,", 815) + "1m a"
	assert.Equal(t, grows+"\n", Source(parse(grows)))
	check(t, grows)
	check(t, "part A\n  8  squat"+strings.Repeat(" ", 5000))
}

func TestEdits(t *testing.T) {
	f := parse("stint 1\r\npart A\n  run 300m  # x\n\u00a0 5 burp\u00e9e\n  6 row")
	var got []string
	for _, e := range Edits(f) {
		got = append(got, f.Src.Slice(e.At.Span)+"|"+e.New)
	}
	assert.Equal(t, []string{"\r|", "run 300m |300 m run", "\u00a0| ", "|\n"}, got)
}
