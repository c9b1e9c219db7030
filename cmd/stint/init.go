package main

import (
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"stint.example/stint/lang/workspace"
)

// templates are what init and new write.
//
//go:embed templates
var templates embed.FS

func (a *app) initCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "init [FOLDER]",
		Short: "Make a first workspace",
		Long: `init makes a small workspace to start from, in the current folder or in the one
named: a house file, a session with a version for home, a movement of your own
and a cycle. It never writes over a file.`,
		Example: `  stint init my-hall`,
		Args:    takes(0, 1, "stint init my-hall"),
		RunE: func(_ *cobra.Command, args []string) error {
			return a.init(append(args, ".")[0])
		},
	}
}

func (a *app) init(dir string) error {
	abs, err := filepath.Abs(dir)
	if err != nil {
		return err
	}
	around, err := workspace.Find(filepath.Dir(abs))
	if err == nil && around.House {
		a.say("note: %s is inside the workspace in %s, and is a workspace apart from now on", folder(abs),
			folder(around.Dir))
	}
	files, err := workspaceFiles(abs)
	if err != nil {
		return err
	}
	if err := create(files); err != nil {
		return err
	}
	session := ""
	for _, f := range files {
		fmt.Fprintln(a.out, shown(f.name))
		if filepath.Base(filepath.Dir(f.name)) == "sessions" {
			session = shown(f.name)
		}
	}
	fmt.Fprintf(a.out, "\nnext:\n  stint check %s\n  stint show %s\n", quoted(shown(abs)), quoted(session))
	return nil
}

// workspaceFiles are the files of a first workspace in a folder.
func workspaceFiles(dir string) ([]newFile, error) {
	const root = "templates/workspace/"
	var out []newFile
	err := fs.WalkDir(templates, strings.TrimSuffix(root, "/"), func(name string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		text, err := fs.ReadFile(templates, name)
		out = append(out, newFile{filepath.Join(dir, filepath.FromSlash(strings.TrimPrefix(name, root))), string(text)})
		return err
	})
	if err == nil && len(out) == 0 {
		return nil, errors.New("this build of stint has no workspace to write")
	}
	return out, err
}

// quoted is a path as it is typed in a command line.
func quoted(name string) string {
	if strings.ContainsAny(name, " '\"$&()") {
		return `"` + name + `"`
	}
	return name
}
