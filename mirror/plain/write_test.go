package plain

import (
	"io"
	"slices"
	"strings"
	"testing"

	"flipcalc/mirror/motion"
)

// written gives what a program becomes, or the message.
func written(text string) string {
	var out strings.Builder
	if _, err := Write([]byte(text), &out, Options{Read: motion.Options{Name: "p.nc", Extended: true}}); err != nil {
		return err.Error()
	}
	return out.String()
}

// TestWrite: one row a rule.
func TestWrite(t *testing.T) {
	for _, tt := range []struct{ name, text, want string }{
		{"straight", "G21 G90 G17\nT1 M6 (cutter)\nS9000 M3\nG0 X1 Y2\nZ5\nG1 Z-1 F100\nX5\nM5\nM30\n",
			"G90 G91.1\nG21 G17\nT1 M6 (cutter)\nS9000 M3\nG0 X1.0 Y2.0\nG0 Z5.0\nG1 Z-1.0 F100\nG1 X5.0\nM5\nM30\n"},
		{"frame", "%\nO100 (marker)\nG0 X1 Y1 Z1\nM2\n%\n", "%\nO100 (marker)\nG90 G91.1\nG0 X1.0 Y1.0 Z1.0\nM2\n%\n"},
		{"increments", "G0 X1 Y1 Z1\nG91 G1 X1 F50\nX1 Y-1\nG90 X0\nM2\n", "G90 G91.1\nG0 X1.0 Y1.0 Z1.0\nG1 X2.0 F50\nG1 X3.0 Y0.0\nG1 X0.0\nM2\n"},
		{"arcs", "G0 X0 Y0 Z0\nG2 X10 Y0 I5 J0 F9\nG3 X0 Y0 R5\nG2 I2\nM2\n",
			"G90 G91.1\nG0 X0.0 Y0.0 Z0.0\nG2 X10.0 Y0.0 I5.0 J0.0 F9\nG3 X0.0 Y0.0 I-5.0 J0.0\nG2 X0.0 Y0.0 I2.0 J0.0\nM2\n"},
		{"centre with one digit more", "#1=10/3\nG0 X#1 Y0 Z0\nG2 X[#1+2*#1] Y0 I#1 J0 F9\nM2\n",
			"G90 G91.1\nG0 X3.333 Y0.0 Z0.0\nG2 X10.0 Y0.0 I3.3337 J0.0 F9\nM2\n"},
		{"absolute centres", "G90.1\nG0 X0 Y0 Z0\nG2 X10 Y0 I5 J0 F9\nM2\n", "G90 G91.1\nG90.1\nG0 X0.0 Y0.0 Z0.0\nG2 X10.0 Y0.0 I5.0 J0.0 F9\nM2\n"},
		{"absolute centres stay behind other codes", "G90.1\nG17 G94\nG0 X1 Y0 Z0\nG2 X11 Y0 I6 J0 F9\nM2\n", "G90 G91.1\nG90.1\nG17 G94\nG0 X1.0 Y0.0 Z0.0\nG2 X11.0 Y0.0 I6.0 J0.0 F9\nM2\n"},
		{"what rounds to nothing", "G0 X1 Y1 Z1\nG1 X[1.0001] F70\nX[1.0002] M8\nX2\nM2\n", "G90 G91.1\nG0 X1.0 Y1.0 Z1.0\nF70\nM8\nG1 X2.0\nM2\n"},
		{"given again as it stands", "G0 X1 Y1 Z1\nT2 M6\nG0 X1 Y1 Z1\nM2\n", "G90 G91.1\nG0 X1.0 Y1.0 Z1.0\nT2 M6\nG0 X1.0 Y1.0 Z1.0\nM2\n"},
		{"short arc", "G0 X0 Y0 Z0\nG3 X[0.0003] Y[0.0003] I[0] J[0.0003] F9\nG1 X1\nM2\n", "G90 G91.1\nG0 X0.0 Y0.0 Z0.0\nF9\nG1 X1.0\nM2\n"},
		{"long arc whose ends meet", "G0 X0 Y0 Z0\nG3 X[0.0003] Y0 I0 J5 F9\nG3 X0 Y[0] I0 J5\nG2 X[0.0001] Y0 I0 J5\nG1 X1\nM2\n",
			"G90 G91.1\nG0 X0.0 Y0.0 Z0.0\nF9\nG3 X0.0 Y0.0 I0.0003 J5.0\nG2 X0.0 Y0.0 I0.0 J5.0\nG1 X1.0\nM2\n"},
		{"cycles", "G0 X0 Y0 Z5\nG98 G81 X1 Y1 Z-2 R1 F50\nX2\nG91 X1 Z-3 R-4 L2\nG90 G80\nG0 Z9\nM2\n",
			"G90 G91.1\nG0 X0.0 Y0.0 Z5.0\nG98 G81 X1.0 Y1.0 Z-2.0 R1.0 F50\nG81 X2.0 Y1.0 Z-2.0 R1.0\nG81 X3.0 Y1.0 Z-2.0 R1.0\nG81 X4.0 Y1.0 Z-2.0 R1.0\nG80\nG0 Z9.0\nM2\n"},
		{"levels of G90 under G91", "G0 X0 Y0 Z9\nG99 G81 X1 Y1 R2 Z-1 F9\nG91 X3 L2\nG90 G80 Z9\nM2\n",
			"G90 G91.1\nG0 X0.0 Y0.0 Z9.0\nG99 G81 X1.0 Y1.0 Z-1.0 R2.0 F9\nG81 X4.0 Y1.0 Z-1.0 R2.0\nG81 X7.0 Y1.0 Z-1.0 R2.0\nG80 Z9.0\nM2\n"},
		{"levels of G90 under G91, from an unknown place", "G0 X0 Y0\nG81 X1 Y1 R2 Z-1 F9\nG28\nG91 X3\nM2\n",
			"p.nc:4:1: R and Z given in G90 are carried into G91; hint: controls differ on what they mean there: repeat R and the depth in this block"},
		{"pecks and a dwell", "G0 X0 Y0 Z5\nG83 X1 Y1 Z-2 R1 Q0.7 F50\nX2\nG82 X3 Y1 Z-1 R1 P0.5\nY2\nM2\n",
			"G90 G91.1\nG0 X0.0 Y0.0 Z5.0\nG83 X1.0 Y1.0 Z-2.0 R1.0 Q0.7 F50\nG83 X2.0 Y1.0 Z-2.0 R1.0 Q0.7\nG82 X3.0 Y1.0 Z-1.0 R1.0 P0.5\nG82 X3.0 Y2.0 Z-1.0 R1.0 P0.5\nM2\n"},
		{"home", "G0 X1 Y1 Z5\nG91 G28 Z0\nG28 X0 Y0\nG90\nG0 X5 Y5\nG28 Z9\nG53 G0 Z0\nM2\n",
			"G90 G91.1\nG0 X1.0 Y1.0 Z5.0\nG91 G28 Z0\nG90\nG91 G28 X0 Y0\nG90\nG0 X5.0 Y5.0\nG28 Z9.0\nG53 G0 Z0\nM2\n"},
		{"lengths", "G43 H1\nG0 X1 Y1\nZ5\nG41 D2 G1 X3 F9\nG40 X9\nM2\n", "G90 G91.1\nG43 H1\nG0 X1.0 Y1.0\nG0 Z5.0\nG41 G1 X3.0 D2 F9\nG40 G1 X9.0\nM2\n"},
		{"a spline", "G0 X0 Y0 Z1\nG5 I1 J2 P-1 Q[1/3] X9 Y0 F9\nX12 Y3 P0 Q-1\nG5.1 X15 I[2/3] J1\nM2\n",
			"G90 G91.1\nG0 X0.0 Y0.0 Z1.0\nG5 X9.0 Y0.0 I1.0 J2.0 P-1.0 Q0.3333 F9\nG5 X12.0 Y3.0 I1.0 J-0.3333 P0.0 Q-1.0\nG5.1 X15.0 I0.6667 J1.0\nM2\n"},
		{"a pocket", "#1=3\nG0 X1 Y1 Z1\nG12 I#1 Z-1 F9\nG91 G13 I2 K#1*2 Q1 Z-1 L2\nM2\n",
			"G90 G91.1\nG0 X1.0 Y1.0 Z1.0\nG12 Z-1.0 I3 F9\nG13 Z-2.0 I2 K6 Q1 L2\nM2\n"},
		{"a cycle in another plane", "G18\nG0 X1 Y5 Z1\nG82 X2 Z3 Y[0-1/3] R1 P.5 F9\nX4\nM2\n",
			"G90 G91.1\nG18\nG0 X1.0 Y5.0 Z1.0\nG82 Z3.0 X2.0 Y-0.333 R1.0 P.5 F9\nG82 Z3.0 X4.0 Y-0.333 R1.0 P.5\nM2\n"},
		{"holes where X alone is known, by counts, without R", "G0 Z5\nG81 X1 Z-1 R[1/4] F9\nG80\nG91 G81 X3 Y2 Z-2 R-1 L2\nG80 G90 G0 X1 Y1\nG81 X2 Z-1\nM2\n",
			"G90 G91.1\nG0 Z5.0\nG81 X1.0 Z-1.0 R0.25 F9\nG80\nG91 G81 X3.0 Y2.0 Z-2.0 R-1.0\nG91 G81 X3.0 Y2.0 Z-2.0 R-1.0\nG90\nG80 G0 X1.0 Y1.0\nG81 X2.0 Y1.0 Z-1.0\nM2\n"},
		{"a zero here", "#1=5\nG91 G0 X1\nG90 G92 X#1 Y1\nG1 X[#1+1/3] Y2 F9\nG52 X10\nG1 X0\nG92 X0\nG1 X1\nG52 X0\nG92.1\nG1 X3\nM2\n",
			"G90 G91.1\nG91 G0 X1.0\nG90\nG92 X5.0 Y1.0\nG1 X5.333 Y2.0 F9\nG1 X10.0\nG92 X10.0\nG1 X11.0\nG92.1\nG1 X3.0\nM2\n"},
		{"a zero where the tool stands beside its place", "G92 X0\nG1 X[1/3] F9\nG92 X0\nG1 X[2/3]\nM2\n",
			"G90 G91.1\nG92 X0.0\nG1 X0.333 F9\nG92 X-0.000333333\nG1 X0.667\nM2\n"},
		{"a stop with a message", "#1=0\nDO1\nIF [#1 EQ 2] THEN #3006=1 (turn the blank)\nG0 X#1 Y1 Z1\n#1=#1+1\nIF [#1 GT 2] GOTO 5\nEND1\nN5 #3006=2 (take it off)\n#3001=0\nM2\n",
			"G90 G91.1\nG0 X0.0 Y1.0 Z1.0\nG0 X1.0 Y1.0 Z1.0\nM0 (turn the blank)\nG0 X2.0 Y1.0 Z1.0\nM0 (take it off)\nM2\n"},
		{"what is printed, and prose", "oak board no\n#1=2\nPOPEN\nDO1\nG0 X#1 Y1 Z1\nN7 DPRNT[PART*DONE]\nDPRNT[X#1[53]]\n#1=#1+1\nIF [#1 GT 3] GOTO 5\nEND1\nN5 PCLOS\nM2\n",
			"oak board no\nPOPEN\nG90 G91.1\nG0 X2.0 Y1.0 Z1.0\nN7 DPRNT[PART*DONE]\nG0 X3.0 Y1.0 Z1.0\nN7 DPRNT[PART*DONE]\nN5 PCLOS\nM2\n"},
		{"more work offsets", "G0 X1 Y1 Z5\nG54.1 P2 G0 X3 Y1 Z5\nG54 P3\nG0 X4 Y1 Z5\nM2\n", "G90 G91.1\nG0 X1.0 Y1.0 Z5.0\nG54.1 P2 G0 X3.0 Y1.0 Z5.0\nG54 P3\nG0 X4.0 Y1.0 Z5.0\nM2\n"},
		{"dwell", "G0 X1 Y1 Z5\nG4 X2\nG4 P[1/4]\nM2\n", "G90 G91.1\nG0 X1.0 Y1.0 Z5.0\nG4 X2\nG4 P0.25\nM2\n"},
		{"shifts", "G0 X1 Y1 Z5\nG52 X10\nG0 X1\nG52 X0\nG92 Y0\nG0 Y3\nG92.1\nG0 Y0\nM2\n",
			"G90 G91.1\nG0 X1.0 Y1.0 Z5.0\nG0 X11.0\nG0 Y4.0\nG0 Y0.0\nM2\n"},
		{"turn", "G0 X0 Y0 Z5\nG68 X0 Y0 R90\nG1 X10 Y0 F9\nG2 X0 Y0 I-5 J0\nG69\nG0 X1 Y1\nM2\n",
			"G90 G91.1\nG0 X0.0 Y0.0 Z5.0\nG1 X0.0 Y10.0 F9\nG2 X0.0 Y0.0 I0.0 J-5.0\nG0 X1.0 Y1.0\nM2\n"},
		{"by angles, scaled", "G0 X0 Y0 Z5\nG16 G81 X10 Y30 Z-1 R1 F9\nG91 Y60 Z-2 R-4\nG90 G80 G15\nG51 X0 Y0 Z0 P0.5\nG0 X10 Y20 Z4\nG2 X20 I5 F9\nG50 G1 Z0\nM2\n",
			"G90 G91.1\nG0 X0.0 Y0.0 Z5.0\nG81 X8.66 Y5.0 Z-1.0 R1.0 F9\nG81 X0.0 Y10.0 Z-1.0 R1.0\nG80\nG0 X5.0 Y10.0 Z2.0\nG2 X10.0 Y10.0 I2.5 J0.0 F9\nG1 Z0.0\nM2\n"},
		{"a zero here, then a turn and its end", "G92 X0 Y0\nG68 X5 Y1 R90\nG69\nG91 X2\nG90 G1 Y4 F90\nM2\n", "G90 G91.1\nG92 X0.0 Y0.0\nX2.0\nG1 Y4.0 F90\nM2\n"},
		{"a turn in another plane", "G18\nG0 X1 Y2 Z3\nG68 X0 Z0 R10\nG69\nG0 X2 Y2\nM2\n", "p.nc:5:1: a move while Z isn't known since G68 or G69, expected Z in G90 first"},
		{"a place of the machine behind a turn", "G68 X0 Y0 R30\nG0 X9 Y9\nG69\nG53 X0\nM2\n", "G90 G91.1\nG0 X3.294 Y12.294\nG53 G0 X0\nM2\n"},
		{"counts behind a turn and a way home", "G0 X1 Y1 Z5\nG68 X0 Y0 R90\nG0 X9 Y9\nG69\nG28\nG91 G1 X3 F9\nX1 Y2\nG2 X4 I2\nM2\n",
			"G90 G91.1\nG0 X1.0 Y1.0 Z5.0\nG0 X-9.0 Y9.0\nG28\nG91 G1 X3.0 F9\nG90\nG91 G1 X1.0 Y2.0\nG90\nG91 G2 X4.0 Y0.0 I2.0 J0.0\nG90\nM2\n"},
		{"a zero brought back where the place wasn't known", "G92.2\nG92 X1\nG92.3\nG0 X1\nM2\n", "p.nc:3:1: G92.3, with a zero that was set where the place wasn't known, expected G92 with that zero again"},
		{"another work offset and back", "G0 X1 Y2\nG55\nG54\nG91 X1\nM2\n", "G90 G91.1\nG0 X1.0 Y2.0\nG55\nG54\nG91 G0 X1.0\nG90\nM2\n"},
		{"a circle after other units", "G0 X1 Y2 Z5\nG20\nG3 I2 F9\nG1 X1\nM2\n", "G90 G91.1\nG0 X1.0 Y2.0 Z5.0\nG20\nG3 I2.0 J0.0 F9\nG1 X1.0\nM2\n"},
		{"a circle from a count in other units", "G91 X1 Y1\nG20\nG3 I2 F9\nM2\n", "G90 G91.1\nG91 X1.0 Y1.0\nG90\nG20\nG91 G3 X0.0 Y0.0 I2.0 J0.0 F9\nG90\nM2\n"},
		{"a cycle from a count in other units", "G91 X1\nG20\nG81 X1 Z-1 R-1 F9\nM2\n", "p.nc:3:1: a cycle after other units, at a place that isn't known, expected X, Y and Z in G90 first"},
		{"G0 alone behind an arc", "G0 X0 Y0\nG2 X5 Y1 R4 F9\nG0\nG80\nX2 Y1\nM2\n", "G90 G91.1\nG0 X0.0 Y0.0\nG2 X5.0 Y1.0 I3.1045 J-2.5224 F9\nG0\nG80\nX2.0 Y1.0\nM2\n"},
		{"comments", "(one)\n#1=1 (radius)\nG0 X#1 Y1 Z1 (go)\n; note\nM2\n", "(one)\n(radius)\nG90 G91.1\nG0 X1.0 Y1.0 Z1.0 (go)\n; note\nM2\n"},
		{"inches", "G20\nG0 X[1/3] Y1 Z1\nM2\n", "G90 G91.1\nG20\nG0 X0.3333 Y1.0 Z1.0\nM2\n"},
		{"finer programs", "G0 X1.00005 Y1 Z1\nG1 X[1/3] F9\nM2\n", "G90 G91.1\nG0 X1.00005 Y1.0 Z1.0\nG1 X0.33333 F9\nM2\n"},
		{"block delete", "G0 X1 Y1 Z1\n/M8\nM2\n", "G90 G91.1\nG0 X1.0 Y1.0 Z1.0\n/M8\nM2\n"},
		{"one of several switches, look-ahead", "G0 X1 Y1 Z1\n/2 M8\nG5.1 Q1\nM2\n", "G90 G91.1\nG0 X1.0 Y1.0 Z1.0\n/2 M8\nG5.1 Q1\nM2\n"},
		{"the same numbers in another offset", "G0 X1 Y1 Z1\nG55 G0 X1 Y1\nG0 Z1\nM2\n", "G90 G91.1\nG0 X1.0 Y1.0 Z1.0\nG55 G0 X1.0 Y1.0\nG0 Z1.0\nM2\n"},
		{"a helix in turns", "G0 X0 Y0 Z0\nG2 X0 Y0 Z-3 I5 J0 P3 F9\nM2\n", "G90 G91.1\nG0 X0.0 Y0.0 Z0.0\nG2 X0.0 Y0.0 Z-3.0 I5.0 J0.0 P3 F9\nM2\n"},
		{"another plane", "G18\nG0 X0 Y0 Z0\nG2 X10 Z0 I5 K0 F9\nM2\n", "G90 G91.1\nG18\nG0 X0.0 Y0.0 Z0.0\nG2 X10.0 Z0.0 K0.0 I5.0 F9\nM2\n"},
		{"a turn after a tool change", "G0 X0 Y0 Z5\nG68 X0 Y0 R90\nG1 X10 Y0 F9\nT2 M6\nG1 X20\nG69\nM2\n",
			"G90 G91.1\nG0 X0.0 Y0.0 Z5.0\nG1 X0.0 Y10.0 F9\nT2 M6\nG1 X0.0 Y20.0\nM2\n"},
		{"before any motion word", "G43 H1 Z50\nG0 X1 Y1\nG80\nZ5\nM2\n", "G90 G91.1\nG43 Z50.0 H1\nG0 X1.0 Y1.0\nG80\nZ5.0\nM2\n"},
		{"a comment inside a comment", "G0 X1 Y1 Z5 (a (b) c)\nM2\n", "G90 G91.1\nG0 X1.0 Y1.0 Z5.0\nM2\n"},
		{"beside a call", "G0 X1 Y1 Z1\nG91 M98 P7 L2 M8 S500\nM2\nO7\nG1 X1 F9\nM9 M99\n", "G90 G91.1\nG0 X1.0 Y1.0 Z1.0\nM8 S500\nG1 X2.0 F9\nM9\nG1 X3.0 F9\nM9\nM2\n"},
		{"a macro", "G65 P7 X5 R2\nM30\nO7\nG0 X[#24-#18] Y0 Z0\nG1 X#24 F9\nM99\n", "G90 G91.1\nG0 X3.0 Y0.0 Z0.0\nG1 X5.0 F9\nM30\n"},
	} {
		if got := written(tt.text); got != tt.want {
			t.Errorf("%s:\ngot  %q\nwant %q", tt.name, got, tt.want)
		}
	}
}

