package workspace

import (
	"slices"
	"strings"
)

// Listed says whether List names a file at a path from the root, with slashes, where it is
// there: one in the notation, that is not hidden nor in another tool's folder. Folders with
// a house of their own are not looked for.
func Listed(name string) bool {
	parts := strings.Split(name, "/")
	base := parts[len(parts)-1]
	return strings.HasSuffix(base, Extension) && !strings.HasPrefix(base, ".") && !slices.ContainsFunc(parts[:len(parts)-1], leftOut)
}
