package registration

import "github.com/shopspring/decimal"

// acrossX reports whether s is an edge or locator across X: left or right.
func (s Side) acrossX() bool { return s == Left || s == Right }

// Axis is the axis along which a locator on a side is set.
func (s Side) Axis() string {
	if s.acrossX() {
		return "X"
	}
	return "Y"
}

// of gives the coordinate of p on the axis that s stands across.
func (s Side) of(p Point) decimal.Decimal {
	if s.acrossX() {
		return p.X
	}
	return p.Y
}

// crossing names the sides that stand across s.
func (s Side) crossing() string {
	if s.acrossX() {
		return "near or far"
	}
	return "left or right"
}

// Opposite gives the side across the blank.
func (s Side) Opposite() Side {
	return [...]Side{NoSide, Far, Near, Right, Left}[s%5]
}

// Turned says where the edge that lies at side s comes to lie after the flip.
// Turned twice it is back, so it also says which physical edge of the face lies
// at s once the blank is turned.
func (f Flip) Turned(s Side) Side {
	if (f == FlipY && s.acrossX()) || (f == FlipX && (s == Near || s == Far)) {
		return s.Opposite()
	}
	return s
}

// across gives the blank's size along the axis that s stands across.
func (s Side) across(b Blank) decimal.Decimal {
	if s.acrossX() {
		return b.W
	}
	return b.H
}

// length gives the length of the edge at s.
func (s Side) length(b Blank) decimal.Decimal {
	if s.acrossX() {
		return b.H
	}
	return b.W
}

// upper reports whether s is the edge at the greater coordinate.
func (s Side) upper() bool { return s == Right || s == Far }

// edge gives the coordinate of the edge at s of a blank whose near-left corner
// lies at corner on that axis.
func (s Side) edge(corner decimal.Decimal, b Blank) decimal.Decimal {
	if s.upper() {
		return corner.Add(s.across(b))
	}
	return corner
}

// corner gives the coordinate of the near-left corner, on the axis that s stands
// across, of a blank that touches a locator at coordinate at.
func (s Side) corner(at decimal.Decimal, b Blank) decimal.Decimal {
	if s.upper() {
		return at.Sub(s.across(b))
	}
	return at
}
