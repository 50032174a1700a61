package draw

import (
	"strings"
	"testing"

	"flipcalc/registration"
)

// Letters on the edges, seen from above: turning a sheet of paper lettered
// A near, B right, C far, D left over like a page leaves A near and C far and
// exchanges B and D; over the other way it exchanges A and C (tried with paper).
func TestEdgeLetters(t *testing.T) {
	for _, c := range []struct {
		flip    registration.Flip
		back    bool
		quarter int
		want    string
	}{
		{registration.FlipY, false, 0, "ABCD"},
		{registration.FlipY, true, 0, "ADCB"},
		{registration.FlipX, true, 0, "CBAD"},
		{registration.FlipX, false, 1, "DABC"},
		{registration.FlipY, true, 2, "CBAD"},
	} {
		l := EdgeLetters(c.flip, c.back, c.quarter)
		if got := strings.Join(l[:], ""); got != c.want {
			t.Errorf("flip %v, back %v, %d quarter turns: near, right, far, left are %s, want %s", c.flip, c.back, c.quarter, got, c.want)
		}
	}
}
