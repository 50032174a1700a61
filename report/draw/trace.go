package draw

import (
	"io"
	"math"

	"flipcalc/mirror/cut"
	"flipcalc/mirror/motion"
	"flipcalc/mirror/transform"
)

// Path is a tool path as straight pieces, in program coordinates.
type Path struct {
	Strokes []Stroke
	Plunges []point // where the tool cuts straight down and moves on above
	Cut     bool    // cut short because there were too many points
}

// Turn carries a path round its zero, counter-clockwise.
func (p *Path) Turn(degrees float64) {
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	turned := func(points []point) {
		for i, at := range points {
			points[i] = point{cos*at[0] - sin*at[1], sin*at[0] + cos*at[1]}
		}
	}
	for _, s := range p.Strokes {
		turned(s.Points)
	}
	turned(p.Plunges)
}

// Stroke is one run of rapids or of cutting moves.
type Stroke struct {
	Rapid  bool
	Points []point
}

// tracePoints is about how many points of a tool path a drawing can show.
const tracePoints = 12000

// Trace follows a program and gives its path from above in unit, in coordinates of its
// work offset. Points closer than near, in mm, to the last one are left out; a path
// that is still too long is thinned further. offset, if not 0, keeps only the moves
// made in that work offset (540 for G54).
func Trace(r io.Reader, o motion.Options, unit transform.Unit, near float64, offset int) (*Path, error) {
	near /= unit.MM()
	t := &tracer{unit: unit, near: near, offset: offset}
	if _, err := motion.Walk(r, o, t.move); err != nil {
		return nil, err
	}
	t.flush()
	return &t.path, nil
}

type tracer struct {
	path   Path
	unit   transform.Unit
	near   float64
	offset int
	points int
	open   Stroke
	track  motion.Track
	last   point // where the tool is, kept even where the point was left out
}

func (t *tracer) move(m *motion.Move) error {
	if t.path.Cut {
		return nil
	}
	m, _ = t.track.In(m)
	known := m.FromOK[0] && m.FromOK[1] && m.ToOK[0] && m.ToOK[1] && !m.Machine && !m.Home
	if !known || t.offset != 0 && m.State.Offset != t.offset {
		t.flush()
		return nil
	}
	k := m.State.Unit.MM() / t.unit.MM()
	from := point{m.From[0].Float() * k, m.From[1].Float() * k}
	to := point{m.To[0].Float() * k, m.To[1].Float() * k}
	rapid := m.Kind == motion.Rapid
	if len(t.open.Points) == 0 || t.open.Rapid != rapid || t.last != from || len(t.open.Points) > tracePoints/4 {
		t.flush()
		t.open = Stroke{Rapid: rapid, Points: []point{from}}
	}
	if centre, radius, sweep, ok := m.Arc(); ok {
		first, second, _ := m.State.Plane.Axes()
		start := math.Atan2(m.From[second].Float()-centre[1], m.From[first].Float()-centre[0])
		n := int(math.Ceil(math.Abs(sweep) / (math.Pi / 24)))
		for i := 1; i < n; i++ {
			f := float64(i) / float64(n)
			p := [3]float64{}
			for axis := range 3 { // what isn't in the plane goes along evenly
				p[axis] = m.From[axis].Float() + f*(m.To[axis].Float()-m.From[axis].Float())
			}
			p[first] = centre[0] + radius*math.Cos(start+f*sweep)
			p[second] = centre[1] + radius*math.Sin(start+f*sweep)
			t.add(point{p[0] * k, p[1] * k})
		}
	}
	t.add(to)
	return nil
}

func (t *tracer) add(p point) {
	t.last = p
	q := t.open.Points[len(t.open.Points)-1]
	if math.Hypot(p[0]-q[0], p[1]-q[1]) >= t.near {
		t.open.Points = append(t.open.Points, p)
	}
}

// flush ends the open stroke with the tool's true place.
func (t *tracer) flush() {
	s := t.open
	t.open = Stroke{}
	if len(s.Points) == 0 {
		return
	}
	if s.Points[len(s.Points)-1] != t.last {
		s.Points = append(s.Points, t.last)
	}
	if len(s.Points) < 2 { // straight up or down
		if n := len(t.path.Plunges); !s.Rapid && n < tracePoints && (n == 0 || t.path.Plunges[n-1] != t.last) {
			t.path.Plunges = append(t.path.Plunges, t.last)
		}
		return
	}
	t.path.Strokes = append(t.path.Strokes, s)
	t.points += len(s.Points)
	if t.points > tracePoints {
		t.thin()
	}
}

// thin doubles the distance between points until half of them are gone, and
// gives up on the rest of a program that can't be thinned.
func (t *tracer) thin() {
	for range 4 {
		t.near = max(t.near*2, 1e-6)
		t.points = 0
		for i := range t.path.Strokes {
			p := t.path.Strokes[i].Points
			kept := p[:1]
			for _, q := range p[1 : len(p)-1] {
				if l := kept[len(kept)-1]; math.Hypot(q[0]-l[0], q[1]-l[1]) >= t.near {
					kept = append(kept, q)
				}
			}
			t.path.Strokes[i].Points = append(kept, p[len(p)-1])
			t.points += len(t.path.Strokes[i].Points)
		}
		if t.points < tracePoints/2 {
			return
		}
	}
	t.path.Cut = t.points > tracePoints*3/4
}

// GridOf takes one map of a view of the cut blank, in millimetres, into unit.
func GridOf(values []float32, v cut.View, unit transform.Unit) *Grid {
	k := 1 / unit.MM()
	g := &Grid{NX: v.Width, NY: v.Height, Cell: v.Cell * k, V: make([]float32, len(values))}
	for i, x := range values {
		g.V[i] = float32(float64(x) * k)
	}
	return g
}
