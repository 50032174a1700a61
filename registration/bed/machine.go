// Package bed says where stations lie on the machine's bed: the machine with its
// travel and the offsets that already belong to something, the placement of pairs
// of stations, and the data by which their offsets are set.
//
// Frame. Every place is in machine coordinates, X to the right and Y away from
// the operator. A station's corner is the near-left corner of the blank as it
// lies there. Lengths are exact decimals in the unit that each type names.
package bed

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
	"flipcalc/registration"
)

// Range is the travel of one axis, in machine coordinates.
type Range struct{ Least, Greatest decimal.Decimal }

// Holds reports whether v lies in r, its ends included.
func (r Range) Holds(v decimal.Decimal) bool {
	return !v.LessThan(r.Least) && !v.GreaterThan(r.Greatest)
}

// Rect is a rectangle of the bed in machine coordinates: its near-left corner,
// its size along X and its size along Y.
type Rect struct {
	X decimal.Decimal `json:"x"`
	Y decimal.Decimal `json:"y"`
	W decimal.Decimal `json:"w"`
	H decimal.Decimal `json:"h"`
}

// Right gives the greatest X of the rectangle.
func (r Rect) Right() decimal.Decimal { return r.X.Add(r.W) }

// Far gives the greatest Y of the rectangle.
func (r Rect) Far() decimal.Decimal { return r.Y.Add(r.H) }

// Overlaps reports whether the insides of r and s meet; rectangles that only
// touch don't overlap.
func (r Rect) Overlaps(s Rect) bool {
	return r.X.LessThan(s.Right()) && s.X.LessThan(r.Right()) && r.Y.LessThan(s.Far()) && s.Y.LessThan(r.Far())
}

// apart is how far r and s lie apart, along X or along Y, where that is more; below 0 where they
// overlap.
func (r Rect) apart(s Rect) decimal.Decimal {
	return decimal.Max(r.X.Sub(s.Right()), s.X.Sub(r.Right()), r.Y.Sub(s.Far()), s.Y.Sub(r.Far()))
}

// corners are those of r.
func (r Rect) corners() (c [4]registration.Point) {
	for i, p := range (registration.Blank{W: r.W, H: r.H}).Corners() {
		c[i] = registration.Point{X: r.X.Add(p.X), Y: r.Y.Add(p.Y)}
	}
	return c
}

// Meets reports whether the insides of r and of a blank with that outline meet: two rectangles
// do unless they lie apart along a side of one of them. The shadows on such a line are compared
// as products with its length.
func (r Rect) Meets(outline [4]registration.Point) bool {
	own := r.corners()
	apart := func(way registration.Point) bool {
		var least, most [2]decimal.Decimal
		for i, list := range [2][4]registration.Point{own, outline} {
			least[i], most[i] = way.Dot(list[0]), way.Dot(list[0])
			for _, p := range list[1:] {
				least[i], most[i] = decimal.Min(least[i], way.Dot(p)), decimal.Max(most[i], way.Dot(p))
			}
		}
		return !least[0].LessThan(most[1]) || !least[1].LessThan(most[0])
	}
	for _, c := range [2][4]registration.Point{own, outline} {
		if apart(c[1].Sub(c[0])) || apart(c[2].Sub(c[0])) {
			return false
		}
	}
	return true
}

// Holds reports whether s lies in r, edges included.
func (r Rect) Holds(s Rect) bool {
	return !s.X.LessThan(r.X) && !s.Y.LessThan(r.Y) && !s.Right().GreaterThan(r.Right()) && !s.Far().GreaterThan(r.Far())
}

// Grow gives r with d more on every side.
func (r Rect) Grow(d decimal.Decimal) Rect {
	dd := d.Add(d)
	return Rect{X: r.X.Sub(d), Y: r.Y.Sub(d), W: r.W.Add(dd), H: r.H.Add(dd)}
}

// Turned gives a rectangle from the near-left corner of a blank, once both are turned, from
// the near-left corner that the blank has then.
func (r Rect) Turned(k registration.Quarter, b registration.Blank) Rect {
	at := k.On(b, registration.Point{X: r.X, Y: r.Y})
	end := k.On(b, registration.Point{X: r.Right(), Y: r.Far()})
	x, y := decimal.Min(at.X, end.X), decimal.Min(at.Y, end.Y)
	return Rect{X: x, Y: y, W: decimal.Max(at.X, end.X).Sub(x), H: decimal.Max(at.Y, end.Y).Sub(y)}
}

// String writes the rectangle as X,Y,WxH.
func (r Rect) String() string {
	return r.X.String() + "," + r.Y.String() + "," + r.W.String() + "x" + r.H.String()
}

// Area is a rectangle of the bed that nothing may enter, and how high what stands there
// reaches over the bed (the table). Height nil is up to the spindle.
type Area struct {
	Rect
	Height *decimal.Decimal `json:"height,omitempty"`
}

