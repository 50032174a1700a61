package report

import (
	"bytes"
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"flipcalc/mirror"
	"flipcalc/mirror/transform"
	"flipcalc/report/letters"
)

// A job in inches is reported in inches, whatever the interpreter counts in.
func TestMirroredOfInInches(t *testing.T) {
	d := decimal.RequireFromString
	o := mirror.Options{Name: "m.nc", Unit: transform.Inch, Map: transform.Map{X: transform.Axis{Sign: 1}, Y: transform.Axis{Sign: -1, Offset: d("6")},
		Z: transform.Axis{Sign: 1}, Unit: transform.Inch}}
	var out bytes.Buffer
	r, err := mirror.Mirror(strings.NewReader("G20 G90 G17\nG0 X1 Y1 Z1\nG1 Z-0.1 F20\nX8\nG0 Z1\nM2\n"), &out, o)
	if err != nil {
		t.Fatal(err)
	}
	m := MirroredOf("m.nc", "back.nc", r, transform.Inch)
	if got := m.Map.String(); got != "x' = x, y' = 6 - y, z' = z" {
		t.Errorf("map %s", got)
	}
	if got := []Estimate{m.Before.Least[0], m.Before.Greatest[0], m.After.Least[1]}; letters.Rounded(got[0], 6) != "1" || letters.Rounded(got[1], 6) != "8" || letters.Rounded(got[2], 6) != "5" {
		t.Errorf("X from %v to %v, mirrored Y %v; want 1, 8, 5", got[0], got[1], got[2])
	}
	if letters.Rounded(m.Before.CutLength, 6) != "8.1" {
		t.Errorf("cut length %v in, want 8.1", m.Before.CutLength)
	}
}
