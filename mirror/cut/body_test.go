package cut

import (
	"math"
	"testing"
)

// What a cutter does to a fence or stop, worked out by hand from the cutter's rim and
// the blank's edge. The blank is 100 x 60 x 12, turned like a page, the cutters 6 mm.
func TestFenceAndStop(t *testing.T) {
	ball := func(s Segment) Segment { s.Tool = 2; return s }
	vee := func(s Segment) Segment { s.Tool = 3; return s }
	arc := Circular(4, 1, [3]float64{40, 2, -5}, [3]float64{60, 2, -5}, [2]float64{50, 2}, true)
	for _, c := range []struct {
		name        string
		on, side    int // where it is cut, and where the locator stands
		l           Locator
		cut         Segment
		skim        float64
		into, under float64 // past the edge and below the top; 0 for no finding
		x, y        float64
	}{
		// A slot along Y-1: the rim is at Y-4.
		{"past a near fence", faceSide, faceSide, Locator{Edge: NearEdge}, line(4, 20, -1, -5, 80, -1, -5), 0, 4, 5, 50, 0},
		{"flush with it", faceSide, faceSide, Locator{Edge: NearEdge}, line(4, 20, 3, -5, 80, 3, -5), 0, 0, 0, 0, 0},
		{"a hair past it", faceSide, faceSide, Locator{Edge: NearEdge}, line(4, 20, 2.99, -5, 80, 2.99, -5), 0, 0.01, 5, 50, 0},
		{"past a far fence", faceSide, faceSide, Locator{Edge: FarEdge}, line(4, 20, 58, -5, 80, 58, -5), 0, 1, 5, 50, 60},
		{"past the other edge", faceSide, faceSide, Locator{Edge: FarEdge}, line(4, 20, -1, -5, 80, -1, -5), 0, 0, 0, 0, 0},
		{"at the other station", faceSide, backSide, Locator{Edge: NearEdge}, line(4, 20, -1, -5, 80, -1, -5), 0, 0, 0, 0, 0},
		{"a rapid", faceSide, faceSide, Locator{Edge: NearEdge}, rapid(4, 20, -10, -5, 80, -10, -5), 0, 13, 5, 50, 0},
		// Out over the left edge at X-2: the rim is at X-5.
		{"past a left stop", faceSide, faceSide, Locator{Edge: LeftEdge}, line(4, 40, 30, -5, -2, 30, -5), 0, 5, 5, 0, 30},
		{"past a right stop", faceSide, faceSide, Locator{Edge: RightEdge}, line(4, 40, 30, -5, 102, 30, -5), 0, 5, 5, 100, 30},
		// Corners: nothing touches within a cutter's diameter, X0 to 6 and 94 to 100.
		{"along the edge beside it", faceSide, faceSide, Locator{Edge: NearEdge}, line(4, 100, -10, -5, 100, 70, -5), 0, 0, 0, 0, 0},
		// X92 to 98, of which 92 to 94 is where it may touch.
		{"farther in than a cutter", faceSide, faceSide, Locator{Edge: NearEdge}, line(4, 95, -10, -5, 95, 70, -5), 0, 2, 5, 95, 0},
		// 8 of the 12 mm over the bed: 4 below the surface.
		{"lower than the cut", faceSide, faceSide, Locator{NearEdge, 8}, line(4, 20, -1, -4, 80, -1, -4), 0, 0, 0, 0, 0},
		{"as told", faceSide, faceSide, Locator{NearEdge, 8}, line(4, 20, -1, -5, 80, -1, -5), 0, 4, 1, 50, 0},
		// 15 over the bed stands 3 out of the blank: a feed 1 over the blank meets it.
		{"higher than the blank", faceSide, faceSide, Locator{NearEdge, 15}, line(4, 20, -1, 1, 80, -1, 1), 0, 4, 2, 50, 0},
		// The face takes 1 mm off the whole top, so that the fence must be lower.
		{"a skim", faceSide, faceSide, Locator{Edge: NearEdge}, line(4, -10, 0, -1, 110, 0, -1), 1, 0, 0, 0, 0},
		{"under the skim", faceSide, faceSide, Locator{Edge: NearEdge}, line(4, 20, -1, -5, 80, -1, -5), 1, 4, 4, 50, 0},
		// On the back the skimmed blank's top is the fence's.
		{"the back of a skimmed blank", backSide, backSide, Locator{Edge: NearEdge}, line(4, 20, -1, -2, 80, -1, -2), 1, 4, 2, 50, 0},
		// Turned like a page, the back's X20 is the face's X80; its X102 lies at -2, over the left edge.
		{"past the left edge on the back", backSide, backSide, Locator{Edge: LeftEdge}, line(4, 60, 30, -10.2, 102, 30, -10.2), 0, 5, 10.2, 0, 30},
		{"not past the right one", backSide, backSide, Locator{Edge: RightEdge}, line(4, 60, 30, -10.2, 102, 30, -10.2), 0, 0, 0, 0, 0},
		// A ball of radius 3 with its tip 1 below the top is sqrt(9-4) wide there.
		{"a ball", faceSide, faceSide, Locator{Edge: NearEdge}, ball(line(4, 20, 1, -1, 80, 1, -1)), 0, math.Sqrt(5) - 1, 1, 50, 0},
		{"a ball over it", faceSide, faceSide, Locator{Edge: NearEdge}, ball(line(4, 20, 2.5, -1, 80, 2.5, -1)), 0, 0, 0, 0, 0},
		// A 90 degree vee is as wide as it is deep: 2 on each side.
		{"a vee", faceSide, faceSide, Locator{Edge: NearEdge}, vee(line(4, 20, 0.5, -2, 80, 0.5, -2)), 0, 1.5, 2, 50, 0},
		{"a chamfer inside", faceSide, faceSide, Locator{Edge: NearEdge}, vee(line(4, 20, 2, -2, 80, 2, -2)), 0, 0, 0, 0, 0},
		// A ramp from Z4 at Y10 to Z-4 at Y-6: under the top from Y2 on, deepest at its end.
		{"a ramp down", faceSide, faceSide, Locator{Edge: NearEdge}, line(4, 50, 10, 4, 50, -6, -4), 0, 9, 4, 50, 0},
		// The other way round it is over the top from Y2 on as it comes in at Y8.
		{"a ramp up and over", faceSide, faceSide, Locator{Edge: NearEdge}, line(4, 50, 16, -4, 50, 0, 4), 0, 0, 0, 0, 0},
		// Half a turn of radius 10 about X50 Y2, on the near side: down to Y-8, rim at -11.
		{"an arc", faceSide, faceSide, Locator{Edge: NearEdge}, arc, 0, 11, 5, 50, 0},
	} {
		q := plain()
		q.Tools = append(q.Tools, Tool{Number: 3, Shape: Vee, Diameter: 6, Angle: 90})
		q.HeldAll = true
		q.Skimmed = c.skim
		q.Locators[c.side] = []Locator{c.l}
		*[2]*[]Segment{&q.Face.Segments, &q.Back.Segments}[c.on] = []Segment{c.cut}
		r, err := Check(q)
		if err != nil {
			t.Fatal(err)
		}
		alike(t, c.name, q, r)
		found := of[*FenceCut](r)
		if (len(found) > 0) != (c.into > 0) {
			t.Errorf("%s: %+v", c.name, r.Findings)
			continue
		}
		if len(found) == 0 {
			continue
		}
		f := found[0]
		near(t, c.name+": into", f.Into, c.into, 0.006) // an arc's chords
		near(t, c.name+": below the top", f.Depth, c.under, 1e-9)
		if c.x != 50 { // along the fence the place is anywhere
			near(t, c.name+": X", f.X, c.x, 0.5)
		}
		near(t, c.name+": Y", f.Y, c.y, 0.01)
		if f.Side != Side(c.side) || f.Locator != 0 || max(f.FaceLine, f.BackLine) != 4 {
			t.Errorf("%s: %+v", c.name, f)
		}
	}
}

