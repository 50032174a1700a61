package block

import (
	"strings"
	"testing"
)

// TestSymbols: what makes a program one that must be run to be known.
func TestSymbols(t *testing.T) {
	for text, want := range map[string]bool{
		"G0 X1\n":                            false,
		"G0 X#1\n":                           true,
		"G0 X[1+2]":                          true,
		"(tool #5 [6 mm])\nG0 X1 ; #3\n":     false,
		"(tool #5) G0 X#1\n":                 true,
		"N10 DPRNT[X#1]\nPOPEN\n":            false,
		"DPRNT[X] G0 X#1\n":                  true,
		"(a\n#1=5\n":                         true,
		"; (a\n#1=5\n":                       true,
		strings.Repeat("(#1)\n", 1e5):        false,
		strings.Repeat("(#1)\n", 1e5) + "#1": true,
		"":                                   false,
	} {
		if got := Symbols(strings.NewReader(text)); got != want {
			t.Errorf("%.40q: %v", text, got)
		}
	}
}
