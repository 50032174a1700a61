package report

import (
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
)

// reachBox is a box of cutting moves.
func reachBox(x0, y0, z0, x1, y1 string) transform.Box {
	return transform.Box{Any: true, Least: [3]decimal.Decimal{d(x0), d(y0), d(z0)}, Greatest: [3]decimal.Decimal{d(x1), d(y1), d("5")}}
}

// A clamp stands outside the cutting moves by half the widest cutter of the program, the
// whole of it where the contour is programmed (G41, G42). By hand: the blank is 120 x 80,
// T1 a cutter of 6 and T3 of 6; moves from X10 to X110 leave X7 to X113.
func TestClampsStandOutsideTheCutters(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*Setup)
		want   string
	}{
		{"both alike", func(*Setup) {}, "clamp outside X7 to 113, Y7 to 73 from X0 Y0, clear of dowel holes and drill\nback as the face"},
		{"sides apart", func(s *Setup) { s.Programs[1].Cuts = reachBox("20", "10", "-6.5", "110", "70") },
			"clamp outside X7 to 113, Y7 to 73 from X0 Y0, clear of dowel holes and drill\nclamp outside X17 to 113, Y7 to 73"},
		{"rounded outward", func(s *Setup) { s.Programs[0].Cuts = reachBox("10.01", "10", "-6.001", "109.99", "70") },
			"clamp outside X7 to 113, Y7 to 73"},
		{"under the rapids", func(s *Setup) { s.Programs[0].Crossing, s.Programs[1].Crossing = dp("25.04"), dp("2") },
			"from X0 Y0, tops under Z25 and the holder, clear of dowel holes and drill\nclamp outside X7 to 113, Y7 to 73 from X0 Y0, tops under Z2"},
		{"compensated", func(s *Setup) { s.Programs[0].Compensated, s.Programs[1].Compensated = true, true }, "clamp outside X4 to 116, Y4 to 76"},
		{"over every edge", func(s *Setup) { s.Programs[0].Cuts = reachBox("0", "3", "-6", "117", "80") },
			"hold it with no clamp on top: cutters cross every edge\nclamp outside"},
		{"back not written yet", func(s *Setup) { s.Programs, s.Stations, s.Answer.Second = s.Programs[:1], nil, nil }, "clamp outside X7 to 113, Y7 to 73 from X0 Y0, clear of dowel holes and drill\n"},
		{"one side unknown", func(s *Setup) { s.Programs[1].Cuts = transform.Box{} }, "clamp outside X7 to 113, Y7 to 73"},
		{"a cutter unknown", func(s *Setup) { s.Programs[0].Tools = []int{1, 9}; s.Programs[1].Tools = []int{9} }, ""},
		{"no cutter listed", func(s *Setup) { s.Tools = nil }, ""},
	} {
		s := markerSetup()
		s.Programs[0].Cuts, s.Programs[1].Cuts = reachBox("10", "10", "-6", "110", "70"), reachBox("10", "10", "-6", "110", "70")
		c.change(&s)
		if got := strings.Join(limitsOf(&s), "\n"); !strings.Contains(got, c.want) || c.want == "" && got != "" {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

// The figure's dashed line is where the limits say: at the zero plus the cutters' reach, in
// the bed's unit. 1 in is 25.4 mm by definition (ISO 31-1).
func TestReachOnTheBed(t *testing.T) {
	s := markerSetup()
	s.Programs[0].Cuts = reachBox("10", "10", "-6", "110", "70")
	if r := s.reachRect(s.Stations[0]); r.X.String() != "107" || r.Y.String() != "57" || r.W.String() != "106" || r.H.String() != "66" {
		t.Errorf("%v", r)
	}
	if s.reachRect(s.Stations[1]).W.IsPositive() {
		t.Error("the back's reach isn't known")
	}
	s.Unit = transform.Inch
	mm := transform.MM
	s.BedUnit = &mm
	if r := s.reachRect(s.Stations[0]); r.W.String() != "2692.4" {
		t.Errorf("106 in are %s mm", r.W)
	}
}

// limitsOf are the limits of both sides, once where they are alike.
func limitsOf(s *Setup) (out []string) {
	l := s.clampLimits()
	switch {
	case l[0] == "" && l[1] == "":
		return nil
	case l[0] == l[1]:
		l[1] = "back as the face"
	}
	return l[:]
}
