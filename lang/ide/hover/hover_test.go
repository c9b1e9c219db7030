package hover_test

import (
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stint.example/stint/lang/golden"
	"stint.example/stint/lang/ide/hover"
	"stint.example/stint/lang/internal/demotest"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/workspace"
)

// What a coach reads under the pointer, at places of the demo.
func TestCardsOfTheDemo(t *testing.T) {
	s := demotest.Load(t, "quayside")
	var b strings.Builder
	for _, p := range [][2]string{
		{"sessions/bowline.stint", "kettle‸bell swing @ 24/16 kg"},
		{"sessions/bowline.stint", "‸part A at 0:00"},
		{"sessions/bowline.stint", "part ‸C at 23:30"},
		{"sessions/bowline.stint", "part B: 3 rounds -> 2 rounds\n  part ‸C"},
		{"sessions/bowline.stint", "‸cool-down lasts"},
		{"sessions/bowline.stint", "cap ‸6:00"},
		{"sessions/bowline.stint", "  ‸3 rounds\n    8 ring row"},
		{"sessions/bowline.stint", "‸10 kettlebell swing"},
		{"sessions/bowline.stint", "‸400 m row\n  3 rounds"},
		{"sessions/bowline.stint", "16‸ leg swing"},
		{"sessions/bowline.stint", "kettlebell swing @ ‸24/16 kg"},
		{"sessions/bowline.stint", "@ ‸2x15/10 kg"},
		{"sessions/bowline.stint", "@ 50‸/40 cm"},
		{"sessions/bowline.stint", "rest at least ‸1:30"},
		{"sessions/bowline.stint", "total ‸57 kettlebell"},
		{"sessions/bowline.stint", "@ ‸easy"},
		{"sessions/bowline.stint", "session Bow‸line"},
		{"sessions/bowline.stint", "scaling no‸-kit"},
		{"sessions/bowline.stint", "scaling lig‸ht"},
		{"sessions/sheet-bend.stint", "4 front squat @ 70 ‸to"},
		{"sessions/sheet-bend.stint", "5 front squat @ ‸40%"},
		{"sessions/sheet-bend.stint", "@ ‸2 RIR"},
		{"sessions/sheet-bend.stint", "2:00 row ‸or"},
		{"sessions/sheet-bend.stint", "rest ‸1:30 to 1:15"},
		{"sessions/bowline.stint", "goblet squat -> ‸12 bag squat"},
		{"sessions/bowline.stint", "swing -> bag ‸swing"},
		{"sessions/bowline.stint", "total ‸57 bag swing"},
		{"house.stint", "needs no‸-kit"},
		{"house.stint", "16 box @ ‸60"},
		{"sessions/slip-knot.stint", "every 3‸:00 x 5"},
		{"sessions/slip-knot.stint", "2 front squat @ 85‸%"},
		{"sessions/timber-hitch.stint", "deadlift @ 72.5‸-77.5-82.5%"},
		{"sessions/timber-hitch.stint", "3 x ‸4-3-2"},
		{"sessions/constrictor.stint", "‸every 1:00 until"},
		{"sessions/clove-hitch.stint", "in ‸pairs"},
		{"sessions/bowline.stint", "‸ladder 12-9-6 for"},
		{"sessions/bowline.stint", "50/40 cm, alter‸nating"},
		{"sessions/bowline.stint", "pur‸pose"},
		{"sessions/half-hitch.stint", "am‸rap"},
		{"sessions/anchor-bend.stint", "tempo 31‸X0"},
		{"sessions/anchor-bend.stint", "‸tempo"},
		{"movements/bollard-hold.stint", "‸unbroken"},
		{"cycles/spring-tide.stint", "mon ‸Bowline"},
		{"cycles/spring-tide.stint", "cycle Spring‸ Tide"},
		{"house.stint", "house Quay‸side"},
		{"house.stint", "scaling ‸shed"},
		{"house.stint", "32 kettle‸bell @ 24 kg"},
		{"movements/bollard-hold.stint", "movement bollard‸ hold"},
		{"movements/bollard-hold.stint", "trains ‸carry"},
	} {
		f := s.File(p[0])
		require.NotNil(t, f, p[0])
		c := hover.At(s, f, demotest.Cursor(t, f, p[1]))
		fmt.Fprintf(&b, "== %s: %s\n", p[0], strings.ReplaceAll(p[1], "\n", `\n`))
		if c == nil {
			b.WriteString("nothing\n\n")
			continue
		}
		assert.Equal(t, f.Src, c.At.File, "%v", p)
		assert.True(t, c.At.Contains(demotest.Cursor(t, f, p[1])), "%v", p)
		b.WriteString(c.Plain() + "\n")
	}
	golden.File(t, filepath.Join("testdata", "demo.golden"), b.String())
}

