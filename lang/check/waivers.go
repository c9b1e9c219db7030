package check

import (
	"fmt"
	"slices"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
)

// waive takes out what waivers let stand, and reports waivers that let nothing stand.
func waive(f *model.File, houseRules *HouseRules, found []diag.Diagnostic) []diag.Diagnostic {
	type key struct{ waiver, rule int }
	used := map[key]bool{}
	kept := found[:0]
	for _, d := range found {
		waived := false
		for i, w := range f.Waivers {
			for j, n := range w.Rules {
				r, ok := houseRules.registry.Find(n.Text)
				if !ok || r.Fixed || n.Text != d.Rule || !d.At.Within(w.Scope) {
					continue
				}
				used[key{i, j}] = true
				waived = waived || w.Reason != "" // without one it is an error of its own
			}
		}
		if !waived && d.Severity != diag.Off {
			kept = append(kept, d)
		}
	}
	for i, w := range f.Waivers {
		for j, n := range w.Rules {
			r, ok := houseRules.registry.Find(n.Text)
			switch {
			case !ok:
				kept = append(kept, houseRules.registry.unknown(n))
			case r.Fixed:
				kept = append(kept, diag.Diagnostic{Rule: WaiverUnused.Name, Severity: diag.Error, At: n.At,
					Message: fmt.Sprintf("%s cannot be waived: what it finds means nothing as it stands", n.Text),
					Help:    "mend what it finds, and take the waiver out"})
			case used[key{i, j}] || n.Text == WaiverUnused.Name || houseRules.off(n.Text):
			default:
				idle := unusedWaiver(houseRules, n)
				if k, l := covering(f.Waivers, idle); k >= 0 {
					used[key{k, l}] = true
					continue
				}
				kept = append(kept, idle)
			}
		}
	}
	// A waiver of idle waivers is idle itself where it covers none.
	for i, w := range f.Waivers {
		for j, n := range w.Rules {
			if n.Text == WaiverUnused.Name && !used[key{i, j}] {
				kept = append(kept, unusedWaiver(houseRules, n))
			}
		}
	}
	return slices.DeleteFunc(kept, func(d diag.Diagnostic) bool { return d.Severity == diag.Off })
}

func unusedWaiver(houseRules *HouseRules, n model.Name) diag.Diagnostic {
	return diag.Diagnostic{Rule: WaiverUnused.Name, Severity: houseRules.Of(WaiverUnused).Severity, At: n.At,
		Message: fmt.Sprintf("this waiver lets nothing stand: %s finds nothing here", n.Text),
		Help:    "take it out, so that it does not hide a later mistake"}
}

// covering is the waiver, and the rule in it, that lets a finding stand, or -1.
func covering(ws []*model.Waiver, d diag.Diagnostic) (waiver, rule int) {
	for i, w := range ws {
		for j, n := range w.Rules {
			if n.Text == d.Rule && w.Reason != "" && d.At.Within(w.Scope) && !d.At.Within(w.At) {
				return i, j
			}
		}
	}
	return -1, -1
}
