package hover

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/ide/wording"
	"stint.example/stint/lang/refs"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/workspace"
)

// A SessionUse is a session that has a thing in it.
type SessionUse struct {
	Session string
	File    *workspace.File
	Written bool // as the session is written, and not only in a version of it
}

// sessionsUsing are the sessions that have a thing in them, by file and place.
func sessionsUsing(snap *workspace.Snapshot, id refs.ID) []SessionUse {
	var out []SessionUse
	for f, r := range snap.Uses(id) {
		if len(f.Decls.Sessions) == 0 {
			continue
		}
		name := f.SessionNameAt(r.At.Start)
		if name == "" {
			continue
		}
		root := f.RootAt(r.At.Start)
		_, scaling := root.Line.Stmt.(*syntax.Scaling)
		i := slices.IndexFunc(out, func(u SessionUse) bool { return u.File == f && u.Session == name })
		if i < 0 {
			i = len(out)
			out = append(out, SessionUse{Session: name, File: f})
		}
		out[i].Written = out[i].Written || !scaling
	}
	return out
}

// maxCountedSessions is more sessions than are looked at one by one.
const maxCountedSessions = 200

// approximateCount is in how many sessions a thing is, where a file that has it and more than one
// session counts with all of them.
func (s *target) approximateCount(id refs.ID) int {
	n := 0
	for _, f := range s.snap.FilesNaming(id) {
		n += len(f.Decls.Sessions)
	}
	return n
}

// Usage says where a movement is used in a workspace, as one line.
func Usage(snap *workspace.Snapshot, m *book.Movement) string {
	return (&target{snap: snap}).usage(m)
}

// usage says where a movement is used: in the cycle on which days, else in which sessions.
func (s *target) usage(m *book.Movement) string {
	id := refs.ID{Kind: refs.Movement, Key: book.Key(m.Name)}
	if n := s.approximateCount(id); n > maxCountedSessions {
		return "in " + wording.Count(n, "session") + ", their versions counted too"
	}
	uses := sessionsUsing(s.snap, id)
	written := slices.DeleteFunc(slices.Clone(uses), func(u SessionUse) bool { return !u.Written })
	only := len(uses) - len(written)
	if len(uses) == 0 {
		return "in no session here"
	}
	var text string
	if len(written) > 0 {
		text = "in " + wording.Count(len(written), "session")
	}
	if days := s.plannedDays(written); len(days) > 0 && len(days) <= 2*maxListed {
		text += ": " + wording.List(days)
	} else if len(written) > 0 && len(written) <= maxListed {
		var names []string
		for _, u := range written {
			names = append(names, u.Session)
		}
		text += ": " + wording.List(names)
	}
	if only > 0 {
		if text != "" {
			text += "; "
		}
		text += "in the versions of " + wording.Count(only, "other session")
		if len(written) == 0 {
			text = strings.Replace(text, " other", "", 1)
		}
	}
	return text
}

// plannedDays are the days that cycles plan some sessions on, in their order: those of the cycles
// that plan the session which the place is in, if any do. The cycle is named where there
// are several.
func (s *target) plannedDays(uses []SessionUse) []string {
	var planned []check.Planned
	for _, u := range uses {
		planned = append(planned, s.snap.Planned(u.Session)...)
	}
	if s.written != nil {
		mine := s.snap.Planned(s.written.Name)
		in := slices.DeleteFunc(slices.Clone(planned), func(p check.Planned) bool {
			return !slices.ContainsFunc(mine, func(m check.Planned) bool { return m.Cycle == p.Cycle })
		})
		if len(in) > 0 {
			planned = in
		}
	}
	several := slices.ContainsFunc(planned, func(p check.Planned) bool { return p.Cycle != planned[0].Cycle })
	slices.SortStableFunc(planned, func(a, b check.Planned) int {
		return cmp.Or(cmp.Compare(a.Cycle.Name, b.Cycle.Name), a.Week.Number-b.Week.Number,
			slices.Index(syntax.Weekdays, a.Day.Weekday)-slices.Index(syntax.Weekdays, b.Day.Weekday))
	})
	var out []string
	for _, p := range planned {
		cycle := ""
		if several {
			cycle = p.Cycle.Name + ", "
		}
		out = append(out, fmt.Sprintf("%s (%sweek %d %s)", p.Day.Session, cycle, p.Week.Number, p.Day.Weekday))
	}
	return out
}

// maxListed is how many sessions are named one by one.
const maxListed = 6
