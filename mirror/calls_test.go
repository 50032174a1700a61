package mirror

import (
	"bytes"
	"strings"
	"testing"
)

// TestCalls mirrors programs with subprograms by x' = 100 - x. M98, M99 and O numbers
// are common practice; the mirror of each block is derived from the state in which it
// runs.
func TestCalls(t *testing.T) {
	for _, c := range []struct{ name, in, out string }{
		{"absolute", "%\nO1\nG90 G0 X10 Y0\nM98 P100\nX30\nM30\nO100\nG1 X20 Y5 F9\nM99\n%\n",
			"%\nO1\nG90 G0 X90 Y0\nM98 P100\nX70\nM30\nO100\nG1 X80 Y5 F9\nM99\n%\n"},
		{"distance mode from the call", "G0 X10 Y0\nG91\nM98 P100\nG90 X30\nM30\nO100\nG1 X20 Y5 F9\nM99\n",
			"G0 X90 Y0\nG91\nM98 P100\nG90 X70\nM30\nO100\nG1 X-20 Y5 F9\nM99\n"},
		{"distance mode left behind", "G0 X10 Y0\nM98 P100\nX30\nM30\nO100 (holes)\nG91 G1 X20 Y5 F9\nM99\n",
			"G0 X90 Y0\nM98 P100\nX-30\nM30\nO100 (holes)\nG91 G1 X-20 Y5 F9\nM99\n"},
		{"repeats", "G0 X10 Y0\nM98 P100 L3\nG90 X30\nM30\nO100\nG91 G1 X20 Y5 F9\nM99\n",
			"G0 X90 Y0\nM98 P100 L3\nG90 X70\nM30\nO100\nG91 G1 X-20 Y5 F9\nM99\n"},
		{"repeats in P", "G0 X10 Y0\nM98 P30100\nG90 X30\nM30\nO0100\nG91 G1 X20 Y5 F9\nM99\n",
			"G0 X90 Y0\nM98 P30100\nG90 X70\nM30\nO0100\nG91 G1 X-20 Y5 F9\nM99\n"},
		{"a call in a call", "G0 X10 Y0\nM98 P1\nM98 P2\nM2\nO1\nG90 G1 X5 F9\nM98 P2\nM99\nO2\nG91 X1\nG90\nM99\n",
			"G0 X90 Y0\nM98 P1\nM98 P2\nM2\nO1\nG90 G1 X95 F9\nM98 P2\nM99\nO2\nG91 X-1\nG90\nM99\n"},
		{"arcs in a subprogram", "G0 X10 Y0\nM98 P1\nM2\n\nO1\nG2 X20 I5\nG3 X10 I-5 F9\nM99",
			"G0 X90 Y0\nM98 P1\nM2\n\nO1\nG3 X80 I-5\nG2 X90 I5 F9\nM99"},
	} {
		for _, eol := range []string{"\n", "\r\n"} {
			in, want := strings.ReplaceAll(c.in, "\n", eol), strings.ReplaceAll(c.out, "\n", eol)
			var out bytes.Buffer
			_, err := Mirror(strings.NewReader(in), &out, Options{Map: flipY("100")})
			if err != nil || out.String() != want {
				t.Errorf("%s: %v\n%q, want\n%q", c.name, err, out.String(), want)
			}
		}
	}
}

func TestCallsOffset(t *testing.T) {
	var out bytes.Buffer
	r, err := Mirror(strings.NewReader("G21\nM98 P1\nG0 X5\nM2\nO1\nG0 X1\nM99\n"), &out, Options{Map: flipY("100"), BackOffset: "G55", Comment: "c"})
	if want := "(flipcalc: c)\nG21\nG55\nM98 P1\nG0 X95\nM2\nO1\nG0 X99\nM99\n"; err != nil || out.String() != want || r.InsertedOffset != "G55" {
		t.Errorf("%v\n%q", err, out.String())
	}
}
