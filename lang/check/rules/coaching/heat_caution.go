package coaching

import (
	"fmt"

	"stint.example/stint/lang/analysis/intensity"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/check/edit"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/units"
)

const heatSource = "L. E. Armstrong and others, position stand of the American College of Sports Medicine, Med. Sci. Sports Exerc. 2007;39(3):556-572, table of the wet-bulb globe temperature"

var (
	heatCautionLeast = &check.Threshold{Name: "least", Unit: "C", Default: 27.9,
		Source: heatSource + ": work and rest alike, and less hard work, for who is not used to it"}
	heatCautionCancel = &check.Threshold{Name: "cancel", Unit: "C", Default: 30.1,
		Source: heatSource + ": cancelled for who is not used to it, less hard work for others"}
	heatCautionAll = &check.Threshold{Name: "all", Unit: "C", Default: 32.3,
		Source: heatSource + ": cancelled for all"}
)

var HeatCaution = check.Rule{Name: "heat-caution", Family: "coaching", Severity: diag.Warning,
	Summary:    "hard work in heat without a caution, or any work in heat in which a published table cancels",
	Thresholds: append([]*check.Threshold{heatCautionLeast, heatCautionCancel, heatCautionAll}, check.HardWork...),
	Session: func(p *check.Pass, s *model.Session) {
		heat, at := s.Heat, source.Place{}
		if heat == nil {
			heat, at = p.Env.House.Heat, s.At
		} else {
			at = heat.At
		}
		v, ok := heat.One()
		if !ok || p.Version != nil || v < p.Value(heatCautionLeast) || len(s.Parts) == 0 {
			return
		}
		text := units.FormatNumber(v) + " C"
		d := diag.Diagnostic{At: at, Label: "by the table of the American College of Sports Medicine, 2007"}
		if v >= p.Value(heatCautionAll) {
			d.Message = fmt.Sprintf("at %s of heat a published table cancels the session for all", text)
			d.Help = "move it to a cool place or another hour; local rules and qualified people decide"
			p.Report(d)
			return
		}
		var hard *intensity.Line // the first
		for l := range intensity.HardLines(s, p.HardThresholds()) {
			if hard == nil && l.Why != "" {
				hard = l
			}
		}
		if hard == nil || len(s.Cautions) > 0 {
			return
		}
		says := "a published table asks those who are not used to it to rest as long as they work, with less that is hard"
		caution := "It is hot: rest as long as you work, drink, and stop at dizziness, headache or feeling sick."
		if v >= p.Value(heatCautionCancel) {
			says = "a published table cancels it for those who are not used to it, and asks the others for less that is hard"
			caution = "It is hot: who is not used to it sits this one out; all others go easy, drink, and stop at dizziness, headache or feeling sick."
		}
		d.Message = fmt.Sprintf("at %s of heat there is hard work (%s %s) and no caution: %s", text,
			hard.Work.MoveNames(), hard.Why, says)
		d.Help = "make the work easier and say what to watch: caution > " + caution +
			" Local rules and qualified people come first"
		e := edit.Lines(at.File, edit.BehindLine(at.File, at.Start), 1, []string{"caution > " + caution})
		d.Fixes = []diag.Fix{{Title: "add a caution to the session", Edits: []diag.Edit{e}}}
		p.Report(d)
	}}
