package editors

import (
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"math"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
)

// A metaModel is the protocol as its makers publish it for programs to read: what every
// message holds. It comes with the protocol's module.
type metaModel struct {
	Requests       []*metaMethod `json:"requests"`
	Notifications  []*metaMethod `json:"notifications"`
	Structures     []*metaStruct `json:"structures"`
	Enumerations   []*metaEnum   `json:"enumerations"`
	TypeAliases    []*metaAlias  `json:"typeAliases"`
	methods        map[string]*metaMethod
	structs        map[string]*metaStruct
	enums          map[string]*metaEnum
	aliases        map[string]*metaType
	propertiesOnce map[string]map[string]metaProperty
}

type metaMethod struct {
	Method              string    `json:"method"`
	Params              *metaType `json:"params"`
	Result              *metaType `json:"result"` // of requests only
	RegistrationMethod  string    `json:"registrationMethod"`
	RegistrationOptions *metaType `json:"registrationOptions"`
	Direction           string    `json:"messageDirection"`
	Capability          string    `json:"serverCapability"` // where the server says that it can do this
}

type metaStruct struct {
	Name       string         `json:"name"`
	Properties []metaProperty `json:"properties"`
	Extends    []*metaType    `json:"extends"`
	Mixins     []*metaType    `json:"mixins"`
}

type metaProperty struct {
	Name     string    `json:"name"`
	Type     *metaType `json:"type"`
	Optional bool      `json:"optional"`
}

type metaEnum struct {
	Name   string    `json:"name"`
	Type   *metaType `json:"type"`
	Values []struct {
		Value any `json:"value"`
	} `json:"values"`
	Custom bool `json:"supportsCustomValues"`
}

type metaAlias struct {
	Name string    `json:"name"`
	Type *metaType `json:"type"`
}

type metaType struct {
	Kind    string          `json:"kind"`
	Name    string          `json:"name"`
	Items   []*metaType     `json:"items"`
	Element *metaType       `json:"element"`
	Key     *metaType       `json:"key"`
	Value   json.RawMessage `json:"value"` // a type of maps, a structure of literals, a value of others
}

// theModel is read once for all tests.
var theModel = sync.OnceValues(func() (*metaModel, error) {
	dir, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}", "go.lsp.dev/protocol").Output()
	if err != nil {
		return nil, fmt.Errorf("where the protocol's module is: %w", err)
	}
	text, err := os.ReadFile(filepath.Join(strings.TrimSpace(string(dir)), "internal", "genlsp", "testdata", "metaModel.json"))
	if err != nil {
		return nil, err
	}
	m := &metaModel{methods: map[string]*metaMethod{}, structs: map[string]*metaStruct{}, enums: map[string]*metaEnum{},
		aliases: map[string]*metaType{}, propertiesOnce: map[string]map[string]metaProperty{}}
	if err := unmarshal(text, m); err != nil {
		return nil, err
	}
	for _, r := range slices.Concat(m.Requests, m.Notifications) {
		m.methods[r.Method] = r
	}
	for _, s := range m.Structures {
		m.structs[s.Name] = s
	}
	for _, e := range m.Enumerations {
		m.enums[e.Name] = e
	}
	for _, a := range m.TypeAliases {
		m.aliases[a.Name] = a.Type
	}
	return m, nil
})

// unmarshal reads JSON with its numbers as they are written.
func unmarshal(text []byte, into any) error {
	d := json.NewDecoder(strings.NewReader(string(text)))
	d.UseNumber()
	return d.Decode(into)
}

// check says where a value is not what a type asks for, and why; nil if it is.
func (m *metaModel) check(at string, t *metaType, v any) error {
	wrong := func(want string) error { return fmt.Errorf("%s: %s where %s is asked for", at, brief(v), want) }
	switch t.Kind {
	case "base":
		if !isBase(t.Name, v) {
			return wrong("a " + t.Name)
		}
		return nil
	case "reference":
		return m.checkNamed(at, t.Name, v)
	case "array":
		list, ok := v.([]any)
		if !ok {
			return wrong("an array")
		}
		for i, e := range list {
			if err := m.check(fmt.Sprintf("%s[%d]", at, i), t.Element, e); err != nil {
				return err
			}
		}
		return nil
	case "tuple":
		list, ok := v.([]any)
		if !ok || len(list) != len(t.Items) {
			return wrong(fmt.Sprintf("an array of %d", len(t.Items)))
		}
		for i, e := range list {
			if err := m.check(fmt.Sprintf("%s[%d]", at, i), t.Items[i], e); err != nil {
				return err
			}
		}
		return nil
	case "map":
		return m.checkMap(at, t, v)
	case "or":
		var errs []error
		for _, item := range t.Items {
			err := m.check(at, item, v)
			if err == nil {
				return nil
			}
			errs = append(errs, err)
		}
		return deepest(errs)
	case "and":
		all := map[string]metaProperty{}
		for _, item := range t.Items {
			maps.Copy(all, m.properties(m.structs[item.Name]))
		}
		return m.checkProperties(at, all, v)
	case "literal":
		var s metaStruct
		if err := unmarshal(t.Value, &s); err != nil {
			return err
		}
		return m.checkProperties(at, m.properties(&s), v)
	case "stringLiteral", "integerLiteral", "booleanLiteral":
		var want any
		if err := unmarshal(t.Value, &want); err != nil {
			return err
		}
		if v != want {
			return wrong(brief(want))
		}
		return nil
	}
	return fmt.Errorf("%s: the model has a kind of type that this test does not know: %s", at, t.Kind)
}

