package cut

import (
	"errors"
	"math"
	"testing"

	"flipcalc/mirror/fault"
)

// The largest cell for a cutter is D/(1 + sqrt 2), derived: 2.485 for 6 mm, 0.124 for 0.3.
func TestCellTooLargeForACutter(t *testing.T) {
	flat := func(d float64) Tool { return Tool{Number: 1, Shape: Flat, Diameter: d} }
	for _, c := range []struct {
		name    string
		tool    Tool
		cell    float64
		w, h    float64
		refused bool
		want    string
		taken   float64
	}{
		{"as large as may be", flat(6), 2.48, 100, 60, false, "", 2.48},
		{"just too large", flat(6), 2.49, 100, 60, true, "", 0},
		{"far too large", flat(6), 100, 100, 60, true, "", 0},
		{"a small flat end on a large bed", flat(0.3), 0, 1200, 800, false, "", 0.1},
		{"too small for a bed", flat(0.1), 0, 1200, 800, false, "cells-coarse", 0.1},
		{"an engraving vee on a large bed", Tool{Number: 1, Shape: Vee, Diameter: 0.4, Angle: 60}, 0, 1200, 800, false, "", 0.5},
		{"a vee and a cell for 2 mm", Tool{Number: 1, Shape: Vee, Diameter: 0.4, Angle: 60}, 0.83, 100, 60, true, "", 0},
	} {
		q := Request{W: c.w, H: c.h, T: 10, Cell: c.cell, Map: turned("y", c.w, c.h), Tools: []Tool{c.tool, {Number: 2, Shape: Flat, Diameter: 0.2}}}
		if c.name == "an engraving vee on a large bed" {
			q.Tools = q.Tools[:1]
		}
		q.Face.Segments = []Segment{Straight(3, 1, [3]float64{20, 20, -3}, [3]float64{40, 20, -3})}
		r, err := Check(q)
		var f *fault.Error
		if errors.As(err, &f) != (c.refused && c.cell > c.tool.Shown()) {
			t.Errorf("%s: %v", c.name, err)
		}
		if err != nil {
			continue
		}
		if got := codes(r); got != c.want || c.taken != 0 && math.Abs(r.Grid.Cell-c.taken) > 1e-12 {
			t.Errorf("%s: %s, cell %g", c.name, got, r.Grid.Cell)
		}
	}
}

// A rapid plunge of the smallest cutter, its centre as far from all cells' centres as may
// be, is seen on the largest cell.
func TestSmallestCutterIsSeen(t *testing.T) {
	tool := Tool{Number: 1, Shape: Flat, Diameter: 6}
	cell := tool.Shown()
	q := Request{W: 100, H: 60, T: 10, Cell: cell, Map: turned("y", 100, 60), Tools: []Tool{tool}}
	at := 8 * cell
	s := Straight(3, 1, [3]float64{at, at, 5}, [3]float64{at, at, -3})
	s.Rapid = true
	q.Face.Segments = []Segment{s}
	r, err := Check(q)
	if err != nil {
		t.Fatal(err)
	}
	if codes(r) != "rapid-in-stock" {
		t.Errorf("found %q", codes(r))
	}
}
