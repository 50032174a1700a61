package cut

import (
	"math"

	"flipcalc/mirror/motion"
	"flipcalc/mirror/transform"
)

// Segment is one straight or circular move of a program, in the program's own
// coordinates.
type Segment struct {
	Line     int // line in the program's file, from 1
	Rapid    bool
	Tool     int // number; -1 where the program has named none yet
	Offset   int // 540 for G54 ... 593 for G59.3; 0 where none was selected
	From, To [3]float64
	// FromOK and ToOK say which coordinates are known.
	FromOK, ToOK [3]bool
	// Machine says that To is in machine coordinates and holds for the axes in ToOK
	// alone (a G53 move); Home that the move goes home.
	Machine, Home bool
	Comp          Comp
	Still         bool // the spindle is stopped

	Arc    bool
	Plane  transform.Plane
	Centre [2]float64 // along the plane's first and second axis
	CCW    bool
	Turns  int // number of whole or part turns; 0 counts as 1
}

// known gives a Segment's FromOK and ToOK when nothing is in doubt.
var known = [3]bool{true, true, true}

// arcShape is an arc broken down: radii at start and end, the angle at the start
// and the signed sweep (counter-clockwise positive) in the plane's axes.
type arcShape struct {
	a, b, n int // axes: first, second, normal
	r0, r1  float64
	start   float64
	sweep   float64
}

// arc breaks s down. An arc whose ends coincide is a full circle (NISTIR 6556,
// 3.5.3.2); further turns add whole circles.
func (s *Segment) arc() arcShape {
	var g arcShape
	g.a, g.b, g.n = s.Plane.Axes()
	x0, y0 := s.From[g.a]-s.Centre[0], s.From[g.b]-s.Centre[1]
	x1, y1 := s.To[g.a]-s.Centre[0], s.To[g.b]-s.Centre[1]
	g.r0, g.r1 = math.Hypot(x0, y0), math.Hypot(x1, y1)
	g.start = math.Atan2(y0, x0)
	// The angle between the ends from their cross and dot product, so that ends
	// that coincide give exactly 0.
	d := math.Atan2(x0*y1-y0*x1, x0*x1+y0*y1)
	if s.From[g.a] == s.To[g.a] && s.From[g.b] == s.To[g.b] {
		d = 0
	}
	if s.CCW {
		if d <= 0 {
			d += 2 * math.Pi
		}
	} else if d >= 0 {
		d -= 2 * math.Pi
	}
	if s.Turns > 1 {
		d += math.Copysign(2*math.Pi*float64(s.Turns-1), d)
	}
	g.sweep = d
	return g
}

// at gives the place on the arc where the share t (0 to 1) of its sweep is done.
// The radius and the coordinate along the normal change evenly with the angle.
func (s *Segment) at(g arcShape, t float64) [3]float64 {
	switch t {
	case 0:
		return s.From
	case 1:
		return s.To
	}
	sin, cos := math.Sincos(g.start + t*g.sweep)
	r := g.r0 + t*(g.r1-g.r0)
	var p [3]float64
	p[g.a] = s.Centre[0] + r*cos
	p[g.b] = s.Centre[1] + r*sin
	p[g.n] = s.From[g.n] + t*(s.To[g.n]-s.From[g.n])
	return p
}

// maxChords bounds the chords of one arc.
const maxChords = 1 << 20

// chords gives how many equal chords keep the arc within sag of it. A chord over
// the angle w on radius r sags by r(1-cos(w/2)) <= r w^2/8.
func (g arcShape) chords(sag float64) int {
	r := math.Max(g.r0, g.r1)
	if r == 0 || g.sweep == 0 {
		return 1
	}
	n := math.Ceil(math.Abs(g.sweep) / math.Sqrt(8*sag/r))
	// At least eight a turn, so that a small arc keeps its shape.
	n = math.Max(n, math.Ceil(math.Abs(g.sweep)/(math.Pi/4)))
	return int(math.Min(n, maxChords))
}

// level says whether the arc stays at one height, in the XY plane, on one radius
// up to sag, so that it can be swept exactly.
func (s *Segment) level(g arcShape, sag float64) bool {
	return s.Plane == transform.XY && s.From[2] == s.To[2] && math.Abs(g.r0-g.r1) <= sag && g.r0 > 0
}

// extent gives the least and greatest coordinate on each axis along s, the
// quadrant points of arcs included. An unknown end of a straight move doesn't
// count; ok says which axes are known at all.
func (s *Segment) extent() (lo, hi [3]float64, ok [3]bool) {
	for i := range 3 {
		lo[i], hi[i] = math.Inf(1), math.Inf(-1)
		if s.FromOK[i] {
			lo[i], hi[i], ok[i] = s.From[i], s.From[i], true
		}
		if s.ToOK[i] {
			lo[i], hi[i], ok[i] = math.Min(lo[i], s.To[i]), math.Max(hi[i], s.To[i]), true
		}
	}
	if !s.Arc {
		return lo, hi, ok
	}
	g := s.arc()
	from, to := g.start, g.start+g.sweep
	if from > to {
		from, to = to, from
	}
	for q := math.Ceil(from / (math.Pi / 2)); q <= to/(math.Pi/2) && q <= from/(math.Pi/2)+5; q++ {
		r := math.Max(g.r0, g.r1)
		sin, cos := math.Sincos(q * math.Pi / 2)
		x, y := s.Centre[0]+r*cos, s.Centre[1]+r*sin
		lo[g.a], hi[g.a] = math.Min(lo[g.a], x), math.Max(hi[g.a], x)
		lo[g.b], hi[g.b] = math.Min(lo[g.b], y), math.Max(hi[g.b], y)
	}
	return lo, hi, ok
}

// FromMove gives a move of the interpreter, in coordinates of its work offset (see
// motion.Track), as a segment in millimetres. An arc whose centre can't be placed comes
// back with its end unknown.
func FromMove(m *motion.Move) Segment {
	mm := m.State.Unit.MM()
	s := Segment{
		Line: m.Line, Rapid: m.Kind == motion.Rapid, Tool: m.State.Tool, Offset: m.State.Offset,
		FromOK: m.FromOK, ToOK: m.ToOK, Machine: m.Machine, Home: m.Home,
		Plane: m.State.Plane, Turns: m.Turns, Still: m.State.Spindle == 0,
	}
	if m.State.Comp == 41 || m.State.Comp == 42 {
		s.Comp = Comp{Side: 83 - 2*m.State.Comp, By: m.State.CompBy, D: m.State.D.Float(), Apart: m.Cycle != 0}
		if s.Comp.By == motion.CompByDiameter {
			s.Comp.D *= mm
		}
	}
	for i := range 3 {
		s.From[i], s.To[i] = m.From[i].Float()*mm, m.To[i].Float()*mm
	}
	if m.Circular() {
		s.Arc, s.CCW = true, m.Kind == motion.CCW
		centre, _, _, ok := m.Arc()
		s.Centre = [2]float64{centre[0] * mm, centre[1] * mm}
		if !ok {
			s.ToOK = [3]bool{}
		}
	}
	return s
}
