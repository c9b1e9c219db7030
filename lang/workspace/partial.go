package workspace

import (
	"maps"
	"slices"
	"strings"
)

// PartialTexts picks the texts of a workspace that the diagnostics of a few of its files depend
// on: those files, the house, the movements and one that states a length. Diagnostics that depend
// on a cycle's plan are missing in such a part; where one of the files has a cycle, all texts are
// picked. An editor can show the open file with it long before thousands of others are parsed.
func PartialTexts(texts map[string]string, names ...string) map[string]string {
	out := map[string]string{}
	for _, n := range names {
		text, ok := texts[n]
		if !ok {
			continue
		}
		if hasEntry(text, "cycle") {
			return texts
		}
		out[n] = text
	}
	for n, text := range texts {
		if hasEntry(text, "house", "movement") {
			out[n] = text
		}
	}
	if n := lengthWitness(texts); n != "" {
		out[n] = texts[n]
	}
	return out
}

// lengthWitness is the first text with a line for a length, which one is enough for the whole workspace, else
// the first with a session, where it may be said that none has one.
func lengthWitness(texts map[string]string) string {
	names := slices.Sorted(maps.Keys(texts))
	for _, states := range []func(text string) bool{
		func(text string) bool { return strings.Contains(text, "\n  length ") },
		func(text string) bool { return hasEntry(text, "session") },
	} {
		if i := slices.IndexFunc(names, func(n string) bool { return states(texts[n]) }); i >= 0 {
			return names[i]
		}
	}
	return ""
}

// hasEntry says whether a line at the margin starts with one of the words. It compares bytes:
// to parse the text is what this saves.
func hasEntry(text string, words ...string) bool {
	text = strings.TrimPrefix(text, "\ufeff")
	for text != "" {
		for _, w := range words {
			if len(text) > len(w) && strings.EqualFold(text[:len(w)], w) &&
				(text[len(w)] == ' ' || text[len(w)] == '\t') {
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
