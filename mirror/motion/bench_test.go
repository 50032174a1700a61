package motion

import (
	"bytes"
	"fmt"
	"math/rand"
	"testing"
)

// BenchmarkWalk follows straight cuts and arcs in both units; allocations stay the
// same at any length, and an inch costs what a millimetre costs.
func BenchmarkWalk(b *testing.B) {
	for _, unit := range []string{"G21", "G20"} {
		b.Run(unit, func(b *testing.B) {
			r := rand.New(rand.NewSource(1))
			text := []byte(unit + " G90 G94 G17 G91.1\nT1 M6\nM3 S12000\nG0 X0 Y0 Z5\n")
			for len(text) < 4<<20 {
				x, y := r.Intn(120000), r.Intn(80000)
				text = fmt.Appendf(text, "G1 X%d.%04d Y%d.%04d F%d\n", x/10000, x%10000, y/10000, y%10000, 1000+r.Intn(600))
				if r.Intn(10) == 0 {
					text = fmt.Appendf(text, "G2 X%d.%04d I%d.%04d J0.\n", (x+20000)/10000, x%10000, 1, 0)
				}
			}
			b.SetBytes(int64(len(text)))
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Walk(bytes.NewReader(text), Options{}, nil); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
