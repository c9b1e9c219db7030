package marktest

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stint.example/stint/lang/golden"
)

// pageText has ' for the back quotes of its fences.
var pageText = strings.ReplaceAll(`# Page

'''text
no case: no file stands here
'''

## First, of all

'''stint
part A #@ diag r "part"
'''

'''text
first
'''

'''sh
ls
'''

### Under it

Two files, one in a list.

- a file:

  ''''stint path=sessions/a.stint
  part B
    12 burpee > '''
  ''''

~~~stint
stint 1
~~~

'''stint
stint 1
'''

'''json path=sessions/a.stint
{}
'''

#### Deeper stays in it

'''json
[]
'''

## Nothing
`, "'", "`")

func TestMarkdown(t *testing.T) {
	cs, err := Markdown("spec/page.md", []byte(pageText))
	require.NoError(t, err)
	require.Len(t, cs, 2)
	first, under := cs[0], cs[1]
	assert.Equal(t, "First, of all", first.Heading)
	assert.Equal(t, "spec/page.md#first-of-all", first.Name)
	assert.Equal(t, 7, first.Line)
	assert.Equal(t, []section{{Kind: "text", Text: "first\n"}}, plain(first.goldens))
	require.Len(t, first.markers, 1)
	assert.Equal(t, "spec/page.md:10: example.stint:1", first.where("example.stint", 1))
	names := []string{}
	for _, f := range under.Files() {
		names = append(names, f.Name)
	}
	assert.Equal(t, []string{"sessions/a.stint", "example.stint", "example-2.stint"}, names)
	assert.Equal(t, "part B\n  12 burpee > ```\n", under.Files()[0].Text)
	assert.Equal(t, []section{{Kind: "json", Path: "sessions/a.stint", Text: "{}\n"}, {Kind: "json", Text: "[]\n"}}, plain(under.goldens))
}

// plain leaves out where goldens stand.
func plain(gs []section) []section {
	var out []section
	for _, g := range gs {
		out = append(out, section{Kind: g.Kind, Path: g.Path, Text: g.Text})
	}
	return out
}

func TestMarkdownRefused(t *testing.T) {
	for _, tt := range []struct{ text, want string }{
		{"'''stint\npart A\n", "page.md:1: this fence is never closed"},
		{"'''stint file=a\npart A\n'''\n", "behind stint stands path=FILE"},
		{"'''stint path=a path=b\n'''\n", "behind stint stands path=FILE"},
		{"# H\n'''stint path=a\n'''\n'''stint path=a\n'''\n", "page.md:4: two files are called a"},
		{"'''stint\n'''\n'''json\n'''\n'''json\n'''\n", "two goldens are called @json"},
		{"'''stint\n'''\n'''json path=b\n'''\n", "the golden @json b is of no file"},
		{"'''stint\n12 row > a #@ diag r\n'''\n", "where no comment can start"},
	} {
		_, err := Markdown("page.md", []byte(strings.ReplaceAll(tt.text, "'", "`")))
		assert.ErrorContains(t, err, tt.want, tt.text)
	}
}

func TestMarkdownUpdates(t *testing.T) {
	golden.SetUpdating(t, true)
	path := filepath.Join(t.TempDir(), "page.md")
	text := "# H\n\n'''stint\npart A\n'''\n\n'''text\nold\n'''\n\n## I\n\n'''stint\npart B\n'''\n\n- so:\n\n  '''json\n  {}\n  '''\nEnd\n"
	require.NoError(t, os.WriteFile(path, []byte(strings.ReplaceAll(text, "'", "`")), 0o600))
	cs := LoadMarkdown(t, path)
	require.Len(t, cs, 2)
	r := &recorder{}
	cs[0].Golden(r, "text", "", "new\nand longer\n")
	cs[1].Golden(r, "json", "", "[\n  1\n]\n")
	assert.Empty(t, r.errors)
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	want := strings.NewReplacer("old\n", "new\nand longer\n", "  {}\n", "  [\n    1\n  ]\n", "'", "`").Replace(text)
	assert.Equal(t, want, string(data))
	cs[0].Golden(r, "json", "", "{}\n")
	cs[0].Golden(r, "text", "", "```\n")
	require.Len(t, r.errors, 2)
	assert.Contains(t, r.errors[0], "no such fence")
	assert.Contains(t, r.errors[1], "end of the fence")
}

func TestExport(t *testing.T) {
	page := "# H\n\n'''stint\nrow -> run #@ diag r \"row\" /a/\n'''\n\n'''json\n{}\n'''\n"
	cs, err := Markdown("page.md", []byte(strings.ReplaceAll(page, "'", "`")))
	require.NoError(t, err)
	got, err := Export(append(cs, parse(t, "-- a --\nb\n")))
	require.NoError(t, err)
	assert.Equal(t, `[
  {
    "page": "page.md",
    "heading": "H",
    "line": 1,
    "files": [
      {
        "path": "example.stint",
        "text": "row -> run #@ diag r \"row\" /a/\n"
      }
    ],
    "markers": [
      {
        "file": "example.stint",
        "line": 1,
        "rule": "r",
        "words": "row"
      }
    ],
    "goldens": [
      {
        "kind": "json",
        "text": "{}\n"
      }
    ]
  },
  {
    "page": "case.txtar",
    "heading": "",
    "line": 0,
    "files": [
      {
        "path": "a",
        "text": "b\n"
      }
    ],
    "markers": [],
    "goldens": []
  }
]
`, string(got))
}

// A page that goes with another holds goldens of its cases, and gets them back.
func TestAddMarkdown(t *testing.T) {
	dir := t.TempDir()
	page, with := filepath.Join(dir, "page.md"), filepath.Join(dir, "with.md")
	write := func(path, text string) {
		require.NoError(t, os.WriteFile(path, []byte(strings.ReplaceAll(text, "'", "`")), 0o644))
	}
	write(page, "# Page\n\n## Rounds\n\n'''stint\npart A\n'''\n")
	write(with, "# With\n\n## Rounds\n\nSome words.\n\n'''json\n{}\n'''\n")
	cases := LoadMarkdown(t, page)
	AddMarkdown(t, with, cases)
	require.Len(t, cases, 1)
	assert.True(t, cases[0].HasGolden("json", ""))
	cases[0].Golden(t, "json", "", "{}\n")

	golden.SetUpdating(t, true)
	cases[0].Golden(t, "json", "", "[]\n")
	text, err := os.ReadFile(with)
	require.NoError(t, err)
	assert.Contains(t, string(text), "Some words.\n\n```json\n[]\n```\n")

	_, err = markdown("with.md", []byte("## Rounds\n\n```stint\npart A\n```\n"), true)
	assert.ErrorContains(t, err, "no files of its own")
}
