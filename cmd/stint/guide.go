package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"stint.example/stint/spec"
)

func (a *app) guideCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "guide",
		Short: "Explain the notation to a coach, in two pages",
		Long: `guide prints what a coach has to know to write a session: one hour with what each
line says, what stands on the board beside how it is written, where a rest belongs,
how to start, and what is never checked.`,
		Example: `  stint guide`,
		Args:    takes(0, 0, "stint guide"),
		RunE: func(*cobra.Command, []string) error {
			page, err := spec.FS.ReadFile("guide.md")
			if err != nil {
				return err
			}
			_, err = fmt.Fprint(a.out, plain(string(page), ""))
			return err
		},
	}
}
