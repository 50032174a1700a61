package bed

import (
	"fmt"
	"testing"

	"flipcalc/registration"
)

// A bread board of 140 x 90 against a stop at the right of the bed and a fence near, turned
// like a page: with the face zero at its far left corner, 50 and 150, the blank lies from
// 50,60 to 190,150 on both sides, and the back's zero is at the far left corner again. What
// isn't known in machine coordinates has no place.
func TestAlone(t *testing.T) {
	z := n(-20)
	board := func(q *registration.Question) {
		q.Stock, q.Flip = &registration.Blank{W: n(140), H: n(90), T: n(19)}, registration.FlipY
		q.Zero, q.Register = registration.Zero{Name: "far-left"}, registration.FenceStop
		q.Fence.Side, q.Stop.Side = registration.Near, registration.Right
	}
	for _, c := range []struct {
		name string
		ask  func(*registration.Question)
		want string
	}{
		{"both", func(q *registration.Question) { q.At = &registration.Position{X: n(50), Y: n(150), Z: &z} },
			"1 face G54 50,150,-20 50,60,140x90; 1 back G55 50,150,-20 50,60,140x90; "},
		{"nothing known", func(*registration.Question) {}, ""},
		{"the back's alone", func(q *registration.Question) {
			x, y := n(300), n(10)
			q.BackStop, q.BackFence = registration.Contact{Side: registration.Left, Coord: &x}, registration.Contact{Side: registration.Near, Coord: &y}
		}, "1 back G55 300,100 300,10,140x90; "},
		{"no register", func(q *registration.Question) {
			q.Register, q.At = registration.NoRegister, &registration.Position{X: n(50), Y: n(150)}
		}, "1 face G54 50,150 50,60,140x90; "},
	} {
		var q registration.Question
		board(&q)
		c.ask(&q)
		a, err := registration.Solve(q)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		got := ""
		for _, s := range Alone(a) {
			got += fmt.Sprintf("%d %s %s %s %s; ", s.Pair, s.Side, s.Offset, s.Zero, s.Blank)
			if !s.Corner.Equal(registration.Point{X: s.Blank.X, Y: s.Blank.Y}) || s.Turn != 0 {
				t.Errorf("%s: %+v", c.name, s)
			}
		}
		if got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}
