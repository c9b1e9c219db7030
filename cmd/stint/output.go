package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/spf13/cobra"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/render/report"
	"stint.example/stint/lang/render/svg"
	"stint.example/stint/lang/workspace"
)

// outputFlags are how a command shows what it has worked out, and where it writes it.
type outputFlags struct {
	format *choice
	file   string
	width  int
}

func addOutput(cmd *cobra.Command) *outputFlags {
	f := &outputFlags{format: addChoice(cmd, "format", "how to print it", "text", "json", "svg")}
	cmd.Flags().StringVar(&f.file, "output", "", "write to this file")
	cmd.Flags().IntVar(&f.width, "width", svg.Desktop,
		fmt.Sprintf("how wide a picture is: %d to %d", svg.Narrowest, svg.Widest))
	return f
}

// isPicture says whether a picture is asked for.
func (f *outputFlags) isPicture() bool { return f.format.value == "svg" }

// check refuses a file that would be read as a session, and a width in which no picture can be drawn.
func (f *outputFlags) check() error {
	if strings.HasSuffix(f.file, workspace.Extension) {
		return fmt.Errorf("%s would be read as a session: give the output another name", shown(f.file))
	}
	if f.width < svg.Narrowest || f.width > svg.Widest {
		return fmt.Errorf("--width is %d to %d", svg.Narrowest, svg.Widest)
	}
	return nil
}

// A showable can be shown in every format.
type showable struct {
	json any
	svg  func(svg.Options) string
	text func(io.Writer)
}

// publish writes something in the format that is asked for.
func (a *app) publish(f *outputFlags, s showable) error {
	var b strings.Builder
	switch f.format.value {
	case "json":
		if err := writeJSON(&b, s.json); err != nil {
			return err
		}
	case "svg":
		b.WriteString(s.svg(svg.Options{Width: f.width}))
	default:
		s.text(&b)
	}
	return a.put(f.file, b.String())
}

// put writes a text to a file, in the place of what it held before, or to the output
// where no file is named.
func (a *app) put(name, text string) error {
	if name == "" {
		_, err := a.out.WriteString(text)
		return err
	}
	old, err := os.ReadFile(name)
	switch {
	case errors.Is(err, os.ErrNotExist):
		return create([]newFile{{name, text}})
	case err != nil:
		return fmt.Errorf("cannot write %s: %w", shown(name), reason(err))
	}
	return replace(name, string(old), text)
}

// warnOfErrors is an error where some of what was found in the files shown is one, and says that what is
// shown may be wrong.
func (a *app) warnOfErrors(found []diag.Diagnostic) error {
	n := report.Count(found).Errors
	if n == 0 {
		return nil
	}
	a.say("%s found, so some of this may be wrong: stint check says where", plural(n, "error", "errors"))
	return errFound
}
