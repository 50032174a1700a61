package cut

import (
	"errors"
	"math"
	"strings"
	"testing"

	"flipcalc/mirror/fault"
)

// Two programs on the back: the second starts with a fresh control (no tool, no
// place) on the material that the first left, and findings name the file. Derived:
// the first mills 5 mm deep with a 6 mm cutter, the second goes 8 mm deep into the
// same slot, under a face slot 5 mm deep; 12 - 5 - 8 = -1.
func TestProgramsThatFollow(t *testing.T) {
	q := plain()
	q.Face = Program{Name: "face.nc", Read: strings.NewReader("G21 G90\nT1 M6\nG0 X10 Y30 Z5\nG1 Z-5 F100\nG1 X50\nG0 Z5\nM2\n")}
	q.Back = Program{Name: "first.nc", Read: strings.NewReader("G21 G90\nT2 M6\nG0 X70 Y30 Z5\nG1 Z-5 F100\nG1 X90\nG0 Z5\nM2\n"),
		Then: []Program{{Name: "second.nc", Read: strings.NewReader("G21 G90\nG0 X70 Y30 Z5\nG1 Z-8 F100\nG1 X80\nG0 Z5\nM2\n")}}}
	q.Through = [][2]float64{{25, 30}}
	r, err := Check(q)
	if err != nil {
		t.Fatal(err)
	}
	if len(r.Through) != 1 || len(r.Findings) != 0 {
		t.Fatalf("want one through cut, got %+v, %+v", r.Through, r.Findings)
	}
	f := r.Through[0]
	near(t, "overlap", f.Overlap, 1, 1e-5)
	if f.FaceFile != "face.nc" || f.FaceLine != 5 && f.FaceLine != 4 || f.BackFile != "second.nc" || f.BackLine != 3 && f.BackLine != 4 {
		t.Errorf("%+v", f)
	}
	// The second program names no tool, so it takes the first that is described.
	i, j := r.Grid.cellAt(25, 30+2.9)
	near(t, "flat floor", r.Grid.Back(i, j), 8, 1e-5)

	// A tool that isn't there is named with the file and line it is in.
	q.Face.Read, q.Back.Read = strings.NewReader("G0 Z5\nM2\n"), strings.NewReader("G0 Z5\nM2\n")
	q.Back.Then[0].Read = strings.NewReader("T7 M6\nG0 X70 Y30 Z5\nG1 Z-8 F100\nM2\n")
	_, err = Check(q)
	var bad *fault.Error
	if !errors.As(err, &bad) || bad.File != "second.nc" || bad.Line != 3 {
		t.Errorf("%v", err)
	}
}

// Lines are told as Source gives them.
func TestSourceLines(t *testing.T) {
	q := plain()
	q.Face = Program{Name: "a.nc", Segments: []Segment{line(3, 50, 30, 2, 50, 30, -12.1)}}
	q.Back = Program{Name: "b.nc", Segments: []Segment{line(5, 20, 30, -5, 30, 30, -5)},
		Then: []Program{{Name: "c.nc", Source: func(n int) int { return n - 2 }, Segments: []Segment{rapid(9, 60, 30, -3, 80, 30, -3)}}}}
	f := only[*RapidInStock](t, q)
	if f.BackFile != "c.nc" || f.BackLine != 7 || f.FaceFile != "" || f.FaceLine != 0 {
		t.Errorf("%+v", f)
	}
}

// Further offsets with the same zero are no wrong ones.
func TestOffsetsOfOnePlace(t *testing.T) {
	q := plain()
	s := line(2, 50, 30, -1, 60, 30, -1)
	s.Offset = 540
	q.Back = Program{Offset: 550, Segments: []Segment{s}}
	only[*WrongOffset](t, q)
	q.Back.Also = []int{540}
	if r, err := Check(q); err != nil || len(r.Findings) > 0 {
		t.Errorf("%v %+v", err, r.Findings)
	}
}

