package completion_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	"stint.example/stint/lang/bench"
	"stint.example/stint/lang/ide/completion"
	"stint.example/stint/lang/ide/hover"
	"stint.example/stint/lang/workspace"
)

// BenchmarkAt measures completions in a workspace of 10,000 sessions: of a movement, with
// nothing typed, with something, and with a slip; of a session on a day; and what is said
// under the pointer on a movement.
func BenchmarkAt(b *testing.B) {
	s := workspace.Make(workspace.Root{Dir: "/x", House: true}, bench.Workspace(10_000, 1))
	for _, c := range []struct{ name, path, text string }{
		{"empty", "sessions/x.stint", head + "  10 ‸\n"},
		{"typed", "sessions/x.stint", head + "  10 kettleb‸\n"},
		{"slip", "sessions/x.stint", head + "  10 kettelbell sw‸\n"},
		{"session", "cycles/x.stint", "stint 1\n\ncycle C\n  week 1\n    mon ‸\n"},
		{"typed session", "cycles/x.stint", "stint 1\n\ncycle C\n  week 1\n    mon aa‸\n"},
		{"total", "sessions/x.stint", head + "\ntotal ‸\n"},
		{"hover", "sessions/x.stint", head + "  10 kettlebell sw‸ing\n"},
	} {
		b.Run(c.name, func(b *testing.B) {
			off := strings.Index(c.text, "‸")
			s := s.With(c.path, strings.Replace(c.text, "‸", "", 1))
			f := s.File(c.path)
			var took []time.Duration
			for b.Loop() {
				start := time.Now()
				if c.name == "hover" {
					hover.At(s, f, off)
				} else {
					completion.At(s, f, off)
				}
				took = append(took, time.Since(start))
			}
			slices.Sort(took)
			b.ReportMetric(float64(took[len(took)*99/100].Microseconds())/1000, "p99-ms")
			b.ReportMetric(float64(took[len(took)-1].Microseconds())/1000, "max-ms")
		})
	}
}
