package cycle

import (
	"math"
	"slices"
	"strings"
	"testing"

	"flipcalc/mirror/motion"
)

// A back of two programs. The first leaves G91, G20, a cycle's G99 and a feed
// behind; the second begins as if the control had just been switched on, which is
// what M30 before it would have brought (NISTIR 6556, 3.6.1). Each cut at the
// back's station is one of the two programs' own, in order.
func TestSeveralPrograms(t *testing.T) {
	leaky := `G21 G90 G17
T2 M6
S15000 M3
G0 G43 H2 Z20.
X2. Y2.
G99 G81 Z-2. R1. F150
G80 G0 Z20.
G20 G91
G1 X0.1 F30
M5
M30
`
	fresh := `T3 M6
S9000 M3
G21 G0 G43 H3 Z20.
X1. Y1.
G1 Z-0.5 F100
X7.
G0 Z20.
M5
M30
`
	o := one(smallFace, leaky)
	o.Back.Then = []Source{{Name: "letters.nc", Text: []byte(fresh)}}
	o.Pairs = append(o.Pairs, Pair{Face: Station{Offset: "G56"}, Back: Station{Offset: "G57"}})
	r := merge(t, o)
	if want := []int{1, 2, 3}; !slices.Equal(r.Steady.Tools, want) {
		t.Errorf("tools %v", r.Steady.Tools)
	}
	_, first := cuts(t, []byte(leaky), motion.Options{})
	_, second := cuts(t, []byte(fresh), motion.Options{})
	want := append(first[0], second[0]...)
	if len(want) < 4 {
		t.Fatalf("only %d cuts", len(want))
	}
	for name, p := range map[string]Program{"steady": r.Steady, "last": r.Last} {
		_, got := cuts(t, p.Text, motion.Options{})
		for _, offset := range []int{550, 570} {
			if !slices.Equal(got[offset], want) {
				t.Errorf("%s, offset %d: %v\nwant %v", name, offset, got[offset], want)
			}
		}
	}
	// The same two programs pasted together would carry inches and G91 over.
	pasted := one(smallFace, strings.Replace(leaky, "M30\n", fresh, 1))
	if r, err := Merge(pasted); err == nil {
		if _, got := cuts(t, r.Last.Text, motion.Options{}); slices.Equal(got[550], want) {
			t.Error("pasting makes no difference here: the test shows nothing")
		}
	}
}

// What one of several programs lacks is refused with its own name and line.
func TestSeveralRefused(t *testing.T) {
	cut := "G21 G90\nT3 M6\nS1 M3\nG43 H3 G0 Z5\nX0 Y0\nG1 Z-1 F9\nG0 Z5\nM30\n"
	for _, row := range []struct{ second, want string }{
		{strings.Replace(cut, "S1 M3\n", "", 1), "letters.nc:2:1: a cut without M3 or M4 anywhere in the program"},
		{strings.Replace(cut, "T3 M6\n", "", 1), "letters.nc:1:1: a cut without a tool number"},
		{strings.Replace(cut, "G43 H3 ", "", 1), "letters.nc:6:1: tool 3 cuts without G43"},
		{"G21\nM30\n", "letters.nc:1:1: no cut"},
		{"G92 X0\n" + cut, "letters.nc:1:1: G92"},
	} {
		o := one(smallFace, smallBack)
		o.Back.Then = []Source{{Name: "letters.nc", Text: []byte(row.second)}}
		if _, err := Merge(o); err == nil || !strings.HasPrefix(err.Error(), row.want) {
			t.Errorf("got  %v\nwant %s...", err, row.want)
		}
	}
}

// An earlier pass's comment line is not carried into the pieces.
func TestOldComment(t *testing.T) {
	o := one("(flipcalc: tag, dry run first)\n"+strings.TrimPrefix(smallFace, "%\nO100 (TAG, FACE)\n"), smallBack)
	o.Face.Text = []byte(strings.TrimSuffix(string(o.Face.Text), "%\n"))
	o.Comments = [3]string{"flipcalc: first", "flipcalc: steady", "flipcalc: last"}
	r := merge(t, o)
	for i, p := range []Program{r.First, r.Steady, r.Last} {
		if n := strings.Count(string(p.Text), "flipcalc:"); n != 1 || !strings.HasPrefix(string(p.Text), "("+o.Comments[i]+")\n") {
			t.Errorf("%d comment lines in\n%s", n, p.Text)
		}
	}
}

// The moves that only machine coordinates can measure, worked by hand: rapids of
// 6000 mm/min (100 mm/s) in X and Y and 3000 (50 mm/s) in Z, no ramps. Steady
// cycle of one face and one back, one tool: up from the unknown; across to the
// face, unknown as well; down to it from Z-5 to -60 + 20 = -40, 35 mm; up 35 mm;
// across 150 mm along X; down 35; up 35. So (35*4)/50 + 150/100 s, and what the
// interpreter measures itself: from Z20 to Z-1 and back.
func TestSeconds(t *testing.T) {
	program := "G21 G90\nT1 M6\nS1 M3\nG0 X10. Y10.\nG43 H1\nZ20.\nG1 Z-1. F600\nG0 Z20.\nM30\n"
	o := one(program, program)
	inf := math.Inf(1)
	o.Rates = &motion.Rates{Rapid: [3]float64{6000, 6000, 3000}, Acceleration: [3]float64{inf, inf, inf}}
	o.Pairs[0].Face.ZeroX, o.Pairs[0].Face.ZeroY, o.Pairs[0].Face.ZeroZ = d("0"), d("0"), d("-60")
	o.Pairs[0].Back.ZeroX, o.Pairs[0].Back.ZeroY, o.Pairs[0].Back.ZeroZ = d("150"), d("0"), d("-60")
	r := merge(t, o)
	cut := 21.0/10 + 21.0/50
	if got, want := r.Steady.Seconds, 2*cut+4*35.0/50+150.0/100; math.Abs(got-want) > 1e-9 {
		t.Errorf("steady %g s, by hand %g", got, want)
	}
	if got, want := r.First.Seconds, cut+2*35.0/50; math.Abs(got-want) > 1e-9 {
		t.Errorf("first %g s, by hand %g", got, want)
	}
	if got := r.FaceSeconds; math.Abs(got-cut) > 1e-9 || r.BackSeconds != r.FaceSeconds {
		t.Errorf("face alone %g s, by hand %g", got, cut)
	}
	// Without the zeros' places nothing but the interpreter's own figure is left.
	o.Pairs[0] = Pair{Face: Station{Offset: "G54"}, Back: Station{Offset: "G55"}}
	if r := merge(t, o); r.Steady.Seconds != r.Steady.Summary.Seconds {
		t.Errorf("%g s against %g", r.Steady.Seconds, r.Steady.Summary.Seconds)
	}
}

// A comment that stands before a tool change goes with the tool that is called there.
func TestComments(t *testing.T) {
	o := one(strings.Replace(smallFace, "N100 T2 M6", "(HOLE)\n( IN THE MIDDLE )\n\nN100 T2 M6", 1), smallBack)
	o.Marks = true
	text := string(merge(t, o).First.Text)
	mark, remark, cut := strings.Index(text, "(PAIR 1 FACE, T2, RESTART HERE)"), strings.Index(text, "(HOLE)\n( IN THE MIDDLE )\n"), strings.Index(text, "X10. Y8.")
	if mark < 0 || remark < mark || cut < remark || strings.Count(text, "(HOLE)") != 1 {
		t.Errorf("the comment stands at %d, the tool's mark at %d, its first move at %d:\n%s", remark, mark, cut, text)
	}
}
