package model

import (
	"embed"
	"fmt"
	"slices"
	"strings"
	"sync"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
)

// A House is the hall that sessions are run in: its people, kit, tiers, the versions
// that it asks for, and how strict its checks are.
type House struct {
	Name     string               `json:"name"`
	At       source.Place         `json:"at"`
	Purpose  string               `json:"purpose,omitempty"`
	Length   *Quantity            `json:"length,omitempty"` // s
	Heat     *Quantity            `json:"heat,omitempty"`   // C, of the wet-bulb globe temperature, unless a session says another
	Class    int                  `json:"class,omitempty"`  // people
	Tiers    []string             `json:"tiers"`
	Rests    []*Rest              `json:"rests,omitempty"` // what it asks between parts
	Needs    []Name               `json:"-"`               // versions that every session needs
	Scalings []*HouseScaling      `json:"scalings,omitempty"`
	Kit      []KitItem            `json:"kit,omitempty"`
	Efforts  map[string]*Quantity `json:"efforts,omitempty"`  // % by word
	Rounding *Rounding            `json:"rounding,omitempty"` // of weights that are worked out
	Rules    []RuleSetting        `json:"-"`

	// What the estimate of time takes for every house.
	Change   book.Levels `json:"-"` // s, from one movement to the next
	Break    book.Levels `json:"-"` // s, between two unbroken runs of one
	Handover book.Levels `json:"-"` // s, in a team
	SetUp    book.Levels `json:"-"` // s, under a bar in its rack before a set
}

// A HouseScaling says what a version is for.
type HouseScaling struct {
	Name    string       `json:"name"`
	From    []Name       `json:"-"`
	Note    string       `json:"note,omitempty"`
	Has     []string     `json:"has,omitempty"` // all the kit there is, where HasOnly
	HasOnly bool         `json:"hasOnly"`
	At      source.Place `json:"at"`

	file  *syntax.File
	block *syntax.Block
}

// KitItem is a line of a house's kit: so many of a thing, and its loads.
type KitItem struct {
	Name  string       `json:"name"`
	Also  []string     `json:"also,omitempty"` // other names of it here
	Count int          `json:"count"`
	Loads []Load       `json:"loads,omitempty"`
	At    source.Place `json:"at"`
	// NameAt is where its name stands.
	NameAt source.Place `json:"-"`

	also []Name
}

// Rounding is how weights that are worked out from shares of a maximum become weights that can be
// loaded.
type Rounding struct {
	Up   bool         `json:"up"`             // otherwise down
	Step *Quantity    `json:"step,omitempty"` // kg; without one, to what the house's bars and discs make
	At   source.Place `json:"at"`
}

// A RuleSetting is how a house sets a rule.
type RuleSetting struct {
	Rule     Name
	Off      bool // it finds nothing
	Error    bool // what it finds is an error
	Settings map[string]*Quantity
	Reason   string
}

//go:embed defaults.stint
var defaults embed.FS

// Defaults is the house that stands behind every house: what it does not say is as
// here.
var Defaults = sync.OnceValue(func() *House {
	text, err := defaults.ReadFile("defaults.stint")
	if err != nil {
		panic(err) // compiled in
	}
	d := Declare(syntax.Parse(source.New("builtin/defaults.stint", string(text))))
	if len(d.Diags) > 0 || d.House == nil {
		panic(fmt.Sprint("the built-in house does not load: ", d.Diags))
	}
	practice := func(fast, typical, slow float64) book.Levels {
		return book.Levels{Fast: fast, Typical: typical, Slow: slow, Source: "common practice, no source"}
	}
	d.House.Change, d.House.Break, d.House.Handover = practice(5, 8, 12), practice(9, 13, 16), practice(2, 3, 5)
	d.House.SetUp = practice(6, 8, 10)
	return d.House
})

// house lowers a house entry. It needs no book: names of movements stand in its
// scalings only, which are read with the sessions.
func (l *lowerer) house(b *syntax.Block, e *syntax.Entry) *House {
	h := &House{Name: e.Name.Text, At: l.place(b.Line, e.Name.Span), Efforts: map[string]*Quantity{}}
	seen := map[string]bool{}
	for _, kid := range b.Kids {
		line := kid.Line
		switch s := line.Stmt.(type) {
		case *syntax.Scaling:
			h.Scalings = append(h.Scalings, l.houseScaling(kid, s))
		case *syntax.Rest:
			h.Rests = append(h.Rests, l.rest(line, s, RestBetweenParts))
		case *syntax.Property:
			once := s.Key != "effort" && s.Key != "rule" && s.Key != "allow" && s.Key != "purpose" && s.Key != "kit"
			if once && seen[s.Key] {
				l.twice(line, s, h.Name)
				continue
			}
			seen[s.Key] = true
			l.houseProperty(h, kid, s)
		}
	}
	return h
}

