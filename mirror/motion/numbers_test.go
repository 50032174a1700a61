package motion

import "testing"

// TestNumbers: how words are written.
func TestNumbers(t *testing.T) {
	check(t, []table{
		{source: "NISTIR 6556, 3.3.2.1: a sign, digits, at most one point, at least one digit; 3.1: blanks anywhere, case ignored",
			before: "G21 G90 G0 X0 Y0 Z0", rows: []row{
				{"X1", "r 1,0,0"}, {"X1.", "r 1,0,0"}, {"X.1", "r 0.1,0,0"}, {"X+1", "r 1,0,0"}, {"X-1", "r -1,0,0"},
				{"X-.5", "r -0.5,0,0"}, {"X+.5", "r 0.5,0,0"}, {"X-5.", "r -5,0,0"}, {"X0", "r 0,0,0"}, {"X-0", "r 0,0,0"}, {"X-0.0", "r 0,0,0"},
				{"X+0.", "r 0,0,0"}, {"X000012.500", "r 12.5,0,0"}, {"X-0012", "r -12,0,0"}, {"X00", "r 0,0,0"},
				{"X 1 2 . 3 4", "r 12.34,0,0"}, {"X - 1", "r -1,0,0"}, {"X\t-\t1\t.\t5", "r -1.5,0,0"}, {"X1 .", "r 1,0,0"}, {"X. 1", "r 0.1,0,0"},
				{"x1y2z3", "r 1,2,3"}, {"X1Y-2Z+3", "r 1,-2,3"}, {" \t X1 \t ", "r 1,0,0"}, {"z3 y2 x1", "r 1,2,3"},
				{"X0.000001", "r 0.000001,0,0"}, {"X99999.999999", "r 99999.999999,0,0"},
				{"X", "!1:2: X without a number"}, {"X.", "!1:2: X without a number"}, {"X-", "!1:2: X without a number"}, {"X+", "!1:2: X without a number"},
				{"X-.", "!1:2: X without a number"}, {"X1..2", "!1:4: a number with two decimal points"}, {"X1.2.", "!1:5: a number with two decimal points"},
				{"X--1", "!1:2: X without a number"}, {"X+-1", "!1:2: X without a number"}, {"X1-", "!1:3: a number without a letter"}, {"X1-2", "!1:3: a number without a letter"},
				{"X1e2", "!1:3: e2 (a word that milling controls read differently)"}, {"X1E", "!1:4: E without a number"}, {"X1,5", "!1:3: character ','"},
				{"X1=2", "!1:3: character '='"}, {"1", "!1:1: a number without a letter"}, {"-1", "!1:1: a number without a letter"},
				{"X1 Y", "!1:5: Y without a number"}, {"XY1", "!1:2: X without a number"}, {"X0x1", "!1:3: a second X word"},
			}},
		{source: "NISTIR 6556, 3.3.2.1: codes are numbers within 0.0001 of one; zeros in front and blanks change nothing",
			before: "G21 G90 G0 X0 Y0 Z0", rows: []row{
				{"G01 X1", "f 1,0,0"}, {"G1. X1", "f 1,0,0"}, {"G 1 X1", "f 1,0,0"}, {"g0001x1", "f 1,0,0"}, {"G1.0 X1", "f 1,0,0"}, {"G+1 X1", "f 1,0,0"},
				{"G1.00001 X1", "f 1,0,0"}, {"G0.99999 X1", "f 1,0,0"}, {"G-0 X1", "r 1,0,0"}, {"G00X1", "r 1,0,0"},
				{"G 9 1 X1|X1", "r 1,0,0; r 2,0,0"}, {"G 5 4 X1", "r 1,0,0"}, {"G1.5 X1", "!1:1: G1.5"},
				{"G101 X1", "!1:1: G101"}, {"G1000 X1", "!1:1: G"}, {"G1.0002 X1", "!1:1: G"}, {"M03 X1", "r 1,0,0"}, {"M3.0 X1", "r 1,0,0"}, {"m 0 3 x1", "r 1,0,0"}, {"M3.1 X1", "!1:1: M"},
			}},
		{source: "NISTIR 6556, 3.3.3 and 3.1: comments stand anywhere between words, a block number first or behind the slash; ; and %: common practice",
			before: "G21 G90 G0 X0 Y0 Z0", rows: []row{
				{"(a)X1(b)Y2(c)", "r 1,2,0"}, {"X1 (Y2) Z3", "r 1,0,3"}, {"()X1", "r 1,0,0"}, {"(x1)|X2", "r 2,0,0"}, {"X1;Y2", "r 1,0,0"}, {"X1 ; (Y2", "r 1,0,0"}, {"X1 (a;b) Y2", "r 1,2,0"},
				{"(G91 %/#[) X1", "r 1,0,0"}, {"(MSG, turn) X1", "r 1,0,0"}, {"X1 (", "!1:4: a comment that isn't closed"}, {"X(a)1", "!1:2: X without a number"},
				{"N10X1", "r 1,0,0"}, {"N1 0 X1", "r 1,0,0"}, {"N00010 X1", "r 1,0,0"}, {"N99999 X1", "r 1,0,0"}, {"N0 X1", "r 1,0,0"}, {"n5 (a) x1", "r 1,0,0"}, {"(a) N5 X1", "r 1,0,0"},
				{"N1 X1|N1 X2", "r 1,0,0; r 2,0,0"}, {"N9 X1|N3 X2", "r 1,0,0; r 2,0,0"}, {"X1 N5", "!1:4: a block number that isn't first"}, {"N5 N6 X1", "!1:4: a block number that isn't first"},
				{"N10", ""}, {"||X1||", "r 1,0,0"}, {"X1|(end)|;end", "r 1,0,0"},
				{"X\u00e9", "!1:2: X without a number"}, {"X1 \u00e9", "!1:4: the byte 0xc3"}, {"(\u00e9) X1", "r 1,0,0"}, {"X1!", "!1:3: character '!'"}, {"X1*2", "!1:3: character '*'"},
				{"X1 [2]", "!1:4: character '['"}, {"X1 @", "!1:4: character '@'"},
			}},
		{source: "NISTIR 6556, 3.1 and 3.3.1: a slash in front deletes the block where the switch is on, off at the start; numbered slashes: common practice",
			before: "G21 G90 G0 X0 Y0 Z0", rows: []row{
				{"/X1", "r 1,0,0"}, {"/ X1", "r 1,0,0"}, {" / X1", "r 1,0,0"}, {"/N5 X1", "r 1,0,0"}, {"/G91|X1|X1", "r 1,0,0; r 2,0,0"}, {"/", ""}, {"/2X1", "r 1,0,0"}, {"/9 X1", "r 1,0,0"},
				{"/(a)", ""}, {"N5 /X1", "!1:4: '/' in the middle of a block"}, {"X1/2", "!1:3: '/' in the middle of a block"}, {"//X1", "!1:2: a line that starts with //"},
			}},
		{source: "the same with the switch on", before: "G21 G90 G0 X0 Y0 Z0|X9", o: Options{SkipDeleted: true, Skip: 1<<1 | 1<<9}, rows: []row{
			{"/X1|X2", "r 2,0,0"}, {"/G91|X1|X1", "r 1,0,0; r 1,0,0"}, {" / N5 X1|Y2", "r 9,2,0"}, {"/9 X1|Y2", "r 9,2,0"},
		}},
		{source: "of several switches only number 2 is on (common practice)", before: "G21 G90 G0 X0 Y0 Z0", o: Options{Skip: 1 << 2}, flow: true, rows: []row{
			{"/X1|/2X2|/3X3", "r 1,0,0; r 3,0,0"}, {"/1X1", "r 1,0,0"}, {"/2 #1=5|G0 X1", "r 1,0,0"}, {"/2M99|X1", "r 1,0,0"},
		}},
		{source: "NISTIR 6556, 3.3: one word of a letter, one code of a group; which may stand together is its table 4", before: "G21 G90 G0 X0 Y0 Z0", rows: []row{
			{"X1 Y1 X2", "!1:7: a second X word"}, {"F1 F2", "!1:4: a second F word"}, {"G1 F1 X1 I1 I1", "!1:13: a second I word"}, {"S1 S1", "!1:4: a second S word"}, {"T1 T2", "!1:4: a second T word"},
			{"G0 G1 X1", "!1:4: G1 after G0"}, {"G2 G3 X1 I1", "!1:4: G3 after G2"}, {"G1 G81 X1", "!1:4: G81 after G1"}, {"G17 G18", "!1:5: G18 after G17"}, {"G18 G18", "!1:5: G18 after G18"}, {"G90 G91", "!1:5: G91 after G90"},
			{"G90.1 G91.1", "!1:7: G91.1 after G90.1"}, {"G93 G94", "!1:5: G94 after G93"}, {"G94 G95", "!1:5: G95 after G94"}, {"G20 G21", "!1:5: G21 after G20"}, {"G40 G41", "!1:5: G41 after G40"}, {"G41 G42", "!1:5: G42 after G41"},
			{"G43 G49", "!1:5: G49 after G43"}, {"G98 G99", "!1:5: G99 after G98"}, {"G54 G55", "!1:5: G55 after G54"}, {"G59 G59.1", "!1:5: G59.1 after G59"}, {"G61 G64", "!1:5: G64 after G61"}, {"G4 P1 G92 X0", "!1:7: G92 after G4"},
			{"G28 G30", "!1:5: G30 after G28"}, {"M3 M5", "!1:4: M5 after M3"}, {"M8 M9", "!1:4: M9 after M8"}, {"M0 M1", "!1:4: M1 after M0"}, {"M2 M30", "!1:4: M30 after M2"}, {"M48 M49", "!1:5: M49 after M48"}, {"M6 M6", "!1:4: M6 after M6"},
			{"G90 G17 G94 G40 G49 G98 G54 G64 G1 X1 M3 M8 M7 M48", "f 1,0,0"}, {"M7 M9 X1", "r 1,0,0"}, {"G9 G1 X1", "f 1,0,0"}, {"G4 P1 X", "!1:8: X without a number"},
		}},
	})
}
