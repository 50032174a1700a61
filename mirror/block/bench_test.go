package block

import (
	"bytes"
	"fmt"
	"io"
	"math/rand/v2"
	"testing"
)

// plain makes a program of n blocks such as G1 X53.874 Y23.287 F1427.
func plain(n int) []byte {
	r := rand.New(rand.NewPCG(1, 2))
	var b bytes.Buffer
	for range n {
		fmt.Fprintf(&b, "G1 X%.3f Y%.3f F%d\n", 100*r.Float64(), 100*r.Float64(), 500+r.IntN(1500))
	}
	return b.Bytes()
}

func BenchmarkLexer(b *testing.B) {
	text := plain(40_000)
	b.SetBytes(int64(len(text)))
	b.ReportAllocs()
	var l Lexer
	var k Block
	for b.Loop() {
		l.Reset(text)
		for {
			if err := l.Next(&k); err == io.EOF {
				break
			} else if err != nil {
				b.Fatal(err)
			}
		}
	}
}
