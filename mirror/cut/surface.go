package cut

import "math"

// stroke is one piece of a cutter's way, in a side's frame, ready to be swept: a
// straight line (of no length for a plunge) or a level arc in the XY plane.
type stroke struct {
	p    *profile
	line uint32
	kind strokeKind

	// Straight: from (x, y, z) along the unit vector (ux, uy) over length, rising
	// by slope for each unit of it. Arc: x, y is the centre.
	x, y, z float64
	ux, uy  float64
	length  float64
	slope   float64
	slack   float64 // what rounding to 24 bits may take off a height or a tangent
	lead    float64 // |slope|/sqrt(1+slope^2): how far down a ball cuts lowest, in rho

	// Arc, taken counter-clockwise from the unit vector (ux, uy) to (vx, vy).
	vx, vy float64
	radius float64
	long   bool // sweeps more than half a turn
	full   bool // sweeps a whole turn or more
	cw     bool // was cut clockwise
}

type strokeKind uint8

const (
	straight strokeKind = iota
	levelArc
)

// minPlan is the plan length below which a move is swept as a plunge, mm. Such a
// move leads the cutter aside by less than the resolution of any program.
const minPlan = 1e-7

// doubt gives what rounding to 24 bits may take off a height that the stroke leaves,
// or off a tangent plane of it within a few millimetres. A fillet's tangent is used
// up to a rise of 4.
func (s *stroke) doubt() float64 {
	z := max(math.Abs(s.z), math.Abs(s.z+s.slope*s.length))
	return 1e-6 * (1 + z + s.p.R + max(4, s.p.k))
}

// newStraight prepares a straight move.
func newStraight(p *profile, line int, from, to [3]float64) stroke {
	s := stroke{p: p, line: uint32(line), x: from[0], y: from[1], z: from[2], ux: 1}
	dx, dy, dz := to[0]-from[0], to[1]-from[1], to[2]-from[2]
	l := math.Hypot(dx, dy)
	if l < minPlan {
		s.z = min(from[2], to[2])
		s.slack = s.doubt()
		return s
	}
	s.length, s.ux, s.uy, s.slope = l, dx/l, dy/l, dz/l
	s.lead = math.Abs(s.slope) / math.Sqrt(1+s.slope*s.slope)
	s.slack = s.doubt()
	return s
}

// newArc prepares a level arc from the angle start over sweep (radians, positive
// counter-clockwise) about (cx, cy).
func newArc(p *profile, line int, cx, cy, z, radius, start, sweep float64) stroke {
	cw := sweep < 0
	if cw {
		start, sweep = start+sweep, -sweep
	}
	s := stroke{p: p, line: uint32(line), kind: levelArc, cw: cw, x: cx, y: cy, z: z, radius: radius}
	s.uy, s.ux = math.Sincos(start)
	s.vy, s.vx = math.Sincos(start + sweep)
	s.long = sweep > math.Pi
	s.full = sweep >= 2*math.Pi-1e-12
	s.slack = s.doubt()
	return s
}

// bottom gives the least height of the cutter's tip along s.
func (s *stroke) bottom() float64 {
	return min(s.z, s.z+s.slope*s.length)
}

// box gives the rectangle around the cutter's way in plan.
func (s *stroke) box() (x0, y0, x1, y1 float64) {
	if s.kind == levelArc {
		return s.x - s.radius, s.y - s.radius, s.x + s.radius, s.y + s.radius
	}
	xe, ye := s.x+s.ux*s.length, s.y+s.uy*s.length
	return min(s.x, xe), min(s.y, ye), max(s.x, xe), max(s.y, ye)
}

// along gives the place on the cutter's way where the share t of it is done; an
// arc is taken counter-clockwise however it was cut.
func (s *stroke) along(t float64) (x, y float64) {
	if s.kind == straight {
		return s.x + s.ux*s.length*t, s.y + s.uy*s.length*t
	}
	sin, cos := math.Sincos(math.Atan2(s.uy, s.ux) + t*s.sweep())
	return s.x + s.radius*cos, s.y + s.radius*sin
}

// sweep gives the angle of an arc.
func (s *stroke) sweep() float64 {
	if s.full {
		return 2 * math.Pi
	}
	w := math.Atan2(s.ux*s.vy-s.uy*s.vx, s.ux*s.vx+s.uy*s.vy)
	if w < 0 {
		w += 2 * math.Pi
	}
	return w
}

// way gives the length in plan.
func (s *stroke) way() float64 {
	if s.kind == straight {
		return s.length
	}
	return s.radius * s.sweep()
}

// near gives the distance in plan from (x, y) to the cutter's way and the height
// of the tip there; for a straight move also how far along it (x, y) lies, not
// limited to its length.
func (s *stroke) near(x, y float64) (d, z, along float64) {
	x -= s.x
	y -= s.y
	if s.kind == levelArc {
		return s.nearArc(x, y), s.z, 0
	}
	a := x*s.ux + y*s.uy
	p := x*s.uy - y*s.ux
	t := a
	if t < 0 {
		t = 0
	} else if t > s.length {
		t = s.length
	}
	e := a - t
	return math.Sqrt(p*p + e*e), s.z + s.slope*t, a
}

