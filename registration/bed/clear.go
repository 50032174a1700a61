package bed

import (
	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
	"flipcalc/registration"
)

// Clear is a height at which every tool passes over everything on the bed that is
// known.
type Clear struct {
	// Z is the machine Z, in the unit that was asked for.
	Z decimal.Decimal
	// Over names what Z is reckoned from, the highest of all: BlankTop,
	// ProgramLevel or the offset of a fixture.
	Over string
	// Room is how far the longest tool passes over it. It is 0 over a program's own
	// level, at which its maker already moves the tool across.
	Room decimal.Decimal
	// Unknown lists the offsets in use whose fixtures' heights aren't known.
	Unknown []string
}

// What a clear height is reckoned from.
const (
	BlankTop     = "blank"
	ProgramLevel = "program"
)

// ClearRoom is the room for clamps, pins and chips over the highest blank or
// fixture, in mm: common practice for small work, and a height that clamps must keep
// below.
var ClearRoom = decimal.New(25, 0)

// ClearOver reckons a clear height for a job with blanks at its stations and the
// fixtures in use, for the longest tool's stick-out. levels are the highest Z of
// the face's and of the back's programs, from their own Z zeros, nil where unknown;
// both and longest are in the question's unit, and so is the result. In inches it is
// rounded up to 0.0001. It is an error where the table's height isn't known or the
// travel doesn't reach so high.
func (m *Machine) ClearOver(a *registration.Answer, levels [2]*decimal.Decimal, longest decimal.Decimal) (*Clear, error) {
	q := a.Question
	mach, _ := common(m, Request{Unit: q.Unit})
	mm := func(v decimal.Decimal) decimal.Decimal {
		w, _ := transform.Convert(v, q.Unit, mach.Unit, places)
		return w
	}
	room, _ := transform.Convert(ClearRoom, transform.MM, mach.Unit, 4)
	c := &Clear{}
	high := decimal.Decimal{}
	take := func(v, over decimal.Decimal, name string) {
		if c.Over == "" || v.Add(over).GreaterThan(high) {
			high, c.Over, c.Room = v.Add(over), name, over
		}
	}
	seats := [2]decimal.Decimal{mm(q.Seat), mm(q.BackSeat)}
	tops := [2]decimal.Decimal{mm(a.Uncut()), mm(a.Used.T)}
	zeros := [2]registration.ZZero{q.ZZero, q.BackZZero}
	for s := range 2 {
		top := seats[s].Add(tops[s])
		take(top, room, BlankTop)
		if levels[s] == nil {
			continue
		}
		zero := seats[s]
		if zeros[s] != registration.Bed {
			zero = top
		}
		take(zero.Add(mm(*levels[s])), decimal.Decimal{}, ProgramLevel)
	}
	for _, u := range mach.InUse {
		switch {
		case mach.Table == nil || u.Z == nil || u.StickOut == nil:
			c.Unknown = append(c.Unknown, u.Offset)
		default:
			take(u.Z.Sub(*u.StickOut).Sub(*mach.Table), room, u.Offset)
		}
	}
	z, err := mach.ClearZ(high.Sub(c.Room), mm(longest), c.Room)
	if err != nil {
		return nil, err
	}
	c.Z, c.Room = raised(z, mach.Unit, q.Unit), raised(c.Room, mach.Unit, q.Unit)
	return c, nil
}

// Fits says whether a clear height that the maker gives is one: inside the travel,
// and not below what ClearOver knows to stand on the bed, without the room over it.
// longest is nil where it isn't known; then only the travel is checked.
func (m *Machine) Fits(a *registration.Answer, z decimal.Decimal, u transform.Unit, longest *decimal.Decimal) error {
	mach, _ := common(m, Request{Unit: u})
	mm := func(v decimal.Decimal) decimal.Decimal {
		w, _ := transform.Convert(v, u, mach.Unit, places)
		return w
	}
	if r := mach.Z; mm(z).LessThan(r.Least) || mm(z).GreaterThan(r.Greatest) {
		return &registration.Error{About: "--clear", Found: "Z" + z.String(), Expected: "machine Z inside the travel, " + r.Least.String() + " to " + r.Greatest.String(),
			Hint: "the clear height is a machine coordinate of the spindle"}
	}
	if a == nil || longest == nil || mach.Table == nil {
		return nil
	}
	c, err := m.ClearOver(a, [2]*decimal.Decimal{}, *longest)
	if err != nil {
		return nil // with the room over it it is out of reach; without it may be in
	}
	if least := c.Z.Sub(c.Room); z.LessThan(least) {
		over := map[string]string{BlankTop: "the blank"}[c.Over]
		if over == "" {
			over = "what stands at " + c.Over
		}
		return &registration.Error{About: "--clear", Found: "Z" + z.String() + ", where the longest tool reaches down into " + over,
			Expected: "Z" + least.String() + " or higher, with room for clamps"}
	}
	return nil
}

// raised converts a height, up to 0.0001 where it isn't finite in the new unit.
func raised(v decimal.Decimal, from, to transform.Unit) decimal.Decimal {
	w, exact := transform.Convert(v, from, to, 4)
	if !exact {
		if back, _ := transform.Convert(w, to, from, 0); back.LessThan(v) {
			w = w.Add(decimal.New(1, -4))
		}
	}
	return w
}
