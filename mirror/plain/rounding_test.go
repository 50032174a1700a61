package plain

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/motion"
	"flipcalc/mirror/transform"
)

// TestStep: a step counts only where the writing changed a place.
func TestStep(t *testing.T) {
	for _, tt := range []struct{ text, turn, want string }{
		{"G0 X1.5 Y2 Z1\nG2 X3.5 I1 F9\nM2\n", "0", "0"},
		{"G0 X1.5 Y2 Z1\nG2 X3.5 I1 F9\nM2\n", "90", "0"},
		{"G0 X1.5 Y2 Z1\nG2 X3.5 I1 F9\nM2\n", "1", "0.001"},
		{"G0 X[1/3] Y2 Z1\nM2\n", "0", "0.001"},
		{"G0 X0 Y0 Z1\nG2 X2 Y0 R1.5 F9\nM2\n", "-90", "0.001"}, // its centre isn't finite
		{"G20\nG0 X[1/3] Y2 Z1\nM2\n", "0", "0.00254"},
		{"G0 X1 Y2 Z1\nG1 X[1.0002] F9\nX2\nM2\n", "0", "0.001"}, // a move that was dropped
	} {
		r, err := Write([]byte(tt.text), &bytes.Buffer{}, Options{Turn: decimal.RequireFromString(tt.turn)})
		if err != nil {
			t.Fatal(err)
		}
		if got := r.Step(transform.MM).String(); got != tt.want {
			t.Errorf("%q by %s: step %s, want %s", tt.text, tt.turn, got, tt.want)
		}
	}
}

// TestRoundedTwice: ends and circles of a macro that is written out and then turned, against
// plane geometry in floating point: none lies further off than the two steps together allow,
// and ends lie further off than either alone would. A centre's further digit makes the second
// step of arcs finer.
func TestRoundedTwice(t *testing.T) {
	r := rand.New(rand.NewPCG(16, 4))
	const turn = "33.3"
	sin, cos := math.Sincos(33.3 * math.Pi / 180)
	// From arcs that begin with a place, straight ends otherwise; centre and radius of each.
	type circle [3]float64
	read := func(text string) (ends [][2]float64, circles []circle) {
		if _, err := motion.Walk(strings.NewReader(text), motion.Options{}, func(m *motion.Move) error {
			ends = append(ends, [2]float64{m.To[0].Float(), m.To[1].Float()})
			if m.Circular() {
				c := [2]float64{m.Centre[0].Float(), m.Centre[1].Float()}
				circles = append(circles, circle{c[0], c[1], math.Hypot(m.From[0].Float()-c[0], m.From[1].Float()-c[1])})
			}
			return nil
		}); err != nil {
			t.Fatal(err)
		}
		return ends, circles
	}
	for _, arcs := range []bool{false, true} {
		var text strings.Builder
		var ends [][2]float64
		var circles []circle
		text.WriteString("G21 G90 G0 Z5\n")
		for range 2000 {
			a := [4]int{r.IntN(100_000), r.IntN(100_000), 1 + r.IntN(40_000), r.IntN(40_000)}
			x, y, i, j := float64(a[0])/997, float64(a[1])/997, float64(a[2])/997, float64(a[3])/997
			fmt.Fprintf(&text, "G0 X[%d/997] Y[%d/997]\n", a[0], a[1])
			ends = append(ends, [2]float64{x, y})
			if arcs {
				fmt.Fprintf(&text, "G2 X[[%d+2*%d]/997] Y[[%d+2*%d]/997] I[%d/997] J[%d/997] F900\n", a[0], a[2], a[1], a[3], a[2], a[3])
				ends = append(ends, [2]float64{x + 2*i, y + 2*j})
				circles = append(circles, circle{x + i, y + j, math.Hypot(i, j)})
			}
		}
		text.WriteString("M30\n")
		var once, twice bytes.Buffer
		first, err := Write([]byte(text.String()), &once, Options{})
		if err != nil {
			t.Fatal(err)
		}
		second, err := Write(once.Bytes(), &twice, Options{Turn: decimal.RequireFromString(turn)})
		if err != nil {
			t.Fatal(err)
		}
		q1, q2 := first.Step(transform.MM).InexactFloat64(), second.Step(transform.MM).InexactFloat64()
		const arc = 1.2 / math.Sqrt2 // as budget has it
		most := 0.0
		gotEnds, gotCircles := read(twice.String())
		gotEnds = gotEnds[1:] // Z5
		if len(gotEnds) != len(ends) || len(gotCircles) != len(circles) {
			t.Fatalf("%d ends and %d arcs", len(gotEnds), len(gotCircles))
		}
		for k, e := range ends {
			most = math.Max(most, math.Hypot(e[0]*cos-e[1]*sin-gotEnds[k][0], e[0]*sin+e[1]*cos-gotEnds[k][1]))
		}
		for k, c := range circles {
			g := gotCircles[k]
			most = math.Max(most, math.Hypot(c[0]*cos-c[1]*sin-g[0], c[0]*sin+c[1]*cos-g[1])+math.Abs(c[2]-g[2]))
		}
		if most > arc*(q1+q2)+1e-8 || !arcs && most < arc*math.Max(q1, q2) {
			t.Errorf("arcs %v: off by %.7f with steps %g and %g: the bound is %.7f, for one rounding %.7f", arcs, most, q1, q2, arc*(q1+q2), arc*math.Max(q1, q2))
		}
	}
}
