package lsp

import (
	"context"
	"encoding/json"
	"fmt"
	"hash/maphash"
	"maps"
	"slices"
	"sync"
	"unsafe"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/workspace"
)

// currentViews are the views of all workspaces now, and the count of changes that they show.
func (s *Server) currentViews(ctx context.Context) (vs []*view, now int) {
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, f := range s.folders {
		if v := s.currentView(ctx, f, "", true); v != nil {
			vs = append(vs, v)
		}
	}
	return vs, s.changes
}

func (s *Server) publishOpenDocuments(ctx context.Context) {
	defer s.recoverPanic("a check")
	vs, _ := s.currentViews(ctx)
	s.mu.Lock()
	dropped := s.droppedFolders
	s.droppedFolders = nil
	s.mu.Unlock()
	for _, f := range dropped {
		s.clearFolder(ctx, f)
	}
	s.refreshViews(ctx, vs)
	if s.clientCapabilities().pull {
		s.refreshDiagnostics(ctx, vs)
		return
	}
	for _, v := range vs {
		for _, name := range sortedNames(v.open) {
			if f := v.snap.File(name); f != nil && v.mayReport(f) {
				v.publishFile(f, func() bool { return s.current(v.open[name]) })
			}
		}
	}
}

// mayReport says whether the diagnostics of a file are right. In a partial snapshot those of a
// cycle are not: it lacks the sessions that it plans.
func (v *view) mayReport(f *workspace.File) bool { return !v.partial || len(f.Decls.Cycles) == 0 }

func (s *Server) publishOtherFiles(ctx context.Context) {
	defer s.recoverPanic("a check")
	vs, now := s.currentViews(ctx)
	if s.clientCapabilities().pull {
		return
	}
	fresh := func() bool { return !s.changedSince(ctx, now) }
	for _, v := range vs {
		if v.partial {
			continue // what else there is is not read yet
		}
		s.spawn(func() { v.checkBackward(fresh) })
		for _, f := range v.snap.Files {
			if v.open[f.Path] == nil {
				if !fresh() {
					return
				}
				v.publishFile(f, fresh)
			}
		}
		v.clearDeletedFiles(fresh)
	}
}

// checkBackward computes diagnostics from the last file on, while publishOtherFiles does from the
// first: two processors are done in half the time.
func (v *view) checkBackward(fresh func() bool) {
	for _, f := range slices.Backward(v.snap.Files) {
		if !fresh() {
			return
		}
		v.snap.Diagnostics(f)
	}
}

// changedSince says whether something has changed since a count of changes, so that work which was
// begun then is stale.
func (s *Server) changedSince(ctx context.Context, now int) bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.changes != now || ctx.Err() != nil
}

// current says whether a document's text is still that of the buffer.
func (s *Server) current(b *buffer) bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.docs[canonicalURI(string(b.uri))] == b
}

// reports are what the client knows of the findings in a workspace's files.
type reports struct {
	mu    sync.Mutex
	files map[string]report // by path
	env   *model.Env        // of the snapshot that the client last took hints and the like from
}

// A report is what the client knows of one file.
type report struct {
	uri     uri.URI
	list    []diag.Diagnostic
	pages   string // where the pages of the rules are
	id      string // of what the list says, as the client sees it
	version *int32 // of the document, if it is open
	asked   string // the result id that the client was last asked to pull
}

// sameList says whether a report is of the same list of diagnostics, by address: a snapshot that
// does not change them keeps the list.
func (r report) sameList(list []diag.Diagnostic, pages string) bool {
	return len(r.list) == len(list) && unsafe.SliceData(r.list) == unsafe.SliceData(list) && r.pages == pages
}

func sameVersion(a, b *int32) bool { return a == b || a != nil && b != nil && *a == *b }

var seed = maphash.MakeSeed()

// resultID is a hash of diagnostics as the client sees them.
func resultID(items []protocol.Diagnostic) string {
	if len(items) == 0 {
		return "none"
	}
	var h maphash.Hash
	h.SetSeed(seed)
	for i := range items {
		// What cannot be written is found where it is sent.
		text, _ := protocol.Marshal(&items[i])
		_, _ = h.Write(text)
	}
	return fmt.Sprintf("%x", h.Sum64())
}

