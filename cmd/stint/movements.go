package main

import (
	"errors"
	"fmt"
	"os"
	"strings"

	"github.com/spf13/cobra"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/render/prose"
	"stint.example/stint/lang/workspace"
)

func (a *app) movementsCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "movements [NAME]",
		Short: "List the movements, or read about one",
		Long: `movements lists the movements that sessions can name, by the pattern that each
chiefly trains. In a workspace its own movements are among them, and marked.

With a name it prints all that the book says of one: what it trains, moves and needs,
how long a repetition takes and where that figure comes from, what makes a
repetition count, and what to do instead.`,
		Example: `  stint movements
  stint movements kettlebell swing`,
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			return names(book.Builtin().Movements(), movementName), cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(_ *cobra.Command, args []string) error {
			b, j, err := bookHere()
			if err != nil {
				return err
			}
			if len(args) == 0 {
				a.movements(b, j)
				return nil
			}
			return a.movement(b, j, strings.Join(args, " "))
		},
	}
}

func movementName(m *book.Movement) string { return m.Name }

// bookHere is the book of the workspace that the current folder is in, or the built-in
// one where it is in none; the job is then nil.
func bookHere() (*book.Book, *job, error) {
	j, err := here()
	if err != nil {
		return nil, nil, err
	}
	if j == nil {
		return book.Builtin(), nil, nil
	}
	return j.snap.Env.Book, j, nil
}

// here is the workspace that the current folder is in, or nil where no house file
// marks one.
func here() (*job, error) {
	dir, err := os.Getwd()
	if err != nil {
		return nil, fmt.Errorf("cannot tell the current folder: %w", reason(err))
	}
	root, err := workspace.Find(dir)
	if err != nil {
		return nil, fmt.Errorf("cannot read the current folder: %w", reason(err))
	}
	if !root.House {
		return nil, nil
	}
	return open(root)
}

func (a *app) movements(b *book.Book, j *job) {
	for _, p := range append(book.Patterns, "") {
		title := string(p)
		if p == "" {
			title = "trains nothing"
		}
		for _, m := range b.Movements() {
			if m.Main() != p {
				continue
			}
			if title != "" {
				fmt.Fprintln(a.out, title)
				title = ""
			}
			own := ""
			if j != nil && j.owns(m.At.File) {
				own = " (" + shown(j.abs(m.At.File.Name)) + ")"
			}
			fmt.Fprintln(a.out, "  "+m.Name+own)
		}
	}
}

func (a *app) movement(b *book.Book, j *job, name string) error {
	m, claims := b.Lookup(name)
	switch {
	case m != nil:
		a.card(m, j)
		return nil
	case len(claims) > 0:
		return fmt.Errorf("%s could be %s", name, strings.Join(names(claims, movementName), ", "))
	}
	if near := b.Near(name, 3); len(near) > 0 {
		return fmt.Errorf("the book has no movement %q: did you mean %s?", name, strings.Join(near, ", "))
	}
	return errors.New("the book has no movement \"" + name + "\": stint movements lists them all")
}

// card prints a movement's entry in the book.
func (a *app) card(m *book.Movement, j *job) {
	fmt.Fprintln(a.out, m.Name)
	row := func(title string, texts ...string) {
		for _, t := range texts {
			if t != "" {
				fmt.Fprintf(a.out, "  %-9s %s\n", title, t)
			}
		}
	}
	list := func(ns []string) string { return strings.Join(ns, ", ") }
	row("also", list(m.Also))
	trains := make([]string, len(m.Trains))
	for i, p := range m.Trains {
		trains[i] = string(p)
	}
	row("trains", list(trains))
	var moves []string
	for _, j := range m.Moves() {
		moves = append(moves, string(j))
	}
	row("moves", list(moves))
	row("needs", list(m.NeedsText()))
	if m.Best != "" {
		row("best", string(m.Best)+", which athletes test")
	}
	for _, p := range m.Paces {
		row("pace", prose.Pace(p)+because(p.Source))
	}
	if u := m.Unbroken; u != nil {
		row("unbroken", prose.Unbroken(m)+because(u.Source))
	}
	if text := m.WhoCan(); text != "" {
		row("class", text+because(m.Class.Source))
	}
	row("set-up", m.SetUp...)
	row("standard", m.Standard...)
	row("cue", m.Cues...)
	row("fault", m.Faults...)
	row("caution", m.Cautions...)
	row("easier", list(m.Easier))
	row("harder", list(m.Harder))
	row("instead", list(m.Instead))
	at := "stint's own book"
	if j != nil && j.owns(m.At.File) {
		at = fmt.Sprintf("%s:%d", shown(j.abs(m.At.File.Name)), m.At.File.Position(m.At.Start).Line)
	}
	row("from", at)
}

func because(text string) string {
	if text == "" {
		return ""
	}
	return " > " + text
}