// Whatever place is asked about, of whatever text, the answer is about words of that text
// that the place is in, and says something.
func TestEveryPlace(t *testing.T) {
	for _, name := range []string{"quayside", "broken"} {
		s := demotest.Load(t, name)
		for _, f := range s.Files {
			everyPlace(t, s, f, 1)
		}
	}
}

func everyPlace(t testing.TB, s *workspace.Snapshot, f *workspace.File, step int) {
	t.Helper()
	for off := 0; off <= len(f.Src.Text); off += step {
		if step == 1 && demotest.InsideWord(f.Src.Text, off) {
			continue
		}
		c := hover.At(s, f, off)
		if c == nil {
			continue
		}
		if c.At.File != f.Src || !c.At.Contains(off) || c.At.End > len(f.Src.Text) {
			t.Fatalf("%s at %d: the card %q is about %d-%d", f.Path, off, c.Title, c.At.Start, c.At.End)
		}
		if c.Title == "" || len(c.Rows) == 0 || strings.TrimSpace(c.Markdown()) == "" {
			t.Fatalf("%s at %d: an empty card: %+v", f.Path, off, c)
		}
		for _, r := range c.Rows {
			if strings.TrimSpace(r.Text) == "" || strings.Contains(r.Text, "NaN") || strings.Contains(r.Text, "?:") {
				t.Fatalf("%s at %d: %q says %q", f.Path, off, r.Label, r.Text)
			}
		}
	}
}

func FuzzPlaces(f *testing.F) {
	base := demotest.Load(f, "quayside")
	demotest.AddTexts(f)
	f.Fuzz(func(t *testing.T, text string) {
		s := base.With("sessions/x.stint", text)
		everyPlace(t, s, s.File("sessions/x.stint"), 13)
	})
}

// No mark of the text is taken for one of Markdown's.
func TestMarkdownIsEscaped(t *testing.T) {
	c := hover.Card{Title: "a*b_c", Kind: "<i>", Foot: "#1", Rows: []hover.CardRow{
		{Label: "x", Text: "[a](b) `c` 1|2 & <b>\nnext"}, {Text: "1. first"}, {Text: "- dash"},
		{Label: "changes", Text: "a `b` -> c", Code: true}, {Text: "total-wrong", Link: "file:///x.md"}}}
	assert.Equal(t, "**a\\*b\\_c** (\\<i\\>)\n\n"+
		"- *x* \\[a\\](b) \\`c\\` 1\\|2 \\& \\<b\\> next\n"+
		"- 1\\. first\n- \\- dash\n- *changes* `` a `b` -> c ``\n- [total-wrong](file:///x.md)\n\n*\\#1*\n", c.Markdown())
}

// Every word that a line may start with, and every clause that is offered, is explained.
func TestEveryWordHasAMeaning(t *testing.T) {
	for ctx := syntax.InFile; ctx <= syntax.InNothing; ctx++ {
		for _, k := range syntax.Keywords(ctx) {
			assert.NotEmpty(t, hover.Meaning(ctx, k.Word), "%s in block %d", k.Word, ctx)
		}
	}
	for _, c := range append(syntax.ClauseExamples(true), syntax.ClauseExamples(false)...) {
		words := strings.Fields(c)
		assert.True(t, hover.Meaning(syntax.InGroup, words[0]) != "" ||
			hover.Meaning(syntax.InGroup, strings.Join(words[:2], " ")) != "", c)
	}
}
