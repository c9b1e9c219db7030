package plan_test

import (
	"fmt"
	"testing"
	"time"

	"stint.example/stint/lang/clock"
	"stint.example/stint/lang/plan"
	"stint.example/stint/lang/program"
	"stint.example/stint/lang/workspace"
)

func TestScratch(t *testing.T) {
	root, _ := workspace.Find("../../testdata/quayside")
	s, _ := workspace.Load(root)
	for _, f := range s.Files {
		for _, c := range f.Program().Cycles {
			for _, g := range s.Files { g.Program() }
			start := time.Now()
			pc := plan.New(c, s.Env, func(n string) *program.Session { x, _ := s.Session(n); return x }, func(x *program.Session) *clock.Timeline { return clock.Of(x, s.Env) })
			for _, w := range pc.Weeks {
				sum := w.Sums()
				fmt.Printf("week %d %s %s: min %+v moved %+v hard sets %v rated %v %+v daily %v\n", w.Number, w.Kind, w.ISO, sum.Minutes, sum.Moved, sum.HardSets, sum.Rated, sum.Load, sum.Daily)
				for _, v := range sum.Volume {
					fmt.Printf("   %+v\n", v)
				}
				for _, l := range sum.Lifts {
					fmt.Printf("   %s %+v %+v\n", l.Movement.Name, l.Share, l.Mass)
				}
				for _, d := range w.Days {
					for _, h := range d.Of.Hard(plan.HardMarks) {
						fmt.Printf("     %s %s:", d.Weekday, h.Pattern)
						for _, l := range h.Lines {
							fmt.Printf(" %s;", l.Says(plan.HardMarks))
						}
						fmt.Println()
					}
				}
				fmt.Println("   push", sum.Of(plan.Push).Reps, "pull", sum.Of(plan.Pull).Reps, "squat", sum.Of(plan.Squat).Reps, "hinge", sum.Of(plan.Hinge).Reps, "strength", sum.Of(plan.Strength).Reps)
			}
			fmt.Println(time.Since(start))
		}
	}
}
