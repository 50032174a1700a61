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

// newStraight prepares a straight move.
func newStraight(p *profile, line int, from, to [3]float64) stroke {
	s := stroke{p: p, line: uint32(line), x: from[0], y: from[1], z: from[2], ux: 1}
	dx, dy, dz := to[0]-from[0], to[1]-from[1], to[2]-from[2]
	l := math.Hypot(dx, dy)
	if l < minPlan {
		s.z = min(from[2], to[2])
		return s
	}
	s.length, s.ux, s.uy, s.slope = l, dx/l, dy/l, dz/l
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

// place gives a place on a stroke's way with the height of the tip.
func (s *stroke) place(t float64) (x, y, z float64) {
	x, y = s.along(t)
	if s.kind == levelArc {
		return x, y, s.z
	}
	return x, y, s.z + s.slope*s.length*t
}

// level says whether the tip stays at one height.
func (s *stroke) flat() bool { return s.kind == levelArc || s.slope == 0 || s.length == 0 }

// part gives the part of a stroke between two shares of its way.
func (s *stroke) part(from, to float64) stroke {
	p := *s
	if s.kind == straight {
		p.x, p.y = s.along(from)
		p.z += s.slope * s.length * from
		p.length *= to - from
		return p
	}
	sweep := s.sweep()
	p = newArc(s.p, int(s.line), s.x, s.y, s.z, s.radius, math.Atan2(s.uy, s.ux)+from*sweep, (to-from)*sweep)
	p.cw = s.cw
	return p
}

// start gives where the cutter's way starts.
func (s *stroke) start() (x, y float64) {
	if s.kind == levelArc && s.cw {
		return s.along(1)
	}
	return s.along(0)
}

// heading gives the direction of the cutter's way at its start (0) or its end (1).
func (s *stroke) heading(t float64) (x, y float64) {
	from, to := max(0, t-1e-3), min(1, t+1e-3)
	if s.kind == levelArc && s.cw {
		from, to = 1-from, 1-to
	}
	x0, y0 := s.along(from)
	x1, y1 := s.along(to)
	d := math.Hypot(x1-x0, y1-y0)
	return (x1 - x0) / d, (y1 - y0) / d
}

// share gives the place on the way, as along takes it, that lies nearest to (x, y).
func (s *stroke) share(x, y float64) float64 {
	x -= s.x
	y -= s.y
	if s.kind == straight {
		if s.length == 0 {
			return 0
		}
		return min(max((x*s.ux+y*s.uy)/s.length, 0), 1)
	}
	sweep := s.sweep()
	a := math.Atan2(s.ux*y-s.uy*x, s.ux*x+s.uy*y)
	if a < 0 {
		a += 2 * math.Pi
	}
	if a <= sweep {
		return a / sweep
	}
	// Past the end, or before the start.
	if a-sweep < 2*math.Pi-a {
		return 1
	}
	return 0
}

// away gives the direction from the cutter's way to a place beside it, of length 1 where
// it isn't on it.
func (s *stroke) away(x, y float64) (dx, dy float64) {
	const e = 1e-4 // mm
	at := func(x, y float64) float64 {
		d, _, _ := s.near(x, y)
		return d
	}
	return (at(x+e, y) - at(x-e, y)) / (2 * e), (at(x, y+e) - at(x, y-e)) / (2 * e)
}

// past says whether the nearest place on the cutter's way to (x, y) is an end of it, with
// (x, y) beyond that end.
func (s *stroke) past(x, y float64) bool {
	if s.kind == levelArc {
		t := s.share(x, y)
		return !s.full && (t == 0 || t == 1)
	}
	_, _, along := s.near(x, y)
	return s.length > 0 && (along < 0 || along > s.length)
}

// about says whether the cutter goes straight down, or on a circle about (x, y), or on a
// chord of one, or straight out from there, within slack and no farther than radius.
func (k *stroke) about(x, y, radius, slack float64) bool {
	if k.kind == levelArc {
		return math.Hypot(k.x-x, k.y-y) <= slack && k.radius <= radius
	}
	at := func(t float64) float64 {
		a, b := k.along(t)
		return math.Hypot(a-x, b-y)
	}
	if at(0) > radius || at(1) > radius {
		return false
	}
	across := math.Abs((k.x-x)*k.uy - (k.y-y)*k.ux)
	return k.length == 0 || across <= slack || math.Abs(at(0)-at(1)) <= 2*slack && at(0)-at(0.5) <= slack
}
