// Package spec is the authority on the notation: the language, a page for each rule,
// and the schemas of what the tool prints, as text. Every example in it is executed by
// the tests.
package spec

import "embed"

// FS holds the pages (*.md, rules/*.md) and the schemas (schema/*.json).
//
//go:embed all:*.md all:rules all:schema
var FS embed.FS
