package book

import (
	"embed"
	"fmt"
	"io/fs"
	"sync"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
)

//go:embed data/*.stint
var data embed.FS

// Files are the texts of the built-in book, as source files named builtin/NAME.
var Files = sync.OnceValue(func() []*source.File {
	entries, err := fs.ReadDir(data, "data")
	if err != nil {
		panic(err) // the files are compiled in
	}
	var out []*source.File
	for _, e := range entries {
		text, err := fs.ReadFile(data, "data/"+e.Name())
		if err != nil {
			panic(err)
		}
		out = append(out, source.New("builtin/"+e.Name(), string(text)))
	}
	return out
})

// Builtin is the book that every workspace starts with.
var Builtin = sync.OnceValue(func() *Book {
	b, ds := load()
	if len(ds) > 0 {
		// The tests load the book, so that no release has one that does not load.
		panic(fmt.Sprintf("the built-in book: %s: %s", ds[0].At.Text(), ds[0].Message))
	}
	return b
})

func load() (*Book, []diag.Diagnostic) {
	var all []*Movement
	var ds []diag.Diagnostic
	var files []*syntax.File
	for _, src := range Files() {
		f := syntax.Parse(src)
		files = append(files, f)
		ms, found := Read(f)
		all = append(all, ms...)
		ds = append(append(ds, f.Diags...), found...)
	}
	b, taken := Make(all)
	ds = append(ds, taken...)
	for _, f := range files {
		ds = append(ds, b.Check(f)...)
	}
	return b, ds
}
