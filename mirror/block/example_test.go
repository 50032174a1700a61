package block_test

import (
	"fmt"

	"flipcalc/mirror/block"
)

func ExampleLexer() {
	text := []byte("N10 g1 x 7 Y-.5 (row 7)\n")
	var l block.Lexer
	var b block.Block
	l.Reset(text)
	for l.Next(&b) == nil {
		for _, w := range b.Words() {
			fmt.Printf("%c %q is %d with %d decimals\n", w.Letter, text[w.Num:w.End], w.Value, w.Places)
		}
	}
	// Output:
	// G "1" is 1 with 0 decimals
	// X "7" is 7 with 0 decimals
	// Y "-.5" is -5 with 1 decimals
}
