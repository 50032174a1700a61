package bed

import (
	"fmt"
	"testing"

	"flipcalc/registration"
)

// A blank of 120 x 80 x 12 on a seat of 3 lies at X100 Y50: its top is 15 over the bed, at the
// back, on a seat of 0, 12. By hand on a sketch.
func TestLowClamps(t *testing.T) {
	blank := registration.Blank{W: n(120), H: n(80), T: n(12)}
	q := registration.Question{Stock: &blank, Flip: registration.FlipY, Register: registration.FenceStop, Seat: n(3),
		At: &registration.Position{X: n(100), Y: n(50)}, Fence: registration.Contact{Side: registration.Near}, Stop: registration.Contact{Side: registration.Left},
		BackStop: registration.Contact{Side: registration.Right}}
	wide := registration.Blank{W: d("120.4"), H: n(80), T: n(12)}
	height := func(v int) Area { a := n(v); return Area{Height: &a} }
	for _, r := range []struct {
		name       string
		measured   *registration.Blank
		x, y, w, h int
		high       int // 0 for none
		want       string
	}{
		{"under both tops", nil, 90, 60, 20, 20, 12, "15 12 "},
		{"under the face's alone", nil, 90, 60, 20, 20, 13, "15 "},
		{"level with it", nil, 90, 60, 20, 20, 15, "15 "},
		{"over it", nil, 90, 60, 20, 20, 16, ""},
		{"up to the spindle", nil, 90, 60, 20, 20, 0, ""},
		{"beside it", nil, 80, 60, 20, 20, 5, ""},
		{"against the nominal edge", &wide, 220, 60, 20, 20, 5, ""},
		{"over the rim and more", &wide, 219, 60, 20, 20, 12, "15 12 "},
	} {
		q := q
		q.Measured = r.measured
		a, err := registration.Solve(q)
		if err != nil {
			t.Fatal(err)
		}
		c := height(r.high)
		if r.high == 0 {
			c.Height = nil
		}
		c.Rect = Rect{X: n(r.x), Y: n(r.y), W: n(r.w), H: n(r.h)}
		got := ""
		for _, l := range LowClamps(a, []Area{c}) {
			got += fmt.Sprint(l.Top, " ")
		}
		if got != r.want {
			t.Errorf("%s: %q, want %q", r.name, got, r.want)
		}
	}
}
