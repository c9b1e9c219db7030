package workspace

import (
	"strings"
	"unicode"
)

// FileFor is the name of the file that a session is kept in by convention: its letters and
// digits, with a dash for all that stands between them.
func FileFor(session string) string {
	var b strings.Builder
	for _, r := range strings.ToLower(session) {
		switch {
		case unicode.IsLetter(r) || unicode.IsDigit(r):
			b.WriteRune(r)
		case b.Len() > 0 && !strings.HasSuffix(b.String(), "-") && r != '\'':
			b.WriteByte('-')
		}
	}
	return strings.TrimSuffix(b.String(), "-") + Extension
}
