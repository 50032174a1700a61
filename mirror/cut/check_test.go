package cut

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/fault"
)

// plain is a question without programs: a 100 x 60 x 12 mm blank turned like a page.
func plain() Request {
	return Request{W: 100, H: 60, T: 12, Cell: 0.2, Map: turned("y", 100, 60),
		Tools: []Tool{{Number: 1, Shape: Flat, Diameter: 6}, {Number: 2, Shape: Ball, Diameter: 6}}}
}

// OK says whether nothing is wrong.
func (r *Result) OK() bool { return len(r.Findings) == 0 }

// of gives the findings of one kind.
func of[F Finding](r *Result) (out []F) {
	for _, f := range r.Findings {
		if f, ok := f.(F); ok {
			out = append(out, f)
		}
	}
	return out
}

// alone gives the result's only finding, which must be of one kind.
func alone[F Finding](t *testing.T, name string, r *Result) (f F, ok bool) {
	t.Helper()
	if found := of[F](r); len(r.Findings) == 1 && len(found) == 1 {
		return found[0], true
	}
	t.Errorf("%s: want one %T, got %s: %+v", name, f, codes(r), r.Findings)
	return f, false
}

// only runs a question and wants exactly one finding, which it gives.
func only[F Finding](t *testing.T, q Request) F {
	t.Helper()
	r, err := Check(q)
	if err != nil {
		t.Fatal(err)
	}
	f, ok := alone[F](t, "", r)
	if !ok {
		t.FailNow()
	}
	alike(t, "", q, r)
	return f
}

// figure is the length that a finding is told with.
func figure(f Finding) float64 {
	switch f := f.(type) {
	case *WebThin:
		return f.Left
	case *WallThin:
		return f.Left
	case *WallThinAtTolerance:
		return f.Left
	case *GroovesShort:
		return f.Left
	case *StretchShort:
		return f.Left
	case *PlaceShort:
		return f.Left
	case *ShortAtTolerance:
		return f.Left
	case *TabLow:
		return f.Height
	case *TabDoubtful:
		return f.Height
	case *WallStep:
		return f.Step
	}
	return f.amount()
}

func line(n int, x0, y0, z0, x1, y1, z1 float64) Segment {
	return Straight(n, 1, [3]float64{x0, y0, z0}, [3]float64{x1, y1, z1})
}

func rapid(n int, x0, y0, z0, x1, y1, z1 float64) Segment {
	s := line(n, x0, y0, z0, x1, y1, z1)
	s.Rapid = true
	return s
}

func TestPins(t *testing.T) {
	q := plain()
	q.Pins = []Pin{{X: 50, Y: 30, Dia: 8, Height: 10}}
	// The pin's top is 2 mm under the surface; a 6 mm cutter 5 mm deep passes 6 mm
	// from its centre: 1 mm over in plan, 3 mm below its top. (Derived.)
	q.Face.Segments = []Segment{line(4, 20, 24, -5, 80, 24, -5)}
	r, err := Check(q)
	if err != nil {
		t.Fatal(err)
	}
	pins := of[*PinCut](r)
	if len(pins) != 1 || pins[0].Side != Face || pins[0].FaceLine != 4 || !Hit(pins[0]) {
		t.Fatalf("%+v", r.Findings)
	}
	f := pins[0]
	near(t, "over", f.Into, 1, 1e-9)
	near(t, "depth", f.Depth, 3, 1e-9)
	for _, c := range []struct {
		name string
		edit func(q *Request)
	}{
		{"passes over it", func(q *Request) { q.Face.Segments = []Segment{line(4, 20, 24, -1.5, 80, 24, -1.5)} }},
		{"touches it", func(q *Request) { q.Face.Segments = []Segment{line(4, 20, 23, -5, 80, 23, -5)} }},
		{"a ball clears its edge", func(q *Request) {
			// 6 mm ball, tip 2.5 mm below the top, 6.5 mm from the centre: over the pin's
			// edge, 2.5 mm off its axis, it stands 3 - sqrt(9-6.25) = 1.34 mm higher; not
			// enough, so 1.16 mm below.
			q.Face.Segments = []Segment{line(4, 20, 23.5, -3.3, 80, 23.5, -3.3)}
			q.Face.Segments[0].Tool = 2
		}},
		{"not there", func(q *Request) { q.Pins[0].Drilled = true }},
	} {
		q := plain()
		q.Pins = []Pin{{X: 50, Y: 30, Dia: 8, Height: 10}}
		q.Face.Segments = []Segment{line(4, 20, 24, -5, 80, 24, -5)}
		c.edit(&q)
		r, err := Check(q)
		if err != nil {
			t.Fatal(err)
		}
		if pins := of[*PinCut](r); len(pins) > 0 {
			t.Errorf("%s: %+v", c.name, pins)
		}
	}
	// On the back the pin stands from the other side, at the same hole.
	q = plain()
	q.Pins = []Pin{{X: 30, Y: 20, Dia: 8, Height: 11}}
	q.Back.Segments = []Segment{line(9, 64, 20, -1.5, 62, 20, -1.5)}
	f = only[*PinCut](t, q)
	if f.Side != Back || f.BackLine != 9 {
		t.Errorf("%+v", f)
	}
	near(t, "depth on the back", f.Depth, 0.5, 1e-9)
	near(t, "over on the back", f.Into, 7-6, 1e-9)
}

