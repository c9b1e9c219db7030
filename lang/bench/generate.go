// Package bench makes workspaces of any size and measures the tool on them. See its
// README for what was measured.
package bench

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"sync"

	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/analysis/substitute"
	"stint.example/stint/lang/book"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/units"
	"stint.example/stint/lang/workspace"
)

// Workspace makes a house, sessions, and a cycle for every eighteen of them: texts by
// path. The same number and seed make the same texts. They are such as a coach would
// keep: of every form that the notation has, with totals that add up, so that checking
// them finds nothing.
func Workspace(sessions int, seed uint64) map[string]string {
	pcg := rand.NewPCG(seed, 1)
	g := generator{pcg: pcg, rng: rand.New(pcg)}
	for _, m := range book.Builtin().Movements() {
		_, reps := m.Pace("rep")
		home := !slices.ContainsFunc(m.Needs, func(k string) bool { return k != "loaded bag" })
		switch {
		case !reps || m.Main() == "" || m.Main() == book.Mobility:
		case home:
			g.home = append(g.home, m.Name)
		case slices.Contains(m.Needs, "kettlebell"):
			g.bells = append(g.bells, m.Name)
		}
		if m.Best == book.BestLoad {
			g.lifts = append(g.lifts, m.Name)
		}
	}
	out := map[string]string{"house.stint": house}
	var names []string
	for i := range sessions {
		name := nameOf(i)
		names = append(names, name)
		out[pathOf(name)] = g.session(name)
	}
	for i := 0; i*18 < sessions; i++ {
		name := "Tide " + letters(i)
		file := strings.ToLower(strings.ReplaceAll(name, " ", "-"))
		out[fmt.Sprintf("cycles/%s.stint", file)] = cycle(name, names[i*18:min(i*18+18, sessions)])
	}
	return out
}

const house = `stint 1

house Quayside Hall
  length 60:00
  class 16
  tiers full, lesser
  rest between parts at least 1:00
  needs no-kit
  scaling no-kit > At home, with nothing but a loaded bag.
    has loaded bag
  kit
    16 kettlebell @ 24 kg
    16 kettlebell @ 16 kg
    16 barbell @ 20 kg
    16 rower
  allow pattern-balance > Movements are drawn by lot.
  allow volume-jump > So are their counts.
  allow intensity-jump > So are their loads.
`

type generator struct {
	pcg                *rand.PCG
	rng                *rand.Rand
	home, bells, lifts []string
	distinct           int
}

func (g *generator) pick(from []string) string { return from[g.rng.IntN(len(from))] }
func (g *generator) between(lo, hi int) int    { return lo + g.rng.IntN(hi-lo+1) }

// others picks n different names that none of taken is.
func (g *generator) others(from []string, n int, taken ...string) []string {
	var out []string
	for len(out) < n {
		if m := g.pick(from); !slices.Contains(out, m) && !slices.Contains(taken, m) {
			out = append(out, m)
		}
	}
	return out
}

var openings = []string{
	"Two steady efforts and a short race", "A heavy single, then lighter work", "Long and even", "Short and sharp",
	"Skill first, sweat later",
}

// session makes sessions until one holds: some draws do not fit into the hour, or into
// their intervals.
func (g *generator) session(name string) string {
	for {
		before := *g.pcg
		d := timed(alone(name, g.draw(name, plan{1800, 3600, 7200, 1800})))
		*g.pcg = before // the same draws again, now that it is known how long they take
		text := g.draw(name, d)
		if d.startC+d.capC <= 43*60 && len(alone(name, text).Check()) == 0 {
			g.distinct++
			return text
		}
	}
}

// A plan is when parts start, and their caps, in s.
type plan struct{ capA, startB, startC, capC float64 }

var hall = sync.OnceValue(func() *workspace.Snapshot {
	return workspace.Make(workspace.Root{}, map[string]string{"house.stint": house})
})

// alone is a session in the house, and nothing else.
func alone(name, text string) *workspace.Snapshot { return hall().With(pathOf(name), text) }

// atHome is what members at home do instead of a movement.
func atHome(name string) string {
	env := hall().Env
	m, _ := env.Book.Lookup(name)
	if to := substitute.Choose(env, m, []string{"loaded bag"}, "rep"); to != nil {
		return to.Name
	}
	return name
}

func pathOf(name string) string {
	return "sessions/" + strings.ToLower(strings.ReplaceAll(name, " ", "-")) + ".stint"
}

// timed is the plan that suits a session: what the slow need, as written and at home.
func timed(s *workspace.Snapshot) plan {
	session := s.Files[1].Program().Sessions[0]
	slow := func(s *model.Session, env *model.Env, part string) float64 {
		for _, p := range estimate.Of(s, env).Parts {
			if p.Group.Letter == part {
				return 30 * math.Ceil(p.Work.Slow/30)
			}
		}
		return 0
	}
	var d plan
	d.capA, d.capC = slow(session, s.Env, "A"), slow(session, s.Env, "C")
	b := slow(session, s.Env, "B")
	for _, v := range session.Versions {
		b = max(b, slow(v.Session, s.Env, "B"))
	}
	d.startB = d.capA + 90
	d.startC = d.startB + b + 60
	return d
}

