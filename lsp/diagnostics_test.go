package lsp

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"
)

const bowline = "sessions/bowline.stint"

func TestWhatADiagnosticSays(t *testing.T) {
	e := start(t, hall)
	e.open(bowline, "stint 1\n\nsession Bowline\n\npart A\n  10 burpee\n\npart B\n  20 burpee\n\ntotal 31 burpee\n")
	ds := e.diagnostics(bowline)
	require.Len(t, ds, 1)
	d := ds[0]
	assert.Equal(t, e.rangeOf(bowline, "31 burpee"), d.Range)
	assert.Equal(t, protocol.DiagnosticSeverityError, d.Severity)
	assert.Equal(t, protocol.String("total-wrong"), d.Code)
	source, _ := d.Source.Get()
	assert.Equal(t, "stint", source)
	assert.Equal(t, protocol.String("burpee: the total says 31, the lines come to 30\nmend the lines if one of them is wrong, or write 30"), d.Message)
	require.NotEmpty(t, d.RelatedInformation)
	assert.Equal(t, e.uri(bowline), d.RelatedInformation[0].Location.URI)
	assert.JSONEq(t, `{"fixes":1}`, string(d.Data))
	page, err := os.ReadFile(d.CodeDescription.Href.FsPath())
	require.NoError(t, err, "the rule's page can be opened")
	assert.Contains(t, string(page), "total-wrong")
}

func TestSeveritiesAndTags(t *testing.T) {
	e := start(t, hall)
	e.open(bowline, "stint 1\n\nsession Bowline\n  allow total-wrong > Because.\n\npart A\n  3 rounds\n    10 burpee\n")
	e.rules(bowline, "waiver-unused")
	d := e.diagnostics(bowline)[0]
	assert.Equal(t, protocol.DiagnosticSeverityWarning, d.Severity)
	assert.Equal(t, []protocol.DiagnosticTag{protocol.DiagnosticTagUnnecessary}, d.Tags.Slice())
	e.change(bowline, "stint 1\n\nsession Sheepshank\n\npart A\n  10 burpee\n")
	e.rules(bowline, "file-name")
	assert.Equal(t, protocol.DiagnosticSeverityInformation, e.diagnostics(bowline)[0].Severity)
}

// A client that says nothing of what it can show is sent nothing that it may not know.
func TestAClientThatCanDoLittle(t *testing.T) {
	e := start(t, hall, func(p *protocol.InitializeParams) { p.Capabilities = protocol.ClientCapabilities{} })
	e.open(bowline)
	e.replace(bowline, "total 30", "total 31")
	d := e.diagnostics(bowline)[0]
	assert.Empty(t, d.RelatedInformation)
	assert.Empty(t, d.CodeDescription.Href)
	assert.Empty(t, d.Data)
	assert.Zero(t, d.Tags.Len())
	assert.Nil(t, e.result.Capabilities.DiagnosticProvider)
}

// A change in one file changes the diagnostics of those that depend on it, and of no other.
func TestFindingsAcrossFiles(t *testing.T) {
	e := start(t, map[string]string{
		"house.stint": house, "reef.stint": reef, "clean.stint": "stint 1\n\nsession Clean\n\npart A\n  10 burpee\n",
		"neap.stint": "stint 1\n\ncycle Neap\n  from 2026-01-05\n  week 1\n    mon Reef\n",
	})
	e.rules("reef.stint", "movement-unknown")
	e.open("book.stint", tideSwing)
	e.rules("reef.stint")
	e.open("reef.stint")
	e.replace("reef.stint", "session Reef", "session Cleat")
	e.wait("the cycle to miss its session", func() bool {
		return slices.Contains(rulesOf(e.sent[e.uri("neap.stint")].Diagnostics), "session-unknown")
	})
	e.mu.Lock()
	defer e.mu.Unlock()
	assert.NotContains(t, e.sent, e.uri("clean.stint"))
}

