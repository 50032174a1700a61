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
