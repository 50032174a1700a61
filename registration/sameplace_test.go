package registration

import (
	"testing"
)

// One blank turned over at one station, and stations of their own. The blank is 120 x 80 at
// X200 Y100, turned like a page; by hand.
func TestSamePlace(t *testing.T) {
	at := Position{X: d("200"), Y: d("100")}
	point := func(x, y string) *Point { return &Point{d(x), d(y)} }
	dowels := func(q *Question) {
		q.Register = Dowels
		q.Pins = []Pin{{Point{d("40"), d("6")}, d("6")}, {Point{d("40"), d("74")}, d("5")}}
	}
	plug := func(q *Question) {
		q.Register, q.Bore, q.Round = Plug, &Pin{Point{d("50"), d("40")}, d("20")}, true
		q.Clock.Kind = ClockNone
	}
	fence := func(q *Question) {
		q.Register = FenceStop
		q.Fence, q.Stop, q.BackStop = Contact{Side: Near}, Contact{Side: Left}, Contact{Side: Right}
	}
	touched := func(at ...string) func(*Question) {
		return func(q *Question) {
			finder := d("6")
			q.Register, q.Touched, q.Finder = Touched, touches(at...), &finder
		}
	}
	for _, c := range []struct {
		name        string
		change      []func(*Question)
		same, above bool
	}{
		{"dowels beside the middle", []func(*Question){dowels}, true, true},
		{"the same dowels, named again", []func(*Question){dowels, func(q *Question) { q.BackPin = point("240", "106") }}, true, true},
		{"dowels of its own 20 beside", []func(*Question){dowels, func(q *Question) { q.BackPin = point("260", "106") }}, false, true},
		{"dowels of its own far off", []func(*Question){dowels, func(q *Question) { q.BackPin = point("460", "106") }}, false, false},
		{"a plug beside the middle", []func(*Question){plug}, true, true},
		{"a plug of its own", []func(*Question){plug, func(q *Question) { q.PlugAt = point("255", "140") }}, false, true},
		{"fence and other stop", []func(*Question){fence}, true, true},
		{"a piece narrower than nominal", []func(*Question){fence, func(q *Question) { q.Measured = &Blank{d("119.8"), d("80"), d("12")} }}, true, true},
		{"a stop of its own", []func(*Question){fence, func(q *Question) { v := d("325"); q.BackStop.Coord = &v }}, false, true},
		{"touched where it lay", []func(*Question){touched("left@200,120", "left@200,170", "near@260,101")}, true, true},
		{"touched 200 right of it", []func(*Question){touched("left@400,120", "left@400,170", "near@460,101")}, false, false},
	} {
		q := Question{Stock: &Blank{d("120"), d("80"), d("12")}, Flip: FlipY, At: &at}
		for _, change := range c.change {
			change(&q)
		}
		a, err := Solve(q)
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		if a.SamePlace() != c.same || a.Overlies() != c.above {
			t.Errorf("%s: same place %v, over it %v", c.name, a.SamePlace(), a.Overlies())
		}
	}
}
