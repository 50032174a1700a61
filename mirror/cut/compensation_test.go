package cut

import (
	"fmt"
	"math"
	"math/rand"
	"slices"
	"strings"
	"testing"
)

// centre gives the moves of a 6 mm cutter's centre in a face program, and what is found.
func centre(t *testing.T, text string) ([]Segment, []Finding) {
	t.Helper()
	q := plain()
	q.Face = Program{Name: "face.nc", Read: strings.NewReader("G21 G90 G17\nT1 M6\nS9000 M3\nF900\n" + text)}
	one := &cutter{Tool: q.Tools[0]}
	r := &run{q: &q, prog: &q.Face, f: faceFrame(q.FaceZero, q.FaceLevel, q.T, 0), first: one, tools: map[int]*cutter{1: one}}
	var way []Segment
	r.comp.hand = func(s *Segment) error {
		for i := range 3 {
			if !finite(s.From[i]) || !finite(s.To[i]) {
				t.Errorf("%d: from %v to %v", s.Line, s.From, s.To)
			}
		}
		if n := len(way); n > 0 && s.FromOK == known && len(r.found) == 0 {
			if a, b := way[n-1].To, s.From; way[n-1].ToOK == known && math.Abs(a[0]-b[0])+math.Abs(a[1]-b[1])+math.Abs(a[2]-b[2]) > 1e-9 {
				t.Errorf("%d: from %v, where the move before ended at %v", s.Line, b, a)
			}
		}
		way = append(way, *s)
		return nil
	}
	if err := r.one(); err != nil {
		t.Fatal(err)
	}
	for _, f := range r.found {
		_, n := r.where(f.At().FaceLine)
		f.At().FaceLine = n - 4
	}
	return way, r.found
}

// centreWay writes centre's moves: "F" for a feed move, "R" for a rapid, "L" and "A" for
// arcs to the left and right with the centre and whole turns; behind them the reasons
// that are found.
func centreWay(t *testing.T, text string) string {
	t.Helper()
	num := func(v float64) string {
		s := strings.TrimRight(strings.TrimRight(fmt.Sprintf("%.3f", v), "0"), ".")
		if s == "-0" {
			return "0"
		}
		return s
	}
	var b strings.Builder
	way, found := centre(t, text)
	for i := range way {
		s := &way[i]
		kind := "F"
		if s.Rapid {
			kind = "R"
		}
		if s.Arc {
			kind = "A"
			if s.CCW {
				kind = "L"
			}
		}
		fmt.Fprintf(&b, "%s%s,%s,%s", kind, num(s.To[0]), num(s.To[1]), num(s.To[2]))
		if s.Arc {
			fmt.Fprintf(&b, "@%s,%s", num(s.Centre[0]), num(s.Centre[1]))
			if g := s.arc(); math.Abs(g.sweep) > 2*math.Pi-1e-9 {
				fmt.Fprintf(&b, "x%s", num(math.Abs(g.sweep)/2/math.Pi))
			}
		}
		b.WriteByte(' ')
	}
	for _, f := range found {
		fmt.Fprintf(&b, "%s %d line %d ", f.Code(), f.object(), f.At().FaceLine)
	}
	return strings.TrimSpace(b.String())
}

