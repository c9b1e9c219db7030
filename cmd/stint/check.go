package main

import (
	"errors"
	"io"
	"os"

	"github.com/spf13/cobra"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/render/report"
)

// checkFlags is what stint check is asked for.
type checkFlags struct {
	format, color *choice
	warnings      bool // fail on warnings too
	fix, unsafe   bool
	diff          bool
}

func (a *app) checkCommand() *cobra.Command {
	var f checkFlags
	cmd := &cobra.Command{
		Use:   "check [FILE|FOLDER|PATTERN ...]",
		Short: "Say what does not hold in sessions, cycles and movements",
		Long: `check reads files in the notation and says what does not hold in them: words that
no book has, numbers that do not add up, versions that cannot be done.

Without arguments it checks the current folder and all below it. Files are read
together with the rest of their workspace, the nearest folder upward with a
house.stint file, but only what is wrong in the files named is shown.

A fix is safe when it can change neither the dose (counts, loads, times) nor a
comment. --fix makes the safe ones; --unsafe-fixes makes the first fix of each
finding, safe or not, so read the change before you keep it. With --diff the
change is shown and nothing is written.

Exit code: 0 when there is no error, 1 when there is one, 2 when the check could
not be done. Warnings and suggestions alone do not fail; --error-on-warnings
makes warnings count. With --diff the code is that of the files as they are.`,
		Example: `  stint check
  stint check sessions/bowline.stint
  stint check 'sessions/*.stint' --format line
  stint check --fix
  stint check --unsafe-fixes --diff | git apply`,
		ValidArgsFunction: stintFiles,
		RunE: func(_ *cobra.Command, args []string) error {
			f.fix = f.fix || f.unsafe
			if f.diff && !f.fix {
				return errors.New("--diff shows what a fix would change: write --fix or --unsafe-fixes beside it")
			}
			if f.diff && f.format.value != "text" {
				return errors.New("--diff prints a change and no findings: leave --format out")
			}
			return a.check(f, args)
		},
	}
	f.format = addChoice(cmd, "format", "how to print findings", "text", "line", "json")
	f.color = addChoice(cmd, "color", "when to print in colour", "auto", "always", "never")
	cmd.Flags().BoolVar(&f.warnings, "error-on-warnings", false, "fail on warnings too")
	cmd.Flags().BoolVar(&f.fix, "fix", false, "make the safe fixes")
	cmd.Flags().BoolVar(&f.unsafe, "unsafe-fixes", false,
		"make the first fix of each finding, also those that change the dose")
	cmd.Flags().BoolVar(&f.diff, "diff", false, "with a fix: show the change and write nothing")
	return cmd
}

func (a *app) check(f checkFlags, args []string) error {
	ts, err := targets(args)
	if err != nil {
		return err
	}
	js, unread := jobs(ts)
	if len(js) == 0 || f.fix && unread != nil {
		return unread // a fix of half a workspace could be a wrong one
	}
	var all []diag.Diagnostic
	var lines []string
	for _, j := range js {
		before := j.found()
		line := ""
		if f.fix {
			n, err := a.fix(j, f)
			if err != nil {
				return err
			}
			line = fixed(n, f.diff)
		}
		after := j.found()
		lines = append(lines, line+j.summary(after))
		if f.diff {
			after = before
		}
		all = append(all, j.relabel(after)...)
	}
	diag.Sort(all)
	if err := a.report(f, all); err != nil {
		return err
	}
	if f.format.value == "text" {
		for _, l := range lines {
			a.say("%s", l)
		}
	}
	if c := report.Count(all); unread == nil && (c.Errors > 0 || f.warnings && c.Warnings > 0) {
		return errFound
	}
	return unread
}

// fixed is how many fixes were made, or would be, in words before the summary.
func fixed(n int, diff bool) string {
	switch {
	case n == 0:
		return "no fix to make; "
	case diff:
		return "with " + plural(n, "fix", "fixes") + " made, "
	}
	return "made " + plural(n, "fix", "fixes") + "; "
}

// report prints findings in the form that is asked for.
func (a *app) report(f checkFlags, ds []diag.Diagnostic) error {
	opt := report.Options{Color: a.color(f.color.value)}
	write := map[string]func(io.Writer, []diag.Diagnostic, report.Options) error{
		"text": report.Text, "line": report.Lines, "json": report.JSON,
	}[f.format.value]
	if f.diff {
		return nil
	}
	return write(a.out, ds, opt)
}

// color reports whether to print in colour: when asked to, or on a terminal whose owner
// has not set NO_COLOR (https://no-color.org) and that is not a dumb one.
func (a *app) color(when string) bool {
	switch when {
	case "always":
		return true
	case "never":
		return false
	}
	return a.terminal && os.Getenv("NO_COLOR") == "" && os.Getenv("TERM") != "dumb"
}
