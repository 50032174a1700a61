package cycle

import (
	"strings"
	"testing"

	"flipcalc/mirror/transform"
)

// Text gives the written program where it is proved, spelled out and as cycles, in
// millimetres and inches, with and without an offset and a tool line.
func TestText(t *testing.T) {
	for _, cycles := range []bool{false, true} {
		for _, unit := range []transform.Unit{transform.MM, transform.Inch} {
			for _, offset := range []string{"", "G55", "G59.1"} {
				for _, line := range []string{"", "T9 M6 G43 H9", "none"} {
					p := markers()
					p.Cycles, p.Unit, p.Offset, p.Tape = cycles, unit, offset, cycles
					p.Passes[0].Line = line
					text, err := Text(p)
					if err != nil {
						t.Errorf("%v %v %q %q: %v", cycles, unit, offset, line, err)
					} else if string(text) != string(write(t, p)) {
						t.Error("not what Write writes")
					}
				}
			}
		}
	}
	p := markers()
	p.Passes = nil
	if text, err := Text(p); err == nil || text != nil {
		t.Errorf("%q, %v", text, err)
	}
}

// Every way of spoiling a program that could hurt the blank, the bed or the drill is
// found: one row a slip, each a change of the text that Write gave.
func TestProveFinds(t *testing.T) {
	const plain, cycles = false, true
	for _, c := range []struct {
		cycles   bool
		old, new string
		want     string // what the error says
	}{
		{plain, "G1 Z-18.000", "G1 Z-18.001", "a cut down to Z-18.001, expected no deeper than Z-18"},
		{plain, "G1 Z-18.000", "G1 Z-17.999", "hole 1 at X60 Y8 ends at Z-17.999, expected Z-18"},
		{plain, "G1 Z-17.500", "G1 Z-18.000", "a cut down to Z-18, expected no deeper than Z-17.5"},
		{plain, "G0 X60.000 Y8.000", "G0 X60.001 Y8.000", "a rapid down away from the holes"},
		{plain, "G0 X60.000 Y8.000", "G0 X8.000 Y60.000", "a rapid down away from the holes"},
		{plain, "G0 X60.000 Y8.000", "G0 X60.000 Y74.000", "tool 1, expected tool 2"},
		{plain, "G0 X60.000 Y8.000", "G1 X60.000 Y8.000 F100", "a cut at an unknown height"},
		{plain, "G1 Z-5.000 F250.0", "G1 X61 Z-5.000 F250.0", "a sideways move at Z-5"},
		{plain, "G1 Z-5.000 F250.0", "G1 Z-5.001 F250.0", "a bite from Z0 to Z-5.001, expected at most 5"},
		{plain, "G1 Z-10.000 F250.0\n", "", "a bite from Z-5 to Z-15, expected at most 5"},
		{plain, "G0 Z1.000\nG1 Z-10.000", "G0 Z-5.000\nG1 Z-10.000", ""}, // level with where it stands
		{plain, "G0 Z1.000\nG1 Z-10.000", "G0 Z1.000\nG0 Z-4.000\nG1 Z-10.000", "a rapid down to Z-4, expected no lower than Z1"},
		{plain, "G0 Z1.000\nG1 Z-5.000", "G0 Z0.999\nG1 Z-5.000", "a rapid down to Z0.999, expected no lower than Z1"},
		{plain, "M3\nG0 X60.000 Y8.000\nG0 Z10.000", "M3\nG0 X60.000 Y8.000\nG0 Z9.000", "a rapid down to Z9, expected no lower than Z10"},
		{plain, "M3\nG0 X60.000 Y8.000\nG0 Z10.000", "M3\nG0 Z10.000\nG0 X60.000 Y8.000", "a rapid down away from the holes, expected X and Y of a hole first"},
		{plain, "M3\nG0 X60.000 Y8.000\nG0 Z10.000", "M3\nG0 X60.000 Y8.000 Z10.000", "a sideways move at Z10"},
		{plain, "M3\nG0 X60.000 Y8.000\nG0 Z10.000", "M3\nG1 F9 X60.000 Y8.000\nG0 Z10.000", "a cut at an unknown height, expected the safe height first"},
		{plain, "M3\nG0 X60.000 Y8.000\nG0 Z10.000", "M3\nG0 X60.000 Y8.000\nG43 H1 G0 Z10.000", "tool length 1, expected -1"},
		{plain, "F250.0", "F251.0", "a cut at F251, expected F250"},
		{plain, "S6000", "S6001", "a cut with spindle 1 at S6001, expected M3 and S6000"},
		{plain, "S6000 M3", "S6000 M4", "a cut with spindle -1 at S6000"},
		{plain, "S6000 M3", "S6000", "a cut with spindle 0 at S6000"},
		{plain, "T1 M6", "T3 M6", "tool 3, expected tool 1"},
		{plain, "G54", "G55", `a move in another work offset, expected "G54"`},
		{plain, "\nG54\n", "\n", `a move in another work offset, expected "G54"`},
		{plain, "G21", "G20", "lengths in in, expected mm"},
		{plain, "G17 G90 G94", "G17 G90 G95", "a cut at F250"},
		{plain, "G0 X60.000 Y8.000", "G53 G0 X60.000 Y8.000", "a move in machine coordinates"},
		{plain, "G0 Z10.000\nM5\nM30", "G0 Z10.000\nG53 G0 Z-5\nM5\nM30", "a move in machine coordinates"},
		{plain, "G0 Z10.000\nM5\nM30", "G0 Z10.000\nG28 Z10\nM5\nM30", "a move in machine coordinates"},
		{plain, "G1 Z-5.000 F250.0", "G2 X60 Y8 I5 J0 F250.0", "an arc"},
		{plain, "M5\nM30", "G0 X0 Y0\nG1 Z9 F50\nM5\nM30", "a cut at X0 Y0, where no hole is"},
		{cycles, "Z-18.000 R1.000", "Z-18.001 R1.000", "a cut down to Z-18.001, expected no deeper than Z-18"},
		{cycles, "R1.000 Q5.000", "R0.500 Q5.000", "a rapid down to Z0.5, expected no lower than Z1"},
		{cycles, "R1.000 Q5.000", "R1.000 Q5.001", "a bite from Z-4.001 to Z-9.002, expected at most 5"},
		{cycles, "G98 G83 X60.000 Y8.000", "G99 G83 X60.000 Y8.000", ""},
		{cycles, "G80\nG0", "G83 X0 Y0 Q5\nG80\nG0", "a rapid down away from the holes"},
		{cycles, "G98 G83", "G98 G81", "a bite from Z0 to Z-18, expected at most 5"},
	} {
		p := markers()
		p.Cycles = c.cycles
		text := string(write(t, p))
		spoiled := strings.Replace(text, c.old, c.new, 1)
		if spoiled == text {
			t.Errorf("%q isn't in the program\n%s", c.old, text)
			continue
		}
		err := Prove([]byte(spoiled), p)
		switch {
		case c.want == "" && err != nil:
			t.Errorf("%q for %q: %v", c.new, c.old, err)
		case c.want != "" && (err == nil || !strings.Contains(err.Error(), c.want)):
			t.Errorf("%q for %q: %v, want %s", c.new, c.old, err, c.want)
		}
	}
}