func TestBed(t *testing.T) {
	q := plain()
	q.Face.Segments = []Segment{line(3, 50, 30, 2, 50, 30, -12.4)}
	if r, err := Check(q); err != nil || !r.OK() {
		t.Errorf("a through cut: %v %+v", err, r.Findings)
	}
	q.Face.Segments = []Segment{line(3, 50, 30, 2, 50, 30, -12.8)}
	f := only[*BedCut](t, q)
	near(t, "into the bed", f.Into, 0.8, 1e-9)
	if f.FaceLine != 3 || f.Allowed != DefaultBedDepth {
		t.Errorf("%+v", f)
	}
	// None allowed, and off the blank: the bed is there too.
	none := 0.0
	q.BedDepth = &none
	q.Face.Segments = []Segment{line(5, 102, 30, 2, 102, 30, -12.1)}
	near(t, "off the blank", only[*BedCut](t, q).Into, 0.1, 1e-9)
	// The place is where the cutter is deepest: the end of a way down, the start of one up; on
	// an arc any place of it.
	q.Through = [][2]float64{{30, 20}}
	q.Face.Segments = []Segment{line(5, 30, 20, -12, 40, 22, -12.2)}
	f = only[*BedCut](t, q)
	near(t, "down: X", f.X, 40, 1e-9)
	near(t, "down: Y", f.Y, 22, 1e-9)
	q.Face.Segments = []Segment{line(5, 30, 20, -12.2, 40, 22, -12)}
	f = only[*BedCut](t, q)
	near(t, "up: X", f.X, 30, 1e-9)
	near(t, "up: Y", f.Y, 20, 1e-9)
	q.Face.Segments = []Segment{Circular(5, 1, [3]float64{30, 20, -12.2}, [3]float64{36, 26, -12.2}, [2]float64{36, 20}, false)}
	r, err := Check(q)
	if err != nil {
		t.Fatal(err)
	}
	f, _ = alone[*BedCut](t, "arc", r)
	near(t, "arc", math.Hypot(f.X-36, f.Y-20), 6, 1e-9)
}

