package proof

import "flipcalc/mirror/transform"

// What real programs hold, with its mirror by x' = 100 - x (common practice where no
// section is named): TestRight and TestMutants take them with the others.
func init() {
	o := flipY("100")
	o.Inert = []int{25, 51}
	for _, c := range [][3]string{
		{"K of 0 in G17 (3.5.3 has I and J there)", "G0 X0 Y0\nG2 X10 Y10 I10 J0 K0.\nG3 X0 Y0 R10 K0", "G0 X100 Y0\nG3 X90 Y10 I-10 J0 K0.\nG2 X100 Y0 R10 K0"},
		{"J of 0 in G18", "G18 G0 X0 Z0\nG2 X10 Z0 I5 J0", "G18 G0 X100 Z0\nG3 X90 Z0 I-5 J0"},
		{"axis words before any motion word", "G43 H1 Z50\nX5 Y6\nG0 X7", "G43 H1 Z50\nX95 Y6\nG0 X93"},
		{"axis words after G80", "G0 X1 Y1 Z5\nG81 X5 Z-1 R1\nG80\nZ5\nX7", "G0 X99 Y1 Z5\nG81 X95 Z-1 R1\nG80\nZ5\nX93"},
		{"D and H anywhere", "D1 G0 X5\nX6 D2\nH3 X7\nG0 Z5 H4", "D1 G0 X95\nX94 D2\nH3 X93\nG0 Z5 H4"},
		{"cancels in a safety line", "G0 G15 G17 G40 G49 G50 G50.1 G69 G80 G90 G97 X5 Y5", "G0 G15 G17 G40 G49 G50 G50.1 G69 G80 G90 G97 X95 Y5"},
		{"rotary words of 0", "G0 B0. C0 X5\nG91 G28 X0 A0 B0", "G0 B0. C0 X95\nG91 G28 X0 A0 B0"},
		{"rotary words beside G53", "G53 G0 Z0 B90\nX5", "G53 G0 Z0 B90\nX95"},
		{"G53 without a motion word", "G53 Z0\nG0 X5", "G53 Z0\nG0 X95"},
		{"G53 under an arc and a cycle", "G0 X0 Y0 Z5\nG2 X10 I5 F9\nG53 Z0\nG0 X1 Y1 Z5\nG81 X5 Z-1 R1\nG53 Z0\nG80", "G0 X100 Y0 Z5\nG3 X90 I-5 F9\nG53 Z0\nG0 X99 Y1 Z5\nG81 X95 Z-1 R1\nG53 Z0\nG80"},
		{"G53 with 0 in G91", "G0 X1\nG91 G53 X0 Y0\nG90 X5", "G0 X99\nG91 G53 X0 Y0\nG90 X95"},
		{"a cycle without R", "G0 X1 Y1 Z5\nG81 X5 Z-1 F9\nX7\nG80", "G0 X99 Y1 Z5\nG81 X95 Z-1 F9\nX93\nG80"},
		{"a cycle code that is cancelled", "G0 X1 Y1 Z5\nG98 G81\nG80\nG0 X5", "G0 X99 Y1 Z5\nG98 G81\nG80\nG0 X95"},
		{"G84 with the spindle stopped", "M5\nG0 X1 Y1 Z5\nG84 X5 Z-1 R1 F9", "M5\nG0 X99 Y1 Z5\nG84 X95 Z-1 R1 F9"},
		{"G71 where lengths are in mm", "G71\nG71 G90\nG0 X5", "G71\nG71 G90\nG0 X95"},
		{"a parenthesis inside a comment", "G0 X5 (6 (mm) cutter) Y7\n(a ((b)) c)\n(tool (6 mm)\nX6", "G0 X95 (6 (mm) cutter) Y7\n(a ((b)) c)\n(tool (6 mm)\nX94"},
		{"prose", "ROW MARKER, oak\nMade by hand: M.\n//\n// first side\nG0 X5\nthe end", "ROW MARKER, oak\nMade by hand: M.\n//\n// first side\nG0 X95\nthe end"},
		{"N without a number", "N G0 X5\nN\nNX6\nn (x)", "N G0 X95\nN\nNX94\nn (x)"},
		{"G187", "G187 P2\nG0 X5\nG187 P1 E0.05\nX6", "G187 P2\nG0 X95\nG187 P1 E0.05\nX94"},
		{"G4 U", "G0 X5\nG4 U1.5\nX6", "G0 X95\nG4 U1.5\nX94"},
		{"M13 and M14", "M13 S9000\nG0 X5\nM14\nX6", "M13 S9000\nG0 X95\nM14\nX94"},
		{"M62 to M65", "M62 P1\nM65 P2\nG0 X5", "M62 P1\nM65 P2\nG0 X95"},
		{"printing", "POPEN\nDPRNT[PART*X#100[42]*DONE]\nN10 DPRNT[]\nPCLOS\nG0 X5", "POPEN\nDPRNT[PART*X#100[42]*DONE]\nN10 DPRNT[]\nPCLOS\nG0 X95"},
		{"M codes that the maker declares", "M25\nM51 G0 X5", "M25\nM51 G0 X95"},
		{"a program's name", "O1000 ROW MARKER\nG0 X5", "O1000 ROW MARKER\nG0 X95"},
		{"start state before %", "G17 G40\n%\nG0 X5", "G17 G40\n%\nG0 X95"},
		{"no closing %", "%\nG0 X5", "%\nG0 X95"},
	} {
		right = append(right, pairTest{c[0], o, c[1] + "\nM30\n", c[2] + "\nM30\n"})
	}
	o.BackOffset = transform.MoreOffsets + 2
	for _, c := range [][3]string{
		{"an extended offset for another", "G54.1 P1 G0 X5\nG54 P1\nX6", "G54.1 P2 G0 X95\nG54 P2\nX94"},
		{"an extended offset for a plain one", "G54 (a) G0 X5", "G54.1 P2 (a) G0 X95"},
		{"an extended offset inserted", "G0 X5", "G54.1 P2\nG0 X95"},
	} {
		right = append(right, pairTest{c[0], o, c[1] + "\nM30\n", c[2] + "\nM30\n"})
	}
	o.BackOffset = 550
	right = append(right, pairTest{"a plain offset for an extended one", o, "G90 G54.1 P1 (a) G0 X5\nM30\n", "G90 G55 (a) G0 X95\nM30\n"})
}
