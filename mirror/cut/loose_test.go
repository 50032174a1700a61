package cut

import (
	"math"
	"testing"
)

// An outline cuts a square blank into a disc and four corners, which are alike: none is
// held for its edge alone. Pins hold nothing.
func TestWhatHoldsWithoutBeingNamed(t *testing.T) {
	pin := func(x, y float64) Pin { return Pin{X: x, Y: y, Dia: 6, Height: 0.1} }
	for _, c := range []struct {
		name  string
		pins  []Pin
		loose int
	}{
		{"nothing known", nil, 5},
		{"a plug in the middle, on which the disc would spin", []Pin{pin(32, 32)}, 5},
		{"pins in the disc, which locate and don't hold", []Pin{pin(22, 32), pin(42, 32)}, 5},
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
			if _, n := l.Line(); n != 5 {
				t.Errorf("%s: freed on line %d, want 5", c.name, n)
			}
			if l.Area > 1000 {
				if len(c.pins) > 0 {
					continue // clear of the pins
				}
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

// Tabs hold a part to the waste around it where that is itself held. The blank is 12 mm thick;
// the groove is 6 mm wide, so that the margin is what the outline's distance from the edge
// leaves beside it (derived).
func TestTabsOnASliver(t *testing.T) {
	neck := func(v float64) func(*Request) { return func(q *Request) { q.Neck = &v } }
	for _, c := range []struct {
		name           string
		x0, y0, x1, y1 float64
		edit           func(q *Request)
		n              int
		wide           float64
	}{
		{"a margin of 0.4 mm all around", 3.4, 3.4, 96.6, 56.6, nil, 2, 0.4},
		{"a margin of 0.4 mm on the near side", 10, 3.4, 90, 50, nil, 1, 0.4},
		{"a wide margin", 10, 10, 90, 50, nil, 0, 0},
		{"a margin of 2 mm, which is enough", 5, 5, 95, 55, neck(2), 0, 0},
		{"a margin of 2 mm", 5, 5, 95, 55, nil, 2, 2},
		{"the part screwed down", 3.4, 3.4, 96.6, 56.6, func(q *Request) { q.Held = [][2]float64{{50, 30}} }, 0, 0},
		{"dowels in the part locate it", 3.4, 3.4, 96.6, 56.6, func(q *Request) {
			q.Pins = []Pin{{X: 30, Y: 30, Dia: 6, Height: 0.1}, {X: 70, Y: 30, Dia: 6, Height: 0.1}}
		}, 2, 0.4},
	} {
		q := plain()
		q.Face.Segments = tabbed(c.x0, c.y0, c.x1, c.y1, -12.3, -8)
		for i := range q.Face.Segments {
			q.Face.Segments[i].Line = i + 1
		}
		if c.edit != nil {
			c.edit(&q)
		}
		r, err := Check(q)
		if err != nil {
			t.Fatal(err)
		}
		alike(t, c.name, q, r)
		got, wide := 0, 0.0
		for _, f := range of[*TabHangs](r) {
			got, wide = f.Count, f.Width
		}
		if got != c.n || math.Abs(wide-c.wide) > 2*q.Cell {
			t.Errorf("%s: %d tabs on waste %g wide, want %d on %g: %s", c.name, got, wide, c.n, c.wide, codes(r))
		}
		if c.n == 0 && !r.OK() {
			t.Errorf("%s: %+v", c.name, r.Findings)
		}
	}
}

// A screw is proposed where nothing is cut, nor in the bore.
func TestScrewClearOfCuts(t *testing.T) {
	q := plain()
	q.Bore = &Circle{X: 50, Y: 30, Dia: 12}
	q.Face.Segments = append([]Segment{line(1, 60, 30, -3, 70, 30, -3)}, rect(3, 20, 12, 80, 48, -12.3)...)
	r, err := Check(q)
	if err != nil || len(r.Loose) != 1 {
		t.Fatalf("%v %+v", err, r)
	}
	l := r.Loose[0]
	if math.Hypot(l.X-50, l.Y-30) < 6+l.Clear-0.5 || l.X > 57 && l.X < 73 && math.Abs(l.Y-30) < 3 {
		t.Errorf("%+v", l)
	}
}
