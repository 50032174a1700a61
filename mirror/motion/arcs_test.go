package motion

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// TestArcWords: centres and sweeps from closed forms. An arc by R over a chord d has its centre
// sqrt(R^2 - d^2/4) off the chord's middle: right of it for G2 by up to half a turn, left for G3.
func TestArcWords(t *testing.T) {
	check(t, []table{
		{source: "NISTIR 6556, 3.5.3.2: I and J from the start on, one is enough; all four quadrants, both senses", before: "G21 G90 G17 F9 G0 X0 Y0 Z0", rows: []row{
			{"G2 X10 Y0 I5 J0", "cw 10,0,0 @5,0 by -180"}, {"G3 X10 Y0 I5 J0", "ccw 10,0,0 @5,0 by 180"}, {"G2 X10 I5", "cw 10,0,0 @5,0 by -180"},
			{"G2 X5 Y5 I5", "cw 5,5,0 @5,0 by -90"}, {"G3 X5 Y5 I5", "ccw 5,5,0 @5,0 by 270"}, {"G2 X5 Y-5 I5", "cw 5,-5,0 @5,0 by -270"}, {"G3 X5 Y-5 I5", "ccw 5,-5,0 @5,0 by 90"},
			{"G2 X-5 Y5 I-5", "cw -5,5,0 @-5,0 by -270"}, {"G3 X-5 Y5 I-5", "ccw -5,5,0 @-5,0 by 90"}, {"G2 X-5 Y5 J5", "cw -5,5,0 @0,5 by -90"}, {"G3 X5 Y5 J5", "ccw 5,5,0 @0,5 by 90"}, {"G2 X5 Y-5 J-5", "cw 5,-5,0 @0,-5 by -90"}, {"G3 X-5 Y-5 J-5", "ccw -5,-5,0 @0,-5 by 90"},
			{"G2 X8 Y4 I3 J4", "cw 8,4,0 @3,4 by -233.130102"}, {"G3 X8 Y4 I3 J4", "ccw 8,4,0 @3,4 by 126.869898"}, // from 180 + atan(4/3) = 233.130102 to 0
			{"G2 X0 Y0 I5", "cw 0,0,0 @5,0 by -360"}, {"G3 X0 I5", "ccw 0,0,0 @5,0 by 360"}, {"G2 Y0 J-5", "cw 0,0,0 @0,-5 by -360"}, {"G2 I5", "cw 0,0,0 @5,0 by -360"}, {"G3 I-3 J4", "ccw 0,0,0 @-3,4 by 360"},
			{"G2 X10 I5|X0 I-5|X10 I5", "cw 10,0,0 @5,0 by -180; cw 0,0,0 @5,0 by -180; cw 10,0,0 @5,0 by -180"}, {"G2 X10 I5 Z-3", "cw 10,0,-3 @5,0 by -180"}, {"G3 I5 Z-3", "ccw 0,0,-3 @5,0 by 360"}, {"G3 Z2 X10 I5", "ccw 10,0,2 @5,0 by 180"},
			{"G2 X10 I5 P2", "cw 10,0,0 @5,0 by -540"}, {"G3 I5 Z-9 P3", "ccw 0,0,-9 @5,0 by 1080"}, {"G2 X10 I5 P1", "cw 10,0,0 @5,0 by -180"}, // turns: common practice
			{"G2 X10 I5 K0", "cw 10,0,0 @5,0 by -180"}, {"G2 X10 I5 K1", "!1:11: K in an arc of G17"}, {"G2 X10 K5", "!1:8: K in an arc of G17"}, {"G2 X10", "!1:1: an arc without a centre"}, {"G2", ""},
			{"G2 Z5", "!1:1: an arc without a centre"}, {"G2 X0 Y0 I0 J0", "!1:1: an arc of radius 0"}, {"G2 I0", "!1:1: an arc of radius 0"}, {"G2 X5 I0 J0", "!1:1: an arc whose radii"},
		}},
		{source: "NISTIR 6556, 3.5.3: in G91 the end counts from the start, the centre does in both", before: "G21 G90 G17 F9 G0 X1 Y2 Z3|G91", rows: []row{
			{"G2 X10 I5", "cw 11,2,3 @6,2 by -180"}, {"G3 X-10 I-5", "ccw -9,2,3 @-4,2 by 180"}, {"G2 X10 I5|X-10 I-5", "cw 11,2,3 @6,2 by -180; cw 1,2,3 @6,2 by -180"}, {"G3 X5 Y5 J5", "ccw 6,7,3 @1,7 by 90"},
			{"G2 X0 Y0 I5", "cw 1,2,3 @6,2 by -360"}, {"G2 X10 R5", "cw 11,2,3 @6,2 by -180"}, {"G2 X10 Z-1 I5", "cw 11,2,2 @6,2 by -180"}, {"G90.1 G2 X10 I6 J2", "cw 11,2,3 @6,2 by -180"},
		}},
		{source: "common practice: G90.1 counts centres from zero, until G91.1; both words must be there", before: "G21 G90 G17 F9 G0 X1 Y2 Z3", rows: []row{
			{"G90.1 G2 X11 I6 J2", "cw 11,2,3 @6,2 by -180"}, {"G90.1|G2 X11 I6 J2|X1 I6 J2", "cw 11,2,3 @6,2 by -180; cw 1,2,3 @6,2 by -180"}, {"G90.1|G91.1 G2 X11 I5", "cw 11,2,3 @6,2 by -180"}, {"G90.1 G3 I6 J2", "ccw 1,2,3 @6,2 by 360"},
			{"G90.1 G2 X11 I6", "!1:7: an arc with one centre word"}, {"G90.1 G2 X11 J2", "!1:7: an arc with one centre word"}, {"G90.1 G2 X11 I5 J0", "!1:7: an arc whose radii"}, {"G90.1 G2 X11 R5", "cw 11,2,3 @6,2 by -180"},
			{"G90.1 G18 G2 X11 I6 K3", "cw 11,2,3 @3,6 by -180"}, {"G90.1 G19 G2 Y12 J7 K3", "cw 1,12,3 @7,3 by -180"}, {"G90.1 G92 X0 Y0|G2 X10 I5 J0", "cw 10,0,3 @5,0 by -180"},
		}},
		{source: "the same from the start on, by the control's own setting", before: "G21 G90 G17 F9 G0 X1 Y2 Z3", o: Options{AbsoluteCentres: true}, rows: []row{{"G2 X11 I6 J2", "cw 11,2,3 @6,2 by -180"}, {"G91.1 G2 X11 I5", "cw 11,2,3 @6,2 by -180"}}},
		{source: "NISTIR 6556, 3.5.3.1: R over a chord, its sign chooses the short or the long way; h = sqrt(R^2 - d^2/4)", before: "G21 G90 G17 F9 G0 X0 Y0 Z0", rows: []row{
			{"G2 X6 R5", "cw 6,0,0 @3,-4 by -73.739795"}, {"G3 X6 R5", "ccw 6,0,0 @3,4 by 73.739795"}, {"G2 X6 R-5", "cw 6,0,0 @3,4 by -286.260205"}, {"G3 X6 R-5", "ccw 6,0,0 @3,-4 by 286.260205"}, // 2 asin(3/5) = 73.739795
			{"G2 X-6 R5", "cw -6,0,0 @-3,4 by -73.739795"}, {"G2 Y8 R5", "cw 0,8,0 @3,4 by -106.260205"}, {"G3 Y-8 R5", "ccw 0,-8,0 @3,-4 by 106.260205"}, {"G2 X5 Y5 R5", "cw 5,5,0 @5,0 by -90"}, {"G3 X5 Y5 R5", "ccw 5,5,0 @0,5 by 90"}, {"G2 X5 Y5 R-5", "cw 5,5,0 @0,5 by -270"},
			{"G2 X10 R5", "cw 10,0,0 @5,0 by -180"}, {"G2 X10 R-5", "cw 10,0,0 @5,0 by -180"}, {"G3 X10 R5", "ccw 10,0,0 @5,0 by 180"}, {"G3 X6 R+5 Z-1", "ccw 6,0,-1 @3,4 by 73.739795"}, {"G2 X6 R5|X0|X6", "!2:1: an arc without a centre"},
			{"G2 X10 R4.99", "cw 10,0,0 @5,0 by -180"}, {"G2 X10 R4.9", "!1:8: radius 4.9, less than half the way"}, {"G2 X10 R-4.9", "!1:8: radius -4.9, less than half the way"}, {"G2 X10 R0", "!1:8: an arc of radius 0"}, {"G2 R5", "!1:4: an arc with R and no end point"}, {"G2 Z5 R5", "!1:7: an arc with R and no end point"},
			{"G2 X0 R5", "!1:7: an arc by radius that ends where it starts"}, {"G91 G2 X0 R5", "!1:11: an arc by radius that ends where it starts"}, {"G2 X6 R5 I3", "!1:7: an arc with both R and a centre"}, {"G2 X6 R5 J0", "!1:7: an arc with both R and a centre"}, {"G2 X6 R5 P2", "cw 6,0,0 @3,-4 by -433.739795"},
		}},
		// 3.5.3 has G2 clockwise as seen against the axis across the plane: from Z to X in G18, from
		// Y to Z in G19.
		{source: "NISTIR 6556, 3.5.3: in G18 along Z and X, with I and K", before: "G21 G90 G18 F9 G0 X0 Y0 Z0", rows: []row{
			{"G2 X10 I5", "cw 10,0,0 @0,5 by -180"}, {"G3 Z10 K5", "ccw 0,0,10 @5,0 by 180"}, {"G2 X5 Z5 I5", "cw 5,0,5 @0,5 by -270"}, {"G3 X5 Z5 I5", "ccw 5,0,5 @0,5 by 90"}, {"G2 X5 Z5 K5", "cw 5,0,5 @5,0 by -90"}, {"G3 X5 Z5 K5", "ccw 5,0,5 @5,0 by 270"},
			{"G2 X5 Z5 R5", "cw 5,0,5 @5,0 by -90"}, {"G3 X5 Z5 R5", "ccw 5,0,5 @0,5 by 90"}, {"G2 X10 Y-3 I5", "cw 10,-3,0 @0,5 by -180"}, {"G3 K5", "ccw 0,0,0 @5,0 by 360"}, {"G3 I5 Y2", "ccw 0,2,0 @0,5 by 360"},
			{"G2 X10 J5", "!1:8: J in an arc of G18"}, {"G2 Y5 R5", "!1:7: an arc with R and no end point"}, {"G91 G2 X10 I5|Z10 K5", "cw 10,0,0 @0,5 by -180; cw 10,0,10 @5,10 by -180"},
		}},
		{source: "NISTIR 6556, 3.5.3: in G19 along Y and Z, with J and K", before: "G21 G90 G19 F9 G0 X0 Y0 Z0", rows: []row{
			{"G2 Y10 J5", "cw 0,10,0 @5,0 by -180"}, {"G3 Z10 K5", "ccw 0,0,10 @0,5 by 180"}, {"G2 Y5 Z5 J5", "cw 0,5,5 @5,0 by -90"}, {"G3 Y5 Z5 J5", "ccw 0,5,5 @5,0 by 270"}, {"G2 Y5 Z5 K5", "cw 0,5,5 @0,5 by -270"}, {"G3 Y5 Z5 K5", "ccw 0,5,5 @0,5 by 90"},
			{"G2 Y5 Z5 R5", "cw 0,5,5 @5,0 by -90"}, {"G3 Y5 Z5 R-5", "ccw 0,5,5 @5,0 by 270"}, {"G2 Y10 X-3 J5", "cw -3,10,0 @5,0 by -180"}, {"G2 Y10 I5", "!1:8: I in an arc of G19"}, {"G2 X5 R5", "!1:7: an arc with R and no end point"}, {"G3 J-5 K0", "ccw 0,0,0 @-5,0 by 360"},
		}},
		{source: "arithmetic: an inch is 25.4 mm (NIST SP 811, B.8); words count in the unit of their block", before: "G20 G90 G17 F9 G0 X1 Y0 Z0", rows: []row{
			{"G2 X2 I.5", "cw 2,0,0 @1.5,0 by -180"}, {"G21 G2 X50.8 I12.7", "cw 50.8,0,0 @38.1,0 by -180"}, {"G3 X2 R.5", "ccw 2,0,0 @1.5,0 by 180"}, {"G90.1 G2 X2 I1.5 J0", "cw 2,0,0 @1.5,0 by -180"},
			{"G2 X2.002 I.5", "!1:1: an arc whose radii at start and end differ by 0.0508 mm"}, {"G2 X2.0019 I.5", "cw 2.0019,0,0 @1.5,0 by -180"},
		}},
		{source: "what is known: counts from an unknown place stay counts (arithmetic)", before: "G21 G90 G17 F9", rows: []row{
			{"G91 G2 X10 Y0 I5", "cw ?,?,? by -180"}, {"G91 G3 X5 Y5 R5", "ccw ?,?,? @0,5 by 90"}, {"G2 X10 Y0 I5", "cw 10,0,? from somewhere"}, {"G2 X10 Y0 R5", "cw 10,0,? from somewhere"}, {"G0 X0|G2 X10 I5", "r 0,?,?; cw 10,?,? by -180"}, {"G2 I5", "cw ?,?,? by -360"},
		}},
	})
}

