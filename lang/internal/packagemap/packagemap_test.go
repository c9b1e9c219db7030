// Package packagemap compares DEVELOPERS.md with the code. Its table of packages is in the order in
// which text goes through them, and no package imports one from a later row; the names of its
// glossary are declared where it says.
package packagemap

import (
	"go/ast"
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

var quotedPath = regexp.MustCompile("`([a-z]+(?:/[a-zA-Z]+)*)`")

// table is the cells of the table of DEVELOPERS.md whose first column has a head.
func table(t *testing.T, head string) [][]string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(root, "DEVELOPERS.md"))
	require.NoError(t, err)
	_, below, found := strings.Cut(string(text), "| "+head+" |")
	require.True(t, found, "DEVELOPERS.md has a table of %s", head)
	lines := strings.Split(below, "\n")[2:] // behind the head and the rule under it
	var out [][]string
	for _, line := range lines {
		cells := strings.Split(line, "|")
		if len(cells) < 3 {
			break
		}
		out = append(out, cells[1:len(cells)-1])
	}
	return out
}

// rows are the packages of the table, each with the number of its row.
func rows(t *testing.T) map[string]int {
	out := map[string]int{}
	for n, cells := range table(t, "package") {
		for _, m := range quotedPath.FindAllStringSubmatch(cells[0], -1) {
			require.NotContains(t, out, m[1], "a package stands on the map once")
			out[m[1]] = n + 1
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

func TestImportsGoOneWay(t *testing.T) {
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
		if strings.HasSuffix(name, "_test.go") { // a test may look at what is built on its package
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
			allowed := ok && (n < from || n == from && sameRow(rows, dir, to))
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

// sameRow reports whether two packages are of one row: a package with its inner packages, such
// as the rules with their families.
func sameRow(rows map[string]int, a, b string) bool {
	x, _ := rowOf(rows, a)
	y, _ := rowOf(rows, b)
	return x == y && path.Dir(b) != path.Dir(a)
}

var code = regexp.MustCompile("`([A-Z][A-Za-z]*(?:\\.[A-Z][A-Za-z]*)?)`")

// Each name of the glossary is declared in its package, or in a package inside that.
func TestGlossary(t *testing.T) {
	words := table(t, "a coach says")
	assert.Greater(t, len(words), 25)
	for _, cells := range words {
		at := quotedPath.FindStringSubmatch(cells[2])
		require.NotNil(t, at, "%q names no package", cells)
		declared := declarations(t, filepath.Join(root, filepath.FromSlash(at[1])))
		names := code.FindAllStringSubmatch(cells[1], -1)
		assert.NotEmpty(t, names, "%q has no name of the code", cells)
		for _, n := range names {
			assert.True(t, declared[n[1]], "%s declares no %s (%s)", at[1], n[1], strings.TrimSpace(cells[0]))
		}
	}
}

// declarations are the names that the packages of a folder declare outside their tests: Type,
// Type.Field, Type.Method, Func, Var, Const.
func declarations(t *testing.T, dir string) map[string]bool {
	t.Helper()
	out := map[string]bool{}
	require.NoError(t, filepath.WalkDir(dir, func(name string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() || !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go") {
			return err
		}
		f, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		for _, d := range f.Decls {
			declare(out, d)
		}
		return nil
	}))
	return out
}

func declare(out map[string]bool, d ast.Decl) {
	switch d := d.(type) {
	case *ast.FuncDecl:
		prefix := ""
		if d.Recv != nil {
			of := d.Recv.List[0].Type
			if star, ok := of.(*ast.StarExpr); ok {
				of = star.X
			}
			if id, ok := of.(*ast.Ident); ok {
				prefix = id.Name + "."
			}
		}
		out[prefix+d.Name.Name] = true
	case *ast.GenDecl:
		for _, spec := range d.Specs {
			switch spec := spec.(type) {
			case *ast.ValueSpec:
				for _, id := range spec.Names {
					out[id.Name] = true
				}
			case *ast.TypeSpec:
				out[spec.Name.Name] = true
				if s, ok := spec.Type.(*ast.StructType); ok {
					for _, field := range s.Fields.List {
						for _, id := range field.Names {
							out[spec.Name.Name+"."+id.Name] = true
						}
					}
				}
			}
		}
	}
}
