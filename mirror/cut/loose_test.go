package cut

import (
	"math"
	"testing"
)

// An outline cuts a square blank into a disc and four corners, which are alike: none is
// held for its edge alone. Two pins hold the piece that they stand in.
func TestWhatHoldsWithoutBeingNamed(t *testing.T) {
	pin := func(x, y float64) Pin { return Pin{X: x, Y: y, Dia: 6, Height: 0.1} }
	for _, c := range []struct {
		name  string
		pins  []Pin
		loose int
	}{
		{"nothing known", nil, 5},
		{"a plug in the middle, on which the disc would spin", []Pin{pin(32, 32)}, 5},
		{"pins in the disc", []Pin{pin(22, 32), pin(42, 32)}, 4},
		{"two pins in the disc, one in a corner", []Pin{pin(5, 5), pin(22, 32), pin(42, 32)}, 4},
	} {
		q := Request{W: 64, H: 64, T: 15, Cell: 0.2, Map: turned("y", 64, 64), Tools: []Tool{{Number: 1, Shape: Flat, Diameter: 6}}, Pins: c.pins}
		q.Face.Segments = disc(2, 65, -15.2)
		r, err := Check(q)
		if err != nil {
			t.Fatal(err)
		}
		if len(r.Loose) != c.loose {
			t.Errorf("%s: %d loose, want %d", c.name, len(r.Loose), c.loose)
		}
		for _, l := range r.Loose {
			if l.Line != 5 {
				t.Errorf("%s: freed on line %d, want 5", c.name, l.Line)
			}
			if c.loose == 4 && math.Hypot(l.X-32, l.Y-32) < 36 {
				t.Errorf("%s: the disc is loose", c.name)
			}
			if l.Area > 1000 {
				// The disc's middle, 30 mm from its rim.
				near(t, "innermost X", l.X, 32, 1)
				near(t, "innermost Y", l.Y, 32, 1)
				near(t, "clear", l.Clear, 30, 0.08*30)
				continue
			}
			// A corner between two edges and a circle of 36 mm about the middle: the circle
			// within, of radius r, has 32 - r on both axes at 36 + r from there, so that
			// (32 - r) sqrt 2 = 36 + r.
			rad := (32*math.Sqrt2 - 36) / (1 + math.Sqrt2)
			near(t, "clear of a corner", l.Clear, rad, 0.08*rad+q.Cell)
			near(t, "in from the edge", math.Min(l.X, 64-l.X), rad, 0.08*rad+2*q.Cell)
		}
	}
	// The larger of two halves is held.
	q := plain()
	q.Face.Segments = []Segment{line(3, -5, 20, -12.2, 105, 20, -12.2)}
	if r, err := Check(q); err != nil || len(r.Loose) != 1 || r.Loose[0].Y > 20 {
		t.Errorf("%v %+v", err, r.Loose)
	}
}
