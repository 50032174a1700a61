package cycle

import (
	"strings"
	"testing"

	"flipcalc/mirror/transform"
)

// Drill gives the written program where it is proved, spelled out and as cycles, in
// millimetres and inches, with and without an offset and a tool line.
func TestDrill(t *testing.T) {
	for _, cycles := range []bool{false, true} {
		for _, unit := range []transform.Unit{transform.MM, transform.Inch} {
			for _, offset := range []string{"", "G55", "G59.1"} {
				for _, line := range []string{"", "T9 M6 G43 H9", "none"} {
					p := markers()
					p.Cycles, p.Unit, p.Offset = cycles, unit, offset
					p.Passes[0].Line = line
					text, err := Drill(p)
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
	if text, err := Drill(p); err == nil || text != nil {
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
		{plain, "G1 Z-18.000", "G1 Z-18.001", "a feed from X60 Y8 Z1 to X60 Y8 Z-18.001, expected a feed to Z-18"},
		{plain, "G1 Z-18.000", "G1 Z-17.999", "a feed from X60 Y8 Z1 to X60 Y8 Z-17.999, expected a feed to Z-18"},
		{plain, "G1 Z-17.500", "G1 Z-18.000", "a feed from X60 Y74 Z1 to X60 Y74 Z-18, expected a feed to Z-17.5"},
		{plain, "G0 X60.000 Y8.000", "G0 X60.001 Y8.000", "a rapid from X? Y? Z? to X60.001 Y8 Z?, expected a rapid to X60 Y8"},
		{plain, "G0 X60.000 Y8.000", "G0 X8.000 Y60.000", "a rapid from X? Y? Z? to X8 Y60 Z?, expected a rapid to X60 Y8"},
		{plain, "G0 X60.000 Y8.000", "G0 X60.000 Y74.000", "a rapid from X? Y? Z? to X60 Y74 Z?, expected a rapid to X60 Y8"},
		{plain, "G0 X60.000 Y8.000", "G1 X60.000 Y8.000 F100", "feed 100, expected feed 250"},
		{plain, "G1 Z-5.000 F250.0", "G1 X61 Z-5.000 F250.0", "a feed from X60 Y8 Z1 to X61 Y8 Z-5, expected a feed to Z-5"},
		{plain, "G1 Z-5.000 F250.0", "G1 Z-5.001 F250.0", "a feed from X60 Y8 Z1 to X60 Y8 Z-5.001, expected a feed to Z-5"},
		{plain, "G1 Z-10.000 F250.0\n", "", "a feed from X60 Y8 Z1 to X60 Y8 Z-15, expected a feed to Z-10"},
		{plain, "G0 Z1.000\nG1 Z-10.000", "G0 Z-5.000\nG1 Z-10.000", "a feed from X60 Y8 Z-5 to X60 Y8 Z-10, expected a rapid to Z1"},
		{plain, "G0 Z1.000\nG1 Z-10.000", "G0 Z1.000\nG0 Z-4.000\nG1 Z-10.000", "a rapid from X60 Y8 Z1 to X60 Y8 Z-4, expected a feed to Z-10"},
		{plain, "G0 Z1.000\nG1 Z-5.000", "G0 Z0.999\nG1 Z-5.000", "a rapid from X60 Y8 Z10 to X60 Y8 Z0.999, expected a rapid to Z1"},
		{plain, "M3\nG0 X60.000 Y8.000\nG0 Z10.000", "M3\nG0 X60.000 Y8.000\nG0 Z9.000", "a rapid from X60 Y8 Z? to X60 Y8 Z9, expected a rapid to Z10"},
		{plain, "M3\nG0 X60.000 Y8.000\nG0 Z10.000", "M3\nG0 Z10.000\nG0 X60.000 Y8.000", "a rapid from X? Y? Z? to X? Y? Z10, expected a rapid to X60 Y8"},
		{plain, "M3\nG0 X60.000 Y8.000\nG0 Z10.000", "M3\nG0 X60.000 Y8.000 Z10.000", "a rapid from X? Y? Z? to X60 Y8 Z10, expected a rapid to X60 Y8"},
		{plain, "M3\nG0 X60.000 Y8.000\nG0 Z10.000", "M3\nG1 F9 X60.000 Y8.000\nG0 Z10.000", "feed 9, expected feed 250"},
		{plain, "M3\nG0 X60.000 Y8.000\nG0 Z10.000", "M3\nG0 X60.000 Y8.000\nG43 H1 G0 Z10.000", "length 1, expected length -1"},
		{plain, "F250.0", "F251.0", "feed 251, expected feed 250"},
		{plain, "S6000", "S6001", "speed 6001, expected speed 6000"},
		{plain, "S6000 M3", "S6000 M4", "spindle -1, expected spindle +1"},
		{plain, "S6000 M3", "S6000", "spindle +0, expected spindle +1"},
		{plain, "T1 M6", "T3 M6", "tool 3, expected tool 1"},
		{plain, "G54", "G55", "a move in G55, expected G54"},
		{plain, "\nG54\n", "\n", "a move in no offset, expected G54"},
		{plain, "G21", "G20", "in, expected mm"},
		{plain, "G17 G90 G94", "G17 G90 G95", "G95, expected G94"},
		{plain, "G0 X60.000 Y8.000", "G53 G0 X60.000 Y8.000", "a rapid in machine coordinates from X? Y? Z? to X60 Y8 Z?, expected a rapid to X60 Y8"},
		{plain, "G0 Z10.000\nM5\nM30", "G0 Z10.000\nG53 G0 Z-5\nM5\nM30", "a rapid in machine coordinates from X60 Y74 Z10 to X?+60 Y?+74 Z-5 after the last wanted one, expected none"},
		{plain, "G0 Z10.000\nM5\nM30", "G0 Z10.000\nG28 Z10\nM5\nM30", "a rapid home after the last wanted one, expected none"},
		{plain, "G1 Z-5.000 F250.0", "G2 X60 Y8 I5 J0 F250.0", "a clockwise arc from X60 Y8 Z1 to X60 Y8 Z1 round X65 Y8 in G17, expected a feed to Z-5"},
		{plain, "M5\nM30", "G0 X0 Y0\nG1 Z9 F50\nM5\nM30", "a rapid from X60 Y74 Z10 to X0 Y0 Z10 after the last wanted one, expected none"},
		{cycles, "Z-18.000 R1.000", "Z-18.001 R1.000", "a feed from X60 Y8 Z-13.746 to X60 Y8 Z-18.001, expected a feed to Z-18"},
		{cycles, "R1.000 Q5.000", "R0.500 Q5.000", "a rapid from X60 Y8 Z10 to X60 Y8 Z0.5, expected a rapid to Z1"},
		{cycles, "R1.000 Q5.000", "R1.000 Q5.001", "a feed from X60 Y8 Z1 to X60 Y8 Z-4.001, expected a feed to Z-4"},
		{cycles, "G98 G83 X60.000 Y8.000", "G99 G83 X60.000 Y8.000", "a rapid from X60 Y8 Z-18 to X60 Y8 Z1, expected a rapid to Z10"},
		{cycles, "G80\nG0", "G83 X0 Y0 Q5\nG80\nG0", "tool 1, expected tool 2"},
		{cycles, "G98 G83", "G98 G81", "a rapid from X60 Y8 Z10 to X60 Y8 Z1, expected a rapid to Z1"},
	} {
		p := markers()
		p.Cycles = c.cycles
		text := string(write(t, p))
		spoiled := strings.Replace(text, c.old, c.new, 1)
		if spoiled == text {
			t.Errorf("%q isn't in the program\n%s", c.old, text)
			continue
		}
		if err := p.prove([]byte(spoiled)); err == nil || !strings.Contains(err.Error(), c.want) {
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
		if _, err := Drill(p); err != nil {
			t.Fatal(err)
		}
		for _, c := range []struct{ old, new, want string }{
			{"G54\nG53 G0 Z-51.000\n", "G54\n", "tool 1, expected tool -1"},
			{"M6\nG53 G0 Z-51.000\n", "M6\n", "spindle +1, expected spindle +0"},
			{"G0 Z10.000\nG53 G0 Z-51.000\nM5\nT2", "G0 Z10.000\nM5\nT2", "tool 2, expected tool 1"},
			{"G53 G0 Z-51.000\nM5\nM30", "M5\nM30", "the program's end, expected a rapid in machine coordinates to Z-51"},
			{"G53 G0 Z-51.000\nM5\nM30", "G53 G0 Z-52.000\nM5\nM30", "a rapid in machine coordinates from X60 Y74 Z10 to X?+60 Y?+74 Z-52, expected a rapid in machine coordinates to Z-51"},
			{"G53 G0 Z-51.000\nM5\nM30", "G53 G0 X0 Z-51.000\nM5\nM30", "a rapid in machine coordinates from X60 Y74 Z10 to X0 Y?+74 Z-51, expected a rapid in machine coordinates to Z-51"},
			{"G43 H2", "G43 H3", "length 3, expected length 2"},
			{"G43 H2 ", "", "a"},
		} {
			spoiled := strings.Replace(text, c.old, c.new, 1)
			if spoiled == text {
				t.Errorf("%q isn't in the program\n%s", c.old, text)
			}
			if err := p.prove([]byte(spoiled)); err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("%q for %q: %v, want %s", c.new, c.old, err, c.want)
			}
		}
	}
}
