package motion

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// TestOtherCounting: ways of counting that are common practice, from memory, and not in
// NISTIR 6556. Places from closed forms.
func TestOtherCounting(t *testing.T) {
	check(t, []table{
		{source: "G16: along the plane's first axis a radius, along its second an angle from the first, counter-clockwise, about zero", before: "G21 G90 G17 F9 G0 X1 Y1 Z5", rows: []row{
			{"G16 X10 Y0", "r 10,0,5"}, {"G16 X10 Y90", "r 0,10,5"}, {"G16 X10 Y180", "r -10,0,5"}, {"G16 X10 Y-90", "r 0,-10,5"}, {"G16 X10 Y30", "r 8.660254,5,5"}, {"G16 X10 Y390", "r 8.660254,5,5"}, {"G16 X0 Y45", "r 0,0,5"}, {"G16 Y90 X10 Z1", "r 0,10,1"}, {"G16|X10 Y0|Y90", "r 10,0,5; r 0,10,5"}, {"G16 X10 Y90|X5", "r 0,10,5; r 0,5,5"},
			{"G16 X10 Y60|G91 Y30", "r 5,8.660254,5; r 0,10,5"}, {"G16 X10 Y60|G91 Y30|Y-90", "r 5,8.660254,5; r 0,10,5; r 10,0,5"}, {"G16 X10 Y90|G91 Z-1", "r 0,10,5; r 0,10,4"}, {"G16 X10 Y90|G15 X2 Y2", "r 0,10,5; r 2,2,5"}, {"G16 X10 Y90|G15 G91 X1", "r 0,10,5; r 1,10,5"}, {"G16 G1 X10 Y90", "f 0,10,5"}, {"G16 X5 Y0|G3 X5 Y90 R5", "r 5,0,5; ccw 0,5,5 @0,0 by 90"}, {"G15 X5", "r 5,1,5"},
			{"G16 G99 G81 X10 Y0 R1 Z-1|Y90|G80", "r 10,0,5; r 10,0,1; f 10,0,-1; r 10,0,1; r 0,10,1; f 0,10,-1; r 0,10,1"}, {"G16 G98 G81 X10 Y0 R1 Z-1|G91 Y90 Z-2 R-4 L2", "r 10,0,5; r 10,0,1; f 10,0,-1; r 10,0,5; r 0,10,5; r 0,10,1; f 0,10,-1; r 0,10,5; r -10,0,5; r -10,0,1; f -10,0,-1; r -10,0,5"},
			{"G18 G16 Z10 X0", "r 0,1,10"}, {"G18 G16 Z10 X90", "r 10,1,0"}, {"G19 G16 Y10 Z90", "r 1,0,10"}, {"G52 X5 Y5|G16 X10 Y0", "r 10,0,5"}, {"G20 G16 X1 Y90", "r 0,1,0.19685"}, {"G16 X5", "!1:1: a first move after G16"}, {"G16 Y5", "!1:1: a first move after G16"}, {"G16 G91 X5 Y5", "!1:9: a radius (X) in G91"}, {"G16 X-1 Y5", "!1:5: a radius of -1"}, {"G16 X5 Y0|G2 X5 Y90 I-5", "!2:11: I while G16 is on"}, {"G16|G16", "!2:1: G16 while G16 is on"},
		}},
		{source: "G51: lengths from its centre on, P for all axes, I J K for each; G50 ends it and moves nothing", before: "G21 G90 G17 F9 G0 X1 Y1 Z1", rows: []row{
			{"G51 X0 Y0 Z0 P2.|X3 Y4 Z5", "r 6,8,10"}, {"G51 X0 Y0 Z0 P.5|X3 Y4 Z5", "r 1.5,2,2.5"}, {"G51 X10 Y20 Z0 P2.|X11 Y19 Z1", "r 12,18,2"}, {"G51 X10 Y20 Z0 P2.|X10 Y20 Z0", "r 10,20,0"}, {"G51 X0 Y0 Z0 P2.|G91 X3 Y-4", "r 7,-7,1"}, {"G51 X0 Y0 Z0 P2.|X3", "r 6,1,1"}, {"G51 X0 Y0 Z0 P2.|X3|G50|G91 X1", "r 6,1,1; r 7,1,1"}, {"G51 X0 Y0 Z0 P2.|X3|G50 G0 X3", "r 6,1,1; r 3,1,1"}, {"G51 X0 Y0 Z0 P2.|X3|G50 X3", "!3:1: G50"},
			{"G51 X0 Y0 Z0 I2. J3. K.5|X3 Y3 Z3", "r 6,9,1.5"}, {"G51 X0 I2.|X3 Y3", "r 6,3,1"}, {"G51 X0 Y0 I1. J3.|X2 Y2", "r 2,6,1"}, {"G51 X0 Y0 Z0 P1.|X3", "r 3,1,1"}, {"G51 X0 Y0 Z0 P2.|X0 Y0 Z0|G2 X5 I2.5", "r 0,0,0; cw 10,0,0 @5,0 by -180"}, {"G51 X0 Y0 Z0 P2.|X0 Y0 Z0|G3 X5 R2.5", "r 0,0,0; ccw 10,0,0 @5,0 by 180"}, {"G51 X0 Y0 Z0 P2.|X0 Y0|G90.1 G2 X5 I2.5 J0", "r 0,0,1; cw 10,0,1 @5,0 by -180"},
			{"G51 X0 Y0 Z0 P2.|G81 X3 Y3 Z-1 R.25|G80", "r 6,6,1; r 6,6,0.5; f 6,6,-2; r 6,6,1"}, {"G51 X0 Y0 Z0 P2.|G91 G81 X1 R-.25 Z-1 L2|G80", "r 3,1,1; r 3,1,0.5; f 3,1,-1.5; r 3,1,1; r 5,1,1; r 5,1,0.5; f 5,1,-1.5; r 5,1,1"}, {"G51 X0 Y0 Z0 P2.|G83 X3 Y3 Z-1 R.5 Q2|G80", "r 6,6,1; f 6,6,-1; r 6,6,1; r 6,6,-0.746; f 6,6,-2; r 6,6,1"}, // pecks stay
			{"G51 X0 Y0 P2.", "!1:1: G51 without Z"}, {"G51 X0 Y0 Z0 P2", "!1:14: P2 with G51, without a point"}, {"G51 X0 Y0 Z0 P-1.", "!1:14: P-1 with G51 (a mirror)"}, {"G51 X0 Y0 Z0 P0.", "!1:14: P0 with G51"}, {"G51 X0 Y0 Z0", "!1:1: G51 without a factor"}, {"G51 G0 X0 Y0 Z0 P2.", "!1:1: G51 beside a motion word"}, {"G51 X0 Y0 I2. J3.|X0 Y0|G2 X1 I.5", "!3:1: an arc while G51 scales by 2 and 3"},
			{"G51 X0 Y0 Z0 P2.|G52 X1", "!2:1: G52 while G51 is on"}, {"G51 X0 Y0 Z0 P2.|G28 Z5", "!2:1: G28 while G51 is on"}, {"G51 X0 Y0 Z0 P2.|G54", "!2:1: G54 while G51 is on"}, {"G50|X5", "r 5,1,1"}, {"G51 X0 Y0 Z0 P2.|G87 X1 R1 Z-1", "!2:1: G87 while G51 is on"},
		}},
		{source: "G5 and G5.1: a curve with its control points; without I and J it goes on straight from the G5 before", before: "G21 G90 G17 F9 G0 X0 Y0 Z0",
			tell: func(m *Move) string {
				s := ends(m)
				for _, c := range m.Control {
					s += fmt.Sprintf(" %s,%s", short(c[0].Float()), short(c[1].Float()))
				}
				return s
			}, rows: []row{
				{"G5 X9 Y3 I1 J2 P-3 Q-4", "s 9,3,0 1,2 -3,-4"}, {"G5 X9 I1 J2 P-3", "s 9,0,0 1,2 -3,0"}, {"G5 X9 I1 J2 P-3 Q-4|X18 P-1 Q1", "s 9,0,0 1,2 -3,-4; s 18,0,0 3,4 -1,1"}, {"G5 X9 I1 J2 P-3 Q-4|G1 X10|G5 X18 P-1 Q1", "!3:1: G5 without I or J"}, {"G5 X9 I1 J2 P-3 Q-4|G91 X9 P-1 Q1", "s 9,0,0 1,2 -3,-4; s 18,0,0 3,4 -1,1"},
				{"G5.1 X9 I4 J6", "s 9,0,0 4,6 -5,6"}, {"G91 G5.1 X9 Y3 I4 J6", "s 9,3,0 4,6 -5,3"}, {"G5 X25.4 I2.54 J0 P-25.4 Q0|G20 X2 P-1 Q1", "s 25.4,0,0 2.54,0 -25.4,0; s 2,0,0 1,0 -1,1"}, {"G5 X9 I1 J2 P-3 Q-4|F5|X18 P-1 Q1", "s 9,0,0 1,2 -3,-4; s 18,0,0 3,4 -1,1"},
				{"G5 X9 I1 J2", "!1:1: G5 without P or Q"}, {"G5 X9 P1 Q2", "!1:1: G5 without I or J"}, {"G5.1 X9", "!1:1: G5.1 without I or J"}, {"G5 X9 Z1 I1 J2 P1 Q1", "!1:7: G5 with another axis"}, {"G18 G5 X9 I1 J1 P1 Q1", "!1:5: G5 in G18"}, {"G41 D1 G5 X9 I1 J1 P1 Q1", "!1:8: G5 while cutter compensation"}, {"G93 G5 X9 I1 J1 P1 Q1", "!1:1: a move in G93"}, {"G5.2 X1", "!1:1: G5.2"}, {"G5.3", "!1:1: G5.3"},
			}},
		{source: "G12 and G13: down where the tool stands, and one circle round it, of radius I, or K where I only begins", before: "G21 G90 G17 F9 G0 X1 Y2 Z3", rows: []row{
			{"G12 I5", "cw 1,2,3 @1,2 by -360"}, {"G13 I5 Z-1", "f 1,2,-1; ccw 1,2,-1 @1,2 by 360"}, {"G91 G12 I5 Z-1", "f 1,2,2; cw 1,2,2 @1,2 by -360"}, {"G12 I2 K5 Q1", "cw 1,2,3 @1,2 by -360"}, {"G12 I5|G1 X5", "cw 1,2,3 @1,2 by -360; f 5,2,3"}, {"G12", "!1:1: G12 without a radius"}, {"G12 I0", "!1:1: G12 without a radius"}, {"G12 I-5", "!1:1: G12 without a radius"}, {"G12 I5 K4", "!1:8: G12 whose K"}, {"G12 I5 X1", "!1:1: G12 with X, Y or J"}, {"G12 I5 J1", "!1:1: G12 with X, Y or J"}, {"G19 G13 I5", "!1:5: G13 in G19"},
		}},
	})
}