// TestMismatch: radii that differ are an error by NISTIR 6556, 3.5.3.2, above 0.002 mm or
// 0.0002 in; a program's digits need more (common practice), so that they are counted from there
// on and refused above the tolerance.
func TestMismatch(t *testing.T) {
	for _, c := range []struct {
		unit, block, tolerance string
		count                  int // -1 where it is refused
		worst                  float64
	}{
		{"G21", "X10.002 I5", "", 0, 0}, {"G21", "X10.0021 I5", "", 1, 0.0021}, {"G21", "X9.998 I5", "", 0, 0}, {"G21", "X9.9979 I5", "", 1, 0.0021}, {"G21", "X10.05 I5", "", 1, 0.05}, {"G21", "X10.051 I5", "", -1, 0},
		{"G21", "X9.95 I5", "", 1, 0.05}, {"G21", "X9.949 I5", "", -1, 0}, {"G21", "X10.3 I5", "0.3", 1, 0.3}, {"G21", "X10.31 I5", "0.3", -1, 0}, {"G21", "X10.02 I5", "0.01", -1, 0},
		{"G20", "X10.0002 I5", "", 0, 0}, {"G20", "X10.0003 I5", "", 1, 0.00762}, {"G20", "X10.002 I5", "", -1, 0}, {"G20", "X10.0019 I5", "", 1, 0.04826},
		{"G21", "X10 R4.999", "", 0, 0}, {"G21", "X10 R4.998", "", 1, 0.004}, {"G21", "X10 R4.975", "", 1, 0.05}, {"G21", "X10 R4.974", "", -1, 0}, {"G21", "X10 R-4.998", "", 1, 0.004}, {"G20", "X10 R4.9999", "", 0, 0}, {"G20", "X10 R4.9998", "", 1, 0.01016},
	} {
		o := Options{}
		if c.tolerance != "" {
			o.ArcTolerance, _, _ = scanNum([]byte(c.tolerance), 0)
		}
		s, err := Walk(strings.NewReader(c.unit+" G90 G17 G0 X0 Y0 Z0\nG2 "+c.block+" F9\n"), o, nil)
		switch {
		case c.count < 0 && err == nil, c.count >= 0 && err != nil:
			t.Errorf("%s %s: %v", c.unit, c.block, err)
		case err == nil && (s.Mismatches != c.count || math.Abs(s.WorstMismatch-c.worst) > 1e-9 || c.count > 0 && s.FirstMismatch != 2):
			t.Errorf("%s %s: %d mismatches in line %d, %v mm at most; want %d, %v", c.unit, c.block, s.Mismatches, s.FirstMismatch, s.WorstMismatch, c.count, c.worst)
		}
	}
}

