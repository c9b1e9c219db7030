package format

import (
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
)

// corpora hold the files that the project itself keeps in the notation.
var corpora = []string{"../book/data", "../../testdata/quayside"}

// corpus reads those files, by path.
func corpus(t testing.TB) map[string]string {
	t.Helper()
	files := map[string]string{}
	for _, root := range corpora {
		err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() || !strings.HasSuffix(path, ".stint") {
				return err
			}
			text, err := os.ReadFile(path)
			files[path] = string(text)
			return err
		})
		require.NoError(t, err)
	}
	require.NotEmpty(t, files)
	return files
}

func parse(text string) *syntax.File { return syntax.Parse(source.New("a.stint", text)) }

// What the project keeps is written the one way that the formatter writes.
func TestCorpusIsCanonical(t *testing.T) {
	for path, text := range corpus(t) {
		f := parse(text)
		for i, l := range f.Lines {
			assert.Equal(t, Line(l), f.Src.Slice(f.Src.Line(i)), "%s:%d", path, i+1)
			assert.False(t, l.Bad, "%s:%d has an error, so that it would not be printed", path, i+1)
		}
		assert.Empty(t, Edits(f), path)
	}
}
