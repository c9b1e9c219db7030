package estimate

import (
	"math"
	"strconv"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/source"
)

// A Skill is a movement that a part asks of everybody, and that not everybody can do.
type Skill struct {
	Movement *book.Movement
	At       source.Place // its name in the text
	Work     *model.Work
}

// share is what share of a class can do it.
func (s Skill) share() float64 { return s.Movement.Class.Of }

// SkillsOf are the skills that work asks of everybody, in the order of the text: not what a choice offers
// beside something that more people can do, and not what a condition may leave out.
func SkillsOf(g *model.Group) []Skill { return skillsOf(g) }

func skillsOf(s model.Step) []Skill {
	var out []Skill
	switch s := s.(type) {
	case *model.Work:
		if s.If != "" {
			return nil
		}
		var each [][]Skill
		for _, m := range s.Moves {
			var one []Skill
			if m.Movement.Skill() {
				one = []Skill{{m.Movement, m.At, s}}
			}
			each = append(each, one)
			out = append(out, one...)
		}
		if s.Choice {
			return easiest(each)
		}
	case *model.Rest:
		for _, k := range s.Steps {
			out = append(out, skillsOf(k)...)
		}
	case *model.Group:
		if s.If != "" && s.Kind != model.Otherwise {
			return nil
		}
		var each [][]Skill
		for _, k := range s.Steps {
			if s.Repeat.Kind == model.ChooseOne && !model.IsWork(k) {
				continue
			}
			of := skillsOf(k)
			if s.Repeat.Kind == model.ChooseOne && model.Depends(k) {
				of = skillsUnder(k)
			}
			each = append(each, of)
			out = append(out, of...)
		}
		if s.Repeat.Kind == model.ChooseOne {
			out = easiest(each)
		}
		for _, e := range s.Events {
			for _, k := range e.Steps {
				out = append(out, skillsOf(k)...)
			}
		}
	}
	return out
}

// skillsUnder are the skills of a step that depends on a condition, if that holds.
func skillsUnder(s model.Step) []Skill {
	switch s := s.(type) {
	case *model.Work:
		line := *s
		line.If = ""
		return skillsOf(&line)
	case *model.Group:
		g := *s
		g.If = ""
		return skillsOf(&g)
	}
	return nil
}

// easiest is what of several choices most people can do.
func easiest(each [][]Skill) []Skill {
	var best []Skill
	for i, of := range each {
		if i == 0 || leastShare(of) > leastShare(best) {
			best = of
		}
	}
	return best
}

// leastShare is what share of a class can do all of some skills: those who can do the rarest.
func leastShare(skills []Skill) float64 {
	least := 1.0
	for _, s := range skills {
		least = min(least, s.share())
	}
	return least
}

// rarest is the skill that the fewest can do; nil where there is none.
func rarest(skills []Skill) *Skill {
	var best *Skill
	for i := range skills {
		if best == nil || skills[i].share() < best.share() {
			best = &skills[i]
		}
	}
	return best
}

// An Able is who of a class can do a skill.
type Able struct {
	Skill  Skill
	People int // how many can, at least one; 0 where the house or the book does not say
	Others int // how many need another version, or at least so many where the book says at most how many can; 0 where nobody knows
	Class  int // of how many; 0 where the house does not say
	Share  float64
	AtMost bool // Share is the most that it may be
}

// AbleTo is who of a class of so many can do a skill; a class of 0 is one of nobody knows how many.
func AbleTo(s Skill, class int) Able {
	c := s.Movement.Class
	a := Able{Skill: s, Class: class, Share: c.Of, AtMost: c.AtMost}
	if class <= 0 {
		return a
	}
	can := max(1, int(math.Floor(float64(class)*c.Of+0.5)))
	a.Others = class - can
	if !c.AtMost {
		a.People = can
	}
	return a
}

// OthersText is who needs another version, in words: about 11 of 16, at least 60% of the class.
func (a Able) OthersText() string {
	hedge := "about "
	if a.AtMost {
		hedge = "at least "
	}
	if a.Class > 0 {
		return hedge + strconv.Itoa(a.Others) + " of " + strconv.Itoa(a.Class)
	}
	return hedge + percent(1-a.Share) + " of the class"
}

// NeedText is a sentence on who needs another version, without a full stop: about 11 of 16 need another
// version.
func (a Able) NeedText() string {
	verb := "need"
	if a.Class > 0 && a.Others == 1 {
		verb = "needs"
	}
	return a.OthersText() + " " + verb + " another version"
}

// Able is who of the class can do the rarest skill that a part asks of everybody; false where it asks none.
func (t *Timeline) Able(p *PartTime) (Able, bool) {
	s := rarest(SkillsOf(p.Group))
	if s == nil {
		return Able{}, false
	}
	return AbleTo(*s, t.Class), true
}