// nearArc gives the distance from (x, y), counted from the centre, to the arc.
func (s *stroke) nearArc(x, y float64) float64 {
	in := s.full
	if !in {
		a := s.ux*y-s.uy*x >= 0 // counter-clockwise of the start
		b := x*s.vy-y*s.vx >= 0 // clockwise of the end
		if s.long {
			in = a || b
		} else {
			in = a && b
		}
	}
	if in {
		return math.Abs(math.Sqrt(x*x+y*y) - s.radius)
	}
	px, py := x-s.radius*s.ux, y-s.radius*s.uy
	qx, qy := x-s.radius*s.vx, y-s.radius*s.vy
	return math.Sqrt(min(px*px+py*py, qx*qx+qy*qy))
}

// surface gives the height of the surface that s leaves at (x, y), the least over
// all places of the cutter, exact but for rounding. ok is false beyond its reach.
//
// With a the distance along the move, q across it and h the cutter's shape, the
// height is the least of f(t) = z + m t + h(sqrt(q^2 + (a-t)^2)) over the t
// between 0 and the length at which the cutter reaches (x, y). h is convex and
// never falls, so f is convex, and its least lies at its free minimum or at the
// nearer end of that stretch.
func (s *stroke) surface(x, y float64) (h float64, ok bool) {
	if s.kind == levelArc || s.slope == 0 {
		d, z, _ := s.near(x, y)
		if d > s.p.R {
			return 0, false
		}
		return z + s.p.height(d), true
	}
	x -= s.x
	y -= s.y
	return s.ramp(x*s.ux+y*s.uy, x*s.uy-y*s.ux)
}

// ramp is surface for a straight move that rises or falls.
func (s *stroke) ramp(a, q float64) (h float64, ok bool) {
	rho2 := s.p.R*s.p.R - q*q
	if rho2 < 0 {
		return 0, false
	}
	rho := math.Sqrt(rho2)
	lo, hi := max(0, a-rho), min(s.length, a+rho)
	if lo > hi {
		return 0, false
	}
	t := a
	w := s.p.ahead(math.Abs(q), math.Abs(s.slope), rho)
	if s.slope > 0 {
		t -= w
	} else {
		t += w
	}
	t = min(max(t, lo), hi)
	e := a - t
	return s.z + s.slope*t + s.p.height(min(s.p.R, math.Sqrt(q*q+e*e))), true
}

// ahead gives how far down a slope m > 0 from the place nearest to a point at
// distance q across the way the cutter's axis stands when it cuts that point
// lowest, at most rho: the w >= 0 for which -m w + h(sqrt(q^2+w^2)) is least.
func (p *profile) ahead(q, m, rho float64) float64 {
	// Under the flat part the cutter only gets lower as it goes on.
	w0 := 0.0
	if q < p.flat {
		w0 = math.Sqrt(p.flat*p.flat - q*q)
		if p.flat >= p.R {
			return rho
		}
	}
	switch {
	case p.r > 0 && p.flat == 0:
		// Ball: h' w/d = w/sqrt(r^2-q^2-w^2) = m.
		return min(rho, m*math.Sqrt(max(0, p.r*p.r-q*q))/math.Sqrt(1+m*m))
	case p.r > 0:
		return p.aheadFillet(q, m, w0, rho)
	case p.k > 0:
		// Cone: k w/d = m, so w = q m/sqrt(k^2-m^2).
		if m >= p.k {
			return rho
		}
		return min(rho, max(w0, q*m/math.Sqrt((p.k-m)*(p.k+m))))
	}
	return rho
}

// aheadFillet solves h'(d) w/d = m on a corner fillet, where d = sqrt(q^2+w^2),
// e = d - flat and h' = e/sqrt(r^2-e^2). The left side rises with w, so bisection
// kept inside Newton's steps always arrives; an error of 1e-7 r in w changes the
// height, which is least there, by less than 1e-12 r.
func (p *profile) aheadFillet(q, m, lo, hi float64) float64 {
	w := min(hi, max(lo, lo+m/math.Sqrt(1+m*m)*p.r))
	for range 40 {
		d := math.Sqrt(q*q + w*w)
		e := d - p.flat
		g := p.r*p.r - e*e
		var f, df float64
		switch {
		case e <= 0:
			f, df = -m, 0
		case g <= 0:
			f, df = math.Inf(1), 0
		default:
			root := math.Sqrt(g)
			f = e/root*w/d - m
			df = p.r*p.r/(g*root)*(w/d)*(w/d) + e/root*q*q/(d*d*d)
		}
		if f > 0 {
			hi = w
		} else {
			lo = w
		}
		next := (lo + hi) / 2
		if df > 0 && !math.IsInf(f, 0) {
			if n := w - f/df; n > lo && n < hi {
				next = n
			}
		}
		if math.Abs(next-w) < 1e-8*p.r {
			return next
		}
		w = next
	}
	return w
}
