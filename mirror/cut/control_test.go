package cut

import (
	"math"
	"strings"
	"testing"
)

// A program with shifts and turns of its zero says what the same moves written out say:
// the web, the pins, the fence, the no-go area and the travel too. G92 is NISTIR 6556,
// 3.5.18, G52 and G68 are common practice; the moves written out are derived: a turn by 90
// about 20,20 carries x, y to 40 - y, x.
func TestCutsWhereTheControlDoes(t *testing.T) {
	const head = "G21 G90 G17 G91.1\nT1 M6\nS9000 M3\nG54\nG0 Z5\nG0 X20 Y20\n"
	const tail = "\nG0 Z5\nM30\n"
	for _, c := range []struct{ name, in, out string }{
		{"nothing", "G1 Z-2 F300\nX60", "G1 Z-2 F300\nX60"},
		{"G52 down", "G52 Z-3\nG1 Z-2 F300\nX60\nG52 Z0", "\nG1 Z-5 F300\nX60\n"},
		{"G52 into the bed", "G52 Z-11\nG1 Z-2 F300\nX60\nG52 Z0", "\nG1 Z-13 F300\nX60\n"},
		{"G52 aside", "G52 X10 Y-20\nG0 X20 Y20\nG1 Z-2 F300\nX85\nG52 X0 Y0", "\nG0 X30 Y0\nG1 Z-2 F300\nX95\n"},
		{"G92 down", "G92 Z8\nG1 Z-2 F300\nX60\nG0 Z5\nG92.1", "\nG1 Z-5 F300\nX60\nG0 Z2\n"},
		{"G92 aside", "G92 X0 Y0\nG1 Z-2 F300\nX60\nG0 Z5\nG92.1", "\nG1 Z-2 F300\nX80\nG0 Z5\n"},
		{"G92 back again", "G92 Z8\nG92.2\nG92.3\nG1 Z-2 F300\nX60\nG0 Z5\nG92.1", "\n\n\nG1 Z-5 F300\nX60\nG0 Z2\n"},
		{"an arc under G52", "G52 X5 Y5 Z-1\nG0 X20 Y20\nG1 Z-2 F300\nG2 X40 Y20 I10 J0\nG52 X0 Y0 Z0", "\nG0 X25 Y25\nG1 Z-3 F300\nG2 X45 Y25 I10 J0\n"},
		{"a cycle under G52", "G52 X5 Y5 Z-1\nG81 X20 Y20 Z-4 R2 F100\nG80\nG52 X0 Y0 Z0", "\nG81 X25 Y25 Z-5 R1 F100\nG80\n"},
		{"G68", "G68 X20 Y20 R90\nG1 Z-4 F300\nX50 Y20\nX50 Y10\nG69", "\nG1 Z-4 F300\nX20 Y50\nX30 Y50\n"},
		{"an arc under G68", "G68 X20 Y20 R90\nG1 Z-4 F300\nG2 X40 Y20 I10 J0\nG69", "\nG1 Z-4 F300\nG2 X20 Y40 I0 J10\n"},
		{"by counts under G68", "G68 X20 Y20 R-90\nG91 G1 Z-9 F300\nX15\nG90 G69", "\nG91 G1 Z-9 F300\nY-15\nG90\n"},
		{"compensation under G68", "G68 X20 Y20 R90\nG1 Z-4 F300\nG41 X30 Y20\nX45\nG40 X50 Y20\nG69", "\nG1 Z-4 F300\nG41 X20 Y30\nY45\nG40 X20 Y50\n"},
		{"after G69", "G68 X20 Y20 R90\nG0 X30 Y20\nG69\nG1 Z-4 F300\nX60", "\nG0 X20 Y30\n\nG1 Z-4 F300\nX60"},
		{"G52 and G68", "G52 X10 Z-1\nG68 X20 Y20 R90\nG1 Z-4 F300\nX50 Y20\nG69\nG52 X0 Z0", "\n\nG1 Z-5 F300\nX30 Y50\n\n"},
	} {
		run := func(text string) *Result {
			q := plain()
			q.Web = 9
			q.Pins = []Pin{{X: 20, Y: 50, Dia: 8}}
			q.Locators[faceSide] = []Locator{{Edge: NearEdge, Height: 11}}
			q.NoGo = []Rect{{X: 190, Y: 95, W: 20, H: 30}}
			q.Travel = &Travel{Least: [3]float64{110, 105, -32.5}, Greatest: [3]float64{182, 400, 0}}
			q.Zeros[faceSide] = &Zero{X: 100, Y: 100, Z: -20, ZKnown: true}
			q.Face = Program{Name: "face.nc", Read: strings.NewReader(head + text + tail), Offset: 540}
			r, err := Check(q)
			if err != nil {
				t.Fatalf("%s: %v", c.name, err)
			}
			return r
		}
		got, want := run(c.in), run(c.out)
		near(t, c.name+": web", got.Web.Min, want.Web.Min, 1e-6)
		near(t, c.name+": volume", got.Grid.Volume(false), want.Grid.Volume(false), 1e-3)
		if codes(got) != codes(want) || len(got.Findings) != len(want.Findings) || len(got.Travel) != len(want.Travel) {
			t.Errorf("%s: %s and %d axes, want %s and %d", c.name, codes(got), len(got.Travel), codes(want), len(want.Travel))
			continue
		}
		for i := range got.Findings {
			g, w := got.Findings[i], want.Findings[i]
			a, b := g.At(), w.At()
			far := max(math.Abs(a.X-b.X), math.Abs(a.Y-b.Y), math.Abs(figure(g)-figure(w)), math.Abs(a.Depth-b.Depth))
			if far > 1e-6 || g.object() != w.object() || a.FaceLine != b.FaceLine {
				t.Errorf("%s: %+v, want %+v", c.name, g, w)
			}
		}
		for i, w := range want.Travel {
			if g := got.Travel[i]; math.Abs(g.LeftLow-w.LeftLow)+math.Abs(g.LeftHigh-w.LeftHigh) > 1e-6 {
				t.Errorf("%s: travel %+v, want %+v", c.name, g, w)
			}
		}
	}
}

