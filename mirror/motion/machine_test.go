package motion

import (
	"fmt"
	"reflect"
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
)

// control runs blocks and gives the control after them.
func control(t *testing.T, o Options, text string) *Machine {
	t.Helper()
	m := NewMachine(o)
	var b Block
	for i, line := range strings.Split(text, "\n") {
		if err := b.Read([]byte(line), i+1); err != nil {
			t.Fatal(err)
		}
		if _, err := m.Do(&b); err != nil {
			t.Fatal(err)
		}
	}
	return m
}

// TestEnd: what M2 and M30 put back is NISTIR 6556, 3.6.1: the first work offset, G17, G90,
// G94, G40, M5 and M9, and G1 as the motion. Tool, length, unit and S stay.
func TestEnd(t *testing.T) {
	for _, end := range []string{"M2", "M30"} {
		m := control(t, Options{}, "G20 G18 G91 G95 G55 S500 M3 M8 T4 M6 G43 H4 D7\nG0 X1 Y2 Z3 M3\nG17 G41 D2 G1 X2 F5\nG18\n"+end)
		s := m.State()
		got := fmt.Sprintf("%v %v %s %d G%d G%d %d coolant %d T%d H%d S%s G%d D%s %d", s.Unit, s.Plane, map[bool]string{true: "G90", false: "G91"}[m.Absolute], s.Offset,
			s.FeedMode, s.Comp, s.Spindle, s.Coolant, s.Tool, s.Length, s.Speed, m.Motion()/10, s.D, s.CompBy)
		if want := "in G17 G90 540 G94 G40 0 coolant 0 T4 H4 S500 G1 D0 0"; got != want {
			t.Errorf("%s: got %s, want %s", end, got, want)
		}
	}
}

// TestNoTool: M6 with no T before it changes to a tool that nobody named.
func TestNoTool(t *testing.T) {
	if n := control(t, Options{}, "G21 G90 M6\nG0 X1").State().Tool; n != -1 {
		t.Errorf("tool %d, want -1", n)
	}
}

// TestStore: G10 L2 P1 to P9 store G54 to G59.3 (NISTIR 6556, 3.5.5); under G91 controls
// differ (common practice).
func TestStore(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"G10 L2 P1 X1 Z3", "540 1,?,3"},
		{"G10 L2 P9 Y-2.5", "593 ?,-2.5,?"},
		{"G10 L2 P0 X1", "2:1: G10 without L2 and the P of an offset, expected G10 L2 P1 to P9"},
		{"G10 L2 P10 X1", "2:1: G10 without L2 and the P of an offset, expected G10 L2 P1 to P9"},
		{"G10 L20 P1 X1", "2:1: G10 without L2 and the P of an offset, expected G10 L2 P1 to P9"},
		{"G91 G10 L2 P1 X1", "2:5: G10 in G91, expected G90"},
		{"G10 L2 P1", "2:1: G10 without an axis word, expected X, Y or Z"},
	} {
		got := ""
		_, err := Walk(strings.NewReader("G21\n"+c.text+"\n"), Options{Stores: true}, func(m *Move) error {
			if m.Kind != Store {
				t.Errorf("%s: kind %d", c.text, m.Kind)
			}
			m.Kind = Rapid
			got = fmt.Sprintf("%d %s", m.Stored, strings.TrimPrefix(show(m), "machine r "))
			return nil
		})
		if err != nil {
			got = err.Error()
		}
		if got != c.want {
			t.Errorf("%s: got %s, want %s", c.text, got, c.want)
		}
	}
}

// TestStartNeed: a place that G92 names after a count from the unknown start is the start's
// plus the count (NISTIR 6556, 3.5.18: the tool stays, its place gets the number).
func TestStartNeed(t *testing.T) {
	m := control(t, Options{}, "G21 G91 G0 X5\nG92 X7")
	want := []StartNeed{{Axis: 0, Line: 1}, {Axis: 0, Line: 2, Preset: true, Value: FromInt(2)}}
	if got := m.Needs(); !reflect.DeepEqual(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
}

// TestBox: in its own unit a reach is exact, in the other it is rounded outward to 1e-6; an
// inch is 25.4 mm (NIST SP 811, appendix B.8).
func TestBox(t *testing.T) {
	e := Extents{{true, -12.5, 1}, {true, 0, 25.4}, {true, -1, 10}}
	for u, want := range map[transform.Unit][2]string{
		transform.MM:   {"-12.5 0 -1", "1 25.4 10"},
		transform.Inch: {"-0.492126 0 -0.039371", "0.039371 1 0.393701"},
	} {
		b := e.Box(u)
		places := func(d [3]decimal.Decimal) string { return fmt.Sprint(d[0], d[1], d[2]) }
		if got := [2]string{places(b.Least), places(b.Greatest)}; !b.Any || got != want {
			t.Errorf("%v: got %v, want %v", u, got, want)
		}
	}
	if e[1].Any = false; e.Box(transform.MM).Any {
		t.Error("an axis without a known move has no box")
	}
}

// TestWindow: lines of a long program are handed over through one buffer.
func TestWindow(t *testing.T) {
	text := strings.Repeat("G1 X1 Y2\n", 100_000)
	l := NewLines(strings.NewReader(text), "a.nc")
	n := 0
	for ; ; n++ {
		line, at, err := l.Next()
		if err != nil {
			break
		}
		if string(line) != "G1 X1 Y2\n" || at != n+1 {
			t.Fatalf("line %d: %q", at, line)
		}
	}
	if n != 100_000 || l.r.Size() != 64<<10 {
		t.Errorf("%d lines through %d bytes, want 100000 through 65536", n, l.r.Size())
	}
}
