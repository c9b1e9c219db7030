package workspace

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stint.example/stint/lang/check/rules"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/format"
)

// The guide shows the notation outside fences too: an hour with what each line says beside it, and
// tables of what stands on the board. All of it is read, draws nothing, and is printed as it stands.
func TestGuide(t *testing.T) {
	page, err := os.ReadFile(filepath.Join(specFolder, "guide.md"))
	require.NoError(t, err)
	t.Run("one hour", func(t *testing.T) {
		_, hour, found := strings.Cut(string(page), "\n```\n")
		require.True(t, found)
		hour, _, _ = strings.Cut(hour, "```")
		const words = 46 // the column in which what a line says begins
		var lines []string
		for line := range strings.Lines(hour) {
			line = strings.TrimRight(line, "\n")
			if len(line) > words && line[words-1] == ' ' {
				line = line[:words]
			}
			lines = append(lines, strings.TrimRight(line, " "))
		}
		holds(t, strings.Join(lines, "\n")+"\n")
	})
	rows := 0
	for line := range strings.Lines(string(page)) {
		cells := strings.Split(strings.TrimSpace(line), " | ")
		if !strings.HasPrefix(line, "| ") || len(cells) != 2 {
			continue
		}
		var code []string
		for _, m := range regexp.MustCompile("`([^`]+)`").FindAllStringSubmatch(cells[1], -1) {
			code = append(code, m[1])
		}
		if len(code) == 0 { // the head of a table
			continue
		}
		rows++
		t.Run(strings.Trim(cells[0], "| "), func(t *testing.T) { holds(t, onTheBoard(code)) })
	}
	assert.Greater(t, rows, 30)
}

// onTheBoard is a session around the lines of a row.
func onTheBoard(code []string) string {
	text := strings.Join(code, "\n") + "\n"
	switch first, _, _ := strings.Cut(code[0], " "); first {
	case "part", "warm-up":
		return "session Board\n\n" + text
	case "scaling":
		return "session Board\n\npart A\n  14 kettlebell swing @ 24/16 kg\n  9 burpee\n\n" + text
	case "rest":
		return "session Board\n\npart A\n  14 kettlebell swing\n  " + text + "  9 burpee\n"
	default:
		return "session Board\n\npart A\n  " + strings.ReplaceAll(strings.TrimSuffix(text, "\n"), "\n", "\n  ") + "\n"
	}
}

// holds asserts that a text draws none of the basic rules, and is printed as it stands.
func holds(t *testing.T, text string) {
	t.Helper()
	s := Make(Root{Dir: "/quayside", House: true}, map[string]string{
		"house.stint": "stint 1\n\nhouse Quayside Hall\n", "sessions/board.stint": text})
	for _, f := range s.Files {
		assert.Equal(t, f.Src.Text, format.Source(f.Syntax()), "it is canonical")
	}
	found := slices.DeleteFunc(s.Check(), func(d diag.Diagnostic) bool {
		r, _ := rules.Find(d.Rule)
		return d.Rule == "file-name" || !slices.Contains(basics, r.Family)
	})
	for _, d := range found {
		t.Errorf("%s %q: %s; %s\n%s", d.Rule, d.At.Text(), d.Message, d.Help, text)
	}
}