// TestDrawnTurns: moves and arcs drawn at random under G68 and under shifts by G52 and G92: where
// they lie in the work offset is what gonum's matrix makes of the numbers that were drawn.
func TestDrawnTurns(t *testing.T) {
	r := rand.New(rand.NewPCG(6, 8))
	draw := func(most int) float64 { return float64(r.IntN(2000*most)-1000*most) / 1000 }
	for range 600 {
		angle, cx, cy, shift, named := draw(360), draw(50), draw(50), [2]float64{draw(20), draw(20)}, [2]float64{draw(20), draw(20)}
		sin, cos := math.Sincos(angle * math.Pi / 180)
		turn := mat.NewDense(2, 2, []float64{cos, -sin, sin, cos})
		at := [2]float64{draw(50), draw(50)}
		// G52 first: the tool stands at at - shift then, which G92 calls named, so that coordinates
		// lie further by at - named.
		text := fmt.Sprintf("G21 G90 G17 G91.1 F9\nG0 X%v Y%v Z1\nG52 X%v Y%v\nG92 X%v Y%v\nG68 X%v Y%v R%v\n", at[0], at[1], shift[0], shift[1], named[0], named[1], cx, cy, angle)
		off := [2]float64{at[0] - named[0], at[1] - named[1]}
		var want [][2]float64
		place := func(x, y float64) [2]float64 {
			var v mat.VecDense
			v.MulVec(turn, mat.NewVecDense(2, []float64{x - cx, y - cy}))
			return [2]float64{v.AtVec(0) + cx + off[0], v.AtVec(1) + cy + off[1]}
		}
		x, y := draw(40), draw(40)
		text += fmt.Sprintf("G1 X%v Y%v\n", x, y)
		want = append(want, place(x, y))
		for range 5 {
			switch r.IntN(4) {
			case 0:
				x, y = draw(40), draw(40)
				text += fmt.Sprintf("G1 X%v Y%v\n", x, y)
			case 1:
				x = draw(40)
				text += fmt.Sprintf("G1 X%v\n", x)
			case 2:
				dy := draw(10)
				y += dy
				text += fmt.Sprintf("G91 G1 Y%v\nG90\n", dy)
			default: // half a turn by centre, whose own place is the middle of its ends
				i, j := draw(9), draw(9)
				text += fmt.Sprintf("G2 X%.3f Y%.3f I%v J%v\n", x+2*i, y+2*j, i, j)
				want = append(want, place(x+i, y+j))
				x, y = x+2*i, y+2*j
			}
			want = append(want, place(x, y))
		}
		// Behind G69 counts go on from where the tool is.
		text += "G69\nG91 G1 X1\n"
		last := want[len(want)-1]
		want = append(want, [2]float64{last[0] + 1, last[1]})
		var track Track
		k := 0
		_, err := Walk(strings.NewReader(text), Options{}, func(m *Move) error {
			v, ok := track.In(m)
			if m.Line == 2 {
				return nil
			}
			got := [][2]float64{{v.To[0].Float(), v.To[1].Float()}}
			if v.Circular() {
				got = append([][2]float64{{v.Centre[0].Float(), v.Centre[1].Float()}}, got...)
			}
			for _, g := range got {
				// Ten places of 1e-9 each add up at most.
				if k >= len(want) || !ok || math.Hypot(g[0]-want[k][0], g[1]-want[k][1]) > 2e-8 {
					t.Errorf("%s: place %d in line %d at %v, %v", text, k, m.Line, g, want[min(k, len(want)-1)])
				}
				k++
			}
			return nil
		})
		if err != nil || k != len(want) {
			t.Fatalf("%s: %v, %d of %d places", text, err, k, len(want))
		}
	}
}