// What a client is sent with a version is of that version's text.
func TestNothingIsSentForAnOlderText(t *testing.T) {
	e := start(t, hall)
	e.open(bowline)
	last := int32(0)
	e.mu.Lock()
	e.seen = func(p protocol.PublishDiagnosticsParams) {
		if v, ok := p.Version.Get(); ok {
			assert.GreaterOrEqual(t, v, last)
			last = v
		}
	}
	e.mu.Unlock()
	for i := range 200 {
		if i%2 == 0 {
			e.replace(bowline, "total 30", "total 31")
		} else {
			e.replace(bowline, "total 31", "total 30")
		}
	}
	e.rules(bowline)
}

// pulling is an editor that asks for diagnostics.
func pulling(p *protocol.InitializeParams) {
	if err := protocol.Unmarshal([]byte(`{"capabilities":{
		"textDocument":{"diagnostic":{"relatedDocumentSupport":true,"dataSupport":true}},
		"workspace":{"diagnostics":{"refreshSupport":true}}}}`), p); err != nil {
		panic(err)
	}
}

// report is what a client is told that asks for one document, and only what is the same
// in the two kinds of answers.
type pulled struct {
	Kind     string
	ResultID string
	Items    []protocol.Diagnostic
}

func (e *editor) pull(name, previous string) pulled {
	e.t.Helper()
	p := &protocol.DocumentDiagnosticParams{TextDocument: e.doc(name)}
	if previous != "" {
		p.PreviousResultID = &previous
	}
	var r protocol.DocumentDiagnosticReport
	e.ask(protocol.MethodTextDocumentDiagnostic, p, &r)
	switch r := r.(type) {
	case *protocol.RelatedFullDocumentDiagnosticReport:
		return pulled{r.Kind, *r.ResultID, r.Items}
	case *protocol.RelatedUnchangedDocumentDiagnosticReport:
		return pulled{r.Kind, r.ResultID, nil}
	}
	e.t.Fatalf("no report: %v", r)
	return pulled{}
}

func (e *editor) pullAll(previous map[string]string) map[string]pulled {
	e.t.Helper()
	p := &protocol.WorkspaceDiagnosticParams{PreviousResultIds: []protocol.PreviousResultId{}}
	for name, id := range previous {
		p.PreviousResultIds = append(p.PreviousResultIds, protocol.PreviousResultId{URI: e.uri(name), Value: id})
	}
	var r *protocol.WorkspaceDiagnosticReport
	e.ask(protocol.MethodWorkspaceDiagnostic, p, &r)
	out := map[string]pulled{}
	put := func(u uri.URI, p pulled) {
		rel, err := filepath.Rel(e.dir, u.FsPath())
		require.NoError(e.t, err)
		out[filepath.ToSlash(rel)] = p
	}
	for _, item := range r.Items {
		switch r := item.(type) {
		case *protocol.WorkspaceFullDocumentDiagnosticReport:
			put(r.URI, pulled{r.Kind, *r.ResultID, r.Items})
		case *protocol.WorkspaceUnchangedDocumentDiagnosticReport:
			put(r.URI, pulled{r.Kind, r.ResultID, nil})
		}
	}
	return out
}