func (l *lowerer) houseProperty(h *House, b *syntax.Block, p *syntax.Property) {
	line := b.Line
	switch p.Key {
	case "purpose":
		h.Purpose = note(line)
	case "length":
		h.Length = l.quantity(line, p.Quantity, "")
	case "heat":
		h.Heat = l.quantity(line, p.Quantity, "")
	case "class":
		h.Class = int(p.Quantity.Steps[0].Tiers[0].Value)
	case "tiers":
		for _, n := range p.Names {
			h.Tiers = append(h.Tiers, strings.ToLower(n.Text))
		}
	case "needs":
		for _, n := range p.Names {
			h.Needs = append(h.Needs, l.name(line, n))
		}
	case "effort":
		if len(p.Names) == 0 {
			l.report(wordMisplaced, l.place(line, p.Span), "a house's effort says what a word stands for", "write it like effort easy 60-65%", nil)
			return
		}
		h.Efforts[book.Key(p.Names[0].Text)] = l.quantity(line, p.Quantity, "%")
	case "kit":
		h.Kit = append(h.Kit, l.kitList(b)...)
	case "round":
		h.Rounding = &Rounding{Up: p.Up, Step: l.quantity(line, p.Quantity, ""), At: l.place(line, p.Span)}
	case "rule":
		r := RuleSetting{Rule: l.name(line, p.Names[0]), Error: p.Error, Settings: map[string]*Quantity{}, Reason: note(line)}
		for _, s := range p.Settings {
			r.Settings[strings.ToLower(s.Key.Text)] = l.quantity(line, &s.Value, "")
		}
		h.Rules = append(h.Rules, r)
	case "allow":
		for _, n := range p.Names {
			h.Rules = append(h.Rules, RuleSetting{Rule: l.name(line, n), Off: true, Reason: note(line)})
		}
	}
}

// kitList is a block of kit.
func (l *lowerer) kitList(b *syntax.Block) []KitItem {
	var out []KitItem
	for _, kid := range b.Kids {
		if it, ok := kid.Line.Stmt.(*syntax.Item); ok {
			if k, ok := l.kitItem(kid, it); ok {
				out = append(out, k)
			}
		}
	}
	return out
}

// kitItem is a line of kit; false where it is none.
func (l *lowerer) kitItem(b *syntax.Block, it *syntax.Item) (KitItem, bool) {
	line := b.Line
	k := KitItem{Name: strings.ToLower(it.Moves[0].Name.Text), At: l.place(line, it.Span), Loads: l.loads(line, it.Loads, nil),
		NameAt: l.place(line, it.Moves[0].Name.Span)}
	var n float64
	ok := false
	if it.Dose != nil && !it.Dose.Max && it.Dose.Sets == nil {
		n, ok = l.quantity(line, it.Dose.Amount, "rep").One()
	}
	if !ok || n != float64(int(n)) || len(it.Moves) > 1 {
		l.report(countMissing, k.At, "a line of kit says how many there are of one thing", "write it like 16 kettlebell @ 24 kg", nil)
		return k, false
	}
	k.Count = int(n)
	for _, kid := range b.Kids {
		if p, ok := kid.Line.Stmt.(*syntax.Property); ok && p.Key == "also" {
			for _, n := range p.Names {
				k.Also = append(k.Also, strings.ToLower(n.Text))
				k.also = append(k.also, l.name(kid.Line, n))
			}
		}
	}
	return k, true
}

func (l *lowerer) houseScaling(b *syntax.Block, s *syntax.Scaling) *HouseScaling {
	h := &HouseScaling{Name: strings.ToLower(s.Name.Text), Note: note(b.Line), At: l.place(b.Line, s.Name.Span), file: l.file, block: b}
	for _, n := range s.From {
		h.From = append(h.From, l.name(b.Line, n))
	}
	for _, kid := range b.Kids {
		if p, ok := kid.Line.Stmt.(*syntax.Property); ok && p.Key == "has" {
			h.HasOnly = true
			for _, n := range p.Names {
				if low := strings.ToLower(n.Text); low != "nothing" {
					h.Has = append(h.Has, low)
				}
			}
		}
	}
	return h
}

// over is the house with what it does not say taken from the one below.
func (h *House) over(d *House) *House {
	c := *h
	if len(c.Tiers) == 0 {
		c.Tiers = d.Tiers
	}
	if c.Class == 0 {
		c.Class = d.Class
	}
	if c.Length == nil {
		c.Length = d.Length
	}
	if c.Heat == nil {
		c.Heat = d.Heat
	}
	if c.Rounding == nil {
		c.Rounding = d.Rounding
	}
	c.Change, c.Break, c.Handover, c.SetUp = d.Change, d.Break, d.Handover, d.SetUp
	c.Efforts = map[string]*Quantity{}
	for w, q := range d.Efforts {
		c.Efforts[w] = q
	}
	for w, q := range h.Efforts {
		c.Efforts[w] = q
	}
	return &c
}

// Scaling finds a version that the house declares.
func (h *House) Scaling(name string) *HouseScaling {
	i := slices.IndexFunc(h.Scalings, func(s *HouseScaling) bool { return book.Key(s.Name) == book.Key(name) })
	if i < 0 {
		return nil
	}
	return h.Scalings[i]
}

func note(l *syntax.Line) string {
	if l.Note == nil {
		return ""
	}
	return l.Note.Text
}

func (l *lowerer) twice(line *syntax.Line, p *syntax.Property, owner string) {
	l.report(book.PropertyTwice, l.place(line, p.KeySpan), fmt.Sprintf("%s has a line %q already", owner, p.Key), "keep one of the two", nil)
}

// report adds an error.
func (l *lowerer) report(rule string, at source.Place, message, help string, fix *diag.Fix) {
	d := diag.Diagnostic{Rule: rule, Severity: diag.Error, At: at, Message: message, Help: help}
	if fix != nil {
		d.Fixes = []diag.Fix{*fix}
	}
	*l.diags = append(*l.diags, d)
}
