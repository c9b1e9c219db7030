package check

import (
	"stint.example/stint/lang/analysis/totals"
	"stint.example/stint/lang/model"
)

// EachQuantity calls f for every amount that a session's work states itself, with what
// it counts. One that a ladder gives its lines comes once.
func EachQuantity(s *model.Session, f func(q *model.Quantity, what string)) {
	see := func(q *model.Quantity, what string) {
		if q != nil {
			f(q, what)
		}
	}
	loads := func(lds []model.Load) {
		for _, ld := range lds {
			see(ld.Amount, "load")
			see(ld.Count, "implements")
		}
	}
	kit := func(ks []model.Kit) {
		for _, k := range ks {
			loads(k.Loads)
		}
	}
	s.Walk(model.Everything, func(step model.Step, _ []*model.Group) bool {
		switch st := step.(type) {
		case *model.Group:
			if st.Repeat.Series != nil {
				see(st.Repeat.Series, totals.UnitWord(st.Repeat.Series.Unit))
			}
			if st.Repeat.Whole == nil {
				see(st.Repeat.Count, "turns")
			}
			for _, q := range []*model.Quantity{st.Repeat.Interval, st.Repeat.On, st.Repeat.Off} {
				see(q, "time")
			}
			see(st.Effort, "effort")
			for _, who := range []*model.People{st.People, st.Heats} {
				if who != nil {
					see(who.Size, "people")
				}
			}
			kit(st.With)
		case *model.Work:
			see(st.Sets, "sets")
			see(st.SetsOf, "repetitions")
			if st.From == model.FromLine && st.Dose != nil {
				see(st.Dose, totals.UnitWord(st.Dose.Unit))
			}
			for _, m := range st.Moves {
				if m.Count != nil {
					see(m.Count, totals.UnitWord(m.Count.Unit))
				}
			}
			for _, q := range []*model.Quantity{st.Window, st.Every} {
				see(q, "length")
			}
			for _, t := range st.Terms {
				see(t.Count, "pieces")
			}
			loads(st.Loads)
			kit(st.With)
			if st.Rest != nil {
				see(st.Rest.Amount, "time")
			}
		case *model.Rest:
			see(st.Amount, "time")
		}
		return true
	})
}