func TestNoGo(t *testing.T) {
	for _, c := range []struct {
		name string
		seg  Segment
		by   float64 // 0: not entered
	}{
		// Zero at (200, 100); the clamp covers machine 310..330 x 120..140, that is
		// work 110..130 x 20..40. The cutter's radius is 3.
		{"past it", line(1, 0, 43.01, 5, 150, 43.01, 5), 0},
		{"grazes it", line(1, 0, 42, 5, 150, 42, 5), 1},
		{"through it", line(1, 0, 30, 5, 150, 30, 5), 3 + 10},
		{"corner", rapid(1, 108, 10, 5, 108, 18, 5), 3 - math.Sqrt(8)},
		{"clear of the corner", rapid(1, 107, 10, 5, 107.8, 17.8, 5), 0},
		{"an arc around it", Circular(1, 1, [3]float64{105, 30, 5}, [3]float64{135, 30, 5}, [2]float64{120, 30}, true), 3 - (15 - 10*math.Sqrt2)},
	} {
		// Machine and area don't care how the blank lies under the tool.
		for _, turn := range []float64{0, 90, 180, 36.87} {
			q := plain()
			q.Cell = 1
			q.Zeros[faceSide] = &Zero{X: 200, Y: 100}
			q.NoGo = []Rect{{X: 310, Y: 120, W: 20, H: 20}}
			q.Face.Segments, q.FaceTurn = []Segment{c.seg}, turn
			b := q
			b.Face, b.Back, b.Zeros, b.FaceTurn = Program{}, q.Face, [2]*Zero{nil, q.Zeros[faceSide]}, 0
			b.Map = b.Map.Turned(decimal.NewFromFloat(turn))
			for _, q := range []Request{q, b} {
				r, err := Check(q)
				if err != nil {
					t.Fatal(err)
				}
				name := fmt.Sprintf("%s, turned by %g", c.name, turn)
				if c.by == 0 {
					if len(r.Findings) != 0 {
						t.Errorf("%s: %+v", name, r.Findings)
					}
				} else if f, ok := alone[*NoGoEntered](t, name, r); ok {
					near(t, name, f.Into, c.by, 1e-3)
				}
			}
		}
	}
	// A quarter turned, machine 310..330 x 120..140 lies at u 20..40, v -130..-110 of the blank.
	turned := plain()
	turned.Zeros[faceSide], turned.FaceTurn = &Zero{X: 200, Y: 100}, 90
	turned.NoGo, turned.Face.Segments = []Rect{{X: 310, Y: 120, W: 20, H: 20}}, []Segment{rapid(1, 108, 10, 5, 108, 18, 5)}
	if f := only[*NoGoEntered](t, turned); math.Hypot(f.X-20, f.Y+110) > 1e-9 {
		t.Errorf("entered at %g, %g", f.X, f.Y)
	}
	// A clamp of known height may be passed over.
	q := plain()
	q.Zeros[faceSide] = &Zero{X: 200, Y: 100}
	q.NoGo = []Rect{{X: 310, Y: 120, W: 20, H: 20, Height: 20}}
	q.Face.Segments = []Segment{line(1, 0, 30, 8.1, 150, 30, 8.1)} // 20.1 over the bed
	if r, err := Check(q); err != nil || !r.OK() {
		t.Errorf("%v %+v", err, r.Findings)
	}
	q.Face.Segments = []Segment{line(1, 0, 30, 7.9, 150, 30, 7.9)}
	only[*NoGoEntered](t, q)
	// On a seat of 3 the same way is 22.9 over the bed, and 19.9 with Z0 three lower.
	q.Seats[faceSide] = 3
	if r, err := Check(q); err != nil || !r.OK() {
		t.Errorf("%v %+v", err, r.Findings)
	}
	q.Face.Segments = []Segment{line(1, 0, 30, 4.9, 150, 30, 4.9)}
	only[*NoGoEntered](t, q)
}

