package lsp

import (
	"cmp"
	"encoding/json"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"go.lsp.dev/protocol"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/source"
)

// maxSymbols is how many symbols an answer holds at most. Nobody reads further; whoever
// types one more letter gets other ones.
const maxSymbols = 100

// workspaceSymbols are the sessions, movements, cycles and houses of all workspaces whose
// names are like a query, the likest first. The movements of the built-in book are among
// them.
func workspaceSymbols(vs []*view, p protocol.WorkspaceSymbolParams) (protocol.WorkspaceSymbolResult, error) {
	query := strings.ToLower(p.Query)
	var found []symbolCandidate
	for i, v := range vs {
		if err := v.ctx.Err(); err != nil {
			return nil, err
		}
		for _, c := range v.candidates(i == 0) {
			if c.score = matchScore(strings.ToLower(c.name), query); c.score > 0 {
				found = append(found, c)
			}
		}
	}
	slices.SortStableFunc(found, func(a, b symbolCandidate) int {
		return cmp.Or(cmp.Compare(b.score, a.score), cmp.Compare(len(a.name), len(b.name)), cmp.Compare(a.name, b.name))
	})
	out := protocol.WorkspaceSymbolSlice{}
	for _, c := range found[:min(len(found), maxSymbols)] {
		if s, ok := c.symbol(); ok {
			out = append(out, s)
		}
	}
	return out, nil
}

// A symbolCandidate is a thing of a workspace that has a name.
type symbolCandidate struct {
	view  *view
	name  string
	kind  protocol.SymbolKind
	in    string // where it is, for people
	at    source.Place
	score int
}

// candidates are all things of a workspace that have names; those of the built-in book are
// the same in all.
func (v *view) candidates(builtin bool) []symbolCandidate {
	var out []symbolCandidate
	for _, f := range v.snap.Files {
		add := func(name string, kind protocol.SymbolKind, at source.Place) {
			out = append(out, symbolCandidate{view: v, name: name, kind: kind, in: f.Path, at: at})
		}
		for _, n := range f.Decls.Sessions {
			add(n.Text, sessionSymbol, n.At)
		}
		for _, n := range f.Decls.Cycles {
			add(n.Text, cycleSymbol, n.At)
		}
		for _, m := range f.Decls.Movements {
			add(m.Name, movementSymbol, m.At)
		}
		if h := f.Decls.House; h != nil {
			add(h.Name, houseSymbol, h.At)
		}
	}
	if builtin {
		for _, m := range book.Builtin().Movements() {
			out = append(out, symbolCandidate{view: v, name: m.Name, kind: movementSymbol, in: "the built-in book",
				at: m.At})
		}
	}
	return out
}

// symbolData is what a client gives back when it asks where a symbol is.
type symbolData struct {
	File string `json:"file"` // its name
	Name string `json:"name"`
}

// symbol is the candidate as the client takes it. Where it asks later, the range is left
// out until then.
func (c symbolCandidate) symbol() (protocol.WorkspaceSymbol, bool) {
	u := c.view.uriOf(c.at.File)
	if u == "" {
		return protocol.WorkspaceSymbol{}, false
	}
	out := protocol.WorkspaceSymbol{}
	out.Name, out.Kind, out.ContainerName = c.name, c.kind, &c.in
	if !c.view.resolvesSymbols() {
		out.Location = new(c.view.location(c.at))
		return out, true
	}
	out.Location = &protocol.LocationUriOnly{URI: u}
	out.Data, _ = json.Marshal(symbolData{File: c.at.File.Name, Name: c.name})
	return out, true
}

// resolvesSymbols says whether the client asks for the range of a symbol that it goes to.
func (v *view) resolvesSymbols() bool {
	w := v.caps.client.Workspace
	return w != nil && w.Symbol != nil && slices.Contains(w.Symbol.ResolveSupport.Properties, "location.range")
}

// resolveSymbol says where a symbol is.
func resolveSymbol(vs []*view, p protocol.WorkspaceSymbol) (*protocol.WorkspaceSymbol, error) {
	var data symbolData
	at, ok := p.Location.(*protocol.LocationUriOnly)
	if err := json.Unmarshal(p.Data, &data); err != nil || !ok {
		return &p, nil
	}
	for i, v := range vs {
		for _, c := range v.candidates(i == 0) {
			if c.name == data.Name && c.kind == p.Kind && c.at.File.Name == data.File && v.uriOf(c.at.File) == at.URI {
				p.Location = new(v.location(c.at))
				return &p, nil
			}
		}
	}
	p.Location = &protocol.Location{URI: at.URI} // it has gone since
	return &p, nil
}

// matchScore says how like a query a name is, both in lower case: 0 where the query's letters do not
// stand in it in order. Whole words count most, then beginnings of words, then letters
// that stand together.
func matchScore(name, query string) int {
	query = strings.TrimSpace(query)
	switch i := strings.Index(name, query); {
	case query == "":
		return 1
	case name == query:
		return 1000
	case i == 0:
		return 900
	case i > 0 && !isLetterBefore(name, i):
		return 800
	case i > 0:
		return 700
	}
	score, last, rest := 0, -2, name
	at := 0
	for _, want := range query {
		if unicode.IsSpace(want) || want == '-' {
			continue
		}
		i := strings.IndexRune(rest, want)
		if i < 0 {
			return 0
		}
		at += i
		switch {
		case at == last:
			score += 8
		case !isLetterBefore(name, at):
			score += 6
		default:
			score++
		}
		n := utf8.RuneLen(want)
		rest = rest[i+n:]
		at += n
		last = at
	}
	return max(score, 1)
}

// isLetterBefore says whether a letter stands before byte i of a name.
func isLetterBefore(name string, i int) bool {
	r, _ := utf8.DecodeLastRuneInString(name[:i])
	return unicode.IsLetter(r)
}