// A part under a clamp is held, on the side where the clamp is.
func TestClampsHold(t *testing.T) {
	q := plain()
	q.Face.Segments = rect(11, 20, 10, 80, 50, -12.2)
	f := only[*PartLoose](t, q)
	// Held where it is told, with what was held by default, nothing is loose: the part alone
	// would leave the frame.
	q.Held = [][2]float64{{f.X, f.Y}}
	only[*PartLoose](t, q)
	q.Held = append(q.Held, f.Also...)
	if r, err := Check(q); err != nil || len(r.Findings) > 0 {
		t.Errorf("held at %v: %v %+v", q.Held, err, r.Findings)
	}
	q.Held = nil
	// One clamp on the part and one on the margin, over the edge of the blank.
	q.NoGo, q.Clamps, q.Zeros = []Rect{{X: 45, Y: 25, W: 10, H: 10}, {X: -20, Y: 20, W: 30, H: 10}}, 2, [2]*Zero{{}, {}}
	if r, err := Check(q); err != nil || len(r.Findings) > 0 {
		t.Errorf("%v %+v", err, r.Findings)
	} else {
		alike(t, "clamps", q, r)
	}
	// The first clamp 200 farther along the bed, where the back lies with its zero.
	q.NoGo[0].X, q.Zeros[1].X = 245, 200
	q.NoGo, q.Clamps = append(q.NoGo, Rect{X: 190, Y: 20, W: 20, H: 10}), 3
	if f := only[*PartLoose](t, q); f.Side != Face {
		t.Errorf("%+v", f)
	}
	// No-go areas hold nothing.
	q.NoGo[0].X, q.Clamps = 45, 2
	if f := only[*PartLoose](t, q); f.Side != Face {
		t.Errorf("%+v", f)
	}
}

// Clamps on a blank that lies turned: two small ones at places of the blank, 50 30 on the part and
// 5 25 on the margin, and the program turned with the blank.
func TestClampsHoldATurnedBlank(t *testing.T) {
	for _, turn := range []float64{90, 36.87} {
		sin, cos := math.Sincos(turn * math.Pi / 180)
		on := func(u, v float64) (x, y float64) { return u*cos - v*sin, u*sin + v*cos }
		q := plain()
		q.FaceTurn, q.Face.Segments, q.Zeros = turn, rect(11, 20, 10, 80, 50, -12.2), [2]*Zero{{X: 300, Y: 300}, {}}
		for i := range q.Face.Segments {
			s := &q.Face.Segments[i]
			s.From[0], s.From[1] = on(s.From[0], s.From[1])
			s.To[0], s.To[1] = on(s.To[0], s.To[1])
		}
		for _, p := range [][2]float64{{50, 30}, {5, 25}} {
			x, y := on(p[0], p[1])
			q.NoGo = append(q.NoGo, Rect{X: p[0] - 2, Y: p[1] - 2, W: 4, H: 4}, Rect{X: 300 + x - 2, Y: 300 + y - 2, W: 4, H: 4})
		}
		q.Clamps = 4
		if r, err := Check(q); err != nil || len(r.Findings) > 0 {
			t.Errorf("turned by %g: %v %+v", turn, err, r.Findings)
		}
		q.NoGo[1], q.NoGo[0], q.Clamps = q.NoGo[0], q.NoGo[1], 3
		if f := only[*PartLoose](t, q); f.Side != Face {
			t.Errorf("turned by %g, the part's clamp no clamp: %+v", turn, f)
		}
	}
}

// A hole that the face program bores had no pin in it; a groove over a pin cuts it.
func TestBoredHolesHaveNoPin(t *testing.T) {
	q := plain()
	q.Tools[0].Diameter = 4
	q.Pins = []Pin{{X: 50, Y: 30, Dia: 12, Height: 8}}
	ring := func(r float64) Segment {
		return Circular(6, 1, [3]float64{50 + r, 30, -12.1}, [3]float64{50 + r, 30, -12.1}, [2]float64{50, 30}, true)
	}
	q.Face.Segments = []Segment{line(3, 50, 30, 2, 50, 30, -12.1), line(4, 50, 30, -12.1, 52, 30, -12.1), ring(2),
		line(7, 52, 30, -12.1, 54, 30, -12.1), ring(4.05)}
	q.HeldAll, q.Bore = true, &Circle{X: 50, Y: 30, Dia: 12}
	if r, err := Check(q); err != nil || len(r.Findings) > 0 || !r.Bored {
		t.Errorf("%v %+v", err, r)
	}
	q.Pins[0].Dia, q.Bore = 3, &Circle{X: 50, Y: 30, Dia: 3}
	q.Face.Segments = []Segment{line(4, 20, 30, -12.1, 80, 30, -12.1)}
	r, err := Check(q)
	if err != nil {
		t.Fatal(err)
	}
	if f, ok := r.Findings[0].(*PinCut); !ok || math.Abs(f.Depth-8.1) > 1e-9 || r.Bored {
		t.Errorf("%+v", r.Findings)
	}
}

