package motion

import (
	"bytes"
	"fmt"
	"math/rand"
	"testing"
)

// BenchmarkWalk follows straight cuts and arcs; allocations stay the same at any
// length.
func BenchmarkWalk(b *testing.B) {
	r := rand.New(rand.NewSource(1))
	text := []byte("G21 G90 G94 G17 G91.1\nT1 M6\nM3 S12000\nG0 X0 Y0 Z5\n")
	for len(text) < 4<<20 {
		x, y := r.Intn(120000), r.Intn(80000)
		text = fmt.Appendf(text, "G1 X%d.%03d Y%d.%03d F%d\n", x/1000, x%1000, y/1000, y%1000, 1000+r.Intn(600))
		if r.Intn(10) == 0 {
			text = fmt.Appendf(text, "G2 X%d.%03d I%d.%03d J0.\n", (x+2000)/1000, x%1000, 1, 0)
		}
	}
	b.SetBytes(int64(len(text)))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Walk(bytes.NewReader(text), Options{}, nil); err != nil {
			b.Fatal(err)
		}
	}
}
