package cycle

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"flipcalc/mirror/motion"
)

// wet has three calls of two tools; coolant and spindle are left to M6 and M30 to
// switch off, and the third call rests on the tool length of the first.
const wet = `G21 G90
T1 M6
S5000 M3
M8
G0 X1. Y1.
G43 H1 Z5.
G1 Z-1. F100
G0 Z5.
G91 G28 Z0
G90
T1 M6
S6000 M4
M7
G0 X2. Y2.
Z5.
G1 Z-1.
G0 Z5.
T2 M6
S5000 M3
G0 X3. Y3.
G43 H2 Z5.
G1 Z-1.
G0 Z5.
M9
M5
M30
`

// texts are the three programs of a merge.
func texts(r *Result) []string {
	return []string{string(r.First.Text), string(r.Steady.Text), string(r.Last.Text)}
}

// Common practice: a tool is changed, hands go in and the program ends with spindle
// and coolant off. The lines are read here as text.
func TestOffBeforeChange(t *testing.T) {
	for _, order := range []Order{ByTools, ByStations} {
		o := one(wet, wet)
		o.Order, o.Pause = order, "M0"
		r := merge(t, o)
		sameCuts(t, o, r)
		for _, text := range texts(r) {
			turning, flowing, changes := true, true, 0
			for i, line := range strings.Split(text, "\n") {
				for _, w := range strings.Fields(line) {
					switch w {
					case "M3", "M4":
						turning = true
					case "M5":
						turning = false
					case "M7", "M8":
						flowing = true
					case "M9":
						flowing = false
					case "M6":
						changes++
						fallthrough
					case "M0", "M30":
						if turning || flowing {
							t.Errorf("line %d, %s: spindle %v, coolant %v\n%s", i+1, line, turning, flowing, text)
						}
					}
				}
			}
			if changes < 2 {
				t.Errorf("%d changes", changes)
			}
		}
	}
}

// Some controls move at once when they read G43 or G49: both stand in blocks with Z
// only.
func TestLengthWithZ(t *testing.T) {
	dry := "G21 G90\nT2 M6\nS5000 M3\nG0 X1. Y1.\nZ5.\nG1 Z-1. F100\nG0 Z5.\nM30\n"
	long := strings.Replace(dry, "Z5.", "G43 H2 Z5.", 1)
	for _, back := range []string{wet, smallFace, long} {
		o := one(wet, back)
		r := merge(t, o)
		sameCuts(t, o, r)
		for _, text := range texts(r) {
			for line := range strings.Lines(text) {
				if (strings.Contains(line, "G43") || strings.Contains(line, "G49")) && !strings.Contains(line, "Z") {
					t.Errorf("%q in\n%s", line, text)
				}
			}
		}
		if !strings.Contains(string(r.First.Text), "\nG43 H1 Z5.\nG1 Z-1.\nG0 Z5.\nG90") {
			t.Errorf("the second call of T1 has no length:\n%s", r.First.Text)
		}
	}
	// One tool, with and without a length.
	o := one(long, dry)
	r := merge(t, o)
	sameCuts(t, o, r)
	if !strings.Contains(string(r.Steady.Text), "\nG49 Z5.\n") {
		t.Errorf("no G49 where the back moves in Z first:\n%s", r.Steady.Text)
	}
	// A first move in Z that may be deleted can't carry the length.
	o = one(strings.Replace(wet, "Y2.\nZ5.", "Y2.\n/Z5.\nZ5.", 1), wet)
	if _, err := Merge(o); err == nil || !strings.Contains(err.Error(), "a first move in Z that may be deleted") {
		t.Errorf("%v", err)
	}
}

// A spindle that turns as the next section wants it isn't stopped in between; one that
// turns otherwise is set anew, and stopped before it turns the other way.
func TestKeepsTurning(t *testing.T) {
	program := func(on string) string {
		return "G21 G90\nT1 M6\n" + on + "\nG43 H1 G0 Z5.\nX1. Y1.\nG1 Z-1. F100\nG0 Z5.\nM9\nM5\nM30\n"
	}
	for _, row := range []struct{ face, back, want string }{
		{"S5000 M3", "S5000 M3", "G55\nG0 X1. Y1.\n"},
		{"S5000 M3", "S6000 M3", "G55\nS6000 M3\nG0 X1. Y1.\n"},
		{"S5000 M3", "S5000 M4", "G55\nM5\nS5000 M4\nG0 X1. Y1.\n"},
		{"M8 S5000 M3", "M8 S5000 M3", "G55\nG0 X1. Y1.\n"},
		{"M8 S5000 M3", "M7 S5000 M3", "G55\nM9\nM7\nG0 X1. Y1.\n"},
		{"M8 S5000 M3", "S5000 M3", "G55\nM9\nG0 X1. Y1.\n"},
	} {
		o := one(program(row.face), program(row.back))
		r := merge(t, o)
		sameCuts(t, o, r)
		text := string(r.Steady.Text)
		if !strings.Contains(text, row.want) || strings.Count(text, "M6") != 1 {
			t.Errorf("%s, then %s:\n%s", row.face, row.back, text)
		}
		if n := strings.Count(text, "M5\n"); n != 2+strings.Count(row.want, "M5\n") {
			t.Errorf("%s, then %s: M5 %d times\n%s", row.face, row.back, n, text)
		}
	}
}

