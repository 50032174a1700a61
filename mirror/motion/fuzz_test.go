package motion

import (
	"errors"
	"math"
	"strings"
	"testing"
	"testing/iotest"

	"flipcalc/mirror/fault"
)

// FuzzWalk: any text is followed or refused with a place; lengths and times stay
// numbers; the same text byte by byte gives the same.
func FuzzWalk(f *testing.F) {
	was := maxRun
	maxRun = 2000
	f.Cleanup(func() { maxRun = was })
	for _, s := range []string{
		"g21 g90 g0 x1 y2 z3\ng2 x2 i.5 j0 f100\nm30\n",
		"%\nO1\n(a)\n/g1 x1\n%\n",
		"g81 x1 y1 z-1 r2 l3\ng83 q1 x2\n",
		"#1=[1/3]\ng1 x#1 y[#1*2] f9\n",
		"g20 g0 x1\ng21 x-.5 y+03.\n",
		"g18 g3 x1 z1 r1\ng19 g2 y2 j1\n",
		"g92 x0\ng52 y1\ng92.1\ng28 x1\ng53 z0\n",
		"g93 g1 x1 f2\ng95 x2 s100 f.1\n",
		"g0 x1\nm98 p2 l3\nm2\nO2\nx2\nm99\n",
		"g68 x0 y0 r30\ng5 i1 j1 p-1 q1 x9 y0\ng69\ng12 i3 z-1 f9\ng0 a90\n",
		"x1e5", "g1x999999999999999999999", "g90.1 g2 x1 i1 j1 p3 f1",
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		s, err := Walk(strings.NewReader(text), Options{}, func(m *Move) error {
			if l, ok := m.Length(); ok && (math.IsNaN(l) || l < 0) {
				t.Fatalf("a length of %v: %+v", l, m)
			}
			return nil
		})
		var e *fault.Error
		if err != nil {
			if !errors.As(err, &e) {
				t.Fatalf("%v is no fault", err)
			}
		} else if math.IsNaN(s.Seconds) || math.IsNaN(s.CutLength) || s.Seconds < 0 {
			t.Fatalf("%+v", s)
		}
		_, again := Walk(iotest.OneByteReader(strings.NewReader(text)), Options{}, nil)
		if (err == nil) != (again == nil) || err != nil && err.Error() != again.Error() {
			t.Fatalf("whole %v, byte by byte %v", err, again)
		}
	})
}
