package cut

import "testing"

// A hole of 6 mm at 50,30 and a skim of the whole face: by construction.
func TestHollow(t *testing.T) {
	q := plain()
	q.Face.Segments = []Segment{line(3, 50, 30, 2, 50, 30, -8), line(4, 20, 10, -2, 80, 10, -2)}
	r, err := Check(q)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		x, y float64
		want bool
	}{
		{50, 30, true}, {50.1, 30, true}, {51, 30, false}, {50, 28, false}, {50, 45, false},
		{50, 10, true}, {30, 10, false}, {-5, 10, false},
	} {
		if got := r.Grid.Hollow(c.x, c.y); got != c.want {
			t.Errorf("%v,%v: %v", c.x, c.y, got)
		}
	}
	q.Face.Segments = []Segment{}
	for y := 0.0; y <= 60; y += 5 {
		q.Face.Segments = append(q.Face.Segments, line(int(y)+1, -5, y, -1, 105, y, -1))
	}
	if r, err = Check(q); err != nil {
		t.Fatal(err)
	}
	if r.Grid.Hollow(50, 30) {
		t.Error("the skimmed face has no wall")
	}
}
