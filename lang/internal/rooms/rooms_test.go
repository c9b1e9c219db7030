// Package rooms proves the map of the code: the table of rooms in DEVELOPERS.md is in the
// order in which text goes through them, and no package imports one from a later row.
package rooms

import (
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const (
	root   = "../../.."
	module = "stint.example/stint/"
)

var room = regexp.MustCompile("`([a-z]+(?:/[a-zA-Z]+)*)`")

// rows are the rooms of the table, each with the number of its row.
func rows(t *testing.T) map[string]int {
	text, err := os.ReadFile(filepath.Join(root, "DEVELOPERS.md"))
	require.NoError(t, err)
	_, text2, found := strings.Cut(string(text), "| room |")
	require.True(t, found, "DEVELOPERS.md has a table of rooms")
	out := map[string]int{}
	n := 0
	for line := range strings.Lines(text2) {
		cells := strings.Split(line, "|")
		if len(cells) < 3 {
			if n > 0 {
				break
			}
			continue
		}
		n++
		for _, m := range room.FindAllStringSubmatch(cells[1], -1) {
			require.NotContains(t, out, m[1], "a room stands on the map once")
			out[m[1]] = n
		}
	}
	return out
}

// rowOf is the row of a package: its own or, where it has none, that of the folder above
// it: lang/check/rules/kit is in lang/check/rules.
func rowOf(rows map[string]int, dir string) (int, bool) {
	for ; dir != "."; dir = path.Dir(dir) {
		if n, ok := rows[dir]; ok {
			return n, true
		}
	}
	return 0, false
}

func TestArrowsGoOneWay(t *testing.T) {
	rows := rows(t)
	seen := map[string]bool{}
	require.NoError(t, filepath.WalkDir(root, func(name string, e fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if e.IsDir() && name != root {
			switch base := e.Name(); {
			case base == "testdata", base == "node_modules", strings.HasPrefix(base, "."):
				return filepath.SkipDir
			}
		}
		if !strings.HasSuffix(name, ".go") {
			return nil
		}
		rel, err := filepath.Rel(root, name)
		if err != nil {
			return err
		}
		dir := path.Dir(filepath.ToSlash(rel))
		from, ok := rowOf(rows, dir)
		if !seen[dir] {
			assert.True(t, ok, "%s is on the map of DEVELOPERS.md", dir)
		}
		seen[dir] = true
		if strings.HasSuffix(name, "_test.go") { // a test may look at what is built on its room
			return nil
		}
		f, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.ImportsOnly)
		if err != nil {
			return err
		}
		for _, im := range f.Imports {
			p, err := strconv.Unquote(im.Path.Value)
			if err != nil {
				return err
			}
			to, ours := strings.CutPrefix(p, module)
			if !ours {
				continue
			}
			n, ok := rowOf(rows, to)
			allowed := ok && (n < from || n == from && sameRoom(rows, dir, to))
			assert.True(t, allowed, "%s imports %s, which is not above it on the map", rel, to)
		}
		return nil
	}))
	for r := range rows {
		dirs := slices.Collect(func(yield func(string) bool) {
			for d := range seen {
				if (d == r || strings.HasPrefix(d, r+"/")) && !yield(d) {
					return
				}
			}
		})
		if !slices.Contains([]string{"editors", "spec", "testdata"}, r) {
			assert.NotEmpty(t, dirs, "%s is on the map and holds no code", r)
		}
	}
}

// sameRoom reports whether two packages are of one row: a room with its inner packages, such
// as the rules with their families.
func sameRoom(rows map[string]int, a, b string) bool {
	x, _ := rowOf(rows, a)
	y, _ := rowOf(rows, b)
	return x == y && path.Dir(b) != path.Dir(a)
}