// publishFile publishes a file's diagnostics, if the client does not have them already, and if
// holds still says so once they have been computed.
func (v *view) publishFile(f *workspace.File, holds func() bool) {
	defer v.srv.recoverPanic("a check of " + f.Path) // the other files are checked all the same
	list := v.snap.Diagnostics(f)
	version := v.version(f.Path)
	v.srv.publishMu.Lock()
	defer v.srv.publishMu.Unlock()
	if !holds() {
		return
	}
	rs := &v.folder.reports
	rs.mu.Lock()
	was, known := rs.files[f.Path]
	rs.mu.Unlock()
	if known && sameVersion(was.version, version) && was.sameList(list, v.config.RulePages) ||
		!known && version == nil && len(list) == 0 {
		return
	}
	items := v.diagnostics(list)
	now := report{uri: v.uriAt(f.Path), list: list, pages: v.config.RulePages, id: resultID(items), version: version}
	rs.keep(f.Path, now)
	if known && was.id == now.id && sameVersion(was.version, version) {
		return
	}
	p := &protocol.PublishDiagnosticsParams{URI: now.uri, Diagnostics: items}
	if version != nil {
		p.Version = protocol.NewOptional(*version)
	}
	_ = v.srv.client.PublishDiagnostics(v.ctx, p) // a client that has gone needs none
}

// keep notes what the client knows. Of a clean file that is not open there is nothing to
// note.
func (r *reports) keep(name string, now report) {
	r.mu.Lock()
	defer r.mu.Unlock()
	if r.files == nil {
		r.files = map[string]report{}
	}
	if r.files[name] = now; now.version == nil && len(now.list) == 0 {
		delete(r.files, name)
	}
}

// drop leaves out what the client knows of a file, so that it is sent again.
func (r *reports) drop(name string) {
	r.mu.Lock()
	defer r.mu.Unlock()
	delete(r.files, name)
}

// clearDeletedFiles clears the diagnostics of files that are gone.
func (v *view) clearDeletedFiles(holds func() bool) {
	v.srv.publishMu.Lock()
	defer v.srv.publishMu.Unlock()
	if !holds() {
		return
	}
	rs := &v.folder.reports
	rs.mu.Lock()
	left := map[string]report{}
	for name, r := range rs.files {
		if v.snap.File(name) == nil {
			left[name] = r
			delete(rs.files, name)
		}
	}
	rs.mu.Unlock()
	var gone []report
	v.srv.mu.Lock()
	for name, r := range left {
		if f := v.srv.folderWith(v.folder.abs(name)); f == nil || f == v.folder { // else it is the other's to say
			gone = append(gone, r)
		}
	}
	v.srv.mu.Unlock()
	v.srv.clearReports(v.ctx, gone)
}

// clearFolder clears the diagnostics of a workspace that is dropped.
func (s *Server) clearFolder(ctx context.Context, f *workspaceFolder) {
	s.publishMu.Lock()
	defer s.publishMu.Unlock()
	f.reports.mu.Lock()
	gone := slices.Collect(maps.Values(f.reports.files))
	f.reports.files = nil
	f.reports.mu.Unlock()
	s.clearReports(ctx, gone)
}

// clearReports publishes empty diagnostics. A client that pulls finds out by itself.
func (s *Server) clearReports(ctx context.Context, gone []report) {
	if s.clientCapabilities().pull {
		return
	}
	for _, r := range gone {
		_ = s.client.PublishDiagnostics(ctx,
			&protocol.PublishDiagnosticsParams{URI: r.uri, Diagnostics: []protocol.Diagnostic{}})
	}
}

var severities = map[diag.Severity]protocol.DiagnosticSeverity{
	diag.Error:      protocol.DiagnosticSeverityError,
	diag.Warning:    protocol.DiagnosticSeverityWarning,
	diag.Suggestion: protocol.DiagnosticSeverityInformation,
}

// diagnostics converts diagnostics to the protocol's.
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
	if v.caps.related {
		for _, r := range d.Related {
			if u := v.uriOf(r.At.File); u != "" {
				out.RelatedInformation = append(out.RelatedInformation,
					protocol.DiagnosticRelatedInformation{Location: v.location(r.At), Message: r.Message})
			}
		}
	}
	if d.Rule == "waiver-unused" && slices.Contains(v.caps.tags, protocol.DiagnosticTagUnnecessary) {
		out.Tags = protocol.NewDiagnosticTags(protocol.DiagnosticTagUnnecessary)
	}
	if v.caps.ruleLinks {
		out.CodeDescription.Href = v.rulePage(d.Rule)
	}
	if v.caps.data && len(d.Fixes) > 0 {
		// What is made of numbers alone can be written.
		out.Data, _ = json.Marshal(diagnosticData{Fixes: len(d.Fixes)})
	}
	return out
}

// diagnosticData is what a client gives back with a diagnostic when it asks for code actions.
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
