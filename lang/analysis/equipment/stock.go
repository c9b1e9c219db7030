package equipment

import (
	"slices"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/syntax"
)

// An item is a line of a house's kit: so many implements that are alike.
type item struct {
	count          int
	weights, highs []value // none where the line does not say
}

// A value is a weight in kg or a height in m, and the unit it is written in.
type value struct {
	n    float64
	unit string
}

// A stock is what a house has, by the name of the kit in the book.
type stock map[string][]item

// Name is what the book calls a piece of kit, or the word itself.
func Name(b *book.Book, word string) string {
	if n, ok := b.Kit(word); ok {
		return n
	}
	return word
}

func stockOf(env *model.Env) stock {
	out := stock{}
	for _, k := range env.House.Kit {
		it := item{count: k.Count}
		for _, l := range k.Loads {
			switch {
			case l.Amount == nil:
			case l.Kind == syntax.Mass:
				it.weights = append(it.weights, valuesOf(l.Amount)...)
			case l.Kind == syntax.Height:
				it.highs = append(it.highs, valuesOf(l.Amount)...)
			}
		}
		n := Name(env.Book, k.Name)
		out[n] = append(out[n], it)
	}
	return out
}

func valuesOf(q *model.Quantity) []value {
	var out []value
	for _, row := range q.Terms {
		for _, v := range row {
			out = append(out, value{v, q.Written})
		}
	}
	return out
}

// Has says whether a house's list has a kind of kit at all.
func Has(env *model.Env, kit string) bool {
	name := Name(env.Book, kit)
	return slices.ContainsFunc(env.House.Kit, func(k model.KitItem) bool { return k.Count > 0 && Name(env.Book, k.Name) == name })
}

// Places are kit that any number of people use at once: they are there or they are not.
var places = []string{"pool", "agility ladder"}

// Held is kit that a weight behind @ is of.
var held = []string{"kettlebell", "dumbbell", "loaded bag", "medicine ball", "slam ball", "heavy ball", "disc", "vest", "sled", "tyre"}

// A need is what one person needs of one kind of kit.
type need struct {
	kit    string
	each   int
	wanted []value   // the weights or heights that will do; none where any will
	high   bool      // they are heights
	to     []float64 // up to which, where a range is asked for
	text   string    // as written
}

// does says whether an item will do.
func (n *need) does(it item) bool {
	have := it.weights
	if n.high {
		have = it.highs
	}
	if len(n.wanted) == 0 || len(have) == 0 {
		return true
	}
	for i := range n.wanted {
		if n.suits(i, have) {
			return true
		}
	}
	return false
}

func (n *need) suits(i int, have []value) bool {
	w := n.wanted[i]
	return slices.ContainsFunc(have, func(v value) bool {
		return w.n <= v.n && v.n <= n.to[i] || SameByName(w.n, w.unit, v.n, v.unit)
	})
}

// in says whether the house has all that is wanted, in some number. Where it lacks a weight,
// that is another mistake, and any weight is counted here.
func (n *need) in(s stock) bool {
	for i := range n.wanted {
		if !slices.ContainsFunc(s[n.kit], func(it item) bool {
			have := it.weights
			if n.high {
				have = it.highs
			}
			return len(have) == 0 || n.suits(i, have)
		}) {
			return false
		}
	}
	return true
}