// What isn't cut where it runs, and what is cut while the spindle stands still, is told,
// so that the answer is never a clean one. M6 stops the spindle by NISTIR 6556, 3.6.3.
func TestMovesThatTellAgainstAProgram(t *testing.T) {
	const head = "G21 G90 G17\nT1 M6\nS9000 M3\nG0 X20 Y20 Z5\nG1 Z-2 F300\n"
	hand := strings.Replace(head, "S9000 M3\n", "\n", 1)
	for _, c := range []struct {
		name, text string
		code       string
		why        any // for NotFollowed
		n          int // 0 for none
		line       int
	}{
		{"a line", head + "G1 X60\n", "not-followed", nil, 0, 0},
		{"a cycle without R", head + "G0 Z5\nG81 X40 Y20 Z-3\nG80\n", "not-followed", NotLevel, 1, 7},
		{"levels of the other distance mode", head + "G0 X20 Y20 Z5\nG81 X40 Y20 Z-3 R2\nG91 X5\nG80\n", "not-followed", NotCounted, 1, 8},
		{"a cubic spline", head + "G5 I0 J10 P0 Q-10 X40 Y20\n", "not-followed", NotSpline, 1, 6},
		{"under G68", head + "G68 X20 Y20 R90\nG1 X40 Y20\nG69\n", "not-followed", nil, 0, 0},
		{"under G68 without a centre", head + "G68 R90\nG1 X40 Y20\nX50\nG69\n", "not-followed", NotRotated, 2, 7},
		{"half a place under G68", head + "G68 X20 Y20 R90\nG1 X40\nG69\n", "place-unknown", nil, 1, 7},
		{"G92 where the tool stood at the start", "G92 X0 Y0 Z5\n" + head + "X60\n", "not-followed", NotPreset, 4, 5},
		{"G92 at a place of the machine", head + "G53 G0 Z0\nG92 Z50\nG1 Z-2\n", "not-followed", NotPreset, 2, 8},
		{"the spindle turns", head + "X60\n", "spindle-stopped", nil, 0, 0},
		{"M5 before a cut", head + "M5\nX60\nX20\n", "spindle-stopped", nil, 2, 7},
		{"a tool change and no M3", head + "G0 Z5\nT2 M6\nG0 X30 Y30\nG1 Z3\nG1 Z-1\nX60\n", "spindle-stopped", nil, 2, 10},
		{"M3 after it", head + "G0 Z5\nT2 M6\nM3\nG0 X30 Y30\nG1 Z-1\nX60\n", "spindle-stopped", nil, 0, 0},
		{"M3 only later", hand + "G0 Z5\nM3\nG1 Z-2\n", "spindle-stopped", nil, 1, 5},
		{"a spindle switched by hand", hand + "X60\nM5\n", "spindle-stopped", nil, 0, 0},
	} {
		q := plain()
		q.Face = Program{Name: "face.nc", Read: strings.NewReader(c.text + "G0 Z5\nM30\n")}
		r, err := Check(q)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		got, why := &Where{}, any(nil)
		for _, f := range r.Findings {
			if f.Code() == c.code {
				got, why = f.At(), f.object()
			}
		}
		if got.Count != c.n || why != c.why || got.FaceLine != c.line {
			t.Errorf("%s: %v %+v in %s", c.name, why, got, codes(r))
		}
	}
	// A program that never starts the spindle, on a machine where another does.
	q := plain()
	q.Face = Program{Name: "face.nc", Read: strings.NewReader(hand + "X60\nG0 Z5\nM30\n")}
	q.Back = Program{Name: "back.nc", Read: strings.NewReader(head + "G0 Z5\nM30\n")}
	if f := only[*SpindleStopped](t, q); f.FaceFile != "face.nc" || f.FaceLine != 5 || f.Count != 2 {
		t.Errorf("%+v", f)
	}
}
