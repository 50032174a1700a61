package motion

import (
	"math"
	"math/big"
)

// length gives |v| in floating point.
func length(v [2]Num) float64 { return math.Hypot(v[0].Float(), v[1].Float()) }

// doubt is the relative width of the band in which a comparison of two lengths in
// floating point isn't trusted. Each coordinate is rounded once (2^-53), Hypot adds
// at most 2 ulp, so that a length is good to 4 x 2^-53 = 4.5e-16 of itself; 1e-14
// leaves a factor of 20.
const doubt = 1e-14

// apart reports whether the lengths of a and b differ by more than tol, exactly.
func apart(a, b [2]Num, tol Num) bool {
	la, lb := length(a), length(b)
	d, t := math.Abs(la-lb), tol.Float()
	switch e := doubt * (la + lb + t); {
	case d < t-e:
		return false
	case d > t+e:
		return true
	}
	return apartExactly(a, b, tol)
}

// apartExactly is apart without roots: with a the longer, |a| - |b| > t means
// |a|^2 - |b|^2 - t^2 > 2 t |b|, and where the left side is positive, its square
// > 4 t^2 |b|^2.
func apartExactly(a, b [2]Num, tol Num) bool {
	a2, b2 := square(a), square(b)
	if a2.Cmp(b2) < 0 {
		a2, b2 = b2, a2
	}
	t := tol.Rat()
	t2 := new(big.Rat).Mul(t, t)
	c := new(big.Rat).Sub(a2, b2)
	c.Sub(c, t2)
	if c.Sign() <= 0 {
		return false
	}
	c.Mul(c, c)
	return c.Cmp(t2.Mul(t2, b2.Mul(b2, big.NewRat(4, 1)))) > 0
}

// longer reports whether the length of v exceeds |reach| by more than tol, exactly.
func longer(v [2]Num, reach, tol Num) bool {
	l, r := length(v), math.Abs(reach.Float())+tol.Float()
	switch e := doubt * (l + r); {
	case l < r-e:
		return false
	case l > r+e:
		return true
	}
	q := reach.Rat()
	q.Abs(q).Add(q, tol.Rat())
	return square(v).Cmp(q.Mul(q, q)) > 0
}

// square gives |v|^2 exactly.
func square(v [2]Num) *big.Rat {
	x, y := v[0].Rat(), v[1].Rat()
	return x.Mul(x, x).Add(x, y.Mul(y, y))
}

// Plane gives the axes of the move's plane and the axis across it.
func (m *Move) axes() (first, second, normal int) { return m.State.Plane.Axes() }

// Circular reports whether the move is an arc.
func (m *Move) Circular() bool { return m.Kind == CW || m.Kind == CCW }

// Arc gives an arc's centre along its plane's first and second axis, its radius
// (at the start) and its sweep in radians, counter-clockwise positive, all turns
// included. ok is false where the move is no arc or where its ends aren't counted
// from the same place. Lengths are in the unit of the move.
func (m *Move) Arc() (centre [2]float64, radius, sweep float64, ok bool) {
	if !m.Circular() {
		return centre, 0, 0, false
	}
	first, second, _ := m.axes()
	for k, i := range [2]int{first, second} {
		if m.FromOK[i] != m.ToOK[i] || !m.ByRadius && m.CentreOK[k] != m.FromOK[i] {
			return centre, 0, 0, false
		}
	}
	from := [2]float64{m.From[first].Float(), m.From[second].Float()}
	to := [2]float64{m.To[first].Float(), m.To[second].Float()}
	whole := m.From[first].Equal(m.To[first]) && m.From[second].Equal(m.To[second])
	switch {
	case m.Cycle == 120 || m.Cycle == 130:
		centre, radius = from, math.Abs(m.Radius.Float()) // a circle round where the tool stands
	case m.ByRadius:
		centre, radius = m.centreByRadius(from, to)
	default:
		centre = [2]float64{m.Centre[0].Float(), m.Centre[1].Float()}
		radius = math.Hypot(from[0]-centre[0], from[1]-centre[1])
	}
	sweep = 2 * math.Pi
	if !whole {
		sweep = math.Atan2(to[1]-centre[1], to[0]-centre[0]) - math.Atan2(from[1]-centre[1], from[0]-centre[0])
		if m.Kind == CW {
			sweep = -sweep
		}
		if sweep <= 0 {
			sweep += 2 * math.Pi
		}
	}
	sweep += 2 * math.Pi * float64(m.Turns-1)
	if m.Kind == CW {
		sweep = -sweep
	}
	return centre, radius, sweep, true
}

// centreByRadius finds the centre of an arc written with R: on the perpendicular
// bisector of its chord, to the left of the chord for a counter-clockwise arc of
// up to half a turn (NISTIR 6556, 3.5.3.1).
func (m *Move) centreByRadius(from, to [2]float64) (centre [2]float64, radius float64) {
	r := m.Radius.Float()
	dx, dy := to[0]-from[0], to[1]-from[1]
	d := math.Hypot(dx, dy)
	h := math.Sqrt(math.Max(0, r*r-d*d/4)) / d
	if (m.Kind == CW) != (r < 0) {
		h = -h
	}
	return [2]float64{(from[0]+to[0])/2 - h*dy, (from[1]+to[1])/2 + h*dx}, math.Abs(r)
}

// Length gives how far the tool goes, in the unit of the move; ok is false where
// an end isn't known.
func (m *Move) Length() (l float64, ok bool) {
	if m.Machine || m.Home {
		return 0, false
	}
	if m.Kind == Spline {
		return m.splineLength()
	}
	if m.Circular() {
		_, radius, sweep, ok := m.Arc()
		_, _, n := m.axes()
		if !ok || m.FromOK[n] != m.ToOK[n] {
			return 0, false
		}
		return math.Hypot(radius*sweep, m.To[n].Float()-m.From[n].Float()), true
	}
	var d [3]float64
	for i := range 3 {
		if m.FromOK[i] != m.ToOK[i] {
			return 0, false
		}
		d[i] = m.To[i].Float() - m.From[i].Float()
	}
	return math.Sqrt(d[0]*d[0] + d[1]*d[1] + d[2]*d[2]), true
}
