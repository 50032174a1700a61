package letters

import (
	"testing"

	"flipcalc/mirror/transform"
)

// Least values are rounded down, in inches to three decimals (0.375 in is 9.525 mm).
func TestRounding(t *testing.T) {
	for _, c := range []struct {
		v    float64
		n    int
		want string
	}{{0.375, Places(transform.Inch), "0.375"}, {9.525, Places(transform.MM), "9.52"}, {9.529, 2, "9.52"}, {0.3, 3, "0.3"}, {1.1 * 3, 2, "3.3"}, {-0.001, 2, "-0.01"}} {
		if got := Down(c.v, c.n); got != c.want {
			t.Errorf("%g is shown as %s, want %s", c.v, got, c.want)
		}
	}
	// Greatest values are rounded up.
	for _, c := range []struct {
		v    float64
		n    int
		want string
	}{{0.4421, 3, "0.443"}, {0.442, 3, "0.442"}, {0.1 + 0.2, 3, "0.3"}, {0.4401, Places(transform.MM), "0.45"}, {0.0171, Places(transform.Inch), "0.018"}, {1e-10, 3, "0"}, {0.0001, 3, "0.001"}} {
		if got := Up(c.v, c.n); got != c.want {
			t.Errorf("%g is shown as %s at most, want %s", c.v, got, c.want)
		}
	}
}

// What would move a cursor or break out of a page is gone.
func TestNamesFromOutside(t *testing.T) {
	for in, want := range map[string]string{"bed\x1b[31m red": "bed[31m red", "a\nb": "a b", "\u202eabc": "abc", "Ø6 ×": "Ø6 ×", "": ""} {
		if got := Plain(in); got != want {
			t.Errorf("%q is written %q, want %q", in, got, want)
		}
	}
	if got := Escaped(`"><script>&'` + "\x00"); got != "&quot;&gt;&lt;script&gt;&amp;&#39;" {
		t.Errorf("escaped: %q", got)
	}
}
