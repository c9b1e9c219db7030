package lsp

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path"
	"path/filepath"
	"slices"
	"sync"

	"go.lsp.dev/uri"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/source"
	"stint.example/stint/spec"
)

// builtinPrefix is what the names of the built-in book's files begin with.
const builtinPrefix = "builtin/"

// builtinPages are the texts that come with stint, the built-in book and the pages of the rules,
// written where an editor can open them: read-only, under the user's cache folder, in a
// folder named for what is in it, so that two versions of stint do not meet.
type builtinPages struct {
	cache func() (string, error)        // the folder to write below
	log   func(format string, a ...any) // what went wrong, once

	once sync.Once
	dir  string // empty where it could not be written
}

// book names a file of the built-in book; empty if it cannot be had.
func (p *builtinPages) book(f *source.File) uri.URI {
	return p.at(path.Join("movements", path.Base(f.Name)))
}

// rule names the page of a rule; empty if there is none.
func (p *builtinPages) rule(name string) uri.URI {
	if _, err := fs.Stat(spec.FS, "rules/"+name+".md"); err != nil {
		return ""
	}
	return p.at("rules/" + name + ".md")
}

// holds says whether a path on disk is one of these pages.
func (p *builtinPages) holds(name string) bool {
	cache, err := p.cache()
	if err != nil {
		return false
	}
	rel, err := filepath.Rel(filepath.Join(cache, "stint"), name)
	return err == nil && filepath.IsLocal(rel)
}

func (p *builtinPages) at(name string) uri.URI {
	p.once.Do(func() {
		dir, err := p.write()
		if err != nil {
			p.log("cannot write the pages of the built-in book and the rules: %v", err)
			return
		}
		p.dir = dir
	})
	if p.dir == "" {
		return ""
	}
	return uri.File(filepath.Join(p.dir, filepath.FromSlash(name)))
}

// write writes all pages, unless they are there. They are made beside their place and
// moved there whole, so that nobody opens half a page.
func (p *builtinPages) write() (string, error) {
	texts := map[string]string{}
	for _, f := range book.Files() {
		texts[path.Join("movements", path.Base(f.Name))] = f.Text
	}
	rules, err := fs.Glob(spec.FS, "rules/*.md")
	if err != nil {
		return "", err
	}
	for _, name := range rules {
		text, err := fs.ReadFile(spec.FS, name)
		if err != nil {
			return "", err
		}
		texts[name] = string(text)
	}
	cache, err := p.cache()
	if err != nil {
		return "", err
	}
	dir := filepath.Join(cache, "stint", "book-"+sum(texts))
	if _, err := os.Stat(dir); err == nil {
		return dir, nil
	}
	if err := os.MkdirAll(filepath.Dir(dir), 0o755); err != nil {
		return "", err
	}
	making, err := os.MkdirTemp(filepath.Dir(dir), "making-")
	if err != nil {
		return "", err
	}
	defer os.RemoveAll(making)
	for name, text := range texts {
		name = filepath.Join(making, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
			return "", err
		}
		if err := os.WriteFile(name, []byte(text), 0o444); err != nil {
			return "", err
		}
	}
	if err := os.Rename(making, dir); err != nil {
		if _, there := os.Stat(dir); there == nil {
			return dir, nil // another server was faster
		}
		return "", err
	}
	return dir, nil
}

// sum names texts by what is in them.
func sum(texts map[string]string) string {
	h := sha256.New()
	for _, name := range slices.Sorted(maps.Keys(texts)) {
		fmt.Fprintf(h, "%s %d\n%s", name, len(texts[name]), texts[name])
	}
	return hex.EncodeToString(h.Sum(nil))[:16]
}