// The way of the centre of a 6 mm cutter, by hand (derived; the rules are those of
// NISTIR 6556, 3.5.10 and appendix B). From X20 Y10 to a contour that begins at X20 Y20
// the tangent turns by asin(3/10), so that the first move ends at 20 -+ 3 cos(asin 0.3) =
// 20 -+ 2.862 and at 20 - 3*0.3 = 19.1.
func TestCentreWay(t *testing.T) {
	const start = "G0 X20 Y10 Z-1\n"
	const at = "R20,10,-1 "
	for _, c := range []struct{ name, text, want string }{
		{"none", "G1 X30\nY20\n", "F30,10,-1 F30,20,-1"},
		{"left, on along the tangent", "G41 D1 G1 Y20\nY30\nG40 X10\n",
			"F17.138,19.1,-1 A17,20,-1@20,20 F17,30,-1 F10,30,-1"},
		{"right, on along the tangent", "G42 D1 G1 Y20\nY30\nG40 X30\n",
			"F22.862,19.1,-1 L23,20,-1@20,20 F23,30,-1 F30,30,-1"},
		{"on against the contour, from the cutter's side", "G41 D1 G1 Y20\nX10\nG40 Y10\n",
			"F20,17,-1 F10,17,-1 F10,10,-1"},
		{"an inside corner", "G41 D1 G1 Y20\nX10\nY5\nG40 X15\n",
			"F20,17,-1 F13,17,-1 F13,5,-1 F15,5,-1"},
		{"an outside corner", "G42 D1 G1 Y20\nX10\nY5\nG40 X5\n",
			"F22.862,19.1,-1 L20,23,-1@20,20 F10,23,-1 L7,20,-1@10,20 F7,5,-1 F5,5,-1"},
		// Inside corner of 90 degrees between a chamfer: 45 degrees each, 3*tan(22.5) =
		// 1.243 off at both ends of each.
		{"two inside corners", "G41 D1 G1 Y20\nX10\nX6 Y16\nY5\nG40 X15\n",
			"F20,17,-1 F11.243,17,-1 F9,14.757,-1 F9,5,-1 F15,5,-1"},
		{"back the way it came", "G41 D1 G1 Y20\nY30\nY20\nG40 X30\n",
			"F17.138,19.1,-1 A17,20,-1@20,20 F17,30,-1 A23,30,-1@20,30 F23,20,-1 F30,20,-1"},
		{"an arc on its inside", "G41 D1 G1 X30\nG3 X30 Y30 J10\nG40 G1 X20\n",
			"F29.1,12.862,-1 A30,13,-1@30,10 L30,27,-1@30,20 F20,30,-1"},
		{"an arc on its outside", "G42 D1 G1 X30\nG3 X30 Y30 J10\nG40 G1 X20\n",
			"F29.1,7.138,-1 L30,7,-1@30,10 L30,33,-1@30,20 F20,30,-1"},
		{"an arc by radius", "G41 D1 G1 X30\nG3 X30 Y30 R10\nG40 G1 X20\n",
			"F29.1,12.862,-1 A30,13,-1@30,10 L30,27,-1@30,20 F20,30,-1"},
		{"a hole of 16 mm", "G41 D1 G1 X28\nG3 I-8\nG40 G1 X20\n", "F25,10,-1 L25,10,-1@20,10x1 F20,10,-1"},
		{"a boss of 10 mm", "G42 D1 G1 X28\nG3 I-5\nG40 G1 X40\n", "F26.875,7.219,-1 L31,10,-1@28,10 L31,10,-1@23,10x1 F40,10,-1"},
		{"three turns down a hole", "G41 D1 G1 X28\nG3 I-8 Z-4 P3\nG40 G1 X20\n", "F25,10,-1 L25,10,-4@20,10x3 F20,10,-4"},
		{"an arc of the cutter's radius", "G41 D1 G1 X20 Y20\nX13\nG3 X10 Y17 J-3\nG1 Y5\nG40 X15\n",
			"F20,17,-1 F13,17,-1 F13,5,-1 F15,5,-1"},
		// A circle of 10 round X30 Y20 passes X30 -+ 6, Y28. The offsets of a line there, X33
		// and X27, meet that of the arc, radius 7, at Y = 20 + sqrt(49-9) = 26.325.
		{"lines into an arc and out of it", "G41 D1 G1 X36 Y20\nY28\nG3 X24 I-6 J-8\nG1 Y20\nG40 X30\n",
			"F33,20,-1 F33,26.325,-1 L27,26.325,-1@30,20 F27,20,-1 F30,20,-1"},
		// Circles of 10 round X32 Y20 and X20 Y20 cross at X26 Y28, their offsets to the
		// outside, radius 13, at Y = 20 + sqrt(169-36) = 31.533.
		{"an arc into an arc", "G0 X50 Y10\nG42 D1 G1 X42 Y20\nG3 X26 Y28 I-10\nX10 Y20 I-6 J-8\nG40 G1 X5\n",
			"R50,10,-1 F45,20,-1 L26,31.533,-1@32,20 L7,20,-1@20,20 F5,20,-1"},
		{"an arc round a corner to an arc", "G0 X35 Y10\nG41 D1 G1 X42 Y20\nG3 X26 Y28 I-10\nX10 Y20 I-6 J-8\nG40 G1 X15\n",
			"R35,10,-1 F39,20,-1 L27.8,25.6,-1@32,20 A24.2,25.6,-1@26,28 L13,20,-1@20,20 F15,20,-1"},
		{"round a whole circle from its tangent", "G0 X60 Y10\nG41 D1 G1 X52 Y16\nX36 Y28\nG3 I-6 J-8\nG40 G1 X30 Y20\n",
			"R60,10,-1 F51.003,13.171,-1 A50.2,13.6,-1@52,16 F34.2,25.6,-1 L34.2,25.6,-1@30,20x1 F30,20,-1"},
		{"down and up between", "G41 D1 G1 Y20\nZ-2\nX10\nZ-3\nG4 P1\nZ-2\nY5\nG40\nG0 Z5\nX0 Y0\n",
			"F20,17,-1 F20,17,-2 F13,17,-2 F13,17,-3 F13,17,-2 F13,5,-2 R13,5,5 R0,0,5"},
		{"down before the outside corner", "G42 D1 G1 Y20\nX10\nZ-2\nY5\nG40 X5\n",
			"F22.862,19.1,-1 L20,23,-1@20,20 F10,23,-1 F10,23,-2 L7,20,-2@10,20 F7,5,-2 F5,5,-2"},
		{"on without a move", "G41 D1\nG1 Z-2\nY20\nX10\nG40 Y10\n", "F20,10,-2 F20,17,-2 F10,17,-2 F10,10,-2"},
		{"leads alone", "G41 D1 G1 Y20\nG40 X10\n", "F17.138,19.1,-1 F10,20,-1"},
		{"off at the end", "G41 D1 G1 Y20\nX10\nM2\n", "F20,17,-1 F10,17,-1"},
		{"never off", "G41 D1 G1 Y20\nX10\n", "F20,17,-1 F10,17,-1"},
		{"rapids", "G0 G41 D1 Y20\nX10\nG40 Y10\n", "R20,17,-1 R10,17,-1 R10,10,-1"},
		{"D0", "G41 D0 G1 Y20\nX10\nG40 Y10\n", "F20,20,-1 F10,20,-1 F10,10,-1"},
		{"no D", "G41 G1 Y20\nX10\nG40 Y10\n", "F20,17,-1 F10,17,-1 F10,10,-1"},
		{"a diameter", "G41.1 D4 G1 Y20\nX10\nG40 Y10\n", "F20,18,-1 F10,18,-1 F10,10,-1"},
		{"a diameter in inches", "G20\nG41.1 D0.2 G1 Y1\nX0.2\nG40 Y0.5\n", "F20,22.86,-1 F5.08,22.86,-1 F5.08,12.7,-1"},
		{"a diameter below 0", "G42.1 D-4 G1 Y20\nX10\nG40 Y10\n", "F20,18,-1 F10,18,-1 F10,10,-1"},
		{"another number", "G41 D31 G1 Y20\nX10\nG40 Y10\n", "F20,17,-1 F10,17,-1 F10,10,-1"},
		{"a rounding between two moves", "G41 D1 G1 Y20\nX10\nX9.999 Y20.001\nX0\nG40 Y10\n", "F20,17,-1 F10,17,-1 F9.999,17.001,-1 F0,17.001,-1 F0,10,-1"},

		{"a first move shorter than the radius", "G41 D1 G1 Y12\nX10\nG40 Y5\n", "F20,9,-1 F10,9,-1 F10,5,-1 compensated 1 line 2"},
		{"first an arc", "G41 D1 G3 Y20 J5\nG1 X10\nG40 Y5\n", "L20,20,-1@20,15 F10,20,-1 F10,5,-1 compensated 2 line 2"},
		{"an arc after it", "G41 D1 G1 Y20\nX10\nG40 G3 Y10 J-5\n", "F20,17,-1 F10,17,-1 L10,10,-1@10,15 compensated 2 line 4"},
		{"an inside corner too tight", "G41 D1 G1 Y20\nX10\nY18\nX0\nG40 Y5\n",
			"F20,17,-1 F10,17,-1 F13,20,-1 F13,18,-1 A10,15,-1@10,18 F0,15,-1 F0,5,-1 compensated 0 line 4"},
		{"a hole of 4 mm", "G41 D1 G1 X24\nG3 I-2\nG40 G1 X20\n", "F22,10,-1 F20,10,-1 compensated 0 line 3"},
		{"an arc too tight", "G41 D1 G1 Y20\nX12\nG3 X10 Y18 J-2\nG1 Y5\nG40 X20\n",
			"F20,17,-1 F12,17,-1 F12,18,-1 F13,18,-1 F13,5,-1 F20,5,-1 compensated 0 line 4"},
		{"another plane", "G41 D1 G1 Y20\nX10\nG18 G1 X5\nG40 Y5\n", "F20,17,-1 F10,17,-1 F5,20,-1 F5,5,-1 compensated 3 line 4"},
		{"no diameter", "G41.1 G1 Y20\nX10\nG40 Y5\n", "F20,20,-1 F10,20,-1 F10,5,-1 compensated 4 line 2"},
		{"half a number", "G41 D1.5 G1 Y20\nX10\nG40 Y5\n", "F20,20,-1 F10,20,-1 F10,5,-1 compensated 4 line 2"},
		{"the other side", "G41 D1 G1 Y20\nX10\nG42 Y30\nG40 Y5\n", "F20,17,-1 F10,17,-1 F10,30,-1 F10,5,-1 compensated 5 line 4"},
		{"another D", "G41 D1 G1 Y20\nX10\nD0 Y30\nG40 Y5\n", "F20,17,-1 F10,17,-1 F10,30,-1 F10,5,-1 compensated 5 line 4"},
		{"a cycle", "G41 D1 G1 Y20\nX10\nG81 X5 Z-2 R1\nG40 G1 Y5\n", "F20,17,-1 F10,17,-1 R10,20,1 R5,20,1 F5,20,-2 R5,20,1 F5,5,1 compensated 6 line 4"},
		{"machine coordinates", "G41 D1 G1 Y20\nX10\nG53 G0 Z0\nG40 G1 Y5\n", "F20,17,-1 F10,17,-1 R10,20,0 F10,5,-1 compensated 6 line 4"},
		{"a shift of the zero", "G41 D1 G1 Y20\nX10\nG92 X0\nX5\nG40 G1 Y5\n", "F20,17,-1 F10,17,-1 F15,20,-1 F15,5,-1 compensated 6 line 5"},
		{"another zero", "G41 D1 G1 Y20\nX10\nG55\nG1 X5\nG40 G1 Y5\n", "F20,17,-1 F10,17,-1 F5,20,-1 F5,5,-1 compensated 6 line 5"},
	} {
		if got := centreWay(t, start+c.text); strings.TrimPrefix(got, at) != c.want {
			t.Errorf("%s:\ngot  %s\nwant %s", c.name, strings.TrimPrefix(got, at), c.want)
		}
	}
	// From a place that isn't known the first move goes beside the start of the next.
	if got, want := centreWay(t, "G0 G41 D1 X20 Y20 Z-1\nG1 X10\nG40 Y10\n"), "R20,17,-1 F10,17,-1 F10,10,-1"; got != want {
		t.Errorf("from an unknown place: %s, want %s", got, want)
	}
	if got, want := centreWay(t, "G91 G41 D1 G1 X20\nX10\n"), "compensated 7 line 1"; !strings.HasSuffix(got, want) {
		t.Errorf("to an unknown place: %s, want %s", got, want)
	}
}