// At the end, and where it pauses, the tool goes aside at the clear height, with the
// spindle off; the lines are taken by hand from the order of work.
func TestPark(t *testing.T) {
	o := one(smallFace, strings.Replace(smallBack, "G21", "G20", 1))
	o.Order, o.Pause = ByStations, "M0"
	o.Park = &Place{X: *d("0"), Y: *d("390.5")}
	r := merge(t, o)
	sameCuts(t, o, r)
	for i, text := range texts(r) {
		want := "\nM5\nG21\nG53 G0 X0. Y390.5\nM30\n" // -5 mm are in inches here
		if i == 0 {
			want = "G53 G0 Z-5.\nM5\nG53 G0 X0. Y390.5\nM30\n"
		}
		if !strings.Contains(text, want) {
			t.Errorf("program %d doesn't park at its end:\n%s", i, text)
		}
		if n := strings.Count(text, "G53 G0 Z-5.\nM5\nG53 G0 X0. Y390.5\nM0\n"); n != b2i(i == 1) {
			t.Errorf("program %d parks %d times at a pause:\n%s", i, n, text)
		}
	}
	if r.First.Ends != "G54" || r.Steady.Ends != "G55" || r.Last.Ends != "G55" {
		t.Errorf("ends at %s, %s and %s", r.First.Ends, r.Steady.Ends, r.Last.Ends)
	}
	o.G53, o.Pairs[0].Face.ZeroZ, o.Pairs[0].Back.ZeroZ = false, d("-50"), d("-50")
	if _, err := Merge(o); err == nil || !strings.HasPrefix(err.Error(), "a place to park on a machine without G53, expected") {
		t.Errorf("%v", err)
	}
}

// A program that is run from one of its restarts moves as the whole program does from
// there on, in every state that matters, on a control that was switched on anew.
func TestRestarts(t *testing.T) {
	moves := func(text string, from int) (out []string) {
		_, err := motion.Walk(strings.NewReader(text), motion.Options{}, func(m *motion.Move) error {
			if m.Line >= from {
				m.State.Path = 0 // the same words stand in both
				if m.Machine || !m.ToOK[2] {
					m.State.Length = -1 // goes by it nowhere
				}
				to := fmt.Sprintf("%v%v %v%v", m.ToOK, m.Machine, m.Kind, m.Cycle)
				for a := range 3 {
					if m.ToOK[a] {
						to += " " + m.To[a].String()
					}
				}
				if m.Kind == motion.Rapid {
					m.State.Feed = motion.Num{}
				}
				if m.State.Spindle == 0 {
					m.State.Speed = motion.Num{}
				}
				if m.Machine {
					m.State = motion.State{Unit: m.State.Unit} // up, before all else
				}
				out = append(out, fmt.Sprintf("%s %+v", to, m.State))
			}
			return nil
		})
		if err != nil {
			t.Fatalf("%v\n%s", err, text)
		}
		return out
	}
	o := one(wet, smallBack)
	o.Pairs = append(o.Pairs, Pair{Face: Station{Offset: "G58"}, Back: Station{Offset: "G57"}})
	o.Marks, o.Comment = true, "test"
	r := merge(t, o)
	for _, p := range []Program{r.First, r.Steady, r.Last} {
		text := string(p.Text)
		lines := strings.SplitAfter(text, "\n")
		if len(p.Restarts) != p.Changes {
			t.Errorf("%d restarts, %d changes", len(p.Restarts), p.Changes)
		}
		for i, re := range p.Restarts {
			if re.Tool != p.Tools[i] || !strings.Contains(lines[re.Line-1], fmt.Sprintf(", T%d", re.Tool)) || !strings.Contains(strings.Join(lines[re.Line-1:re.Line+6], ""), fmt.Sprintf("T%d M6\n", re.Tool)) {
				t.Errorf("line %d isn't where T%d is called:\n%s", re.Line, re.Tool, text)
			}
			if up, _, _ := strings.Cut(strings.Join(lines[re.Line-1:], ""), "M6"); !strings.Contains(up, "G53 G0 Z-5.\n") {
				t.Errorf("line %d: the tool is changed before it goes up\n%s", re.Line, text)
			}
			want, got := moves(text, re.Line), moves(strings.Join(lines[re.Line-1:], ""), 0)
			if !slices.Equal(want, got) {
				for k := range min(len(want), len(got)) {
					if want[k] != got[k] {
						t.Errorf("from line %d on, move %d:\n%s\nthe whole program:\n%s", re.Line, k+1, got[k], want[k])
						break
					}
				}
			}
		}
	}
}
