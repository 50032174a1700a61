package mirror

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"flipcalc/testdata/trace"
)

// chains are programs beside reverseRows whose cuts are reversed or left.
var chains = []string{
	"G0 X10 Y10|G1 Z-1 F50|X20 F90|M0|X30|G0 Z5|X0 Y0",
	"G0 X10 Y10|G1 Z-1 F50|X20 F90|M1|X30 Y20|X10 Y10|G0 Z5|X0 Y0",
	"G0 X10 Y10|G1 Z-1 F50|X20 F90|/X25 Y15|X30 Y20|X10 Y10|G0 Z5|X0 Y0",
	"G0 X10 Y10|G1 Z-1 F50|/X20 F90|/X30|G0 Z5|X0 Y0",
	"G0 X10 Y10|G1 Z-1 F50|X20 F90|/F70|X30|/S100|Y30|G0 Z5|X0 Y0",
	"G0 X10 Y10|/G1 Z-1 F50|G1 Z-2 F50|X20 F90|X30|G0 Z5|X0 Y0",
	"G0 X10 Y10|G1 Z-1 F50|X20 F90|G20|X1 F9|G21|X30 F90|G0 Z5|X0 Y0",
	"G0 X10 Y10|G1 Z-1 F50|G93 X20 F2|X30 F3|G94 X40 F90|G0 Z5|X0 Y0",
	"G0 X10 Y10|G95 G1 Z-1 F.1|X20 F.2|X30 F.3|G0 Z5|G94 X0 Y0",
	"G0 X10 Y10|G1 Z-1 F50|G2 X20 R5 F90|G3 X30 R-7|G2 I3|G1 X10 Y10|G0 Z5|X0 Y0",
	"G90.1 G0 X10 Y10|G1 Z-1 F50|G2 X20 Y10 I15 J10 F90|G3 X30 Y10 I25 J10|G0 Z5|X0 Y0",
	"G0 X10 Y10|G1 Z-1 F50|G18 G2 X20 R5 F90|G17 G1 X30|G0 Z5|X0 Y0",
	"G0 X10 Y10|G1 Z-1 F50|X20 F90|G61|X30|G64|Y30|G0 Z5|X0 Y0",
	"G0 X10 Y10|G1 Z-1 F50|X20 F90|G52 X5|X30|G0 Z5|G52 X0|X0 Y0",
	"G0 X10 Y10|G1 Z-1 F50|X20 F90|M3 S100|X30|M4|Y30|G0 Z5|X0 Y0",
	"G0 X10 Y10|G1 Z-1 F50|X20 F90|T2|X30|M6|Y30|G0 Z5|X0 Y0",
	"G0 X10 Y10|G81 Z-1 R1 F50|X20|G80|G0 X0 Y0|G1 Z-1|X20 F90|X30 Y5|G0 Z5|X0 Y0",
	"G0 X10 Y10|G1 Z-1 F50|X20 F90 Y20|G0 X30 Y20|G1 X40|Y10|G0 Z5|X0 Y0",
	"G0 X10 Y10|G1 Z-1 F50|X20 F90 Y20|G0 Z5|X30 Y20|G1 Z-1 F50|X40|Y10|G0 Z5|X5 Y5|G1 Z-2|X10|X5 Y9|X5 Y5|G0 Z5|X0 Y0",
}

// TestSameCutsBothEnds: reversed or not, a second reading (package trace) finds the same cuts
// at the same places, feeds and speeds, with the same plunges and stops; and no rapid as low as
// a cut that has none so low where nothing is reversed. A closed curve's middle stands for it.
func TestSameCutsBothEnds(t *testing.T) {
	texts := slices.Clone(chains)
	for _, c := range reverseRows {
		if !strings.Contains(c.in, "M98") && !strings.Contains(c.in, "G12") && !strings.Contains(c.in, "G5.1") {
			texts = append(texts, c.in)
		}
	}
	for _, text := range texts {
		in := reverseStart + strings.ReplaceAll(text, "|", "\n") + "\nM30\n"
		var plain, reversed bytes.Buffer
		if _, err := Mirror(strings.NewReader(in), &plain, Options{Map: flipY("100")}); err != nil {
			t.Errorf("%q: %v", in, err)
			continue
		}
		if _, err := Mirror(strings.NewReader(in), &reversed, Options{Map: flipY("100"), ReverseCuts: true}); err != nil {
			t.Errorf("%q: %v", in, err)
			continue
		}
		for _, skip := range []bool{false, true} {
			want, low := cutsOf(plain.String(), skip)
			got, lower := cutsOf(reversed.String(), skip)
			if !slices.Equal(want, got) || lower < low-1e-9 {
				t.Errorf("%q, slashes skipped %v: %q, lowest rapid %g, want %q, %g\n%s", in, skip, got, lower, want, low, reversed.String())
			}
		}
	}
}

// cutsOf lists what a program cuts, without the sense of it, and where its lowest rapid goes
// aside.
func cutsOf(text string, skip bool) (all []string, low float64) {
	low = math.Inf(1)
	for _, s := range trace.Run(text, trace.Options{Skip: skip}) {
		switch n := len(s.Path); {
		case s.Code == "G0" && (s.Named[0] || s.Named[1]):
			low = math.Min(low, s.Path[n-1][2])
		case s.Code == "M0" || s.Code == "M1" || s.Code == "G4":
			all = append(all, s.Code+s.Words)
		case !s.Cuts() || s.Machine[0] == s.Machine[1] && s.Code == "G1":
		case s.Path[0][0] == s.Path[n-1][0] && s.Path[0][1] == s.Path[n-1][1] && s.Code == "G1":
			all = append(all, fmt.Sprintf("down %.4f to %.4f F%g/%d", s.Path[0][2], s.Path[n-1][2], s.Feed, s.Mode))
		default:
			ends := []string{fmt.Sprintf("%.4f", s.Path[0]), fmt.Sprintf("%.4f", s.Path[n-1])}
			slices.Sort(ends)
			all = append(all, fmt.Sprintf("%v %.4f F%g/%d S%g %d", ends, s.Path[n/2], s.Feed, s.Mode, s.Speed, s.Spindle))
		}
	}
	slices.Sort(all)
	return all, low
}
