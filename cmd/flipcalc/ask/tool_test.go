package ask

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"flipcalc/mirror/cut"
	"flipcalc/mirror/fault"
	"flipcalc/mirror/transform"
)

func TestParseTool(t *testing.T) {
	for _, c := range []struct {
		in   string
		unit transform.Unit
		want cut.Tool
	}{
		{"1=flat,6", transform.MM, cut.Tool{Number: 1, Shape: cut.Flat, Diameter: 6}},
		{"2=ball,3", transform.MM, cut.Tool{Number: 2, Shape: cut.Ball, Diameter: 3}},
		{"3=vee,6,60", transform.MM, cut.Tool{Number: 3, Shape: cut.Vee, Diameter: 6, Angle: 60}},
		{"4=bull,6,1", transform.MM, cut.Tool{Number: 4, Shape: cut.Bull, Diameter: 6, Corner: 1}},
		{" 12 = FLAT , 3.175mm", transform.Inch, cut.Tool{Number: 12, Shape: cut.Flat, Diameter: 3.175}},
		{"0=flat,1/4", transform.Inch, cut.Tool{Number: 0, Shape: cut.Flat, Diameter: 6.35}},
		{"5=ball,1-1/2in", transform.MM, cut.Tool{Number: 5, Shape: cut.Ball, Diameter: 38.1}},
		{"6=bull,0.5,1/16", transform.Inch, cut.Tool{Number: 6, Shape: cut.Bull, Diameter: 12.7, Corner: 1.5875}},
		{"7=vee,1/2,82.5", transform.Inch, cut.Tool{Number: 7, Shape: cut.Vee, Diameter: 12.7, Angle: 82.5}},
	} {
		got, err := ParseTool(c.in, c.unit)
		if err != nil || got != c.want {
			t.Errorf("%q: %+v %v, want %+v", c.in, got, err, c.want)
		}
	}
	for _, in := range []string{"", "flat,6", "=flat,6", "1=", "1=flat", "1=flat,", "1=flat,0", "1=flat,-6", "1=flat,6,2", "1=cone,6",
		"1=vee,6", "1=vee,6,0", "1=vee,6,180", "1=vee,6,sixty", "1=bull,6", "1=bull,6,0", "1=bull,6,3.1", "x=flat,6", "-1=flat,6",
		"1=flat,1e3", "1=flat,6mmm", "1=flat,1/0", "1=flat,1/-2", "1=flat,1-2", "1=flat,1/2/3", "1=flat,NaN", "1=flat,5000", "1=flat,.", "1=vee,6,1e1", "9999999=flat,6"} {
		if got, err := ParseTool(in, transform.MM); err == nil {
			t.Errorf("%q was taken as %+v", in, got)
		} else if f := (*fault.Error)(nil); !errors.As(err, &f) || f.Found == "" || f.Expected == "" || f.Hint == "" {
			t.Errorf("%q: %v", in, err)
		}
	}
}

func FuzzParseTool(f *testing.F) {
	for _, s := range []string{"1=flat,6", "3=vee,6,60", "4=bull,1-1/8in,1/16", "=,", "0=ball,0.0000001"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		tool, err := ParseTool(s, transform.Inch)
		if err != nil {
			return
		}
		if err := tool.Validate(); err != nil {
			t.Fatalf("%q gives %+v: %v", s, tool, err)
		}
		if h := tool.Rise(tool.Diameter); math.IsNaN(h) || h < 0 {
			t.Fatalf("%q: height %g at the rim", s, h)
		}
	})
}

func ExampleParseTool() {
	t, err := ParseTool("3=vee,6,60", transform.MM)
	fmt.Println(t.Number, t.Shape, t.Diameter, t.Angle, err)
	_, err = ParseTool("3=vee,6", transform.MM)
	fmt.Println(err)
	// Output:
	// 3 vee 6 60 <nil>
	// tool "3=vee,6": 1 value after the shape, expected diameter and included angle; hint: write a tool as 1=flat,6 or 2=ball,3 or 3=vee,6,60 or 4=bull,6,1 or 5=drill,3,118
}
