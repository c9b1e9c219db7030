package workspace

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"stint.example/stint/lang/clock"
	"stint.example/stint/lang/format"
	"stint.example/stint/lang/marktest"
	"stint.example/stint/lang/source"
)

func TestProbe(t *testing.T) {
	p := os.Getenv("PROBE")
	if p == "" {
		t.Skip()
	}
	for _, c := range marktest.LoadMarkdown(t, p) {
		e := &example{Case: c, page: "x", names: map[string]string{}}
		texts := map[string]string{}
		for _, f := range c.Files() {
			as := pathOf(f)
			e.names[as] = f.Name
			texts[as] = f.Text
		}
		e.snap = Make(Root{Dir: "/quayside", House: true}, texts)
		fmt.Println("=====", c.Heading)
		for _, d := range e.judged() {
			fmt.Printf("DIAG %s line %d %q: %s | %s\n", d.Rule, d.At.File.LineAt(d.At.Start)+1, d.At.Text(), d.Message, d.Help)
		}
		func() {
			defer func() {
				if r := recover(); r != nil {
					fmt.Println("PANIC", r)
				}
			}()
			if os.Getenv("MEANING") != "0" {
				fmt.Println(e.meaning(t, ""))
			}
		}()
		for _, f := range e.snap.Files {
			out := format.Source(f.Syntax)
			if out != f.Syntax.Src.Text {
				a, b := strings.Split(f.Syntax.Src.Text, "\n"), strings.Split(out, "\n")
				for i := range a {
					if i < len(b) && a[i] != b[i] {
						fmt.Printf("FMT %q -> %q\n", a[i], b[i])
					}
				}
			}
			for _, s := range f.Program.Sessions {
				for _, r := range clock.OfSession(s, 2).Rows {
					fmt.Println("TOTAL", r.Movement, r.Unit, r.Tiers)
				}
			}
		}
	}
	_ = source.New
}
