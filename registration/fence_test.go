package registration

import (
	"strings"
	"testing"

	"flipcalc/mirror/fact"
)

// Which edge touches and what enters, worked out with a piece of card on the
// table (derived): turned like a page, left and right change places and near and
// far keep theirs; turned the other way the reverse. The same locators serve
// both sides.
func TestEveryFenceAndStop(t *testing.T) {
	const (
		same     = "stays out"
		w, h     = "W enters", "H enters"
		parallel = ", parallelism enters"
	)
	var tests = []struct{ flip, fence, stop, fenceEdge, stopEdge, fenceError, stopError string }{
		{"y", "near", "left", "near near", "left right", same, w},
		{"y", "near", "right", "near near", "right left", same, w},
		{"y", "far", "left", "far far", "left right", same, w},
		{"y", "far", "right", "far far", "right left", same, w},
		{"y", "left", "near", "left right", "near near", w + parallel, same},
		{"y", "left", "far", "left right", "far far", w + parallel, same},
		{"y", "right", "near", "right left", "near near", w + parallel, same},
		{"y", "right", "far", "right left", "far far", w + parallel, same},
		{"x", "near", "left", "near far", "left left", h + parallel, same},
		{"x", "near", "right", "near far", "right right", h + parallel, same},
		{"x", "far", "left", "far near", "left left", h + parallel, same},
		{"x", "far", "right", "far near", "right right", h + parallel, same},
		{"x", "left", "near", "left left", "near far", same, h},
		{"x", "left", "far", "left left", "far near", same, h},
		{"x", "right", "near", "right right", "near far", same, h},
		{"x", "right", "far", "right right", "far near", same, h},
	}
	for _, test := range tests {
		q := board()
		q.Flip, _ = ParseFlip(test.flip)
		q.Fence.Side, _ = ParseSide(test.fence)
		q.Stop.Side, _ = ParseSide(test.stop)
		a, err := Solve(q)
		if err != nil {
			t.Fatal(err)
		}
		enters := map[string]string{"fence": same, "stop": same}
		for _, f := range a.Facts {
			switch f.Code() {
			case "other-edge":
				enters[fact.Values(f.Is)[0]] = fact.Values(f.Is)[3] + " enters"
			case "fence-edge-changed":
				if fact.Values(f.Is)[2] != "parallel" {
					t.Errorf("%v", f)
				}
			}
		}
		if facts(a, "fence-edge-changed") != nil {
			enters["fence"] += parallel
		}
		edges := map[string]string{}
		for _, touch := range a.Touches {
			edges[touch.Locator] = touch.FaceEdge.String() + " " + touch.BackEdge.String()
			// The side that keeps the edge, tried.
			kept := q
			if touch.Locator == "fence" {
				kept.BackFence.Side, kept.BackStop.Side = touch.KeepSide, q.Stop.Side
			} else {
				kept.BackFence.Side, kept.BackStop.Side = q.Fence.Side, touch.KeepSide
			}
			again, err := Solve(kept)
			if err != nil {
				t.Fatal(err)
			}
			for _, u := range again.Touches {
				if u.Locator == touch.Locator && !u.SameEdge {
					t.Errorf("flip %s, %s %s, back %s: another edge", test.flip, u.Locator, u.Side, u.BackSide)
				}
			}
			// The flip that keeps the edge, tried.
			if touch.KeepFlip == FlipUnset {
				continue
			}
			kept = q
			kept.Flip = touch.KeepFlip
			if again, err = Solve(kept); err != nil {
				t.Fatal(err)
			}
			spoilt := false
			for i, u := range again.Touches {
				if u.Locator == touch.Locator && !u.SameEdge {
					t.Errorf("flip %s, %s %s: another edge", kept.Flip, u.Locator, u.Side)
				}
				spoilt = spoilt || u.Locator != touch.Locator && a.Touches[i].SameEdge && !u.SameEdge
			}
			if spoilt != touch.KeepFlipSpoils {
				t.Errorf("flip %s for %s: spoils the other = %v", kept.Flip, touch.Locator, touch.KeepFlipSpoils)
			}
		}
		got := strings.Join([]string{edges["fence"], edges["stop"], enters["fence"], enters["stop"]}, "; ")
		want := strings.Join([]string{test.fenceEdge, test.stopEdge, test.fenceError, test.stopError}, "; ")
		if got != want {
			t.Errorf("flip %s, fence %s, stop %s: %s, want %s", test.flip, test.fence, test.stop, got, want)
		}
	}
}

