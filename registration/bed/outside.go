package bed

import (
	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
	"flipcalc/registration"
)

// Outside is a zero, or a blank, that lies beyond the end of an axis' travel. Lengths
// are in the machine's unit.
type Outside struct {
	Side                string // FaceSide or BackSide
	What                string // "zero" or "blank"
	Axis                string // X, Y or Z
	At, Least, Greatest decimal.Decimal
}

// Outside lists the zeros of an answer in machine coordinates that the travel
// doesn't hold, and the farthest that the blank reaches beyond an end of X or Y. A zero
// may lie outside where no move goes to it, and so may an uncut end of the blank, so
// this is a warning, not a refusal. Z is looked at as it is read with the tool on it.
func (m *Machine) Outside(a *registration.Answer, stickOut *decimal.Decimal) []Outside {
	_, reading := m.Levels(a, stickOut)
	height := func(over decimal.Decimal) *decimal.Decimal {
		if reading == nil {
			return nil
		}
		z := reading.Add(over)
		return &z
	}
	var out []Outside
	look := func(side, what, axis string, v *decimal.Decimal, r Range) bool {
		if v == nil {
			return false
		}
		// Compared in millimetres, into which both units convert exactly.
		at, _ := transform.Convert(*v, a.Question.Unit, transform.MM, 0)
		lo, _ := transform.Convert(r.Least, m.Unit, transform.MM, 0)
		hi, _ := transform.Convert(r.Greatest, m.Unit, transform.MM, 0)
		if !at.LessThan(lo) && !at.GreaterThan(hi) {
			return false
		}
		shown, _ := transform.Convert(*v, a.Question.Unit, m.Unit, 4)
		out = append(out, Outside{side, what, axis, shown, r.Least, r.Greatest})
		return true
	}
	// The end of the blank that isn't told by a zero there.
	blank := func(side, axis string, zero, corner, size decimal.Decimal, r Range) {
		end := corner.Add(size)
		if !look(side, "zero", axis, &zero, r) && !look(side, "blank", axis, &end, r) {
			look(side, "blank", axis, &corner, r)
		}
	}
	w, h := a.LyingSize()
	if at := a.Question.At; at != nil {
		blank(FaceSide, "X", at.X, a.FaceCorner.X, w, m.X)
		blank(FaceSide, "Y", at.Y, a.FaceCorner.Y, h, m.Y)
		look(FaceSide, "zero", "Z", height(decimal.Zero), m.Z)
	}
	if z := a.Second; z != nil && z.Machine {
		corner := registration.Point{X: z.X, Y: z.Y}
		if a.BackCorner != nil {
			corner = *a.BackCorner
		} else {
			w, h = decimal.Zero, decimal.Zero
		}
		blank(BackSide, "X", z.X, corner.X, w, m.X)
		blank(BackSide, "Y", z.Y, corner.Y, h, m.Y)
		look(BackSide, "zero", "Z", height(a.Rise), m.Z)
	}
	return out
}

// Under gives what stands on the bed, the given job's own stations aside, where a blank
// of the given size would lie with its near-left corner at corner, or nil. corner, w and h
// are in unit u.
func (m *Machine) Under(job string, corner registration.Point, w, h decimal.Decimal, u transform.Unit) *InUse {
	mm := func(v decimal.Decimal, from transform.Unit) decimal.Decimal {
		d, _ := transform.Convert(v, from, transform.MM, 0)
		return d
	}
	blank := Rect{X: mm(corner.X, u), Y: mm(corner.Y, u), W: mm(w, u), H: mm(h, u)}
	for _, in := range m.Others(job) {
		if r := in.Rect; r != nil && blank.Overlaps(Rect{X: mm(r.X, m.Unit), Y: mm(r.Y, m.Unit), W: mm(r.W, m.Unit), H: mm(r.H, m.Unit)}) {
			return &in
		}
	}
	return nil
}

// ClampRoom is what clamps need beside a blank, mm: common practice for toe clamps.
var ClampRoom = decimal.New(20, 0)

// Tight is a side on which a placed blank stands too close to the end of the travel for
// clamps: none there could be reached or passed.
type Tight struct {
	Side string          // left, right, near or far
	Left decimal.Decimal // the least distance of a blank from the end, in the layout's unit
}

// Tight lists the sides with less than ClampRoom between a blank and the end of the
// travel, each with the least distance.
func (l *Layout) Tight(m *Machine) []Tight {
	in := func(v decimal.Decimal, from transform.Unit) decimal.Decimal {
		w, _ := transform.Convert(v, from, l.Unit, 6)
		return w
	}
	room := in(ClampRoom, transform.MM)
	var out []Tight
	for i, side := range [4]string{"left", "right", "near", "far"} {
		var least *decimal.Decimal
		for _, s := range l.Stations {
			b := s.Blank
			d := [4]decimal.Decimal{b.X.Sub(in(m.X.Least, m.Unit)), in(m.X.Greatest, m.Unit).Sub(b.X.Add(b.W)),
				b.Y.Sub(in(m.Y.Least, m.Unit)), in(m.Y.Greatest, m.Unit).Sub(b.Y.Add(b.H))}[i]
			if d.LessThan(room) && (least == nil || d.LessThan(*least)) {
				least = &d
			}
		}
		if least != nil {
			out = append(out, Tight{side, *least})
		}
	}
	return out
}
