package bed

import (
	"fmt"
	"testing"

	"flipcalc/registration"
)

// A 120 x 80 blank with its near-left corner at machine (200, 100), its zero at
// (60, 40) of the blank, Z0 on top at machine Z-40. A 6 mm pin in the spindle and
// a 0.1 mm feeler: against the left edge the spindle's axis stands at 200 - 3 -
// 0.1 (common practice: half the tool and the feeler off the edge).
func TestTouchOff(t *testing.T) {
	z := n(-40)
	s := Station{Corner: at(200, 100), Zero: registration.Position{X: n(260), Y: n(140), Z: &z}, Blank: rect(200, 100, 120, 80)}
	pin := s.Centre("pin", at(10, 40))
	rows := []struct {
		target         Target
		machine, reads string
	}{
		{s.Edge(registration.Left), "196.9", "-63.1"},
		{s.Edge(registration.Right), "323.1", "63.1"},
		{s.Edge(registration.Near), "96.9", "-43.1"},
		{s.Edge(registration.Far), "183.1", "43.1"},
		{s.Contact("stop", registration.Left), "203.1", "-56.9"},
		{s.Contact("stop", registration.Right), "316.9", "56.9"},
		{s.Contact("fence", registration.Near), "103.1", "-36.9"},
		{s.Contact("fence", registration.Far), "176.9", "36.9"},
		{pin[0], "210", "-50"},
		{pin[1], "140", "0"},
		{Level("top of the blank", n(0)), "-39.9", "0.1"},
		{Level("bed under it", n(-12)), "-51.9", "-11.9"},
	}
	for _, r := range rows {
		got := s.TouchOff(r.target, n(3), d("0.1"))
		if fmt.Sprint(got.Machine, got.Reads) != r.machine+" "+r.reads {
			t.Errorf("%s: %s, reads %s; want %s, %s", r.target.What, got.Machine, got.Reads, r.machine, r.reads)
		}
	}
	s.Zero.Z = nil
	if got := s.TouchOff(Level("top", n(0)), n(3), d("0.1")); got.Machine != nil || got.Reads.String() != "0.1" {
		t.Errorf("without a known Z: %+v", got)
	}
}
