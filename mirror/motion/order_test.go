package motion

import (
	"fmt"
	"strings"
	"testing"
)

// state writes a move's end in X with what is set while it runs.
func state(m *Move) string {
	s := &m.State
	w := []string{strings.Fields(ends(m))[0] + short(m.To[0].Float()), s.Unit.String(), s.Plane.String(), fmt.Sprintf("G%d", s.FeedMode), "F" + s.Feed.String(), "S" + s.Speed.String(),
		fmt.Sprintf("M%d", 5-2*s.Spindle*s.Spindle+(1-s.Spindle)/2*s.Spindle*s.Spindle), fmt.Sprintf("c%d", s.Coolant), fmt.Sprintf("T%d", s.Tool), fmt.Sprintf("H%d", s.Length), fmt.Sprintf("G%d", s.Comp)}
	return strings.Join(w, " ")
}

// TestOrder: which words of a block count before its move.
func TestOrder(t *testing.T) {
	const none = " mm G17 G94 F0 S0 M5 c0 T-1 H-1 G40"
	check(t, []table{
		{source: "NISTIR 6556, 3.8, table 8: F, S, T, M6, M3 to M9, plane, unit, compensation, length, offset and distance come before the move, wherever they stand; M0, M2 behind it",
			before: "G21 G90 G0 X0 Y0 Z0", tell: state, rows: []row{
				{"X1", "r1" + none}, {"G1 X1 F100", "f1 mm G17 G94 F100 S0 M5 c0 T-1 H-1 G40"}, {"X1 G1 F100", "f1 mm G17 G94 F100 S0 M5 c0 T-1 H-1 G40"}, {"F100 X1 G1", "f1 mm G17 G94 F100 S0 M5 c0 T-1 H-1 G40"},
				{"X1 M3 S500", "r1 mm G17 G94 F0 S500 M3 c0 T-1 H-1 G40"}, {"M4 X1", "r1 mm G17 G94 F0 S0 M4 c0 T-1 H-1 G40"}, {"M3 X1|X2 M5", "r1 mm G17 G94 F0 S0 M3 c0 T-1 H-1 G40; r2" + none},
				{"X1 M8", "r1 mm G17 G94 F0 S0 M5 c2 T-1 H-1 G40"}, {"M8 X1|M7 X2|M9 X3", "r1 mm G17 G94 F0 S0 M5 c2 T-1 H-1 G40; r2 mm G17 G94 F0 S0 M5 c3 T-1 H-1 G40; r3" + none},
				{"X1 G18", "r1 mm G18 G94 F0 S0 M5 c0 T-1 H-1 G40"}, {"G19 X1|X2", "r1 mm G19 G94 F0 S0 M5 c0 T-1 H-1 G40; r2 mm G19 G94 F0 S0 M5 c0 T-1 H-1 G40"}, {"X1 G20", "r1 in G17 G94 F0 S0 M5 c0 T-1 H-1 G40"},
				{"X1 M6 T3", "r1 mm G17 G94 F0 S0 M5 c0 T3 H-1 G40"}, {"M6 T3 X1|T4 X2|M6 X3", "r1 mm G17 G94 F0 S0 M5 c0 T3 H-1 G40; r2 mm G17 G94 F0 S0 M5 c0 T3 H-1 G40; r3 mm G17 G94 F0 S0 M5 c0 T4 H-1 G40"},
				{"M3 X1|M6 T3 X2", "r1 mm G17 G94 F0 S0 M3 c0 T-1 H-1 G40; r2 mm G17 G94 F0 S0 M5 c0 T3 H-1 G40"}, {"T3 M6 M3 X1", "r1 mm G17 G94 F0 S0 M3 c0 T3 H-1 G40"}, {"M3 M6 T3 X1", "r1 mm G17 G94 F0 S0 M3 c0 T3 H-1 G40"},
				{"X1 G43 H2", "r1 mm G17 G94 F0 S0 M5 c0 T-1 H2 G40"}, {"G43 H2 X1|X2 G49", "r1 mm G17 G94 F0 S0 M5 c0 T-1 H2 G40; r2" + none}, {"T7 M6|G43 X1", "r1 mm G17 G94 F0 S0 M5 c0 T7 H7 G40"}, {"G43 H0 X1", "r1 mm G17 G94 F0 S0 M5 c0 T-1 H0 G40"},
				{"G1 X1 G41 D2 F9", "f1 mm G17 G94 F9 S0 M5 c0 T-1 H-1 G41"}, {"G1 X1 G42 F9|X2 G40", "f1 mm G17 G94 F9 S0 M5 c0 T-1 H-1 G42; f2 mm G17 G94 F9 S0 M5 c0 T-1 H-1 G40"},
				{"G1 X1 F9 G93", "f1 mm G17 G93 F9 S0 M5 c0 T-1 H-1 G40"}, {"G1 X1 F9 G95 S1", "f1 mm G17 G95 F9 S1 M5 c0 T-1 H-1 G40"}, {"G1 X1 F9|X2|F5|X3", "f1 mm G17 G94 F9 S0 M5 c0 T-1 H-1 G40; f2 mm G17 G94 F9 S0 M5 c0 T-1 H-1 G40; f3 mm G17 G94 F5 S0 M5 c0 T-1 H-1 G40"},
				{"M3 M0 X1 M8", "r1 mm G17 G94 F0 S0 M3 c2 T-1 H-1 G40"}, {"M3 X1 M2", "r1 mm G17 G94 F0 S0 M3 c0 T-1 H-1 G40"}, {"M30 M8 X1", "r1 mm G17 G94 F0 S0 M5 c2 T-1 H-1 G40"}, {"M2 X1|M3", "r1" + none},
				{"M5 G1 X1 F9", "f1 mm G17 G94 F9 S0 M5 c0 T-1 H-1 G40"}, {"M48 M1 X1", "r1" + none}, {"M60 X1|X2", "r1" + none + "; r2" + none},
				{"F-1", "!1:1: a negative F"}, {"S-1", "!1:1: a negative S"}, {"T-1", "!1:1: T-1"}, {"T1.5", "!1:1: T1.5"}, {"M13 X1", "r1 mm G17 G94 F0 S0 M3 c2 T-1 H-1 G40"}, {"M14 X1", "r1 mm G17 G94 F0 S0 M4 c2 T-1 H-1 G40"}, // common practice
			}},
		{source: "NISTIR 6556, 3.8: as above, where the move itself shows it", before: "G21 G90 G17 G54 G0 X2 Y2 Z2", rows: []row{
			{"X25.4 G21 G91", "r 27.4,2,2"}, {"X1 G20", "r 1,0.07874,0.07874"}, {"X1 G91 G20", "r 1.07874,0.07874,0.07874"}, {"G20|G91 X0|G21 X0", "r 0.07874,0.07874,0.07874; r 2,2,2"},
			{"X4 G2 G18 I1 F9", "cw 4,2,2 @2,3 by -180"}, {"I1 X4 G2 G17", "cw 4,2,2 @3,2 by -180"}, {"X4 I3 J2 G90.1 G3", "ccw 4,2,2 @3,2 by 180"}, {"X2 I1 J0 G91 G2", "cw 4,2,2 @3,2 by -180"},
			{"G55 X5", "r 5,?,?"}, {"X5 G55", "r 5,?,?"}, {"G43 H1 Z5", "r 2,2,5"}, {"Z5 H1 G43", "r 2,2,5"}, {"G43 H1 X5", "r 5,2,?"}, {"G4 P9 X5", ""}, {"G4 P9 Z5", "!1:1: G4 with axis words"},
			{"Z5 G81 R3 X1 F9 G99", "!1:4: R at 3 below the depth at 5"}, {"Z-1 R3 G99 X1 F9 G81", "r 2,2,3; r 1,2,3; f 1,2,-1; r 1,2,3"}, {"G80 G1 X5", "f 5,2,2"}, {"X5 G1 G80", "f 5,2,2"},
			{"X5 M2", "r 5,2,2"}, {"M30 X5", "r 5,2,2"}, {"X5 M0|Y1", "r 5,2,2; r 5,1,2"}, {"G53 G1 X5 F9", "machine f 5,?,?"}, {"X5 G53", "machine r 5,?,?"},
			{"G92 X0 G91|X1", "r 1,2,2"}, {"G91 G92 X0|X1", "r 1,2,2"}, {"G20 G92 X1|G91 X1", "r 2,0.07874,0.07874"}, {"G92 X0 F5|G1 X1", "f 1,2,2"},
		}},
		{source: "NISTIR 6556, 3.5.1 to 3.5.3, 3.4: G0 to G3 stay, until another; a block with a code of group 0 leaves them", before: "G21 G90 G17 F9", rows: []row{
			{"X1", "either 1,?,?"}, {"G0|X1", "r 1,?,?"}, {"G1|X1", "f 1,?,?"}, {"G1|G0|X1", "r 1,?,?"}, {"G1 X1|Y2|Z3", "f 1,?,?; f 1,2,?; f 1,2,3"}, {"G0 X0 Y0|G2 X2 I1|X0 I-1|X2 R1", "r 0,0,?; cw 2,0,? @1,0 by -180; cw 0,0,? @1,0 by -180; cw 2,0,? @1,0 by -180"},
			{"G1 X1|G4 P1|X2", "f 1,?,?; f 2,?,?"}, {"G1 X1|G92 X0|X2", "f 1,?,?; f 2,?,?"}, {"G1 X1|G28|X2", "f 1,?,?; home; f 2,?,?"}, {"G1 X1|G53 G0 Z0|X2", "f 1,?,?; machine r ?,?,0; r 2,?,?"}, {"G1 X1|G53 Z0|X2", "f 1,?,?; machine f ?,?,0; f 2,?,?"},
			{"G0 X0 Y0|G2 X2 I1|X5", "!3:1: an arc without a centre"}, {"G1 X1 I5", "!1:7: I without a code"}, {"G0 R5", "!1:4: R without a code"}, {"K1", "!1:1: K without a code"}, {"G0 X1 Q5 P5 L5", "r 1,?,?"},
			{"G0 X0 Y0|G3 X2 I1|G80|X5", "!4:1: axis words after G80 and G3"}, {"G1 X0|G80|X5", "f 0,?,?; either 5,?,?"}, {"G0|G80|G1|X5", "f 5,?,?"},
		}},
	})
}
