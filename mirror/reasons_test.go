package mirror

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"testing"

	"flipcalc/mirror/fault"
)

// TestAllReasons: a program that is refused says all that it is refused for at once, each
// sort with how many blocks and where first.
func TestAllReasons(t *testing.T) {
	many, all := "", []string(nil)
	for i := range 30 {
		many += fmt.Sprintf("G0 X1 M%d\n", 200+i)
		all = append(all, fmt.Sprintf("%d:7 1 M%d, which", i+1, 200+i))
	}
	for _, c := range []struct {
		name, in string
		want     []string // place, count and how it begins
	}{
		{"one", "G0 X1\nG16\nM30\n", []string{"2:1 1 G16 (polar"}},
		{"several", "G0 X1\nG16\nX2 E1\n\nG1 Y\nX3 E2\nG16\nM30\n", []string{"2:1 2 G16 (polar", "3:4 2 E1 (a word", "5:4 1 Y without"}},
		{"two in a block", "G0 X1 E5 W2\nM30\n", []string{"1:7 1 E5 (a word", "1:10 1 W2 (a second"}},
		{"the state goes on", "G90 G16 G0 X1 Y1\nG16 G17 G2 X5 I2\nX9 I2\nM30\n", []string{"1:5 2 G16 (polar"}},
		{"the proof's comes first", "G0 X1 Y1\nG2 X9 I1\nG16\nG16\nM30\n", []string{"2:1 1 an arc whose radii", "3:1 2 G16 (polar"}},
		{"behind a long text", "G16\n" + strings.Repeat("G0 X1 Y1\n", 50_000) + "E1\nM30\n", []string{"1:1 1 G16 (polar", "50002:1 1 E1 (a word"}},
		{"a foreign dialect", "BEGIN [5]\nL [1]\n" + strings.Repeat("L X=5 R0 [\n", 9) + "END [5]\n", []string{"1:2 1 unknown word EGIN, no RS-274 program as far as read"}},
		{"parameters", "#1=5\nG0 X#1/2\nX#1+2\nM30\n", []string{"1:1 3 a parameter or an expression"}},
		{"many", many + "M30\n", all},
	} {
		_, err := Mirror(strings.NewReader(c.in), &bytes.Buffer{}, Options{Map: flipY("100")})
		var f *fault.Error
		if !errors.As(err, &f) {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		list := append([]*fault.Error{f}, f.More...)
		for i, g := range list {
			got := fmt.Sprintf("%d:%d %d %s, %s", g.Line, g.Col, g.Count, g.Found, g.Hint)
			if i >= len(c.want) || !strings.HasPrefix(got, strings.Split(c.want[i], ", no RS")[0]) || strings.Contains(c.want[i], "no RS") && !strings.Contains(got, "no RS-274") {
				t.Errorf("%s: %s", c.name, got)
			}
		}
		if len(list) != len(c.want) {
			t.Errorf("%s: %d reasons, want %d", c.name, len(list), len(c.want))
		}
	}
}
