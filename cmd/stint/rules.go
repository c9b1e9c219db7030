package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"stint.example/stint/lang/check/rules"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/render/layout"
)

func (a *app) rulesCommand() *cobra.Command {
	var format *choice
	cmd := &cobra.Command{
		Use:   "rules",
		Short: "List what check looks for",
		Long: `rules lists every rule: its name, how much it matters, the family that it belongs
to and what it catches. Only errors make a check fail.

A rule of which the list says "fixed" is about text that has no meaning: a house
cannot turn it off. The others a house sets with a line such as
allow file-name > Our files are named by date.`,
		Example: `  stint rules
  stint rules --format json
  stint explain total-wrong`,
		Args: takes(0, 0, "stint rules"),
		RunE: func(*cobra.Command, []string) error {
			if format.value == "json" {
				return a.rulesJSON()
			}
			a.rules()
			return nil
		},
	}
	format = addChoice(cmd, "format", "how to print the list", "text", "json")
	return cmd
}

func (a *app) rules() {
	table := [][]string{{"NAME", "SEVERITY", "FAMILY", "WHAT IT CATCHES"}}
	for _, r := range rules.All() {
		table = append(table, []string{r.Name, r.Weight(), r.Family, r.Summary})
	}
	fmt.Fprint(a.out, layout.Table(table))
}

// ruleJSON is a rule as other programs read it.
type ruleJSON struct {
	Name     string        `json:"name"`
	Severity diag.Severity `json:"severity"`
	Family   string        `json:"family"`
	Summary  string        `json:"summary"`
	Fixed    bool          `json:"fixed"`
	Settings []settingJSON `json:"settings"`
}

type settingJSON struct {
	Name    string  `json:"name"`
	Unit    string  `json:"unit"`
	Default float64 `json:"default"`
	Source  string  `json:"source"`
}

func (a *app) rulesJSON() error {
	out := struct {
		Version int        `json:"version"`
		Rules   []ruleJSON `json:"rules"`
	}{Version: 1}
	for _, r := range rules.All() {
		j := ruleJSON{Name: r.Name, Severity: r.Severity, Family: r.Family, Summary: r.Summary, Fixed: r.Fixed,
			Settings: []settingJSON{}}
		for _, s := range r.Thresholds {
			j.Settings = append(j.Settings, settingJSON{s.Name, s.Unit, s.Default, s.Source})
		}
		out.Rules = append(out.Rules, j)
	}
	return writeJSON(a.out, out)
}
