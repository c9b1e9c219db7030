package svg

import (
	"strings"
	"unicode"

	"stint.example/stint/lang/render/layout"
)

// Wrap breaks a text into lines no wider than a width in px; a word that is wider by itself
// is cut.
func Wrap(text string, width, size float64) []string {
	return layout.Wrap(text, func(line string) bool { return TextWidth(line, size) <= width })
}

// TextWidth estimates how wide a text is in px. It errs on the wide side: a picture is drawn
// before anybody knows which font it will be shown in.
func TextWidth(s string, size float64) float64 {
	em := 0.0
	for _, r := range s {
		switch {
		case strings.ContainsRune("iljtfrI.,:;'|!()[]/- \"", r):
			em += 0.37
		case strings.ContainsRune("mwMW%@…−", r):
			em += 0.92
		case unicode.IsUpper(r):
			em += 0.70
		case r > 0x2e80: // most scripts beyond are as wide as they are high
			em += 1.05
		default:
			em += 0.60
		}
	}
	return em * size
}
