package ask

import (
	"testing"

	"flipcalc/mirror/transform"
)

// Room is at least what was asked: 10 mm is 0.39370... in, so 0.3938 (an inch is 25.4 mm, exact
// by the international definition of 1959).
func TestRoomIsNeverLess(t *testing.T) {
	for _, c := range []struct {
		text string
		unit transform.Unit
		want string
	}{
		{"10mm", transform.Inch, "0.3938"},
		{"25.4mm", transform.Inch, "1"},
		{"0.39371", transform.Inch, "0.39371"},
		{"10", transform.MM, "10"},
		{"1in", transform.MM, "25.4"},
	} {
		d, err := ParseRoom(c.text, c.unit)
		if err != nil || d.String() != c.want {
			t.Errorf("%s in %s: %s, %v; want %s", c.text, c.unit, d, err, c.want)
		}
	}
}
