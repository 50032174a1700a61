package motion

import (
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"flipcalc/mirror/fault"
	"flipcalc/mirror/transform"
)

// program reads one of the real programs that may lie beside the repository.
func program(t testing.TB, name string) *os.File {
	t.Helper()
	dir := os.Getenv("FLIPCALC_PROGRAMS")
	if dir == "" {
		dir = filepath.Join("..", "..", "..", "shared", "programs")
	}
	f, err := os.Open(filepath.Join(dir, name))
	if err != nil {
		t.Skip("real programs aren't here: ", err)
	}
	t.Cleanup(func() { f.Close() })
	return f
}

// path writes moves as "r 1,2,3" for rapid, "f" for feed, "cw", "ccw"; "?" for
// what isn't known.
func path(t testing.TB, o Options, text string) []string {
	t.Helper()
	var out []string
	_, err := Walk(strings.NewReader(text), o, func(m *Move) error {
		out = append(out, show(m))
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func show(m *Move) string {
	s := [...]string{"r ", "f ", "cw ", "ccw ", "s "}[m.Kind]
	if m.Machine {
		s = "machine " + s
	}
	if m.Home {
		s = "home " + s
	}
	for i := range 3 {
		if i > 0 {
			s += ","
		}
		if m.ToOK[i] {
			s += strings.TrimPrefix(m.To[i].String(), "~")
		} else {
			s += "?"
		}
	}
	if m.Circular() && !m.ByRadius {
		s += fmt.Sprintf(" c %s,%s", m.Centre[0], m.Centre[1])
		if !m.CentreOK[0] || !m.CentreOK[1] {
			s += " from its start"
		}
	}
	return s
}

func same(t *testing.T, got []string, want ...string) {
	t.Helper()
	if strings.Join(got, "; ") != strings.Join(want, "; ") {
		t.Errorf("got\n\t%s\nwant\n\t%s", strings.Join(got, "\n\t"), strings.Join(want, "\n\t"))
	}
}

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if math.Abs(got-want) > tol {
		t.Errorf("%s: got %.6f, want %.6f", what, got, want)
	}
}

// TestEngraving walks two engraved words, where they are at hand. Totals derived from
// the coordinates: start at 0,0,0, straight rapids, feed along the arcs, F20.
func TestEngraving(t *testing.T) {
	text := "g90 g92 x0 y0 z0\n"
	fast := [3]float64{math.Inf(1), math.Inf(1), math.Inf(1)}
	for _, start := range []string{text, ""} {
		f := program(t, "nist-c1.ngc")
		data := new(strings.Builder)
		data.WriteString(start)
		if _, err := f.WriteTo(data); err != nil {
			t.Fatal(err)
		}
		s, err := Walk(strings.NewReader(data.String()), Options{Rates: &Rates{fast, fast}}, nil)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "feed length", s.CutLength, 183.4305, 0.0001)
		near(t, "minutes at F20 without ramps", s.Seconds/60, 9.1715, 0.0001)
		if start == "" {
			// The first rapid comes from a place that the program doesn't say.
			near(t, "rapid length", s.RapidLength, 252.0528-50, 0.0001)
		} else {
			near(t, "rapid length", s.RapidLength, 252.0528, 0.0001)
		}
		for i, want := range [3][2]float64{{0, 81}, {0, 10}, {-0.5, 50}} {
			if e := s.All[i]; e.Min != want[0] || e.Max != want[1] {
				t.Errorf("extent along %c: got %v to %v, want %v", axisLetters[i], e.Min, e.Max, want)
			}
		}
		if s.Deepest != 0.5 || s.Rapids != 0 {
			t.Errorf("deepest %v, want 0.5; low rapids %d, want 0", s.Deepest, s.Rapids)
		}
		if len(s.Tools) == 0 || s.Tools[len(s.Tools)-1].Number != 1 || len(s.Spindles) != 1 || s.Spindles[0] != 1 {
			t.Errorf("tools %v spindles %v, want T1 and M3", s.Tools, s.Spindles)
		}
	}
}

// TestArcsOfTheStandard checks the five arcs of NISTIR 6556, appendix C.1, each with
// the blocks that lead to it: centre, radius, sweep and length derived from its words.
func TestArcsOfTheStandard(t *testing.T) {
	for _, c := range []struct {
		name, start, block string
		centre             [2]float64
		radius             float64
		degree             float64
		length             float64
	}{
		{"e", "x16 y2.5", "n0190 g3 x13.5 y0 i-2.5", [2]float64{13.5, 2.5}, 2.5, 270, 11.7810},
		{"o", "x32.5 y0", "n0320 g2 x32.5 j2.5", [2]float64{32.5, 2.5}, 2.5, -360, 15.7080},
		{"o of the second word", "x57.5 y0", "n0430 g2 x57.5 j2.5", [2]float64{57.5, 2.5}, 2.5, -360, 15.7080},
		{"r", "x64 y4", "n0490 g2 x69 r4", [2]float64{66.5, 0.8775}, 4, -77.364, 5.4011},
		{"d", "x79.5 y0", "n0590 g2 j2.5 y5", [2]float64{79.5, 2.5}, 2.5, -180, 7.8540},
	} {
		arcs := 0
		_, err := Walk(strings.NewReader("g21 g0 "+c.start+" z-0.5\n"+c.block+" f20\nm2\n"), Options{}, func(m *Move) error {
			if !m.Circular() {
				return nil
			}
			arcs++
			at, r, sweep, ok := m.Arc()
			l, _ := m.Length()
			if !ok {
				t.Errorf("%s isn't known", c.name)
			}
			near(t, "centre x of "+c.name, at[0], c.centre[0], 0.0001)
			near(t, "centre y of "+c.name, at[1], c.centre[1], 0.0001)
			near(t, "radius of "+c.name, r, c.radius, 1e-9)
			near(t, "sweep of "+c.name, sweep*180/math.Pi, c.degree, 0.001)
			near(t, "length of "+c.name, l, c.length, 0.0001)
			return nil
		})
		if err != nil || arcs != 1 {
			t.Errorf("%s: %v, %d arcs", c.name, err, arcs)
		}
	}
}

// TestHoles finds holes of NISTIR 6556, appendix C.3 (XY part). Places derived from the
// rules of 3.5.16: words stay, L repeats, and G91 stays on from n0135.
func TestHoles(t *testing.T) {
	const start = "g20\ng17 g43 h1 m3 s1234 f16\n"
	for _, c := range []struct{ blocks, want string }{
		{"g81 x3 y4 r0.2 z-1.1\nx1 y0 r0 g91 l3\ny-2 r0.1\n", "G81 3,4 4,4 5,4 6,4 6,2"},                                                         // n0030 to n0050
		{"g82 g90 x4 y5 r0.2 z-1.1 p0.6\nx2 z-3.0\ng91 x-2 y2 r0 l4\n", "G82 4,5 2,5 0,7 -2,9 -4,11 -6,13"},                                      // n0060 to n0080
		{"g83 g90 x5 y6 r0.2 z-1.1 q0.21\ng84 x6 y7 r0.2 z-1.1\ng85 x7 y8 r0.2 z-1.1\n", "G83 5,6 G84 6,7 G85 7,8"},                              // n0090 to n0110
		{"g87 x9 y10 r0.2 z-1.1 i0.231 j-0 k-3\ng91 x1 r0.2 z-1.1 i0.231 j-0 k-3\ng88 x10 y11 r0.2 z-1.1 p0.3333\n", "G87 9,10 10,10 G88 20,21"}, // n0130 to n0140
	} {
		got := ""
		cycle, last := 0, ""
		_, err := Walk(strings.NewReader(start+c.blocks+"m2\n"), Options{}, func(m *Move) error {
			if m.Kind != Feed {
				return nil
			}
			if m.Cycle != cycle {
				cycle = m.Cycle
				got += " " + CodeName('G', cycle)
			}
			if at := m.To[0].String() + "," + m.To[1].String(); at != last {
				got += " " + at
				last = at
			}
			return nil
		})
		if got = strings.TrimSpace(got); err != nil || got != c.want {
			t.Errorf("%v, got %s, want %s", err, got, c.want)
		}
	}
}

// TestCycles: the worked examples of NISTIR 6556, 3.5.16.4, and its table 10 (tool
// length of slot 2: 1.0).
func TestCycles(t *testing.T) {
	start := "g21 g90 g0 x1 y2 z3\n"
	same(t, path(t, Options{}, start+"G90 G81 G98 X4 Y5 Z1.5 R2.8")[1:],
		"r 4,5,3", "r 4,5,2.8", "f 4,5,1.5", "r 4,5,3")
	same(t, path(t, Options{}, start+"G91 G81 G98 X4 Y5 Z-0.6 R1.8 L3")[1:],
		"r 1,2,4.8",
		"r 5,7,4.8", "f 5,7,4.2", "r 5,7,4.8",
		"r 9,12,4.8", "f 9,12,4.2", "r 9,12,4.8",
		"r 13,17,4.8", "f 13,17,4.2", "r 13,17,4.8")
	table10 := "g21 g90 g92 x0 y0 z0\ng1 x3 y1 f20.0\ng2 x0 r 7.01 z0.5\nt2\nm6 g43 h2\ng1 x30\n" +
		"g91 g81 x3 y2 z-0.8 r1.5 l2"
	same(t, path(t, Options{Lengths: map[int]Num{2: FromInt(1)}}, table10),
		"f 3,1,0", "cw 0,1,0.5", "f 30,1,-0.5",
		"r 30,1,1", "r 33,3,1", "f 33,3,0.2", "r 33,3,1", "r 36,5,1", "f 36,5,0.2", "r 36,5,1")
}

// TestMoves: rules of NISTIR 6556 where a section is named.
func TestMoves(t *testing.T) {
	mm := "g21 g90 "
	tests := []struct{ name, text, want string }{
		{"blanks inside numbers (3.1)", mm + "g0x0 z0 y0\ng0x +0. 12 34y 7", "r 0,0,0; r 0.1234,7,0"},
		{"modal order: units before the move (table 8)", "g21 g90 g0 x1 y0 z0\nx1 g20", "r 1,0,0; r 1,0,0"},
		{"modal order: distance before the move", mm + "g0 x1 y1 z1\nx1 g91", "r 1,1,1; r 2,1,1"},
		{"distance mode stays", mm + "g0 x1 y1 z1\nx1 g91\nx1\ng90 x1", "r 1,1,1; r 2,1,1; r 3,1,1; r 1,1,1"},
		{"motion last on the line", mm + "g0 x1 y1 z1\nz0.3 g01 f5", "r 1,1,1; f 1,1,0.3"},
		// Levels count as they were given (common practice; NISTIR 6556, 3.5.16, counts the kept
		// number in the mode in force).
		{"levels of G90 under G91", mm + "g0 x1 y1 z9\ng99 g81 x1 r2 z-1\ng91 x3", "r 1,1,9; r 1,1,2; f 1,1,-1; r 1,1,2; r 4,1,2; f 4,1,-1; r 4,1,2"},
		{"the depth alone", mm + "g0 x1 y1 z9\ng81 x1 r2 z-1\ng91 x3 r-5", "r 1,1,9; r 1,1,2; f 1,1,-1; r 1,1,9; r 4,1,9; r 4,1,4; f 4,1,-1; r 4,1,9"},
		{"levels of G91 under G90", mm + "g0 x1 y1 z9\ng91 g81 x1 r-5 z-6\ng90 x7", "r 1,1,9; r 2,1,9; r 2,1,4; f 2,1,-2; r 2,1,9; r 7,1,9; r 7,1,4; f 7,1,-2; r 7,1,9"},
		{"start isn't known", mm + "g0 x1\ny2", "r 1,?,?; r 1,2,?"},
		{"arc by centre (3.5.3.2)", mm + "g0 x7 y7 z0\nG17 G2 x10 y16 i3 j4 z9", "r 7,7,0; cw 10,16,9 c 10,11"},
		{"arc carried on", mm + "g0 x0 y0 z0\ng3 x2 i1\nx0 i-1", "r 0,0,0; ccw 2,0,0 c 1,0; ccw 0,0,0 c 1,0"},
		{"absolute centres", mm + "g90.1 g0 x0 y0 z0\ng3 x2 i1 j0\nx0 i1 j0", "r 0,0,0; ccw 2,0,0 c 1,0; ccw 0,0,0 c 1,0"},
		{"arc in XZ: first axis Z (3.5.3)", mm + "g0 x0 y0 z0\ng18 g2 x2 i1 k0", "r 0,0,0; cw 2,0,0 c 0,1"},
		{"G92 (3.5.18): 4 is called 7, then 9", mm + "g0 x4 y0 z0\ng92 x7\nx7\ng92 x9\nx9\ng92.1\nx4",
			"r 4,0,0; r 7,0,0; r 9,0,0; r 4,0,0"},
		{"G92.2 and G92.3", mm + "g0 x4 y0 z0\ng92 x7\ng92.2\ng91 x0\ng92.3\nx0", "r 4,0,0; r 4,0,0; r 7,0,0"},
		{"G52 moves the zero", mm + "g0 x4 y0 z0\ng52 x1\ng91 x0\ng52 x0\nx0", "r 4,0,0; r 3,0,0; r 4,0,0"},
		{"G28 through a point", mm + "g0 x4 y0 z0\ng28 x5\ny2", "r 4,0,0; r 5,0,0; home r ?,?,?; r ?,2,?"},
		{"G28 alone", mm + "g0 x4 y0 z0\ng28", "r 4,0,0; home r ?,?,?"},
		{"G53", mm + "g0 x4 y0 z0\ng53 z0\nx5", "r 4,0,0; machine r ?,?,0; r 5,0,?"},
		{"another work offset", mm + "g54 g0 x4 y0 z0\ng55 x4", "r 4,0,0; r 4,?,?"},
		{"block delete, switch off", mm + "g0 x4 y0 z0\n/x5", "r 4,0,0; r 5,0,0"},
		{"inch to mm", "g20 g90 g0 x1 y1 z1\ng21 g91 x0", "r 1,1,1; r 25.4,25.4,25.4"},
		{"mm to inch, not finite", "g21 g90 g0 x1 y25.4 z0\ng20 g91 x0", "r 1,25.4,0; r 0.03937007874,1,0"},
		{"17 decimals", mm + "g0 x0.12345678901234567 y0 z0", "r 0.12345678901234567,0,0"},
		{"lower case, tabs, comments", mm + "(x9) g0\tx1 (y8) y2 z0 ; z9", "r 1,2,0"},
		{"% and text after it", "%\n" + mm + "g0 x1 y2 z0\n%\nthis is no block", "r 1,2,0"},
		{"CR LF", mm + "g0 x1 y2 z0\r\nx2\r\n", "r 1,2,0; r 2,2,0"},
		{"block number", "N10 " + mm + "g0 x1 y2 z0\nn20x2", "r 1,2,0; r 2,2,0"},
		{"minus zero", mm + "g0 x-0. y-03 z+0", "r 0,-3,0"},
		{"canned cycle ends with G80", mm + "g0 x1 y1 z5\ng81 x1 y1 z-1 r2\ng80\ng0 x3",
			"r 1,1,5; r 1,1,2; f 1,1,-1; r 1,1,5; r 3,1,5"},
		{"G80 beside G0", mm + "g0 x1 y1 z5\ng81 x1 y1 z-1 r2\ng80 g0 x3", "r 1,1,5; r 1,1,2; f 1,1,-1; r 1,1,5; r 3,1,5"},
		{"% and a program number", "% O12 (marker)\n" + mm + "g0 x1 y2 z0\n%", "r 1,2,0"},
		{"G80 and G0 in a safe line", "g00 g17 g21 g40 g49 g80 g90\nx1 y2 z3\n", "r 1,2,3"},
		{"G50 alone turns scaling off", "g17 g21 g40 g50 g90\ng0 x1 y2 z3\n", "r 1,2,3"},
		{"look-ahead moves nothing and leaves the motion", mm + "g0 x0 y0 z0\ng1 x1 f9\ng5.1 q1\nx2\ng05 p10000\nx3\ng8 p1 x4\n", "r 0,0,0; f 1,0,0; f 2,0,0; f 3,0,0; f 4,0,0"},
		{"clamps, orientation and outputs", mm + "m19 m10\nm29 s500 m64 p1\ng0 x1 y2 z3 m11\n", "r 1,2,3"},
		{"L0 keeps a cycle's words", mm + "g0 x0 y0 z5\ng99 g81 x1 y1 z-1 r2 l0\nx2\n", "r 0,0,5; r 1,1,5; r 2,1,5; r 2,1,2; f 2,1,-1; r 2,1,2"},
		{"nothing runs after ^Z", mm + "g0 x1 y2 z3\n\x1a\nx\n", "r 1,2,3"},
		{"nothing runs after ^Z behind words", mm + "g0 x1 y2 z3\x1ax\nx\n", "r 1,2,3"},
		{"nothing runs after ^Z behind %", "%\n" + mm + "g0 x1 y2 z3\n%\x1a\nx\n", "r 1,2,3"},
		{"M7 and M8 together", mm + "m7 m8 g0 x1 y2 z0", "r 1,2,0"},
		{"subprograms, M98 P L and M99", mm + "g0 x0 y0 z0\nm98 p7 l2\nm98 p20008\nm30\nO7 (step)\ng91 x1\nm99\nO8\ny1\nm99",
			"r 0,0,0; r 1,0,0; r 2,0,0; r 2,1,0; r 2,2,0"},
		{"subprograms in subprograms", mm + "g0 x0 y0 z0\nm98 p7\nm2\nO8\ny1\nm99\nO7\nm98 p8\nx1\nm99\n", "r 0,0,0; r 0,1,0; r 1,1,0"},
		{"G5 with and without its first control point", mm + "g0 x0 y0 z0\ng5 i1 j1 p-1 q1 x9 y0\np1 q1 x12 y3", "r 0,0,0; s 9,0,0; s 12,3,0"},
		{"G12", mm + "g0 x1 y2 z3\ng12 i5 z-1 f9", "r 1,2,3; f 1,2,-1; cw 1,2,-1"},
		{"G68: places are unknown until given", mm + "g0 x1 y2 z3\ng68 x0 y0 r30\nx5\ny6\ng69\nx7", "r 1,2,3; r 5,?,3; r 5,6,3; r 7,?,3"},
		{"G99", mm + "g0 x1 y1 z5\ng99 g82 x1 y1 z-1 r2 p1", "r 1,1,5; r 1,1,2; f 1,1,-1; r 1,1,2"},
		{"G83", mm + "g0 x1 y1 z5\ng83 x1 y1 z-1 r2 q2", "r 1,1,5; r 1,1,2; f 1,1,0; r 1,1,2; r 1,1,0.254; f 1,1,-1; r 1,1,5"},
		{"Q stays (common practice)", mm + "g0 x1 y1 z2\ng83 x1 y1 z-1 r2 q2\nx2", "r 1,1,2; f 1,1,0; r 1,1,2; r 1,1,0.254; f 1,1,-1; r 1,1,2; r 2,1,2; f 2,1,0; r 2,1,2; r 2,1,0.254; f 2,1,-1; r 2,1,2"},
		{"G73 backs off upward (common practice)", mm + "g0 x1 y1 z5\ng73 x1 y1 z-1 r2 q2", "r 1,1,5; r 1,1,2; f 1,1,0; r 1,1,0.254; f 1,1,-1; r 1,1,5"},
		{"G85 feeds out (3.5.16.7)", mm + "g0 x1 y1 z5\ng85 x1 y1 z-1 r2", "r 1,1,5; r 1,1,2; f 1,1,-1; f 1,1,2; r 1,1,5"},
		{"G87 bores upward (3.5.16.9)", mm + "g0 x1 y1 z5\ng87 x1 y1 r2 z-3 i1 j0 k-1", "r 1,1,5; r 2,1,5; r 2,1,-3; r 1,1,-3; f 1,1,-1; f 1,1,-3; r 2,1,-3; r 2,1,5; r 1,1,5"},
		{"G28 through a count (common practice)", mm + "g0 x4 y0 z0\ng91 g28 x1", "r 4,0,0; r 5,0,0; home r ?,?,?"},
		{"G28 from where it stands", mm + "g0 x4 y0 z0\ng91 g28 z0", "r 4,0,0; home r ?,?,?"},
		{"P of an arc beside G54 counts its turns (common practice)", mm + "g0 x0 y0 z0\ng54 g2 x2 i1 p2", "r 0,0,0; cw 2,0,0 c 1,0"},
		{"one call, said with L", mm + "g0 x0 y0 z0\nm98 p7 l1\nm2\nO7\ng91 x1\nm99", "r 0,0,0; r 1,0,0"},
		{"blanks in a number of 20 digits (3.1)", mm + "g0 x123.4567 8901234567 8901 y0 z0", "r 123.456789012345678901,0,0"},
		{"G92.1 leaves the tool where it is (3.5.18)", mm + "g0 x4 y0 z0\ng92 x7\ng92.1\ng91 x1", "r 4,0,0; r 5,0,0"},
		{"prose behind a program number (common practice)", "O9 TAG LEFT\n" + mm + "g0 x1 y2 z3", "r 1,2,3"},
		{"a full circle by J alone", mm + "g0 x0 y0 z0\ng3 j5", "r 0,0,0; ccw 0,0,0 c 0,5"},
		{"a cancel before the first % (common practice)", "g67 g97\n%\n" + mm + "g0 x1 y2 z3\n%", "r 1,2,3"},
		{"cycle in XZ drills along Y", mm + "g18 g0 x1 y5 z1\ng81 x2 z3 y-1 r2", "r 1,5,1; r 2,5,3; r 2,2,3; f 2,-1,3; r 2,5,3"},
		{"program number", "%\nO1234 (marker)\n" + mm + "g0 x1 y2 z0\n%", "r 1,2,0"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := strings.Join(path(t, Options{}, tt.text), "; "); got != tt.want {
				t.Errorf("got  %s\nwant %s", got, tt.want)
			}
		})
	}
}

