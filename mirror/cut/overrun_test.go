package cut

import (
	"math"
	"testing"
)

// Cutting beside the blank: a program for another zero. Facing passes that overrun
// both edges, and an outline around the blank, are none. Derived: the blank ends at
// X 100; a 6 mm cutter at X 120 is 17 mm beyond its reach.
func TestCuttingBesideTheBlank(t *testing.T) {
	for _, c := range []struct {
		name string
		segs []Segment
		off  float64 // 0 for none
	}{
		{"all off", []Segment{line(3, 120, 10, -1, 120, 40, -1)}, 17},
		{"mostly off", []Segment{line(3, 90, 10, -1, 90, 30, -1), line(4, 120, 10, -1, 120, 40, -1)}, 17},
		{"half on", []Segment{line(3, 90, 10, -1, 90, 40, -1), line(4, 120, 10, -1, 120, 40, -1)}, 17},
		{"a lead from 2 diameters off", []Segment{line(3, 115, 30, -1, 50, 30, -1)}, 0},
		{"sides swapped: the last fifth runs beyond the edge", []Segment{line(3, 10, 10, -1, 130, 10, -1)}, 26.5}, // to the middle of the last step
		{"drilled off", []Segment{line(3, 50, 70, 2, 50, 70, -3), line(4, 60, 70, 2, 60, 70, -3)}, 7},
		{"an arc off", []Segment{Circular(5, 1, [3]float64{-10, 20, -1}, [3]float64{-10, 40, -1}, [2]float64{-10, 30}, false)}, 17},
		{"faced beyond both edges", []Segment{line(3, -12, 20, -0.5, 112, 20, -0.5), line(4, -12, 24, -0.5, 112, 24, -0.5)}, 0},
		{"around the edge", []Segment{line(3, -3, -3, -1, 103, -3, -1), line(4, 103, -3, -1, 103, 63, -1)}, 0},
		{"trimmed along one edge", []Segment{line(3, 103, 0, -1, 103, 60, -1)}, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			q := plain()
			q.Face.Segments = c.segs
			r, err := Check(q)
			if err != nil {
				t.Fatal(err)
			}
			var got []float64
			for _, f := range r.Findings {
				switch f := f.(type) {
				case *OffBlank:
					got = append(got, f.By)
				case *MostlyOffBlank:
					got = append(got, f.By)
				}
			}
			switch {
			case c.off == 0 && len(got) == 0:
			case c.off == 0:
				t.Errorf("%+v", got)
			case len(got) != 1:
				t.Errorf("want one %s, got %s", "off-blank", codes(r))
			default:
				near(t, "off", got[0], c.off, 0.05) // followed in steps of 1 mm
			}
		})
	}
}

// Holes that should meet and lie elsewhere; sockets on both sides that stay blind
// together are none.
func TestHolesThatMiss(t *testing.T) {
	hole := func(n int, x, y, z float64) Segment { return line(n, x, y, 2, x, y, z) }
	q := plain()
	q.Face.Segments = []Segment{hole(3, 20, 30, -6)}
	q.Back.Segments = []Segment{hole(8, 20, 30, -6.5)} // should have been at 100 - 20
	f := only[*HolesMissed](t, q)
	near(t, "apart", f.Apart, 60, 0.2)
	if f.FaceLine != 3 || f.BackLine != 8 {
		t.Errorf("%+v", f)
	}
	q.Back.Segments = []Segment{hole(8, 80, 30, -6.5)}
	if r, err := Check(q); err != nil || len(r.Findings) > 0 || len(r.Through) != 1 {
		t.Errorf("%v %+v", err, r.Findings)
	}
	q.Back.Segments = []Segment{hole(8, 20, 30, -5.9)}
	if r, err := Check(q); err != nil || len(r.Findings) > 0 {
		t.Errorf("%v %+v", err, r.Findings)
	}
}

// A short slot on each side, of one size and at different places, goes around nothing: it is no
// outline that misses. Rings are.
func TestSlotsThatMissAreNoOutline(t *testing.T) {
	for _, c := range []struct {
		name       string
		face, back []Segment
		want       string
	}{
		{"slots", []Segment{line(3, 20, 20, -6.5, 32, 20, -6.5)}, []Segment{line(3, 20, 40, -6.5, 32, 40, -6.5)}, ""},
		{"longer slots", []Segment{line(3, 20, 20, -6.5, 60, 20, -6.5)}, []Segment{line(3, 20, 40, -6.5, 60, 40, -6.5)}, ""},
		{"angles", []Segment{line(3, 20, 15, -6.5, 40, 15, -6.5), line(4, 40, 15, -6.5, 40, 25, -6.5)},
			[]Segment{line(3, 50, 35, -6.5, 70, 35, -6.5), line(4, 70, 35, -6.5, 70, 45, -6.5)}, ""},
		{"rings", rect(3, 10, 10, 40, 40, -6.5), rect(3, 50, 15, 80, 45, -6.5), "through-missed"},
		{"rings of another size", rect(3, 10, 10, 40, 40, -6.5), rect(3, 50, 15, 80, 41, -6.5), ""},
		{"rings that leave a quarter", rect(3, 10, 10, 40, 40, -5.5), rect(3, 50, 15, 80, 45, -3.4), ""},
	} {
		q := plain()
		q.HeldAll = true
		q.Face.Segments, q.Back.Segments = c.face, turnedOver(c.back)
		r, err := Check(q)
		if err != nil {
			t.Fatal(err)
		}
		if codes(r) != c.want {
			t.Errorf("%s: %q, want %q: %+v", c.name, codes(r), c.want, r.Findings)
			continue
		}
		if f := of[*OutlinesMissed](r); len(f) > 0 {
			near(t, c.name, f[0].Apart, math.Hypot(40, 5), 2*q.Cell)
		}
		alike(t, c.name, q, r)
	}
}
