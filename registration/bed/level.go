package bed

import (
	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
	"flipcalc/registration"
)

// FaceLevel gives the machine Z of the face's Z zero when it is touched off with a
// tool of the given stick-out: on the seating plane, or on top of the blank as it
// is before the face is cut. The back's level is higher by Answer.Rise. Stick-out
// and result are in the question's unit, a table measured in millimetres rounded to
// 0.0001 in for a job in inches; ok is false where the table's height isn't known.
func (m *Machine) FaceLevel(a *registration.Answer, stickOut decimal.Decimal) (z decimal.Decimal, ok bool) {
	q := a.Question
	if m.Table == nil {
		return z, false
	}
	table, _ := transform.Convert(*m.Table, m.Unit, q.Unit, cornerPlaces)
	z = table.Add(stickOut).Add(q.Seat)
	if q.ZZero != registration.Bed {
		z = z.Add(a.Used.T).Add(q.Skimmed)
	}
	return z, true
}

// Doubt is a Z of the face zero that can't be right as the machine is known. Lengths are
// in the question's unit.
type Doubt struct {
	At, Expected decimal.Decimal // the Z that was given; the one that is reckoned, or the least there can be
	Whole        decimal.Decimal // the level without the tool, right where H holds whole tool lengths
	Least        bool            // Expected is the least
	Other        bool            // the other level, the top or the seating plane, would suit it better
}

// Doubts compares the Z of a face zero that was given with the table's height, the
// seat and the thickness: within half the thickness of the level that the question
// names, since beyond it the other level or neither is nearer. Without a stick-out the
// bare nose at that Z must at least clear the level. The back's Z follows from the
// face's, so it is in doubt with it. nil where nothing is wrong, WholeLengths has it or
// it isn't known.
func (m *Machine) Doubts(a *registration.Answer, stickOut *decimal.Decimal) *Doubt {
	q := a.Question
	if q.At == nil || q.At.Z == nil {
		return nil
	}
	stick := decimal.Zero
	if stickOut != nil {
		stick = *stickOut
	}
	want, ok := m.FaceLevel(a, stick)
	if !ok {
		return nil
	}
	if _, whole := m.WholeLengths(a, stickOut); whole {
		return nil
	}
	z := *q.At.Z
	if stickOut == nil {
		if z.LessThan(want) {
			return &Doubt{At: z, Expected: want, Whole: want, Least: true}
		}
		return nil
	}
	full := a.Uncut()
	off := z.Sub(want)
	if off.Abs().Mul(decimal.NewFromInt(2)).LessThanOrEqual(full) {
		return nil
	}
	other := off.Sub(full)
	if q.ZZero != registration.Bed {
		other = off.Add(full)
	}
	return &Doubt{At: z, Expected: want, Whole: want.Sub(stick), Other: other.Abs().Mul(decimal.NewFromInt(2)).LessThan(full)}
}

// WholeLengths reports whether the Z of a face zero that was given is the level
// without a tool: right where H holds whole tool lengths, from the spindle nose to the
// tip, and the programs call G43. It is taken for that within half the blank's
// thickness, where it suits no level with the tool as well. nose is the machine Z of
// the spindle nose with the touched-off tool on that level, nil without a stick-out.
func (m *Machine) WholeLengths(a *registration.Answer, stickOut *decimal.Decimal) (nose *decimal.Decimal, ok bool) {
	q := a.Question
	if q.At == nil || q.At.Z == nil {
		return nil, false
	}
	bare, ok := m.FaceLevel(a, decimal.Zero)
	if !ok {
		return nil, false
	}
	full := a.Uncut()
	off := q.At.Z.Sub(bare).Abs()
	if off.Add(off).GreaterThan(full) {
		return nil, false
	}
	if stickOut == nil {
		return nil, true
	}
	// The three levels that a tool on the blank's top or on its seat could mean.
	for _, other := range []decimal.Decimal{decimal.Zero, full, full.Neg()} {
		if with := q.At.Z.Sub(bare).Sub(*stickOut).Sub(other); with.Abs().LessThanOrEqual(off) {
			return nil, false
		}
	}
	z := q.At.Z.Add(*stickOut)
	return &z, true
}

// Take adds how far a program's moves go to what placement knows of it. The box is
// in the program's coordinates; w and h are the blank's size as it lies.
func (p *Program) Take(b transform.Box, blank registration.Blank) {
	if !b.Any {
		return
	}
	r := ReachOf(registration.Point{X: b.Least[0], Y: b.Least[1]}, registration.Point{X: b.Greatest[0], Y: b.Greatest[1]}, p.Zero, blank.W, blank.H)
	p.Reach = &r
	p.Depths = &Depths{Least: b.Least[2], Greatest: b.Greatest[2]}
}
