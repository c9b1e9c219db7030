package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/render/layout"
	"stint.example/stint/lang/render/prose"
)

func (a *app) kitCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "kit [NAME]",
		Short: "List the words for kit, or what is done with one",
		Long: `kit lists the words that movements have for the kit that they need, with the other
words that lead to each, which movements are done with it (or how many, where that
is more than three), and what the house here has of it. What the house lists and no
movement needs stands behind them.

With a name it lists the movements that are done with that.`,
		Example: `  stint kit
  stint kit kettlebell`,
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			return book.Builtin().KitNames(), cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(_ *cobra.Command, args []string) error {
			b, j, err := bookHere()
			if err != nil {
				return err
			}
			house := model.Defaults()
			if j != nil {
				house = j.snap.Env.House
			}
			if len(args) > 0 {
				return a.kitFor(b, house, strings.Join(args, " "))
			}
			a.kit(b, house)
			return nil
		},
	}
}

// kit lists all kit: what movements need, and then what only the house has.
func (a *app) kit(b *book.Book, house *model.House) {
	var table, other [][]string
	for _, name := range b.KitNames() {
		needed, stock := b.NeededBy(name), kitStock(b, house, name)
		row := []string{name, strings.Join(b.KitAlso(name), ", "), fewNames(needed), stock}
		switch {
		case len(needed) > 0:
			table = append(table, row)
		case stock != "":
			row[2] = "no movement needs it"
			other = append(other, row)
		}
	}
	fmt.Fprint(a.out, layout.Table(append(table, other...)))
}

// fewNames are the names of movements where they are few, and otherwise how many they are.
func fewNames(ms []*book.Movement) string {
	if len(ms) > 3 {
		return fmt.Sprintf("%d movements", len(ms))
	}
	return strings.Join(names(ms, movementName), ", ")
}

// kitStock is what a house has of a piece of kit, a line of its list behind the other.
func kitStock(b *book.Book, house *model.House, name string) string {
	var out []string
	for _, k := range house.Kit {
		if called, _ := b.Kit(k.Name); called == name {
			out = append(out, fmt.Sprint(k.Count)+prose.Loads(k.Loads))
		}
	}
	return strings.Join(out, ", ")
}

// kitFor lists what is done with one kind of kit.
func (a *app) kitFor(b *book.Book, house *model.House, name string) error {
	called, known := b.Kit(name)
	if !known {
		return fmt.Errorf("there is no kit %q: stint kit lists the words for kit", name)
	}
	fmt.Fprintln(a.out, called)
	row := func(title, text string) {
		if text != "" {
			fmt.Fprintf(a.out, "  %-9s %s\n", title, text)
		}
	}
	row("also", strings.Join(b.KitAlso(called), ", "))
	row("here", kitStock(b, house, called))
	for _, m := range b.NeededBy(called) {
		text := m.Name
		if i := slices.IndexFunc(m.Ways(), func(ways []string) bool {
			return slices.Contains(ways, called) && len(ways) > 1
		}); i >= 0 {
			text += ", with " + m.NeedsText()[i]
		}
		row("for", text)
	}
	return nil
}