// A stop's coordinate fixes L1 without --at, and --at may repeat it.
func TestCoordinatesOfLocators(t *testing.T) {
	var tests = []struct {
		name         string
		change       func(q *Question)
		face, back   string // L1, L2
		at           string // face zero
		machineFrame bool
	}{
		{"both given", func(q *Question) { q.Fence.Coord, q.Stop.Coord = ptr("60"), ptr("50") }, "50,60", "50,60", "50,60", true},
		{"a right stop and a far fence", func(q *Question) {
			q.Fence, q.Stop = Contact{Far, ptr("150")}, Contact{Right, ptr("190")}
		}, "50,60", "50,60", "50,60", true},
		{"the zero in the middle", func(q *Question) {
			q.Fence.Coord, q.Stop.Coord, q.Zero.Name = ptr("60"), ptr("50"), "center"
		}, "50,60", "50,60", "120,105", true},
		{"given again by at", func(q *Question) {
			q.Fence.Coord, q.Stop.Coord, q.Zero.Name = ptr("60"), ptr("50"), "center"
			q.At = &Position{X: d("120"), Y: d("105")}
		}, "50,60", "50,60", "120,105", true},
		{"one given again by at", func(q *Question) {
			q.Stop.Coord, q.At = ptr("50"), &Position{X: d("50"), Y: d("60")}
		}, "50,60", "50,60", "50,60", true},
		{"a piece in hand touched off on its own far corner", func(q *Question) {
			q.Measured = &Blank{d("139.6"), d("90.2"), d("19")}
			q.Fence.Coord, q.Stop.Coord, q.Zero.Name = ptr("60"), ptr("50"), "far-right"
			q.At = &Position{X: d("189.6"), Y: d("150.2")}
		}, "50,60", "50,60", "189.6,150.2", true},
		{"the back's own locators", func(q *Question) {
			q.At = &Position{X: d("50"), Y: d("60")}
			q.BackFence, q.BackStop = Contact{Near, ptr("300")}, Contact{Right, ptr("400")}
		}, "50,60", "260,300", "50,60", true},
		{"nothing given", func(q *Question) {}, "0,0", "0,0", "", false},
	}
	for _, test := range tests {
		q := board()
		test.change(&q)
		a, err := Solve(q)
		if err != nil {
			t.Errorf("%s: %v", test.name, err)
			continue
		}
		at := ""
		if a.FaceAt != nil {
			at = a.FaceAt.String()
		}
		if a.FaceCorner.String() != test.face || a.BackCorner.String() != test.back || at != test.at || a.Machine != test.machineFrame || a.FaceMachine != test.machineFrame {
			t.Errorf("%s: L1 %s, L2 %s, face zero %s, machine %v %v", test.name, a.FaceCorner, a.BackCorner, at, a.FaceMachine, a.Machine)
		}
	}
	// The back's locators alone place the back, wherever the face zero is.
	q := board()
	q.BackFence, q.BackStop = Contact{Near, ptr("300")}, Contact{Right, ptr("400")}
	a, err := Solve(q)
	if err != nil {
		t.Fatal(err)
	}
	if !a.Machine || a.FaceMachine || a.FaceAt != nil || a.Second.X.String() != "260" || a.Second.Y.String() != "300" || a.Second.Z != nil {
		t.Errorf("%+v, machine %v %v", a.Second, a.FaceMachine, a.Machine)
	}
	// A face known in Y alone is told from the face zero.
	q.Fence.Coord, q.BackFence, q.Zero.Name = ptr("60"), Contact{}, "center"
	if a, err = Solve(q); err != nil {
		t.Fatal(err)
	}
	if !a.Machine || a.FaceMachine || a.FaceAt != nil || a.FaceCorner.String() != "-70,-45" || a.BackCorner.String() != "260,60" {
		t.Errorf("L1 %s, L2 %s, machine %v %v", a.FaceCorner, a.BackCorner, a.FaceMachine, a.Machine)
	}
}
