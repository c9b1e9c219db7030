package workspace

import (
	"bytes"
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A node is a JSON value that keeps the order of its keys.
type node struct {
	kind byte // '{', '[', or 'v' for a value that holds no others
	keys []string
	vals []*node
	raw  string
}

func readNode(data []byte) (*node, error) {
	d := json.NewDecoder(bytes.NewReader(data))
	d.UseNumber()
	return decode(d)
}

func decode(d *json.Decoder) (*node, error) {
	tok, err := d.Token()
	if err != nil {
		return nil, err
	}
	delim, ok := tok.(json.Delim)
	if !ok {
		var b bytes.Buffer
		e := json.NewEncoder(&b)
		e.SetEscapeHTML(false)
		err := e.Encode(tok)
		return &node{kind: 'v', raw: strings.TrimSpace(b.String())}, err
	}
	n := &node{kind: byte(delim)}
	for d.More() {
		if n.kind == '{' {
			key, err := d.Token()
			if err != nil {
				return nil, err
			}
			n.keys = append(n.keys, key.(string))
		}
		v, err := decode(d)
		if err != nil {
			return nil, err
		}
		n.vals = append(n.vals, v)
	}
	_, err = d.Token()
	return n, err
}

func (n *node) get(key string) *node {
	if i := slices.Index(n.keys, key); i >= 0 {
		return n.vals[i]
	}
	return nil
}

func (n *node) set(key string, v *node) {
	n.keys, n.vals = append(n.keys, key), append(n.vals, v)
}

func (n *node) drop(keep func(key string, v *node) bool) {
	var keys []string
	var vals []*node
	for i, v := range n.vals {
		if keep(n.keys[i], v) {
			keys, vals = append(keys, n.keys[i]), append(vals, v)
		}
	}
	n.keys, n.vals = keys, vals
}

// usual are values that go without saying.
var usual = map[string]string{
	"form":     `"one"`,
	"doseFrom": `"line"`,
	"known":    "true",
	"repeat":   `{"kind": "once"}`,
	"of":       `{"kind": "RM", "reps": 1}`,
}

// reduce takes out places, what is empty, what is usual, and of movements all but the
// name; it shortens steps and quantities. Key is what the node is in its object.
func (n *node) reduce(key string) {
	for i, v := range n.vals {
		k := key
		if n.kind == '{' {
			k = n.keys[i]
		}
		v.reduce(k)
	}
	if n.kind != '{' {
		return
	}
	n.drop(func(k string, v *node) bool {
		switch {
		case k == "at" || (k == "trains" || k == "joints" || k == "needs") && n.get("movement") != nil:
			return false
		case v.raw == "null" || v.raw == `""` || v.raw == "false" && k != "known" || v.kind != 'v' && len(v.vals) == 0:
			return false
		}
		return usual[k] == "" || usual[k] != v.String()
	})
	if kind, word := n.get("kind"), n.get("word"); kind != nil && word != nil && kind.raw == word.raw {
		n.take("word") // rising
	}
	if n.get("interval") != nil {
		n.take("whole") // of an emom, and no more than its starts
	}
	if unit := n.get("unit"); unit != nil && (n.get("terms") != nil || n.get("max") != nil) {
		n.shortQuantity(unit.text())
	}
	switch step := n.take("step"); {
	case step == nil:
	case step.text() == "group":
		name := n.take("kind").text()
		for _, k := range []string{"letter", "number", "label"} {
			if v := n.take(k); v != nil {
				name += " " + v.text()
			}
		}
		if last := n.take("last"); last != nil && !strings.HasSuffix(name, " "+last.text()) {
			name += "-" + last.text()
		}
		n.lead("group", value(name))
	case step.text() == "work":
		moves := n.take("moves")
		for i, m := range moves.vals {
			if len(m.keys) == 1 {
				moves.vals[i] = m.vals[0]
			}
		}
		if len(moves.vals) == 1 {
			moves = moves.vals[0]
		}
		n.lead("work", moves)
	case step.text() == "rest" && (key == "steps" || key == "rests"):
		n.lead("rest", n.take("place"))
	case step.text() == "tag":
		n.lead("tag", &node{kind: 'v', raw: "true"})
	}
}

// shortQuantity writes {"unit": "kg", "terms": [[24, 16]]} as {"kg": [24, 16]}, and
// {"unit": "rep", "form": "range", "terms": [[8], [12]]} as {"rep": {"range": [8, 12]}}.
func (n *node) shortQuantity(unit string) {
	short := value("max")
	if terms := n.get("terms"); terms != nil {
		for i, row := range terms.vals {
			if len(row.vals) == 1 {
				terms.vals[i] = row.vals[0]
			}
		}
		short = terms.vals[0]
		if form := n.get("form"); form != nil {
			short = &node{kind: '{'}
			short.set(form.text(), terms)
			if open := n.get("open"); open != nil {
				short.set("open", open)
			}
		}
		for _, bound := range []*node{n.get("bound"), n.get("orMore")} {
			if bound != nil {
				key := bound.text()
				if key == "true" {
					key = "orMore"
				}
				short = &node{kind: '{', keys: []string{key}, vals: []*node{short}}
			}
		}
	}
	n.drop(func(k string, _ *node) bool { return k == "written" && unit != "s" })
	n.lead(unit, short)
}

func value(text string) *node { return &node{kind: 'v', raw: `"` + text + `"`} }

func (n *node) text() string { return strings.Trim(n.raw, `"`) }

// take takes out what a key has.
func (n *node) take(key string) *node {
	v := n.get(key)
	n.drop(func(k string, _ *node) bool { return k != key })
	return v
}

// lead puts a key before all others.
func (n *node) lead(key string, v *node) {
	n.keys, n.vals = slices.Insert(n.keys, 0, key), slices.Insert(n.vals, 0, v)
}

// dropSame takes out of an object what another has too.
func (n *node) dropSame(o *node) {
	n.drop(func(k string, v *node) bool { other := o.get(k); return other == nil || other.String() != v.String() })
}

// reduceVersions leaves in a session's versions only what differs from it.
func (n *node) reduceVersions() {
	versions := n.get("versions")
	if versions == nil {
		return
	}
	parts := n.get("parts")
	for _, v := range versions.vals {
		s := v.get("session")
		changed := s.get("parts")
		s.dropSame(n)
		s.drop(func(k string, _ *node) bool { return k != "version" })
		if s.get("parts") == nil || parts == nil {
			continue
		}
		var all []string
		for _, p := range parts.vals {
			all = append(all, p.String())
		}
		changed.vals = slices.DeleteFunc(slices.Clone(changed.vals),
			func(p *node) bool { return slices.Contains(all, p.String()) })
	}
}

// wide is how long a line of printed JSON may be.
const wide = 100

// String prints the node, what fits on a line on one line.
func (n *node) String() string { return n.print(0, 0) }

// print prints with so much before the node on its line, and its own indent.
func (n *node) print(before, indent int) string {
	if one := n.line(); before+len(one) <= wide || n.kind == 'v' || len(n.vals) == 0 {
		return one
	}
	pad := strings.Repeat(" ", indent+2)
	var b strings.Builder
	b.WriteByte(n.kind)
	for i, v := range n.vals {
		key := ""
		if n.kind == '{' {
			key = `"` + n.keys[i] + `": `
		}
		b.WriteString("\n" + pad + key + v.print(len(pad)+len(key)+1, indent+2))
		if i < len(n.vals)-1 {
			b.WriteByte(',')
		}
	}
	b.WriteString("\n" + strings.Repeat(" ", indent))
	b.WriteByte(n.kind + 2) // the closing one of either kind
	return b.String()
}

func (n *node) line() string {
	if n.kind == 'v' {
		return n.raw
	}
	var out []string
	for i, v := range n.vals {
		text := v.line()
		if n.kind == '{' {
			text = `"` + n.keys[i] + `": ` + text
		}
		out = append(out, text)
	}
	return string(n.kind) + strings.Join(out, ", ") + string(n.kind+2)
}

func TestNodes(t *testing.T) {
	n, err := readNode([]byte(`{"b":[1,2.50],"at":{"file":"x"},"a":{"form":"one","e":""},"known":false,"s":"a -> b"}`))
	require.NoError(t, err)
	n.reduce("")
	assert.Equal(t, `{"b": [1, 2.50], "known": false, "s": "a -> b"}`, n.String())
	n, err = readNode([]byte(`{"step":"work","moves":[{"movement":"burpee","at":null}],"dose":{"unit":"rep","form":"series","terms":[[2,1],[4,2]],"open":true}}`))
	require.NoError(t, err)
	n.reduce("steps")
	assert.Equal(t, `{"work": "burpee", "dose": {"rep": {"series": [[2, 1], [4, 2]], "open": true}}}`, n.String())
	for text, want := range map[string]string{
		`{"unit":"rep","terms":[[5]],"bound":"at least"}`:                       `{"rep": {"at least": 5}}`,
		`{"step":"group","kind":"round","number":1,"last":3,"cap":null}`:        `{"group": "round 1-3"}`,
		`{"step":"group","kind":"round","number":5,"last":5}`:                   `{"group": "round 5"}`,
		`{"step":"group","kind":"label","label":"buy-in","repeat":{"at":null}}`: `{"group": "label buy-in"}`,
		`{"kind":"rising","word":"rising"}`:                                     `{"kind": "rising"}`,
		`{"kind":"rising","word":"faster"}`:                                     `{"kind": "rising", "word": "faster"}`,
	} {
		n, err = readNode([]byte(text))
		require.NoError(t, err)
		n.reduce("steps")
		assert.Equal(t, want, n.String())
	}
	long := strings.Repeat("x", wide)
	n, err = readNode([]byte(`{"a":["` + long + `",{"b":1}]}`))
	require.NoError(t, err)
	assert.Equal(t, "{\n  \"a\": [\n    \""+long+"\",\n    {\"b\": 1}\n  ]\n}", n.String())
}
