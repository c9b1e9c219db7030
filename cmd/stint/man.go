package main

import (
	"fmt"
	"os"

	"github.com/spf13/cobra"
	"github.com/spf13/cobra/doc"
)

// manCommand is hidden: it is for those who package the tool.
func (a *app) manCommand() *cobra.Command {
	return &cobra.Command{
		Use:     "man FOLDER",
		Short:   "Write the manual pages into a folder",
		Long:    `man writes a manual page for each command. SOURCE_DATE_EPOCH sets their date.`,
		Example: `  stint man share/man/man1`,
		Hidden:  true,
		Args:    takes(1, 1, "stint man share/man/man1"),
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := os.MkdirAll(args[0], 0o777); err != nil {
				return fmt.Errorf("cannot make %s: %w", shown(args[0]), reason(err))
			}
			header := &doc.GenManHeader{Section: "1", Source: "stint", Manual: "stint"}
			if err := doc.GenManTree(cmd.Root(), header, args[0]); err != nil {
				return fmt.Errorf("cannot write the pages: %w", reason(err))
			}
			return nil
		},
	}
}