func TestPulling(t *testing.T) {
	e := start(t, map[string]string{"house.stint": house, "reef.stint": reef,
		"clean.stint": "stint 1\n\nsession Clean\n\npart A\n  10 burpee\n"}, pulling)
	assert.NotNil(t, e.result.Capabilities.DiagnosticProvider)
	e.open("reef.stint")
	first := e.pull("reef.stint", "")
	assert.Equal(t, "full", first.Kind)
	assert.Equal(t, []string{"movement-unknown"}, rulesOf(first.Items))
	assert.Equal(t, "unchanged", e.pull("reef.stint", first.ResultID).Kind)

	// A change that affects no diagnostic leaves the answer as it is; one that moves it does not.
	e.replace("reef.stint", "part A\n", "part A\n  10 burpee\n")
	moved := e.pull("reef.stint", first.ResultID)
	assert.Equal(t, "full", moved.Kind)
	assert.NotEqual(t, first.ResultID, moved.ResultID)

	all := e.pullAll(nil)
	assert.Equal(t, map[string]pulled{"reef.stint": moved}, all, "of clean files nothing is said")
	all = e.pullAll(map[string]string{"reef.stint": moved.ResultID, "clean.stint": "old", "gone.stint": "old"})
	assert.Equal(t, "unchanged", all["reef.stint"].Kind)
	assert.Equal(t, "full", all["clean.stint"].Kind, "what it had is no longer so")
	assert.Empty(t, all["clean.stint"].Items)
	assert.Empty(t, all["gone.stint"].Items)
	assert.Len(t, all, 3)

	// A change elsewhere: the client is asked to ask again.
	e.open("book.stint", tideSwing)
	e.wait("a word that it may ask again",
		func() bool { return slices.Contains(e.asked, protocol.MethodWorkspaceDiagnosticRefresh) })
	assert.Empty(t, e.pull("reef.stint", moved.ResultID).Items)
	assert.Equal(t, "none", e.pullAll(map[string]string{"reef.stint": moved.ResultID})["reef.stint"].ResultID)

	e.mu.Lock()
	defer e.mu.Unlock()
	assert.Zero(t, e.sends, "to a client that asks, nothing is sent")
}

func TestPullingInParts(t *testing.T) {
	e := start(t, map[string]string{"house.stint": house, "reef.stint": reef}, pulling)
	var r *protocol.WorkspaceDiagnosticReport
	p := &protocol.WorkspaceDiagnosticParams{PreviousResultIds: []protocol.PreviousResultId{}}
	p.PartialResultToken = protocol.String("part")
	e.ask(protocol.MethodWorkspaceDiagnostic, p, &r)
	assert.Empty(t, r.Items, "all was sent before")
	e.mu.Lock()
	defer e.mu.Unlock()
	assert.Contains(t, strings.Join(e.progressed, "\n"), "movement-unknown")
}

func TestPullingIsCancelled(t *testing.T) {
	files := map[string]string{"house.stint": house}
	for i := range 300 {
		files[fmt.Sprintf("s%d.stint", i)] = fmt.Sprintf("stint 1\n\nsession S%d\n\npart A\n  10 tide swing\n", i)
	}
	e := start(t, files, pulling)
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	err := protocol.Call(ctx, e.conn, protocol.MethodWorkspaceDiagnostic,
		&protocol.WorkspaceDiagnosticParams{PreviousResultIds: []protocol.PreviousResultId{}}, nil)
	assert.Error(t, err)
	e.settle()
}

func TestTheBuiltInBookIsLeft(t *testing.T) {
	e := start(t, hall)
	e.srv.pages.rule("total-wrong")
	movements, err := filepath.Glob(filepath.Join(e.srv.pages.dir, "movements", "*.stint"))
	require.NoError(t, err)
	require.NotEmpty(t, movements)
	info, err := os.Stat(movements[0])
	require.NoError(t, err)
	assert.Zero(t, info.Mode().Perm()&0o222, "it is there to be read")
	page := string(uri.File(movements[0]))
	e.open(page)
	e.change(page, "nonsense\n")
	e.settle()
	e.mu.Lock()
	defer e.mu.Unlock()
	assert.NotContains(t, e.sent, uri.URI(page))
}

func TestPagesThatCannotBeWritten(t *testing.T) {
	e := connect(t)
	e.srv.pages.cache = func() (string, error) { return filepath.Join(t.TempDir(), "\x00"), nil }
	assert.Empty(t, e.srv.pages.rule("total-wrong"))
	assert.Empty(t, e.srv.pages.rule("none-such"))
	e.wait("a word on it", func() bool { return len(e.logged) == 1 })
}
