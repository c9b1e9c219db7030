package estimate

import (
	"cmp"
	"slices"

	"stint.example/stint/lang/source"
)

// A Missing is what the text or the book does not say, so that an estimate cannot know. It
// never makes a figure up: what it gives is then the least, and what hangs on it is not
// proven.
type Missing struct {
	At  source.Place // the words that it hangs on
	Why string       // what is not known, one sentence without a full stop
	Add string       // what would mend it, one sentence without a full stop; may be empty
	// Held says that a window holds it, so that only counts and the turns of a clock hang
	// on it, and no time.
	Held bool
}

// A Note is what an estimate leaves out or reads otherwise, and says so.
type Note struct {
	At   source.Place
	Text string // one sentence without a full stop
}

// unknowns gathers what is missing, each once.
type unknowns struct {
	missing []Missing
	notes   []Note
}

func (k *unknowns) addMissing(m Missing) {
	i := slices.IndexFunc(k.missing, func(o Missing) bool { return o.At == m.At && o.Why == m.Why })
	if i < 0 {
		k.missing = append(k.missing, m)
		return
	}
	k.missing[i].Held = k.missing[i].Held && m.Held
}

func (k *unknowns) add(o *unknowns) {
	for _, m := range o.missing {
		k.addMissing(m)
	}
	for _, n := range o.notes {
		if !slices.ContainsFunc(k.notes, func(o Note) bool { return o.Text == n.Text }) {
			k.notes = append(k.notes, n)
		}
	}
}

func (k *unknowns) sort() {
	slices.SortStableFunc(k.missing, func(a, b Missing) int { return cmp.Compare(a.At.Start, b.At.Start) })
	slices.SortStableFunc(k.notes, func(a, b Note) int { return cmp.Compare(a.At.Start, b.At.Start) })
}

// proven says whether a time may be held against a limit: nothing that it hangs on is
// missing.
func proven(ms []Missing) bool {
	return !slices.ContainsFunc(ms, func(m Missing) bool { return !m.Held })
}
