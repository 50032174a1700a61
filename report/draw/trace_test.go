package draw

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"flipcalc/mirror/motion"
	"flipcalc/mirror/transform"
)

func trace(t *testing.T, program string, unit transform.Unit) *Path {
	t.Helper()
	p, err := Trace(strings.NewReader(program), motion.Options{Name: "p.nc"}, unit, 0.01, 0)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// A circle of radius 10 about (10, 0): every point lies on it, whatever the unit.
func TestTraceFollowsArcs(t *testing.T) {
	for _, c := range []struct {
		unit transform.Unit
		r    float64
	}{{transform.MM, 10}, {transform.Inch, 10 / 25.4}} {
		p := trace(t, "G21 G90\nG0 X0 Y0 Z5\nG1 Z-1 F100\nG2 X0 Y0 I10 J0\nM2\n", c.unit)
		var cut *Stroke
		for i := range p.Strokes {
			if !p.Strokes[i].Rapid {
				cut = &p.Strokes[i]
			}
		}
		if cut == nil || len(cut.Points) < 24 {
			t.Fatalf("%v: no circle in %v", c.unit, p.Strokes)
		}
		for _, q := range cut.Points {
			if d := math.Abs(math.Hypot(q[0]-c.r, q[1]) - c.r); d > 1e-9 {
				t.Errorf("%v: %v is %g off the circle", c.unit, q, d)
			}
		}
		if math.Abs(cut.Points[1][1]-c.r*math.Sin(math.Pi/24)) > 1e-9 {
			t.Errorf("G2 from the left goes up first (clockwise), not %v", cut.Points[1])
		}
	}
}

// A quarter turn counter-clockwise about 0,0 from the right to the far side stays
// where both X and Y are positive; clockwise from there it comes back the same way.
func TestTraceOfQuarterArcs(t *testing.T) {
	for _, src := range []string{"G0 X10 Y0\nG3 X0 Y10 I-10 J0 F100\n", "G0 X0 Y10\nG2 X10 Y0 I0 J-10 F100\n"} {
		p := trace(t, "G21 G90\n"+src+"M2\n", transform.MM)
		arc := p.Strokes[len(p.Strokes)-1].Points
		if len(arc) < 8 {
			t.Fatalf("%q: %d points", src, len(arc))
		}
		for _, q := range arc {
			if q[0] < -1e-9 || q[1] < -1e-9 || math.Abs(math.Hypot(q[0], q[1])-10) > 1e-9 {
				t.Errorf("%q: %v isn't on the quarter", src, q)
			}
		}
	}
}

// A half circle in the ZX plane is a straight line from above.
func TestTraceOfUprightArc(t *testing.T) {
	p := trace(t, "G21 G90 G18\nG0 X0 Y3 Z0\nG3 X20 Z0 I10 K0 F100\nM2\n", transform.MM)
	cut := p.Strokes[len(p.Strokes)-1]
	for _, q := range cut.Points {
		if q[1] != 3 || q[0] < -1e-9 || q[0] > 20+1e-9 {
			t.Errorf("%v lies off the line from X0 to X20 at Y3", q)
		}
	}
}

func TestTraceLeavesOtherOffsetsOut(t *testing.T) {
	src := "G21 G90 G54\nG0 X0 Y0\nG1 X5 Y0 F100\nG55\nG0 X1 Y1\nG1 X1 Y9\nM2\n"
	p, err := Trace(strings.NewReader(src), motion.Options{Name: "p.nc"}, transform.MM, 0.01, 550)
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range p.Strokes {
		for _, q := range s.Points {
			if q[0] != 1 {
				t.Errorf("%v doesn't belong to G55", q)
			}
		}
	}
	if len(p.Strokes) == 0 {
		t.Error("nothing traced in G55")
	}
}

func TestTraceThinsLongPrograms(t *testing.T) {
	var b strings.Builder
	b.WriteString("G21 G90 G0 X0 Y0\n")
	for i := range 200_000 {
		fmt.Fprintf(&b, "G1 X%.3f Y%.3f F900\n", float64(i%1000)*0.1, float64(i/1000)*0.3)
	}
	p := trace(t, b.String(), transform.MM)
	n := 0
	for _, s := range p.Strokes {
		n += len(s.Points)
	}
	if n > tracePoints*2 || n < 100 {
		t.Errorf("%d points, want at most %d", n, tracePoints*2)
	}
}

// A path is drawn where the control runs it: shifted by G52 and turned by G68 (common
// practice); 10,0 turned by 90 about 0,0 is 0,10.
func TestTraceOfShiftsAndTurns(t *testing.T) {
	for src, want := range map[string][2]float64{
		"G52 X3 Y4\nG1 X10 Y0 F100\n":                                  {13, 4},
		"G68 X0 Y0 R90\nG1 X10 Y0 F100\nG69\n":                         {0, 10},
		"G52 X3\nG68 X0 Y0 R90\nG1 X10 Y0 F100\nG69\n":                 {3, 10},
		"G1 X10 Y0 F100\nG92 X0\nG1 X5\nG92.1\n":                       {15, 0},
		"G1 X10 Y0 F100\n":                                             {10, 0},
		"G68 X0 Y0 R90\nG1 X10 Y0 F100\nG69\nG1 X10 Y10\nG1 X10 Y20\n": {10, 20},
	} {
		p := trace(t, "G21 G90\nG0 X0 Y0 Z5\n"+src+"M2\n", transform.MM)
		var end [2]float64
		if n := len(p.Strokes); n > 0 {
			end = p.Strokes[n-1].Points[len(p.Strokes[n-1].Points)-1]
		}
		if math.Hypot(end[0]-want[0], end[1]-want[1]) > 1e-6 {
			t.Errorf("%q ends at %v, want %v", src, end, want)
		}
	}
}

// A program in inches is drawn in a setup's unit, whichever that is: 2 in are 50.8 mm
// (the inch is 25.4 mm exactly: NIST SP 811, B.6).
func TestTraceOfProgramsInBothUnits(t *testing.T) {
	for _, c := range []struct {
		program string
		unit    transform.Unit
		want    float64
	}{
		{"G20 G90\nG0 X0 Y0 Z1\nG1 X2 Y1 F10\nM2\n", transform.MM, 50.8},
		{"G20 G90\nG0 X0 Y0 Z1\nG1 X2 Y1 F10\nM2\n", transform.Inch, 2},
		{"G21 G90\nG0 X0 Y0 Z1\nG1 X50.8 Y25.4 F10\nM2\n", transform.MM, 50.8},
		{"G21 G90\nG0 X0 Y0 Z1\nG1 X50.8 Y25.4 F10\nM2\n", transform.Inch, 2},
	} {
		p := trace(t, c.program, c.unit)
		points := p.Strokes[len(p.Strokes)-1].Points
		if end := points[len(points)-1]; math.Abs(end[0]-c.want) > 1e-9 || math.Abs(end[1]-c.want/2) > 1e-9 {
			t.Errorf("%q in %v: ends at %v, not %v, %v", c.program, c.unit, end, c.want, c.want/2)
		}
	}
}

// A quarter turn counter-clockwise carries X onto Y (ISO 80000-2, angles).
func TestPathTurned(t *testing.T) {
	p := Path{Strokes: []Stroke{{Points: []point{{10, 0}, {0, 5}}}}, Plunges: []point{{3, 4}}}
	p.Turn(90)
	for i, want := range []point{{0, 10}, {-5, 0}, {-4, 3}} {
		got := append(p.Strokes[0].Points, p.Plunges...)[i]
		if math.Hypot(got[0]-want[0], got[1]-want[1]) > 1e-12 {
			t.Errorf("%v, want %v", got, want)
		}
	}
}
