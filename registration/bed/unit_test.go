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
	if !s.Zero.Z.Equal(d("-3.4646")) {
		t.Errorf("Z %s, want -3.4646", s.Zero.Z)
	}
	if l.In(transform.MM) != l {
		t.Error("a layout in its own unit changed")
	}
}
