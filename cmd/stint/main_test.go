package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stint.example/stint/lang/check/rules"
	"stint.example/stint/lang/format"
	"stint.example/stint/lang/golden"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/spec"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"stint": main})
}

// A script is a text archive: commands and what they must print on top, the files that
// they work on below. Beside the usual commands there are:
//
//	exits CODE COMMAND ...   run a command that must end with this exit code
//	valid FILE SCHEMA        a JSON file, or stdout, is what spec/schema/SCHEMA says
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                 "testdata/script",
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		UpdateScripts:       golden.Updating(),
		Setup: func(e *testscript.Env) error {
			e.Setenv("NO_COLOR", "")
			e.Setenv("GORACE", "atexit_sleep_ms=0") // a second for each command otherwise
			return nil
		},
		Condition: func(name string) (bool, error) {
			if name == "root" {
				return os.Geteuid() == 0, nil
			}
			return false, errors.New("unknown condition " + name)
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){"exits": exits, "valid": valid},
	})
}

func exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits CODE COMMAND ...")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	got := 0
	err = ts.Exec(args[1], args[2:]...)
	var exit *exec.ExitError
	switch {
	case errors.As(err, &exit):
		got = exit.ExitCode()
	case err != nil:
		ts.Fatalf("%v", err)
	}
	if got != want {
		ts.Fatalf("exit code %d, want %d", got, want)
	}
}

func valid(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: valid FILE SCHEMA")
	}
	text, err := fs.ReadFile(spec.FS, "schema/"+args[1])
	ts.Check(err)
	parsed, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	ts.Check(err)
	c := jsonschema.NewCompiler()
	ts.Check(c.AddResource("schema.json", parsed))
	schema, err := c.Compile("schema.json")
	ts.Check(err)
	doc, err := jsonschema.UnmarshalJSON(strings.NewReader(ts.ReadFile(args[0])))
	ts.Check(err)
	ts.Check(schema.Validate(doc))
}

// runApp runs a command line in the test's own process.
func runApp(args ...string) (code int, stdout, stderr string) {
	var out, err bytes.Buffer
	code = newApp(strings.NewReader(""), &out, &err).run(args)
	return code, out.String(), err.String()
}

func TestTemplatesAreCanonical(t *testing.T) {
	n := 0
	require.NoError(t, fs.WalkDir(templates, "templates", func(name string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		n++
		text, err := fs.ReadFile(templates, name)
		assert.Equal(t, string(text), format.Source(syntax.Parse(source.New(name, string(text)))), name)
		return err
	}))
	assert.Equal(t, 7, n)
}

func TestEveryRuleIsExplained(t *testing.T) {
	for _, r := range rules.All() {
		code, out, _ := runApp("explain", r.Name)
		assert.Zero(t, code, r.Name)
		assert.True(t, strings.HasPrefix(out, r.Name+" ("), out)
		assert.Greater(t, strings.Count(out, "\n"), 2, r.Name)
		assert.NotContains(t, out, "```", r.Name)
	}
}

func TestEveryCommandHasHelpWithAnExample(t *testing.T) {
	for _, c := range newApp(nil, io.Discard, io.Discard).root().Commands() {
		_, out, _ := runApp(c.Name(), "--help")
		assert.NotEmpty(t, out, c.Name())
		if c.Name() != "completion" && c.Name() != "help" {
			assert.NotEmpty(t, c.Example, c.Name())
			assert.NotEmpty(t, c.Long, c.Name())
		}
		for _, l := range strings.Split(out, "\n") {
			assert.LessOrEqual(t, len(l), 110, l)
		}
	}
}

type brokenReader struct{ fault any }

func (b brokenReader) Read([]byte) (int, error) { panic(b.fault) }

func TestPanicIsAnInternalError(t *testing.T) {
	for _, debug := range []string{"", "1"} {
		t.Setenv("STINT_DEBUG", debug)
		var out, err bytes.Buffer
		assert.Equal(t, exitFailed, newApp(brokenReader{"the tide is out"}, &out, &err).run([]string{"fmt", "-"}))
		assert.Contains(t, err.String(), "stint: internal error: the tide is out\n")
		assert.Equal(t, debug != "", strings.Contains(err.String(), "goroutine"))
	}
}

type failingWriter struct{ err error }

func (f failingWriter) Write([]byte) (int, error) { return 0, f.err }

func TestOutputThatCannotBeWritten(t *testing.T) {
	var err bytes.Buffer
	full := &fs.PathError{Op: "write", Path: "/dev/stdout", Err: errors.New("no space left")}
	assert.Equal(t, exitFailed, newApp(nil, failingWriter{full}, &err).run([]string{"rules"}))
	assert.Equal(t, "stint: cannot write the output: no space left\n", err.String())
}

