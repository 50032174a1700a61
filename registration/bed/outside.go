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
		if lengths(r, into(m.Unit, transform.MM)).Holds(into(a.Question.Unit, transform.MM)(*v)) {
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
			corner, w, h = a.BackLies()
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
// with that outline would lie, in unit u, or nil.
func (m *Machine) Under(job string, outline [4]registration.Point, u transform.Unit) *InUse {
	outline = lengths(outline, into(u, transform.MM))
	for _, in := range m.Others(job) {
		if r := in.Rect; r != nil && lengths(*r, into(m.Unit, transform.MM)).Meets(outline) {
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
	room, travel := into(transform.MM, l.Unit)(ClampRoom), lengths(m.travelRect(), into(m.Unit, l.Unit))
	var out []Tight
	for i, side := range [4]string{"left", "right", "near", "far"} {
		var least *decimal.Decimal
		for _, s := range l.Stations {
			b := s.Blank
			d := [4]decimal.Decimal{b.X.Sub(travel.X), travel.Right().Sub(b.Right()), b.Y.Sub(travel.Y), travel.Far().Sub(b.Far())}[i]
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
