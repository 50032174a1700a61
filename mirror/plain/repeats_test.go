package plain

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/motion"
	"flipcalc/testdata/trace"
)

// written2 are programs whose plain text does the same by a second reading (package trace),
// but for the rounding of centres (prove.go); | ends a block.
var written2 = []struct{ name, text string }{
	{"holes, then a stop in their block", "G0 X1 Y2 Z9|G91 G99 G81 X10 Y5 R-7 Z-3 L3 F90 M0|G90 G80 G0 Z9"},
	{"holes, then an optional stop in their block", "G0 X1 Y2 Z9|G91 G98 G83 X10 Y5 R-7 Z-3 Q1 L2 F90 M1|X-3 L3 M60|G90 G80 G0 Z9"},
	{"holes, then the end in their block", "G0 X1 Y2 Z9|G91 G99 G81 X10 Y5 R-7 Z-3 L3 F90 M30"},
	{"a move and a stop", "G0 X1 Y2 Z9|G1 Z-1 F90 M0|X5 M1|G2 X9 I2 M0|G0 Z9 M30"},
	{"dwells in their two words", "G0 X1 Y2 Z9|G4 P1.5|G1 Z-1 F90|G4 X2.5|X5|G82 X6 Z-2 R3 P0.25|X7|X8 P1|G80"},
	{"a feed a turn, inverse time", "G0 X1 Y2 Z9|G95 G1 Z-1 F.1|G2 X9 I4|G93 X1 I-4 F2|G1 X5 F3|G94 X6 F90"},
	{"inches", "G20 G0 X1.5 Y.25 Z.5|G1 Z-.1 F9|G91 X.3333|X.3333|X.3333|G2 X1 I.5|G90 X3 Y1 R-3"},
	{"units and back", "G21 G0 X10 Y10 Z5|G1 Z-1 F90|G20 X1 F9|G91 X.1|G21 X1 F90|G90 Y20"},
	{"blanks before a number", "G0 X 1.00005 Y + 2.12345 Z 9|G1 X 7.00005 Z - 1.00005 F 90|G2 X 9.00005 I 1"},
	{"coolant, spindle, speeds", "G0 X1 Y2 Z9|M8|M7|S900 M4|G1 Z-1 F90|M9|X5|M5|M3 S1000 X9"},
	{"planes", "G0 X1 Y2 Z9|G18 G2 X9 Z9 I4 K0 F90|G3 X1 R-5|G19 G2 Y9 R4|G3 K3|G17 G2 I-3"},
	{"lengths and compensation", "T1 M6|G43 H1 G0 X1 Y2 Z9|G1 Z-1 F90|G41 D2 X9|Y9|G40 X20|G0 Z9|T2 M6|G43 H2 X1 Y2 Z9|G49 Z9"},
}

// TestSecondReading: what a written program does, read a second time.
func TestSecondReading(t *testing.T) {
	for _, c := range written2 {
		text := strings.ReplaceAll(c.text+"|M30|", "|", "\n")
		var out strings.Builder
		if _, err := Write([]byte(text), &out, Options{Read: motion.Options{Name: "p.nc"}}); err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		want, got := trace.Run(text, trace.Options{}), trace.Run(out.String(), trace.Options{})
		for i := range max(len(want), len(got)) {
			if i >= len(want) || i >= len(got) {
				t.Errorf("%s: %d steps, want %d\n%s", c.name, len(got), len(want), out.String())
				break
			}
			if !want[i].Same(&got[i], 0.00085) {
				t.Errorf("%s: step %d is\n%v, want\n%v\n%s", c.name, i+1, &got[i], &want[i], out.String())
				break
			}
		}
	}
}

// TestNoDrift: a thousand increments that are no whole number of steps end where their sum
// ends, within half a step (and a third of 1e-9 each), straight and turned; so does each on
// the way.
func TestNoDrift(t *testing.T) {
	var text strings.Builder
	text.WriteString("#1=1/3\nG0 X0 Y0 Z1\nG91\n")
	for range 1000 {
		text.WriteString("G1 X#1 Y[0-#1/7] F90\n")
	}
	text.WriteString("M30\n")
	for _, degrees := range []float64{0, 90, 37} {
		var out strings.Builder
		if _, err := Write([]byte(text.String()), &out, Options{Turn: decimal.NewFromFloat(degrees)}); err != nil {
			t.Fatal(err)
		}
		sin, cos := math.Sincos(degrees * math.Pi / 180)
		steps := trace.Run(out.String(), trace.Options{})
		for n, s := range steps[1:] {
			x, y := float64(n+1)/3, -float64(n+1)/21
			end := s.Path[8]
			if math.Abs(x*cos-y*sin-end[0]) > 0.0005+1e-6 || math.Abs(x*sin+y*cos-end[1]) > 0.0005+1e-6 {
				t.Fatalf("by %g: move %d ends at %v, want %s", degrees, n+1, end, fmt.Sprint(x*cos-y*sin, x*sin+y*cos))
			}
		}
		if len(steps) != 1001 {
			t.Errorf("%d moves", len(steps))
		}
	}
}

// TestEndBeforeHoles: holes behind the end would be drilled by some controls and left out by
// others.
func TestEndBeforeHoles(t *testing.T) {
	o := Options{Read: motion.Options{Name: "p.nc"}}
	o.mutate = func(line []byte) []byte {
		s := strings.Replace(string(line), " M30", "", 1)
		return []byte(strings.Replace(s, "F90", "F90 M30", 1))
	}
	_, err := Write([]byte("G0 X1 Y2 Z9\nG91 G99 G81 X10 Y5 R-7 Z-3 L3 F90 M30\n"), &strings.Builder{}, o)
	if err == nil || !strings.Contains(err.Error(), "a move behind the end") {
		t.Errorf("got %v", err)
	}
}
