package bench

import (
	"encoding/json"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"go.lsp.dev/uri"

	"stint.example/stint/lang/bench"
)

// sessions is how many the workspace has: STINT_SESSIONS, or so many that it can be measured
// in passing. The targets are for 10,000.
func sessions() int {
	if n, err := strconv.Atoi(os.Getenv("STINT_SESSIONS")); err == nil {
		return n
	}
	return 300
}

// texts are those of the workspace by path. Drawing thousands takes minutes, so that they can
// be kept from run to run in the folder that STINT_KEEP names.
func texts(b *testing.B) map[string]string {
	keep := os.Getenv("STINT_KEEP")
	if _, err := os.Stat(keep); err != nil {
		drawn := bench.Workspace(sessions(), 1)
		if keep != "" {
			write(b, keep, drawn)
		}
		return drawn
	}
	kept := map[string]string{}
	require.NoError(b, fs.WalkDir(os.DirFS(keep), ".", func(name string, e fs.DirEntry, err error) error {
		if err == nil && !e.IsDir() {
			text, err := os.ReadFile(filepath.Join(keep, filepath.FromSlash(name)))
			kept[name] = string(text)
			return err
		}
		return err
	}))
	return kept
}

func write(b *testing.B, dir string, texts map[string]string) {
	for name, text := range texts {
		path := filepath.Join(dir, filepath.FromSlash(name))
		require.NoError(b, os.MkdirAll(filepath.Dir(path), 0o755))
		require.NoError(b, os.WriteFile(path, []byte(text), 0o644))
	}
}

var line = regexp.MustCompile(`(\n +\d+ )burpee\n`)

// A site is a workspace that a server is measured on.
type site struct {
	server   []string
	language string
	dir      string
	file     string // that is open, from dir
	at, len  int    // of a name in it, in bytes; it stands on a line of ASCII
	query    string // of workspace symbols
	name     string // what the name is renamed to
	files    int
	slips    []string // files that something is found in, beside the open one
	calls    int
}

func (s site) uri(name string) string { return string(uri.File(filepath.Join(s.dir, name))) }

// BenchmarkServer measures stint on a generated workspace. One run is a whole life of the server: started, a file opened, edited a thousand times, asked, and stopped.
func BenchmarkServer(b *testing.B) {
	dir := b.TempDir()
	binary := filepath.Join(dir, "stint")
	out, err := exec.Command("go", "build", "-o", binary, "stint.example/stint/cmd/stint").CombinedOutput()
	require.NoError(b, err, string(out))
	s := site{server: []string{binary, "lsp"}, language: "stint", dir: filepath.Join(dir, "hall"), query: "tide",
		name: "harbour walk", calls: 1000}
	changed, every := map[string]string{}, sessions()/100
	drawn := texts(b)
	for _, name := range slices.Sorted(maps.Keys(drawn)) {
		// A movement of the house's own that very many sessions use, so that it can be renamed.
		text := line.ReplaceAllString(drawn[name], "${1}pier burpee\n")
		switch at := strings.Index(text, "pier burpee\n"); {
		case at > 0 && s.file == "":
			s.file, s.at = name, at
		case at > 0 && s.files%every == 0: // a slip that has been found when all has been checked
			text = strings.Replace(text, "pier burpee", "peer burpee", 1)
			s.slips = append(s.slips, name)
		}
		s.files++
		changed[name] = text
	}
	changed["movements/pier-burpee.stint"] = "stint 1\n\nmovement pier burpee\n  trains horizontal push\n  pace 2.4 / 3.4 / 4.9 s per rep\n"
	write(b, s.dir, changed)
	for b.Loop() {
		measure(b, s)
	}
}

// BenchmarkGopls measures gopls on its own source in the same way, for scale: a server that
// everybody knows, on a module that it was written for. Where it is not installed this is
// left out; `go install golang.org/x/tools/gopls@latest` installs it.
func BenchmarkGopls(b *testing.B) {
	gopls, err := exec.LookPath("gopls")
	if err != nil {
		b.Skip("gopls is not installed")
	}
	version, err := exec.Command(gopls, "version").Output()
	require.NoError(b, err)
	v := strings.Fields(strings.SplitAfterN(string(version), "gopls ", 2)[1])[0]
	found, err := exec.Command("go", "mod", "download", "-json", "golang.org/x/tools/gopls@"+v).Output()
	require.NoError(b, err, string(found))
	var module struct{ Dir string }
	require.NoError(b, json.Unmarshal(found, &module))
	dir := filepath.Join(b.TempDir(), "gopls")
	require.NoError(b, os.CopyFS(dir, os.DirFS(module.Dir)))
	file := "internal/golang/hover.go"
	text, err := os.ReadFile(filepath.Join(dir, filepath.FromSlash(file)))
	require.NoError(b, err)
	const name = "hoverResult"
	s := site{server: []string{gopls}, language: "go", dir: dir, file: file, query: "hover", name: "hoverAnswer",
		calls: 100,
		at:    strings.Index(string(text), "type "+name) + len("type "), len: len(name)}
	require.NoError(b, filepath.WalkDir(dir, func(path string, e os.DirEntry, err error) error {
		if err == nil && strings.HasSuffix(path, ".go") {
			s.files++
		}
		return err
	}))
	for b.Loop() {
		measure(b, s)
	}
}

