// Command stint checks, formats and explains training sessions that are written in the
// stint notation.
//
// A file holds a command: its flags, its exit code and what it prints. What the text
// means, and whether it holds, is for the packages under lang to say.
package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"os"
	"runtime"
	"runtime/debug"
	"strings"
	"syscall"

	"github.com/mattn/go-colorable"
	"github.com/mattn/go-isatty"
)

// The exit codes.
const (
	exitFine   = 0
	exitFound  = 1 // an error in the text, or a file that would change
	exitFailed = 2 // a slip in the command, or a file that cannot be read or written
)

// errFound ends a command that has printed what it found: exit code 1 and no message.
var errFound = errors.New("found something")

func main() {
	a := newApp(os.Stdin, colorable.NewColorable(os.Stdout), os.Stderr)
	a.terminal = isatty.IsTerminal(os.Stdout.Fd()) || isatty.IsCygwinTerminal(os.Stdout.Fd())
	os.Exit(a.run(os.Args[1:]))
}

// An app is what commands read from and write to.
type app struct {
	in       io.Reader
	out      *bufio.Writer
	err      io.Writer
	terminal bool // out is a terminal
}

func newApp(in io.Reader, out, err io.Writer) *app {
	return &app{in: in, out: bufio.NewWriter(out), err: err}
}

// run runs a command line and returns its exit code.
func (a *app) run(args []string) (code int) {
	defer func() {
		if p := recover(); p != nil {
			_ = a.out.Flush() // what there is may help
			a.internal(p, debug.Stack())
			code = exitFailed
		}
	}()
	root := a.root()
	root.SetArgs(args)
	err := root.Execute()
	if flushed := a.out.Flush(); flushed != nil && !brokenPipe(flushed) {
		if errors.Is(err, errFound) || errors.Is(err, flushed) {
			err = nil
		}
		err = errors.Join(err, fmt.Errorf("cannot write the output: %w", reason(flushed)))
	}
	switch {
	case err == nil:
		return exitFine
	case errors.Is(err, errFound):
		return exitFound
	case brokenPipe(err):
		return exitFine
	}
	a.complain(err)
	return exitFailed
}

// complain writes an error, a line each where it joins several.
func (a *app) complain(err error) {
	for _, line := range strings.Split(strings.TrimSpace(err.Error()), "\n") {
		if line = strings.TrimSpace(line); line != "" {
			fmt.Fprintln(a.err, "stint:", line)
		}
	}
}

// say writes a line beside the output, for the person who runs the command. What stands
// in the output comes first.
func (a *app) say(format string, args ...any) {
	_ = a.out.Flush() // a failure shows again when all is flushed
	fmt.Fprintf(a.err, format+"\n", args...)
}

// internal reports a fault of the tool itself.
func (a *app) internal(fault any, stack []byte) {
	fmt.Fprintf(a.err, "stint: internal error: %v\n", fault)
	fmt.Fprintln(a.err,
		"stint: this is a fault of the tool, not of your text; please report it with the file that it read")
	if os.Getenv("STINT_DEBUG") != "" {
		_, _ = a.err.Write(stack)
		return
	}
	fmt.Fprintln(a.err, "stint: with STINT_DEBUG=1 in the environment it says where")
}

// brokenPipe reports whether the reader of the output has gone away, as head and less do
// when they have seen enough. That is no failure.
func brokenPipe(err error) bool {
	if runtime.GOOS == "windows" {
		const brokenPipe, noData = syscall.Errno(109), syscall.Errno(232)
		return errors.Is(err, brokenPipe) || errors.Is(err, noData)
	}
	return errors.Is(err, syscall.EPIPE)
}
