package cut

import "testing"

// A disc of 60 x 60 x 8 on a plug in its middle, cut 5 deep on both sides with a 6 mm
// cutter: where the cuts share a distance from the middle, some turn leaves 8 - 5 - 5 < 0;
// side by side they leave 3 (derived).
func TestTurned(t *testing.T) {
	for _, c := range []struct {
		name       string
		face, back Segment
		free       bool
		want       float64 // the web in the worst turn; -1 for no finding
	}{
		{"slots that point elsewhere", line(3, 42, 30, -5, 50, 30, -5), line(4, 30, 18, -5, 30, 8, -5), true, 0},
		{"the same on a part that can't turn", line(3, 42, 30, -5, 50, 30, -5), line(4, 30, 18, -5, 30, 8, -5), false, -1},
		// The face reaches from 12 - 3 to 14 + 3 of the middle, the back from 22 - 3 on.
		{"at other distances", line(3, 42, 30, -5, 44, 30, -5), line(4, 30, 8, -5, 30, 6, -5), true, -1},
		// From 12 - 3 to 12 + 3 and from 17.9 - 3 on: they share a cell's width.
		{"a tenth of a millimetre in common", line(3, 42, 30, 2, 42, 30, -5), line(4, 30, 12.1, 2, 30, 12.1, -5), true, 0},
		// Rings about the middle are the same in every turn: 8 - 3 - 4 = 1 is the web anyhow.
		{"rings", Circular(3, 1, [3]float64{45, 30, -3}, [3]float64{45, 30, -3}, [2]float64{30, 30}, false),
			Circular(4, 1, [3]float64{45, 30, -4}, [3]float64{45, 30, -4}, [2]float64{30, 30}, false), true, -1},
		// A dot 3 deep at 15 from the middle, under a ring 4.5 deep there: 0.5 as it lies already.
		{"a dot over a slot elsewhere", line(3, 45, 30, 2, 45, 30, -3), line(4, 30, 15, -4.5, 30, 14, -4.5), true, 0.5},
	} {
		q := plain()
		q.W, q.H, q.T = 60, 60, 8
		q.Map = turned("y", 60, 60)
		q.HeldAll, q.Web, q.Cell = true, 0.75, 0.1
		q.Bore = &Circle{X: 30, Y: 30, Dia: 10}
		if c.free {
			q.FreeTurn = &[2]float64{30, 30}
		}
		q.Face.Segments, q.Back.Segments = []Segment{c.face}, []Segment{c.back}
		r, err := Check(q)
		if err != nil {
			t.Fatal(err)
		}
		got := -1.0
		for _, f := range of[*TurnedWeb](r) {
			got = f.Left
		}
		if got != c.want {
			t.Errorf("%s: %g left, want %g; %v", c.name, got, c.want, codes(r))
		}
	}
}

// A hole from both sides off the middle of a part that turns meets by chance alone.
func TestTurnedHole(t *testing.T) {
	for _, c := range []struct {
		x, off float64
	}{{45, 15}, {30, 0}} {
		q := plain()
		q.W, q.H, q.T = 60, 60, 8
		q.Map = turned("y", 60, 60)
		q.HeldAll = true
		q.FreeTurn = &[2]float64{30, 30}
		q.Face.Segments = []Segment{line(3, c.x, 30, 2, c.x, 30, -5)}
		q.Back.Segments = []Segment{line(4, 60-c.x, 30, 2, 60-c.x, 30, -5)}
		r, err := Check(q)
		if err != nil {
			t.Fatal(err)
		}
		off := 0.0
		for _, f := range of[*TurnedHole](r) {
			off = f.Off
		}
		near(t, "off the centre", off, c.off, 0.2) // two cells
	}
}
