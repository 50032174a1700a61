package motion

import (
	"strings"
	"testing"
)

// TestCompensationBy follows what says how far the tool is moved aside. That no D means
// the tool in the spindle is NISTIR 6556, 3.5.10; that D stands on, and that D of
// G41.1 is a diameter, is common practice.
func TestCompensationBy(t *testing.T) {
	for _, c := range []struct {
		name, text string
		comp       int
		by         CompBy
		d          string
	}{
		{"no D", "G41 G1 X1 F9", 41, CompByTool, "0"},
		{"D beside it", "G42 D7 G1 X1 F9", 42, CompByNumber, "7"},
		{"D before it", "G43 H1 D7\nG41 G1 X1 F9", 41, CompByNumber, "7"},
		{"D stands", "G41 D7 G1 X2 F9\nG40 X3\nG42 X1", 42, CompByNumber, "7"},
		{"D until a tool change", "G41 D7 G1 X2 F9\nG40 X3\nT2 M6\nG42 X1", 42, CompByTool, "0"},
		{"D of the tool that comes", "T2 M6 D2\nG42 G1 X1 F9", 42, CompByNumber, "2"},
		{"a diameter", "G41.1 D6.35 G1 X1 F9", 41, CompByDiameter, "6.35"},
		{"no diameter", "D7\nG42.1 G1 X1 F9", 42, CompByNothing, "0"},
		{"a diameter stands for its own", "G41.1 D6.35 G1 X2 F9\nG40 X3\nG41 X1", 41, CompByTool, "0"},
		{"no diameter stands for its own", "G41.1 G1 X2 F9\nG40 X3\nG41 X1", 41, CompByTool, "0"},
		{"off", "G41 D7 G1 X2 F9\nG40 X1", 40, CompByNumber, "7"},
	} {
		var got State
		if _, err := Walk(strings.NewReader("G21 G90\nG0 X0 Y0\n"+c.text+"\n"), Options{}, func(m *Move) error {
			got = m.State
			return nil
		}); err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if got.Comp != c.comp || got.CompBy != c.by || got.D.String() != c.d {
			t.Errorf("%s: got G%d by %d, D%s; want G%d by %d, D%s", c.name, got.Comp, got.CompBy, got.D, c.comp, c.by, c.d)
		}
	}
}
