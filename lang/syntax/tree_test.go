package syntax_test

import (
	"fmt"
	"reflect"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"stint.example/stint/lang/internal/marktest"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/units"
)

// Good files, and all that is read in them.
func TestTrees(t *testing.T) {
	marktest.Glob(t, "testdata/tree/*.txtar", func(t *testing.T, c *marktest.Case) {
		for _, src := range c.Files() {
			f := syntax.Parse(src)
			c.Check(t, f.Diags)
			c.Golden(t, "tree", src.Name, tree(f))
		}
		assert.Empty(t, c.Markers(), "a file with mistakes belongs one folder up")
	})
}

// tree prints the statements of a file, each field with its place in the line's body
// and the words that stand there.
func tree(f *syntax.File) string {
	p := printer{}
	for i, l := range f.Lines {
		if l.Stmt == nil && l.Note == nil && l.Comment == nil {
			continue
		}
		p.body = f.Src.Slice(l.Span(source.Span{End: l.Len}))
		indent := strings.Repeat("  ", l.Depth)
		fmt.Fprintf(&p.out, "%s%d", indent, i+1)
		if l.Stmt != nil {
			fmt.Fprintf(&p.out, " %s\n", p.head(reflect.ValueOf(l.Stmt).Elem()))
			p.fields(reflect.ValueOf(l.Stmt).Elem(), indent+"    ")
		} else {
			fmt.Fprintln(&p.out)
		}
		if l.Note != nil {
			fmt.Fprintf(&p.out, "%s    > %q\n", indent, l.Note.Text)
		}
		if l.Comment != nil {
			fmt.Fprintf(&p.out, "%s    # %q\n", indent, l.Comment.Text)
		}
	}
	return p.out.String()
}

type printer struct {
	out  strings.Builder
	body string
}

var (
	spanType   = reflect.TypeFor[source.Span]()
	amountType = reflect.TypeFor[syntax.Amount]()
)

// spanOf is the span of a struct: its own, or that of what it is built on.
func spanOf(v reflect.Value) (source.Span, bool) {
	if v.Type() == spanType {
		return v.Interface().(source.Span), true
	}
	for i := range v.NumField() {
		if f := v.Type().Field(i); f.Anonymous && f.Type.Kind() == reflect.Struct {
			if s, ok := spanOf(v.Field(i)); ok {
				return s, true
			}
		}
	}
	return source.Span{}, false
}

// head is a struct's type, place and words, and those of its values that are plain.
func (p *printer) head(v reflect.Value) string {
	var b strings.Builder
	b.WriteString(v.Type().Name())
	if s, ok := spanOf(v); ok {
		fmt.Fprintf(&b, " %d-%d %q", s.Start, s.End, p.body[s.Start:s.End])
	}
	if a, ok := v.Interface().(syntax.Quantity); ok {
		return b.String() + " " + amount(a.Amount) + " " + unit(a.Unit)
	}
	if a, ok := v.Interface().(syntax.Amount); ok {
		return b.String() + " " + amount(a)
	}
	if a, ok := v.Interface().(syntax.Value); ok {
		return b.String() + " " + value(a)
	}
	for i := range v.NumField() {
		f := v.Field(i)
		name := v.Type().Field(i).Name
		switch f.Kind() {
		case reflect.String:
			if f.Len() > 0 {
				fmt.Fprintf(&b, " %s=%s", name, strconv.Quote(f.String()))
			}
		case reflect.Bool:
			if f.Bool() {
				b.WriteString(" " + name)
			}
		case reflect.Float64:
			if f.Float() != 0 {
				fmt.Fprintf(&b, " %s=%v", name, f.Float())
			}
		}
	}
	return b.String()
}

func (p *printer) fields(v reflect.Value, indent string) {
	if v.Type() == reflect.TypeFor[syntax.Quantity]() || v.Type() == amountType || v.Type() == reflect.TypeFor[syntax.Value]() {
		return
	}
	for i := range v.NumField() {
		if f := v.Type().Field(i); f.Anonymous || f.Type == spanType {
			continue
		}
		p.field(v.Type().Field(i).Name, v.Field(i), indent)
	}
}

func (p *printer) field(name string, v reflect.Value, indent string) {
	switch v.Kind() {
	case reflect.Pointer, reflect.Interface:
		if !v.IsNil() {
			p.field(name, v.Elem(), indent)
		}
	case reflect.Slice:
		for i := range v.Len() {
			p.field(fmt.Sprintf("%s[%d]", name, i), v.Index(i), indent)
		}
	case reflect.Struct:
		if v.IsZero() {
			return
		}
		fmt.Fprintf(&p.out, "%s%s: %s\n", indent, name, p.head(v))
		p.fields(v, indent+"  ")
	}
}

func amount(a syntax.Amount) string {
	var steps []string
	for _, s := range a.Steps {
		if s.Dots {
			steps = append(steps, "...")
			continue
		}
		steps = append(steps, value(s.Value))
	}
	return strings.TrimSpace(a.Bound + fmt.Sprintf(" %s(%s)", a.Form, strings.Join(steps, ", ")))
}

func value(v syntax.Value) string {
	var out []string
	for _, n := range v.Tiers {
		s := units.FormatNumber(n.Value)
		if n.Clock {
			s += "s"
		}
		out = append(out, s)
	}
	return strings.Join(out, "/")
}

func unit(u string) string {
	if u == "" {
		return "-"
	}
	return u
}
