package workspace

import (
	"io/fs"
	"os"
	"path/filepath"
)

// HouseFile is the name of the file that marks a workspace.
const HouseFile = "house" + Extension

// A Root is the folder of a workspace.
type Root struct {
	Dir   string // absolute
	House bool   // a house file marks it; otherwise it is only the folder that was asked for
}

// Find looks for the workspace that a file or folder is in: the nearest folder upward
// with a house file, else the folder itself.
func Find(name string) (Root, error) {
	abs, err := filepath.Abs(name)
	if err != nil {
		return Root{}, err
	}
	info, err := os.Stat(abs)
	if err != nil {
		return Root{}, err
	}
	start := abs
	if !info.IsDir() {
		start = filepath.Dir(abs)
	}
	for dir := start; ; {
		if info, err := os.Stat(filepath.Join(dir, HouseFile)); err == nil && info.Mode().IsRegular() {
			return Root{Dir: dir, House: true}, nil
		}
		up := filepath.Dir(dir)
		if up == dir {
			return Root{Dir: start}, nil
		}
		dir = up
	}
}

// NestedRoots names the folders below a folder that have a house of their own, from the
// folder and with slashes, by name. They are workspaces apart: List leaves them out.
func NestedRoots(dir string) ([]string, error) {
	dir, err := filepath.EvalSymlinks(dir)
	if err != nil {
		return nil, err
	}
	var out []string
	err = filepath.WalkDir(dir, func(name string, e fs.DirEntry, err error) error {
		switch {
		case err != nil || name == dir:
			return nil
		case e.IsDir() && ignoredDir(e.Name()):
			return filepath.SkipDir
		case e.IsDir() || e.Name() != HouseFile || filepath.Dir(name) == dir:
			return nil
		}
		rel, err := filepath.Rel(dir, filepath.Dir(name))
		out = append(out, filepath.ToSlash(rel))
		return err
	})
	return out, err
}
