package model

// Sum is an aim for so much in all as the total that it would be; nil where it is none.
func (m *Aim) Sum() *Total {
	if m.Amount == nil {
		return nil
	}
	t := &Total{Amount: m.Amount}
	switch {
	case m.What == "reps" && m.Amount.Unit == "rep", m.What == "calories" && (m.Amount.Unit == "rep" || m.Amount.Unit == "cal"),
		m.What == "distance" && m.Amount.Unit == "m", m.What == m.Amount.Unit && (m.What == "m" || m.What == "cal" || m.What == "rep"):
	default:
		return nil
	}
	if m.What == "calories" {
		amount := *m.Amount
		amount.Unit, t.Amount = "cal", &amount
	}
	return t
}
