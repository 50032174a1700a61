package landed

import (
	"testing"

	"flipcalc/mirror/transform"
)

// Whatever is typed, reading it doesn't panic, and what it reads moves a zero by
// just that.
func FuzzParse(f *testing.F) {
	for _, s := range []string{"0.3,-0.1", "0.3,-0.1@20,40", "1/64in,0", " 1 , 2 @ 3 , 4 ", "@", "1,2@", "1,2@3,4@5,6", "-,-", "9,9,9", "1e9,0"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		for _, u := range []transform.Unit{transform.MM, transform.Inch} {
			m, err := Parse(s, u)
			if err != nil {
				continue
			}
			list := []Measurement{m, m}
			turn, err := check(list)
			if err != nil || turn {
				t.Errorf("%q twice: turn %v, %v", s, turn, err)
			}
		}
	})
}
