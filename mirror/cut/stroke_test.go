package cut

import (
	"math"
	"math/rand"
	"testing"

	"flipcalc/testdata/draws"
)

// tools is one cutter of each shape.
var tools = []Tool{
	{Number: 1, Shape: Flat, Diameter: 6},
	{Number: 2, Shape: Ball, Diameter: 3},
	{Number: 3, Shape: Vee, Diameter: 6, Angle: 60},
	{Number: 4, Shape: Bull, Diameter: 6, Corner: 1},
	{Number: 5, Shape: Vee, Diameter: 4, Angle: 118},
}

// The oracle is the definition: the cutter put down at very many places along its
// way, the lowest of its surfaces taken. It can only lie above the swept surface,
// and by no more than the spacing allows.
func TestSurfaceAgainstManyPlaces(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	rng := rand.New(rand.NewSource(7))
	shapes := []*profile{}
	for _, tool := range tools {
		shapes = append(shapes, tool.profile(), tool.profile().grown(2))
	}
	for _, p := range shapes {
		for range draws.Of(40) {
			from := [3]float64{rng.Float64() * 4, rng.Float64() * 4, -rng.Float64() * 5}
			to := [3]float64{rng.Float64() * 8, rng.Float64() * 8, -rng.Float64() * 5}
			if rng.Intn(4) == 0 {
				to[2] = from[2]
			}
			s := newStraight(p, 1, from, to)
			for range 40 {
				x, y := rng.Float64()*10-1, rng.Float64()*10-1
				got, ok := s.surface(x, y)
				const n = 4000
				want, reach := math.Inf(1), math.Inf(1)
				for i := range n + 1 {
					f := float64(i) / n
					d := math.Hypot(x-from[0]-f*(to[0]-from[0]), y-from[1]-f*(to[1]-from[1]))
					reach = math.Min(reach, d)
					if d <= p.R {
						want = math.Min(want, from[2]+f*(to[2]-from[2])+p.height(d))
					}
				}
				if math.Abs(reach-p.R) < 5e-3 {
					continue // too near the rim for the oracle
				}
				if ok != (reach <= p.R) {
					t.Fatalf("%+v at %g,%g: ok %v, distance %g", s, x, y, ok, reach)
				}
				if !ok {
					continue
				}
				// The oracle is at most one step of 11 mm/4000 along the way off the
				// best place: the slope over it is at most 5 mm/step's share.
				if got > want+1e-9 || got < want-1e-2 {
					t.Fatalf("R %g flat %g r %g k %g, %v to %v at %g,%g: %g, oracle %g", p.R, p.flat, p.r, p.k, from, to, x, y, got, want)
				}
			}
		}
	}
}

// Closed forms, derived: a ball of radius R on a slope m leaves the plane of the
// tip lifted by R(sqrt(1+m^2)-1) below the slanted axis; a cone rises by k for
// each unit across a level move; a flat end leaves the lower end of its reach.
func TestSurfaceClosedForms(t *testing.T) {
	ball := Tool{Shape: Ball, Diameter: 3}.profile()
	vee := Tool{Shape: Vee, Diameter: 8, Angle: 60}.profile()
	flat := Tool{Shape: Flat, Diameter: 6}.profile()
	bull := Tool{Shape: Bull, Diameter: 6, Corner: 1}.profile()
	up := func(p *profile, m float64) stroke {
		return newStraight(p, 1, [3]float64{0, 0, -10}, [3]float64{20, 0, -10 + 20*m})
	}
	for _, c := range []struct {
		name string
		s    stroke
		x, y float64
		want float64
	}{
		{"ball level, over the axis", up(ball, 0), 10, 0, -10},
		{"ball level, 0.6 R across", up(ball, 0), 10, 0.9, -10 + 1.5*(1-0.8)},
		{"ball on slope 3/4", up(ball, 0.75), 10, 0, -10 + 7.5 - 1.5*(1.25-1)},
		{"ball on slope 3/4, 0.6 R across", up(ball, 0.75), 10, 0.9, -10 + 7.5 + 1.5 - 1.2*1.25},
		{"cone level, 1 across", up(vee, 0), 10, 1, -10 + math.Sqrt(3)},
		{"flat rising 1/2", up(flat, 0.5), 10, 0, -10 + 3.5},
		{"flat rising 1/2, 1.8 across", up(flat, 0.5), 10, 1.8, -10 + 0.5*(10-2.4)},
		{"bull level, in the corner", up(bull, 0), 10, 2.6, -10 + 1 - 0.8},
		{"bull along the axis on slope 3/4", up(bull, 0.75), 10, 0, -10 + 0.75*(10-2) + 1 - 1.25},
		{"plunge of a cone", newStraight(vee, 1, [3]float64{0, 0, 5}, [3]float64{0, 0, -3}), 0.6, 0.8, -3 + math.Sqrt(3)},
	} {
		got, ok := c.s.surface(c.x, c.y)
		if !ok || math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%s: %.12g %v, want %.12g", c.name, got, ok, c.want)
		}
	}
}

// The arc's oracle is the same definition.
func TestArcAgainstManyPlaces(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	rng := rand.New(rand.NewSource(3))
	for _, tool := range tools {
		p := tool.profile()
		for range draws.Of(40) {
			r, start, sweep := 0.5+rng.Float64()*6, rng.Float64()*7, (rng.Float64()*2-1)*2*math.Pi
			s := newArc(p, 1, 1, 2, -3, r, start, sweep)
			for range 40 {
				x, y := rng.Float64()*20-9, rng.Float64()*20-8
				reach := math.Inf(1)
				const n = 4000
				for i := range n + 1 {
					w := start + sweep*float64(i)/n
					reach = math.Min(reach, math.Hypot(x-1-r*math.Cos(w), y-2-r*math.Sin(w)))
				}
				got, ok := s.surface(x, y)
				if math.Abs(reach-p.R) < 5e-3 {
					continue
				}
				if ok != (reach < p.R) {
					t.Fatalf("radius %g from %g over %g at %g,%g: ok %v, distance %g", r, start, sweep, x, y, ok, reach)
				}
				if ok && math.Abs(got-(-3+p.height(reach))) > 5e-3*math.Max(1, p.k) {
					// Near the rim of a ball a thousandth in distance is more in height.
					if p.r == 0 || reach-p.flat < 0.95*p.r {
						t.Fatalf("radius %g from %g over %g at %g,%g: %g, oracle %g", r, start, sweep, x, y, got, -3+p.height(reach))
					}
				}
			}
		}
	}
}
