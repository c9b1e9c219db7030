package rules_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stint.example/stint/lang/check/rules"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/workspace"
)

// sources are the parsed files of each family's package, tests left out.
func sources(t *testing.T) map[string]map[string]*ast.File {
	t.Helper()
	names, err := filepath.Glob("*/*.go")
	require.NoError(t, err)
	out := map[string]map[string]*ast.File{}
	for _, n := range names {
		if strings.HasSuffix(n, "_test.go") {
			continue
		}
		f, err := parser.ParseFile(token.NewFileSet(), n, nil, 0)
		require.NoError(t, err)
		family, file := path.Split(filepath.ToSlash(n))
		family = strings.TrimSuffix(family, "/")
		if out[family] == nil {
			out[family] = map[string]*ast.File{}
		}
		out[family][file] = f
	}
	return out
}

// named are the names in an expression: check.LateShare, capTightShare.
func named(e ast.Node) map[string]bool {
	out := map[string]bool{}
	ast.Inspect(e, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.SelectorExpr:
			if x, ok := n.X.(*ast.Ident); ok {
				out[x.Name+"."+n.Sel.Name] = true
				return false
			}
		case *ast.Ident:
			out[n.Name] = true
		}
		return true
	})
	return out
}

// A rule asks for thresholds that it declares: of one that it does not, no house could set the
// value. A threshold of another rule is asked for by that rule's name.
func TestThresholdsAskedForAreDeclared(t *testing.T) {
	asked := 0
	for family, files := range sources(t) {
		declared := map[string]bool{}
		for _, f := range files {
			ast.Inspect(f, func(n ast.Node) bool {
				if kv, ok := n.(*ast.KeyValueExpr); ok {
					if key, ok := kv.Key.(*ast.Ident); ok && key.Name == "Thresholds" {
						for name := range named(kv.Value) {
							declared[name] = true
						}
					}
				}
				return true
			})
		}
		for file, f := range files {
			ast.Inspect(f, func(n ast.Node) bool {
				call, ok := n.(*ast.CallExpr)
				if !ok {
					return true
				}
				s, ok := call.Fun.(*ast.SelectorExpr)
				if !ok || s.Sel.Name != "Value" && s.Sel.Name != "ValueOf" || len(call.Args) == 0 {
					return true
				}
				for name := range named(call.Args[len(call.Args)-1]) {
					if !isThreshold(files, name) {
						continue
					}
					asked++
					assert.True(t, declared[name], "%s/%s asks for %s, which no rule of the family declares", family, file, name)
				}
				return true
			})
		}
		for file, f := range files {
			for _, d := range f.Decls {
				for _, name := range thresholdsIn(d) {
					assert.True(t, declared[name], "%s/%s has %s, which no rule declares", family, file, name)
				}
			}
		}
	}
	assert.Greater(t, asked, 40)
}

// isThreshold says whether a name is one of a threshold that a package or the framework declares.
func isThreshold(files map[string]*ast.File, name string) bool {
	if name == "check.LateShare" {
		return true
	}
	for _, f := range files {
		for _, d := range f.Decls {
			for _, n := range thresholdsIn(d) {
				if n == name {
					return true
				}
			}
		}
	}
	return false
}

// thresholdsIn are the thresholds that a declaration makes.
func thresholdsIn(d ast.Decl) []string {
	g, ok := d.(*ast.GenDecl)
	if !ok || g.Tok != token.VAR {
		return nil
	}
	var out []string
	for _, spec := range g.Specs {
		v, ok := spec.(*ast.ValueSpec)
		if !ok {
			continue
		}
		for i, value := range v.Values {
			if u, ok := value.(*ast.UnaryExpr); ok {
				if lit, ok := u.X.(*ast.CompositeLit); ok && named(lit.Type)["check.Threshold"] {
					out = append(out, v.Names[i].Name)
				}
			}
		}
	}
	return out
}

// A house that makes an error of a rule makes one of all that it finds, also of what matters less.
func TestHouseMakesErrorsOfLesserFindings(t *testing.T) {
	const house = "stint 1\n\nhouse Quay\n  class 16\n  kit\n    8 ski machine\n"
	severities := func(rules string) (out []diag.Severity) {
		s := workspace.Make(workspace.Root{Dir: "/quay", House: true}, map[string]string{
			"house.stint": house + rules,
			"reef.stint":  "session Reef\n\npart A for time\n  500 m ski\npart B for time\n  20 burpee\n  500 m ski\n",
		})
		for _, d := range s.Check() {
			if d.Rule == "kit-short" {
				out = append(out, d.Severity)
			}
		}
		return out
	}
	assert.Equal(t, []diag.Severity{diag.Error, diag.Warning}, severities(""))
	assert.Equal(t, []diag.Severity{diag.Error, diag.Error}, severities("  rule kit-short error > Queues end classes.\n"))
	assert.Empty(t, severities("  allow kit-short > The class is told.\n"))
}

// Each rule that is found by the rules' own work stands in a file of its family that is
// called after it.
func TestEachRuleHasItsFile(t *testing.T) {
	var files []string
	require.NoError(t, filepath.WalkDir(".", func(name string, e fs.DirEntry, err error) error {
		files = append(files, filepath.Base(name))
		return err
	}))
	for _, r := range rules.All() {
		if r.Session != nil || r.File != nil || r.Cycle != nil {
			assert.Contains(t, files, strings.ReplaceAll(r.Name, "-", "_")+".go", r.Name)
		}
	}
}
