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
		tools []string
		unit  transform.Unit
		want  string
	}{
		{nil, transform.Inch, "0"},
		{[]string{"1=flat,6"}, transform.MM, "3"},
		{[]string{"1=flat,1/4in", "2=vee,12,90"}, transform.MM, "6"},
		{[]string{"1=flat,1/64in"}, transform.MM, "0.1984375"},
		{[]string{"1=flat,1/4in"}, transform.Inch, "0.125"},
		{[]string{"1=flat,6mm"}, transform.Inch, "0.11811024"},
	} {
		var tools []Tool
		for _, s := range c.tools {
			tool, err := ParseTool(s, c.unit)
			if err != nil {
				t.Fatal(err)
			}
			tools = append(tools, tool)
		}
		got := Widest(tools, c.unit)
		if !got.Equal(decimal.RequireFromString(c.want)) {
			t.Errorf("%v in %v: %v, want %s", c.tools, c.unit, got, c.want)
		}
		if mm, _ := transform.Convert(got, c.unit, transform.MM, 12); !mm.Equal(mm.Truncate(9)) {
			t.Errorf("%v in %v: %v mm has more than 9 decimals", c.tools, c.unit, mm)
		}
	}
}
