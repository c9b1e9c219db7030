package estimate

// An interruption stops the work under way, which goes on from there: at the end of a window that is
// carried on in the next, or of a leg that a partner goes on with.
type interruption struct {
	at   float64            // s since the part began; +Inf where there is none
	then func() (over bool) // sets up what follows, and says whether nothing does
}

// resume goes on with a line after what interrupts it, perhaps by another body. It says whether
// time was up.
func (sim *simulation) resume(c *unitCost) (cut bool) {
	was := sim.who
	if sim.interrupt.then() {
		return true
	}
	if c != nil && sim.who != was && c.again != nil {
		if again, ok := c.again(); ok {
			again.rest, again.setSize, again.neverBroken, again.again = c.rest, c.setSize, c.neverBroken, c.again
			*c = again
		}
	}
	return false
}
