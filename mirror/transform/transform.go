// Package transform holds what registration and mirror share: the map that carries a point
// or a box of the face program to the same place of the part in the back program, the two
// units of length, and the names of the stored work offsets.
package transform

import (
	"fmt"
	"math"

	"github.com/shopspring/decimal"
)

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
	Sign   int             `json:"sign"`
	Offset decimal.Decimal `json:"offset"`
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
// back: each axis by its sign and offset, in Unit, and the result turned about X0 Y0
// by Turn degrees, counter-clockwise seen from above, over -180 to under 180. A half
// turn is never in Turn: it is two signs (Turned).
type Map struct {
	X    Axis            `json:"x"`
	Y    Axis            `json:"y"`
	Z    Axis            `json:"z"`
	Unit Unit            `json:"-"`
	Turn decimal.Decimal `json:"turn,omitzero"`
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

var wholeTurn, halfTurn = decimal.New(360, 0), decimal.New(180, 0)

// Turned gives m followed by a turn about X0 Y0, in degrees, counter-clockwise. Half a
// turn reverses X and Y, so that the map needs no turn for it.
func (m Map) Turned(degrees decimal.Decimal) Map {
	m.Turn = m.Turn.Add(degrees).Mod(wholeTurn)
	switch {
	case m.Turn.GreaterThan(halfTurn):
		m.Turn = m.Turn.Sub(wholeTurn)
	case m.Turn.LessThan(halfTurn.Neg()):
		m.Turn = m.Turn.Add(wholeTurn)
	}
	if m.Turn.Abs().Equal(halfTurn) {
		m.Turn = decimal.Decimal{}
		for _, a := range []*Axis{&m.X, &m.Y} {
			a.Sign, a.Offset = -a.Sign, a.Offset.Neg()
		}
	}
	return m
}

// turned turns a place about X0 Y0 by m's turn: exactly by a quarter, else to 1e-9.
func (m Map) turned(x, y decimal.Decimal) (decimal.Decimal, decimal.Decimal) {
	switch quarter := decimal.New(90, 0); {
	case m.Turn.Equal(quarter):
		return y.Neg(), x
	case m.Turn.Equal(quarter.Neg()):
		return y, x.Neg()
	}
	sin, cos := math.Sincos(m.Turn.InexactFloat64() * math.Pi / 180)
	v, w := x.InexactFloat64(), y.InexactFloat64()
	return decimal.NewFromFloat(v*cos - w*sin).Round(9), decimal.NewFromFloat(v*sin + w*cos).Round(9)
}

// Straight gives m without its turn.
func (m Map) Straight() Map {
	m.Turn = decimal.Decimal{}
	return m
}

// Inverse undoes m, which must have no turn.
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
	return Map{X: conv(m.X), Y: conv(m.Y), Z: conv(m.Z), Unit: u, Turn: m.Turn}, exact
}

// String writes the map as three formulas, for example
// "x' = 140 - x, y' = y, z' = z", and the turn where there is one.
func (m Map) String() string {
	s := fmt.Sprintf("%s, %s, %s", m.X.Formula("x"), m.Y.Formula("y"), m.Z.Formula("z"))
	if !m.Turn.IsZero() {
		s += fmt.Sprintf(", turned by %s degrees about X0 Y0", m.Turn)
	}
	return s
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