func TestTravel(t *testing.T) {
	q := plain()
	q.Zeros = [2]*Zero{{X: 20, Y: 30, Z: -60, ZKnown: true}, {X: 140, Y: 30, Z: -61, ZKnown: true}}
	q.Travel = &Travel{Least: [3]float64{0, 0, -75}, Greatest: [3]float64{240, 150, 0}}
	q.Face.Segments = []Segment{rapid(1, 0, 0, 40, 10, 10, 40), line(2, 10, 10, 40, 90, 50, 1), line(3, 90, 50, 1, 90, 50, -2)}
	q.Back.Segments = []Segment{rapid(1, 0, 0, 40, 10, 10, 40), line(2, 10, 10, 3, 97, 55, 3)}
	r, err := Check(q)
	if err != nil || !r.OK() || len(r.Travel) != 6 {
		t.Fatalf("%v %+v %+v", err, r.Findings, r.Travel)
	}
	x := r.Travel[3] // back, X
	if x.Side != Back || x.Axis != 0 {
		t.Fatalf("%+v", x)
	}
	near(t, "left at the right end", x.LeftHigh, 240-140-97, 1e-9)
	near(t, "left at the left end", x.LeftLow, 150, 1e-9)
	// A G53 move to the top leaves the offset as much room as before: 60 - 40. Where the
	// zero's Z isn't known nothing is said of Z, though the G53 move is within the travel.
	top := Segment{Line: 4, Rapid: true, Machine: true, To: [3]float64{0, 0, 0}, ToOK: [3]bool{false, false, true}}
	q.Face.Segments = append(q.Face.Segments, top)
	q.Back.Segments = append(q.Back.Segments, top)
	q.Zeros[backSide].ZKnown = false
	if r, err = Check(q); err != nil || len(of[*TravelExceeded](r)) > 0 || len(r.Travel) != 5 {
		t.Fatalf("%v %+v", err, r.Travel)
	}
	near(t, "left at the top", r.Travel[2].LeftHigh, 0, 1e-9)
	near(t, "room upwards", r.Travel[2].Room, 20, 1e-9)
	// Moves by machine coordinates alone leave all the room there is.
	bare := q
	bare.Face.Segments, bare.Back.Segments = []Segment{top}, nil
	if r, err = Check(bare); err != nil || len(r.Travel) != 1 || !math.IsInf(r.Travel[0].Room, 1) {
		t.Fatalf("%v %+v", err, r.Travel)
	}
	// A G53 move out of the travel is told all the same.
	q.Back.Segments[len(q.Back.Segments)-1].To[2] = 1
	if f := only[*TravelExceeded](t, q); f.Side != Back || f.Axis != 2 {
		t.Errorf("%+v", f)
	}
}

func TestTravelExceeded(t *testing.T) {
	q := plain()
	q.Zeros[faceSide] = &Zero{X: 15, Y: 30}
	q.Travel = &Travel{Least: [3]float64{0, 0, -75}, Greatest: [3]float64{240, 150, 0}}
	// The bulge of an arc: from (10,0) to (10,60) about (10,30), clockwise over X -20.
	q.Face.Segments = []Segment{Circular(7, 1, [3]float64{10, 0, 5}, [3]float64{10, 60, 5}, [2]float64{10, 30}, false)}
	f := only[*TravelExceeded](t, q)
	near(t, "arc", f.By, 5, 1e-9)
	if f.Axis != 0 || f.FaceLine != 7 || f.End != 0 {
		t.Errorf("%+v", f)
	}
	// Corrections are named where the arc lay inside without them, 1 mm here, and only then.
	for moved, want := range map[float64]float64{-6: -6, -5: -5, -4: 0, 4: 0} {
		q.Zeros[faceSide].Moved = [2]float64{moved, 100}
		near(t, "moved", only[*TravelExceeded](t, q).Moved, want, 1e-9)
	}
	// A G53 move counts in machine coordinates.
	q.Face.Segments = []Segment{{Line: 8, Rapid: true, Machine: true, To: [3]float64{0, 151, 0}, ToOK: [3]bool{false, true, false}}}
	f = only[*TravelExceeded](t, q)
	near(t, "machine move", f.By, 1, 1e-9)
	if f.Axis != 1 || f.FaceLine != 8 || f.End != 150 || f.Moved != 0 {
		t.Errorf("%+v", f)
	}
}

