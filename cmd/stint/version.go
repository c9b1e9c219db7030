package main

import (
	"fmt"
	"runtime"
	"runtime/debug"

	"github.com/spf13/cobra"
)

// language is the version of the notation that the tool reads.
const language = "stint 1"

func (a *app) versionCommand() *cobra.Command {
	return &cobra.Command{
		Use:     "version",
		Short:   "Say which stint this is",
		Long:    `version prints which build of the tool this is, and which version of the notation it reads.`,
		Example: `  stint version`,
		Args:    takes(0, 0, "stint version"),
		RunE: func(*cobra.Command, []string) error {
			fmt.Fprintf(a.out, "stint %s\nreads the notation of %q\n%s %s/%s\n",
				build(), language, runtime.Version(), runtime.GOOS, runtime.GOARCH)
			return nil
		},
	}
}

// build is the version of the tool, with the commit where there is one.
func build() string {
	info, ok := debug.ReadBuildInfo()
	if !ok || info.Main.Version == "" {
		return "(unknown)"
	}
	text := info.Main.Version
	for _, s := range info.Settings {
		if s.Key == "vcs.revision" && len(s.Value) >= 12 {
			text += " (commit " + s.Value[:12] + ")"
		}
	}
	return text
}