// On an edge under four cutters long the corners are a quarter of it: of 20 mm a stop touches
// Y5 to 15. A cutter of 6 mm along Y2.5 has its rim at Y5.5.
func TestStopOnAShortEdge(t *testing.T) {
	q := plain()
	q.H, q.Map = 20, turned("y", 100, 20)
	q.Locators[faceSide] = []Locator{{Edge: LeftEdge}}
	q.Face.Segments = []Segment{line(4, 40, 2.5, -5, -10, 2.5, -5)}
	near(t, "into the stop", only[*FenceCut](t, q).Into, 0.5, 1e-9)
}

// A face that is skimmed all over, deeper than the quarter of the thickness that a cut may
// take off an edge or a hole's rim, leaves the edges and holes of the skimmed blank.
func TestEdgesOfASkimmedBlank(t *testing.T) {
	q := plain()
	q.Skimmed = 4
	q.Bore = &Circle{X: 50, Y: 30, Dia: 20}
	q.Locators[backSide] = []Locator{{Edge: NearEdge}, {Edge: LeftEdge}}
	for y := 0.0; y <= 60; y += 5 {
		q.Face.Segments = append(q.Face.Segments, line(3, -5, y, -4, 105, y, -4))
	}
	if r, err := Check(q); err != nil || !r.OK() {
		t.Errorf("%v %+v", err, r.Findings)
	}
}

// An edge that is cut away where the next one is machined is still there for fence and
// stop. By hand: within 6 mm of a corner, the cutter's diameter, nothing touches.
func TestEdgeAtItsCorner(t *testing.T) {
	for _, c := range []struct {
		name string
		cut  []Segment
		want float64 // length of edge told; 0 for no finding
	}{
		{"half a cutter", []Segment{line(4, 100, -10, -5, 100, 70, -5)}, 0},
		{"at either end", []Segment{line(4, 100, -10, -5, 100, 70, -5), line(5, 0, 70, -5, 0, -10, -5)}, 0},
		{"a whole cutter", []Segment{line(4, 97, -10, -5, 97, 70, -5)}, 0},
		{"two passes", []Segment{line(4, 97, -10, -5, 97, 70, -5), line(5, 93, 70, -5, 93, -10, -5)}, 10},
		{"in from the corner", []Segment{line(4, 96, -10, -5, 96, 70, -5)}, 6},
		{"all of it", []Segment{line(4, -10, 0, -5, 110, 0, -5)}, 100},
		{"a chamfer's depth", []Segment{line(4, -10, 0, -3, 110, 0, -3)}, 0},
	} {
		q := plain()
		q.HeldAll = true
		q.Locators[backSide] = []Locator{{Edge: NearEdge}}
		q.Face.Segments = c.cut
		r, err := Check(q)
		if err != nil {
			t.Fatal(err)
		}
		got := 0.0
		for _, f := range of[*EdgeMachined](r) {
			got = f.Along
		}
		near(t, c.name, got, c.want, 0.4)
	}
}