// A way R outside a convex polygon is longer by a whole turn, 2 pi R; one inside is shorter
// by 2 R tan(w/2) at each corner that turns by w (derived), where every edge is long
// enough for it.
func TestCompensatedPolygons(t *testing.T) {
	const R = 3
	random := rand.New(rand.NewSource(8))
	inside := 0
	for n := range 300 {
		var at []float64
		for range 3 + n%6 {
			at = append(at, 2*math.Pi*random.Float64())
		}
		slices.Sort(at)
		var p [][2]float64
		for _, a := range at {
			p = append(p, [2]float64{math.Round(40e3*math.Cos(a)) / 1e3, math.Round(40e3*math.Sin(a)) / 1e3})
		}
		k := len(p)
		edge := func(i int) [2]float64 { return minus(p[(i+1)%k], p[i%k]) }
		turn := func(i int) float64 { // at the end of edge i
			a, b := edge(i), edge(i+1)
			return math.Atan2(cross(a, b), dot(a, b))
		}
		length, cut, fits := 0.0, 0.0, true
		for i := range k {
			l, before, after := math.Hypot(edge(i)[0], edge(i)[1]), R*math.Tan(turn(i+k-1)/2), R*math.Tan(turn(i)/2)
			if i == 0 { // begins in its middle
				fits = fits && max(before, after) < l/2
			}
			length, cut, fits = length+l, cut+2*after, fits && before+after < l
		}
		// Counter-clockwise from the middle of the first edge and back to it, to a
		// micrometre; from and to the same place 12 mm to the cutter's side.
		m := along(p[0], edge(0), 0.5)
		out := leftOf(edge(0))
		l := math.Hypot(out[0], out[1])
		for _, c := range []struct {
			code string
			side float64
			want float64
		}{{"G41", 1, length - cut}, {"G42", -1, length + 2*math.Pi*R}} {
			if c.side > 0 && !fits {
				continue
			}
			from := along(m, out, 12*c.side/l)
			text := fmt.Sprintf("G0 X%.6f Y%.6f Z-1\n%s D1 G1 X%.6f Y%.6f\n", from[0], from[1], c.code, m[0], m[1])
			for i := range k {
				text += fmt.Sprintf("X%.3f Y%.3f\n", p[(i+1)%k][0], p[(i+1)%k][1])
			}
			way, found := centre(t, text+fmt.Sprintf("X%.6f Y%.6f\n", m[0], m[1]))
			if len(found) > 0 {
				t.Errorf("%s: %+v", text, found)
				continue
			}
			got := 0.0
			for _, s := range way[2:] {
				if s.Arc {
					g := s.arc()
					got += g.r0 * math.Abs(g.sweep)
				} else {
					got += apart(plan(s.From), plan(s.To))
				}
			}
			if math.Abs(got-c.want) > 1e-4 {
				t.Errorf("%s: %.6f long, want %.6f", text, got, c.want)
			}
			if c.side > 0 {
				inside++
			}
		}
	}
	if inside < 50 {
		t.Errorf("%d from the inside", inside)
	}
}

