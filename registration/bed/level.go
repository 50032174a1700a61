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

// Levels gives for the face's Z zero what its offset stores, and the machine Z that is
// read when the tool that it is touched off with stands on its level, as far as they are
// known; the back's are higher by Answer.Rise. A Z that was given is the stored one.
// Where the programs call lengths and nothing says how Z is stored there is none.
func (m *Machine) Levels(a *registration.Answer, stickOut *decimal.Decimal) (stored, reading *decimal.Decimal) {
	q := a.Question
	level := func(stick *decimal.Decimal) *decimal.Decimal {
		if stick != nil {
			if z, ok := m.FaceLevel(a, *stick); ok {
				return &z
			}
		}
		return nil
	}
	if q.At != nil {
		stored = q.At.Z
	}
	switch q.Lengths {
	case registration.LengthsCalled:
		return nil, level(stickOut)
	case registration.LengthsWhole:
		if stored == nil {
			stored = level(&decimal.Decimal{})
		}
		if stored != nil && stickOut != nil {
			z := stored.Add(*stickOut)
			reading = &z
		}
		return stored, reading
	}
	if stored == nil {
		stored = level(stickOut)
	}
	return stored, stored
}

// Doubt is a Z of the face zero that can't be right as the machine is known. Lengths are
// in the question's unit.
type Doubt struct {
	At, Expected decimal.Decimal // the Z that was given; the one that is reckoned, or the least there can be
	Least        bool            // Expected is the least
	Other        bool            // the other level, the top or the seating plane, would suit it better
}

// Doubts compares the Z of a face zero that was given with the table's height, the
// seat and the thickness: within half the thickness of the level that the question
// names, since beyond it the other level or neither is nearer. Without a stick-out the
// bare nose at that Z must at least clear the level. The back's Z follows from the
// face's, so it is in doubt with it. nil where nothing is wrong, it isn't known or no
// Z is stored.
func (m *Machine) Doubts(a *registration.Answer, stickOut *decimal.Decimal) *Doubt {
	q := a.Question
	if q.At == nil || q.At.Z == nil || q.Lengths == registration.LengthsCalled {
		return nil
	}
	stick := decimal.Zero
	if stickOut != nil && q.Lengths == registration.LengthsTool {
		stick = *stickOut
	}
	want, ok := m.FaceLevel(a, stick)
	if !ok {
		return nil
	}
	z := *q.At.Z
	if stickOut == nil && q.Lengths == registration.LengthsTool {
		if z.LessThan(want) {
			return &Doubt{At: z, Expected: want, Least: true}
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
	return &Doubt{At: z, Expected: want, Other: other.Abs().Mul(decimal.NewFromInt(2)).LessThan(full)}
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
