package motion

import "testing"

// TestZeros: G92 and its family, G52, G53, home, lengths and work offsets.
func TestZeros(t *testing.T) {
	check(t, []table{
		{source: "NISTIR 6556, 3.5.1 and 3.5.2, 3.5.17: G90 names places, G91 ways, for each axis and sign; both need an axis word", before: "G21 G90 G17 F9 G0 X1 Y2 Z3", rows: []row{
			{"X5", "r 5,2,3"}, {"Y-5", "r 1,-5,3"}, {"Z5", "r 1,2,5"}, {"X-1 Y-2 Z-3", "r -1,-2,-3"}, {"G91 X5", "r 6,2,3"}, {"G91 X-5", "r -4,2,3"}, {"G91 Y5", "r 1,7,3"}, {"G91 Y-5", "r 1,-3,3"}, {"G91 Z5", "r 1,2,8"}, {"G91 Z-5", "r 1,2,-2"},
			{"G91 X1|X1|X1", "r 2,2,3; r 3,2,3; r 4,2,3"}, {"G91 X1 Y-1 Z.5|G90 X1", "r 2,1,3.5; r 1,1,3.5"}, {"G91 X0", "r 1,2,3"}, {"G91 X.1|X.2|G90 Y0", "r 1.1,2,3; r 1.3,2,3; r 1.3,0,3"}, {"G0", ""}, {"G1", ""},
			{"G1 X5|G91|X5", "f 5,2,3; f 10,2,3"}, {"G90 X5|G90 X5", "r 5,2,3; r 5,2,3"}, {"G20 X1", "r 1,0.07874,0.11811"}, {"G20 G91 X1|G21 X0", "r 1.03937,0.07874,0.11811; r 26.4,2,3"},
		}},
		{source: "arithmetic: what counts from an unknown place is unknown until G90 names it", before: "G21 G17 F9", rows: []row{
			{"G91 G0 X5", "r ?,?,?"}, {"G91 G0 X5|G90 X5", "r ?,?,?; r 5,?,?"}, {"G90 G0 Y1|G91 Y1 X1", "r ?,1,?; r ?,2,?"}, {"G90 G0 X1|Y1|Z1", "r 1,?,?; r 1,1,?; r 1,1,1"},
		}},
		{source: "NISTIR 6556, 3.5.18: G92 calls the place where the tool stands by its words, in either distance mode; the tool stays", before: "G21 G90 G17 F9 G0 X4 Y2 Z3", rows: []row{
			{"G92 X7|X7", "r 7,2,3"}, {"G92 X7|G91 X1", "r 8,2,3"}, {"G92 X0 Y0 Z0|X1 Y1 Z1", "r 1,1,1"}, {"G92 X-1|G91 Y1", "r -1,3,3"}, {"G91 G92 X7|X1", "r 8,2,3"}, {"G92 X7|G92 X9|G91 X0", "r 9,2,3"}, {"G92 Z0|G91 Z-1", "r 4,2,-1"},
			{"G92 X7|G92.1|G91 X0", "r 4,2,3"}, {"G92 X7|X10|G92.1|G91 X0", "r 10,2,3; r 7,2,3"}, {"G92 X7|G92.2|G91 X0", "r 4,2,3"}, {"G92 X7|G92.2|G92.3|G91 X0", "r 7,2,3"}, {"G92 X7|G92.1|G92.3|G91 X0", "r 4,2,3"},
			{"G92 X7 Y7|G92.2|X5|G92.3|G91 X0", "r 5,2,3; r 8,7,3"}, {"G92 X7|G92 Y9|G92.1|G91 X0", "r 4,2,3"}, {"G92.1 X5", "r 5,2,3"}, {"G92.2 G91 X5", "r 9,2,3"}, {"G92", "!1:1: G92 without an axis word"}, {"G92 F5", "!1:1: G92 without an axis word"},
			{"G92 G0 X1", "!1:1: G92 beside a motion word"}, {"G92 G81 X1", "!1:1: G92 beside a motion word"}, {"G92 X7|M2", ""}, {"G92 X1 I2", "!1:8: I without a code"},
		}},
		// A zero by G92 sets the parameters 5211 to 5216 too, so that G92.3 brings back the last one.
		{source: "NISTIR 6556, 3.5.18: G92 keeps its zero for G92.3, whether G92.2 came or not", before: "G21 G90 G17 F9 G0 X4 Y2 Z3", rows: []row{
			{"G92 X7|G92.2|G92 X9|G92.3|G91 X0", "r 9,2,3"}, {"G92 X7|G92.3|G91 X0", "r 7,2,3"}, {"G92 X7|G92.2|G92 Y9|G92.2|G92.3|G91 X0", "r 4,9,3"}, {"G92 X7|G92 Y9|G92.2|G92.3|G91 X0", "r 7,9,3"}, {"G92 X7|G92.1|G92 Y9|G92.3|G91 X0", "r 4,9,3"}, {"G92.3|G91 X0", "r ?,?,?"},
		}},
		{source: "NISTIR 6556, 3.5.18 and arithmetic: a zero in one unit is the same place in the other", before: "G21 G90 G17 F9 G0 X25.4 Y0 Z0", rows: []row{
			{"G92 X0|G20 X1|G92.1|G91 X0", "r 1,0,0; r 2,0,0"}, {"G20 G92 X0|G21 X25.4|G92.1|G91 X0", "r 25.4,0,0; r 50.8,0,0"}, {"G92 X0|G92.2|G20 G92.3|G91 X1|G92.1 X0", "r 1,0,0; r 2,0,0"}, {"G52 X25.4|G20 X1|G52 X0|G91 X0", "r 1,0,0; r 2,0,0"}, {"G20|G52 X1|G21 X0|G52 X0|G91 X0", "r 0,0,0; r 25.4,0,0"},
		}},
		{source: "common practice: G52 moves the zero of the work offset to its words, not on from where it was", before: "G21 G90 G17 F9 G0 X4 Y2 Z3", rows: []row{
			{"G52 X1|X0", "r 0,2,3"}, {"G52 X1|G91 X0", "r 3,2,3"}, {"G52 X1|G52 X2|G91 X0", "r 2,2,3"}, {"G52 X1|G52 Y1|G91 X0", "r 3,1,3"}, {"G52 X-1 Y-2 Z-3|G91 X0", "r 5,4,6"}, {"G52 X1 Y1 Z1|G52 X0 Y0 Z0|G91 X0", "r 4,2,3"}, {"G91 G52 X1|X0", "r 3,2,3"},
			{"G52 X1|G92 X0|G91 X0", "r 0,2,3"}, {"G52 X1|G92 X0|G92.1|G91 X0", "r 3,2,3"}, {"G92 X0|G52 X1|G91 X0", "r -1,2,3"}, {"G52", "!1:1: G52 without an axis word"}, {"G52 G1 X1", "!1:1: G52 beside a motion word"}, {"G52 G53 X1", "!1:5: G53 with G52"},
		}},
		{source: "NISTIR 6556, 3.5.12: G53 goes to a place of the machine, at G0 or G1, for its own block; what isn't known after it: arithmetic", before: "G21 G90 G17 F9 G0 X4 Y2 Z3", rows: []row{
			{"G53 G0 X1", "machine r 1,?,?"}, {"G53 G1 Z-1", "machine f ?,?,-1"}, {"G53 X1 Y2 Z3", "machine r 1,2,3"}, {"G53 X1|X1", "machine r 1,?,?; r 1,2,3"}, {"G53 Z0|X1", "machine r ?,?,0; r 1,2,?"}, {"G53 Z0|Z5", "machine r ?,?,0; r 4,2,5"}, {"G53 Z0|G91 Z5", "machine r ?,?,0; r 4,2,?"},
			{"G1|G53 Z0|X1", "machine f ?,?,0; f 1,2,?"}, {"G53", "!1:1: G53 without an axis word"}, {"G53 G2 X1 I1", "!"}, {"G53 G81 X1 R1 Z0", "!"}, {"G92 X0|G53 X1", "machine r 1,?,?"}, {"G53 X1 A5 B9|X0", "machine r 1,?,?; r 0,2,3"},
		}},
		{source: "NISTIR 6556, 3.5.8: G28 and G30 through the place of their words, then home; alone straight home", before: "G21 G90 G17 F9 G0 X4 Y2 Z3", rows: []row{
			{"G28", "home"}, {"G30", "home"}, {"G28 Z9", "r 4,2,9; home"}, {"G30 X1 Y1", "r 1,1,3; home"}, {"G91 G28 Z2", "r 4,2,5; home"}, {"G91 G28 Z0", "home"}, {"G91 G28 X0 Y0 Z0", "home"}, {"G91 G30 Z-1", "r 4,2,2; home"}, {"G28 X4", "r 4,2,3; home"},
			{"G28|X1", "home; r 1,?,?"}, {"G28 Z9|G90 X1 Y1|Z0", "r 4,2,9; home; r 1,1,?; r 1,1,0"}, {"G1|G28 Z9|X1", "r 4,2,9; home; f 1,?,?"}, {"G28 G0 X1", "r 1,2,3; home"}, {"G28 G2 X1 I1", "!1:1: G28 beside a motion word"}, {"G28 G53 X1", "!1:5: G53 with G28"}, {"G53 G69", "!1:1: G53 without an axis word"}, {"G53 G68 X1 Y1 R5", "!1:1: G53 with G68"}, {"G12 I5 G53", "!1:8: G53 with G12"}, {"G28 I5", "!1:5: I without"},
		}},
		{source: "NISTIR 6556, 3.5.13: another work offset has its own zero; what it is the program doesn't say", before: "G21 G90 G17 F9 G0 X4 Y2 Z3", rows: []row{
			{"G54 X5", "r 5,2,3"}, {"G55|X5", "r 5,?,?"}, {"G55|G54|X5", "r 5,?,?"}, {"G59.3 Z1", "r ?,?,1"}, {"G55 X1|G91 X1|G90 Y1", "r 1,?,?; r 2,?,?; r 2,1,?"}, {"G54.1 P1", "!1:1: G54.1 with P"}, {"G54 P1 X5", "!1:1: G54 with P"}, {"G54.2", "!1:1: G54.2"}, {"G60 X1", "!1:1: G60"}, {"G59.4", "!1:1: G59.4"},
		}},
		{source: "the same with more offsets (common practice)", before: "G21 G90 G17 F9 G0 X4 Y2 Z3", o: Options{Extended: true}, rows: []row{
			{"G54.1 P1 X5", "r 5,?,?"}, {"G54 P12 X5", "r 5,?,?"}, {"G54.1 P0", "!1:7: P0"}, {"G54.1 P1000", "!1:7: P1000"}, {"G54.1 P1.5", "!1:7: P1.5"}, {"G54.1 X5 P1", "!1:1: G54.1 with no P right behind it"}, {"G55 P1", "!1:1: G55 with no P right behind it"}, {"G54.1 P1 G4", "!1:1: G54.1 beside another code"},
		}},
		{source: "NISTIR 6556, 3.5.11: a length by H moves no axis, changes what Z is called; lengths aren't known here", before: "G21 G90 G17 F9 G0 X4 Y2 Z3", rows: []row{
			{"G43 H1|X5", "r 5,2,?"}, {"G43 H1 Z5", "r 4,2,5"}, {"G43 H1 Z5|G43 H1 X5", "r 4,2,5; r 5,2,5"}, {"G43 H1 Z5|G43 H2 X5", "r 4,2,5; r 5,2,?"}, {"G43 H1 Z5|G49 X5", "r 4,2,5; r 5,2,?"}, {"G49 X5", "r 5,2,3"}, {"G43 H1 Z5|H2 X5", "r 4,2,5; r 5,2,?"}, {"H2 X5", "r 5,2,3"}, {"G43 H1 Z5|G44 H1 X5", "r 4,2,5; r 5,2,?"},
			{"G44 H1 Z5|G43 H1 X5", "r 4,2,5; r 5,2,?"}, {"G44 H1 Z5|X5 H1", "r 4,2,5; r 5,2,5"}, {"G43 H-1", "!1:5: H-1"}, {"G43 H1.5", "!1:5: H1.5"}, {"G43 H1 Z5|M6 T2|X5", "r 4,2,5; r 5,2,5"}, {"G43.1 Z5", "!1:1: G43.1 (a tool length written in the program)"}, {"G43 G49 H1", "!1:5: G49 after G43"},
		}},
		{source: "the same with lengths: G43 takes them off Z, G44 adds them (common practice)", before: "G21 G90 G17 F9 G0 X4 Y2 Z3", o: Options{Lengths: map[int]Num{0: {}, 1: FromInt(10), 2: FromInt(20)}}, rows: []row{
			{"G43 H1 X5", "r 5,2,-7"}, {"G44 H1 X5", "r 5,2,13"}, {"G43 H1|G43 H2 X5", "r 5,2,-17"}, {"G43 H1|G44 H1 X5", "r 5,2,13"}, {"G44 H1|G43 H1 X5", "r 5,2,-7"}, {"G44 H1|H2 X5", "r 5,2,23"}, {"G43 H1|H2 X5", "r 5,2,-17"}, {"G44 H2|G49 X5", "r 5,2,3"}, {"G43 H0 X5", "r 5,2,3"}, {"G43 H1|G43 H1 X5", "r 5,2,-7"}, {"G44 H1|G44 H1 X5", "r 5,2,13"},
		}},
		{source: "stored offsets aren't followed, but in a program of their own", before: "G21 G90 G17 F9 G0 X4 Y2 Z3", rows: []row{{"G10 L2 P1 X0", "!1:1: G10 (writes offsets or tool data)"}, {"G10 L20 P1 X0", "!1:1: G10"}, {"G10 L1 P1 R5", "!1:1: G10"}, {"G10", "!1:1: G10"}}},
		{source: "NISTIR 6556, 3.5.5: G10 L2 P stores in machine coordinates what it names; the tool stays, and in the offset in force its place has another name", before: "G21 G90 G54 G17 F9 G0 X4 Y2 Z3", o: Options{Stores: true}, rows: []row{
			{"G10 L2 P2 X1 Y-2", "machine store 1,-2,?"}, {"G10 L2 P2 X1|X5", "machine store 1,?,?; r 5,2,3"}, {"G10 L2 P2 X1|G91 X5", "machine store 1,?,?; r 9,2,3"}, {"G10 L2 P1 X1|Y5", "machine store 1,?,?; r ?,5,3"}, {"G10 L2 P1 X1|G91 X5", "machine store 1,?,?; r ?,2,3"}, {"G10 L2 P1 Z1|X5 Z0", "machine store ?,?,1; r 5,2,0"},
			{"G10 L2 P1.5 X1", "!1:1: G10 without"}, {"G10 P1 X1", "!1:1: G10 without"}, {"G10 L2 X1", "!1:1: G10 without"}, {"G10 L3 P1 X1", "!1:1: G10 without"},
		}},
	})
}
