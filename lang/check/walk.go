package check

import "stint.example/stint/lang/model"

// walk calls f for every step of a session, outermost first, with the groups around it.
func Walk(s *model.Session, f func(step model.Step, around []*model.Group)) {
	for _, g := range s.Parts {
		WalkStep(g, nil, f)
	}
}

func WalkStep(s model.Step, around []*model.Group, f func(model.Step, []*model.Group)) {
	model.Walk(s, model.Everything, func(s model.Step, in []*model.Group) bool {
		f(s, append(around[:len(around):len(around)], in...))
		return true
	})
}
