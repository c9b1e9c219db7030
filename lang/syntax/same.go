package syntax

import (
	"reflect"
	"unicode"

	"stint.example/stint/lang/source"
	"stint.example/stint/lang/units"
)

var (
	spanType     = reflect.TypeFor[source.Span]()
	quantityType = reflect.TypeFor[Quantity]()
	nameType     = reflect.TypeFor[Name]()
)

// Same reports whether two pieces of tree say the same, wherever they stand and whichever
// spelling of a unit they use.
func Same(a, b any) bool { return same(reflect.ValueOf(a), reflect.ValueOf(b)) }

func same(a, b reflect.Value) bool {
	if !a.IsValid() || !b.IsValid() {
		return a.IsValid() == b.IsValid()
	}
	if a.Type() != b.Type() {
		return false
	}
	switch {
	case a.Type() == spanType:
		return true
	case a.Type() == quantityType:
		a, b = reflect.ValueOf(inSeconds(a.Interface().(Quantity))), reflect.ValueOf(inSeconds(b.Interface().(Quantity)))
	case a.Type() == nameType:
		return fold(a.Interface().(Name).Text) == fold(b.Interface().(Name).Text)
	}
	switch a.Kind() {
	case reflect.Pointer, reflect.Interface:
		if a.IsNil() || b.IsNil() {
			return a.IsNil() == b.IsNil()
		}
		return same(a.Elem(), b.Elem())
	case reflect.Slice:
		if a.Len() != b.Len() {
			return false
		}
		for i := range a.Len() {
			if !same(a.Index(i), b.Index(i)) {
				return false
			}
		}
		return true
	case reflect.Struct:
		for i := range a.NumField() {
			if !same(a.Field(i), b.Field(i)) {
				return false
			}
		}
		return true
	}
	return a.Equal(b)
}

// inSeconds is a duration with all its numbers as clock values.
func inSeconds(q Quantity) Quantity {
	u, ok := units.Lookup(q.Unit)
	if !ok || u.Dimension() != units.Time {
		return q
	}
	steps := make([]Step, len(q.Steps))
	for i, s := range q.Steps {
		steps[i] = s
		steps[i].Tiers = nil
		for _, n := range s.Tiers {
			if !n.Clock {
				n.Value, n.Clock = u.ToBase(n.Value), true
			}
			steps[i].Tiers = append(steps[i].Tiers, n)
		}
	}
	q.Steps, q.Unit = steps, ""
	return q
}

// ShiftSpans is a copy of a statement with all its spans shifted by a number of bytes, so
// that a piece of one line can stand in another.
func ShiftSpans(s Stmt, by int) Stmt {
	if s == nil {
		return nil
	}
	return shiftSpans(reflect.ValueOf(s), by).Interface().(Stmt)
}

func shiftSpans(v reflect.Value, by int) reflect.Value {
	if v.Type() == spanType {
		return reflect.ValueOf(v.Interface().(source.Span).Shift(by))
	}
	switch v.Kind() {
	case reflect.Pointer:
		if v.IsNil() {
			return v
		}
		out := reflect.New(v.Type().Elem())
		out.Elem().Set(shiftSpans(v.Elem(), by))
		return out
	case reflect.Interface:
		if v.IsNil() {
			return v
		}
		return shiftSpans(v.Elem(), by)
	case reflect.Slice:
		if v.IsNil() {
			return v
		}
		out := reflect.MakeSlice(v.Type(), v.Len(), v.Len())
		for i := range v.Len() {
			out.Index(i).Set(shiftSpans(v.Index(i), by))
		}
		return out
	case reflect.Struct:
		out := reflect.New(v.Type()).Elem()
		out.Set(v)
		for i := range v.NumField() {
			if f := out.Field(i); f.CanSet() {
				f.Set(shiftSpans(v.Field(i), by))
			} else {
				shiftNode(out, v, i, by)
			}
		}
		return out
	}
	return v
}

// shiftNode shifts the span of an embedded node, which reflection may not set because the
// type is not exported.
func shiftNode(out, in reflect.Value, i, by int) {
	if n, ok := out.Addr().Interface().(interface{ shift(int) }); ok && in.Type().Field(i).Anonymous {
		n.shift(by)
	}
}

func (n *node) shift(by int) { n.Span = n.Span.Shift(by) }

// fold is a name in the form in which names are compared.
func fold(name string) string {
	var out []rune
	for _, r := range name {
		if isBlank(r) || r == '-' || r == '\'' {
			continue
		}
		out = append(out, unicode.ToLower(r))
	}
	return string(out)
}