// A whole circle entered along its tangent from any side, to a micrometre or as near as
// numbers go, stays a whole turn but for what that takes.
func TestCompensatedTurns(t *testing.T) {
	random := rand.New(rand.NewSource(10))
	for n := range 400 {
		places := 3 + 6*(n%2)
		sin, cos := math.Sincos(2 * math.Pi * random.Float64())
		x, y := 50+10*cos, 30+10*sin
		code := "G41"
		if n%3 == 0 {
			code = "G42"
		}
		text := fmt.Sprintf("G0 X%.*f Y%.*f Z-1\n%s D1 G1 X%.*f Y%.*f\nX%.*f Y%.*f\nG3 I%.*f J%.*f\n", places, x+12*sin, places, y-12*cos, code,
			places, x+4*sin, places, y-4*cos, places, x, places, y, places, -10*cos, places, -10*sin)
		way, found := centre(t, text)
		last := way[len(way)-1]
		if g := last.arc(); len(found) > 0 || !last.Arc || math.Abs(g.sweep-2*math.Pi) > 1e-3 {
			t.Fatalf("%s: %+v, %+v", text, last, found)
		}
	}
}

// Whatever is thrown together is followed or told, and stays finite and unbroken.
func TestCompensatedAnything(t *testing.T) {
	random := rand.New(rand.NewSource(9))
	told := 0
	for range 500 {
		x, y := 50.0, 30.0
		text := fmt.Sprintf("G0 X50 Y30 Z-1\nG4%d D1 G1 F900\n", 1+random.Intn(2))
		for range 2 + random.Intn(8) {
			nx, ny := math.Round(100*random.Float64()), math.Round(60*random.Float64())
			switch random.Intn(6) {
			case 0:
				text += fmt.Sprintf("G%d X%g Y%g R%g\n", 2+random.Intn(2), nx, ny, math.Ceil(math.Hypot(nx-x, ny-y)/2)+1)
			case 1:
				text += fmt.Sprintf("G%d I%g\n", 2+random.Intn(2), 1+math.Round(9*random.Float64()))
				nx, ny = x, y
			case 2:
				text += fmt.Sprintf("G1 Z%g\n", -1-random.Float64())
				nx, ny = x, y
			default:
				text += fmt.Sprintf("G1 X%g Y%g\n", nx, ny)
			}
			x, y = nx, ny
		}
		if _, found := centre(t, text+"G40 G1 X50 Y30\n"); len(found) > 0 {
			told++
		}
		if t.Failed() {
			t.Fatal(text)
		}
	}
	if told == 0 || told == 500 {
		t.Errorf("%d told", told)
	}
}

