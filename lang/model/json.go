package model

import (
	"encoding/json"

	"stint.example/stint/lang/book"
)

// A Document is what a workspace, or a part of it, means: the shape that is published as
// JSON, by the schema in spec/schema/meaning.schema.json.
type Document struct {
	Version  int        `json:"version"` // of this shape: 1
	House    *House     `json:"house"`
	Sessions []*Session `json:"sessions"`
	Cycles   []*Cycle   `json:"cycles"`
}

// NewDocument gathers what files mean.
func NewDocument(env *Env, files ...*File) *Document {
	d := &Document{Version: 1, House: env.House, Sessions: []*Session{}, Cycles: []*Cycle{}}
	for _, f := range files {
		d.Sessions = append(d.Sessions, f.Sessions...)
		d.Cycles = append(d.Cycles, f.Cycles...)
	}
	return d
}

// The steps of a group say which kind they are.

// MarshalJSON writes the group as a step.
func (g *Group) MarshalJSON() ([]byte, error) {
	type plain Group
	return json.Marshal(struct {
		Step string `json:"step"`
		*plain
	}{"group", (*plain)(g)})
}

// MarshalJSON writes the work as a step.
func (w *Work) MarshalJSON() ([]byte, error) {
	type plain Work
	return json.Marshal(struct {
		Step string `json:"step"`
		*plain
	}{"work", (*plain)(w)})
}

// MarshalJSON writes the rest as a step.
func (r *Rest) MarshalJSON() ([]byte, error) {
	type plain Rest
	return json.Marshal(struct {
		Step string `json:"step"`
		*plain
	}{"rest", (*plain)(r)})
}

// MarshalJSON writes the tag as a step.
func (t *Tag) MarshalJSON() ([]byte, error) {
	type plain Tag
	return json.Marshal(struct {
		Step string `json:"step"`
		*plain
	}{"tag", (*plain)(t)})
}

// MarshalJSON writes the move with the patterns that it trains, the joints that
// it moves and the kit that it needs, so that a reader of the JSON needs no book.
func (m Move) MarshalJSON() ([]byte, error) {
	type plain Move
	out := struct {
		plain
		Known  bool           `json:"known"`
		Trains []book.Pattern `json:"trains,omitempty"`
		Joints []book.Joint   `json:"joints,omitempty"`
		Needs  []string       `json:"needs,omitempty"`
	}{plain: plain(m)}
	if m.Movement != nil {
		out.Known, out.Trains, out.Joints, out.Needs = true, m.Movement.Trains, m.Movement.Moves(), m.Movement.NeedsText()
	}
	return json.Marshal(out)
}
