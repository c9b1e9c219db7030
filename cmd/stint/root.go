package main

import (
	"cmp"
	"fmt"
	"strings"

	"github.com/spf13/cobra"
)

func (a *app) root() *cobra.Command {
	root := &cobra.Command{
		Use:     "stint",
		Version: build(),
		Short:   "Check, tidy and read training sessions",
		Long: `stint reads training sessions that are written the way they stand on the board:
plain text files whose names end in .stint.

It checks that the numbers add up and that every name, count and swap means
something, puts files in one tidy form, and shows what a session adds up to.

A folder with a house.stint file in it is a workspace: its hall, kit, sessions
and cycles belong together. stint init makes a first one.`,
		Example: `  stint init my-hall          make a first workspace
  stint check                 check all of this folder
  stint fmt                   tidy all of this folder
  stint movements air squat   read about a movement`,
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return nil
			}
			var known []string
			for _, c := range cmd.Commands() {
				known = append(known, c.Name())
			}
			hint := cmp.Or(nearest(args[0], known), ": stint --help lists them all")
			return fmt.Errorf("there is no command %q%s", args[0], hint)
		},
		RunE:          func(cmd *cobra.Command, _ []string) error { return cmd.Help() },
		SilenceErrors: true,
		SilenceUsage:  true,
	}
	root.SetIn(a.in)
	root.SetOut(a.out)
	root.SetErr(a.err)
	root.DisableAutoGenTag = true
	root.SetFlagErrorFunc(func(cmd *cobra.Command, err error) error {
		return fmt.Errorf("%w (%s --help lists what there is)", err, cmd.CommandPath())
	})
	root.CompletionOptions.HiddenDefaultCmd = false
	root.AddCommand(
		a.checkCommand(), a.fmtCommand(), a.showCommand(), a.totalsCommand(), a.clockCommand(), a.cycleCommand(),
		a.guideCommand(), a.rulesCommand(), a.explainCommand(), a.movementsCommand(), a.kitCommand(),
		a.initCommand(), a.newCommand(),
		a.lspCommand(), a.versionCommand(), a.manCommand())
	return root
}

// takes checks how many arguments a command has; most is -1 where any number will do.
func takes(least, most int, hint string) cobra.PositionalArgs {
	return func(_ *cobra.Command, args []string) error {
		switch {
		case len(args) < least:
			return fmt.Errorf("something is missing: write it like %s", hint)
		case most >= 0 && len(args) > most:
			return fmt.Errorf("%q is one too many: write it like %s", args[most], hint)
		}
		return nil
	}
}

// choice is a flag's value that is one of a few words.
type choice struct {
	value string
	words []string
}

func (c *choice) String() string { return c.value }
func (c *choice) Type() string   { return strings.Join(c.words, "|") }

// Set refuses all but the words.
func (c *choice) Set(word string) error {
	for _, w := range c.words {
		if w == word {
			c.value = w
			return nil
		}
	}
	return fmt.Errorf("write %s", strings.Join(c.words, ", "))
}

// addChoice adds a flag that takes one of a few words, the first unless told.
func addChoice(cmd *cobra.Command, name, usage string, words ...string) *choice {
	c := &choice{value: words[0], words: words}
	cmd.Flags().Var(c, name, usage)
	// The error can only be that the flag is not there, and it has just been added.
	_ = cmd.RegisterFlagCompletionFunc(name, cobra.FixedCompletions(words, cobra.ShellCompDirectiveNoFileComp))
	return c
}

// stintFiles completes the names of files in the notation, and of folders.
func stintFiles(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
	return []string{"stint"}, cobra.ShellCompDirectiveFilterFileExt
}

// plural is a number and its noun: 1 file, 2 files.
func plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
