package lsp

import (
	"context"
	"encoding/json"
	"slices"
	"sort"

	"go.lsp.dev/protocol"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/workspace"
)

// shown is what the client has been sent of a file.
type shown struct {
	version *int32
	items   string // the diagnostics as they were written
}

// findings are one file's diagnostics.
func findings(snap *workspace.Snapshot, f *workspace.File) []diag.Diagnostic {
	all := snap.Check()
	from := sort.Search(len(all), func(i int) bool { return all[i].At.File.Name >= f.Path })
	to := from
	for to < len(all) && all[to].At.File.Name == f.Path {
		to++
	}
	return all[from:to]
}

// publisher sends diagnostics whenever something has changed: of the open documents
// first, then of the other files.
func (s *Server) publisher(ctx context.Context) {
	for {
		select {
		case <-ctx.Done():
			return
		case <-s.wake:
		}
		s.publish(ctx)
	}
}

func (s *Server) publish(ctx context.Context) {
	defer func() {
		if p := recover(); p != nil {
			s.log.fault("a check", p)
		}
	}()
	s.mu.Lock()
	var vs []*view
	for _, f := range s.folders {
		if f.snap != nil {
			vs = append(vs, s.view(ctx, f, ""))
		}
	}
	now, pull := s.changes, s.can.pull
	s.mu.Unlock()
	if pull {
		return
	}
	stale := func() bool {
		s.mu.Lock()
		defer s.mu.Unlock()
		return s.changes != now || ctx.Err() != nil
	}
	for _, v := range vs {
		for name := range v.open {
			if f := v.snap.File(name); f != nil {
				v.send(f)
			}
		}
	}
	for _, v := range vs {
		for _, f := range v.snap.Files {
			if v.open[f.Path] == nil {
				if stale() {
					return
				}
				v.send(f)
			}
		}
		for name := range v.ws.shown {
			if v.snap.File(name) == nil {
				v.clear(name)
			}
		}
	}
}

// send sends a file's diagnostics, if they are not what the client has.
func (v *view) send(f *workspace.File) {
	items := v.diagnostics(findings(v.snap, f))
	written, err := protocol.Marshal(&protocol.PublishDiagnosticsParams{Diagnostics: items})
	if err != nil {
		v.srv.log.errorf("%s: %v", f.Path, err)
		return
	}
	was, known := v.ws.shown[f.Path]
	now := shown{version: v.version(f.Path), items: string(written)}
	if known && was.items == now.items && (was.version == now.version || was.version != nil && now.version != nil && *was.version == *now.version) ||
		!known && len(items) == 0 && now.version == nil {
		return
	}
	if v.ws.shown == nil {
		v.ws.shown = map[string]shown{}
	}
	v.ws.shown[f.Path] = now
	p := &protocol.PublishDiagnosticsParams{URI: v.uriAt(f.Path), Diagnostics: items}
	if now.version != nil {
		p.Version = protocol.NewOptional(*now.version)
	}
	_ = v.srv.client.PublishDiagnostics(v.ctx, p) // a client that has gone needs none
}

// clear takes back what was sent of a file that is no more.
func (v *view) clear(name string) {
	delete(v.ws.shown, name)
	_ = v.srv.client.PublishDiagnostics(v.ctx, &protocol.PublishDiagnosticsParams{URI: v.uriAt(name), Diagnostics: []protocol.Diagnostic{}})
}

var severities = map[diag.Severity]protocol.DiagnosticSeverity{
	diag.Error:      protocol.DiagnosticSeverityError,
	diag.Warning:    protocol.DiagnosticSeverityWarning,
	diag.Suggestion: protocol.DiagnosticSeverityInformation,
}

// diagnostics are findings as the client takes them.
func (v *view) diagnostics(ds []diag.Diagnostic) []protocol.Diagnostic {
	out := make([]protocol.Diagnostic, 0, len(ds))
	for _, d := range ds {
		out = append(out, v.diagnostic(d))
	}
	return out
}

func (v *view) diagnostic(d diag.Diagnostic) protocol.Diagnostic {
	out := protocol.Diagnostic{
		Range:    v.rangeOf(d.At),
		Severity: severities[d.Severity],
		Code:     protocol.String(d.Rule),
		Source:   protocol.NewOptional("stint"),
		Message:  protocol.String(message(d)),
	}
	if v.can.related {
		for _, r := range d.Related {
			if u := v.uriOf(r.At.File); u != "" {
				out.RelatedInformation = append(out.RelatedInformation,
					protocol.DiagnosticRelatedInformation{Location: v.location(r.At), Message: r.Message})
			}
		}
	}
	if d.Rule == "waiver-unused" && slices.Contains(v.can.tags, protocol.DiagnosticTagUnnecessary) {
		out.Tags = protocol.NewDiagnosticTags(protocol.DiagnosticTagUnnecessary)
	}
	if v.can.ruleLinks {
		out.CodeDescription.Href = v.srv.pages.rule(d.Rule)
	}
	if v.can.data && len(d.Fixes) > 0 {
		out.Data, _ = json.Marshal(diagnosticData{Fixes: len(d.Fixes)})
	}
	return out
}

// diagnosticData is what a client gives back with a diagnostic when it asks what mends it.
type diagnosticData struct {
	Fixes int `json:"fixes"` // how many there are
}

// message is what a diagnostic says: what is wrong, and below it what to do.
func message(d diag.Diagnostic) string {
	if d.Help == "" {
		return d.Message
	}
	return d.Message + "\n" + d.Help
}

// found is the finding that a client's diagnostic stands for, in the document as it is
// now.
func (v *view) found(d protocol.Diagnostic) (diag.Diagnostic, bool) {
	code, _ := d.Code.(protocol.String)
	text, _ := d.Message.(protocol.String)
	for _, f := range findings(v.snap, v.file) {
		if f.Rule == string(code) && message(f) == string(text) && v.rangeOf(f.At) == d.Range {
			return f, true
		}
	}
	return diag.Diagnostic{}, false
}
