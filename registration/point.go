package registration

import "github.com/shopspring/decimal"

// Point is a place in X and Y, or the way between two; its frame is said where it is used.
type Point struct {
	X decimal.Decimal `json:"x"`
	Y decimal.Decimal `json:"y"`
}

// Add gives the place that lies by o from p.
func (p Point) Add(o Point) Point { return Point{p.X.Add(o.X), p.Y.Add(o.Y)} }

// Sub gives the way from o to p.
func (p Point) Sub(o Point) Point { return Point{p.X.Sub(o.X), p.Y.Sub(o.Y)} }

// Times gives the way f times as long.
func (p Point) Times(f decimal.Decimal) Point { return Point{p.X.Mul(f), p.Y.Mul(f)} }

// Dot is the sum of the products along X and along Y: with itself, the square of a length.
func (p Point) Dot(o Point) decimal.Decimal { return p.X.Mul(o.X).Add(p.Y.Mul(o.Y)) }

// Equal reports whether two places are one, whatever their decimals.
func (p Point) Equal(o Point) bool { return p.X.Equal(o.X) && p.Y.Equal(o.Y) }
