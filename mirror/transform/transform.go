// Package transform holds the map that carries a point of the face program to
// the same point of the part in the back program: one sign and one offset per
// axis. It is the one type that registration and mirror share.
package transform

import (
	"fmt"

	"github.com/shopspring/decimal"
)

// Unit is the unit of a length.
type Unit uint8

// The two units of length that G20 and G21 name.
const (
	MM Unit = iota
	Inch
)

// String gives the unit's usual abbreviation.
func (u Unit) String() string {
	if u == Inch {
		return "in"
	}
	return "mm"
}

// mmPerInch is exact by definition (international inch, 1959).
var mmPerInch = decimal.New(254, -1)

// Plane is an arc's plane.
type Plane uint8

// The three planes that G17, G18 and G19 select.
const (
	XY Plane = iota // G17
	ZX              // G18
	YZ              // G19
)

// Axes gives the plane's two axes, 0 for X, 1 for Y, 2 for Z, in the order in
// which a counter-clockwise turn leads from the first to the second when seen
// from the positive end of the third (NISTIR 6556, 3.5.3: X to Y, Z to X, Y to Z).
func (p Plane) Axes() (first, second, normal int) {
	switch p {
	case ZX:
		return 2, 0, 1
	case YZ:
		return 1, 2, 0
	}
	return 0, 1, 2
}

// String gives the plane's preparatory code.
func (p Plane) String() string { return [...]string{"G17", "G18", "G19"}[p] }

// Axis maps one coordinate: new = Sign*old + Offset. Sign is +1 or -1.
type Axis struct {
	Sign   int
	Offset decimal.Decimal
}

// Apply maps one coordinate.
func (a Axis) Apply(v decimal.Decimal) decimal.Decimal {
	if a.Sign < 0 {
		v = v.Neg()
	}
	return v.Add(a.Offset)
}

// Inverse undoes a: old = Sign*(new - Offset).
func (a Axis) Inverse() Axis {
	o := a.Offset
	if a.Sign > 0 {
		o = o.Neg()
	}
	return Axis{Sign: a.Sign, Offset: o}
}

// Map carries program coordinates of the face to program coordinates of the
// back. Offsets are in Unit.
type Map struct {
	X, Y, Z Axis
	Unit    Unit
}

// Identity leaves every point where it is.
func Identity(u Unit) Map {
	one := Axis{Sign: 1}
	return Map{X: one, Y: one, Z: one, Unit: u}
}

// Axis gives the map of axis 0 (X), 1 (Y) or 2 (Z).
func (m Map) Axis(i int) Axis {
	switch i {
	case 0:
		return m.X
	case 1:
		return m.Y
	}
	return m.Z
}

// Inverse undoes m.
func (m Map) Inverse() Map {
	return Map{X: m.X.Inverse(), Y: m.Y.Inverse(), Z: m.Z.Inverse(), Unit: m.Unit}
}

// SwapsArcs reports whether arcs of plane p change sense: exactly one of the
// plane's two axes is reversed.
func (m Map) SwapsArcs(p Plane) bool {
	a, b, _ := p.Axes()
	return (m.Axis(a).Sign < 0) != (m.Axis(b).Sign < 0)
}

// OneAxis reports whether exactly one of X and Y is reversed, which turns
// climb into conventional and cutter compensation left into right.
func (m Map) OneAxis() bool { return m.SwapsArcs(XY) }

// In gives m with its offsets in u. exact is false where an offset in
// millimetres is no finite decimal in inches; such an offset is rounded to
// places decimals, half away from zero.
func (m Map) In(u Unit, places int32) (converted Map, exact bool) {
	if m.Unit == u {
		return m, true
	}
	exact = true
	conv := func(a Axis) Axis {
		o, ok := Convert(a.Offset, m.Unit, u, places)
		exact = exact && ok
		return Axis{Sign: a.Sign, Offset: o}
	}
	return Map{X: conv(m.X), Y: conv(m.Y), Z: conv(m.Z), Unit: u}, exact
}

// Convert gives length v in unit to. exact is false where the value is no
// finite decimal; it is then rounded to places decimals, half away from zero.
func Convert(v decimal.Decimal, from, to Unit, places int32) (w decimal.Decimal, exact bool) {
	switch {
	case from == to:
		return v, true
	case from == Inch:
		return v.Mul(mmPerInch), true
	}
	// v/25.4 = 5v/127 is finite exactly if 127 divides the numerator.
	q := v.Mul(decimal.New(5, 0)).DivRound(decimal.New(127, 0), -min(v.Exponent(), 0)+1)
	if q.Mul(mmPerInch).Equal(v) {
		return q, true
	}
	return v.DivRound(mmPerInch, places), false
}

// String writes the map as three formulas, for example
// "x' = 140 - x, y' = y, z' = z".
func (m Map) String() string {
	return fmt.Sprintf("%s, %s, %s", m.X.Formula("x"), m.Y.Formula("y"), m.Z.Formula("z"))
}

// Formula writes the axis map with the given lower-case letter, for example
// "x' = 140 - x".
func (a Axis) Formula(letter string) string {
	switch {
	case a.Sign < 0 && a.Offset.IsZero():
		return fmt.Sprintf("%s' = -%s", letter, letter)
	case a.Sign < 0:
		return fmt.Sprintf("%s' = %s - %s", letter, a.Offset, letter)
	case a.Offset.IsZero():
		return fmt.Sprintf("%s' = %s", letter, letter)
	case a.Offset.IsNegative():
		return fmt.Sprintf("%s' = %s - %s", letter, letter, a.Offset.Neg())
	}
	return fmt.Sprintf("%s' = %s + %s", letter, letter, a.Offset)
}