// NISTIR 6556, tables 12 and 13: the contour of the material's edge, cut by a tool of
// diameter 1 under G41, and the same way written for the tool's centre. Only the first
// straight move isn't the same there: it ends on the tangent and rolls on.
func TestContoursOfTables12And13(t *testing.T) {
	edge := centreWay(t, "G0 X1 Y5 Z-1\nG41.1 D1 G1 Y4\nG3 X2 Y3 I1\nG2 X3 Y2 J-1\nG1 Y-1\nG2 X2 Y-2 I-1\nG1 X-2\nG2 X-2.6 Y-0.2 J1\nG1 X1.4 Y2.8\nG2 X2 Y3 I0.6 J-0.8\nG40\n")
	centre := centreWay(t, "G0 X1.5 Y5 Z-1\nG1 Y4\nG3 X2 Y3.5 I0.5\nG2 X3.5 Y2 J-1.5\nG1 Y-1\nG2 X2 Y-2.5 I-1.5\nG1 X-2\nG2 X-2.9 Y0.2 J1.5\nG1 X1.1 Y3.2\nG2 X2 Y3.5 I0.9 J-1.2\n")
	// 4 + 0.5*0.5 and 1 + 0.5*cos(30).
	first := "R1,5,-1 F1.433,4.25,-1 A1.5,4,-1@1,4 "
	if want := first + strings.TrimPrefix(centre, "R1.5,5,-1 F1.5,4,-1 "); edge != want {
		t.Errorf("got  %s\nwant %s", edge, want)
	}
}