func (m *metaModel) checkNamed(at, name string, v any) error {
	switch name {
	case "LSPAny":
		return nil
	case "LSPObject":
		if _, ok := v.(map[string]any); !ok {
			return fmt.Errorf("%s: %s where an object is asked for", at, brief(v))
		}
		return nil
	}
	if s := m.structs[name]; s != nil {
		if err := m.checkProperties(at, m.properties(s), v); err != nil {
			return err
		}
		return sane(at, name, v.(map[string]any))
	}
	if e := m.enums[name]; e != nil {
		if !e.Custom && !slices.ContainsFunc(e.Values, func(x struct {
			Value any `json:"value"`
		}) bool {
			return x.Value == v
		}) {
			return fmt.Errorf("%s: %s is no %s", at, brief(v), name)
		}
		return m.check(at, e.Type, v)
	}
	if a := m.aliases[name]; a != nil {
		return m.check(at, a, v)
	}
	return fmt.Errorf("%s: the model has no type %s", at, name)
}

func (m *metaModel) checkMap(at string, t *metaType, v any) error {
	object, ok := v.(map[string]any)
	if !ok {
		return fmt.Errorf("%s: %s where an object is asked for", at, brief(v))
	}
	var of metaType
	if err := unmarshal(t.Value, &of); err != nil {
		return err
	}
	for _, k := range slices.Sorted(maps.Keys(object)) {
		var key any = k
		if t.Key.Kind == "base" && (t.Key.Name == "integer" || t.Key.Name == "uinteger") {
			key = json.Number(k)
		}
		if err := m.check(at+"."+k, t.Key, key); err != nil {
			return err
		}
		if err := m.check(at+"."+k, &of, object[k]); err != nil {
			return err
		}
	}
	return nil
}

// properties are those of a structure and of all that it is made from.
func (m *metaModel) properties(s *metaStruct) map[string]metaProperty {
	if all, ok := m.propertiesOnce[s.Name]; ok && s.Name != "" {
		return all
	}
	all := map[string]metaProperty{}
	for _, t := range slices.Concat(s.Mixins, s.Extends) {
		maps.Copy(all, m.properties(m.structs[t.Name]))
	}
	for _, p := range s.Properties {
		all[p.Name] = p
	}
	if s.Name != "" {
		m.propertiesOnce[s.Name] = all
	}
	return all
}

func (m *metaModel) checkProperties(at string, all map[string]metaProperty, v any) error {
	object, ok := v.(map[string]any)
	if !ok {
		return fmt.Errorf("%s: %s where an object is asked for", at, brief(v))
	}
	for _, k := range slices.Sorted(maps.Keys(object)) {
		p, ok := all[k]
		if !ok {
			return fmt.Errorf("%s: a property %s, which is none of its own", at, k)
		}
		if err := m.check(at+"."+k, p.Type, object[k]); err != nil {
			return err
		}
	}
	for name, p := range all {
		if _, ok := object[name]; !ok && !p.Optional {
			return fmt.Errorf("%s: no %s", at, name)
		}
	}
	return nil
}

// sane holds what the model says in words only.
func sane(at, name string, v map[string]any) error {
	switch name {
	case "Range":
		if before(v["end"], v["start"]) {
			return fmt.Errorf("%s: a range that ends before it starts: %s", at, brief(v))
		}
	case "SemanticTokens":
		if data, _ := v["data"].([]any); len(data)%5 != 0 {
			return fmt.Errorf("%s.data: %d numbers, which is no multiple of five", at, len(data))
		}
	case "DocumentSymbol":
		r, _ := v["range"].(map[string]any)
		s, _ := v["selectionRange"].(map[string]any)
		if before(s["start"], r["start"]) || before(r["end"], s["end"]) {
			return fmt.Errorf("%s: what is selected is not inside the symbol", at)
		}
	}
	return nil
}

func before(a, b any) bool {
	la, ca := position(a)
	lb, cb := position(b)
	return la < lb || la == lb && ca < cb
}

func position(v any) (line, character int64) {
	p, _ := v.(map[string]any)
	l, _ := p["line"].(json.Number)
	c, _ := p["character"].(json.Number)
	line, _ = l.Int64()
	character, _ = c.Int64()
	return line, character
}

func isBase(name string, v any) bool {
	switch name {
	case "null":
		return v == nil
	case "boolean":
		_, ok := v.(bool)
		return ok
	case "string", "RegExp":
		_, ok := v.(string)
		return ok
	case "URI", "DocumentUri":
		s, ok := v.(string)
		if !ok {
			return false
		}
		u, err := url.Parse(s)
		return err == nil && u.Scheme != ""
	case "decimal":
		_, ok := v.(json.Number)
		return ok
	case "integer", "uinteger":
		n, ok := v.(json.Number)
		if !ok {
			return false
		}
		i, err := n.Int64()
		return err == nil && i <= math.MaxInt32 && i >= math.MinInt32 && (name == "integer" || i >= 0)
	}
	return false
}

// deepest is the error that is furthest inside the value: of a union, the one that the
// sender is likely to have meant.
func deepest(errs []error) error {
	if len(errs) == 0 {
		return errors.New("a union of nothing")
	}
	return slices.MaxFunc(errs, func(a, b error) int {
		return pathLength(a) - pathLength(b)
	})
}

func pathLength(err error) int {
	path, _, _ := strings.Cut(err.Error(), ": ")
	return strings.Count(path, ".") + strings.Count(path, "[")
}

func brief(v any) string {
	text, err := json.Marshal(v)
	if err != nil {
		return err.Error()
	}
	if len(text) > 120 {
		return string(text[:117]) + "..."
	}
	return string(text)
}
