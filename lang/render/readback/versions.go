package readback

import (
	"slices"
	"strings"

	"stint.example/stint/lang/model"
)

// A Change is what a version does otherwise than the session as written.
type Change struct {
	Version string       `json:"version"`
	About   string       `json:"about,omitempty"` // what it is for, and with what kit
	Parts   []PartChange `json:"parts"`
	Account []Claim      `json:"account"` // what holds otherwise in it
}

// A PartChange is what a version does otherwise in a part; without a name, in the whole session.
type PartChange struct {
	Part    string   `json:"part,omitempty"`
	Changes []string `json:"changes"`
}

// change compares a version with the session as written, sentence by sentence.
func change(written, now *Reading, v *model.Version) Change {
	c := Change{Version: v.Name, About: forWhom(v), Parts: partChanges(written, now), Account: []Claim{}}
	for _, a := range now.Account {
		if !slices.ContainsFunc(written.Account, func(b Claim) bool { return same(a, b) }) {
			c.Account = append(c.Account, a)
		}
	}
	return c
}

// Changes is what a version does otherwise than the session as written, part by part.
func Changes(h *model.House, written *model.Session, v *model.Version) []PartChange {
	t := teller{house: h}
	return partChanges(t.sentences(written, nil), t.sentences(v.Session, nil))
}

func partChanges(written, now *Reading) []PartChange {
	out := []PartChange{}
	add := func(name string, changes []string) {
		if len(changes) > 0 {
			out = append(out, PartChange{name, changes})
		}
	}
	add("", differences(plain(written.About), plain(now.About)))
	for _, p := range written.Parts {
		i := slices.IndexFunc(now.Parts, func(q Part) bool { return q.Name == p.Name })
		if i < 0 {
			add(p.Name, []string{"left out"})
			continue
		}
		was, is := plain(p.Sentences), plain(now.Parts[i].Sentences)
		shared := common(was, is)
		if anew := len(shared) == 0 || len(shared) == 1 && isStart(was[0]); anew && len(was) > 1 && len(was) != len(is) {
			add(p.Name, []string{"all of it anew: " + quoted(is[len(shared):]...)})
			continue
		}
		add(p.Name, differences(was, is))
	}
	return out
}

// same says whether two claims hold alike: as stated, and for as many of the class.
func same(a, b Claim) bool {
	return a.Of == b.Of && a.What == b.What && a.Holds == b.Holds && a.people == b.people &&
		(a.Holds == Estimated || a.Why == b.Why)
}

// forWhom is what a version is for, what it starts from and what kit it has.
func forWhom(v *model.Version) string {
	var out []string
	if v.Note != "" {
		out = append(out, sentence(v.Note))
	}
	if len(v.From) > 0 {
		out = append(out, sentence("made on "+and(v.From)))
	}
	switch {
	case !v.HasOnly:
	case len(v.Has) == 0:
		out = append(out, "There is no kit.")
	default:
		out = append(out, sentence("the kit is "+and(v.Has)+", and nothing else"))
	}
	return strings.Join(out, " ")
}

// plain are the sentences that say what is done, each with its notes: not how long it takes, which
// is in the account.
func plain(ss []Sentence) []string {
	var out []string
	for _, s := range ss {
		switch {
		case s.aside:
		case s.Note && s.Depth > 0 && len(out) > 0:
			out[len(out)-1] += " (" + bare(s.Text) + ")"
		case s.brief != "":
			out = append(out, s.brief)
		default:
			out = append(out, bare(s.Text))
		}
	}
	return out
}

// differences says which sentences another text has in the place of these.
func differences(was, now []string) []string {
	var out []string
	i, k := 0, 0
	for _, c := range common(was, now) {
		out = append(out, instead(was[i:c[0]], now[k:c[1]])...)
		i, k = c[0]+1, c[1]+1
	}
	return append(out, instead(was[i:], now[k:])...)
}

// instead says what takes the place of some sentences: one of one, where there are as many, or where
// two begin alike. All are told in the order in which they are done.
func instead(was, now []string) []string {
	var out []string
	switch {
	case len(was) == len(now):
		for i, w := range was {
			out = append(out, "instead of "+quoted(w)+": "+quoted(now[i]))
		}
	case len(was) == 1 && len(now) > 1 && slices.ContainsFunc(now, func(n string) bool { return opening(n) == opening(was[0]) }):
		out = append(out, "instead of "+quoted(was...)+": "+quoted(now...))
	default:
		before := make([]string, len(now)) // what each takes the place of
		for _, w := range was {
			i := slices.IndexFunc(now, func(n string) bool { return opening(n) == opening(w) })
			if i < 0 || before[i] != "" {
				out = append(out, "without "+quoted(w))
				continue
			}
			before[i] = w
		}
		for i, n := range now {
			if before[i] == "" {
				out = append(out, "in addition: "+quoted(n))
				continue
			}
			out = append(out, "instead of "+quoted(before[i])+": "+quoted(n))
		}
	}
	return out
}

// opening are the first two words of a sentence, which say what it is about.
func opening(text string) string {
	words := strings.Fields(text)
	return strings.Join(words[:min(2, len(words))], " ")
}

// isStart says whether a sentence is that of a start, which a part that is written anew may keep.
func isStart(text string) bool {
	return strings.Contains(text, " on the wall clock") || strings.HasPrefix(text, "The wall clock")
}

func quoted(texts ...string) string {
	out := make([]string, len(texts))
	for i, t := range texts {
		out[i] = `"` + t + `"`
	}
	return strings.Join(out, ", ")
}

// bare is a sentence without what ends it.
func bare(text string) string { return strings.TrimRight(text, ":.") }

// common are the places of the longest common subsequence of two texts.
func common(a, b []string) [][2]int {
	long := make([][]int, len(a)+1) // of a[i:] and b[k:]
	for i := range long {
		long[i] = make([]int, len(b)+1)
	}
	for i := len(a) - 1; i >= 0; i-- {
		for k := len(b) - 1; k >= 0; k-- {
			if long[i][k] = max(long[i+1][k], long[i][k+1]); a[i] == b[k] {
				long[i][k] = long[i+1][k+1] + 1
			}
		}
	}
	var out [][2]int
	for i, k := 0, 0; i < len(a) && k < len(b); {
		switch {
		case a[i] == b[k]:
			out = append(out, [2]int{i, k})
			i, k = i+1, k+1
		case long[i+1][k] >= long[i][k+1]:
			i++
		default:
			k++
		}
	}
	return out
}
