package motion

import (
	"math"
	"strings"
	"testing"
)

// TestTimes: minutes of a program without ramps, rapids at 6000, 3000 and 1200 mm/min along X, Y
// and Z. A way of l at F takes l/F in G94, 1/F in G93, l/(F S) in G95.
func TestTimes(t *testing.T) {
	fast := [3]float64{math.Inf(1), math.Inf(1), math.Inf(1)}
	o := Options{Rates: &Rates{Rapid: [3]float64{6000, 3000, 1200}, Acceleration: fast}}
	for _, c := range []struct {
		source string
		rows   []struct {
			program string
			minutes float64
		}
	}{
		{"NISTIR 6556, 3.5.19 and 2.1.2.5: F is along the path, of a helix too; in inches per minute under G20", []struct {
			program string
			minutes float64
		}{
			{"G1 X60 F60", 1}, {"G1 X-60 F60", 1}, {"G1 Y60 F120", 0.5}, {"G1 Z-30 F60", 0.5}, {"G1 X30 Y40 F100", 0.5}, {"G1 X20 Y30 Z60 F70", 1}, {"G91 G1 X30 F60|X30", 1}, {"G1 X60 F60|Y60 F120", 1.5}, {"F60|G1 X60", 1}, {"G1 X60 F60|F120|X0", 1.5},
			{"G20 G1 X10 F5", 2}, {"G20 G1 X3 Y4 F5", 1}, {"G20|G1 X1 F1|G21 X0", 1 + 25.4}, {"G21 G1 X25.4 F25.4", 1}, // F stays a number: value from memory
			{"G2 X10 I5 F10", math.Pi / 2}, {"G3 I5 F10", math.Pi}, {"G2 X10 I5 Z-5 F10", math.Hypot(5*math.Pi, 5) / 10}, {"G3 I5 P3 F10", 3 * math.Pi}, {"G2 X10 R5 F10", math.Pi / 2}, {"G2 X6 R5 F1", 10 * math.Asin(0.6)}, {"G18 G2 X10 I5 F10", math.Pi / 2},
			{"G19 G3 K5 F10", math.Pi}, {"G5.1 X10 Y0 I5 J0 F10", 1}, {"G12 I5 F10", math.Pi}, {"G13 I2 K5 Q1 Z-5 F10", math.Pi + 0.5}, {"G1 X60", 0}, {"G1 X0 F60", 0},
		}},
		{"NISTIR 6556, 3.5.19: in G93 each move takes 1/F minutes, whatever its length", []struct {
			program string
			minutes float64
		}{
			{"G93 G1 X60 F2", 0.5}, {"G93 G1 X1 F2", 0.5}, {"G93 G1 X60 F2|X0 F4", 0.75}, {"G93 G2 X10 I5 F5", 0.2}, {"G93 G1 X60 F2|G94 X0 F60", 1.5}, {"G20 G93 G1 X60 F2", 0.5}, {"G93 G5.1 X10 I5 J5 F4", 0.25}, {"G93 G1 X5 F2|Y5 F2|X0 F2", 1.5}, {"G93 G1 X1 F2|X5 F2", 1}, {"G93 G1 X1 F2|X3 F1", 1.5},
		}},
		{"common practice: in G95 F is by revolution", []struct {
			program string
			minutes float64
		}{
			{"G95 S100 G1 X60 F0.6", 1}, {"G95 G1 X60 F0.3 S400", 0.5}, {"G20 G95 S100 G1 X6 F0.06", 1}, {"G95 S100 G1 X60 F.6|G94 X0 F60", 2}, {"G95 G1 X60 F1", 0},
		}},
		{"common practice: at rapid each axis keeps to its own limit, all arrive at once", []struct {
			program string
			minutes float64
		}{
			{"G0 X60", 0.01}, {"G0 Y60", 0.02}, {"G0 Z60", 0.05}, {"G0 X60 Y60", 0.02}, {"G0 X60 Y15 Z-12", 0.01}, {"G0 X-60 Y-60 Z-60", 0.05}, {"G20 G0 X10", 0.254 / 6}, {"G93 G0 X60", 0.01}, {"G95 G0 X60", 0.01}, {"G0 X60|X0|X60", 0.03},
			{"G81 X60 R0 Z-12 F12", 0.01 + 1 + 0.01}, {"G85 X0 R0 Z-12 F12", 2}, {"G82 X0 R0 Z-12 P60 F12", 1.01}, // the dwell isn't counted
		}},
	} {
		for _, r := range c.rows {
			s, err := Walk(strings.NewReader("G21 G90 G17 G94 G92 X0 Y0 Z0\n"+strings.ReplaceAll(r.program, "|", "\n")+"\n"), o, nil)
			if err != nil {
				t.Errorf("%s: %v", r.program, err)
			} else if math.Abs(s.Seconds/60-r.minutes) > 1e-9 {
				t.Errorf("%s (%s): %v min, want %v", r.program, c.source, s.Seconds/60, r.minutes)
			}
		}
	}
	check(t, []table{
		{source: "NISTIR 6556, 3.5.19: in G93 each of G1 to G3 has its own F, G0 none", before: "G21 G90 G17 G0 X0 Y0 Z0", rows: []row{
			{"G93 G1 X1 F1", "f 1,0,0"}, {"G93 G1 X1", "!1:1: a move in G93 without F"}, {"F9 G93|G1 X1", "!2:1: a move in G93 without F"}, {"G93 G1 X1 F1|X2", "!2:1: a move in G93 without F"}, {"G93 X1", "r 1,0,0"}, {"G93 G1 X1 F1|G0 X2", "f 1,0,0; r 2,0,0"},
			{"G93 G3 X2 I1", "!1:1: a move in G93 without F"}, {"G93 G1 X1 F1|G94 X2", "f 1,0,0; f 2,0,0"}, {"G1 F1|G93 F2 X1", "f 1,0,0"}, {"G93 G1 Z1 F0", "f 0,0,1"}, {"G96 X1", "!1:1: G96 (constant surface speed"}, {"G97 S9 X1", "r 1,0,0"},
		}},
		{source: "NISTIR 6556, 3.5.4: G4 P; its time as X or U: common practice; it moves nothing and leaves the motion", before: "G21 G90 G17 G1 F9 X0 Y0 Z0", rows: []row{
			{"G4 P1|X1", "f 1,0,0"}, {"G4 P0|X1", "f 1,0,0"}, {"G4 X1.5|X1", "f 1,0,0"}, {"G4 U1.5|X1", "f 1,0,0"}, {"G4 S5|X1", "f 1,0,0"}, {"G4|X1", "f 1,0,0"}, {"G04P.5|X1", "f 1,0,0"}, {"G91 G4 X5|X1", "f 1,0,0"}, {"G4 P1 M8|X1", "f 1,0,0"}, {"G0 G4 P1|X1", "r 1,0,0"},
			{"G4 P-1", "!1:4: a negative dwell"}, {"G4 Y1", "!1:1: G4 with axis words"}, {"G4 Z1 P1", "!1:1: G4 with axis words"}, {"G4 X1 G0", "!1:4: G4 and a move"}, {"G4 X1 G53", "!1:4: G4 and a move"}, {"G4 P1 I1", "!1:1: G4 with axis words"}, {"G4 P1 R5", "!1:7: R without"}, {"G4 P1 V5", "!1:7: V5"}, {"G4 X-1", "!1:4: a negative dwell"}, {"G4 U-1", "!1:4: a negative dwell"},
		}},
	})
}
