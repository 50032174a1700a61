package bed

import (
	"errors"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
	"flipcalc/registration"
)

// Clear is a height at which every tool passes over everything on the bed that is
// known.
type Clear struct {
	// Z is the machine Z, in the unit that was asked for.
	Z decimal.Decimal
	// Over names what Z is reckoned from, the highest of all: BlankTop, StandTop,
	// ProgramLevel, a no-go area as it was given or the offset of a fixture.
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
	StandTop     = "stand" // of a dowel, plug, fence or stop
	ProgramLevel = "program"
)

// ClearRoom is the room for clamps, pins and chips over the highest blank or
// fixture, in mm: common practice for small work, and a height that clamps must keep
// below.
var ClearRoom = decimal.New(25, 0)

// ClearOver reckons a clear height for a job with blanks at its stations and the
// fixtures in use, for the longest tool's stick-out. levels are the highest Z of
// the face's and of the back's programs, from their own Z zeros, nil where unknown;
// stands is how high what locates the blank reaches over the seats, 0 where nothing is
// known of it. All are in the question's unit, and so is the result. areas are the
// no-go areas in the same unit: those of known height count. In inches it is
// rounded up to 0.0001. It is an error where the table's height isn't known or the
// travel doesn't reach so high.
func (m *Machine) ClearOver(a *registration.Answer, levels [2]*decimal.Decimal, stands, longest decimal.Decimal, areas []Area) (*Clear, error) {
	u := a.Question.Unit
	mach, _ := common(m, Request{Unit: u})
	room, _ := transform.Convert(ClearRoom, transform.MM, mach.Unit, 4)
	t := mach.tallest(a, levels, stands, areas, room)
	z, err := mach.ClearZ(t.high.Sub(t.room), into(u, mach.Unit)(longest), t.room)
	if err != nil {
		var e *registration.Error
		if errors.As(err, &e) && t.over != BlankTop && t.over != StandTop && t.over != ProgramLevel {
			e.Found += " over " + t.over
			if strings.HasPrefix(t.over, "no-go") {
				e.Hint += "; leave its height out where no way leads over it"
			}
		}
		return nil, err
	}
	return &Clear{Z: raised(z, mach.Unit, u), Over: t.over, Room: raised(t.room, mach.Unit, u), Unknown: t.unknown}, nil
}

// tallest is what reaches highest over the table, with the room over it, in the
// machine's unit.
type tallest struct {
	high, room decimal.Decimal // room is part of high
	over       string
	unknown    []string // offsets in use of unknown height
}

// tallest finds it. The machine is in the unit of both, see common.
func (m *Machine) tallest(a *registration.Answer, levels [2]*decimal.Decimal, stands decimal.Decimal, areas []Area, room decimal.Decimal) (t tallest) {
	q := a.Question
	mm := into(q.Unit, m.Unit)
	take := func(v, over decimal.Decimal, name string) {
		if t.over == "" || v.Add(over).GreaterThan(t.high) {
			t.high, t.over, t.room = v.Add(over), name, over
		}
	}
	seats := [2]decimal.Decimal{mm(q.Seat), mm(q.BackSeat)}
	tops := [2]decimal.Decimal{mm(a.Uncut()), mm(a.Used.T)}
	zeros := [2]registration.ZZero{q.ZZero, q.BackZZero}
	for s := range 2 {
		top := seats[s].Add(tops[s])
		take(top, room, BlankTop)
		take(seats[s].Add(mm(stands)), room, StandTop)
		if levels[s] == nil {
			continue
		}
		zero := seats[s]
		if zeros[s] != registration.Bed {
			zero = top
		}
		take(zero.Add(mm(*levels[s])), decimal.Decimal{}, ProgramLevel)
	}
	for _, area := range areas {
		if area.Height != nil {
			take(mm(*area.Height), room, noGoName(area))
		}
	}
	for _, u := range m.InUse {
		switch {
		case m.Table == nil || u.Z == nil || u.StickOut == nil:
			t.unknown = append(t.unknown, u.Offset)
		default:
			take(u.Z.Sub(*u.StickOut).Sub(*m.Table), room, u.Offset)
		}
	}
	return t
}

// Fits says whether a clear height that the maker gives is one: inside the travel,
// and not below what ClearOver knows to stand on the bed, without the room over it.
// stands is as ClearOver has it; longest is nil where it isn't known, then only the travel
// is checked.
func (m *Machine) Fits(a *registration.Answer, z decimal.Decimal, u transform.Unit, stands decimal.Decimal, longest *decimal.Decimal) error {
	mach, _ := common(m, Request{Unit: u})
	mm := into(u, mach.Unit)
	if r := mach.Z; !r.Holds(mm(z)) {
		return &registration.Error{About: "clear", Found: "Z" + z.String(), Expected: "machine Z inside the travel, " + r.Least.String() + " to " + r.Greatest.String(),
			Hint: "the clear height is a machine coordinate of the spindle"}
	}
	if a == nil || longest == nil || mach.Table == nil {
		return nil
	}
	t := mach.tallest(a, [2]*decimal.Decimal{}, stands, nil, decimal.Decimal{})
	if least := mach.Table.Add(t.high).Add(mm(*longest)); mm(z).LessThan(least) {
		over := map[string]string{BlankTop: "the blank", StandTop: "what locates the blank"}[t.over]
		if over == "" {
			over = "what stands at " + t.over
		}
		return &registration.Error{About: "clear", Found: "Z" + z.String() + ", where the longest tool reaches down into " + over,
			Expected: "Z" + raised(least, mach.Unit, u).String() + " or higher, with room for clamps"}
	}
	return nil
}

// Passes says whether the longest tool passes over areas of known height at a clear height
// that the maker gives, all in unit u; longest is nil where it isn't known.
func (m *Machine) Passes(areas []Area, z decimal.Decimal, u transform.Unit, longest *decimal.Decimal) error {
	mach, _ := common(m, Request{Unit: u})
	mm := into(u, mach.Unit)
	for _, a := range areas {
		if mach.Table == nil || longest == nil {
			return &registration.Error{About: "clear", No: true, Found: "a way over " + noGoName(a) + ", and whether the longest tool passes over it at Z" + z.String() + " isn't known",
				Expected: "table in the machine file, and ‹longest›"}
		}
		if least := mach.Table.Add(mm(*a.Height)).Add(mm(*longest)); !mm(z).GreaterThan(least) {
			return &registration.Error{About: "clear", No: true, Found: "Z" + z.String() + ", where the longest tool reaches down to " + noGoName(a),
				Expected: "higher than Z" + raised(least, mach.Unit, u).String()}
		}
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
