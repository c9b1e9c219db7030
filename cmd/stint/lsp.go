package main

import (
	"bufio"
	"errors"
	"io"
	"os"

	"github.com/spf13/cobra"

	"stint.example/stint/lsp"
)

func (a *app) lspCommand() *cobra.Command {
	var log string
	cmd := &cobra.Command{
		Use:   "lsp",
		Short: "Serve an editor: findings, names and fixes while you write",
		Long: `lsp is the language server. An editor that speaks the language server protocol starts
it by itself and talks to it over standard input and output; there is nothing to
type here.

In the editor's settings, name the command stint lsp for files whose names end in
.stint. The server reads the whole workspace, the nearest folder upward with a
house.stint file, and looks at your unsaved text rather than at the disk.

Exit code: 0 when the editor shut the server down, 1 when it went away without
doing so.`,
		Example: `  stint lsp
  stint lsp --log stint.log    write down what the server does`,
		Args: takes(0, 0, "stint lsp"),
		RunE: func(cmd *cobra.Command, _ []string) error {
			opt := lsp.ServerOptions{Version: build()}
			if log != "" {
				f, err := os.OpenFile(log, os.O_CREATE|os.O_APPEND|os.O_WRONLY, 0o644)
				if err != nil {
					return err
				}
				defer f.Close()
				opt.Log = f
			}
			err := lsp.Serve(cmd.Context(), stdio{a.in, a.out}, opt)
			if errors.Is(err, lsp.ErrNoShutdown) {
				return errFound
			}
			return err
		},
	}
	cmd.Flags().StringVar(&log, "log", "", "a file to write down in what the server does")
	return cmd
}

// stdio is a connection over standard input and output. Each message is written out at
// once.
type stdio struct {
	io.Reader
	out *bufio.Writer
}

func (s stdio) Write(p []byte) (int, error) {
	n, err := s.out.Write(p)
	return n, errors.Join(err, s.out.Flush())
}

// Close closes the input where it can be closed. A reader that waits for more ends with
// the program.
func (s stdio) Close() error {
	if c, ok := s.Reader.(io.Closer); ok {
		return c.Close()
	}
	return nil
}