// TestDrawnArcs: arcs made of a centre, a radius and two angles in space, by gonum's rotations
// about the axis across the plane, written in words: the control finds them again. The third
// axis is the cross product of the plane's two.
func TestDrawnArcs(t *testing.T) {
	axes := [3]r3.Vec{{X: 1}, {Y: 1}, {Z: 1}}
	r := rand.New(rand.NewPCG(3, 11))
	for k := range 2000 {
		plane := k % 3
		normal := [3]int{2, 1, 0}[plane]
		across := axes[normal]
		middle := r3.Vec{X: r.Float64()*200 - 100, Y: r.Float64()*200 - 100, Z: r.Float64()*200 - 100}
		radius := 1 + r.Float64()*50
		sweep := (5 + r.Float64()*350) * math.Pi / 180
		if r.IntN(2) == 0 {
			sweep = -sweep
		}
		byRadius := k%2 == 0 && math.Abs(math.Abs(sweep)-math.Pi) > 0.2 && math.Abs(sweep) < 6
		arm := r3.Scale(radius, axes[(normal+1)%3])
		from := r3.NewRotation(r.Float64()*2*math.Pi, across).Rotate(arm)
		to := r3.NewRotation(sweep, across).Rotate(from)
		rise := r3.Scale(r.Float64()*10-5, across)
		start, end := r3.Add(middle, from), r3.Add(r3.Add(middle, to), rise)
		words := func(v r3.Vec, letters string) string {
			return fmt.Sprintf("%c%.9f %c%.9f %c%.9f", letters[0], v.X, letters[1], v.Y, letters[2], v.Z)
		}
		code := map[bool]string{true: "G3 ", false: "G2 "}[sweep > 0]
		centre := fmt.Sprintf("R%.9f", math.Copysign(radius, math.Pi-math.Abs(sweep)))
		if !byRadius {
			c := r3.Scale(-1, from)
			centre = ""
			for i, v := range [3]float64{c.X, c.Y, c.Z} {
				if i != normal {
					centre += fmt.Sprintf(" %c%.9f", "IJK"[i], v)
				}
			}
		}
		text := fmt.Sprintf("G21 G90 G91.1 G%d G0 %s\n%s%s %s F9\n", 17+plane, words(start, "XYZ"), code, words(end, "XYZ"), centre)
		if _, err := Walk(strings.NewReader(text), Options{}, func(m *Move) error {
			if !m.Circular() {
				return nil
			}
			got, gotRadius, gotSweep, ok := m.Arc()
			l, _ := m.Length()
			first, second, _ := m.State.Plane.Axes()
			at := [3]float64{middle.X, middle.Y, middle.Z}
			// Words have 9 decimals; by R the centre moves by up to radius/h of that off the chord,
			// h > 0.1 radius by the angles drawn.
			const near = 1e-6
			if !ok || math.Abs(got[0]-at[first]) > near || math.Abs(got[1]-at[second]) > near || math.Abs(gotRadius-radius) > near || math.Abs(gotSweep-sweep) > near ||
				math.Abs(l-math.Hypot(radius*sweep, r3.Norm(rise))) > 50*near {
				t.Errorf("%s: centre %v, radius %v, sweep %v, length %v; drawn about %v by %v, radius %v", text, got, gotRadius, gotSweep, l, middle, sweep, radius)
			}
			return nil
		}); err != nil {
			t.Errorf("%s: %v", text, err)
		}
	}
}

