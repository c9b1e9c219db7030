package substitute

import (
	"strings"

	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/format"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
)

// fitting writes the swaps of a version so that it keeps the clock as the session does,
// with as much work as that leaves room for.
func fitting(env *model.Env, s *model.Session, version string, kit []string) (swaps []Replacement, left []Lack) {
	var before *estimate.Timeline
	least := -1
	for _, a := range attempts {
		m := &maker{env: env, kit: kit, try: a}
		made, rest := m.make(s, version)
		if len(made) == 0 {
			return made, rest
		}
		if before == nil {
			before = estimate.Of(s, env)
		}
		v := try(env, s, version, made)
		if v == nil {
			return made, rest
		}
		n := broken(before, estimate.Of(v, env))
		if least < 0 || n < least {
			swaps, left, least = made, rest, n
		}
		if n == 0 {
			break
		}
	}
	return swaps, left
}

// try makes the version with some swaps, on top of those that it has; nil where that cannot
// be read.
func try(env *model.Env, s *model.Session, version string, swaps []Replacement) *model.Session {
	text := s.At.File.Slice(s.Block)
	if v, own := versionOf(s, version); own {
		head := v.At.End - s.Block.Start // swaps may stand anywhere in a scaling
		if i := strings.IndexByte(text[head:], '\n'); i >= 0 {
			head += i
		} else {
			head = len(text)
		}
		text = text[:head] + "\n  " + strings.Join(Lines(swaps), "\n  ") + text[head:]
	} else {
		text += Block(version, swaps)
	}
	f := model.Resolve(syntax.Parse(source.New(s.At.File.Name, text)), env)
	if len(f.Sessions) != 1 {
		return nil
	}
	return f.Sessions[0].InVersion(version)
}

// Block is a scaling of those swaps as it stands behind the last line of a session.
func Block(version string, swaps []Replacement) string {
	text := "\n\nscaling " + version
	for _, l := range Lines(swaps) {
		text += "\n  " + l
	}
	return text
}

// broken counts what holds in a session as written and does not in a version: parts that
// are over in time for the next, and turns that fit their interval.
func broken(before, after *estimate.Timeline) int {
	n := 0
	of := map[string]*estimate.PartTime{}
	for _, p := range before.Parts {
		of[string(p.Group.Kind)+p.Group.Letter] = p
	}
	for i, p := range after.Parts {
		o := of[string(p.Group.Kind)+p.Group.Letter]
		if o == nil {
			continue
		}
		if i+1 < len(after.Parts) && after.Parts[i+1].Pinned && p.RestBeforeNext.Slow < min(o.RestBeforeNext.Slow, breath) {
			n++
		}
		if limit, ok := p.Group.Cap.One(); ok && p.Work.Typical > max(o.Work.Typical, capped*limit) {
			n++
		}
		if p.RestBeforeNext.Typical < 0 && o.RestBeforeNext.Typical >= 0 {
			n++
		}
		if least(p) < min(0, least(o)) {
			n++
		}
	}
	return n
}

const (
	breath = 60  // s between a part and the next that nobody grudges; no source
	capped = 0.9 // of a cap, in which a typical athlete is done; no source
)

// least is the shortest rest that a clock leaves a slow athlete.
func least(p *estimate.PartTime) float64 {
	s := 0.0
	for _, g := range p.Groups {
		for _, t := range g.Turns {
			if t.Number > 0 {
				s = min(s, t.LeastRest)
			}
		}
	}
	return s
}

// printed is a swap as the formatter prints it; ok is false where it cannot be read.
func printed(text string) (string, bool) {
	f := syntax.Parse(source.New("scaling.stint", "session X\n\nscaling y\n  "+text+"\n"))
	if len(f.Diags) > 0 {
		return "", false
	}
	lines := strings.Split(strings.TrimRight(format.Source(f), "\n"), "\n")
	return strings.TrimPrefix(lines[len(lines)-1], "  "), true
}
