package proof

import (
	"errors"
	"fmt"
	"regexp"
	"testing"

	"flipcalc/mirror/fault"
)

// FuzzCheck: whatever the two programs are, the check ends with a verdict, the
// same on the short way and on the long one, and never with a panic.
func FuzzCheck(f *testing.F) {
	for _, tt := range right {
		f.Add(tt.in, tt.out, uint8(0))
		f.Add(tt.in, tt.in, uint8(1))
	}
	in, out := mixedPair(900)
	f.Add(string(in), string(out), uint8(2))
	f.Add("%\n#1=1\n/#1=2\ng#1x1\n", "%\n#1=1\n/#1=2\ng#1x1\n", uint8(3))
	repeats := regexp.MustCompile(`[lL][ \t]*[0-9. \t]{3}|[pP][ \t]*[0-9. \t]{6}`)
	f.Fuzz(func(t *testing.T, in, out string, kind uint8) {
		if repeats.MatchString(in) {
			return // right, but slow
		}
		o := flipY("120")
		switch kind % 4 {
		case 1:
			o = back(flipX("80.125"), 560)
		case 2:
			o.AbsoluteCentres = true
		case 3:
			o = flipY("0")
		}
		_, err := checkBy(in, out, o, false)
		_, slow := checkBy(in, out, o, true)
		if fmt.Sprint(err) != fmt.Sprint(slow) {
			t.Fatalf("the short way says %v, the long way %v", err, slow)
		}
		var e *fault.Error
		if err != nil && !errors.As(err, &e) {
			t.Fatalf("%v is no fault", err)
		}
		// A program is its own mirror only if nothing reversed was moved.
	})
}
