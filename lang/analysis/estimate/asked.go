package estimate

import (
	"stint.example/stint/lang/model"
)

// Asked is a rest that somebody asks for.
type Asked struct {
	Rest float64     // s
	From *model.Rest // the line that asks
	// By is who asks: "part", "session" or "house".
	By string
}

// Asked is the longest rest that is asked for at least between a part, counted from 0, and
// the one that follows it: by the part itself or, between two parts, by the session and the
// house. What a part rests when it is done is asked for too where the clock starts the next: that
// waits for nobody. There is none where nobody asks.
func (t *Timeline) Asked(part int) (Asked, bool) {
	p := t.Parts[part]
	var asked Asked
	look := func(rests []*model.Rest, at model.RestPlace, by string) {
		if r, s := model.LongestAsked(rests, at, p.Tier); s > asked.Rest {
			asked = Asked{s, r, by}
		}
	}
	look(p.Group.Rests, model.RestAfterPart, "part")
	if part+1 < len(t.Parts) && t.Parts[part+1].Pinned && p.RestBehind.Slow > asked.Rest {
		for st := range model.Flat(p.Group.Steps) {
			if r, ok := st.(*model.Rest); ok && r.IsBehindPart() {
				asked = Asked{p.RestBehind.Slow, r, "part"}
			}
		}
	}
	if part+1 < len(t.Parts) && p.Group.Kind == model.Part && t.Parts[part+1].Group.Kind == model.Part {
		look(t.Session.Rests, model.RestBetweenParts, "session")
		if t.env != nil && t.env.House != nil {
			look(t.env.House.Rests, model.RestBetweenParts, "house")
		}
	}
	return asked, asked.From != nil
}
