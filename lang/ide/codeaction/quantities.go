package codeaction

import "stint.example/stint/lang/syntax"

// quantities are all that a line says with a unit. Those of its loads are told apart: a
// length is a height there.
func quantities(s syntax.Stmt) (doses, loads []*syntax.Quantity) {
	g := &quantityCollector{}
	g.stmt(s)
	return g.out, g.load
}

// A quantityCollector gathers the quantities of a line.
type quantityCollector struct{ out, load []*syntax.Quantity }

func (g *quantityCollector) add(qs ...*syntax.Quantity) {
	for _, q := range qs {
		if q != nil {
			g.out = append(g.out, q)
		}
	}
}

func (g *quantityCollector) stmt(s syntax.Stmt) {
	switch s := s.(type) {
	case *syntax.Head:
		g.clauses(s.Clauses)
		g.stmt(s.Inline)
	case *syntax.Lead:
		g.add(s.Amount, s.From)
		g.stmt(s.Inline)
	case *syntax.Item:
		g.item(s)
	case *syntax.Rest:
		g.rest(s)
	case *syntax.Swap:
		g.stmt(s.From)
		g.stmt(s.To)
	case *syntax.ClauseSide:
		g.clauses([]syntax.Clause{s.Clause})
	case *syntax.LoadSide:
		g.loads(s.Loads)
	case *syntax.Property:
		g.add(s.Quantity)
		for _, it := range s.Items {
			g.item(it)
		}
		g.loads(s.Loads)
	}
}

func (g *quantityCollector) item(it *syntax.Item) {
	if it.Dose != nil {
		g.add(it.Dose.Amount)
	}
	for _, m := range it.Moves {
		g.add(m.Count)
	}
	g.loads(it.Loads)
	g.clauses(it.Clauses)
}

func (g *quantityCollector) rest(r *syntax.Rest) {
	g.add(r.Amount)
	g.stmt(r.Inline)
}

func (g *quantityCollector) clauses(cs []syntax.Clause) {
	for _, c := range cs {
		g.add(c.Amount)
		g.loads(c.Loads)
		if c.Rest != nil {
			g.rest(c.Rest)
		}
	}
}

func (g *quantityCollector) loads(ls []syntax.Load) {
	for _, l := range ls {
		if l.Amount != nil {
			g.load = append(g.load, l.Amount)
		}
	}
}
