package lsp

import (
	"context"
	"encoding/json"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"
)

// Configuration is what a client may set, under the name stint.
type Configuration struct {
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
func defaults() Configuration {
	return Configuration{InlayHints: InlayHints{Totals: true, Times: true, Units: true},
		CodeLens: CodeLens{Enabled: true}}
}

// section is the configuration section of the settings.
const section = "stint"

// merge takes over what a client sets, given with or without the section's name around
// it. What is left out stays as it is.
func (s Configuration) merge(raw []byte) (Configuration, error) {
	if len(raw) == 0 || string(raw) == "null" {
		return s, nil
	}
	var named struct {
		Stint json.RawMessage `json:"stint"`
	}
	if err := json.Unmarshal(raw, &named); err == nil && len(named.Stint) > 0 {
		raw = named.Stint
	}
	out := s
	if err := json.Unmarshal(raw, &out); err != nil {
		return s, err
	}
	return out, nil
}

// registerConfiguration asks the client for the settings, now and whenever it says that they changed.
func (s *Server) registerConfiguration(ctx context.Context) {
	if s.clientCapabilities().configured {
		s.register(ctx, "stint/settings", protocol.MethodWorkspaceDidChangeConfiguration,
			&protocol.DidChangeConfigurationRegistrationOptions{Section: protocol.String(section)})
	}
	if s.clientCapabilities().configure {
		s.requestConfiguration(ctx)
	}
}

// requestConfiguration asks the client for the settings.
func (s *Server) requestConfiguration(ctx context.Context) {
	got, err := s.client.Configuration(ctx,
		&protocol.ConfigurationParams{Items: []protocol.ConfigurationItem{{Section: new(section)}}})
	if err != nil {
		if ctx.Err() == nil {
			s.log.errorf("the client does not say its settings: %v", err)
		}
		return
	}
	if len(got) > 0 {
		s.applyConfiguration(ctx, got[0])
	}
}

func (s *Server) didChangeConfiguration(ctx context.Context, raw []byte) error {
	var p protocol.DidChangeConfigurationParams
	if err := decode(raw, &p); err != nil {
		return err
	}
	if s.clientCapabilities().configure {
		s.spawn(func() { s.requestConfiguration(ctx) })
		return nil
	}
	s.applyConfiguration(ctx, p.Settings)
	return nil
}

// applyConfiguration takes over settings; what they leave out is as it is by default.
func (s *Server) applyConfiguration(ctx context.Context, raw []byte) {
	s.mu.Lock()
	set, err := s.initialConfig.merge(raw)
	changed := err == nil && set != s.config
	if changed {
		s.config = set
		s.changed()
	}
	s.mu.Unlock()
	if err != nil {
		s.log.errorf("the settings cannot be read: %v", err)
	}
	if changed {
		s.refreshShown(ctx)
	}
}

// rulePage is where the page of a rule is; empty where there is none.
func (v *view) rulePage(rule string) uri.URI {
	if v.config.RulePages != "" {
		return parseURI(v.config.RulePages + rule + ".md")
	}
	return v.srv.pages.rule(rule)
}
