package mirror

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"gonum.org/v1/gonum/mat"

	"flipcalc/mirror/motion"
)

func degrees(s string) decimal.Decimal { return decimal.RequireFromString(s) }

// TestTurnedProgram: the mirror image, then the turn about the back zero.
func TestTurnedProgram(t *testing.T) {
	const in = "G21 G17 G54\nT1 M6\nG0 X10 Y20 Z5\nG1 Z-1 F90\nG2 X30 I10\nG0 Z5\nM30\n"
	for _, tt := range []struct{ turn, in, want string }{
		{"180", in, "G21 G17 G55\nT1 M6\nG0 X-90 Y-20 Z5\nG1 Z-1 F90\nG3 X-70 I10\nG0 Z5\nM30\n"},
		{"90", in, "G90 G91.1\nG21 G17 G55\nT1 M6\nG0 X-20.0 Y90.0 Z5.0\nG1 Z-1.0 F90\nG3 X-20.0 Y70.0 I0.0 J-10.0\nG0 Z5.0\nM30\n"},
		{"-30", in, "G90 G91.1\nG21 G17 G55\nT1 M6\nG0 X87.942 Y-27.679 Z5.0\nG1 Z-1.0 F90\nG3 X70.622 Y-17.679 I-8.66 J4.9995\nG0 Z5.0\nM30\n"},
		{"1", "G54 G0 X1 Y1 Z5\nG56 G0 X1 Y1\nM2\n", "p.nc:1:1: G54, G56, and a turn of 1 degrees, expected one work offset, about whose zero the program is turned; hint: write one program for each offset"},
		{"1", "(a)\nG54 G0 X1 Y1 Z5\nG53 X0\nM2\n", "p.nc:3:1: G53 with one of X and Y, expected both X and Y, or Z alone, since the program is turned by 1 degrees"},
		{"1", "G0 X1 Y#1\nM2\n", "p.nc:1:7: "},
	} {
		o := Options{Name: "p.nc", Map: flipY("100").Turned(degrees(tt.turn)), OffsetMap: map[string]string{"G54": "G55", "G56": "G57"}, Comment: "x"}
		var out bytes.Buffer
		r, err := Mirror(strings.NewReader(tt.in), &out, o)
		got := strings.TrimPrefix(out.String(), "(flipcalc: x)\n")
		if err != nil {
			got = err.Error()
		}
		if tt.want != got && !(err != nil && strings.HasPrefix(got, tt.want)) {
			t.Errorf("by %s:\ngot  %q\nwant %q", tt.turn, got, tt.want)
		}
		if err == nil && tt.turn == "-30" && (r.Written == nil || r.Map.Turn.String() != "-30") {
			t.Errorf("reported %+v", r)
		}
	}
}

// TestTurnedMoves: second derivation: the matrix of the flip, then that of the turn, carry
// the ends of a program's moves to those of the turned program, within half a step of its
// numbers in each axis.
func TestTurnedMoves(t *testing.T) {
	const in = "G21 G90 G0 X1.5 Y2 Z5\nG1 Z-1 F90\nX40.25 Y7\nG3 X30 Y20 R40\nG91 X1 Y1 R3\nG90 G81 X3 Y4 Z-2 R1\nX5\nG80\nG52 X10\nG0 X0 Y0\nG52 X0\nM30\n"
	ends := func(text string) (all [][]float64) {
		var track motion.Track
		if _, err := motion.Walk(strings.NewReader(text), motion.Options{}, func(m *motion.Move) error {
			v, _ := track.In(m)
			all = append(all, []float64{v.To[0].Float(), v.To[1].Float(), 1})
			return nil
		}); err != nil {
			t.Fatal(err)
		}
		return all
	}
	for _, turn := range []string{"0.00001", "-45", "90", "123.4", "180"} {
		m := flipY("120.125").Turned(degrees(turn))
		var out bytes.Buffer
		if _, err := Mirror(strings.NewReader(in), &out, Options{Map: m}); err != nil {
			t.Fatal(err)
		}
		sin, cos := math.Sincos(degrees(turn).InexactFloat64() * math.Pi / 180)
		flip := mat.NewDense(3, 3, []float64{-1, 0, 120.125, 0, 1, 0, 0, 0, 1})
		var whole mat.Dense
		whole.Mul(mat.NewDense(3, 3, []float64{cos, -sin, 0, sin, cos, 0, 0, 0, 1}), flip)
		before, after := ends(in), ends(out.String())
		if len(before) != len(after) {
			t.Errorf("by %s: %d moves become %d", turn, len(before), len(after))
			continue
		}
		for i := range before {
			var want mat.VecDense
			want.MulVec(&whole, mat.NewVecDense(3, before[i]))
			if x, y := want.AtVec(0)-after[i][0], want.AtVec(1)-after[i][1]; math.Abs(x) > 0.0005+1e-8 || math.Abs(y) > 0.0005+1e-8 {
				t.Errorf("by %s, move %d: off by %g, %g", turn, i+1, x, y)
			}
		}
	}
}

// TestSourceLine: lines of what was written count as lines of the maker's program; in a
// chain that was reversed all are its first.
func TestSourceLine(t *testing.T) {
	for _, tt := range []struct {
		name, in, comment, offset, turn string
		lines                           map[int]int
	}{
		{"nothing added", "G0 X1 Y1 Z1\nG1 X2 F9\nM2\n", "", "", "0", map[int]int{3: 3}},
		{"a comment on top", "%\nO1\nG0 X1\nM2\n%\n", "back", "", "0", map[int]int{2: 2, 4: 3, 5: 4}},
		{"comment and offset", "G21\nG0 X1\nM2\n", "back", "G56", "0", map[int]int{2: 1, 4: 2, 5: 3}},
		{"a comment replaced", "(flipcalc: back of x)\nG0 X1\nM2\n", "back of y", "", "0", map[int]int{2: 2}},
		{"its own offset comes first", "G56\nG0 X1\nM2\n", "back", "G57", "0", map[int]int{3: 2}},
		{"reversed", "G21 F9\nG0 Z5\nX0 Y0\nG1 Z-1\nX1\nX2\nX0\nG0 Z5\nM2\n", "back", "", "0", map[int]int{2: 1, 4: 3, 5: 4, 6: 5, 7: 5, 8: 5}},
		{"turned, a head line more", "G21\nG0 X1 Y2\nM2\n", "back", "G56", "2", map[int]int{3: 1, 5: 2, 6: 3}},
	} {
		o := Options{Map: flipY("100").Turned(degrees(tt.turn)), Comment: tt.comment, BackOffset: tt.offset, ReverseCuts: tt.name == "reversed"}
		var out bytes.Buffer
		r, err := Mirror(strings.NewReader(tt.in), &out, o)
		if err != nil {
			t.Errorf("%s: %v", tt.name, err)
			continue
		}
		for line, want := range tt.lines {
			if got := r.SourceLine(line); got != want {
				t.Errorf("%s: line %d is line %d, want %d:\n%s", tt.name, line, got, want, out.String())
			}
		}
	}
}
