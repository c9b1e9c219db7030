package marktest

import (
	"bytes"
	"encoding/json"
)

// exported is a case as another implementation reads it.
type exported struct {
	Page    string     `json:"page"`
	Heading string     `json:"heading"`
	Line    int        `json:"line"`
	Files   []textFile `json:"files"`
	Markers []Marker   `json:"markers"`
	Goldens []section  `json:"goldens"`
}

type textFile struct {
	Path string `json:"path"`
	Text string `json:"text"`
}

// Export writes cases as a JSON array, so that another implementation of the notation
// can be compared with them. Patterns over messages stay out: the wording is ours.
func Export(cases []*Case) ([]byte, error) {
	out := make([]exported, len(cases))
	for i, c := range cases {
		page := c.Page
		if page == "" {
			page = c.Name
		}
		out[i] = exported{Page: page, Heading: c.Heading, Line: c.Line, Files: []textFile{},
			Markers: append([]Marker{}, c.markers...), Goldens: append([]section{}, c.goldens...)}
		for _, f := range c.files {
			out[i].Files = append(out[i].Files, textFile{f.Name, f.Text})
		}
	}
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false) // arrows and notes stay legible
	e.SetIndent("", "  ")
	err := e.Encode(out)
	return b.Bytes(), err
}
