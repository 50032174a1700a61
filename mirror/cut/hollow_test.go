package cut

import "testing"

// A hole of 6 mm at 50,30, blind, one at 80,50 through the 12 of the blank, and a skim of the
// whole face: by construction.
func TestHollow(t *testing.T) {
	q := plain()
	q.Face.Segments = []Segment{line(3, 50, 30, 2, 50, 30, -8), line(4, 20, 10, -2, 80, 10, -2), line(5, 80, 50, 2, 80, 50, -12)}
	r, err := Check(q)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		x, y          float64
		want, through bool
	}{
		{50, 30, true, false}, {50.1, 30, true, false}, {51, 30, false, false}, {50, 28, false, false}, {50, 45, false, false},
		{80, 50, true, true}, {50, 10, true, false}, {30, 10, false, false}, {-5, 10, false, false},
	} {
		if got, through := r.Grid.Hollow(c.x, c.y); got != c.want || through != c.through {
			t.Errorf("%v,%v: %v, through %v", c.x, c.y, got, through)
		}
	}
	q.Face.Segments = []Segment{}
	for y := 0.0; y <= 60; y += 5 {
		q.Face.Segments = append(q.Face.Segments, line(int(y)+1, -5, y, -1, 105, y, -1))
	}
	if r, err = Check(q); err != nil {
		t.Fatal(err)
	}
	if got, _ := r.Grid.Hollow(50, 30); got {
		t.Error("the skimmed face has no wall")
	}
}
