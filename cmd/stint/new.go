package main

import (
	"errors"
	"fmt"
	"io/fs"
	"path"
	"strings"

	"github.com/spf13/cobra"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/workspace"
)

// A kind is what new can make.
type kind struct {
	word    string
	folder  string
	example string
	about   string
	// taken is what has the name already, in words; empty where nothing has.
	taken func(j *job, name string) string
}

var kinds = []kind{
	{"session", "sessions", "Sheet Bend",
		"a session, with work to change and every version that the house asks for", sessionTaken},
	{"movement", "movements", "rope haul", "a movement of your own", movementTaken},
	{"cycle", "cycles", "Spring Tide", "a cycle of weeks, its days to be filled in", cycleTaken},
}

func (a *app) newCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "new",
		Short: "Start a session, a movement or a cycle",
		Long: `new writes a file to fill in, in its place in the workspace, and never over one
that is there.`,
		Example: `  stint new session Sheet Bend
  stint new movement rope haul
  stint new cycle Spring Tide`,
		Args: takes(1, -1, "stint new session Sheet Bend"),
		RunE: func(_ *cobra.Command, args []string) error {
			return fmt.Errorf("new makes no %s: write stint new session, stint new movement or stint new cycle",
				args[0])
		},
	}
	for _, k := range kinds {
		example := "stint new " + k.word + " " + k.example
		cmd.AddCommand(&cobra.Command{
			Use:   k.word + " NAME",
			Short: "Start " + k.about,
			Long: fmt.Sprintf("new %s writes %s to %s/, in a file that is called after it.", k.word, k.about,
				k.folder),
			Example: "  " + example,
			Args:    takes(1, -1, example),
			RunE: func(_ *cobra.Command, args []string) error {
				return a.new(k, strings.Join(strings.Fields(strings.Join(args, " ")), " "))
			},
		})
	}
	return cmd
}

func (a *app) new(k kind, name string) error {
	j, err := here()
	switch {
	case err != nil:
		return err
	case j == nil:
		return errors.New("no " + workspace.HouseFile +
			" upward of this folder, so there is no workspace to write in: stint init makes one")
	}
	if k.word == "movement" {
		name = strings.ToLower(name)
	}
	if by := k.taken(j, name); by != "" {
		return fmt.Errorf("%s already: call the %s otherwise", by, k.word)
	}
	file := path.Join(k.folder, workspace.FileFor(name))
	text, err := k.text(j, name)
	if err != nil {
		return err
	}
	if wrong := j.wrong(k, file, name, text); wrong != "" {
		return fmt.Errorf("%q cannot be the name of a %s: %s", name, k.word, wrong)
	}
	if err := create([]newFile{{j.abs(file), text}}); err != nil {
		return err
	}
	at := shown(j.abs(file))
	fmt.Fprintf(a.out, "%s\n\nnext: fill it in, then\n  stint check %s\n", at, quoted(at))
	return nil
}

// text is what the new file holds.
func (k kind) text(j *job, name string) (string, error) {
	text, err := fs.ReadFile(templates, "templates/new/"+k.word+workspace.Extension)
	if err != nil {
		return "", err
	}
	placeholder := "Untitled"
	if k.word == "movement" {
		placeholder = "untitled"
	}
	out := strings.Replace(string(text), k.word+" "+placeholder, k.word+" "+name, 1)
	if k.word == "session" {
		for _, n := range j.snap.Env.House.Needs {
			out += "\nscaling " + strings.ToLower(n.Text) + "\n  # Write what changes, as in: push-up -> knee push-up\n"
		}
	}
	return out, nil
}

// wrong is why the text cannot be used, or empty: it has an error, or its name is read as
// another.
func (j *job) wrong(k kind, file, name, text string) string {
	snap := j.snap.With(file, text)
	for _, d := range snap.Check() {
		if d.At.File.Name == file && d.Severity == diag.Error {
			return d.Message + "; " + d.Help
		}
	}
	f := snap.File(file)
	var called []string
	switch k.word {
	case "session":
		called = names(f.Program().Sessions, sessionName)
	case "movement":
		called = names(f.Decls.Movements, movementName)
	case "cycle":
		called = names(f.Program().Cycles, cycleName)
	}
	if len(called) != 1 || called[0] != name || workspace.FileFor(name) == workspace.Extension {
		return "a name is letters, hyphens and blanks"
	}
	return ""
}

func cycleName(c *model.Cycle) string { return c.Name }

func sessionTaken(j *job, name string) string {
	s, f := j.snap.Session(name)
	if s == nil {
		return ""
	}
	return fmt.Sprintf("%s has a session %s", shown(j.abs(f.Path)), s.Name)
}

func cycleTaken(j *job, name string) string {
	for _, f := range j.snap.Files {
		for _, c := range f.Program().Cycles {
			if book.Key(c.Name) == book.Key(name) {
				return fmt.Sprintf("%s has a cycle %s", shown(j.abs(f.Path)), c.Name)
			}
		}
	}
	return ""
}

func movementTaken(j *job, name string) string {
	m, claims := j.snap.Env.Book.Lookup(name)
	switch {
	case m != nil && j.owns(m.At.File):
		return fmt.Sprintf("%s has a movement %s", shown(j.abs(m.At.File.Name)), m.Name)
	case m != nil:
		return fmt.Sprintf("the book has a movement %s", m.Name)
	case len(claims) > 0:
		return fmt.Sprintf("the book calls %s by that name", strings.Join(names(claims, movementName), " and "))
	}
	return ""
}
