package syntax

import (
	"slices"
	"strings"

	"stint.example/stint/lang/source"
)

// condition reports an if whose condition is no note, or that has none. It looks at the line before
// anything else does: the words of a condition may hold whatever marks a sentence has.
func (r *reader) condition() bool {
	at := slices.IndexFunc(r.toks, func(t Tok) bool { return t.Kind == Word && t.Text == string(If) })
	for at > 0 && (r.kind(at-1) != Comma || !r.mayDepend()) {
		next := slices.IndexFunc(r.toks[at+1:], func(t Tok) bool { return t.Kind == Word && t.Text == string(If) })
		if next < 0 {
			return false
		}
		at += 1 + next
	}
	if at < 0 || at == 0 && r.ctx != InGroup {
		return false
	}
	word := r.toks[at]
	var words source.Span // what stands behind it and is no note
	for _, t := range r.p.Toks {
		if t.Start >= word.End && t.Kind != Note && t.Kind != Comment {
			if words.End == 0 {
				words = t.Span
			}
			words.End = t.End
		}
	}
	text := r.body[words.Start:words.End]
	d := lineDiag{rule: unreadable, span: word.Span, message: "it is not said what this depends on", help: conditionHelp}
	switch {
	case words.End == 0 && r.p.Note != nil && r.p.Note.Text != "":
		return false
	case words.End == 0:
	case text[0] == ',' && at > 0:
		return false // it is not the last clause, as which it is printed
	case text[0] == ':':
		d.help += "; what is done stands under it"
	default:
		d.span = words
		d.message = "what this depends on is a note and needs its >"
		r.conditionFixes(&d, at, words)
	}
	if at == 0 {
		r.p.opens = InGroup
	}
	r.report(d)
	r.p.Stmt = r.bad()
	return true
}

// mayDepend reports whether the line is one that a condition may stand on, and not a list of names.
func (r *reader) mayDepend() bool {
	switch r.ctx {
	case InGroup, InScaling, InHouseScaling:
		return true
	}
	return keywords[r.ctx][r.word(0)].shape == aHead
}

// conditionFixes are the leads that say the condition, if one does, and the > before it.
func (r *reader) conditionFixes(d *lineDiag, at int, words source.Span) {
	condition, work := r.body[words.Start:words.End], ""
	if at == 0 {
		if i := strings.Index(condition, ": "); i >= 0 { // and no clock value
			condition, work = condition[:i], strings.TrimSpace(condition[i+1:])
		}
	}
	known := knownCondition(condition)
	var fixes []lineFix
	switch {
	case known == "":
	case at == 0:
		span := source.Span{Start: r.toks[0].Start, End: words.Start + len(strings.TrimSuffix(condition, ":"))}
		fixes = append(fixes, lineFix{title: "write " + known, span: span, text: known})
	case r.ctx == InGroup && !slices.ContainsFunc(r.toks[:at], func(t Tok) bool { return t.Kind == Colon }):
		done := r.text(0, at-1)
		fixes = append(fixes, lineFix{title: "write " + known + ": " + done, text: known + ": " + done,
			span: source.Span{Start: r.toks[0].Start, End: words.End}})
	}
	if len(fixes) > 0 {
		d.help = "write " + known + "; or " + conditionHelp
	}
	if work == "" {
		fixes = append(fixes, *insertion("put > before it", words.Start, "> "))
	} else {
		fixes = append(fixes, lineFix{title: "put > before it, and under it what is done", span: words,
			text: "> " + condition + "\n  " + work})
	}
	d.fix, d.others = &fixes[0], fixes[1:]
}

// knownCondition is the lead that says a condition; empty where none does.
func knownCondition(text string) string {
	for _, t := range scan(text).toks {
		switch {
		case t.Kind == Clock:
			return "at " + t.Text
		case t.Kind != Word:
		case slices.Contains([]string{"break", "breaks", "broken"}, t.Text):
			return "at each break"
		case slices.Contains([]string{"done", "finish", "finished"}, t.Text):
			return "when done"
		}
	}
	return ""
}
