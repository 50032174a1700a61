package plain

import "testing"

// TestSlash: one text for the switch on and off, or a refusal by line and name.
func TestSlash(t *testing.T) {
	const hint = "; hint: repeat the words that both ways need (G90, G1, F, X, Y, Z and the like) in a block without a slash"
	for _, tt := range []struct{ name, text, want string }{
		{"settings", "#1=5\n/S9000 M3\nG0 X#1 Y0 Z5\n/G43 H1\nG1 Z-1 F100\n/F50\n/G1\nX20\nM30\n",
			"G90 G91.1\n/S9000 M3\nG0 X5.0 Y0.0 Z5.0\n/G43 H1\nG1 Z-1.0 F100\n/F50\nG1 X20.0\nM30\n"},
		{"moves", "#1=5\nG0 X#1 Y0 Z5\n/G0 X50\n/G1 Z-1 F100\n/X70 (one more)\n/G0 Z5\nX#1 Y20 Z5\nG1 Z-1 F100\nM30\n",
			"G90 G91.1\nG0 X5.0 Y0.0 Z5.0\n/G0 X50.0\n/G1 Z-1.0 F100\n/G1 X70.0 (one more)\n/G0 Z5.0\nG0 X5.0 Y20.0 Z5.0\nG1 Z-1.0 F100\nM30\n"},
		{"a cycle, every line of it", "G0 X1 Y1 Z1\n/G98 G81 X2 Y2 Z-1 R1 F9\n/G91 X3 R0 Z-2 L2\n/G90\n/G80\nG0 X0 Y0 Z5\nM2\n",
			"G90 G91.1\nG0 X1.0 Y1.0 Z1.0\n/G98 G81 X2.0 Y2.0 Z-1.0 R1.0 F9\n/G81 X5.0 Y2.0 Z-1.0 R1.0\n/G81 X8.0 Y2.0 Z-1.0 R1.0\n/G80\nG0 X0.0 Y0.0 Z5.0\nM2\n"},
		{"home", "G0 X1 Y1 Z5\n/G91 G28 Z0\n/G90\nG0 X2 Y2 Z2\nM2\n", "G90 G91.1\nG0 X1.0 Y1.0 Z5.0\n/G91 G28 Z0\n/G90\nG0 X2.0 Y2.0 Z2.0\nM2\n"},
		{"in a loop, two switches", "#1=0\nWHILE [#1 LT 2] DO1\nG0 X#1 Y0 Z5\n/M8\n/2 G1 X9 F9\n#1=#1+1\nEND1\nM2\n",
			"G90 G91.1\nG0 X0.0 Y0.0 Z5.0\n/M8\n/2 G1 X9.0 F9\nG0 X1.0 Y0.0 Z5.0\n/M8\n/2 G1 X9.0 F9\nM2\n"},
		{"a parameter that blocks behind the slash alone use", "/#1=5\nG0 X1 Y1 Z1\n/G1 X#1 F9\nG0 X7\nM2\n", "G90 G91.1\nG0 X1.0 Y1.0 Z1.0\n/G1 X5.0 F9\nG0 X7.0\nM2\n"},
		{"a comment and a stop", "G0 X1 Y1 Z5\n/(take a look)\n/M0 (look)\nG0 X3\nM2\n", "G90 G91.1\nG0 X1.0 Y1.0 Z5.0\n/(take a look)\n/M0 (look)\nG0 X3.0\nM2\n"},
		{"a setting that changes what follows", "#1=5\nG0 X1 Y1 Z5\n/G91\nG0 X#1\nM2\n", "p.nc:4:1: a block that depends on whether the block with a slash in line 3 runs" + hint},
		{"a move that the next counts from", "G0 X1 Y1 Z5\n/X9 Y9\nG91 X1\nM2\n", "p.nc:3:1: a block that depends on whether the block with a slash in line 2 runs" + hint},
		{"a feed that is repeated for one way alone", "G0 X1 Y1 Z5\n/G1 X9 F9\nX8\nM2\n", "p.nc:3:1: a block that depends on whether the block with a slash in line 2 runs" + hint},
		{"a parameter that others use", "#1=4\n/#1=5\nG0 X#1\nM2\n", "p.nc:3:1: a block that depends on whether the block with a slash in line 2 runs" + hint},
		{"a parameter that is set there alone", "/#1=5\nG0 X#1\nM2\n", "p.nc:2:5: parameter #1, which the program hasn't set (when the blocks with a slash, such as line 1, are skipped), expected a block that sets it first"},
		{"the longer way is the one without", "#1=1\n/#1=9\nG0 X1\nIF [#1 EQ 9] GOTO 5\nG0 X2\nN5\nM2\n", "p.nc:7:1: a block that depends on whether the block with a slash in line 2 runs" + hint},
		{"a call", "G0 X1 Y1 Z5\n/M98 P7\nM2\nO7\nG0 X2\nM99\n", "p.nc:2:2: M98 behind a slash (block delete), expected a block that always runs; hint: take the slash out, or write two programs"},
		{"an end", "G0 X1 Y1 Z5\n/M30\nM2\n", "p.nc:2:2: M30 behind a slash (block delete), expected a block that always runs; hint: take the slash out, or write two programs"},
		{"many switches", "G0 X1 Y1 Z5\n/M8\n/2M8\n/3M8\n/4M8\n/5M8\nM2\n", "p.nc:6:1: a block delete switch beside 4 others, expected at most 4"},
	} {
		if got := written(tt.text); got != tt.want {
			t.Errorf("%s:\ngot  %q\nwant %q", tt.name, got, tt.want)
		}
	}
}
