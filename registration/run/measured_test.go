package run

import "testing"

// Programs whose times are those that Times reckons with, every change counted,
// give the same question (derived: two ways to the same sums).
func TestMeasured(t *testing.T) {
	for _, order := range []Order{ByTools, ByStations} {
		for pairs := 1; pairs <= 3; pairs++ {
			want := Question{Pairs: pairs, Order: order}
			got := want
			times := Times{Face: 180, Back: 120, Change: 45, FirstChanges: 3, SteadyChanges: 5, LastChanges: 2, FaceChanges: 3, BackChanges: 2}
			times.Fill(&want)
			p := float64(pairs)
			m := Measured{First: p * 180, Steady: p * 300, Last: p * 120, FirstChanges: 3, SteadyChanges: 5, LastChanges: 2,
				Face: 180, Back: 120, FaceChanges: 3, BackChanges: 2, Change: 45}
			m.Fill(&got)
			if got != want {
				t.Errorf("%+v\nwant %+v", got, want)
			}
		}
	}
}

// One tool for everything: after the first program it stays in the spindle, so
// neither a steady cycle nor the last one changes it, and the backs' part has no
// change in it either (common practice: a tool that is in needs no change).
func TestMeasuredOneTool(t *testing.T) {
	q := Question{Pairs: 1, Order: ByStations}
	Measured{First: 100, Steady: 160, Last: 60, FirstChanges: 1, SteadyChanges: 1, LastChanges: 1, Face: 95, Back: 55,
		Wraps: true, LastKeeps: true, Change: 30}.Fill(&q)
	want := Question{Pairs: 1, Order: ByStations, First: 130, Steady: 160, Last: 60, BackPart: 60, SingleFace: 95, SingleBack: 55}
	if q != want {
		t.Errorf("%+v\nwant %+v", q, want)
	}
}
