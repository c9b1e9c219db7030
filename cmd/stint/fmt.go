package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"stint.example/stint/lang/format"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/workspace"
)

// stdinArg is the argument that stands for the standard input.
const stdinArg = "-"

// fmtFlags is what stint fmt is asked for.
type fmtFlags struct {
	check, diff bool
	stdinName   string
}

func (a *app) fmtCommand() *cobra.Command {
	var f fmtFlags
	cmd := &cobra.Command{
		Use:   "fmt [FILE|FOLDER|PATTERN ... | -]",
		Short: "Put files in their one tidy form",
		Long: `fmt rewrites files in the notation in the one form that they have: two blanks a
level, one spelling for each unit, one blank where one is enough. It never
changes what a line says, nor a word of your notes and comments, and it moves no
line. A line that cannot be read keeps its words; check says what is wrong.

Without arguments it tidies the current folder and all below it, and prints the
names of the files that it changed. With - it reads the text from standard input
and writes it to standard output.

Exit code: 0 when all went well; with --check or --diff, 1 when a file is not in
its tidy form; 2 when a file could not be read or written.`,
		Example: `  stint fmt
  stint fmt sessions/bowline.stint
  stint fmt --check
  stint fmt --diff sessions
  stint fmt - < draft.stint`,
		ValidArgsFunction: stintFiles,
		RunE: func(cmd *cobra.Command, args []string) error {
			stdin := slices.Contains(args, stdinArg)
			switch {
			case stdin && len(args) > 1:
				return errors.New("- stands for the standard input, and for that alone: leave the other arguments out")
			case !stdin && cmd.Flags().Changed("stdin-filename"):
				return errors.New("--stdin-filename names what is read from standard input: write - as the argument")
			case stdin:
				return a.fmtStdin(f)
			}
			return a.fmt(f, args)
		},
	}
	cmd.Flags().BoolVar(&f.check, "check", false, "write nothing; print the names of files that would change")
	cmd.Flags().BoolVar(&f.diff, "diff", false, "write nothing; print what would change")
	cmd.Flags().StringVar(&f.stdinName, "stdin-filename", "stdin"+workspace.Extension,
		"how to call the text from standard input")
	return cmd
}

func (a *app) fmt(f fmtFlags, args []string) error {
	ts, err := targets(args)
	if err != nil {
		return err
	}
	if err := oneWorkspace(args, ts); err != nil && !f.check && !f.diff {
		return err
	}
	names, err := files(ts)
	if err != nil {
		return err
	}
	var errs []error
	differs := false
	for _, name := range names {
		text, err := os.ReadFile(name)
		if err != nil {
			errs = append(errs, fmt.Errorf("cannot read %s: %w", shown(name), reason(err)))
			continue
		}
		old, want := string(text), canonical(name, string(text))
		if old == want {
			continue
		}
		if f.check || f.diff {
			differs = true
			a.differs(f, shown(name), old, want)
			continue
		}
		if err := replace(name, old, want); err != nil {
			errs = append(errs, err)
			continue
		}
		fmt.Fprintln(a.out, shown(name))
	}
	if err := errors.Join(errs...); err != nil || !differs {
		return err
	}
	return errFound
}

// oneWorkspace refuses a folder that is in no workspace and holds several: whoever names
// a home folder does not mean to write all that is below it.
func oneWorkspace(args []string, ts []target) error {
	folders := slices.DeleteFunc(slices.Clone(ts), func(t target) bool { return !t.folder })
	if len(args) > 1 || len(folders) < 2 {
		return nil
	}
	if root, err := workspace.Find(append(args, ".")[0]); err != nil || root.House {
		return err
	}
	return fmt.Errorf("%s is in no workspace and holds %d: name the one to write, such as %s",
		folder(append(args, ".")[0]), len(folders), shown(folders[len(folders)-1].path))
}

// differs prints the name of a file that is not in its canonical form, or its diff.
func (a *app) differs(f fmtFlags, name, old, want string) {
	if f.diff {
		a.diff(name, old, want)
		return
	}
	fmt.Fprintln(a.out, name)
}

func (a *app) fmtStdin(f fmtFlags) error {
	if !strings.HasSuffix(f.stdinName, workspace.Extension) {
		return fmt.Errorf("%s is not in the notation: the names of such files end in %s", f.stdinName,
			workspace.Extension)
	}
	text, err := io.ReadAll(a.in)
	if err != nil {
		return fmt.Errorf("cannot read the standard input: %w", reason(err))
	}
	old, want := string(text), canonical(f.stdinName, string(text))
	switch {
	case !f.check && !f.diff:
		_, err := a.out.WriteString(want)
		return err
	case old == want:
		return nil
	}
	a.differs(f, shown(f.stdinName), old, want)
	return errFound
}

// canonical is a text as fmt writes it.
func canonical(name, text string) string { return format.Source(syntax.Parse(source.New(name, text))) }