// The index pin of 4 mm fits into a hole of radius 2 at its place, as deep as it stands over the
// bed. Up to 0.5 mm and a cell and a half wider about the pin, 2.8, it is the pin's hole (closed
// form: a mill of 3 mm in a circle of radius r leaves a hole of radius 1.5 + r).
func TestIndexPinWantsItsHole(t *testing.T) {
	const deep = -12.1
	for _, c := range []struct {
		name   string
		face   []Segment
		height float64
		want   bool
		hit    bool // a pin that stands there as the face is cut
	}{
		{"none", nil, 0, false, false},
		{"its own", bore(20, 80, 30, 0.5, deep), 0, true, false},
		{"wider", bore(20, 80, 30, 1, deep), 0, true, false},
		{"too wide", bore(20, 80, 30, 1.6, deep), 0, false, true},
		{"too narrow", hole(20, 80, 30, deep), 0, false, true},
		{"1 mm off", bore(20, 81, 30, 0.5, deep), 0, false, true},
		{"blind", bore(20, 80, 30, 0.5, -11.9), 0, false, true},
		{"blind, as deep as the pin stands", bore(20, 80, 30, 0.5, -5), 5, true, false},
		{"blind, less deep", bore(20, 80, 30, 0.5, -4.9), 5, false, false},
		{"blind, into a pin of 8", bore(20, 80, 30, 0.5, -8), 8, true, true},
		{"a groove over it", []Segment{line(20, 70, 30, deep, 95, 30, deep)}, 0, false, true},
	} {
		q := plain()
		q.Tools[0].Diameter, q.HeldAll = 3, true
		q.Bore = &Circle{X: 50, Y: 30, Dia: 5}
		q.Pins = []Pin{{X: 50, Y: 30, Dia: 4.95, Height: 5}, {X: 80, Y: 30, Dia: 4, Height: c.height}}
		q.Face.Segments = append(bore(3, 50, 30, 1, deep), c.face...)
		r, err := Check(q)
		if err != nil || !r.Bored || r.Indexed != c.want || len(of[*PinCut](r)) > 0 {
			t.Errorf("%s: %v, bored %v, index pin's hole %v, into a pin %v", c.name, err, r.Bored, r.Indexed, of[*PinCut](r))
		}
		q.Face.Segments = c.face // the bore was there before, and so may plug and pin be
		r, err = Check(q)
		if err != nil || r.Bored || len(of[*PinCut](r)) > 0 != c.hit {
			t.Errorf("%s, no bore cut: %v, into a pin %v", c.name, err, of[*PinCut](r))
		}
	}
}

// A hole that the face cut is a hole in the view of the back, where the turned blank
// has it.
func TestViewOfTheBackShowsTheFacesHoles(t *testing.T) {
	q := plain()
	q.Face.Segments = []Segment{line(3, 20, 30, 2, 20, 30, -12.1), line(4, 60, 30, 2, 60, 30, -11)}
	r, err := Check(q)
	if err != nil {
		t.Fatal(err)
	}
	v := r.Grid.View(500, 300, false)
	at := func(x, y float64) float64 { return float64(v.Back[int(y/v.Cell)*v.Width+int(x/v.Cell)]) }
	near(t, "hole", at(100-20, 30), 0, 0)
	near(t, "blind", at(100-60, 30), 12, 0)
}