// TestReach: how far arcs reach is their widest point on each axis that they pass (closed forms).
func TestReach(t *testing.T) {
	for _, c := range []struct{ block, want string }{
		{"G2 X10 I5", "0 10 0 5"}, {"G3 X10 I5", "0 10 -5 0"}, {"G2 I5", "0 10 -5 5"}, {"G2 X5 Y5 I5", "0 5 0 5"}, {"G3 X5 Y5 I5", "0 10 -5 5"}, {"G2 X6 R5", "0 6 0 1"}, {"G2 X6 R-5", "-2 8 0 9"}, {"G3 X6 R5", "0 6 -1 0"},
		{"G3 X5 Y5 J5", "0 5 0 5"}, {"G2 X8 Y4 I3 J4", "-2 8 0 9"}, {"G3 X8 Y4 I3 J4", "0 8 -1 4"}, {"G91 G1 X-2 Y3", "-2 0 0 3"}, {"G3 X10 I5 P2", "0 10 -5 5"}, {"G5.1 X10 Y0 I5 J5", "0 10 0 2.5"}, // a parabola's top is half its control point's
	} {
		s, err := Walk(strings.NewReader("G21 G90 G17 G0 X0 Y0 Z0\nF9 "+c.block+"\n"), Options{}, nil)
		if err != nil {
			t.Errorf("%s: %v", c.block, err)
			continue
		}
		x, y := s.Cut[0], s.Cut[1]
		if got := strings.Join([]string{short(x.Min), short(x.Max), short(y.Min), short(y.Max)}, " "); got != c.want {
			t.Errorf("%s reaches %s, want %s", c.block, got, c.want)
		}
	}
}
