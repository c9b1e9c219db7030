package lsp

import (
	"slices"

	"go.lsp.dev/protocol"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/refs"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
)

// definition leads from a name to what declares it: a movement to its entry, in the
// workspace and in the built-in book, a session in a cycle to its file, a scaling to the
// session's and the house's, kit to the house's list, a rule to its page. From the left
// side of a line of a scaling it leads to the lines that this changes, too.
func (v *view) definition(p protocol.DefinitionParams) (protocol.DefinitionResult, error) {
	links := v.caps.client.TextDocument != nil && v.caps.client.TextDocument.Definition != nil &&
		isTrue(v.caps.client.TextDocument.Definition.LinkSupport)
	off := v.offset(p.Position)
	from, to := v.swapAt(off)
	if r, ok := refs.At(v.file.Refs(), off); ok {
		if r.Kind == refs.Rule {
			return v.rulePageResult(r, links), nil
		}
		from, to = r.At, appendNew(to, v.declared(r)...)
	}
	return v.definitionResult(from, to, links), nil
}

// declared are the places that declare the thing of a name, the nearest first.
func (v *view) declared(r refs.Ref) []source.Place {
	var out []source.Place
	add := func(at source.Place) {
		if at.File != nil {
			out = appendNew(out, at)
		}
	}
	switch r.Kind {
	case refs.Movement:
		if m, _ := v.snap.Env.Book.Lookup(r.Name); m != nil {
			add(m.At)
		}
		if m, _ := book.Builtin().Lookup(r.Name); m != nil && book.Key(m.Name) == r.Key {
			add(m.At)
		}
	case refs.Session:
		if s, _ := v.snap.Session(r.Name); s != nil {
			add(s.At)
		}
	case refs.Scaling:
		v.scalings(r, add)
	default:
		for _, d := range v.snap.Uses(r.ID) {
			if d.Def {
				add(d.At)
			}
		}
	}
	return out
}

// scalings are where a scaling is written: first in the session that is spoken of, then in
// the house.
func (v *view) scalings(r refs.Ref, add func(source.Place)) {
	s := sessionOf(v.file, r.At)
	if s == nil {
		s = v.plannedOn(r.At)
	}
	if s != nil {
		if o := s.FindVersion(r.Name); o != nil && o.At != r.At {
			add(o.At)
		}
	}
	if h := v.snap.Env.House.Scaling(r.Name); h != nil {
		add(h.At)
	}
	if r.Def {
		add(r.At)
	}
}

// plannedOn is the session that a day of a cycle plans on the line of a place, or nil.
func (v *view) plannedOn(at source.Place) *model.Session {
	line := at.File.LineAt(at.Start)
	for _, r := range v.file.Refs() {
		if r.Kind == refs.Session && at.File.LineAt(r.At.Start) == line {
			s, _ := v.snap.Session(r.Name)
			return s
		}
	}
	return nil
}

// swapAt is the left side of the line of a scaling that an offset is in, and the lines of
// the session that it changes.
func (v *view) swapAt(off int) (left source.Place, changed []source.Place) {
	src := v.file.Src
	for _, l := range v.file.Syntax().Lines {
		s, ok := l.Stmt.(*syntax.Swap)
		if !ok || s.From == nil || !l.Span(s.Span).Contains(off) {
			continue
		}
		at := src.At(l.Span(s.Span))
		left = src.At(source.Span{Start: at.Start, End: l.Span(s.From.Extent()).End})
		if !left.Contains(off) {
			return left, nil
		}
		for _, o := range v.file.Program().Sessions {
			for _, version := range o.Versions {
				for _, w := range version.Swaps {
					if w.At != at {
						continue
					}
					changed = appendNew(changed, w.Changes...)
				}
			}
		}
		return left, changed
	}
	return left, nil
}

// rulePageResult leads to a rule's page.
func (v *view) rulePageResult(r refs.Ref, links bool) protocol.DefinitionResult {
	u := v.srv.pages.rule(r.Name)
	if u == "" {
		return nil
	}
	if !links {
		return protocol.LocationSlice{{URI: u}}
	}
	return protocol.DefinitionLinkSlice{{OriginSelectionRange: new(v.rangeOf(r.At)), TargetURI: u}}
}

// definitionResult leads from words to places, or nowhere. Links say which words they lead from.
func (v *view) definitionResult(from source.Place, to []source.Place, links bool) protocol.DefinitionResult {
	var plain protocol.LocationSlice
	var linked protocol.DefinitionLinkSlice
	for _, at := range to {
		l := v.location(at)
		if l.URI == "" {
			continue // of the built-in book, which could not be written
		}
		plain = append(plain, l)
		linked = append(linked, protocol.DefinitionLink{OriginSelectionRange: new(v.rangeOf(from)), TargetURI: l.URI,
			TargetRange: l.Range, TargetSelectionRange: l.Range})
	}
	switch {
	case len(plain) == 0:
		return nil
	case links:
		return linked
	}
	return plain
}

// appendNew appends those places that are not there yet.
func appendNew(to []source.Place, more ...source.Place) []source.Place {
	for _, at := range more {
		if !slices.Contains(to, at) {
			to = append(to, at)
		}
	}
	return to
}
