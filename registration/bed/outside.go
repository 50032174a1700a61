package bed

import (
	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
	"flipcalc/registration"
)

// Outside is a zero that lies beyond the end of an axis' travel. Lengths are in
// the machine's unit.
type Outside struct {
	Side                string // FaceSide or BackSide
	Axis                string // X, Y or Z
	At, Least, Greatest decimal.Decimal
}

// Outside lists the zeros of an answer in machine coordinates that the travel
// doesn't hold. A zero may lie outside where no move goes to it, so this is a
// warning, not a refusal. Where the Z given is that of WholeLengths, no tool's nose
// goes there, so Z is looked at higher by the stick-out, or not without one.
func (m *Machine) Outside(a *registration.Answer, stickOut *decimal.Decimal) []Outside {
	_, whole := m.WholeLengths(a, stickOut)
	height := func(z *decimal.Decimal) *decimal.Decimal {
		switch {
		case z == nil || !whole:
			return z
		case stickOut == nil:
			return nil
		}
		nose := z.Add(*stickOut)
		return &nose
	}
	var out []Outside
	look := func(side, axis string, v *decimal.Decimal, r Range) {
		if v == nil {
			return
		}
		// Compared in millimetres, into which both units convert exactly.
		at, _ := transform.Convert(*v, a.Question.Unit, transform.MM, 0)
		lo, _ := transform.Convert(r.Least, m.Unit, transform.MM, 0)
		hi, _ := transform.Convert(r.Greatest, m.Unit, transform.MM, 0)
		if at.LessThan(lo) || at.GreaterThan(hi) {
			shown, _ := transform.Convert(*v, a.Question.Unit, m.Unit, 4)
			out = append(out, Outside{side, axis, shown, r.Least, r.Greatest})
		}
	}
	if at := a.Question.At; at != nil {
		look(FaceSide, "X", &at.X, m.X)
		look(FaceSide, "Y", &at.Y, m.Y)
		look(FaceSide, "Z", height(at.Z), m.Z)
	}
	if z := a.Second; z != nil && z.Machine {
		look(BackSide, "X", &z.X, m.X)
		look(BackSide, "Y", &z.Y, m.Y)
		look(BackSide, "Z", height(z.Z), m.Z)
	}
	return out
}

// Under gives the offset in use whose rectangle a blank of the given size overlaps
// when its near-left corner lies at corner, or nil. corner, w and h are in unit u.
func (m *Machine) Under(corner registration.Point, w, h decimal.Decimal, u transform.Unit) *InUse {
	mm := func(v decimal.Decimal, from transform.Unit) decimal.Decimal {
		d, _ := transform.Convert(v, from, transform.MM, 0)
		return d
	}
	blank := Rect{X: mm(corner.X, u), Y: mm(corner.Y, u), W: mm(w, u), H: mm(h, u)}
	for i := range m.InUse {
		if r := m.InUse[i].Rect; r != nil {
			if blank.Overlaps(Rect{X: mm(r.X, m.Unit), Y: mm(r.Y, m.Unit), W: mm(r.W, m.Unit), H: mm(r.H, m.Unit)}) {
				return &m.InUse[i]
			}
		}
	}
	return nil
}
