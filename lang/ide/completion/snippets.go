package completion

import (
	"strings"
)

// groupSnippets are heads and leads with stops for what differs.
var groupSnippets = map[string]string{
	"amrap":     "amrap ${1:9:00}\n  $0",
	"emom":      "emom ${1:12:00}\n  $0",
	"every":     "every ${1:2:30} x ${2:5}\n  $0",
	"on":        "on ${1:0:40} off ${2:0:20} x ${3:6}\n  $0",
	"ladder":    "ladder ${1:21-15-9}\n  $0",
	"any":       "any order\n  $0",
	"choose":    "choose one\n  $0",
	"slot":      "slot ${1:1}: $0",
	"station":   "station ${1:1}: $0",
	"round":     "round ${1:1}: $0",
	"meanwhile": "meanwhile: $0",
	"when":      "when done: $0",
	"if":        "if > ${1:You are fresh}\n  $0",
	"otherwise": "otherwise: $0",
	"at":        "at ${1:7:00}: $0",
	"rest":      "rest ${1:1:30}",
}

const (
	sessionSnippet = `session ${1:Name}
  length ${2:60:00}
  purpose > ${3:What the session is for.}

warm-up ${4:2 rounds}, lasts ${5:12:00}
  ${6:1:00 row}

part A at 0:00 ${7:for time, cap 12:00}
  $0

cool-down lasts ${8:5:00}
  1:00 belly breathing`
	movementSnippet = `movement ${1:name}
  trains ${2:squat}
  needs ${3:kettlebell}
  pace ${4:1.5 / 2 / 3} s per rep > ${5:no source}
  standard > ${6:What makes a repetition count.}
  cue > ${7:What to think of.}
  easier ${8:air squat}$0`
	cycleSnippet = `cycle ${1:Name}
  from ${2:2027-03-01}
  weeks ${3:6}
  purpose > ${4:What the weeks build.}
  week 1
    mon $0`
)

// escapeStop is a text as it may stand inside a stop of a snippet.
func escapeStop(text string) string {
	return strings.NewReplacer(`\`, `\\`, "$", `\$`, "}", `\}`).Replace(text)
}
