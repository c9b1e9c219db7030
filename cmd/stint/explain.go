package main

import (
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"strings"

	"github.com/spf13/cobra"

	"stint.example/stint/lang/check"
	"stint.example/stint/lang/check/rules"
	"stint.example/stint/spec"
)

func (a *app) explainCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "explain RULE",
		Short: "Say what a rule is for, with a bad and a good example",
		Long: `explain prints the page of a rule: what it catches, why that matters, and how to
put it right. The name of the rule stands in brackets behind each finding of
check; stint rules lists them all.`,
		Example: `  stint explain total-wrong`,
		Args:    takes(1, 1, "stint explain total-wrong"),
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			return names(rules.All(), ruleName), cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(_ *cobra.Command, args []string) error { return a.explain(args[0]) },
	}
}

func ruleName(r check.Rule) string { return r.Name }

func (a *app) explain(name string) error {
	r, ok := rules.Find(strings.Trim(name, "[]"))
	if !ok {
		hint := cmp.Or(nearest(name, names(rules.All(), ruleName)), ": stint rules lists them all")
		return fmt.Errorf("there is no rule %q%s", name, hint)
	}
	fmt.Fprintf(a.out, "%s (%s, %s)\n", r.Name, r.Weight(), r.Family)
	page, err := fs.ReadFile(spec.FS, "rules/"+r.Name+".md")
	switch {
	case errors.Is(err, fs.ErrNotExist):
		fmt.Fprintf(a.out, "\nIt catches %s.\n", r.Summary)
	case err != nil:
		return err
	default:
		fmt.Fprintf(a.out, "\n%s", plain(string(page), r.Name))
	}
	if len(r.Thresholds) > 0 {
		fmt.Fprintln(a.out, "\nA house may set:")
		for _, s := range r.Thresholds {
			fmt.Fprintln(a.out, "    "+s.String())
		}
	}
	return nil
}
