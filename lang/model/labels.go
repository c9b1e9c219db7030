package model

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/source"
)

// labelWords are the words that no label may begin with: they say when, in what order or on what
// condition something is done, and a label means nothing. The number is the turn that a word names.
var labelWords = map[string]int{
	"first": 1, "second": 2, "third": 3, "last": 0, "final": 0, "next": 0, "odd": 0, "even": 0, "every": 0, "each": 0,
	"once": 0, "then": 0, "after": 0, "before": 0, "if": 0, "unless": 0, "otherwise": 0, "while": 0, "until": 0,
	"min": 0, "minute": 0, "set": 0, "week": 0,
}

// labels reports labels of a section that look like a time, an order or a condition, and those that
// name a place which they do not have.
func (l *lowerer) labels(section *Group) {
	for g, around := range section.Groups(Everything) {
		if g.Kind != Label || len(around) == 0 {
			continue
		}
		words := strings.Fields(strings.ToLower(g.Label))
		if len(words) > 1 && words[0] == "the" { // the last round
			words = words[1:]
		}
		turn, taken := labelWords[words[0]]
		switch {
		case taken:
			l.labelTaken(g, around, words, turn)
		case words[0] == "buy-in" || words[0] == "cash-out":
			l.labelOnce(g, around, words[0])
		}
	}
}

func (l *lowerer) labelTaken(g *Group, around []*Group, words []string, turn int) {
	e := blockEditor{l.file.Src}
	round := Repeating(around)
	d := diag.Diagnostic{Rule: wordMisplaced, Severity: diag.Error, At: l.labelAt(g)}
	d.Message = fmt.Sprintf("%q is a label, which is a name and says nothing of when this is done", g.Label)
	if round != nil {
		d.Message += ": it is done every time"
	}
	if round != nil {
		switch n, known := round.Repeat.Count.One(); {
		case words[0] == "last" || words[0] == "final":
			if known {
				turn = int(n)
			} else if s := round.Repeat.Series; s != nil && !s.Open {
				turn = len(s.Terms)
			}
		case words[0] == "once":
			turn = 1
		case words[0] == "set" && len(words) > 1:
			turn, _ = strconv.Atoi(words[1])
		}
	} else {
		turn = 0
	}
	if slots := slotLabels(around[len(around)-1]); slots != nil {
		var edits []diag.Edit
		title := ""
		for i, s := range slots {
			lead := fmt.Sprintf("slot %d", i+1)
			edits = append(edits, l.renameLabel(s, lead))
			if s == g {
				title = "write " + lead
			}
		}
		d.Fixes = append(d.Fixes, diag.Fix{Title: title, Edits: edits})
	}
	if turn > 0 {
		lead := fmt.Sprintf("round %d", turn)
		d.Fixes = append(d.Fixes, diag.Fix{Title: "write " + lead, Edits: []diag.Edit{l.renameLabel(g, lead)}})
	}
	if words[0] == "each" && l.inline(g) && strings.Join(words, " ") == "each side" {
		edits := append(e.unlabelled(g, l.colon(g)), diag.Edit{At: e.at(g.At.End, g.At.End), New: ", each side"})
		d.Fixes = append(d.Fixes, diag.Fix{Title: "put each side behind it", Edits: edits})
	} else {
		d.Fixes = append(d.Fixes, diag.Fix{Title: "take the label out: it is done where it stands", Edits: e.unlabelled(g, l.colon(g))})
	}
	d.Help = "what is done in one round stands behind round 3:, what a clock starts behind slot 2:, and what depends on something under if"
	*l.diags = append(*l.diags, d)
}

// slotLabels are the steps of a group on a clock where all of them are labels that number its
// intervals, in order: "odd" and "even", or "minute 1" and so on.
func slotLabels(g *Group) []*Group {
	if !g.Repeat.Clocked() || len(g.Steps) < 2 {
		return nil
	}
	var out []*Group
	for i, s := range g.Steps {
		k, is := s.(*Group)
		if !is || k.Kind != Label {
			return nil
		}
		words := strings.Fields(strings.ToLower(k.Label))
		number := 0
		switch {
		case words[0] == "odd":
			number = 1
		case words[0] == "even":
			number = 2
		case len(words) > 1 && (words[0] == "min" || words[0] == "minute"):
			number, _ = strconv.Atoi(words[1])
		}
		if number != i+1 {
			return nil
		}
		out = append(out, k)
	}
	return out
}

// labelOnce reports a buy-in or a cash-out that is done again and again, or that is not the first or
// the last of what is done once.
func (l *lowerer) labelOnce(g *Group, around []*Group, word string) {
	holder := around[len(around)-1]
	round := Repeating(around)
	first := word == "buy-in"
	steps := WorkSteps(holder.Steps)
	if round == nil {
		if i := slices.Index(steps, Step(g)); first && i == 0 || !first && i == len(steps)-1 {
			return
		}
		order := "first"
		if !first {
			order = "last"
		}
		*l.diags = append(*l.diags, diag.Diagnostic{Rule: wordMisplaced, Severity: diag.Error, At: l.labelAt(g),
			Message: fmt.Sprintf("a %s is the %s thing of what it stands in, and this is done where it stands", word, order),
			Help:    "move it there, or take the label out",
			Fixes:   []diag.Fix{{Title: "take the label out", Edits: blockEditor{l.file.Src}.unlabelled(g, l.colon(g))}}})
		return
	}
	before := "before"
	if !first {
		before = "behind"
	}
	d := diag.Diagnostic{Rule: wordMisplaced, Severity: diag.Error, At: l.labelAt(g),
		Message: fmt.Sprintf("a %s is done once, and here it comes round with what is beside it", word),
		Help:    "write it " + before + " the head that comes round"}
	if round == holder {
		if edits := (blockEditor{l.file.Src}).moveOut(round, g, first); edits != nil {
			d.Fixes = append(d.Fixes, diag.Fix{Title: "move it " + before + " what comes round", Edits: edits})
		}
	}
	*l.diags = append(*l.diags, d)
}

// colon is the offset behind the colon of a label.
func (l *lowerer) colon(g *Group) int {
	return g.At.Start + strings.IndexByte(l.file.Src.Text[g.At.Start:], ':') + 1
}

// inline says whether a label has what it is for behind its colon.
func (l *lowerer) inline(g *Group) bool { return g.At.End > l.colon(g) }

// labelAt is the place of a label's words.
func (l *lowerer) labelAt(g *Group) source.Place {
	return l.file.Src.At(source.Span{Start: g.At.Start, End: l.colon(g) - 1})
}

// renameLabel writes a lead in the place of a label. Over a block a lead has no colon.
func (l *lowerer) renameLabel(g *Group, lead string) diag.Edit {
	at := l.labelAt(g)
	if !l.inline(g) {
		at.End = l.colon(g)
	}
	return diag.Edit{At: at, New: lead}
}

// numbered is a label that ends in a number or is one letter, such as A1, wave 2 or B.
var numbered = regexp.MustCompile(`^(.*?)(\d+)$`)

// LabelNumber is the name and the number of a label that has one: "A" and 1 of A1; of a single letter
// it is its place in the alphabet.
func (g *Group) LabelNumber() (name string, number int, ok bool) {
	label := strings.ToLower(g.Label)
	if m := numbered.FindStringSubmatch(label); m != nil {
		n, err := strconv.Atoi(m[2])
		return strings.TrimSpace(m[1]), n, err == nil
	}
	if len(label) == 1 && label[0] >= 'a' && label[0] <= 'z' {
		return "", int(label[0]-'a') + 1, true
	}
	return "", 0, false
}