func TestRapids(t *testing.T) {
	groove := line(1, 20, 30, -4, 80, 30, -4)
	for _, c := range []struct {
		name  string
		segs  []Segment
		depth float64
	}{
		{"back along the groove", []Segment{groove, rapid(2, 80, 30, -4, 20, 30, -4)}, 0},
		{"up and away", []Segment{groove, rapid(2, 80, 30, -4, 80, 30, 5), rapid(3, 80, 30, 5, 0, 0, 5)}, 0},
		{"down into it", []Segment{groove, rapid(2, 50, 30, 5, 50, 30, -3.9)}, 0},
		{"along the surface", []Segment{rapid(2, 0, 10, 0, 90, 10, 0)}, 0},
		{"out sideways", []Segment{groove, rapid(2, 80, 30, -4, 80, 40, -4)}, 4},
		{"down beside it", []Segment{groove, rapid(2, 50, 45, 5, 50, 45, -1.5)}, 1.5},
		{"slanting out too soon", []Segment{groove, rapid(2, 80, 30, -4, 84, 30, 5)}, 0.3},
		{"of the back through what the face has opened", nil, 0},
		{"deeper in the groove", []Segment{groove, rapid(2, 50, 30, 5, 50, 30, -4.5)}, 0.5},
		{"before the groove is cut", []Segment{rapid(2, 50, 30, 5, 50, 30, -3), groove}, 3},
	} {
		q := plain()
		q.Face.Segments = c.segs
		if c.segs == nil {
			// A slot through, and a pocket 8 deep under which 4 are left: the one rapid
			// of the back that meets wood goes 3.5 into that.
			q.Face.Segments = []Segment{line(1, 20, 30, -12.2, 80, 30, -12.2), line(2, 20, 45, -8, 80, 45, -8)}
			q.Back.Segments = []Segment{rapid(3, 50, 30, 5, 50, 30, -12), rapid(4, 50, 30, -12, 60, 30, -12), rapid(5, 60, 30, -12, 60, 30, 5),
				rapid(6, 60, 45, 5, 60, 45, -3.5)}
			f := only[*RapidInStock](t, q)
			near(t, c.name, f.Depth, 3.5, 1e-5)
			if f.BackLine != 6 || f.Side != Back {
				t.Errorf("%s: %+v", c.name, f)
			}
			continue
		}
		r, err := Check(q)
		if err != nil {
			t.Fatal(err)
		}
		if c.depth == 0 {
			if len(r.Findings) != 0 {
				t.Errorf("%s: %+v", c.name, r.Findings)
			}
			continue
		}
		f, ok := alone[*RapidInStock](t, c.name, r)
		if !ok || f.FaceLine != 2 {
			t.Errorf("%s: %+v", c.name, f)
			continue
		}
		if c.name != "slanting out too soon" {
			near(t, c.name, f.Depth, c.depth, 1e-5)
		}
	}
}

func TestFlute(t *testing.T) {
	// 5 mm flutes. A slot 8 mm deep in one pass rubs 3 mm of shank; in passes of 4
	// mm each the stock beside the shank is gone but for the walls, which the shank of
	// the same diameter just clears.
	for _, c := range []struct {
		name   string
		passes []float64
		depth  float64
	}{
		{"one pass", []float64{-8}, 3},
		{"two passes", []float64{-4, -8}, 0},
		{"within the flutes", []float64{-5}, 0},
	} {
		q := plain()
		q.Tools[0].Flute = 5
		for n, z := range c.passes {
			q.Face.Segments = append(q.Face.Segments, line(n+1, 20, 30, z, 80, 30, z))
		}
		r, err := Check(q)
		if err != nil {
			t.Fatal(err)
		}
		if c.depth == 0 {
			if len(r.Findings) != 0 {
				t.Errorf("%s: %+v", c.name, r.Findings)
			}
			continue
		}
		f, ok := alone[*ShankInStock](t, c.name, r)
		if !ok || f.FaceLine != len(c.passes) {
			t.Errorf("%s: %+v", c.name, f)
			continue
		}
		near(t, c.name, f.Depth, c.depth, 1e-5)
		near(t, c.name, f.Flute, 5, 0)
	}
}

// A vee of 6 mm and 60 degrees has a cone 3/tan(30) = 5.196 high. Sunk 7 deep there
// stand 7 - 5.196 = 1.804 beside what is above it; whether that cuts isn't known.
func TestVeeOverItsCone(t *testing.T) {
	cone := 3 / math.Tan(math.Pi/6)
	for _, c := range []struct {
		name   string
		depths []float64
		flute  float64
		told   float64 // 0 for nothing
	}{
		{"sunk in one pass", []float64{-7}, 0, 7 - cone},
		{"the worst of two", []float64{-6, -7}, 0, 7 - cone},
		{"to the cone's rim", []float64{-cone}, 0, 0},
		{"with flutes above the cone", []float64{-7}, 12, 0},
	} {
		q := plain()
		q.Tools = []Tool{{Number: 1, Shape: Vee, Diameter: 6, Angle: 60, Flute: c.flute}}
		for i, z := range c.depths {
			y := 20 + 15*float64(i)
			q.Face.Segments = append(q.Face.Segments, line(3+i, 20, y, z, 70, y, z))
		}
		r, err := Check(q)
		if err != nil {
			t.Fatal(err)
		}
		if c.told == 0 {
			if !r.OK() {
				t.Errorf("%s: %+v", c.name, r.Findings)
			}
			continue
		}
		f, ok := alone[*VeeOverCone](t, c.name, r)
		if !ok || f.FaceLine != 2+len(c.depths) || f.Count != len(c.depths) {
			t.Errorf("%s: %+v", c.name, f)
			continue
		}
		near(t, c.name, f.Depth, c.told, 1e-5)
		near(t, c.name, f.Cone, cone, 1e-12)
	}
}

