package plain

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"gonum.org/v1/gonum/mat"

	"flipcalc/mirror/motion"
	"flipcalc/mirror/transform"
)

// turnedOut gives what a program becomes under a turn, or the message.
func turnedOut(text, degrees string) string {
	var out strings.Builder
	if _, err := Write([]byte(text), &out, Options{Read: motion.Options{Name: "p.nc"}, Turn: decimal.RequireFromString(degrees)}); err != nil {
		return err.Error()
	}
	return out.String()
}

// TestTurn: one row a rule.
func TestTurn(t *testing.T) {
	for _, tt := range []struct{ name, degrees, text, want string }{
		{"a quarter, exact", "90", "G0 X1.25 Y2 Z5\nG1 Z-1 F90\nX5\nG91 Y-1.125\nM2\n",
			"G90 G91.1\nG0 X-2.0 Y1.25 Z5.0\nG1 Z-1.0 F90\nG1 X-2.0 Y5.0\nG1 X-0.875 Y5.0\nM2\n"},
		{"a quarter clockwise", "-90", "G0 X1 Y2 Z5\nG2 X3 I1 F9\nM2\n", "G90 G91.1\nG0 X2.0 Y-1.0 Z5.0\nG2 X2.0 Y-3.0 I0.0 J-1.0 F9\nM2\n"},
		{"a half", "180", "G0 X1 Y2 Z5\nM2\n", "G90 G91.1\nG0 X-1.0 Y-2.0 Z5.0\nM2\n"},
		{"any turn", "30", "G0 X10 Y0 Z5\nG41 D1 G1 Y10 F9\nG81 X0 Y0 Z-1 R1\nM2\n",
			"G90 G91.1\nG0 X8.66 Y5.0 Z5.0\nG41 G1 X3.66 Y13.66 D1 F9\nG81 X0.0 Y0.0 Z-1.0 R1.0\nM2\n"},
		{"G18 becomes G19", "90", "G18\nG0 X0 Y3 Z0\nG2 X10 Z0 I5 K0 F9\nM2\n", "G90 G91.1\nG19\nG0 X-3.0 Y0.0 Z0.0\nG3 X-3.0 Y10.0 Z0.0 J5.0 K0.0 F9\nM2\n"},
		{"no motion in a plane of its own", "12", "G19\nG0 X0 Y0 Z5\nG17\nM2\n", "G90 G91.1\nG19\nG0 X0.0 Y0.0 Z5.0\nG17\nM2\n"},
		{"counts from nowhere", "90", "G91 G1 X1 F9\nM2\n", "G90 G91.1\nG91 G1 X0.0 Y1.0 F9\nG90\nM2\n"},
		{"home", "90", "G0 X1 Y2 Z5\nG91 G28 Z0\nG28 X0 Y0\nM2\n", "G90 G91.1\nG0 X-2.0 Y1.0 Z5.0\nG91 G28 Z0\nG90\nG91 G28 X0 Y0\nG90\nM2\n"},
		{"an arc outside G17", "12", "G18\nG0 X0 Y0 Z0\nG2 X10 Z0 I5 K0 F9\nM2\n", "p.nc:3:1: an arc in G18, expected arcs in G17, since the program is turned by 12 degrees"},
		{"one axis alone", "12", "G0 X5\nM2\n", "p.nc:1:1: a move while one of X and Y isn't known, expected both X and Y in G90 first, since the program is turned by 12 degrees"},
		{"one axis of the machine", "12", "G0 X5 Y5\nG53 X0\nM2\n", "p.nc:2:1: G53 with one of X and Y, expected both X and Y, or Z alone, since the program is turned by 12 degrees"},
		{"one axis home", "12", "G0 X5 Y5\nG28 X0\nM2\n", "p.nc:2:1: a move home in one of X and Y, expected both X and Y, or Z alone, since the program is turned by 12 degrees"},
		{"a zero here", "90", "G92 X0 Y5\nG1 X1 Y5 Z0 F9\nG92 X0 Y0\nG1 Y1\nM2\n", "G90 G91.1\nG92 X-5.0 Y0.0\nG1 X-5.0 Y1.0 Z0.0 F9\nG92 X0.0 Y0.0\nG1 X-1.0 Y0.0\nM2\n"},
		{"a spline", "-90", "G0 X0 Y0 Z5\nG5 X9 Y3 I1 J2 P-3 Q-4 F9\nM2\n", "G90 G91.1\nG0 X0.0 Y0.0 Z5.0\nG5 X3.0 Y-9.0 I2.0 J-1.0 P-4.0 Q3.0 F9\nM2\n"},
		{"one axis of a zero here", "12", "G92 X0\nG1 X1 F9\nM2\n", "p.nc:1:1: G92 with one of X and Y where the place isn't known, expected both X and Y, since the program is turned by 12 degrees"},
		{"G87", "12", "G0 X5 Y5 Z5\nG87 X1 Y1 Z0 R1\nM2\n", "p.nc:2:1: G87, or a cycle outside G17, expected its moves in G0 and G1, since the program is turned by 12 degrees"},
		{"home, and the machine's place, in G18", "90", "G18\nG28\nG53 X0 Y0\nG0 X1 Y1 Z1\nM2\n", "G90 G91.1\nG19\nG28\nG53 X0 Y0\nG0 X-1.0 Y1.0 Z1.0\nM2\n"},
		{"far away", "12", "G0 X100001 Y5\nM2\n", "p.nc:1:1: a place more than 100000 from X0 Y0, expected a number that a machine can use, since the program is turned by 12 degrees"},
		{"compensation in G18", "90", "G0 X1 Y1\nG41 D1\nG18 G1 X9 F9\nM2\n", "p.nc:3:1: cutter compensation outside G17, expected G40, since the program is turned by 90 degrees"},
	} {
		if got := turnedOut(tt.text, tt.degrees); got != tt.want {
			t.Errorf("%s:\ngot  %q\nwant %q", tt.name, got, tt.want)
		}
	}
}

