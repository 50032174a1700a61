package mirror

import (
	"bytes"
	"fmt"
	"io"
	"math/rand/v2"
	"testing"

	"flipcalc/mirror/block"
)

const benchStart = "%\nO1\nG21 G90 G94 G17 G91.1\nM3 S9000\nG0 X0 Y0 Z5\n"

// plainProgram makes blocks such as G1 X53.874 Y23.287 F1427.
func plainProgram(n int) []byte {
	r := rand.New(rand.NewPCG(1, 2))
	b := bytes.NewBufferString(benchStart)
	for range n {
		fmt.Fprintf(b, "G1 X%.3f Y%.3f F%d\n", 100*r.Float64(), 100*r.Float64(), 500+r.IntN(1500))
	}
	b.WriteString("M30\n%\n")
	return b.Bytes()
}

// mixedProgram has modal blocks, arcs, block numbers and comments.
func mixedProgram(n int) []byte {
	r := rand.New(rand.NewPCG(1, 2))
	b := bytes.NewBufferString(benchStart)
	for i := range n {
		switch i % 8 {
		case 0:
			fmt.Fprintf(b, "N%d G0X%.3fY%.3f\r\n", i, 100*r.Float64(), 100*r.Float64())
		case 1:
			fmt.Fprintf(b, "N%d G1Z-%.2fF200\r\n", i, r.Float64())
		case 4:
			fmt.Fprintf(b, "X10.500Y0.250\r\n")
		case 2, 3:
			fmt.Fprintf(b, "X%.3fY%.3f\r\n", 100*r.Float64(), 100*r.Float64())
		case 5:
			fmt.Fprintf(b, "G2 X20.500 Y0.250 I5.000 J0.000 (arc X5)\r\n")
		case 6:
			fmt.Fprintf(b, "; up next: X5 Y7\r\n")
		case 7:
			fmt.Fprintf(b, "G1Y%.3f\r\n", 100*r.Float64())
		}
	}
	b.WriteString("M30\r\n%\r\n")
	return b.Bytes()
}

func benchmarkRewrite(b *testing.B, text []byte) {
	b.SetBytes(int64(len(text)))
	b.ReportAllocs()
	o := Options{Map: flipY("101.6")}
	for b.Loop() {
		if _, err := rewrite(bytes.NewReader(text), io.Discard, o, false); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkRewritePlain(b *testing.B) { benchmarkRewrite(b, plainProgram(200_000)) }
func BenchmarkRewriteMixed(b *testing.B) { benchmarkRewrite(b, mixedProgram(200_000)) }

func BenchmarkMirrorPlain(b *testing.B) {
	text := plainProgram(400_000)
	b.SetBytes(int64(len(text)))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Mirror(bytes.NewReader(text), io.Discard, Options{Map: flipY("101.6"), longest: -1}); err != nil {
			b.Fatal(err)
		}
	}
}

// TestNoAllocations: blocks cost no allocation, however many there are.
func TestNoAllocations(t *testing.T) {
	for name, make := range map[string]func(int) []byte{"plain": plainProgram, "mixed": mixedProgram} {
		few, many := make(1000), make(31_000)
		count := func(text []byte) float64 {
			return testing.AllocsPerRun(3, func() {
				if _, err := rewrite(bytes.NewReader(text), io.Discard, Options{Map: flipY("101.6")}, false); err != nil {
					t.Fatal(err)
				}
			})
		}
		// 30 000 blocks more may cost the growth of buffers, not a block's worth each.
		if a, b := count(few), count(many); b-a > 30 {
			t.Errorf("%s: %v allocations for 1000 blocks, %v for 31 000", name, a, b)
		}
	}
	var l block.Lexer
	var b block.Block
	text := []byte("G1 X53.874 Y23.287 F1427 (x)\n")
	if n := testing.AllocsPerRun(100, func() { l.Reset(text); l.Next(&b) }); n > 0 {
		t.Errorf("%v allocations for a block", n)
	}
}
