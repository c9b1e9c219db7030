package lsp

import (
	"encoding/json"
)

// Settings is what a client may set, under the name stint.
type Settings struct {
	InlayHints InlayHints `json:"inlayHints"`
	CodeLens   CodeLens   `json:"codeLens"`
	// RulePages is where the pages of the rules are on the web: a rule's name and .md are
	// put behind it. Left empty, they are files beside the built-in book.
	RulePages string `json:"rulePages"`
}

// InlayHints says which kinds of hints are shown.
type InlayHints struct {
	Totals bool `json:"totals"`
	Times  bool `json:"times"`
	Units  bool `json:"units"`
}

// CodeLens says whether lines above sessions and parts are shown.
type CodeLens struct {
	Enabled bool `json:"enabled"`
}

// defaults are the settings of a client that sets none.
func defaults() Settings {
	return Settings{InlayHints: InlayHints{Totals: true, Times: true, Units: true}, CodeLens: CodeLens{Enabled: true}}
}

// read takes over what a client sets, given with or without the section's name around
// it. What is left out stays as it is unless told.
func (s Settings) read(raw []byte) (Settings, error) {
	if len(raw) == 0 || string(raw) == "null" {
		return s, nil
	}
	var section struct {
		Stint json.RawMessage `json:"stint"`
	}
	if err := json.Unmarshal(raw, &section); err == nil && len(section.Stint) > 0 {
		raw = section.Stint
	}
	out := s
	if err := json.Unmarshal(raw, &out); err != nil {
		return s, err
	}
	return out, nil
}
