package registration

import "github.com/shopspring/decimal"

// Quarter is how many quarter turns a station is turned by, its locators and its blank with
// it, counter-clockwise seen from above: 0 to 3.
type Quarter int

// Degrees gives the turn in degrees, 0 to 270.
func (k Quarter) Degrees() decimal.Decimal { return decimal.NewFromInt(90 * int64(k)) }

// Back gives the turn that undoes it.
func (k Quarter) Back() Quarter { return (4 - k) % 4 }

// Point turns p about 0,0: (x, y) comes to (-y, x) by each quarter.
func (k Quarter) Point(p Point) Point {
	for range k {
		p = Point{X: p.Y.Neg(), Y: p.X}
	}
	return p
}

// Blank gives the extent of a blank as it then lies.
func (k Quarter) Blank(b Blank) Blank {
	if k%2 == 1 {
		b.W, b.H = b.H, b.W
	}
	return b
}

// On gives a place of a blank, from its own near-left corner, from the near-left corner that
// it has as it then lies: (u, v) comes to (H - v, u) by each quarter.
func (k Quarter) On(b Blank, p Point) Point {
	for range k {
		p, b = Point{X: b.H.Sub(p.Y), Y: p.X}, Quarter(1).Blank(b)
	}
	return p
}

// Side gives the side on which a side of the blank then lies.
func (k Quarter) Side(s Side) Side {
	for range k {
		s = [...]Side{Near: Right, Right: Far, Far: Left, Left: Near}[s]
	}
	return s
}

// contact gives a fence's or stop's side and coordinate as it then stands.
func (k Quarter) contact(s Side, at decimal.Decimal) (Side, decimal.Decimal) {
	p := Point{Y: at}
	if s.acrossX() {
		p = Point{X: at}
	}
	s = k.Side(s)
	return s, s.of(k.Point(p))
}