func TestColor(t *testing.T) {
	for _, c := range []struct {
		when     string
		terminal bool
		noColor  string
		term     string
		want     bool
	}{
		{"auto", true, "", "xterm", true},
		{"auto", true, "1", "xterm", false},
		{"auto", true, "", "dumb", false},
		{"auto", false, "", "xterm", false},
		{"always", false, "1", "dumb", true},
		{"never", true, "", "xterm", false},
	} {
		t.Setenv("NO_COLOR", c.noColor)
		t.Setenv("TERM", c.term)
		assert.Equal(t, c.want, (&app{terminal: c.terminal}).color(c.when), "%+v", c)
	}
}

// The outline writes the demo's lines of work as they stand in the text, so that a coach
// finds them again; but for series whose steps it fills in, and notes of swaps.
func TestOutlineWritesLinesAsTheyStand(t *testing.T) {
	demo := filepath.Join("..", "..", "testdata", "quayside", "sessions")
	entries, err := os.ReadDir(demo)
	require.NoError(t, err)
	for _, e := range entries {
		name := filepath.Join(demo, e.Name())
		text, err := os.ReadFile(name)
		require.NoError(t, err)
		_, out, _ := runApp("show", "--outline", name)
		said := map[string]bool{}
		for _, l := range strings.Split(out, "\n") {
			l = strings.TrimSpace(l)
			for _, where := range []string{" between turns", " between sets", " after"} {
				l = strings.TrimSuffix(l, where)
			}
			said[l] = true
		}
		f := syntax.Parse(source.New(name, string(text)))
		scaling := false
		for _, l := range f.Lines {
			switch l.Stmt.(type) {
			case *syntax.Scaling:
				scaling = true
			case *syntax.Item, *syntax.Head, *syntax.Rest, *syntax.Lead:
				line, _, _ := strings.Cut(strings.TrimSpace(format.Line(l)), " # ")
				if scaling || strings.Contains(line, "...") || said[line] {
					continue
				}
				line, _, _ = strings.Cut(line, " > ") // the note of a head stands under it
				for _, want := range strings.Split(line, ": ") {
					assert.True(t, said[want], "%s: %q is not in\n%s", e.Name(), want, out)
				}
			}
		}
	}
}

func TestPlain(t *testing.T) {
	for _, c := range []struct{ name, page, want string }{
		{"page", "# total-wrong\n\nA *total* that `does` not [add up](x.md).\n\n## Bad\n\n```stint path=sessions/reef.stint\n" +
			"#@^ diag word-unknown \"x\"\npart A\n\n  8 # x `y`\n  8 burpee #@ diag total-wrong /9/\n```\n\n\nEnd **here**.\n",
			"A total that does not add up.\n\nBad\n\nsessions/reef.stint:\n    part A\n\n      8 # x `y`\n      8 burpee\n\nEnd here.\n"},
		{"code over two lines", "Write `rest\nat least 1:00`, or a `*`.\n", "Write rest\nat least 1:00, or a *.\n"},
		{"lists", "- one\n  more\n- two\n\n3. a\n4. b\n", "- one\n  more\n- two\n\n3. a\n4. b\n"},
		{"loose list", "- one\n\n      code\n\n- two\n", "- one\n\n      code\n\n- two\n"},
		{"quote and escapes", "> a \\* b &amp; c <https://a.example>\n", "> a * b & c https://a.example\n"},
		{"fence without a word", "~~~\na\n~~~\n", "    a\n"},
		{"nothing", "", "\n"},
	} {
		assert.Equal(t, c.want, plain(c.page, "total-wrong"), c.name)
	}
}

func TestKebabIsTheNameThatTheRuleAsksFor(t *testing.T) {
	for _, name := range []string{"Sheet Bend", "Figure-Eight", "Bowline", "Fisherman's Bend", "Test 2", "Ça va"} {
		dir := t.TempDir()
		t.Chdir(dir)
		require.NoError(t, os.WriteFile("house.stint", []byte("stint 1\n\nhouse Quayside Hall\n  allow length-missing > Pieces.\n"), 0o666))
		code, _, stderr := runApp("new", "session", name)
		require.Zero(t, code, stderr)
		code, out, _ := runApp("check", "--format", "json")
		require.Zero(t, code)
		var r struct{ Diagnostics []json.RawMessage }
		require.NoError(t, json.Unmarshal([]byte(out), &r))
		assert.Empty(t, r.Diagnostics, "%s: %s", name, out)
	}
}
