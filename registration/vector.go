package registration

import "math"

// vector is a place or way in floats.
type vector struct{ x, y float64 }

func vectorOf(p Point) vector { return vector{p.X.InexactFloat64(), p.Y.InexactFloat64()} }

func (v vector) minus(w vector) vector { return vector{v.x - w.x, v.y - w.y} }

func (v vector) plus(w vector) vector { return vector{v.x + w.x, v.y + w.y} }

func (v vector) dot(w vector) float64 { return v.x*w.x + v.y*w.y }

// cross is above 0 where w lies counter-clockwise of v.
func (v vector) cross(w vector) float64 { return v.x*w.y - v.y*w.x }

func (v vector) length() float64 { return math.Hypot(v.x, v.y) }

// rotated turns v counter-clockwise.
func (v vector) rotated(turn float64) vector {
	sin, cos := math.Sincos(turn)
	return vector{v.x*cos - v.y*sin, v.x*sin + v.y*cos}
}

// mean is the middle of places, 0,0 of none.
func mean(places []vector) (m vector) {
	n := float64(len(places))
	for _, p := range places {
		m = m.plus(vector{p.x / n, p.y / n})
	}
	return m
}
