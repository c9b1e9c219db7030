// Package completion suggests what may stand at a place in a text, the likeliest first: keywords,
// clauses, movements, kit, loads and other names.
//
// contexts.go picks what to suggest by the line and its block, a file a subject (movement.go,
// load.go, kit.go) makes the suggestions, match.go matches them with what is typed, and order.go
// and order_movement.go say in which order they come.
package completion

import (
	"slices"
	"strings"

	"stint.example/stint/lang/refs"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/workspace"
)

// Category is what sort of thing is offered, for the sign that an editor puts before it.
type Category uint8

// The categories of suggestions.
const (
	Keyword  Category = iota // a word of the notation
	Clause                   // a clause behind a comma
	Movement                 // a movement of the book
	Name                     // a session, a scaling, a rule
	Kit                      // a piece of kit
	Value                    // a weight, a unit, a word for how hard
	Line                     // several words at once, such as a total
)

// A Suggestion is something that may stand at the place.
type Suggestion struct {
	Label   string
	Kind    Category
	Detail  string         // in a few words
	New     string         // what is written
	Snippet string         // the same with stops for what is to be filled in; empty where there are none
	Example string         // in the notation
	Block   syntax.Context // that a keyword stands in
	Ref     refs.ID        // what it names; zero if nothing
	Also    string         // the other name by which it was found

	keys         []string // by which it is found, beside its label
	rank         int      // how likely it is; less is likelier
	matchQuality int      // how well it fits what is typed
}

// A List is what may stand at a place.
type List struct {
	At    source.Place // the words that are being written: an item takes their place
	Typed string       // of them, what stands before the cursor
	Items []Suggestion
	Cut   bool // there is more than is listed
	Whole bool // what is typed is a whole name already, and a blank behind it
}

// maxItems is how many items are listed.
const maxItems = 60

// At is what may stand at an offset of a file.
func At(snap *workspace.Snapshot, f *workspace.File, off int) List {
	c := newCompleter(snap, f, off)
	l := List{At: f.Src.At(source.Span{Start: off, End: off})}
	if c == nil {
		return l
	}
	c.complete()
	l.At = f.Src.At(source.Span{Start: c.from, End: max(c.to, off)})
	l.Typed = f.Src.Text[c.from:off]
	if c.noName {
		return l
	}
	l.Items = orderItems(c.items, l.Typed)
	if c.from > c.body && strings.ContainsRune(",@:>", rune(f.Src.Text[c.from-1])) {
		for i := range l.Items { // behind a mark that no blank follows
			l.Items[i].New = " " + l.Items[i].New
			if l.Items[i].Snippet != "" {
				l.Items[i].Snippet = " " + l.Items[i].Snippet
			}
		}
	}
	if len(l.Items) > 0 && l.Items[0].matchQuality == exactMatch && strings.HasSuffix(l.Typed, " ") {
		// It is written, and something else follows, unless it is but the beginning of a name.
		l.Whole = true
		l.Items = slices.DeleteFunc(l.Items, func(it Suggestion) bool { return it.matchQuality != prefixMatch })
	}
	if len(l.Items) > maxItems {
		l.Items, l.Cut = l.Items[:maxItems], true
	}
	l.Items = slices.Clip(l.Items)
	return l
}
