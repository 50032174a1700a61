package cut

import "math"

const (
	// tinyMove is how long a move is at most that has no direction to go by, mm:
	// NISTIR 6556, 3.5.3.2, lets a radius be off by as much.
	tinyMove = 0.002
	// compLink is how far apart the offsets of two moves may end at an inside
	// corner without a crossing, mm, to be joined. A turn by w leaves r*w between
	// them, so that the cutter reaches r*w^2/2 over the contour there: with
	// r = 3 mm, 0.07 micrometres.
	compLink = 0.02
	// compSlack covers the rounding of sums of coordinates up to 1e5 mm.
	compSlack = 1e-6
)

// beside is a move and its offset, along which progress is counted: in mm on a line,
// in radians on an arc.
type beside struct {
	s       Segment
	arc     bool
	point   bool       // an arc of the cutter's own radius: the centre stands still
	tight   bool       // an arc that the cutter can't follow
	p0, p1  [2]float64 // where it starts and ends if nothing cuts it short
	u0, u1  [2]float64 // direction of the contour there
	r0, r1  float64    // arc: radius there
	turn    float64    // arc: 1 counter-clockwise, -1 clockwise
	whole   float64    // progress at p1
	from    [2]float64 // where it starts
	fromWay float64    // progress there
	angle   float64    // arc: angle at p0
}

func cross(a, b [2]float64) float64 { return a[0]*b[1] - a[1]*b[0] }
func dot(a, b [2]float64) float64   { return a[0]*b[0] + a[1]*b[1] }
func minus(a, b [2]float64) [2]float64 {
	return [2]float64{a[0] - b[0], a[1] - b[1]}
}

// along gives p + k*u.
func along(p, u [2]float64, k float64) [2]float64 {
	return [2]float64{p[0] + k*u[0], p[1] + k*u[1]}
}
func apart(a, b [2]float64) float64  { return math.Hypot(a[0]-b[0], a[1]-b[1]) }
func leftOf(u [2]float64) [2]float64 { return [2]float64{-u[1], u[0]} }
func plan(p [3]float64) [2]float64   { return [2]float64{p[0], p[1]} }

// newBeside moves a move by k to its left.
func newBeside(s *Segment, k float64) beside {
	e := beside{s: *s}
	a, b := plan(s.From), plan(s.To)
	if !s.Arc {
		e.whole = apart(a, b)
		d := minus(b, a)
		e.u0 = [2]float64{d[0] / e.whole, d[1] / e.whole}
		e.u1 = e.u0
		e.p0, e.p1 = along(a, leftOf(e.u0), k), along(b, leftOf(e.u1), k)
		return e
	}
	g := s.arc()
	e.arc, e.turn, e.angle, e.whole = true, math.Copysign(1, g.sweep), g.start, math.Abs(g.sweep)
	out0, out1 := minus(a, s.Centre), minus(b, s.Centre)
	for _, v := range []struct {
		out  [2]float64
		r    float64
		p, u *[2]float64
		to   *float64
	}{{out0, g.r0, &e.p0, &e.u0, &e.r0}, {out1, g.r1, &e.p1, &e.u1, &e.r1}} {
		n := [2]float64{v.out[0] / v.r, v.out[1] / v.r}
		*v.u = along([2]float64{}, leftOf(n), e.turn)
		*v.to = v.r - e.turn*k // the left of a counter-clockwise arc is its inside
		*v.p = along(s.Centre, n, *v.to)
	}
	if least := min(e.r0, e.r1); least <= tinyMove {
		e.tight = least < -tinyMove
		e.point, e.p0, e.p1, e.whole = true, s.Centre, s.Centre, 0
	}
	return e
}

// way gives the progress at which a place on e's offset lies, the last where it is
// passed more than once; false where it lies beyond e's ends.
func (e *beside) way(p [2]float64) (float64, bool) {
	if e.point {
		return 0, apart(p, e.p0) <= tinyMove
	}
	if !e.arc {
		v := dot(minus(p, e.p0), e.u0)
		return v, v >= e.fromWay-compSlack && v <= e.whole+compSlack
	}
	slack := compSlack / max(min(e.r0, e.r1), compSlack)
	d := minus(p, e.s.Centre)
	v := math.Mod(e.turn*(math.Atan2(d[1], d[0])-e.angle), 2*math.Pi)
	if v < 0 {
		v += 2 * math.Pi
	}
	for v+2*math.Pi <= e.whole+slack {
		v += 2 * math.Pi
	}
	if v > e.whole+slack && v >= 2*math.Pi-slack {
		v -= 2 * math.Pi
	}
	return v, v >= e.fromWay-slack && v <= e.whole+slack
}

// first gives the progress of the first pass of a place that way has placed.
func (e *beside) first(v float64) float64 {
	if e.arc {
		for v > 2*math.Pi-1e-7 {
			v -= 2 * math.Pi
		}
	}
	return max(v, 0)
}

// meet gives where the offsets of a and of b behind it cross.
func meet(a, b *beside) [][2]float64 {
	switch {
	case !a.arc && !b.arc:
		d := cross(a.u1, b.u0)
		if d == 0 {
			return nil
		}
		return [][2]float64{along(a.p1, a.u1, cross(minus(b.p0, a.p1), b.u0)/d)}
	case !a.arc:
		return lineCircle(a.p1, a.u1, b.s.Centre, b.r0)
	case !b.arc:
		return lineCircle(b.p0, b.u0, a.s.Centre, a.r1)
	}
	d := minus(b.s.Centre, a.s.Centre)
	l := math.Hypot(d[0], d[1])
	if l == 0 {
		return nil
	}
	// The line on which two circles cross is upright to that through their centres.
	u := [2]float64{d[0] / l, d[1] / l}
	return lineCircle(along(a.s.Centre, u, (l*l+a.r1*a.r1-b.r0*b.r0)/(2*l)), leftOf(u), a.s.Centre, a.r1)
}

// lineCircle gives where the line through p along u crosses a circle; one that misses
// it by no more than compSlack touches it.
func lineCircle(p, u, c [2]float64, r float64) [][2]float64 {
	foot := along(p, u, dot(minus(c, p), u))
	h := apart(c, foot)
	if h > r+compSlack {
		return nil
	}
	l := math.Sqrt(max(0, r*r-h*h))
	return [][2]float64{along(foot, u, l), along(foot, u, -l)}
}