// At a clear height in machine coordinates the drill is changed, goes across and ends.
func TestUp(t *testing.T) {
	up := dec("-51")
	for _, cycles := range []bool{false, true} {
		p := markers()
		p.Up, p.Cycles = &up, cycles
		p.Passes[0].Line, p.Passes[1].Line = "T1 M6 G43 H1", "T2 M6 G43 H2"
		text := string(write(t, p))
		for _, want := range []string{"G54\nG53 G0 Z-51.000\nT1 M6\nG53 G0 Z-51.000\nS6000 M3\nG0 X60.000 Y8.000\nG0 G43 H1 Z10.000\n",
			"G0 Z10.000\nG53 G0 Z-51.000\nM5\nT2 M6\nG53 G0 Z-51.000\nS8000 M3\nG0 X60.000 Y74.000\nG0 G43 H2 Z10.000\n",
			"G0 Z10.000\nG53 G0 Z-51.000\nM5\nM30\n"} {
			if !strings.Contains(text, want) {
				t.Errorf("cycles %v: no %q in\n%s", cycles, want, text)
			}
		}
		if _, err := Text(p); err != nil {
			t.Fatal(err)
		}
		for _, c := range []struct{ old, new, want string }{
			{"G54\nG53 G0 Z-51.000\n", "G54\n", "tool 1 called below the clear height"},
			{"M6\nG53 G0 Z-51.000\n", "M6\n", "a move at an unknown height, expected the clear height first"},
			{"G0 Z10.000\nG53 G0 Z-51.000\nM5\nT2", "G0 Z10.000\nM5\nT2", "tool 2 called below the clear height"},
			{"G53 G0 Z-51.000\nM5\nM30", "M5\nM30", "an end below the clear height"},
			{"G53 G0 Z-51.000\nM5\nM30", "G53 G0 Z-52.000\nM5\nM30", "a move in machine coordinates"},
			{"G53 G0 Z-51.000\nM5\nM30", "G53 G0 X0 Z-51.000\nM5\nM30", "a move in machine coordinates"},
			{"G43 H2", "G43 H3", "tool length 3, expected 2"},
			{"G43 H2 ", "", "a"},
		} {
			spoiled := strings.Replace(text, c.old, c.new, 1)
			if spoiled == text {
				t.Errorf("%q isn't in the program\n%s", c.old, text)
			}
			if err := Prove([]byte(spoiled), p); err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("%q for %q: %v, want %s", c.new, c.old, err, c.want)
			}
		}
	}
}
