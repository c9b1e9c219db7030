package hover

import (
	"slices"
	"strings"

	"stint.example/stint/lang/model"
	"stint.example/stint/lang/syntax"
)

// tempoCard is the card of a line's tempo: its phases in words.
func (s *target) tempoCard(w *model.Work) *Card {
	i := slices.IndexFunc(s.line.Toks, func(t syntax.Tok) bool {
		return t.Kind == syntax.Tempo && s.line.Span(t.Span).Contains(s.off)
	})
	if i < 0 || w.Tempo == "" {
		return nil
	}
	phases := strings.Split(w.Tempo, "")
	if strings.Contains(w.Tempo, "-") {
		phases = strings.Split(w.Tempo, "-")
	}
	if len(phases) != 4 {
		return nil
	}
	c := &Card{At: s.file.Src.At(s.line.Span(s.line.Toks[i].Span)), Title: w.Tempo, Kind: "tempo"}
	for i, name := range []string{"down", "at the bottom", "up", "at the top"} {
		text := phases[i] + " s"
		switch {
		case strings.EqualFold(phases[i], "x"):
			text = "as fast as possible"
		case phases[i] == "0":
			text = "no pause"
		}
		c.row(name, text)
	}
	return c
}
