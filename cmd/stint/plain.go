package main

import (
	"regexp"
	"strings"
)

var (
	link     = regexp.MustCompile(`\[([^\]]*)\]\([^)]*\)`)
	emphasis = regexp.MustCompile("(\\*\\*|`)([^*`]+)(\\*\\*|`)")
	heading  = regexp.MustCompile(`^#+ +`)
)

// plain is a page of Markdown as plain text: code is indented, headings stand by
// themselves, marks and the targets of links are left out. A heading at the top that
// only repeats the title is left out too, and so are the marks (#@) by which the tests
// know what an example must draw.
func plain(page, title string) string {
	var out []string
	fence := ""
	for _, l := range strings.Split(strings.TrimSpace(page), "\n") {
		mark := strings.TrimLeft(l, " ")
		switch {
		case fence == "" && (strings.HasPrefix(mark, "```") || strings.HasPrefix(mark, "~~~")):
			fence = mark[:3]
			if _, path, ok := strings.Cut(l, "path="); ok {
				out = append(out, path+":")
			}
			continue
		case fence != "" && strings.HasPrefix(mark, fence):
			fence = ""
			continue
		case fence != "":
			code, _, marked := strings.Cut(l, "#@")
			if code = strings.TrimRight(code, " "); code == "" && marked {
				continue
			}
			if l = code; l != "" {
				l = "    " + l
			}
		default:
			h := heading.FindString(l)
			if l = withoutCode(strings.TrimPrefix(l, h)); h != "" && len(out) == 0 && l == title {
				continue
			}
		}
		if l == "" && (len(out) == 0 || out[len(out)-1] == "") {
			continue
		}
		out = append(out, l)
	}
	return strings.Join(out, "\n") + "\n"
}

func withoutCode(l string) string {
	return emphasis.ReplaceAllString(link.ReplaceAllString(l, "$1"), "$2")
}
