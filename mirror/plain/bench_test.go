package plain

import (
	"bytes"
	"io"
	"testing"

	"flipcalc/mirror/motion"
)

// million is a macro that makes a million moves.
const million = `G21 G90 G17
G0 X0 Y0 Z5
#1=0
#2=0
WHILE [#2 LT 1000] DO1
#3=0
WHILE [#3 LT 1000] DO2
G1 X[#3*0.1+[0.01*COS[#1]]] Y[#2*0.1+0.01*SIN[#1]] F900
#1=#1+0.36
#3=#3+1
END2
#2=#2+1
END1
M30
`

// BenchmarkMacro: the aim is a million moves in less than 2 s, proof included.
func BenchmarkMacro(b *testing.B) {
	for range b.N {
		if _, err := Write([]byte(million), io.Discard, Options{Read: motion.Options{Name: "p.nc"}}); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkPlain: the aim is 20 MB/s, proof included.
func BenchmarkPlain(b *testing.B) {
	text := append([]byte("G21 G90 G17\nG0 X0 Y0 Z5\n"), bytes.Repeat([]byte("G1 X12.345 Y1.25 F900\nX13.5 Y-7.125\nG2 X15.5 Y-7.125 I1 J0\n"), 50_000)...)
	b.SetBytes(int64(len(text)))
	for range b.N {
		if _, err := Write(text, io.Discard, Options{Read: motion.Options{Name: "p.nc"}}); err != nil {
			b.Fatal(err)
		}
	}
}
