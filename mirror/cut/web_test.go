package cut

import (
	"math"
	"testing"
)

// The wood between a cut of the face and one of the back beside it, by hand: 10 thick, the
// face cuts along Y20, the back along Y20 + d.
func TestWallBetweenTheSides(t *testing.T) {
	flat := Tool{Shape: Flat, Diameter: 6}
	vee := Tool{Shape: Vee, Diameter: 20, Angle: 60}
	for _, c := range []struct {
		name      string
		tool      Tool
		d, zf, zb float64
		web       float64
		off, thin float64
		want      string
		amount    float64
	}{
		// Upright walls: d - 6 where both reach the same height.
		{"walls 0.1 apart", flat, 6.1, -8, -8, 2, 0, 0, "wall-thin", 0.1},
		{"walls as thick as asked", flat, 8, -8, -8, 2, 0, 0, "", 0},
		{"walls at different heights", flat, 6.5, -5, -5, 2, 0, 0, "wall-thin", 0.5},
		// Floors 1 apart in height, walls 1.5 apart: askew sqrt(1 + 1.5^2).
		{"askew", flat, 7.5, -5, -4, 2, 0, 0, "wall-thin", math.Hypot(1, 1.5)},
		{"askew, thick enough", flat, 7.5, -5, -4, 1.75, 0, 0, "", 0},
		// Flanks of 60 degree vees stand 30 degrees off upright. Up and down between them
		// are 10 - 6 - 6 + 4 cot 30 = 4.928, square to them sin 30 of that.
		{"leaning flanks", vee, 4, -6, -6, 3, 0, 0, "wall-thin", (4*math.Sqrt(3) - 2) / 2},
		// The back off by 0.3 leaves that much less; so does the blank, of the floors' height.
		{"at tolerance", flat, 8.2, -8, -8, 2, 0.3, 0, "wall-thin-at-tolerance", 1.9},
		{"askew on a thin blank", flat, 7.5, -5, -4, 1.75, 0, 0.5, "wall-thin-at-tolerance", math.Hypot(0.5, 1.5)},
		{"not near", flat, 8.4, -8, -8, 2, 0.3, 0, "", 0},
	} {
		q := Request{W: 100, H: 60, T: 10, Web: c.web, Map: turned("y", 100, 60), HeldAll: true,
			Misalignment: c.off, ThicknessTol: c.thin}
		c.tool.Number = 1
		q.Tools = []Tool{c.tool}
		q.Face.Segments = []Segment{Straight(3, 1, [3]float64{20, 20, c.zf}, [3]float64{60, 20, c.zf})}
		q.Back.Segments = []Segment{Straight(4, 1, [3]float64{60, 20 + c.d, c.zb}, [3]float64{20, 20 + c.d, c.zb})}
		r, err := Check(q)
		if err != nil {
			t.Fatal(err)
		}
		alike(t, c.name, q, r)
		if got := codes(r); got != c.want {
			t.Errorf("%s: %s, want %s: %+v", c.name, got, c.want, r.Findings)
			continue
		}
		for _, f := range r.Findings {
			if f.Code() == "wall-thin" || f.Code() == "wall-thin-at-tolerance" {
				near(t, c.name, figure(f), c.amount, 1e-6)
				// Between parallel flanks any place will do.
				at := f.At()
				near(t, "Y "+c.name, at.Y, 20+c.d/2, 1)
				if at.FaceLine != 3 || at.BackLine != 4 {
					t.Errorf("%s: %+v", c.name, f)
				}
			}
		}
	}
}

// A ring cut from both sides is no wall, nor is what it leaves of a pocket beside it.
func TestNoWallBesideAThroughCut(t *testing.T) {
	q := Request{W: 60, H: 60, T: 10, Web: 2, Map: turned("y", 60, 60), HeldAll: true,
		Tools: []Tool{{Number: 1, Shape: Flat, Diameter: 4}}}
	ring := func(line int, z float64, ccw bool) Segment {
		p := [3]float64{50, 30, z}
		if !ccw {
			p[0] = 10
		}
		return Circular(line, 1, p, p, [2]float64{30, 30}, ccw)
	}
	q.Face.Segments = []Segment{ring(3, -5.3, true), Straight(4, 1, [3]float64{30, 30, -7}, [3]float64{45.5, 30, -7})}
	q.Back.Segments = []Segment{ring(3, -5.2, false)}
	r, err := Check(q)
	if err != nil {
		t.Fatal(err)
	}
	if codes(r) != "" || len(r.Through) != 1 {
		t.Errorf("%s, through %+v", codes(r), r.Through)
	}
}

// The cells within r of a cell are the whole points of a disc: 1, 5, 13, 29, 49, 81, 113 for r
// from 0 to 6 (Gauss's circle problem; from memory).
func TestCellsWithin(t *testing.T) {
	for r, want := range []int{1, 5, 13, 29, 49, 81, 113} {
		n := 0
		for _, half := range discRows(float64(r), r+1) {
			if half >= 0 {
				n += 2*half + 1
			}
		}
		if n != want {
			t.Errorf("%d cells within %d, want %d", n, r, want)
		}
	}
}

// Between grooves of the face, X40 to 46, and of the back, X50 to 56, stand 4 mm, unless a slot
// through both is cut there.
func TestNoWallAcrossASlot(t *testing.T) {
	for _, c := range []struct {
		name string
		slot []Segment
		want string
	}{
		{"nothing between them", nil, "wall-thin"},
		{"a slot between them", []Segment{Straight(4, 2, [3]float64{48, 5, -20.2}, [3]float64{48, 55, -20.2})}, ""},
	} {
		q := Request{W: 100, H: 60, T: 20, Web: 5, Cell: 0.2, Map: turned("y", 100, 60), HeldAll: true,
			Tools: []Tool{{Number: 1, Shape: Flat, Diameter: 6}, {Number: 2, Shape: Flat, Diameter: 2}}}
		q.Face.Segments = append([]Segment{Straight(3, 1, [3]float64{43, 10, -12}, [3]float64{43, 50, -12})}, c.slot...)
		q.Back.Segments = []Segment{Straight(3, 1, [3]float64{100 - 53, 10, -12}, [3]float64{100 - 53, 50, -12})}
		r, err := Check(q)
		if err != nil {
			t.Fatal(err)
		}
		if codes(r) != c.want {
			t.Errorf("%s: %q, want %q: %+v", c.name, codes(r), c.want, r.Findings)
		}
		if c.want != "" {
			near(t, c.name, figure(r.Findings[0]), 4, 1e-6)
		}
		alike(t, c.name, q, r)
	}
}
