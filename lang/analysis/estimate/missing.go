package estimate

import (
	"cmp"
	"slices"

	"stint.example/stint/lang/source"
)

// A Missing is something that neither the text nor the book says. The estimate never makes a
// figure up: its time is then a lower bound, and no limit is proven by it.
type Missing struct {
	At  source.Place // the words that say too little
	Why string       // what is not known, one sentence without a full stop
	Add string       // what would settle it, one sentence without a full stop; may be empty
	// Held says that a window or a clock bounds it, so that only counts and the turns of a clock
	// depend on it, and no time.
	Held bool
	// Beyond says that nothing is missing but a model that holds for so much work: the time is an estimate
	// beyond its range, and no lower bound.
	Beyond bool
	Waits  bool // people wait for kit there
}

// A Note is what an estimate leaves out or reads otherwise, and says so.
type Note struct {
	At   source.Place
	Text string // one sentence without a full stop
}

// unknowns gather what is missing and what is noted, each once.
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

// beyond says whether a time that is not proven is an estimate all the same, beyond the range of the model.
func beyond(ms []Missing) bool {
	return !proven(ms) && !slices.ContainsFunc(ms, func(m Missing) bool { return !m.Held && !m.Beyond })
}

// hedge is the word before a time: none where it is proven, or what is said of one that is not.
func hedge(sure, beyond bool) string {
	switch {
	case sure:
		return ""
	case beyond:
		return "about "
	}
	return "at least "
}

// proven says whether a time may be compared with a limit: nothing that it depends on is missing.
func proven(ms []Missing) bool {
	return !slices.ContainsFunc(ms, func(m Missing) bool { return !m.Held })
}