// rect is a rectangle cut all around with tool 1, one line for each side from n.
func rect(n int, x0, y0, x1, y1, z float64) []Segment {
	return []Segment{line(n, x0, y0, z, x1, y0, z), line(n+1, x1, y0, z, x1, y1, z),
		line(n+2, x1, y1, z, x0, y1, z), line(n+3, x0, y1, z, x0, y0, z)}
}

func TestLooseAndMargin(t *testing.T) {
	q := plain()
	q.Pins = []Pin{{X: 6, Y: 30, Dia: 6}, {X: 94, Y: 30, Dia: 6}}
	q.Face.Segments = rect(11, 20, 10, 80, 50, -12.2)
	r, err := Check(q)
	if err != nil {
		t.Fatal(err)
	}
	if len(r.Loose) != 1 {
		t.Fatalf("%+v", r.Loose)
	}
	l := r.Loose[0]
	// It hangs on the last side until its end: line 14.
	if l.Side != Face || l.FaceLine != 14 {
		t.Errorf("%+v", l)
	}
	near(t, "area", l.Area, (60-6)*(40-6), 5)
	if l.X < 23 || l.X > 77 || l.Y < 13 || l.Y > 47 {
		t.Errorf("not on the part: %+v", l)
	}
	// The back cuts on the part: both pins have lost it.
	q.Back.Segments = []Segment{line(5, 40, 30, -2, 60, 30, -2)}
	if r, err = Check(q); err != nil {
		t.Fatal(err)
	}
	severed := of[*MarginSevered](r)
	for _, f := range severed {
		if f.FaceLine != 14 {
			t.Errorf("%+v", f)
		}
	}
	if len(severed) != 2 {
		t.Errorf("%d pins severed: %+v", len(severed), r.Findings)
	}
	// A tab 5 mm long that stays 2 mm thick holds it.
	q.Back.Segments = nil
	q.Face.Segments = append(rect(11, 20, 10, 80, 50, -12.2)[:3],
		line(14, 20, 50, -12.2, 20, 35, -12.2), line(15, 20, 35, -10, 20, 24, -10), line(16, 20, 24, -12.2, 20, 10, -12.2))
	if r, err = Check(q); err != nil || !r.OK() {
		t.Errorf("%v %+v", err, r.Findings)
	}
	// Held down by a clamp on the part, the frame around it is what comes loose.
	q.Face.Segments = rect(11, 20, 10, 80, 50, -12.2)
	q.Held = [][2]float64{{50, 30}}
	if r, err = Check(q); err != nil || len(r.Loose) != 1 || r.Loose[0].Area < 2000 {
		t.Errorf("%v %+v", err, r.Loose)
	}
}

