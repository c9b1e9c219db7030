package workspace

import "strings"

// First picks those of a workspace's texts that must be read to say what does not hold in a
// few of its files: these files, the house and the movements. What a session draws only
// for what a cycle plans is not in it; where one of the files has a cycle, all of the texts
// are picked. It lets an editor show the file in front of somebody long before thousands
// of others are read.
func First(texts map[string]string, names ...string) map[string]string {
	out := map[string]string{}
	for _, n := range names {
		text, ok := texts[n]
		if !ok {
			continue
		}
		if opens(text, "cycle") {
			return texts
		}
		out[n] = text
	}
	for n, text := range texts {
		if opens(text, "house", "movement") {
			out[n] = text
		}
	}
	return out
}

// opens says whether a line at the margin starts with one of the words. It looks at bytes
// alone: reading the text is what is to be saved.
func opens(text string, words ...string) bool {
	text = strings.TrimPrefix(text, "\ufeff")
	for text != "" {
		for _, w := range words {
			if len(text) > len(w) && strings.EqualFold(text[:len(w)], w) && (text[len(w)] == ' ' || text[len(w)] == '\t') {
				return true
			}
		}
		i := strings.IndexByte(text, '\n')
		if i < 0 {
			return false
		}
		text = text[i+1:]
	}
	return false
}