// led wraps a contour that begins at X50: led in and out over the work.
func led(comp, from, y, contour string) string {
	return "G21 G90 G17\nT1 M6\nS9000 M3\nG0 Z5\nX50 Y" + from + "\n" + comp + " D1 Y" + y + "\nG1 Z-2 F300\n" + contour + "\nG0 Z5\nG40 Y" + from + "\nM30\n"
}

// What a compensated contour leaves cut: derived from plane geometry, with R = 3.
func TestCompensatedContours(t *testing.T) {
	ring := func(r, R float64) float64 { return math.Pi * (R*R - r*r) }
	// A square of 40 x 20 grown by 2R with corners of radius 2R, less the square.
	outside := 2*(40+20)*6 + math.Pi*36
	// The square with corners of radius R, less what is left in the middle: 28 x 8.
	inside := 40*20 - (4-math.Pi)*9 - 28*8
	for _, c := range []struct {
		name, text string
		area       float64
	}{
		{"outside a square, left", led("G41", "10", "20", "X30\nY40\nX70\nY20\nX50"), outside},
		{"outside a square, right", led("G42", "10", "20", "X70\nY40\nX30\nY20\nX50"), outside},
		{"inside a square, left", led("G41", "30", "20", "X70\nY40\nX30\nY20\nX50"), inside},
		{"inside a square, right", led("G42", "30", "20", "X30\nY40\nX70\nY20\nX50"), inside},
		{"inside a circle, left", led("G41", "30", "20", "G3 J10"), ring(4, 10)},
		{"inside a circle, right", led("G42", "30", "20", "G2 J10"), ring(4, 10)},
		{"outside a circle, left", led("G41", "10", "20", "G2 J10"), ring(10, 16)},
		{"outside a circle, right", led("G42", "10", "20", "G3 J10"), ring(10, 16)},
		{"inside a circle, by quarters", led("G41", "30", "20", "G3 X60 Y30 R10\nX50 Y40 R10\nX40 Y30 R10\nX50 Y20 R10"), ring(4, 10)},
		{"inside a square with round corners of the cutter's radius", led("G41", "30", "20",
			"X67\nG3 X70 Y23 J3\nG1 Y37\nG3 X67 Y40 I-3\nG1 X33\nG3 X30 Y37 J-3\nG1 Y23\nG3 X33 Y20 I3\nG1 X50"), inside},
	} {
		q := plain()
		q.Cell = 0.1
		q.Face = Program{Name: "face.nc", Read: strings.NewReader(c.text)}
		r, err := Check(q)
		if err != nil {
			t.Fatal(err)
		}
		if !r.OK() {
			t.Errorf("%s: %+v", c.name, r.Findings)
		}
		near(t, c.name, cutArea(r.Grid), c.area, 0.003*c.area)
		if len(r.Comp) != 1 || r.Comp[0] != (CompUse{Side: Face, By: 1, D: 1, Tool: 1, Of: 1, Radius: 3, File: "face.nc", Line: 6}) {
			t.Errorf("%s: %+v", c.name, r.Comp)
		}
	}
}