func TestBoreAndEdges(t *testing.T) {
	q := plain()
	q.Bore = &Circle{X: 50, Y: 30, Dia: 20}
	q.Pins = []Pin{{X: 50, Y: 30, Dia: 19.95, Height: 6}} // the plug in it: told once
	q.Locators[backSide] = []Locator{{Edge: NearEdge}, {Edge: LeftEdge}}
	q.Face.Segments = []Segment{line(3, 56, 30, -5, 70, 30, -5)}
	f := only[*BoreBroken](t, q)
	near(t, "depth", f.Depth, 5, 1e-5)
	if f.FaceLine != 3 || f.Side != Face {
		t.Errorf("%+v", f)
	}
	// A chamfer or an engraving over the bore's edge leaves it.
	q.Face.Segments = []Segment{line(3, 56, 30, -2, 70, 30, -2)}
	if r, err := Check(q); err != nil || !r.OK() {
		t.Errorf("%v %+v", err, r.Findings)
	}
	q.Face.Segments = []Segment{line(4, 30, -1, -6, 60, -1, -6)}
	e := only[*EdgeMachined](t, q)
	near(t, "depth", e.Depth, 6, 1e-5)
	// 30 mm and two ends: at 1 mm off the edge the end's circle is cut at half width sqrt(9-1).
	near(t, "length", e.Along, 30+2*math.Sqrt(9-1.1*1.1), 0.4)
	if e.Edge != NearEdge || e.FaceLine != 4 {
		t.Errorf("%+v", e)
	}
	q.Face.Segments = []Segment{line(4, 30, 61, -6, 60, 61, -6)} // the far edge isn't touched
	if r, err := Check(q); err != nil || !r.OK() {
		t.Errorf("%v %+v", err, r.Findings)
	}
}

func TestWorstWeb(t *testing.T) {
	// A face pocket 5 deep up to x = 43 and a back pocket 6 deep from x = 43.6 on:
	// 6 under the one, 7 under the other. With the back 1 mm off they overlap: 1. Askew
	// from floor to floor sqrt(1 + 0.6^2) = 1.166 are left, and 1.005 with it 0.5 off.
	q := plain()
	q.Face.Segments = []Segment{line(3, 20, 30, -5, 40, 30, -5)}
	q.Back.Segments = []Segment{line(4, 100-46.6, 30, -6, 100-70, 30, -6)}
	q.Web = 1.01
	q.Misalignment = 0.5
	r, err := Check(q)
	if err != nil || !r.OK() {
		t.Fatalf("%v %+v", err, r.Findings)
	}
	near(t, "web", r.Web.Min, 6, 1e-5)
	q.Misalignment = 1
	f := only[*WebThinAtTolerance](t, q)
	near(t, "web at 1 mm off", f.Left, 1, 1e-5)
	if f.FaceLine != 3 || f.BackLine != 4 {
		t.Errorf("%+v", f)
	}
	q.ThicknessTol = 0.25
	near(t, "and a thin blank", only[*WebThinAtTolerance](t, q).Left, 0.75, 1e-5)
	q.Misalignment, q.ThicknessTol, q.Web = 0, 0, 6.5
	if r, err = Check(q); err != nil || codes(r) != "web-thin wall-thin" {
		t.Fatalf("%v %s", err, codes(r))
	}
	near(t, "web", figure(r.Findings[0]), 6, 1e-5)
	near(t, "wall", figure(r.Findings[1]), math.Sqrt(1+0.6*0.6), 1e-6)
	near(t, "asked", of[*WebThin](r)[0].Asked, 6.5, 0)
}

func TestOffsetsAndPlaces(t *testing.T) {
	q := plain()
	q.Face.Offset = 540
	s := line(6, 20, 30, -2, 30, 30, -2)
	s.Offset = 550
	q.Face.Segments = []Segment{s}
	f := only[*WrongOffset](t, q)
	if f.Offset != 550 || f.FaceLine != 6 {
		t.Errorf("%+v", f)
	}
	// Where both zeros are known the cut lies where it really lies.
	q.Zeros[faceSide] = &Zero{ZKnown: true}
	q.OtherZeros = map[int]Zero{550: {X: 40, Y: 10, Z: -1, ZKnown: true}}
	r, err := Check(q)
	if err != nil {
		t.Fatal(err)
	}
	i, j := r.Grid.cellAt(65, 40)
	near(t, "moved cut", r.Grid.Face(i, j), 12-3, 1e-5)

	// A cut from an unknown place is told, not guessed.
	q = plain()
	s = line(7, 0, 0, -2, 50, 30, -2)
	s.FromOK = [3]bool{}
	for _, ends := range [][2]float64{{-2, -2}, {5, -2}, {-2, 5}} { // what starts or ends in the blank cuts
		s.From[2], s.To[2] = ends[0], ends[1]
		s.FromOK[2] = true
		q.Face.Segments = []Segment{s}
		only[*PlaceUnknown](t, q)
	}
	s.From[2], s.To[2], s.FromOK[2] = -2, -2, false
	q.Face.Segments = []Segment{s}
	if f := only[*PlaceUnknown](t, q); f.FaceLine != 7 {
		t.Errorf("%+v", f)
	}
}