// TestNotes: what can't be written and moves nothing is named once, with its line.
func TestNotes(t *testing.T) {
	const text = "#1=2\nDO1\nDPRNT[X#1[53]]\nDPRNT[A]\n#1=#1+1\nIF [#1 GT 3] GOTO 5\nEND1\nN5 G0 X#1 Y1 Z9\n#[3000+4]=2\n#1000=1\n#3002=0\n#3006=1\n#[3000+6]=1\nG81 X1 Y1 R2 Z-1 F9\nG91 X3\nG90 G80\nM2\n"
	r, err := Write([]byte(text), io.Discard, Options{})
	if err != nil {
		t.Fatal(err)
	}
	const left, of = "not written out: ", ", on many controls a setting of its own"
	if want := []Note{{3, left + "DPRNT with parameters"}, {9, left + "#3004" + of}, {10, left + "#1000" + of}, {13, left + "#3006" + of},
		{15, "R and Z given in G90 are carried into G91: taken as they were given, controls differ"}}; !slices.Equal(r.Notes, want) {
		t.Errorf("notes %v, want %v", r.Notes, want)
	}
}

// TestDiffers: FIX, FUP and MOD of negative numbers go where NISTIR 6556 (3.3, unary
// operations: FIX down, FUP up) says, and it is said that other controls do not.
func TestDiffers(t *testing.T) {
	for _, c := range []struct{ block, want string }{
		{"X[FIX[-1.2]]", "FIX"}, {"X[FUP[-2.5]]", "FUP"}, {"X[[0-5] MOD 3]", "MOD"}, {"X[5 MOD [0-3]]", "MOD"},
		{"X[FIX[1.2]]", ""}, {"X[FIX[-2]]", ""}, {"X[5 MOD 3]", ""}, {"X[ABS[-1.2]]", ""},
	} {
		r, err := Write([]byte("G21 G90\nG0 "+c.block+" Y1\nM30\n"), io.Discard, Options{Read: motion.Options{Name: "p.nc"}})
		if err != nil {
			t.Fatalf("%s: %v", c.block, err)
		}
		var want []Note
		if c.want != "" {
			want = []Note{{2, c.want + " of a negative number: worked out as NISTIR 6556 does, controls differ"}}
		}
		if !slices.Equal(r.Notes, want) {
			t.Errorf("%s: notes %v, want %v", c.block, r.Notes, want)
		}
	}
}