// A back program whose coordinates, sides and arcs are those of the face turned over
// cuts the same places from behind, about either axis.
func TestCompensatedBack(t *testing.T) {
	face := led("G41", "10", "18", "X30\nY25\nG2 X30 Y35 J5\nG1 Y40\nX62\nX72 Y18\nX50")
	for flip, back := range map[string]string{
		"y": led("G42", "10", "18", "X70\nY25\nG3 X70 Y35 J5\nG1 Y40\nX38\nX28 Y18\nX50"),
		"x": led("G42", "50", "42", "X30\nY35\nG3 X30 Y25 J-5\nG1 Y20\nX62\nX72 Y42\nX50"),
	} {
		for _, wrong := range []bool{false, true} {
			text := back
			if wrong {
				text = strings.Replace(back, "G42", "G41", 1)
			}
			q := plain()
			q.Map = turned(flip, 100, 60)
			q.Face = Program{Name: "face.nc", Read: strings.NewReader(face)}
			q.Back = Program{Name: "back.nc", Read: strings.NewReader(text)}
			r, err := Check(q)
			if err != nil {
				t.Fatal(err)
			}
			n := 0
			for j := range r.Grid.NY {
				for i := range r.Grid.NX {
					if (r.Grid.depth(faceSide, i, j) < 0) != (r.Grid.depth(backSide, i, j) < 0) {
						n++
					}
				}
			}
			if wrong != (n > 1000) || !wrong && n > 10 {
				t.Errorf("flip %s, wrong side %v: %d cells differ", flip, wrong, n)
			}
		}
	}
}