func TestQuestionsThatCantBe(t *testing.T) {
	for _, c := range []struct {
		name string
		edit func(q *Request)
		want string
	}{
		{"no width", func(q *Request) { q.W = 0 }, "width 0"},
		{"thickness not a number", func(q *Request) { q.T = math.NaN() }, "thickness NaN"},
		{"skimmed away", func(q *Request) { q.Skimmed = 12 }, "skim 12"},
		{"no tool", func(q *Request) { q.Tools = nil }, "no tool"},
		{"a tool twice", func(q *Request) { q.Tools = append(q.Tools, q.Tools[0]) }, "tool 1 twice"},
		{"a bad tool", func(q *Request) { q.Tools[0].Diameter = -1 }, "diameter -1"},
		{"half a turn", func(q *Request) { q.Map.Y.Sign = -1 }, "both or neither"},
		{"cells too small", func(q *Request) { q.Cell = 0.001 }, "cells of 0.001"},
		{"a cell of nothing", func(q *Request) { q.Cell = -1 }, "cell -1"},
		{"a bad pin", func(q *Request) { q.Pins = []Pin{{Dia: 0}} }, "pin 1"},
		{"a bad no-go", func(q *Request) { q.NoGo = []Rect{{W: -1, H: 2}} }, "area 1"},
		{"a bad bore", func(q *Request) { q.Bore = &Circle{} }, "bore"},
		{"an unknown tool", func(q *Request) { q.Face.Read = strings.NewReader("T9 M6\nG0 X10 Y10 Z5\nG1 Z-2 F100\nM2\n") }, "tool 9"},
		{"a bad program", func(q *Request) { q.Face.Read = strings.NewReader("G1 X1O\n") }, ""},
		{"infinite coordinate", func(q *Request) { q.Face.Segments = []Segment{line(1, 0, 0, 0, math.Inf(1), 0, 0)} }, "finite"},
	} {
		q := plain()
		c.edit(&q)
		_, err := Check(q)
		var f *fault.Error
		if !errors.As(err, &f) || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", c.name, err, c.want)
		}
	}
}

func TestDefaultCell(t *testing.T) {
	for _, c := range []struct {
		w, h float64
		dia  float64
		want float64
	}{{120, 80, 6, 0.2}, {120, 80, 3, 0.1}, {120, 80, 1, 0.05}, {120, 80, 0.2, 0.05}, {30, 20, 0.2, 0.02}, {1200, 800, 3, 0.5}, {1200, 800, 40, 0.5}} {
		got := DefaultCell(c.w, c.h, []Tool{{Diameter: c.dia}})
		if got != c.want {
			t.Errorf("%g x %g, cutter %g: %g, want %g", c.w, c.h, c.dia, got, c.want)
		}
	}
}

func ExampleCheck() {
	face := "G21 G90 G17\nT1 M6\nG0 X30 Y20\nG0 Z2\nG1 Z-7 F300\nG1 X50\nG0 Z5\nM2\n"
	back := "G21 G90 G17\nT1 M6\nG0 X60 Y10\nG0 Z2\nG1 Z-6 F300\nG1 Y40\nG0 Z5\nM2\n"
	q := Request{W: 100, H: 60, T: 12, Map: turned("y", 100, 60), Web: 2,
		Tools: []Tool{{Number: 1, Shape: Flat, Diameter: 6}}}
	q.Face.Read, q.Back.Read = strings.NewReader(face), strings.NewReader(back)
	r, err := Check(q)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, f := range r.Findings {
		if f, ok := f.(*BrokenThrough); ok {
			fmt.Printf("%s over %.0f mm2, overlap %.2f, face line %d, back line %d\n", f.Code(), f.Area, f.Overlap, f.FaceLine, f.BackLine)
		}
	}
	// Output:
	// broken-through over 36 mm2, overlap 1.00, face line 6, back line 6
}