// measure drives one life of a server and reports what it took.
func measure(b *testing.B, s site) {
	report := func(took time.Duration, what string) {
		b.ReportMetric(float64(took.Microseconds())/1000, what)
	}
	body, err := os.ReadFile(filepath.Join(s.dir, filepath.FromSlash(s.file)))
	require.NoError(b, err)
	text := string(body)
	require.Positive(b, s.at)
	line := strings.Count(text[:s.at], "\n")
	column := s.at - strings.LastIndex(text[:s.at], "\n") - 1
	at := func(col int) map[string]int { return map[string]int{"line": line, "character": col} }
	doc := s.uri(s.file)
	here := map[string]any{"textDocument": map[string]string{"uri": doc}, "position": at(column + 1)}

	began := time.Now()
	c, err := start(s.server[0], s.server[1:]...)
	require.NoError(b, err)
	_, err = c.call("initialize", map[string]any{
		"processId": os.Getpid(), "rootUri": string(uri.File(s.dir)),
		"workspaceFolders": []map[string]string{{"uri": string(uri.File(s.dir)), "name": "bench"}},
		"capabilities": map[string]any{"textDocument": map[string]any{
			"publishDiagnostics": map[string]any{"versionSupport": true}, "rename": map[string]any{"prepareSupport": true}},
			"workspace": map[string]any{"configuration": true, "workspaceFolders": true,
				"workspaceEdit": map[string]any{"documentChanges": true}}},
	})
	require.NoError(b, err)
	require.NoError(b, c.notify("initialized", map[string]any{}))
	version := 1
	// The file is opened with a slip in it, so that there is something to wait for.
	slip := text[:s.at] + "q" + text[s.at:]
	require.NoError(b, c.notify("textDocument/didOpen", map[string]any{"textDocument": map[string]any{
		"uri": doc, "languageId": s.language, "version": version, "text": slip}}))
	first, err := c.published(doc, version)
	require.NoError(b, err)
	for len(first.Diagnostics) == 0 {
		first, err = c.published(doc, -1)
		require.NoError(b, err)
	}
	report(time.Since(began), "first-ms")
	// All have been looked at when an answer that needs all of them is there.
	_, err = c.call("workspace/symbol", map[string]any{"query": s.query})
	require.NoError(b, err)
	report(time.Since(began), "loaded-ms")
	for _, f := range s.slips {
		_, err := c.published(s.uri(f), -1)
		require.NoError(b, err)
	}
	report(time.Since(began), "all-ms")

	type edit struct {
		Range map[string]any `json:"range"`
		Text  string         `json:"text"`
	}
	change := func(e edit) time.Duration {
		version++
		t := time.Now()
		require.NoError(b, c.notify("textDocument/didChange", map[string]any{
			"textDocument":   map[string]any{"uri": doc, "version": version},
			"contentChanges": []edit{e}}))
		_, err := c.published(doc, version)
		require.NoError(b, err)
		return time.Since(t)
	}
	remove := edit{Range: map[string]any{"start": at(column), "end": at(column + 1)}}
	insert := edit{Range: map[string]any{"start": at(column), "end": at(column)}, Text: "q"}
	change(remove)
	keys := make([]time.Duration, 0, s.calls)
	for i := range s.calls {
		keys = append(keys, change([]edit{insert, remove}[i%2]))
	}
	percentiles(report, "key", keys)
	for _, q := range []struct {
		name, method string
		params       map[string]any
	}{
		{"hover", "textDocument/hover", here},
		{"completion", "textDocument/completion",
			map[string]any{"textDocument": here["textDocument"], "position": at(column + 3)}},
		{"symbols", "workspace/symbol", map[string]any{"query": s.query}},
	} {
		took := make([]time.Duration, 0, s.calls)
		for range min(s.calls, 300) {
			t := time.Now()
			_, err := c.call(q.method, q.params)
			require.NoError(b, err)
			took = append(took, time.Since(t))
		}
		percentiles(report, q.name, took)
	}
	t := time.Now()
	answer, err := c.call("textDocument/rename",
		map[string]any{"textDocument": here["textDocument"], "position": here["position"], "newName": s.name})
	require.NoError(b, err)
	report(time.Since(t), "rename-ms")
	var renamed struct {
		DocumentChanges []json.RawMessage          `json:"documentChanges"`
		Changes         map[string]json.RawMessage `json:"changes"`
	}
	require.NoError(b, json.Unmarshal(answer, &renamed))
	require.NotZero(b, len(renamed.DocumentChanges)+len(renamed.Changes), "%s", fmt.Sprintf("%.200s", answer))
	b.ReportMetric(float64(len(renamed.DocumentChanges)+len(renamed.Changes)), "renamed-files")
	now, most := c.memory()
	b.ReportMetric(now, "MiB")
	b.ReportMetric(most, "peak-MiB")
	b.ReportMetric(float64(s.files), "files")
	require.NoError(b, c.stop())
}

func percentiles(report func(time.Duration, string), what string, took []time.Duration) {
	slices.Sort(took)
	report(took[len(took)/2], what+"-p50-ms")
	report(took[len(took)*99/100], what+"-p99-ms")
}
