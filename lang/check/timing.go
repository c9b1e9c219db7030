package check

import (
	"fmt"

	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/units"
)

// LateShare is the threshold of what has to be over in time.
var LateShare = &Threshold{Name: "share", Unit: "%", Default: 25,
	Source: "no source: more than one in four is too many for the others to wait for"}

// SeverityOf is how much a verdict matters; off where there is nothing to report. An estimate is never
// an error by itself: the paces that it rests on are typical figures, and nobody's own.
func SeverityOf(v estimate.Verdict) diag.Severity {
	switch v {
	case estimate.ProvenLate:
		return diag.Error
	case estimate.Late, estimate.SurelyLate:
		return diag.Warning
	}
	return diag.Off
}

// OfferRestart adds to a finding a fix that starts a part later, and says so in its help,
// which offers another way out too.
func (p *Pass) OfferRestart(d diag.Diagnostic, part *model.Group, or string) diag.Diagnostic {
	fix, at, ok := estimate.Restart(p.Timelines(), part)
	if !ok {
		d.Help = fmt.Sprintf("start %s later, or %s", part.PartName(), or)
		return d
	}
	d.Help = fmt.Sprintf("start %s at %s, or %s", part.PartName(), units.FormatClock(at), or)
	d.Fixes = []diag.Fix{fix}
	return d
}
