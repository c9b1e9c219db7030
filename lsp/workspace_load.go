package lsp

import (
	"context"
	"errors"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"

	"stint.example/stint/lang/ide/wording"
	"stint.example/stint/lang/workspace"
)

// loadFolder reads a workspace from disk, with the open documents in the place of their files.
// While thousands of files are parsed, requests see a partial snapshot: the open documents and
// what they depend on.
func (s *Server) loadFolder(ctx context.Context, f *workspaceFolder) {
	end := func() {}
	defer func() { end() }()
	for more := true; more && ctx.Err() == nil; {
		texts := s.readTexts(ctx, f)
		if len(texts) >= progressThreshold {
			end()
			end = s.progress(ctx, "Reading "+wording.Count(len(texts), "file")+" of "+filepath.Base(f.root.Dir))
		}
		s.mu.Lock()
		open := s.overlayOpenDocuments(f, texts)
		first, partial := f.snap == nil, false
		s.mu.Unlock()
		if few := workspace.PartialTexts(texts, open...); first && len(few) < len(texts) && len(open) > 0 {
			snap := workspace.Make(f.root, few)
			s.mu.Lock()
			f.partial = s.applyOpenDocuments(f, snap)
			close(f.partialLoaded)
			partial = true
			s.changed()
			s.mu.Unlock()
		}
		snap := workspace.Make(f.root, texts)

		s.mu.Lock()
		f.snap = s.applyOpenDocuments(f, snap)
		f.partial = nil
		f.loading = false
		for name := range f.changedFiles {
			s.reloadFiles(f, name)
		}
		f.changedFiles = nil
		if more = f.reloadQueued; more {
			f.reloadQueued, f.loading = false, true
		}
		if first {
			if !partial {
				close(f.partialLoaded)
			}
			close(f.loaded)
		}
		s.changed()
		s.mu.Unlock()
	}
}

// progressThreshold is from how many files on a load is reported as work-done progress.
const progressThreshold = 500

// reloadFolder loads a workspace again, because which files it has may have changed. It is called
// with the lock held.
func (s *Server) reloadFolder(ctx context.Context, f *workspaceFolder) {
	if f.root.Dir == "" {
		return
	}
	if f.loading {
		f.reloadQueued = true
		return
	}
	f.loading = true
	s.spawn(func() { s.loadFolder(ctx, f) })
}

// readTexts reads the files of a workspace from disk. One that cannot be read is left out, with a
// warning.
func (s *Server) readTexts(ctx context.Context, f *workspaceFolder) map[string]string {
	list := workspace.List
	if f.flat {
		list = listFlat
	}
	names, err := list(f.root.Dir)
	if err != nil {
		s.log.warnOnce("cannot read the workspace %s: %v", f.root.Dir, err)
	}
	texts := make(map[string]string, len(names))
	for _, n := range names {
		if ctx.Err() != nil {
			break
		}
		text, err := readText(f.abs(n))
		if err != nil {
			s.log.warnOnce("left out: %v", err)
			continue
		}
		texts[n] = text
	}
	return texts
}

// listFlat names the files directly in a folder.
func listFlat(dir string) ([]string, error) {
	entries, err := os.ReadDir(dir)
	var out []string
	for _, e := range entries {
		if !e.IsDir() && workspace.IsListed(e.Name()) {
			out = append(out, e.Name())
		}
	}
	return out, err
}

// readText reads a file, unless it is too long to be one in the notation.
func readText(name string) (string, error) {
	info, err := os.Stat(name)
	if err != nil {
		return "", err
	}
	if !info.Mode().IsRegular() {
		return "", &fs.PathError{Op: "read", Path: name, Err: errors.New("not a file")}
	}
	if info.Size() > maxTextLen {
		return "", &fs.PathError{Op: "read", Path: name, Err: errTooLong}
	}
	text, err := os.ReadFile(name)
	return string(text), err
}

// overlayOpenDocuments replaces the texts on disk by those of the open documents, and returns
// their paths. It is called with the lock held.
func (s *Server) overlayOpenDocuments(f *workspaceFolder, texts map[string]string) []string {
	var open []string
	for _, b := range s.docs {
		if b.folder == f {
			texts[b.name] = b.text
			open = append(open, b.name)
		}
	}
	slices.Sort(open)
	return open
}

// applyOpenDocuments is a snapshot that was made in the background, with the open documents as
// they are now. It is called with the lock held.
func (s *Server) applyOpenDocuments(f *workspaceFolder, snap *workspace.Snapshot) *workspace.Snapshot {
	for _, b := range s.docs {
		if b.folder != f {
			continue
		}
		snap = snap.With(b.name, b.text) // also where the text is as on disk: the tree of an open document is kept
	}
	return snap
}

// reloadFiles reads files from disk again, except for those that are open. It is called with the
// lock held.
func (s *Server) reloadFiles(f *workspaceFolder, names ...string) {
	if f.loading {
		if f.changedFiles == nil {
			f.changedFiles = map[string]bool{}
		}
		for _, n := range names {
			f.changedFiles[n] = true
		}
	}
	if f.snap == nil && f.partial == nil {
		return
	}
	open := map[string]bool{}
	for _, b := range s.docs {
		if b.folder == f {
			open[b.name] = true
		}
	}
	for _, name := range names {
		if open[name] {
			continue
		}
		text, err := "", fs.ErrNotExist
		if f.root.Dir != "" && workspace.IsListed(name) {
			text, err = readText(f.abs(name))
		}
		if err != nil && !errors.Is(err, fs.ErrNotExist) {
			s.log.warnOnce("left out: %v", err)
		}
		f.updateSnapshots(func(snap *workspace.Snapshot) *workspace.Snapshot {
			if err != nil {
				return snap.Without(name)
			}
			if file := snap.File(name); file != nil && file.Src.Text == text {
				return snap
			}
			return snap.With(name, text)
		})
	}
	s.changed()
}

// updateSnapshots changes the folder's snapshots, the partial one and the whole one.
func (f *workspaceFolder) updateSnapshots(change func(*workspace.Snapshot) *workspace.Snapshot) {
	if f.snap != nil {
		f.snap = change(f.snap)
	}
	if f.partial != nil {
		f.partial = change(f.partial)
	}
}

// filesBelow are the files of the folder that are in a folder of it, or at the path
// itself.
func (f *workspaceFolder) filesBelow(name string) []string {
	names := map[string]bool{name: true}
	if f.snap != nil {
		for _, file := range f.snap.Files {
			if len(file.Path) > len(name) && file.Path[:len(name)] == name && file.Path[len(name)] == '/' {
				names[file.Path] = true
			}
		}
	}
	return slices.Sorted(maps.Keys(names))
}