// The contour runs 6 mm from a pin of 5 mm, clear of it; the centre of the 6 mm cutter
// runs 3 mm nearer, so that it cuts 3 + 2.5 - 3 = 2.5 mm into it, 4 mm deep.
func TestCompensatedIntoPin(t *testing.T) {
	const text = "G21 G90 G17\nT1 M6\nS10000 M3\nG0 Z5\nG0 X20 Y20\nG1 Z-4 F300\nG42 D1 G1 X25 Y11\nG1 X80\nG40 G1 X85 Y20\nG0 Z5\nM30\n"
	q := plain()
	q.Pins = []Pin{{X: 50, Y: 5, Dia: 5}}
	q.Face = Program{Name: "face.nc", Read: strings.NewReader(text)}
	r, err := Check(q)
	if err != nil || codes(r) != "pin-cut bore-broken" {
		t.Fatal(err, codes(r))
	}
	f := of[*PinCut](r)[0]
	near(t, "into the pin", f.Into, 2.5, 1e-9)
	near(t, "deep", f.Depth, 4, 1e-9)
	if f.FaceLine != 8 {
		t.Errorf("line %d, want 8", f.FaceLine)
	}
	// To the other side it stays clear, and so it does turned over on the back.
	q.Face.Read = strings.NewReader(strings.Replace(text, "G42", "G41", 1))
	q.Back = Program{Name: "back.nc", Read: strings.NewReader(strings.NewReplacer("G42", "G42", "X20", "X80", "X25", "X75", "X80", "X20", "X85", "X15").Replace(text))}
	if r, err := Check(q); err != nil || slices.ContainsFunc(r.Findings, Hit) {
		t.Error(err, r.Findings)
	}
	// On the back the same way round is G41.
	q.Face.Read = strings.NewReader("G0 Z5\nM30\n")
	q.Back.Read = strings.NewReader(strings.NewReplacer("G42", "G41", "X20", "X80", "X25", "X75", "X80", "X20", "X85", "X15").Replace(text))
	if f := only[*PinCut](t, q); f.BackLine != 8 || math.Abs(f.Into-2.5) > 1e-9 {
		t.Errorf("%+v", f)
	}
}

// The reach on the machine is that of the cutter's centre.
func TestCompensatedTravel(t *testing.T) {
	q := plain()
	q.Zeros[faceSide] = &Zero{ZKnown: true}
	q.Travel = &Travel{Least: [3]float64{0, 15, -20}, Greatest: [3]float64{100, 100, 20}}
	q.Face = Program{Name: "face.nc", Read: strings.NewReader(led("G41", "30", "20", "X30\nY40\nX70\nY20\nX50"))}
	r, err := Check(q)
	if err != nil {
		t.Fatal(err)
	}
	for _, a := range r.Travel {
		if a.Axis == 1 && a.Side == Face {
			near(t, "under least Y 17", a.LeftLow, 17-15, 1e-9)
			near(t, "over greatest Y 43", a.LeftHigh, 100-43, 1e-9)
		}
	}
	if len(r.Travel) == 0 {
		t.Error("no travel")
	}
}