// draw writes a session, each time another.
func (g *generator) draw(name string, d plan) string {
	var b strings.Builder
	at := units.FormatClock
	w := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	move := g.others(g.home, 9)
	bell := g.others(g.bells, 3)
	lift := g.others(g.lifts, 1, bell...)[0]
	n := func(i int) int { return 2 * g.between(2+i%3, 10) }
	w("session %s", name)
	w("  length 60:00")
	w("  effort %d-%d%%", g.between(70, 80), g.between(81, 90))
	w("  purpose > %s, number %d.", g.pick(openings), g.distinct+1)
	w("\nwarm-up 2 rounds, lasts 12:00")
	w("  1:%02d row @ easy", g.between(0, 5)*10)
	w("  %d %s", n(0), move[0])
	w("  %d %s", n(1), move[1])
	// for whatever follows
	for _, m := range []string{
		"cossack squat", "hip hinge drill", "wall slide", "prone pull", "pogo hop", "wrist circle",
	} {
		w("  8 %s", m)
	}
	a, c, steps := n(2), n(0), n(1)
	rounds := g.between(3, 5)
	w("\npart A at 0:00 for time, cap %s", at(d.capA))
	w("  %d m row", 100*g.between(2, 8))
	w("  %d rounds", rounds)
	w("    %d %s @ 24/16 kg > Set %d.", a, bell[0], g.between(1, 99))
	w("    %d %s", c, move[2])
	w("    %d %s, alternating", steps, move[3])
	w("  rest at least 1:30")
	switch g.rng.IntN(4) {
	case 0:
		w("\npart B at %s every 2:30 x %d", at(d.startB), g.between(4, 6))
		w("  %d %s @ %d%%, tempo 3%dX1", g.between(2, 6), lift, g.between(65, 85), g.between(0, 2))
	case 1:
		w("\npart B at %s sets 6-5-4-3", at(d.startB))
		w("  %s @ %d to %d%%", lift, g.between(60, 70), g.between(75, 85))
		w("  rest %d:00", g.between(2, 3))
	case 2:
		w("\npart B at %s emom 12:00", at(d.startB))
		w("  slot 1: %d cal row", g.between(6, 9))
		w("  slot 2: %d %s", 2*g.between(2, 5), move[4])
		w("  slot 3: 0:40 plank")
	default:
		w("\npart B at %s on 0:40 off 0:20 x %d", at(d.startB), g.between(6, 12))
		w("  max %s", move[4])
	}
	ladder := []int{21, 15, 9}
	if g.rng.IntN(2) == 0 {
		ladder = []int{12, 9, 6}
	}
	w("\npart C at %s ladder %d-%d-%d for time, cap %s", at(d.startC), ladder[0], ladder[1], ladder[2], at(d.capC))
	w("  %s @ 24/16 kg", bell[1])
	w("  %s", move[5])
	w("\ncool-down lasts 5:00")
	w("  1:00/side rear-foot-up hip stretch")
	sum := ladder[0] + ladder[1] + ladder[2]
	w("\ntotal %d %s, %d %s, %d %s", rounds*a, bell[0], sum, bell[1], rounds*c, move[2])
	w("\nscaling no-kit")
	w("  row -> march in place")
	w("  part A: %d m row -> 0:00 march in place", 0)
	text := b.String()
	// The swap of metres has to name the metres of part A.
	metres := text[strings.Index(text, "cap "):]
	metres = metres[strings.Index(metres, "\n  ")+3:]
	metres = metres[:strings.Index(metres, " m row")]
	far, _ := strconv.Atoi(metres)
	text = strings.Replace(text, "part A: 0 m row -> 0:00",
		fmt.Sprintf("part A: %s m row -> %s", metres, at(float64(far/4))), 1)
	if strings.Contains(text, "cal row") {
		cal := text[strings.Index(text, "slot 1: ")+8:]
		cal = cal[:strings.Index(cal, " ")]
		text += fmt.Sprintf("  %s cal row -> 0:45 march in place\n", cal)
	}
	for _, m := range bell[:2] {
		text += fmt.Sprintf("  %s -> %s\n", m, atHome(m))
	}
	if strings.Contains(text, "%, tempo") || strings.Contains(text, "sets 6-5-4-3") {
		text += fmt.Sprintf("  %s -> %s\n", lift, atHome(lift))
	}
	return text
}

func cycle(name string, sessions []string) string {
	var b strings.Builder
	fmt.Fprintf(&b, "cycle %s\n  from 2027-03-01\n  weeks %d\n", name, (len(sessions)+2)/3)
	days := []string{"mon", "wed", "fri"}
	for i, s := range sessions {
		if i%3 == 0 {
			fmt.Fprintf(&b, "  week %d\n", i/3+1)
		}
		fmt.Fprintf(&b, "    %s %s\n", days[i%3], s)
	}
	return b.String()
}

// nameOf makes a name of letters for a number: no two alike.
func nameOf(i int) string {
	knots := []string{"Bowline", "Sheet Bend", "Clove Hitch", "Figure Eight", "Rolling Hitch", "Reef", "Anchor Bend",
		"Half Hitch", "Stopper"}
	return knots[i%len(knots)] + " " + letters(i/len(knots))
}

// letters is a number in base 26, written a to z, at least two of them.
func letters(i int) string {
	s := ""
	for len(s) < 2 || i > 0 {
		s = string(rune('a'+i%26)) + s
		i /= 26
	}
	return s
}