// TestRefused: what can't be followed is refused where it stands.
func TestRefused(t *testing.T) {
	mm := "g21 g90 g0 x0 y0 z0\n"
	tests := []struct{ text, want string }{
		{"G16 X1", "1:1: a first move after G16 without both radius and angle, expected X and Y in G90"},
		{mm + "g1 x", "2:5: X without a number, expected at least one digit"},
		{mm + "g1 x1.2.3", "2:8: a number with two decimal points"},
		{mm + "g1 x1 x2", "2:7: a second X word in one block, expected one; hint: write two blocks"},
		{mm + "g1 g0 x2", "2:4: G0 after G1 in one block, expected one of them; hint: put them into two blocks"},
		{mm + "g2 x1", "2:1: an arc without a centre or a radius, expected I, J or R"},
		{mm + "g2 x2 i1.1 j0", "2:1: an arc whose radii at start and end differ by 0.2 mm, expected at most 0.05 mm; hint: check its end and centre, or whether centres are absolute (G90.1)"},
		{mm + "g2 x2 r0.9", "2:7: radius 0.9, less than half the way to the arc's end, expected a radius that reaches"},
		{mm + "g2 x0 y0 r5", "2:10: an arc by radius that ends where it starts, expected another end, or a centre with I, J, K"},
		{mm + "g81 x1 r1", "2:1: G81 without Z, expected the depth"},
		{mm + "g81 x1 r1 z2", "2:1: R at 1 below the depth at 2, expected R above the depth"},
		{mm + "g81 x1 r1 z-1 l-1", "2:15: L-1 in a cycle, expected a whole number of repeats"},
		{mm + "g0 z49\ng81 x1 r20 z7\ng91 x1 r-43", "4:1: Z given in G90 is carried into G91; hint: controls differ on what they mean there: repeat R and Z in this block"},
		{mm + "g91 g81 x1 r-5 z-9\ng90 x1 z2", "3:1: R given in G91 is carried into G90; hint: controls differ on what they mean there: repeat R and Z in this block"},
		{mm + "g50 s3000", "2:1: G50 (scaling off, or the speed limit of a lathe); hint: on a mill write G50 in a block of its own; a lathe program can't be flipped"},
		{mm + "g8", "2:1: G8 (radius programming, a turning code); hint: a lathe program can't be flipped"},
		{mm + "m12", "2:1: M12, which isn't followed; hint: take it out, or give ‹inert M12› where it moves no axis"},
		{"%\n" + mm + "\x1a\n", "an opening % without M2, M30 or a closing %, expected one of them at the end; hint: is the program complete?"},
		{mm + "(open", "2:1: a comment that isn't closed, expected ')' before the end of the line"},
		{mm + "(a (b) x5)", "2:4: '(' inside a comment; hint: controls differ on where such a comment ends: keep one pair of parentheses"},
		{mm + "x1\rx2", "2:3: a carriage return without a line feed; hint: give the program LF or CRLF line ends"},
		{mm + "x1\x00", "2:3: a zero byte, expected plain text; hint: is this a part program, and isn't it UTF-16?"},
		{mm + "x1 /y1", "2:4: '/' in the middle of a block; hint: controls differ on what a slash there deletes: put it first in a block of its own"},
		{"%\n" + mm, "an opening % without M2, M30 or a closing %, expected one of them at the end; hint: is the program complete?"},
		{mm + "g93 g1 x1", "2:1: a move in G93 without F, expected F in every such block"},
		{mm + "g1 xasim[0.5]", "2:5: \"ASIM\", expected a number or a function of NISTIR 6556, 3.3.2.4"},
		{mm + "g1 x y2", "2:6: X without a number, expected at least one digit"},
		{mm + "m98 p7", "2:1: a call of O7, which isn't in this file, expected the subprogram behind the main program; hint: write its blocks out, or put it into the file"},
		{mm + "m99", "2:1: M99 in the main program, which would repeat without end, expected M2 or M30; hint: where the lines above it are a subprogram, put it behind the main program's M2 or M30"},
		{mm + "m98 p7\nO7\nm99", "3:1: a subprogram that the program runs into, expected M2 or M30 before it"},
		{mm + "m98 p7\nm2\nO7\nx1\nO8\nm99", "6:1: the next subprogram before M99, expected M99 at a subprogram's end"},
		{mm + "m98 p7\nm2\nO7\nx1", "5:1: the end of the file inside a subprogram, expected M99"},
		{mm + "m98 p7\nm2\nO7\nm98 p7\nm99", "5:1: a subprogram that calls itself, without end; hint: write a loop, or repeat it with L"},
		{mm + "m98 p1\nm2\nO1\nm98p2\nm99\nO2\nm98p3\nm99\nO3\nm98p4\nm99\nO4\nm98p5\nm99\nO5\nm98p6\nm99\nO6\nm98p7\nm99\nO7\nm98p8\nm99\nO8\nm98p9\nm99\nO9\nm98p10\nm99\nO10\nm98p11\nm99\nO11\nm99",
			"32:1: subprograms nested more than 10 deep, expected fewer"},
		{mm + "m98 p20008\nm2\nO7\nm99", "2:1: a call of O20008, which isn't in this file, expected the subprogram behind the main program; hint: write its blocks out, or put it into the file"},
		{mm + "g68 x0 y0 r1\ng69 g0", "3:1: G69 beside a move; hint: put the move into a block of its own"},
		{mm + "g91 g81 x1 r1 z-1 l1112", "2:5: a cycle of more than 10000 moves in one block, expected fewer repeats or pecks"},
		{mm + "g10 l2 p1 x1", "2:1: G10 (writes offsets or tool data); hint: set offsets at the control or in a program of their own"},
		{mm + "m98 p7\nm2\nO7\nm99\nO7\nm99", "6:1: a second subprogram O7, expected one of each number"},
		{mm + "m98 p7 l99999999", "2:8: L99999999 with M98, expected a whole number of repeats, 1 or more"},
		{mm + "m98 p7 l999999\nm2\nO7\nm98 p8 l999999\nm99\nO8\nm99", "8:1: subprograms that run more than 2000000 blocks and moves, expected fewer repeats, or fewer blocks from the first call on"},
		{mm + "g68 x1 y1", "2:1: G68 without R, expected R with the angle"},
		{mm + "g68 x1 r1", "2:1: G68 with half a centre, expected X and Y, or neither"},
		{mm + "g68 r1\ng18", "3:1: G18 while G68 is on; hint: end it with G69 first"},
		{mm + "g68 r1\ng28 x1", "3:1: G28 while G68 is on; hint: end it with G69 first"},
		{mm + "g5 p1 q1 x1", "2:1: G5 without I or J, expected the first control point; hint: a control's fast mode under this code isn't followed: take it out"},
		{mm + "g12 x1 i1", "2:1: G12 with X, Y or J, expected a pocket round where the tool stands; hint: move there in a block before it"},
		{mm + "g81 x1 r1 z0 a90", "2:1: a canned cycle with A, expected X, Y and Z; hint: turn the rotary axis in a block of its own"},
		{mm + "g1 x1" + strings.Repeat("0", 31), "2:4: X with a number beyond 1e30, expected a number that a machine can use"},
		{mm + "g83 x1 r1 z0", "2:1: G83 without Q, expected Q with the depth of a peck"},
		{mm + "g1 x1 i5", "2:7: I without a code that uses it; hint: take it out"},
		{mm + "%\x1a x1", "2:4: motion behind the end of the program, expected nothing that moves; hint: some controls run it: take it out, or put it before the end"},
		{mm + "% ; a\x01", "2:6: the byte 0x01; hint: take it out or put it into a comment in parentheses"},
		{mm + "% (open", "2:3: a comment that isn't closed, expected ')' before the end of the line"},
		{mm + "% o1 x5", "2:6: text after '%', expected '%' alone on its line; hint: some controls take such a line as a comment, others run it: write the comment in parentheses"},
		{mm + "(a\x01b) x1", "2:3: the byte 0x01; hint: take it out or put it into a comment in parentheses"},
		{mm + "; a\x01b", "2:4: the byte 0x01; hint: take it out or put it into a comment in parentheses"},
		{mm + "x1 ) y1", "2:4: ')' without its partner"},
		{mm + "x1, y1", "2:3: character ','; hint: write a decimal point, or put it into a comment in parentheses"},
		{mm + "x1 % y1", "2:4: '%' in the middle of a block; hint: keep % on a line of its own"},
		{mm + "5 x1", "2:1: a number without a letter, expected a word such as X1.5"},
		{mm + "x1 \x7f", "2:4: the byte 0x7f; hint: take it out or put it into a comment in parentheses"},
		{mm + "x1 ? y1", "2:4: character '?'; hint: take it out or put it into a comment in parentheses"},
		{mm + "x1 n5", "2:4: a block number that isn't first in its block or isn't a plain whole number; hint: write N and up to nine digits at the start of the block"},
		{mm + "n-5 x1", "2:2: a block number that isn't first in its block or isn't a plain whole number; hint: write N and up to nine digits at the start of the block"},
		{mm + "n1.5 x1", "2:2: a block number that isn't first in its block or isn't a plain whole number; hint: write N and up to nine digits at the start of the block"},
		{mm + "//x1", "2:2: a line that starts with //; hint: some controls run such a line: write the comment in parentheses"},
		{mm + "x+#1", "2:1: a parameter or an expression; hint: write the program's moves out"},
		{mm + "x - [1+2]", "2:1: a parameter or an expression; hint: write the program's moves out"},
		{mm + "u5", "2:1: u5 (a second X axis, or X by increments on a lathe); hint: only X, Y and Z can be mirrored"},
		{mm + "e5", "2:1: e5 (a word that milling controls read differently); hint: take it out"},
		{mm + "v5", "2:1: v5 (a second Y axis); hint: only X, Y and Z can be mirrored"},
		{mm + "w5", "2:1: w5 (a second Z axis, or Z by increments on a lathe); hint: only X, Y and Z can be mirrored"},
		{mm + "x1 o5", "2:4: o5 (a program number in the middle of a program); hint: keep one program in a file"},
		{mm + "g5.2 x1", "2:1: G5.2 (a spline block); hint: write the curve as lines and arcs"},
		{mm + "g-1 x1", "2:1: G without a code's number; hint: write a plain number such as G1"},
		{mm + "g1.55 x1", "2:1: G without a code's number; hint: write a plain number such as G1"},
		{mm + "m-1", "2:1: M without a code's number; hint: write a plain number such as M1"},
		{mm + "m3.5", "2:1: M without a code's number; hint: write a plain number such as M1"},
		{mm + "m3 m4", "2:4: M4 after M3 in one block, expected one of them; hint: put them into two blocks"},
		{mm + "m99999999999999999999", "2:1: M without a code's number; hint: write a plain number such as M1"},
		{mm + "g187 p1 e0.1 p2", "2:14: a second P word in one block, expected one; hint: write two blocks"},
		{mm + "g1 x1 f-5", "2:7: a negative F, expected zero or more"},
		{mm + "s-100", "2:1: a negative S, expected zero or more"},
		{mm + "t-1", "2:1: T-1, expected a whole tool number"},
		{mm + "t1.5", "2:1: T1.5, expected a whole tool number"},
		{mm + "g43 h-1", "2:5: H-1, expected a whole length number"},
		{mm + "h1.5", "2:1: H1.5, expected a whole length number"},
		{mm + "g4 p-1", "2:4: a negative dwell, expected zero or more"},
		{mm + "g4 y1", "2:1: G4 with axis words, expected P alone; hint: put the dwell into a block of its own"},
		{mm + "g4 x1 g1", "2:4: G4 and a move in one block, expected one of them; hint: some controls take X as the time: put the dwell into a block of its own"},
		{mm + "g54 p2", "2:1: G54 with P (an extended work offset), expected G54 to G59.3; hint: only the verb mirror takes it"},
		{mm + "g54.1", "2:1: G54.1 with P (an extended work offset), expected G54 to G59.3; hint: only the verb mirror takes it"},
		{mm + "g92", "2:1: G92 without an axis word, expected X, Y or Z"},
		{mm + "g52", "2:1: G52 without an axis word, expected X, Y or Z"},
		{mm + "g53 g0", "2:1: G53 without an axis word, expected X, Y or Z"},
		{mm + "g53 g92 x1", "2:1: G53 with G92, expected one of them; hint: put them into two blocks"},
		{mm + "g10 l2 p1 x0", "2:1: G10 (writes offsets or tool data); hint: set offsets at the control or in a program of their own"},
		{mm + "g68 g1 x1 y1 r5", "2:1: G68 beside a motion word; hint: put them into two blocks"},
		{mm + "g68 x1 y1 r5\ng68 x1 y1 r5", "3:1: G68 while G68 is on; hint: end it with G69 first"},
		{mm + "g41 d1 g1 x5\ng68 x1 y1 r5", "3:1: G68 while cutter compensation is on; hint: cancel it with G40 first"},
		{mm + "g68 x1 y1 z1 r5", "2:11: Z with G68 in G17, expected X and Y"},
		{mm + "g91 g68 x1 y1 r5", "2:9: the centre of G68 in G91, expected G90; hint: controls differ on what it counts from"},
		{mm + "g68 x1 y1 r5\ng69 x1", "3:1: G69 beside a move; hint: put the move into a block of its own"},
		{mm + "g68 x1 y1 r5\ng54 x1", "3:1: G54 while G68 is on; hint: end it with G69 first"},
		{mm + "g18 g5 i1 j1 p1 q1 x5", "2:5: G5 in G18, expected G17"},
		{mm + "g5 i1 j1 p1 q1 x5 z1", "2:19: G5 with another axis than X and Y, expected X and Y"},
		{mm + "g41 d1 g1 x5\ng5 i1 j1 p1 q1 x9", "3:1: G5 while cutter compensation is on; hint: cancel it with G40 first"},
		{mm + "g93 g5 i1 j1 p1 q1 x5", "2:1: a move in G93 without F, expected F in every such block"},
		{mm + "g5 i1 j1 x5", "2:1: G5 without P or Q, expected the second control point"},
		{mm + "g5.1 x5", "2:1: G5.1 without I or J, expected the first control point; hint: a control's fast mode under this code isn't followed: take it out"},
		{mm + "g12 g1 i5", "2:1: G12 beside a motion word, expected one of them; hint: put them into two blocks"},
		{mm + "g18 g12 i5", "2:5: G12 in G18, expected G17"},
		{mm + "g12 q1", "2:1: G12 without a radius, expected I above 0"},
		{mm + "g12 i5 k4 q1", "2:8: G12 whose K is less than I, expected K, the last radius, at least as large as I"},
		{mm + "g80 g81 x1 z-1 r1", "2:1: G80 and G81 in one block, expected one of them; hint: put them into two blocks"},
		{mm + "g28 g81 x1", "2:1: G28 beside a motion word, expected one of them; hint: put them into two blocks"},
		{mm + "g92 g1 x1", "2:1: G92 beside a motion word, expected one of them; hint: put them into two blocks"},
		{mm + "g81\nx1 z-1 r1", "3:1: axis words under G81 of line 2, which had none, expected the cycle with its words in one block"},
		{mm + "g2 x1 i1\ng80\nx5", "2:1: an arc whose radii at start and end differ by 1 mm, expected at most 0.05 mm; hint: check its end and centre, or whether centres are absolute (G90.1)"},
		{mm + "g93 g2 x2 i1", "2:1: a move in G93 without F, expected F in every such block"},
		{mm + "g2 x2 i1 p0", "2:10: P0 with an arc, expected a whole number of turns"},
		{mm + "g2 x2 i1 p1.5", "2:10: P1.5 with an arc, expected a whole number of turns"},
		{mm + "g2 x2 i1 r1", "2:10: an arc with both R and a centre, expected one of them; hint: controls differ on which they follow"},
		{mm + "g2 z-1 r5", "2:8: an arc with R and no end point in G17, expected X or Y"},
		{mm + "g2 x2 i1 k1", "2:10: K in an arc of G17, expected I and J"},
		{mm + "g18 g2 x2 i1 j1", "2:14: J in an arc of G18, expected K and I"},
		{mm + "g90.1 g2 x2 i1", "2:7: an arc with one centre word in G90.1, expected both I and J; hint: controls differ on what a missing one means"},
		{mm + "g2 x2 r0", "2:7: an arc of radius 0, expected a radius"},
		{mm + "g2 i0 j0", "2:1: an arc of radius 0, expected a centre away from the start"},
		{mm + "g93 g81 x1 z-1 r1", "2:5: G81 in G93, expected G94"},
		{mm + "g81 x1 z-1 r1 l1.5", "2:15: L1.5 in a cycle, expected a whole number of repeats"},
		{mm + "g81 x1 z-1 r1 l99999", "2:15: 99999 repeats, expected at most 10000"},
		{mm + "g83 x1 z-1 r1 q0", "2:15: Q0 in a cycle, expected a peck above 0"},
		{mm + "g83 x1 z-1 r1 q-1", "2:15: Q-1 in a cycle, expected a peck above 0"},
		{mm + "g83 x1 z-100000 r1 q0.001", "2:1: a cycle of more than 10000 pecks, expected a larger Q"},
		{mm + "g83 x1 z-900 r1 q0.1 l9", "2:1: a cycle of more than 10000 moves in one block, expected fewer repeats or pecks"},
		{mm + "g82 x1 z-1 r1 p-1", "2:15: a negative dwell, expected zero or more"},
		{mm + "g81 x1 z-1 r1 i5", "2:15: I without a code that uses it; hint: take it out"},
		{mm + "g84 x1 z2 r1", "2:1: R at 1 below the depth at 2, expected R above the depth"},
		{mm + "g70", "2:1: G70 (inches on older controls, a cycle on others); hint: give ‹units in›, or write G20"},
		{mm + "g71 x1", "2:1: G71 (millimetres on older controls, a cycle on others); hint: give ‹units mm›, or write G21"},
		{mm + "g8 p1 p2", "2:7: a second P word in one block, expected one; hint: write two blocks"},
		{mm + "g50 p5", "2:1: G50 (scaling off, or the speed limit of a lathe); hint: on a mill write G50 in a block of its own; a lathe program can't be flipped"},
		{mm + "g50.1 x0", "2:1: G50.1 (ends a mirror in the control, of the axes beside it); hint: write G50.1 in a block of its own"},
		{mm + "m98", "2:1: M98 without P, expected P with the subprogram's number"},
		{mm + "m98 p1.5", "2:5: M98 with no subprogram's number, expected P with a whole number"},
		{mm + "m98 p1 x1", "2:1: M98 with axis words; hint: put the call into a block of its own"},
		{mm + "m98 p1 l0", "2:8: L0 with M98, expected a whole number of repeats, 1 or more"},
		{mm + "m99 p0", "2:5: P0 with M99, expected a block number"},
		{mm + "m99 p5", "2:5: M99 with P (a return to a block number), expected M99 alone; hint: write the program's moves out"},
		{mm + "g1 x200000", "2:1: X200000, expected at most 100000 mm from zero; hint: no machine goes so far: is a decimal point missing, or the unit wrong?"},
		{mm + "g2 x2 r200000", "2:1: R200000, expected at most 100000 mm from zero; hint: no machine goes so far: is a decimal point missing, or the unit wrong?"},
		{mm + "g1 x1 m98 p1", "2:7: M98 with axis words; hint: put the call into a block of its own"},
		{mm + "g1 x1\nm30\nx5", "4:1: motion behind the end of the program, expected nothing that moves; hint: some controls run it: take it out, or put it before the end"},
		{mm + "g1 x1\nm30\nx9", "4:1: motion behind the end of the program, expected nothing that moves; hint: some controls run it: take it out, or put it before the end"},
		{mm + "m98 p1\nm30\no1\nx1\nm99\no2\nx5", "8:1: motion behind the end of the program, expected nothing that moves; hint: some controls run it: take it out, or put it before the end"},
		{mm + "k5", "2:1: K without a code that uses it; hint: take it out"},
		{mm + "a5 g81 x1 z-1 r1", "2:4: a canned cycle with A, expected X, Y and Z; hint: turn the rotary axis in a block of its own"},
	}
	for _, tt := range tests {
		_, err := Walk(strings.NewReader(tt.text), Options{}, nil)
		var f *fault.Error
		if !errors.As(err, &f) || err.Error() != tt.want {
			t.Errorf("%q:\ngot  %v\nwant %s", tt.text, err, tt.want)
		}
	}
	_, err := Walk(program(t, "turning-must-be-refused.nc"), Options{}, nil)
	if err == nil || !strings.HasPrefix(err.Error(), "5:") {
		t.Errorf("a lathe program: got %v", err)
	}
}

