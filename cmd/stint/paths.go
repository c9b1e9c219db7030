package main

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
)

// shown is how a path is written for people and other programs: from the current
// folder, with slashes.
func shown(name string) string {
	abs, err := filepath.Abs(name)
	if err != nil {
		return filepath.ToSlash(name)
	}
	here, err := os.Getwd()
	if err != nil {
		return filepath.ToSlash(abs)
	}
	rel, err := filepath.Rel(here, abs)
	if err != nil { // another drive
		return filepath.ToSlash(abs)
	}
	return filepath.ToSlash(rel)
}

// folder is how a folder is called in a sentence.
func folder(name string) string {
	if s := shown(name); s != "." {
		return s
	}
	return "this folder"
}

// reason is what went wrong with a file, without the call and the path that failed:
// the sentence around it says those.
func reason(err error) error {
	var path *fs.PathError
	var link *os.LinkError
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return errors.New("there is no such file or folder")
	case errors.As(err, &path):
		return path.Err
	case errors.As(err, &link):
		return link.Err
	}
	return err
}
