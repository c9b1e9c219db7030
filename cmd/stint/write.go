package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
)

// replace puts a new text in the place of a file's old one, all at once: whoever reads
// the file sees the one or the other, and a failure leaves the old. Permissions stay,
// and a link stays a link to the file that it leads to.
func replace(name, old, text string) error {
	if err := replaceTarget(name, old, text); err != nil {
		return fmt.Errorf("cannot write %s: %w", shown(name), reason(err))
	}
	return nil
}

func replaceTarget(name, old, text string) error {
	target, err := filepath.EvalSymlinks(name)
	if err != nil {
		return err
	}
	info, err := os.Stat(target)
	if err != nil {
		return err
	}
	// A rename would get round a file's own protection, so that is asked for first.
	if info.Mode().Perm()&0o222 == 0 {
		return errors.New("the file is read-only")
	}
	f, err := os.OpenFile(target, os.O_WRONLY, 0)
	if err != nil {
		return err
	}
	if err := f.Close(); err != nil {
		return err
	}
	now, err := os.ReadFile(target)
	switch {
	case err != nil:
		return err
	case string(now) == text: // written already, by another name
		return nil
	case string(now) != old:
		return errors.New("the file was changed by something else in the meantime; run the command again")
	}
	tmp, err := os.CreateTemp(filepath.Dir(target), ".stint-*.tmp")
	if err != nil {
		return fmt.Errorf("no file can be made beside it: %w", reason(err))
	}
	if err := fill(tmp, text, info.Mode().Perm()); err != nil {
		return errors.Join(err, os.Remove(tmp.Name()))
	}
	if err := os.Rename(tmp.Name(), target); err != nil {
		return errors.Join(err, os.Remove(tmp.Name()))
	}
	return nil
}

// fill writes a file and brings it to the disk.
func fill(f *os.File, text string, perm os.FileMode) error {
	_, err := f.WriteString(text)
	if err == nil {
		err = f.Chmod(perm)
	}
	if err == nil {
		err = f.Sync()
	}
	return errors.Join(err, f.Close())
}

// create writes files that must not be there yet, with the folders that they stand in.
// When one of them cannot be written, none is left.
func create(texts []newFile) (err error) {
	var made []string
	defer func() {
		if err == nil {
			return
		}
		for _, name := range made {
			err = errors.Join(err, os.Remove(name))
		}
	}()
	for _, t := range texts {
		if _, err := os.Lstat(t.name); err == nil {
			return fmt.Errorf("%s is there already, and nothing is written over", shown(t.name))
		}
	}
	for _, t := range texts {
		if err := os.MkdirAll(filepath.Dir(t.name), 0o777); err != nil {
			return fmt.Errorf("cannot make the folder of %s: %w", shown(t.name), reason(err))
		}
		f, err := os.OpenFile(t.name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
		if err != nil {
			return fmt.Errorf("cannot write %s: %w", shown(t.name), reason(err))
		}
		made = append(made, t.name)
		_, err = f.WriteString(t.text)
		if err := errors.Join(err, f.Close()); err != nil {
			return fmt.Errorf("cannot write %s: %w", shown(t.name), reason(err))
		}
	}
	return nil
}

// A newFile is a file to be made.
type newFile struct{ name, text string }
