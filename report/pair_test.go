package report

import (
	"testing"

	"flipcalc/mirror/cut"
)

// What is wrong with the cuts is the same at every pair and told once; what is wrong
// with a place on the bed is told for each.
func TestFindingsOfAFurtherPair(t *testing.T) {
	q := cut.Request{W: 60, H: 40, T: 10, Cell: 0.5, Map: drawn().Answer.Transform,
		Tools: []cut.Tool{{Number: 1, Diameter: 6}},
		Face: cut.Program{Segments: []cut.Segment{{Line: 3, Rapid: true, Tool: 1, From: [3]float64{10, 10, -2}, To: [3]float64{30, 10, -2},
			FromOK: [3]bool{true, true, true}, ToOK: [3]bool{true, true, true}}}},
		Zeros:  [2]*cut.Zero{{X: 5, Y: 5}, nil},
		Travel: &cut.Travel{Greatest: [3]float64{100, 100, 0}}}
	first, err := cut.Check(q)
	if err != nil {
		t.Fatal(err)
	}
	q.Zeros[0].X = 85
	second, err := cut.Check(q)
	if err != nil {
		t.Fatal(err)
	}
	s := drawn()
	s.SetCheck(first, nil)
	if len(s.Check.Findings) != 1 || s.Check.Findings[0].Code != "rapid-in-stock" {
		t.Fatalf("%+v", s.Check.Findings)
	}
	rows := len(s.Check.Travel)
	s.AddPair(2, s.Answer, second)
	if n := len(s.Check.Travel); n != 2*rows {
		t.Errorf("%d rows of travel after %d", n, rows)
	}
	if len(s.Check.Findings) != 2 || s.Check.Findings[1].Text != "pair 2: face: leaves the travel of X by 15 mm at 100 mm" || s.Check.OK() {
		t.Errorf("%+v", s.Check.Findings)
	}
}
