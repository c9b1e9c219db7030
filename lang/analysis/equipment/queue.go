package equipment

import (
	"slices"

	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/model"
)

// Timeline is how long a session takes, with what is known of how long people wait for kit of which the
// house has less than they need at once. Sessions with kit of their own are as if nobody waited.
func Timeline(s *model.Session, env *model.Env) *estimate.Timeline {
	t := estimate.Of(s, env)
	held := env.For(s)
	if s.OwnKit || len(held.House.Kit) == 0 || !slices.ContainsFunc(Of(s, held, nil), func(u Use) bool { return u.Short() }) {
		return t
	}
	if ws := waits(s, held, t); len(ws) > 0 {
		return estimate.Waiting(s, env, ws)
	}
	return t
}

// Variants are the timelines of a session as written and of each of its versions, in the order of the
// text: what an edit of its lines may change.
func Variants(s *model.Session, env *model.Env) []*estimate.Timeline {
	var out []*estimate.Timeline
	for _, v := range s.Variants() {
		out = append(out, Timeline(v, env))
	}
	return out
}

// waits are the lines of a session that people wait at, whose times are those of a timeline.
func waits(s *model.Session, env *model.Env, t *estimate.Timeline) []estimate.Wait {
	var out []estimate.Wait
	for _, u := range Of(s, env, t) {
		if !u.Short() || u.InTurn || u.Fits() < 1 {
			continue
		}
		queued := len(u.Lines) == 1 && u.People == env.House.Class && alone(u.Part)
		out = append(out, estimate.Wait{Part: u.Part, Line: u.Lines[0], Kit: u.Kit, People: u.People, Pieces: u.Fits(), Queued: queued})
	}
	return out
}

// alone says whether everybody goes through a part alone, at their own pace and all from one start.
func alone(part *model.Group) bool {
	for g := range part.Groups(model.Everything) {
		if g.People != nil || g.Solo || g.Heats != nil || g.IsSlot() || g.Repeat.Clocked() || g.Mode == model.AMRAP ||
			g.Lasts != nil || g.Repeat.Kind == model.AnyOrder || len(g.Events) > 0 {
			return false
		}
	}
	return true
}
