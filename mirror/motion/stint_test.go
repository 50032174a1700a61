package motion

import (
	"fmt"
	"strings"
	"testing"
)

// Which tool cuts with its own length, and where it waits for a touch-off. A length
// stays in force until another is called (NISTIR 6556, 3.5.11), so after a change it is
// that of the tool before; M0 stops and M1 does with the optional stop switched on
// (NISTIR 6556, 3.6.1).
func TestStints(t *testing.T) {
	const cut = "G0 X0 Y0\nG0 Z5\nG1 Z-1 F100\nX9\nG0 Z5\n"
	for _, r := range []struct{ name, text, want string }{
		{"no tool", cut, "T-1 at 1"},
		{"one tool", "T1 M6\n" + cut, "T1 at 1"},
		{"no length, no stop", "T1 M6\n" + cut + "T2 M6\n" + cut, "T1 at 1; T2 at 7"},
		{"lengths", "T1 M6 G43 H1\n" + cut + "T2 M6\nG43 H2\n" + cut, "T1 at 1, length; T2 at 7, length"},
		{"the length of the tool before", "T1 M6 G43 H1\n" + cut + "T2 M6\n" + cut, "T1 at 1, length; T2 at 7"},
		{"cancelled", "T1 M6 G43 H1\n" + cut + "G49\nT2 M6\n" + cut, "T1 at 1, length; T2 at 8"},
		{"H0 is none", "T1 M6 G43 H0\n" + cut, "T1 at 1"},
		{"stop behind the change", "T1 M6\n" + cut + "T2 M6\nM0\n" + cut, "T1 at 1; T2 at 7, stop 8"},
		{"optional stop, over the work", "T1 M6\n" + cut + "T2 M6\nG0 X5 Y5\nM1\n" + cut, "T1 at 1; T2 at 7, optional stop 9"},
		{"stop before the change", "T1 M6\n" + cut + "M0\nT2 M6\n" + cut, "T1 at 1; T2 at 8"},
		{"stop with the tool down", "T1 M6\n" + cut + "T2 M6\nG0 Z2\nM0\n" + cut, "T1 at 1; T2 at 7"},
		{"stop that may be deleted", "T1 M6\n" + cut + "T2 M6\n/M0\n" + cut, "T1 at 1; T2 at 7"},
		{"retract in machine coordinates first", "T1 M6\n" + cut + "T2 M6\nG53 G0 Z0\nM0\n" + cut, "T1 at 1; T2 at 7, stop 9"},
		{"by hand, without M6", "T1\n" + cut + "T2\nM0\n" + cut, "T1 at 1; T2 at 7, stop 8"},
		{"the next tool is fetched", "T1 M6\nG43 H1\nT2\n" + cut + "M6\nG43 H2\nT1\n" + cut, "T1 at 1, length; T2 at 9, length"},
		{"a tool that doesn't cut", "T1 M6\n" + cut + "T2 M6\nG0 X1\nT3 M6\n" + cut, "T1 at 1; T3 at 9"},
	} {
		stints, err := Stints(strings.NewReader("G21 G90 "+r.text), Options{Name: "a.nc"})
		if err != nil {
			t.Errorf("%s: %v", r.name, err)
		}
		var got []string
		for _, s := range stints {
			w := fmt.Sprintf("T%d at %d", s.Tool, s.Line)
			if s.Length {
				w += ", length"
			}
			if s.Stop > 0 {
				w += map[bool]string{true: ", optional stop ", false: ", stop "}[s.Optional] + fmt.Sprint(s.Stop)
			}
			got = append(got, w)
		}
		if list := strings.Join(got, "; "); list != r.want {
			t.Errorf("%s: %s, want %s", r.name, list, r.want)
		}
	}
}
