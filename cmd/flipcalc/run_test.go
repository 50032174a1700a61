package main

import (
	"testing"

	"flipcalc/mirror"
)

// TestReversedLines: a finding in a chain that was reversed is told at the chain's
// first line of the maker's own file, one elsewhere at its own line.
func TestReversedLines(t *testing.T) {
	const in = "G0 X0\nG1 X1\nX2\nX3\nG0 Z5\nM30\n"
	p := runOf(0, true, "d.nc", textOf(in), textOf("(flipcalc: back of d)\n"+in), &mirror.Report{Turned: []mirror.Chain{{First: 2, Last: 4}}})
	for written, want := range map[int]int{2: 1, 3: 2, 4: 2, 5: 2, 6: 5, 7: 6} {
		if got := p.lines(written); got != want || p.source != "d.nc" {
			t.Errorf("line %d: %s:%d, want line %d", written, p.source, got, want)
		}
	}
}
