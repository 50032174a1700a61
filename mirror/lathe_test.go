package mirror

import (
	"strings"
	"testing"
)

// The signs of a turning program (common practice, from memory): two of them together tell it,
// and none counts in a comment. G50.1 and a G99 beside a cycle are a mill's.
func TestLatheSigns(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"G50 S2000\nT0101\n", "G50 S; a tool as T0101"},
		{"n10 g50s2000\ng96 s150 m3\n", "G50 S; G96"},
		{"G99\r\nG28 U0.\r\n", "G99 without a cycle; G28 U"},
		{"/G99\n/ N5 G28 U0\n", "G99 without a cycle; G28 U"},
		{"G99 ; FEED A TURN\nG96", "G96; G99 without a cycle"},
		{"G96 S150\n", ""},
		{"G0 X1 ; not T0101, nor G96\n(G50 S2000)\n", ""},
		{"(T0101; G96) T1 ; (G50 S1\nG99 G81 X1 R2 Z-1 F9\nG50.1 X0 S9000\nG0 X1 T0101\n", ""},
	} {
		if got := strings.Join(LatheSigns([]byte(c.text)), "; "); got != c.want {
			t.Errorf("%q: %q, want %q", c.text, got, c.want)
		}
	}
}
