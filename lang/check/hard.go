package check

import (
	"stint.example/stint/lang/analysis/intensity"
)

// The thresholds from which work is hard, for the rules that ask something of it.
var (
	hardShare = &Threshold{Name: "share", Unit: "%", Default: 80,
		Source: "our own reading of " + RampSource +
			", which gives no figure: from here up the lighter form comes first"}
	hardEffort = &Threshold{Name: "effort", Unit: "%", Default: 80,
		Source: "common practice, no source: strong, and up; RPE 8 and two in reserve are as hard"}
)

// HardWork are the thresholds from which work is hard.
var HardWork = []*Threshold{hardShare, hardEffort}

// RampSource is where the warm-up's phases come from. The minutes of each are later authors',
// for the original gives none that could be read.
const RampSource = "I. Jeffreys, Warm up revisited, Professional Strength & Conditioning 2007;6:12-18 (raise, activate and mobilise, potentiate)"

// HardThresholds are the house's values of HardWork, of the rule at work.
func (p *Pass) HardThresholds() intensity.HardThresholds { return p.HardThresholdsOf(p.rule.Name) }

// HardThresholdsOf are the house's values of HardWork for another rule.
func (p *Pass) HardThresholdsOf(rule string) intensity.HardThresholds {
	return intensity.HardThresholds{
		Share:  p.ValueOf(rule, hardShare),
		Effort: p.ValueOf(rule, hardEffort),
	}
}