// String writes the area as X,Y,WxH[,HEIGHT].
func (a Area) String() string {
	if a.Height == nil {
		return a.Rect.String()
	}
	return a.Rect.String() + "," + a.Height.String()
}

// InUse is one stored offset that belongs to something. Unknown parts are nil.
type InUse struct {
	Offset   string // "G54" ... "G59", "G59.1" ... "G59.3"
	For      string // what it is for, in the maker's words
	Job      string // the job whose station it is; empty for a fixture of the maker's own
	X, Y, Z  *decimal.Decimal
	Rect     *Rect // what it occupies on the bed
	Tool     *int  // the tool it was touched off with
	StickOut *decimal.Decimal
}

// Machine is what has to be known of one machine.
type Machine struct {
	Name    string
	Unit    transform.Unit
	X, Y, Z Range
	Bed     *Rect               // where things may be fixed; nil is the travel in X and Y
	Table   *decimal.Decimal    // machine Z at which the bare spindle nose would meet the table
	Home    *registration.Point // where the machine rests; nil is the least X and Y of the travel
	Park    *registration.Point // where the tool is taken out of the way between cycles
	Change  *registration.Point // where the control changes tools; nil is where the tool stands

	// Rapid and Acceleration per axis, in units per minute and units per second
	// squared. nil is unknown.
	Rapid, Acceleration [3]*decimal.Decimal

	G10      bool // takes G10 L2, which writes stored offsets
	G53      bool // takes G53 moves in machine coordinates
	Extended bool // has G59.1 to G59.3
	InUse    []InUse
}

// limit is the greatest length that is taken for a machine, in its unit, and
// places the most decimals. Together they keep scaled lengths, and sums of a few
// dozen of them, inside an int64: 1e6 * 1e9 = 1e15, while int64 holds 9e18.
var limit = decimal.New(1, 6)

const places = 9

// measurable says what is wrong with a length's size or resolution, or nothing.
func measurable(v decimal.Decimal) string {
	switch {
	case v.Abs().GreaterThan(limit):
		return "a length of more than a million"
	// The exponent is checked first so that a huge one isn't expanded.
	case v.Exponent() < -places && !v.Equal(v.Truncate(places)):
		return fmt.Sprintf("a length with more than %d decimals", places)
	}
	return ""
}

// measures is what a length may be.
const measures = "at most 1000000 with at most 9 decimals"

// faults collects what is wrong with a machine.
type faults []*registration.Error

func (f *faults) add(about, found, expected, hint string) {
	*f = append(*f, &registration.Error{About: about, Found: found, Expected: expected, Hint: hint})
}

// sane reports whether lengths can be worked with, and adds the first that can't.
func (f *faults) sane(about string, of any) bool {
	n := len(*f)
	eachLength(of, func(v decimal.Decimal) {
		if s := measurable(v); s != "" && len(*f) == n {
			f.add(about, s, measures, "")
		}
	})
	return len(*f) == n
}

// rect adds what is wrong with a rectangle; nil is nothing.
func (f *faults) rect(about, what string, r *Rect) {
	if r != nil && f.sane(about, *r) && (!r.W.IsPositive() || !r.H.IsPositive()) {
		f.add(about, what+" of "+r.W.String()+" x "+r.H.String(), "two sizes above 0", "")
	}
}

// positive adds a number that isn't above 0; nil is unknown.
func (f *faults) positive(about, what, expected string, v *decimal.Decimal) {
	if v != nil && f.sane(about, *v) && !v.IsPositive() {
		f.add(about, what+" of "+v.String(), expected, "")
	}
}

// place adds a place, in the machine's unit, that isn't inside the travel; nil is unknown.
func (f *faults) place(about, what, hint string, m *Machine, axis int, v *decimal.Decimal) {
	travel, name := [2]Range{m.X, m.Y}[axis], string("XY"[axis])
	if v == nil || !f.sane(about, *v) || travel.Holds(*v) {
		return
	}
	f.add(about, what+" at "+name+v.String(), fmt.Sprintf("%s inside the travel, %s to %s", name, travel.Least, travel.Greatest), hint)
}

// Faults gives everything that is wrong with the machine's data. About is the
// key in the machine file, for example "travel.x" or "offset 2.rectangle".
func (m *Machine) Faults() []*registration.Error {
	var out faults
	for i, r := range []Range{m.X, m.Y, m.Z} {
		about := "travel." + string("xyz"[i])
		if out.sane(about, r) && !r.Least.LessThan(r.Greatest) {
			out.add(about, fmt.Sprintf("travel from %s to %s", r.Least, r.Greatest), "a least value below the greatest one",
				"give the machine coordinates at both ends of the axis")
		}
	}
	out.rect("bed", "a bed", m.Bed)
	if m.Table != nil && out.sane("table", *m.Table) && m.Table.GreaterThan(m.Z.Greatest) {
		out.add("table", "a table at Z"+m.Table.String(), "at most the top of the travel, Z"+m.Z.Greatest.String(),
			"give the machine Z at which the bare spindle nose would meet the table")
	}
	if m.Home != nil {
		out.sane("home", *m.Home)
	}
	if m.Park != nil {
		out.about("park", m.ParkFault(*m.Park))
	}
	if m.Change != nil {
		out.about("tool-change", m.travelFault("a tool change", *m.Change))
	}
	for i := range 3 {
		axis := string("xyz"[i])
		out.positive("rapid."+axis, "a rapid rate", "a rate above 0", m.Rapid[i])
		out.positive("acceleration."+axis, "an acceleration", "a value above 0", m.Acceleration[i])
	}
	m.offsetFaults(&out)
	return out
}

