package motion

import (
	"strings"
	"testing"
)

// TestTrack carries moves into their work offset. G92 as in NISTIR 6556, 3.5.18: the tool
// stays, and the zero moves by what its place is called less; G52 moves the zero and G68
// turns about X, Y by R (both common practice, not in NISTIR 6556). Places after a turn by
// 90 about cx, cy are cx - (y - cy), cy + (x - cx).
func TestTrack(t *testing.T) {
	const at = "G21 G90 G17 G91.1 F100\nG0 X20 Y10 Z5\n"
	for _, c := range []struct {
		name, text, want string
		lost             int // line of the first move that G92 or G68 hides
	}{
		{"nothing", "G1 Z-2", "f 20,10,-2", 0},
		{"G52", "G52 X1 Y2 Z-3\nG1 X0 Y0 Z-2", "f 1,2,-5", 0},
		{"G52 one axis", "G52 Z-3\nG1 Z-2", "f 20,10,-5", 0},
		{"G52 anew and off", "G52 Z-3\nG52 Z-1\nG1 Z-2\nG52 Z0\nG1 Z-2", "f 20,10,-3; f 20,10,-2", 0},
		{"G92", "G92 X0 Z8\nG1 X1 Z-2", "f 21,10,-5", 0},
		{"G92 and G52", "G52 X1\nG92 X0\nG1 X2", "f 22,10,5", 0},
		{"G92 off", "G92 X0 Z8\nG92.1\nG1 X1 Z-2", "f 1,10,-2", 0},
		{"G92 back", "G92 Z8\nG92.2\nG92.3\nG1 Z-2", "f 20,10,-5", 0},
		{"G92 in inches", "G92 X0\nG20\nG1 X1", "f 1.787401574803,0.393700787402,0.196850393701", 0},
		{"G92 at an unknown place", "G53 G0 Z0\nG92 Z8\nG1 Z-2", "machine r ?,?,0; f 20,10,?", 5},
		{"G53 between", "G52 X1\nG53 G0 Z0\nG1 X2", "machine r ?,?,0; f 3,10,?", 0},
		{"an arc", "G52 X1 Y2\nG0 X0 Y0\nG2 X10 I5 J0", "r 1,2,5; cw 11,2,5 c 6,2", 0},
		{"an arc in G18", "G52 X1 Z-2\nG18 G0 X0 Z0\nG2 X10 I5 K0", "r 1,10,-2; cw 11,10,-2 c -2,6", 0},
		{"a drilled hole", "G52 X1 Z-2\nG81 X0 Y0 Z-3 R1\nG80", "r 1,0,5; r 1,0,-1; f 1,0,-5; r 1,0,5", 0},
		{"turned", "G68 X20 Y10 R90\nG1 X30 Y10\nG69", "f 20,20,5", 0},
		{"turned and shifted", "G52 X1 Z-2\nG68 X20 Y10 R90\nG1 X30 Y10 Z-1\nG69", "f 21,20,-3", 0},
		{"down where the tool stands", "G68 X20 Y10 R90\nG1 Z-2\nX30 Y10\nG69", "f 20,10,-2; f 20,20,-2", 0},
		{"by counts", "G68 X0 Y0 R90\nG91 G1 X3\nY4\nG90 G69\nG1 X0", "f 20,13,5; f 16,13,5; f 0,13,5", 0},
		{"half a place", "G68 X0 Y0 R90\nG1 X3\nG1 X3 Y4\nG69", "f ?,?,5; f -4,3,5", 0},
		{"a turned arc", "G68 X20 Y10 R90\nG0 X20 Y10\nG2 X30 I5 J0\nG69", "r 20,10,5; cw 20,20,5 c 20,15", 0},
		{"a turned circle by counts", "G68 X20 Y10 R90\nG2 I5 J0\nG69", "cw 20,10,5 c 20,15", 0},
		{"a turn about no point", "G68 R90\nG1 X30 Y10\nG69", "f ?,?,5", 4},
		{"down in a turn about no point", "G68 R90\nG1 Z-2\nG69", "f 20,10,-2", 0},
		{"by counts in a turn about no point", "G68 R90\nG91 G1 X3\nG90 G69", "f 20,13,5", 0},
		{"another offset", "G55\nG1 Z-2", "f ?,?,-2", 0},
		{"the same offset by name", "G54\nG1 Z-2", "f 20,10,-2", 0},
	} {
		var track Track
		var got []string
		lost := 0
		if _, err := Walk(strings.NewReader(at+c.text+"\n"), Options{}, func(m *Move) error {
			v, ok := track.In(m)
			if !ok && lost == 0 {
				lost = m.Line
			}
			got = append(got, show(v))
			return nil
		}); err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if s := strings.Join(got[1:], "; "); s != c.want || lost != c.lost {
			t.Errorf("%s:\n got %s, lost at %d\nwant %s, lost at %d", c.name, s, lost, c.want, c.lost)
		}
	}
}
