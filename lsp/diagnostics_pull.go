package lsp

import (
	"context"
	"time"

	"go.lsp.dev/protocol"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/workspace"
)

// report is what the client is to know of a file, when it asks. It is kept, so that an
// unchanged file costs no more than a look.
func (v *view) report(f *workspace.File) report {
	var list []diag.Diagnostic
	if v.mayReport(f) {
		list = v.snap.Diagnostics(f)
	}
	rs := &v.folder.reports
	rs.mu.Lock()
	was, known := rs.files[f.Path]
	rs.mu.Unlock()
	if known && was.sameList(list, v.config.RulePages) {
		was.version = v.version(f.Path)
		return was
	}
	return report{uri: v.uriAt(f.Path), list: list, pages: v.config.RulePages, id: resultID(v.diagnostics(list)),
		version: v.version(f.Path)}
}

// pullDocument answers what does not hold in a document.
func (v *view) pullDocument(p protocol.DocumentDiagnosticParams) (protocol.DocumentDiagnosticReport, error) {
	r := v.report(v.file)
	v.noteReported(v.file, r)
	if p.PreviousResultID != nil && *p.PreviousResultID == r.id {
		return &protocol.RelatedUnchangedDocumentDiagnosticReport{UnchangedDocumentDiagnosticReport: unchanged(r)}, nil
	}
	return &protocol.RelatedFullDocumentDiagnosticReport{FullDocumentDiagnosticReport: v.full(r)}, nil
}

// noteReported keeps what a client that pulls was answered.
func (v *view) noteReported(f *workspace.File, r report) {
	if v.caps.pull {
		v.folder.reports.keep(f.Path, r)
	}
}

func unchanged(r report) protocol.UnchangedDocumentDiagnosticReport {
	return protocol.UnchangedDocumentDiagnosticReport{Kind: string(protocol.DocumentDiagnosticReportKindUnchanged),
		ResultID: r.id}
}

func (v *view) full(r report) protocol.FullDocumentDiagnosticReport {
	return protocol.FullDocumentDiagnosticReport{
		Kind: string(protocol.DocumentDiagnosticReportKindFull), ResultID: &r.id, Items: v.diagnostics(r.list),
	}
}

// partialResultInterval is how often a partial result of a long answer is sent.
const partialResultInterval = 200 * time.Millisecond

// pullWorkspaces answers what does not hold in all files. Of files that are clean, and
// that the client knows nothing of, it says nothing.
func pullWorkspaces(vs []*view, p protocol.WorkspaceDiagnosticParams) (*protocol.WorkspaceDiagnosticReport, error) {
	had := make(map[string]string, len(p.PreviousResultIds))
	for _, id := range p.PreviousResultIds {
		had[canonicalURI(string(id.URI))] = id.Value
	}
	out := &protocol.WorkspaceDiagnosticReport{Items: []protocol.WorkspaceDocumentDiagnosticReport{}}
	sent := time.Now()
	for _, v := range vs {
		for _, f := range v.snap.Files {
			if err := v.ctx.Err(); err != nil {
				return nil, err
			}
			r := v.report(f)
			u := v.uriAt(f.Path)
			k := canonicalURI(string(u))
			before, known := had[k]
			delete(had, k)
			switch {
			case !known && len(r.list) == 0:
				continue
			case known && before == r.id:
				out.Items = append(out.Items, &protocol.WorkspaceUnchangedDocumentDiagnosticReport{
					UnchangedDocumentDiagnosticReport: unchanged(r), URI: u, Version: r.version})
			default:
				v.noteReported(f, r)
				out.Items = append(out.Items, &protocol.WorkspaceFullDocumentDiagnosticReport{
					FullDocumentDiagnosticReport: v.full(r), URI: u, Version: r.version})
			}
			if p.PartialResultToken != nil && time.Since(sent) > partialResultInterval {
				v.sendPartialResult(p.PartialResultToken, out)
				out.Items, sent = nil, time.Now()
			}
		}
	}
	out.Items = append(out.Items, deletedFileReports(had)...)
	if p.PartialResultToken != nil && len(vs) > 0 {
		vs[0].sendPartialResult(p.PartialResultToken, out)
		out.Items = nil
	}
	if out.Items == nil {
		out.Items = []protocol.WorkspaceDocumentDiagnosticReport{}
	}
	return out, nil
}

// deletedFileReports are empty reports of files that are gone.
func deletedFileReports(had map[string]string) []protocol.WorkspaceDocumentDiagnosticReport {
	var out []protocol.WorkspaceDocumentDiagnosticReport
	for _, k := range sortedNames(had) {
		if had[k] == resultID(nil) {
			continue
		}
		r := report{id: resultID(nil)}
		out = append(out, &protocol.WorkspaceFullDocumentDiagnosticReport{
			FullDocumentDiagnosticReport: (*view)(nil).full(r), URI: parseURI(k)})
	}
	return out
}

// sendPartialResult sends a part of an answer.
func (v *view) sendPartialResult(token protocol.ProgressToken, r *protocol.WorkspaceDiagnosticReport) {
	value, err := protocol.Marshal(&protocol.WorkspaceDiagnosticReportPartialResult{Items: r.Items})
	if err == nil {
		_ = v.srv.client.Progress(v.ctx, &protocol.ProgressParams{Token: token, Value: value})
	}
}

// refreshDiagnostics asks the client to ask again, where what it knows of a document that
// it did not change itself no longer holds.
func (s *Server) refreshDiagnostics(ctx context.Context, vs []*view) {
	stale := false
	for _, v := range vs {
		rs := &v.folder.reports
		for _, name := range sortedNames(v.open) {
			f := v.snap.File(name)
			rs.mu.Lock()
			was, known := rs.files[name]
			rs.mu.Unlock()
			if f == nil || !known || !sameVersion(was.version, v.version(name)) {
				continue // it asks by itself
			}
			if now := v.report(f); now.id != was.id && now.id != was.asked {
				was.asked = now.id
				rs.keep(name, was)
				stale = true
			}
		}
	}
	if stale && s.clientCapabilities().pullRefresh {
		s.refresh(ctx, s.client.DiagnosticRefresh)
	}
}

// refreshViews asks the client to request inlay hints, lenses and tokens again, where an env has
// changed that they may depend on: a house, a movement, a name.
func (s *Server) refreshViews(ctx context.Context, vs []*view) {
	changed := false
	for _, v := range vs {
		rs := &v.folder.reports
		rs.mu.Lock()
		changed = changed || rs.env != nil && rs.env != v.snap.Env
		rs.env = v.snap.Env
		rs.mu.Unlock()
	}
	if !changed {
		return
	}
	s.refreshShown(ctx)
}

// refreshShown asks the client to request inlay hints, code lenses and semantic tokens again.
func (s *Server) refreshShown(ctx context.Context) {
	for _, r := range []struct {
		can bool
		ask func(context.Context) error
	}{
		{s.clientCapabilities().hintRefresh, s.client.InlayHintRefresh},
		{s.clientCapabilities().lensRefresh, s.client.CodeLensRefresh},
		{s.clientCapabilities().tokenRefresh, s.client.SemanticTokensRefresh},
	} {
		if r.can {
			s.refresh(ctx, r.ask)
		}
	}
}

// refresh asks the client without waiting for it.
func (s *Server) refresh(ctx context.Context, ask func(context.Context) error) {
	s.spawn(func() { _ = ask(ctx) }) // a client that does not is none the worse
}