// about adds a fault, which nil isn't, of a key.
func (f *faults) about(key string, e *registration.Error) {
	if e != nil {
		e.About = key
		*f = append(*f, e)
	}
}

// ParkFault says what is wrong with a place to park the tool, in the machine's unit: it
// must lie inside the travel, and moves there need G53. nil is nothing.
func (m *Machine) ParkFault(at registration.Point) *registration.Error {
	if !m.G53 {
		return &registration.Error{Found: "a place to park on a control without G53", Expected: "g53 = true, or no place to park", Hint: "the way there is written in machine coordinates"}
	}
	return m.travelFault("a place to park", at)
}

// travelFault says that a place, in the machine's unit, isn't inside the travel.
func (m *Machine) travelFault(what string, at registration.Point) *registration.Error {
	var list faults
	for i, v := range []decimal.Decimal{at.X, at.Y} {
		list.place("", what, "it is in machine coordinates", m, i, &v)
	}
	if len(list) > 0 {
		return list[0]
	}
	return nil
}

// offsetFaults checks the offsets in use, each alone and against the others.
func (m *Machine) offsetFaults(out *faults) {
	seen := map[string]bool{}
	for i, u := range m.InUse {
		about := OffsetKey(i)
		p := transform.OffsetNumber(u.Offset)
		switch {
		case p == 0:
			found := "no name"
			if u.Offset != "" {
				found = fmt.Sprintf("offset %q", u.Offset)
			}
			out.add(about+".name", found, "one of "+strings.Join(transform.OffsetNames(true), ", "), "")
			continue
		case p > 6 && !m.Extended:
			out.add(about+".name", "an offset beyond G59", "G54 to G59", "if the control has G59.1 to G59.3, say extended = true")
		case seen[u.Offset]:
			out.add(about+".name", u.Offset+" a second time", "each offset once", "an offset can hold one zero only")
		}
		seen[u.Offset] = true
		for axis, v := range []*decimal.Decimal{u.X, u.Y} {
			out.place(about+".zero", "a zero", "zeros are machine coordinates", m, axis, v)
		}
		out.sane(about+".zero", u.Z)
		out.rect(about+".rectangle", "a rectangle", u.Rect)
		out.positive(about+".stick-out", "a stick-out", "a length above 0", u.StickOut)
		if u.Tool != nil && *u.Tool < 0 {
			out.add(about+".tool", fmt.Sprintf("tool %d", *u.Tool), "a tool number of 0 or more", "")
		}
	}
}

// OffsetKey is what the entry of InUse at i is called in faults.
func OffsetKey(i int) string { return "offset " + strconv.Itoa(i+1) }

// bedRect is where things may be fixed.
func (m *Machine) bedRect() Rect {
	if m.Bed != nil {
		return *m.Bed
	}
	return m.travelRect()
}

// travelRect is the travel in X and Y.
func (m *Machine) travelRect() Rect {
	return Rect{X: m.X.Least, Y: m.Y.Least, W: m.X.Greatest.Sub(m.X.Least), H: m.Y.Greatest.Sub(m.Y.Least)}
}

// home is where the machine rests.
func (m *Machine) home() registration.Point {
	if m.Home != nil {
		return *m.Home
	}
	return registration.Point{X: m.X.Least, Y: m.Y.Least}
}

// ClearZ gives one machine Z at which the longest tool passes by margin over the
// highest thing on the bed: table + highest + longest + margin, with highest
// above the table and longest the stick-out of the longest tool, in the machine's
// unit. The error says that the table's height is missing or that the travel
// doesn't reach so high.
func (m *Machine) ClearZ(highest, longest, margin decimal.Decimal) (decimal.Decimal, error) {
	if m.Table == nil {
		return decimal.Decimal{}, &registration.Error{About: "table", Found: "no table height",
			Expected: "the machine Z of the table, for a clear height between stations", Hint: "add table to the machine file, or give the clear height itself"}
	}
	z := m.Table.Add(highest).Add(longest).Add(margin)
	if z.GreaterThan(m.Z.Greatest) {
		return z, &registration.Error{About: "clear", No: true, Found: "a clear height of Z" + z.String(),
			Expected: "at most the top of the travel, Z" + m.Z.Greatest.String(),
			Hint:     fmt.Sprintf("%s too low for the longest tool, %s over the highest thing: a shorter tool, or lower clamps", z.Sub(m.Z.Greatest), margin)}
	}
	return z, nil
}