// points gives places of a text's moves: ends, and on arcs the place half way.
func points(t *testing.T, text string) (all [][3]float64) {
	t.Helper()
	track := motion.Track{Renamed: true}
	visit := func(m *motion.Move) {
		v, _ := track.In(m)
		if v.Home || v.Machine || !v.ToOK[0] || !v.ToOK[1] || v.FromOK == v.ToOK && v.From.Equal(v.To) && !v.Circular() {
			return
		}
		put := func(p [3]float64) { all = append(all, p) }
		if v.Circular() {
			centre, radius, sweep, ok := v.Arc()
			if !ok {
				t.Fatal("an arc from nowhere")
			}
			first, second, normal := v.State.Plane.Axes()
			at := math.Atan2(v.From[second].Float()-centre[1], v.From[first].Float()-centre[0]) + sweep/2
			var p [3]float64
			p[first], p[second] = centre[0]+radius*math.Cos(at), centre[1]+radius*math.Sin(at)
			p[normal] = (v.From[normal].Float() + v.To[normal].Float()) / 2
			put(p)
		}
		put([3]float64{v.To[0].Float(), v.To[1].Float(), v.To[2].Float()})
	}
	err := motion.Run([]byte(text), motion.Options{Name: "points"}, func(_ *motion.Machine, _ *motion.Block, moves []motion.Move) error {
		for i := range moves {
			visit(&moves[i])
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// TestTurnedPlaces: second derivation: a rotation matrix of gonum carries every place of
// the program to that of the written one, within the bound of prove.go: q/2 in each axis
// at ends, 0.849 q along an arc.
func TestTurnedPlaces(t *testing.T) {
	texts := map[string]string{}
	for k, v := range victims {
		texts[fmt.Sprint("victim ", k)] = v
	}
	texts["planes"] = "G0 X1 Y2 Z3\nG18 G2 X11 Z3 I5 K0 F9\nG3 X1 Z3 I-5 K0\nG19 G2 Y12 Z3 J5 K0\nG3 Y6 Z1 X4 R20\nG17 G2 X8 Y9 R9\nM2\n"
	names, _ := filepath.Glob("../../testdata/*/*.nc")
	for _, name := range names {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		texts[name] = string(text)
	}
	moves, written := 0, 0
	for name, text := range texts {
		for _, degrees := range []string{"90", "-90", "0.01234", "37.5", "-141.00001", "179.99999"} {
			theta := decimal.RequireFromString(degrees)
			var out bytes.Buffer
			r, err := Write([]byte(text), &out, Options{Read: motion.Options{Name: name}, Turn: theta})
			if err != nil {
				continue
			}
			if written++; r.Dropped > 0 {
				continue // the places no longer come in pairs
			}
			sin, cos := math.Sincos(theta.InexactFloat64() * math.Pi / 180)
			rotation := mat.NewDense(3, 3, []float64{cos, -sin, 0, sin, cos, 0, 0, 0, 1})
			before, after := points(t, text), points(t, out.String())
			if len(before) != len(after) {
				t.Errorf("%s by %s: %d places become %d", name, degrees, len(before), len(after))
				continue
			}
			q := 0.001
			if strings.Contains(text, "G20") {
				q = 0.0001
			}
			for i := range before {
				var want mat.VecDense
				want.MulVec(rotation, mat.NewVecDense(3, before[i][:]))
				if off := math.Hypot(want.AtVec(0)-after[i][0], want.AtVec(1)-after[i][1]); off > 0.849*q || math.Abs(want.AtVec(2)-after[i][2]) > q/2 {
					t.Errorf("%s by %s: place %d lies at %v, want %v", name, degrees, i+1, after[i], want.RawVector().Data)
					break
				}
			}
			moves += len(before)
		}
	}
	t.Logf("%d places in %d written programs", moves, written)
	if written < 60 || moves < 5000 {
		t.Errorf("only %d places in %d programs", moves, written)
	}
}

// TestTurnedMap: half a turn is two signs, and turns add up.
func TestTurnedMap(t *testing.T) {
	m := transform.Identity(transform.MM)
	m.X = transform.Axis{Sign: -1, Offset: decimal.New(120, 0)}
	turn := func(d string) string { return m.Turned(decimal.RequireFromString(d)).String() }
	for _, tt := range [][2]string{
		{"180", "x' = x - 120, y' = -y, z' = z"},
		{"-180", "x' = x - 120, y' = -y, z' = z"},
		{"270", "x' = 120 - x, y' = y, z' = z, turned by -90 degrees about X0 Y0"},
		{"0.5", "x' = 120 - x, y' = y, z' = z, turned by 0.5 degrees about X0 Y0"},
		{"-359.5", "x' = 120 - x, y' = y, z' = z, turned by 0.5 degrees about X0 Y0"},
	} {
		if got := turn(tt[0]); got != tt[1] {
			t.Errorf("turned by %s: %s, want %s", tt[0], got, tt[1])
		}
	}
}
