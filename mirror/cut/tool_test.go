package cut

import (
	"testing"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
)

// The radius is never less than the cutter's, and has at most 9 decimals in both units:
// 6 mm is 0.236220472440944... in (derived: 1 in is 25.4 mm exactly).
func TestWidest(t *testing.T) {
	for _, c := range []struct {
		tools []Tool
		unit  transform.Unit
		want  string
	}{
		{nil, transform.Inch, "0"},
		{[]Tool{{Diameter: 6}}, transform.MM, "3"},
		{[]Tool{{Diameter: 6.35}, {Shape: Vee, Diameter: 12, Angle: 90}}, transform.MM, "6"},
		{[]Tool{{Diameter: 0.396875}}, transform.MM, "0.1984375"},
		{[]Tool{{Diameter: 6.35}}, transform.Inch, "0.125"},
		{[]Tool{{Diameter: 6}}, transform.Inch, "0.11811024"},
	} {
		got := Widest(c.tools, c.unit)
		if !got.Equal(decimal.RequireFromString(c.want)) {
			t.Errorf("%v in %v: %v, want %s", c.tools, c.unit, got, c.want)
		}
		if mm, _ := transform.Convert(got, c.unit, transform.MM, 12); !mm.Equal(mm.Truncate(9)) {
			t.Errorf("%v in %v: %v mm has more than 9 decimals", c.tools, c.unit, mm)
		}
	}
}
