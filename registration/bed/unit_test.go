package bed

import (
	"testing"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
	"flipcalc/registration"
)

// A job in inches on a bed in millimetres: corners come to 0.0001 in, the zero
// keeps its exact distance, so the locators and the station agree.
func TestLayoutIn(t *testing.T) {
	d := decimal.RequireFromString
	z := d("-88")
	l := &Layout{Unit: transform.MM, Stations: []Station{{
		Corner: registration.Point{X: d("10"), Y: d("25.4")},
		Zero:   registration.Position{X: d("10").Add(d("60.325")), Y: d("25.4"), Z: &z}, // 2.375 in from the corner
	}}}
	s := l.In(transform.Inch).Stations[0]
	if got := s.Corner.X.String() + " " + s.Corner.Y.String(); got != "0.3937 1" {
		t.Errorf("corner %s, want 0.3937 1", got)
	}
	if got := s.Zero.X.Sub(s.Corner.X); !got.Equal(d("2.375")) {
		t.Errorf("zero %s from the corner, want 2.375", got)
	}
	// 10 mm are 0.393700787401... in: to twelve decimals, far below a hair.
	l.Stations[0].Zero.X = d("20")
	if s := l.In(transform.Inch).Stations[0]; !s.Zero.X.Sub(s.Corner.X).Equal(d("0.393700787402")) {
		t.Errorf("zero %s from the corner, want 0.393700787402", s.Zero.X.Sub(s.Corner.X))
	}
	if !s.Zero.Z.Equal(d("-3.4646")) {
		t.Errorf("Z %s, want -3.4646", s.Zero.Z)
	}
	if l.In(transform.MM) != l {
		t.Error("a layout in its own unit changed")
	}
}

// Every length of a machine and of a request in inches is 25.4 times as many millimetres
// (international yard and pound, 1959), and what was asked stays as it was.
func TestLengths(t *testing.T) {
	one := func() *decimal.Decimal { v := n(1); return &v }
	five := 5
	m := Machine{Name: "m", Unit: transform.Inch, X: Range{n(1), n(1)}, Y: Range{n(1), n(1)}, Z: Range{n(1), n(1)}, Bed: &Rect{n(1), n(1), n(1), n(1)}, Table: one(),
		Home: &registration.Point{X: n(1), Y: n(1)}, Park: &registration.Point{X: n(1), Y: n(1)}, Change: &registration.Point{X: n(1), Y: n(1)},
		Rapid: [3]*decimal.Decimal{one(), one(), one()}, Acceleration: [3]*decimal.Decimal{one(), nil, one()},
		InUse: []InUse{{Offset: "G55", X: one(), Y: one(), Z: one(), StickOut: one(), Rect: &Rect{n(1), n(1), n(1), n(1)}, Tool: &five}}}
	q := Request{Unit: transform.Inch, Blank: registration.Blank{W: n(1), H: n(1), T: n(1)}, Gap: n(1), Margin: Reach{n(1), n(1), n(1), n(1)}, Touch: Reach{n(1), n(1), n(1), n(1)},
		Face:  Program{Zero: registration.Point{X: n(1), Y: n(1)}, Reach: &Reach{n(1), n(1), n(1), n(1)}, Radius: n(1), Z: one(), Depths: &Depths{n(1), n(1)}, Offset: "G54"},
		Back:  Program{Zero: registration.Point{X: n(1), Y: n(1)}, Radius: n(1)},
		NoGo:  []Area{{Rect: Rect{n(1), n(1), n(1), n(1)}, Height: one()}},
		Taken: []InUse{{Offset: "G56", Rect: &Rect{n(1), n(1), n(1), n(1)}}},
		Given: &Given{Face: registration.Point{X: n(1), Y: n(1)}, Back: registration.Point{X: n(1), Y: n(1)}}}
	metric := router()
	count := func(of any, want string) (lengths int) {
		t.Helper()
		eachLength(of, func(v decimal.Decimal) {
			lengths++
			if v.String() != want {
				t.Errorf("a length of %s, want %s", v, want)
			}
		})
		return lengths
	}
	mach, _ := common(&m, Request{Unit: transform.MM})
	if got := count(*mach, "25.4"); got != 30 || mach.Unit != transform.MM {
		t.Errorf("%d lengths of the machine in %s, 30 were set", got, mach.Unit)
	}
	_, req := common(metric, q)
	// The step of a sixteenth is none of the lengths that were asked for.
	if got := count(*req, "25.4"); got != 38 || req.Unit != transform.MM || req.step.String() != "1.5875" {
		t.Errorf("%d lengths of the request in %s with steps of %s, 38 were set", got, req.Unit, req.step)
	}
	if got := count(m, "1") + count(q, "1"); got != 68 || m.Unit != transform.Inch {
		t.Errorf("%d lengths stay as they were asked, want 68", got)
	}
}