// TestSummary: figures worked out by hand for a small outline.
func TestSummary(t *testing.T) {
	text := "g21 g90 g54 t3 m6 m3 s9000 g0 x0 y0 z5\ng1 z-2 f600\nx10\ng3 x10 y10 j5\ng1 x0\ng41 y0\ng40 g0 z5\nx1 y1 z-1\n"
	s, err := Walk(strings.NewReader(text), Options{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "cut length", s.CutLength, 7+10+5*math.Pi+10+10, 1e-9)
	near(t, "rapid length", s.RapidLength, 7+math.Sqrt(1+1+36), 1e-9)
	if e := s.Cut[0]; e.Min != 0 || e.Max != 15 {
		t.Errorf("the half turn reaches to X15: got %+v", e)
	}
	if s.Rapids != 1 || s.FirstRapid != 8 || s.Deepest != 2 || s.CompLine != 6 {
		t.Errorf("low rapids %d from line %d, deepest %v, compensation from line %d", s.Rapids, s.FirstRapid, s.Deepest, s.CompLine)
	}
	if len(s.Offsets) != 1 || s.Offsets[0] != 540 {
		t.Errorf("offsets %v", s.Offsets)
	}
	if s.Assumed != nil && fmt.Sprint(s.Assumed) != "[G94 G17 G91.1]" {
		t.Errorf("assumed %v", s.Assumed)
	}
}

// TestSpecialLengths: derived from the circle and from a straight spline.
func TestSpecialLengths(t *testing.T) {
	s, err := Walk(strings.NewReader("g21 g90 g0 x0 y0 z0\nf100\ng12 i2 k5 q1\ng1 x0\ng5 i1 j1 p-1 q-1 x9 y9\ng5.1 i3 j0 x15 y9\n"), Options{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "cut length", s.CutLength, 10*math.Pi+9*math.Sqrt2+6, 1e-6)
	if e := s.Cut[0]; e.Min != -5 || e.Max != 15 {
		t.Errorf("reach along X %v to %v, want -5 to 15", e.Min, e.Max)
	}
}

// TestLengths: G43 takes the length of its tool off Z, G49 gives it back (NISTIR 6556,
// 3.5.11); G44 counts it the other way (common practice).
func TestLengths(t *testing.T) {
	o := Options{Lengths: map[int]Num{2: FromInt(1)}}
	same(t, path(t, o, "g21 g90 g0 x0 y0 z5\ng91 g43 h2 z0\ng49 z0"), "r 0,0,5", "r 0,0,4", "r 0,0,5")
	same(t, path(t, o, "g21 g90 g0 x0 y0 z5\ng91 g44 h2 z0\ng49 z0"), "r 0,0,5", "r 0,0,6", "r 0,0,5")
}

// TestFigures: one figure of a program a row, worked out by hand.
func TestFigures(t *testing.T) {
	fast := [3]float64{math.Inf(1), math.Inf(1), math.Inf(1)}
	crossing := func(s *Summary) float64 {
		if z, ok := s.Crossing(); ok {
			return z
		}
		return -1
	}
	for _, c := range []struct {
		name, text string
		figure     func(*Summary) float64
		want       float64
	}{
		{"a cut that begins where a rapid ended", "g0 x5 y0 z0\ng1 x9 f9", func(s *Summary) float64 { return s.Cut[0].Min }, 5},
		{"the lowest point of an arc, 5 under its centre", "g0 x-4 y-3 z0\ng3 x4 y-3 i4 j3 f9", func(s *Summary) float64 { return s.Cut[1].Min }, -5},
		{"a minute that ends the program", "g0 x0 y0 z0\ng1 x60 f60", func(s *Summary) float64 { return s.Seconds }, 60},
		{"a rapid straight down into the work", "g0 x0 y0 z5\nz-1", func(s *Summary) float64 { return float64(s.Rapids) }, 1},
		{"a rapid straight up out of deeper work", "g0 x0 y0 z5\ng1 z-2 f9\ng0 z-1", func(s *Summary) float64 { return float64(s.Rapids) }, 0},
		{"a feed out of the work with the spindle stopped", "m3 g0 x0 y0 z5\ng1 z-1 f9\nm5\ng1 z5", func(s *Summary) float64 { return float64(s.StoppedLine) }, 5},
		{"the first rapid comes from elsewhere", "g0 z25\nx0 y0\nz2\ng1 x9 f9\ng0 x4\ng1 z-1", crossing, 25},
		{"a rapid lower, beyond the cuts", "g0 z25\nx0 y0\nz2\ng1 x9 f9\ng0 x12", crossing, 2},
		{"a rapid that rises as it goes beyond", "g0 z25\nx0 y0\ng1 z-1 f9\nx9\ng0 z1\nx12 z5", crossing, 1},
		{"no height known", "g0 x0 y0\nz5\ng1 z-1 f9", crossing, -1},
		{"never started", "g0 x0 y0 z5\ng1 z-1 f9", func(s *Summary) float64 { return float64(s.Unturned) }, 3},
		{"started at S0", "s0 m3\ng1 z-1 f9", func(s *Summary) float64 { return float64(s.Unturned) }, 3},
		{"started without S", "m3\ng1 z-1 f9", func(s *Summary) float64 { return float64(s.Unturned) }, 0},
		{"started at S0, then S", "s0 m3\ng1 z-1 f9\ns900", func(s *Summary) float64 { return float64(s.Unturned) }, 0},
		{"M4", "m4\ng1 z-1 f9\nx3", func(s *Summary) float64 { return float64(s.Reversed) }, 3},
		{"M3", "m3\ng1 z-1 f9", func(s *Summary) float64 { return float64(s.Reversed) }, 0},
		{"no feed", "m3\ng0 z5\ng1 z-1\nx3", func(s *Summary) float64 { return float64(s.Unfed) }, 4},
		{"a cycle without feed", "m3\ng0 z5\ng81 x1 y1 z-1 r1", func(s *Summary) float64 { return float64(s.Unfed) }, 4},
		{"a feed of old", "f90\nm3\ng0 z5\ng1 z-1\nx3", func(s *Summary) float64 { return float64(s.Unfed) }, 0},
		{"another tool's length", "m3 f9 t1 m6\ng43 h7 z5\ng1 z-1", func(s *Summary) float64 {
			return float64(100*s.OtherLength.Line + 10*s.OtherLength.Number + s.OtherLength.Tool)
		}, 471},
		{"its own length", "m3 f9 t1 m6\ng43 h1 z5\ng1 z-1\nt2\nx3", func(s *Summary) float64 { return float64(s.OtherLength.Line) }, 0},
		{"the length of the tool before until the next is called", "m3 f9 t1 m6\ng43 h1 z5\ng1 z-1\nt2 m6\ng0 x3 y3\ng43 h2 z5\ng1 z-1", func(s *Summary) float64 { return float64(s.OtherLength.Line) }, 0},
		{"the length of the tool before", "m3 f9 t1 m6\ng43 h1 z5\ng1 z-1\nt2 m6\ng0 x3 y3\nz5\ng1 z-1", func(s *Summary) float64 { return float64(s.OtherLength.Line) }, 8},
		{"another tool's radius", "m3 f9 t1 m6\ng41 d9\ng1 x9", func(s *Summary) float64 {
			return float64(100*s.OtherRadius.Line + 10*s.OtherRadius.Number + s.OtherRadius.Tool)
		}, 491},
		{"its own radius", "m3 f9 t1 m6\ng41 d1\ng1 x9", func(s *Summary) float64 { return float64(s.OtherRadius.Line) }, 0},
		{"a spindle that is never started is switched by hand", "g0 x0 y0 z5\ng1 z-1 f9", func(s *Summary) float64 { return float64(s.Stopped) }, 0},
	} {
		s, err := Walk(strings.NewReader("g21 g90\n"+c.text+"\n"), Options{Rates: &Rates{fast, fast}}, nil)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		near(t, c.name, c.figure(s), c.want, 1e-9)
	}
}

// TestTangent: an arc that goes on where a line ends needs no ramp between them: 10 mm and
// half a turn of radius 5 at 50 mm/s and 500 mm/s2 take l/v + v/a.
func TestTangent(t *testing.T) {
	s, err := Walk(strings.NewReader("g21 g90 g0 x0 y0 z0\ng1 x10 f3000\ng3 y10 j5\n"), Options{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "seconds", s.Seconds, (10+5*math.Pi)/50+50./500, 1e-9)
}

// TestUnknownSpline: a spline from a place that isn't known along one axis has no length.
func TestUnknownSpline(t *testing.T) {
	s, err := Walk(strings.NewReader("g21 g90 g0 y0 z0\ng5.1 i1 j1 x2 y2 f9\n"), Options{}, nil)
	if err != nil || s.CutLength != 0 {
		t.Errorf("cut length %v, %v", s, err)
	}
}

// TestRamp: derived from v^2/2a and 2 sqrt(d/a).
func TestRamp(t *testing.T) {
	for _, tt := range []struct{ d, v, a, want float64 }{
		{100, 50, 500, 2.1}, {5, 50, 500, 0.2}, {2, 50, 500, 0.126491},
		{200, 1000. / 60, math.Inf(1), 12}, // NISTIR 6556, 5.3: 2000 lines of 0.1 mm at 1000 mm/min
	} {
		near(t, fmt.Sprintf("%v mm", tt.d), Ramp(tt.d, tt.v, tt.a), tt.want, 1e-6)
	}
}

// TestPrograms: each real program is followed or refused in a known way.
func TestPrograms(t *testing.T) {
	for name, want := range map[string]string{
		"engraving-inch-arcs.nc": "",
		"teaching-g91-g28.nc":    "",
		"teaching-g91-g53.nc":    "2:3: ",
		"panel-g92-g91.gcode":    "",
		"panel-holes-g92.gcode":  "",
		"flower-arcs.nc":         "",
		"nist-c1.ngc":            "",
		"nist-c3-xy.ngc":         "",
	} {
		s, err := Walk(program(t, name), Options{Unit: transform.MM}, nil)
		if (err == nil) != (want == "") || err != nil && !strings.HasPrefix(err.Error(), want) {
			t.Errorf("%s: got %v, want %q", name, err, want)
		}
		if err == nil {
			t.Logf("%s: %d moves, cut %.1f mm, %.0f s, assumed %v, needs %v", name, s.Moves, s.CutLength, s.Seconds, s.Assumed, s.Needs)
		}
	}
}
