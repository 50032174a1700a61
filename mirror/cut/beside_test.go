package cut

import (
	"math"
	"testing"
)

// The offset of an arc whose radius changes, as a control lets it by its tolerance: beside both
// ends it stands off square to the arc there, to the inside on the left of a counter-clockwise
// one (plane geometry).
func TestBesideOfAnArc(t *testing.T) {
	for _, c := range []struct {
		name   string
		ccw    bool
		k      float64
		p0, p1 [2]float64
		whole  float64
	}{
		{"left of a counter-clockwise arc", true, 3, [2]float64{7, 0}, [2]float64{0, 7.5}, math.Pi / 2},
		{"right of it", true, -3, [2]float64{13, 0}, [2]float64{0, 13.5}, math.Pi / 2},
		{"left of a clockwise arc", false, 3, [2]float64{13, 0}, [2]float64{0, 13.5}, 3 * math.Pi / 2},
		{"right of it", false, -3, [2]float64{7, 0}, [2]float64{0, 7.5}, 3 * math.Pi / 2},
	} {
		s := Circular(1, 1, [3]float64{10, 0, 0}, [3]float64{0, 10.5, 0}, [2]float64{}, c.ccw)
		e := newBeside(&s, c.k)
		near(t, c.name+": start", apart(e.p0, c.p0), 0, 1e-12)
		near(t, c.name+": end", apart(e.p1, c.p1), 0, 1e-12)
		near(t, c.name+": whole", e.whole, c.whole, 1e-12)
		turn := 1.0
		if !c.ccw {
			turn = -1
		}
		near(t, c.name+": direction at the start", apart(e.u0, [2]float64{0, turn}), 0, 1e-12)
		near(t, c.name+": direction at the end", apart(e.u1, [2]float64{-turn, 0}), 0, 1e-12)
		for n := range 5 {
			v := c.whole * float64(n) / 4
			sin, cos := math.Sincos(turn * v)
			got, ok := e.way([2]float64{8 * cos, 8 * sin})
			if !ok || math.Abs(got-v) > 1e-9 {
				t.Errorf("%s: %g of the way is %g %v", c.name, v, got, ok)
			}
		}
	}
	// The whole of an arc of the cutter's own radius stands still.
	s := Circular(1, 1, [3]float64{3, 0, 0}, [3]float64{0, 3, 0}, [2]float64{}, true)
	if e := newBeside(&s, 3); !e.point || e.tight || e.whole != 0 {
		t.Errorf("%+v", e)
	}
	if e := newBeside(&s, 3.01); !e.tight {
		t.Errorf("%+v", e)
	}
}
