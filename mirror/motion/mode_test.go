package motion

import (
	"strings"
	"testing"
)

// TestModes: what is refused while another way of counting is on, and what isn't. The lists
// are written here once more: whatever sets a zero, a plane, a unit or
// another such way would have to be carried through it.
func TestModes(t *testing.T) {
	for _, mode := range []struct{ name, begin, refused, taken string }{
		{"G68", "G68 X0 Y0 R30", "G18 G19 G28 G30 G51 G52 G53 G55 G68 G20 G16 G92", "G90 G91 G94 G4"},
		{"G51", "G51 X0 Y0 Z0 P2.", "G18 G19 G28 G30 G51 G52 G53 G55 G68 G20 G16 G92", "G90 G91 G94 G4"},
		{"G16", "G16", "G18 G19 G28 G30 G51 G52 G53 G55 G68 G20 G92", "G90 G91 G94 G4"},
	} {
		run := func(code string) string {
			words := map[string]string{"G28": " X1 Y1", "G30": " X1 Y1", "G51": " X0 Y0 P3.", "G52": " X1", "G53": " X1", "G68": " X1 Y1 R10", "G92": " X1", "G4": " P1"}[code]
			text := "G21 G90 G17 G0 X1 Y1 Z1\n" + mode.begin + "\n" + code + words + "\nM2\n"
			if err := Run([]byte(text), Options{Name: "m.nc"}, func(*Machine, *Block, []Move) error { return nil }); err != nil {
				return err.Error()
			}
			return ""
		}
		for _, code := range strings.Fields(mode.refused) {
			if got := run(code); !strings.Contains(got, ":3:1: "+code+" while "+mode.name+" is on") {
				t.Errorf("%s under %s: %q", code, mode.name, got)
			}
		}
		for _, code := range strings.Fields(mode.taken) {
			if got := run(code); got != "" {
				t.Errorf("%s under %s: %s", code, mode.name, got)
			}
		}
	}
}
