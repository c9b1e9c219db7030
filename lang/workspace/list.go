package workspace

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// IsListed says whether List would name an existing file at a path from the root, with slashes:
// one in the notation, not hidden, and not in another tool's folder. It does not look for nested
// workspaces.
func IsListed(name string) bool {
	parts := strings.Split(name, "/")
	base := parts[len(parts)-1]
	return strings.HasSuffix(base, Extension) && !strings.HasPrefix(base, ".") &&
		!slices.ContainsFunc(parts[:len(parts)-1], ignoredDir)
}

// Extension is what the names of files in the notation end in.
const Extension = ".stint"

// maxFiles is where a folder is taken for something that is not a workspace, such as a
// home folder.
const maxFiles = 100_000

// List names the files in the notation in a folder and below, from the folder and with
// slashes. What is hidden, other tools' folders, and folders with a house of their own
// are left out.
func List(dir string) ([]string, error) {
	// A folder that is itself a link is walked where it leads to.
	dir, err := filepath.EvalSymlinks(dir)
	if err != nil {
		return nil, err
	}
	var out []string
	err = filepath.WalkDir(dir, func(name string, e fs.DirEntry, err error) error {
		if err != nil {
			if name == dir {
				return err
			}
			return nil // what cannot be read below is not ours
		}
		if e.IsDir() {
			if name == dir {
				return nil
			}
			if ignoredDir(e.Name()) {
				return filepath.SkipDir
			}
			if _, err := os.Stat(filepath.Join(name, HouseFile)); err == nil {
				return filepath.SkipDir
			}
			return nil
		}
		if !strings.HasSuffix(name, Extension) || strings.HasPrefix(e.Name(), ".") {
			return nil
		}
		rel, err := filepath.Rel(dir, name)
		if err != nil {
			return err
		}
		if out = append(out, filepath.ToSlash(rel)); len(out) > maxFiles {
			return fmt.Errorf("%s holds more than %d files in the notation: is it the right folder?", dir, maxFiles)
		}
		return nil
	})
	slices.Sort(out)
	return out, err
}

// ignoredDir says whether a folder below a workspace is none of its own: hidden, or kept
// by another tool.
func ignoredDir(base string) bool {
	return strings.HasPrefix(base, ".") || base == "node_modules" || base == "vendor"
}
