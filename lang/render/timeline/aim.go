package timeline

import (
	"fmt"
	"strings"

	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/render/prose"
	"stint.example/stint/lang/units"
)

// aimLimit adds an aim for rounds, or for how long a group takes, that some of the class may miss. What it says is
// given where the estimate knows it.
func aimLimit(t *estimate.Timeline, p *estimate.PartTime, g *estimate.GroupTime, a *model.Aim, add limitAdder) (says string, known bool) {
	aimed, known := t.Aim(p, g.Group, a)
	what := "aim of " + prose.Amount(a.Amount)
	if !known {
		if a.What == "time" && a.Amount != nil && a.Amount.Unit == "s" && !p.Outlasts {
			_, hi, _ := a.Amount.Value(0, 1, p.Tier)
			add("time", what, "", hi, estimate.ClassShare{})
		}
		return "", false
	}
	missed, says := AimMissed(&aimed, a.Amount, func(levels string) string { return levels })
	switch aimed.Kind {
	case estimate.AimedEnd: // on the clock, and no limit of the part's own time
		return "", false
	case estimate.AimedRounds:
		what = fmt.Sprintf("aim of %s rounds", units.FormatNumber(aimed.From))
		add("rounds", what, "", aimed.From, aimed.Under)
	default:
		add("time", what, "", aimed.To, missed)
	}
	return what + ": " + says, true
}

// AimMissed is the share of the class that misses an aim, and how the class stands to it in words: hardly anyone
// would take longer. named adds to three figures who they are for, where that is not said elsewhere.
func AimMissed(of *estimate.Aimed, aim *model.Quantity, named func(levels string) string) (missed estimate.ClassShare, says string) {
	more, less := " would take longer", " would take less"
	switch of.Kind {
	case estimate.AimedEnd:
		more, less = " would be later", " would be earlier"
	case estimate.AimedRounds:
		more, less = " would get more", " would get fewer"
	}
	rounds := of.Kind == estimate.AimedRounds
	missed, says = of.Over, hedgedCrowd(of.Over)+more
	switch both := of.From < of.To && !aim.IsMost(); {
	case of.TooFew || of.TooMany:
		if says = "nobody" + less; of.TooMany {
			says = "nobody" + more
		}
		took := Three(of.Took)
		if rounds {
			took = fmt.Sprintf("%.0f / %.0f / %.0f", of.Took.Fast, of.Took.Typical, of.Took.Slow)
		}
		says += ": " + named(took)
	case aim.OrMore(), rounds && !both && !aim.IsMost():
		missed, says = of.Under, hedgedCrowd(of.Under)+less
	case both:
		says += ", " + hedgedCrowd(of.Under) + less[strings.LastIndex(less, " "):]
	}
	return missed, says
}

// hedgedCrowd is a share of the class in words. That nearly everyone is over an aim, though its margin leaves room
// for more, is not said as if it were sure.
func hedgedCrowd(s estimate.ClassShare) string {
	if s.Nearly() && s.Low < estimate.Slow {
		return "by the estimate nearly everyone"
	}
	return s.Text()
}
