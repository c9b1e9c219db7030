package report

import (
	"encoding/json"
	"io"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/source"
)

// jsonVersion changes when a program that reads the JSON would have to.
const jsonVersion = 1

// JSON writes diagnostics for other programs, in the shape that
// spec/schema/diagnostics.schema.json publishes. Every member is always there, an
// empty one as "" or []. Broken UTF-8 is replaced by U+FFFD, as JSON has no way to
// say it; offsets still count the file's own bytes. The error is the writer's.
//
// Color has no effect; Path shortens files here too.
func JSON(w io.Writer, ds []diag.Diagnostic, opt Options) error {
	r := jsonReport{Version: jsonVersion, Diagnostics: []jsonDiagnostic{}, Summary: Count(ds)}
	for d := range visible(ds) {
		r.Diagnostics = append(r.Diagnostics, jsonOf(d, opt))
	}
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false) // the notation is full of > and of &, and this is no web page
	e.SetIndent("", "  ")
	return e.Encode(r)
}

type jsonReport struct {
	Version     int              `json:"version"`
	Diagnostics []jsonDiagnostic `json:"diagnostics"`
	Summary     Counts           `json:"summary"`
}

type jsonDiagnostic struct {
	Rule     string        `json:"rule"`
	Severity diag.Severity `json:"severity"`
	jsonPlace
	Message string        `json:"message"`
	Label   string        `json:"label"`
	Help    string        `json:"help"`
	Related []jsonRelated `json:"related"`
	Fixes   []jsonFix     `json:"fixes"`
}

type jsonPlace struct {
	File  string       `json:"file"`
	Start jsonPosition `json:"start"`
	End   jsonPosition `json:"end"`
}

type jsonPosition struct {
	Offset int `json:"offset"` // in bytes, from 0
	source.Position
}

type jsonRelated struct {
	jsonPlace
	Message string `json:"message"`
}

type jsonFix struct {
	Title string     `json:"title"`
	Safe  bool       `json:"safe"`
	Edits []jsonEdit `json:"edits"`
}

type jsonEdit struct {
	jsonPlace
	New string `json:"new"`
}

func jsonOf(d diag.Diagnostic, opt Options) jsonDiagnostic {
	j := jsonDiagnostic{
		Rule: d.Rule, Severity: d.Severity, jsonPlace: placeOf(d.At, opt),
		Message: d.Message, Label: d.Label, Help: d.Help,
		Related: []jsonRelated{}, Fixes: []jsonFix{},
	}
	for _, r := range d.Related {
		j.Related = append(j.Related, jsonRelated{placeOf(r.At, opt), r.Message})
	}
	for _, f := range d.Fixes {
		fix := jsonFix{Title: f.Title, Safe: f.Safe, Edits: []jsonEdit{}}
		for _, e := range f.Edits {
			fix.Edits = append(fix.Edits, jsonEdit{placeOf(e.At, opt), e.New})
		}
		j.Fixes = append(j.Fixes, fix)
	}
	return j
}

// placeOf gives a place in no file an empty name, and its start as place.
func placeOf(p source.Place, opt Options) jsonPlace {
	s := clamp(p)
	at := func(off int) jsonPosition {
		if p.File == nil {
			return jsonPosition{Position: source.Position{Line: 1, Column: 1}}
		}
		return jsonPosition{off, p.File.Position(off)}
	}
	return jsonPlace{opt.path(p), at(s.Start), at(s.End)}
}
