package cut

import (
	"math"
	"testing"
)

// What a facing pass takes off is its Z (derived): the turned blank rests on the highest place
// that is left, so a strip that the pass leaves out is all that counts.
func TestSkim(t *testing.T) {
	faced := func(tool int, z, right float64) (list []Segment) {
		for y := 0.0; y <= 60; y += 5 {
			list = append(list, Straight(3, tool, [3]float64{-5, y, z}, [3]float64{right, y, z}))
		}
		return list
	}
	// A ball of radius 3 in steps of 0.6 leaves ridges of 3 - sqrt(3^2 - 0.3^2).
	fine := func(z float64) (list []Segment) {
		for y := 0.0; y < 61; y += 0.6 {
			list = append(list, Straight(3, 2, [3]float64{-5, y, z}, [3]float64{105, y, z}))
		}
		return list
	}
	apart := append(faced(1, -0.5, 40), line(4, 50, -10, -12, 50, 70, -12))
	for _, c := range []struct {
		name string
		cut  []Segment
		said float64
		code string
		off  float64
	}{
		{"fine ridges", fine(-0.5), 0.5, "warned", math.Sqrt(9-0.09) - 2.5},
		{"a tenth too high with a ball", fine(-0.4), 0.5, "skim-short", math.Sqrt(9-0.09) - 2.6},
		{"as said", faced(1, -0.5, 105), 0.5, "", 0},
		{"to the last digit in inches", faced(1, -0.4976, 105), 0.5, "", 0},
		{"less than said", faced(1, -0.5, 105), 3, "skim-short", 0.5},
		{"a hundredth less", faced(1, -0.49, 105), 0.5, "skim-short", 0.49},
		{"nothing said", faced(1, -0.5, 105), 0, "skim-unsaid", 0.5},
		{"more than said", faced(1, -0.5, 105), 0.49, "skim-unsaid", 0.5},
		{"a strip is left", faced(1, -0.5, 90), 0.5, "skim-short", 0},
		{"a strip is left, and nothing said", faced(1, -0.5, 90), 0, "", 0},
		// Between passes 5 apart a ball of radius 3 leaves ridges of 3 - sqrt(3^2 - 2.5^2).
		{"ridges", faced(2, -2, 105), math.Sqrt(9-6.25) - 1, "", 0},
		{"ridges, not looked at", faced(2, -2, 105), 2, "skim-short", math.Sqrt(9-6.25) - 1},
		// The left piece is faced to X43 and cut off at X47, the right one stands.
		{"cut apart, a strip left", apart, 0.5, "skim-short", 0},
		{"cut apart, one piece faced", append(faced(1, -0.5, 50), apart[len(apart)-1]), 0.5, "", 0},
	} {
		q := plain()
		q.Skimmed, q.HeldAll, q.Face.Segments = c.said, true, c.cut
		r, err := Check(q)
		if err != nil {
			t.Fatal(c.name, err)
		}
		code, off := "", 0.0
		for _, f := range r.Findings {
			switch f := f.(type) {
			case *SkimShort:
				code, off = f.Code(), f.Off
				if f.Weight() == Warn {
					code = "warned"
				}
			case *SkimUnsaid:
				code, off = f.Code(), f.Off
			}
		}
		if code != c.code || math.Abs(off-c.off) > 1e-5 {
			t.Errorf("%s: %q %v, want %q %v", c.name, code, off, c.code, c.off)
		}
	}
}
