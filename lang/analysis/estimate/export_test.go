package estimate

import (
	"stint.example/stint/lang/book"
	"stint.example/stint/lang/model"
)

// What tests look at from outside.
var (
	ZOf       = zScore
	QOf       = standingOf
	At        = levelAt
	FiguresOf = figuresOf
	Mass      = mass
	MissingOf = shareOver
)

func (f *Figures) DriftOf(w float64) float64     { return f.drift(w) }
func (f *Figures) WattsOf(perM float64) float64  { return f.watts(perM) }
func (f *Figures) PerCalOf(perM float64) float64 { return f.perCal(perM) }
func (f *Figures) TempoOf(text string) float64   { return f.tempo(text) }

// Swift is a house that needs no time between things.
func Swift(env *model.Env) *model.Env {
	e := *env
	h := *env.House
	h.Change, h.Break, h.Handover, h.SetUp = book.Levels{}, book.Levels{}, book.Levels{}, book.Levels{}
	e.House = &h
	return &e
}
