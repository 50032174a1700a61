package proof

import (
	"bytes"
	"fmt"
	"math/rand"
	"testing"
)

// plainPair is a program of straight cuts, about n bytes long, and its mirror
// x' = 120 - x.
func plainPair(n int) (in, out []byte) {
	r := rand.New(rand.NewSource(1))
	head := "G21 G90 G94 G17 G91.1\nT1 M6\nM3 S12000\n"
	in, out = append(in, head+"G0 X0 Y0 Z5\n"...), append(out, head+"G0 X120 Y0 Z5\n"...)
	for len(in) < n {
		x, y, f := r.Intn(120000), r.Intn(80000), 1000+r.Intn(600)
		in = fmt.Appendf(in, "G1 X%d.%03d Y%d.%03d F%d\n", x/1000, x%1000, y/1000, y%1000, f)
		x = 120000 - x
		out = fmt.Appendf(out, "G1 X%d.%03d Y%d.%03d F%d\n", x/1000, x%1000, y/1000, y%1000, f)
	}
	return append(in, "M30\n"...), append(out, "M30\n"...)
}

// mixedPair has block numbers, comments, rapids, arcs and modal blocks.
func mixedPair(n int) (in, out []byte) {
	r := rand.New(rand.NewSource(2))
	head := "%\r\nO1\r\nG21 G90 G94 G17 G91.1\r\nT1 M6\r\nM3 S12000\r\n"
	in, out = append(in, head+"G0 X0 Y0 Z5\r\n"...), append(out, head+"G0 X120 Y0 Z5\r\n"...)
	for line := 10; len(in) < n; line += 10 {
		x, y, d := r.Intn(100000), r.Intn(60000), 1+r.Intn(9000)
		m := 120000 - x
		in = fmt.Appendf(in, "N%d G0 X%d.%03d Y%d.%03d\r\nZ1.\r\nG1 Z-1.5 F300 (plunge X)\r\nX%d.%03d\r\nG2 Y%d.%03d J%d.%03d ; half turn\r\nG0 Z5\r\n",
			line, x/1000, x%1000, y/1000, y%1000, (x+d)/1000, (x+d)%1000, (y+2*d)/1000, (y+2*d)%1000, d/1000, d%1000)
		out = fmt.Appendf(out, "N%d G0 X%d.%03d Y%d.%03d\r\nZ1.\r\nG1 Z-1.5 F300 (plunge X)\r\nX%d.%03d\r\nG3 Y%d.%03d J%d.%03d ; half turn\r\nG0 Z5\r\n",
			line, m/1000, m%1000, y/1000, y%1000, (m-d)/1000, (m-d)%1000, (y+2*d)/1000, (y+2*d)%1000, d/1000, d%1000)
	}
	return append(in, "M30\r\n%\r\n"...), append(out, "M30\r\n%\r\n"...)
}

// benchmark feeds both programs whole, without reading them.
func benchmark(b *testing.B, in, out []byte, wantPlain float64) {
	o := flipY("120")
	b.SetBytes(int64(len(in)))
	b.ReportAllocs()
	for b.Loop() {
		c := Start(o)
		c.Feed(in, out)
		r, err := c.Finish()
		if err != nil {
			b.Fatal(err)
		}
		if float64(r.Plain) < wantPlain*float64(r.Blocks) {
			b.Fatalf("%d of %d blocks went the short way", r.Plain, r.Blocks)
		}
	}
}

func BenchmarkPlain(b *testing.B) {
	in, out := plainPair(16 << 20)
	benchmark(b, in, out, 0.99)
}

func BenchmarkMixed(b *testing.B) {
	in, out := mixedPair(16 << 20)
	benchmark(b, in, out, 0.99)
}

// BenchmarkLongWay shows what a block costs that the short way leaves.
func BenchmarkLongWay(b *testing.B) {
	in, out := plainPair(1 << 20)
	in = bytes.ReplaceAll(in, []byte("G1 "), []byte("G1 G90 "))
	out = bytes.ReplaceAll(out, []byte("G1 "), []byte("G1 G90 "))
	benchmark(b, in, out, 0)
}
