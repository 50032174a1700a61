package proof

import (
	"strings"
	"testing"

	"flipcalc/mirror/motion"
	"flipcalc/mirror/transform"
)

// engrave is a small program of our own with all that Matches looks at.
const engrave = "G21 G17 G90 G94\nG53 G0 Z-5\nT2 M6\nG55\nS900 M3\nM8\nG0 X10 Y5\nG0 Z2\nG1 Z-1 F80\nG1 Z-1\nG3 X14 I2 J0\nG0 Z2\nM5\nM9\nM30\n"

// wantedOf is what a program does, as the control sees it.
func wantedOf(t *testing.T, text string) Program {
	t.Helper()
	p := Program{Read: motion.Options{Name: "own"}, Changes: strings.Count(text, "M6")}
	p.Legs = []Leg{{Name: "the arc", Offset: 550}}
	_, err := motion.Walk(strings.NewReader(text), p.Read, func(m *motion.Move) error {
		w, s := WantedOf(m), m.State
		w.State = &s
		p.Legs[0].Moves = append(p.Legs[0].Moves, w)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// A program matches itself; what moves nothing counts on neither side; and each slip is
// refused by what differs.
func TestMatches(t *testing.T) {
	want := wantedOf(t, engrave)
	for _, c := range []struct{ old, new, found string }{
		{"", "", ""},
		{"G1 Z-1\n", "", ""},
		{"G0 Z2\nM5", "G0 Z2\nX14\nM5", ""},
		{"G0 X10 Y5\n", "", "own:7:1: a rapid from X? Y? Z? to X? Y? Z2, expected a rapid to X10 Y5 (the arc)"},
		{"X14", "X14.0001", "own:11:1: a counter-clockwise arc from X10 Y5 Z-1 to X14.0001 Y5 Z-1"},
		{"X14 I2 J0", "X14 R2", "own:11:1: a counter-clockwise arc from X10 Y5 Z-1 to X14 Y5 Z-1 of radius 2 in G17, expected a counter-clockwise arc to X14 Y5 Z-1 round X12 Y5 in G17 (the arc)"},
		{"G3", "G2", "own:11:1: a clockwise arc"},
		{"Z-5", "Z-4", "own:2:1: a rapid in machine coordinates from X? Y? Z? to X? Y? Z-4, expected a rapid in machine coordinates to Z-5 (the arc)"},
		{"Z-5", "X0 Z-5", "own:2:1: a rapid in machine coordinates"},
		{"G55", "G56", "own:7:1: a move in G56, expected G55 (the arc)"},
		{"G55\n", "", "own:6:1: a move in no offset, expected G55 (the arc)"},
		{"T2", "T3", "own:7:1: tool 3, expected tool 2 (the arc)"},
		{"M8\n", "", "own:6:1: coolant 0, expected coolant 2 (the arc)"},
		{"F80", "F81", "own:9:1: feed 81, expected feed 80 (the arc)"},
		{"S900 M3\n", "S900 M3\nG43 H1\n", "own:9:1: length 1, expected length -1 (the arc)"},
		{"G1 Z-1 F80", "G41 D1 G1 Z-1 F80", "own:9:1: G41, expected G40 (the arc)"},
		{"G0 Z2\nM5", "M5", "own:1:1: the program's end, expected a rapid to X14 Y5 Z2 (the arc)"},
		{"M5\n", "G0 X0\nM5\n", "own:13:1: a rapid from X14 Y5 Z2 to X0 Y5 Z2 after the last wanted one, expected none"},
		{"M5\nM9\n", "M9\n", "own:14:1: M30 with spindle or coolant on, expected M5 and M9 before it"},
		{"M5\nM9\n", "M5\n/M9\n", "own:15:1: M30 with spindle or coolant on"},
		{"T2 M6\n", "M3\nT2 M6\n", "own:4:1: M6 with spindle or coolant on"},
		{"T2 M6\n", "T2 M6\nM6\n", "own:1:1: 2 M6 and 1 ends, expected 1 and 1"},
		{"M30\n", "", "own:1:1: 1 M6 and 0 ends, expected 1 and 1"},
		{"S900 M3", "G44 H1 S900 M3", "own:5:1: G44 (a tool length counted the other way), expected G43"},
	} {
		text := strings.Replace(engrave, c.old, c.new, 1)
		_, err := Matches([]byte(text), want)
		switch {
		case c.found == "" && err != nil:
			t.Errorf("%q for %q: %v", c.new, c.old, err)
		case c.found != "" && (err == nil || !strings.HasPrefix(err.Error(), c.found)):
			t.Errorf("%q for %q:\n%v\nwant %s", c.new, c.old, err, c.found)
		}
	}
}

// An arc by its radius is held to it: a radius says the way round as well (NISTIR 6556, 3.5.3.1).
func TestMatchesRadius(t *testing.T) {
	text := strings.Replace(engrave, "I2 J0", "R2.5", 1)
	want := wantedOf(t, text)
	for _, radius := range []string{"R2.5", "R3", "R-2.5"} {
		_, err := Matches([]byte(strings.Replace(text, "R2.5", radius, 1)), want)
		if right := radius == "R2.5"; right != (err == nil) {
			t.Errorf("%s: %v", radius, err)
		}
	}
}

// A wanted move that moves nothing is passed over where Z is lost behind it, too: G49 with
// lengths that aren't known (common practice: the same height has another Z from then on).
func TestMatchesStillBeforeG49(t *testing.T) {
	text := "G21 G90\nT1 M6\nG55\nG43 H1\nG0 X1 Y1 Z1\nG0 X1 Z1\nG49\nG0 X1 Y1 Z2\nM2\n"
	want := wantedOf(t, text)
	for old, right := range map[string]bool{"M2": true, "G49\n": false, "G0 X1 Y1 Z1\n": false} {
		changed := text
		if old != "M2" {
			changed = strings.Replace(text, old, "", 1)
		}
		if _, err := Matches([]byte(changed), want); (err == nil) != right {
			t.Errorf("without %q: %v", old, err)
		}
	}
}

// What ran before a program is switched off before its first tool change.
func TestMatchesFromRunning(t *testing.T) {
	want := wantedOf(t, engrave)
	want.Running = [2]bool{true, true}
	for text, right := range map[string]bool{engrave: false, strings.Replace(engrave, "T2 M6", "M5\nM9\nT2 M6", 1): true, strings.Replace(engrave, "T2 M6", "M5\nT2 M6", 1): false} {
		if _, err := Matches([]byte(text), want); (err == nil) != right {
			t.Errorf("%v\n%s", err, text)
		}
	}
}

// A height that was rounded upwards to 0.0001 in, 0.00254 mm, is met, and no other.
func TestMatchesRoundedHeight(t *testing.T) {
	five := motion.FromInt(-5)
	for z, right := range map[string]bool{"-0.1968": true, "-0.1967": false, "-0.1969": false, "-0.196850394": false} {
		w := Wanted{Machine: true, To: motion.Point{2: five}, Named: [3]bool{2: true}, Unit: transform.MM, Rounded: true}
		_, err := Matches([]byte("G20\nG53 G0 Z"+z+"\nM2\n"), Program{Legs: []Leg{{Moves: []Wanted{w}}}})
		if (err == nil) != right {
			t.Errorf("Z%s: %v", z, err)
		}
	}
}
