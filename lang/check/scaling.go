package check

import (
	"slices"
	"strings"

	"stint.example/stint/lang/analysis/substitute"
	"stint.example/stint/lang/book"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
)

// reportVersion adds a finding about a version, whatever is found on the same words in
// another one.
func (p *pass) reportVersion(d diag.Diagnostic) {
	d.Rule = p.rule.Name
	if d.Severity == diag.Off || d.Severity > p.rule.Severity {
		d.Severity = p.rule.Severity
	}
	// What is wrong in a version is wrong in those that start from it: once is enough.
	for _, v := range append(slices.Clone(p.version.From), p.version.Name) {
		message := inVersion(v, d.Message)
		if slices.ContainsFunc(*p.found, func(o diag.Diagnostic) bool { return o.Rule == d.Rule && o.At == d.At && o.Message == message }) {
			return
		}
	}
	d.Message = inVersion(p.version.Name, d.Message)
	*p.found = append(*p.found, d)
}

func inVersion(name, message string) string { return "in the version " + name + ", " + message }

// readable says whether all of the session at hand, and of its scalings, could be read:
// else what a version lacks may well be on a line that could not.
func (p *pass) readable() bool {
	in := func(d diag.Diagnostic) bool {
		return d.Severity == diag.Error && d.At.File == p.written.At.File && p.written.Block.Contains(d.At.Start)
	}
	return !slices.ContainsFunc(p.given, in) && !slices.ContainsFunc(p.File.Syntax.Diags, in)
}

// here is a place in the file of the session: words of a version may stand in the house's.
func (p *pass) here(at source.Place) bool { return at.File == p.File.Syntax.Src }

// scalingBlock is the session's own scaling of a name, or nil.
func (p *pass) scalingBlock(name string) *syntax.Block {
	for _, b := range p.File.Syntax.Roots {
		if s, ok := b.Line.Stmt.(*syntax.Scaling); ok && p.written.Block.Contains(b.Line.Body) && book.Key(s.Name.Text) == book.Key(name) {
			return b
		}
	}
	return nil
}

// writeSwaps is an edit that puts swaps into the session's scaling of a name: before its
// totals or, where it has none, in a scaling of their own behind the session.
func (p *pass) writeSwaps(name string, swaps []substitute.Replacement) diag.Edit {
	src := p.File.Syntax.Src
	b := p.scalingBlock(name)
	if b == nil {
		end := p.written.Block.Start
		for _, r := range p.File.Syntax.Roots {
			if r.Line.Stmt != nil && p.written.Block.Contains(r.Line.Body) {
				end = max(end, endOf(r)) // a comment behind it may be of the next session
			}
		}
		at := source.Span{Start: end, End: end}
		return diag.Edit{At: src.At(at), New: substitute.Block(name, swaps)}
	}
	last := b
	for _, k := range b.Kids {
		if prop, ok := k.Line.Stmt.(*syntax.Property); ok && prop.Key == "total" {
			break
		}
		last = k
	}
	end := last.Line.Body + last.Line.Len
	if last != b {
		end = endOf(last)
	}
	indent := "\n" + strings.Repeat("  ", b.Line.Depth+1)
	return diag.Edit{At: src.At(source.Span{Start: end, End: end}), New: indent + strings.Join(substitute.Lines(swaps), indent)}
}

// endOf is where the last line of a block ends.
func endOf(b *syntax.Block) int {
	end := b.Line.Body + b.Line.Len
	for _, k := range b.Kids {
		end = max(end, endOf(k))
	}
	return end
}

// WriteScaling is an edit that writes swaps from the book into a session's scaling of a
// name, the one that it has or a new one, so that its members can do all of it with the kit
// that they have. Left names the work that the book has nothing for. There is no edit where
// nothing lacks.
func WriteScaling(env *model.Env, f *model.File, s *model.Session, version string) (e diag.Edit, left []string, ok bool) {
	p := &pass{Env: env, File: f, written: s}
	swaps, lack := substitute.Replacements(env, s, version)
	if len(swaps) == 0 {
		return e, nil, false
	}
	return p.writeSwaps(version, swaps), leftOver(lack), true
}
