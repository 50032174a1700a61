package registration

import (
	"fmt"
	"slices"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
)

var half = decimal.New(5, -1)

// TurnedPoint says where a point at s from the near-left corner lies after the flip,
// from the new near-left corner: u' = W - u for flip y, v' = H - v for flip x.
func (f Flip) TurnedPoint(s Point, b Blank) Point {
	switch f {
	case FlipY:
		return Point{X: b.W.Sub(s.X), Y: s.Y}
	case FlipX:
		return Point{X: s.X, Y: b.H.Sub(s.Y)}
	}
	return s
}

// inside reports whether p lies on the blank or its edge.
func (p Point) inside(b Blank) bool {
	return b.Inset(p).Sign() >= 0
}

// outside refuses a place that isn't on the blank; what stands there.
func (b Blank) outside(p Point, key, what string) error {
	if p.inside(b) {
		return nil
	}
	return &Error{About: key, Found: fmt.Sprintf("%s at %s is outside the blank of %s by %s", what, p, b.W, b.H),
		Expected: fmt.Sprintf("X 0 to %s, Y 0 to %s", b.W, b.H), Hint: "from the near-left corner, face up"}
}

// Corners gives the blank's four corners, from its near-left one.
func (b Blank) Corners() [4]Point { return [4]Point{{}, {X: b.W}, {Y: b.H}, {X: b.W, Y: b.H}} }

// Inset is how far a point lies inside the nearest edge, below 0 where it lies outside.
func (b Blank) Inset(p Point) decimal.Decimal {
	return decimal.Min(p.X, p.Y, b.W.Sub(p.X), b.H.Sub(p.Y))
}

// ZLevel is the level of a side's Z0.
func (q *Question) ZLevel(back bool) ZZero {
	if back {
		return q.BackZZero
	}
	return q.ZZero
}

// check refuses a name that no place has.
func (z Zero) check() error {
	if z.Name == "" || slices.ContainsFunc(zeroNames, func(n zeroName) bool { return n.name == z.Name }) {
		return nil
	}
	return unknown(z.Name, zeroForm)
}

// on gives the place of z on a blank, from its near-left corner as it lies. One that isn't
// said is that corner.
func (z Zero) on(b Blank) Point {
	if z.At != nil {
		return *z.At
	}
	for _, n := range zeroNames {
		if n.name == z.Name {
			return Point{
				X: b.W.Mul(half).Mul(decimal.New(n.x, 0)),
				Y: b.H.Mul(half).Mul(decimal.New(n.y, 0)),
			}
		}
	}
	return Point{}
}

// named gives the places of the two zeros on the piece in hand, from its near-left corner as
// it lies on that side. Dowels and a plug stand in the bed, and the programs' frame hangs on
// the holes that go over them, whatever size the piece is of: there both zeros are where the
// nominal blank has them. The holes are given from the near-left corner with the face up, so
// that is where both sizes agree; turned over, it lies across the flip line, and the near-left
// corner is off by what the piece is wider or deeper by. Elsewhere the zeros are the piece's own.
func (q *Question) named(nominal, used Blank) (face, back Point) {
	if q.Register != Dowels && q.Register != Plug {
		return q.Zero.on(used), q.BackZero.on(used)
	}
	off := q.Flip.TurnedPoint(Point{}, used).Sub(q.Flip.TurnedPoint(Point{}, nominal))
	return q.Zero.on(nominal), q.BackZero.on(nominal).Add(off)
}

// zeros fills in which places and levels the two zeros name.
func (q *Question) zeros(a *Answer) error {
	if !q.Zero.given() {
		q.Zero = Zero{Name: zeroNames[0].name}
		a.add(LevelAssumed, ZeroDefault{q.Zero.Name})
	}
	if err := q.Zero.check(); err != nil {
		return About(err, "zero")
	}
	switch {
	case q.BackZero.given():
		if err := q.BackZero.check(); err != nil {
			return About(err, "back-zero")
		}
	case q.Zero.Name == "":
		return &Error{About: "back-zero", Found: fmt.Sprintf("missing, and ‹zero %s› is a place of its own", q.Zero),
			Expected: zeroForm,
			Hint:     "measured on the blank with the back up"}
	default:
		q.BackZero = q.Zero
		a.add(LevelAssumed, BackZeroDefault{q.BackZero.Name})
	}
	assumed := q.ZZero == ZZeroUnset || q.BackZZero == ZZeroUnset
	if q.ZZero == ZZeroUnset {
		q.ZZero = Top
	}
	if q.BackZZero == ZZeroUnset {
		q.BackZZero = q.ZZero
	}
	if assumed {
		a.add(LevelAssumed, ZZeroDefault{q.ZZero, q.BackZZero})
	}
	return nil
}

// mapping gives the transform of a point at the same depth from one side's
// program to the other's: the face zero at a, the back zero at b, on blank s
// whose thickness is that at the turn. With p = s - a and p' = s' - b it follows
// from turned.
func (q *Question) mapping(s Blank, a, b Point) transform.Map {
	m := transform.Identity(q.Unit)
	switch q.Flip {
	case FlipY:
		m.X = transform.Axis{Sign: -1, Offset: s.W.Sub(a.X).Sub(b.X)}
		m.Y.Offset = a.Y.Sub(b.Y)
	case FlipX:
		m.X.Offset = a.X.Sub(b.X)
		m.Y = transform.Axis{Sign: -1, Offset: s.H.Sub(a.Y).Sub(b.Y)}
	}
	switch {
	case q.ZZero == Top && q.BackZZero == Bed:
		m.Z.Offset = s.T
	case q.ZZero == Bed && q.BackZZero == Top:
		m.Z.Offset = s.T.Neg()
	}
	return m
}

// rise says how far the second zero lies above the face zero in Z. full is the
// thickness when the face was touched off; at the turn the skim is gone. From
// the face's seating plane, the face zero stands at full or 0 and the back zero
// at the seats' difference and full - skimmed or 0. Without a skim it is the
// seats' difference, less the thickness from top to bed, plus it from bed to top.
func (q *Question) rise(full decimal.Decimal) decimal.Decimal {
	r := q.BackSeat.Sub(q.Seat)
	if q.BackZZero == Top {
		r = r.Add(full).Sub(q.Skimmed)
	}
	if q.ZZero == Top {
		r = r.Sub(full)
	}
	return r
}
