package bed

import (
	"fmt"
	"testing"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
	"flipcalc/registration"
)

func TestOutside(t *testing.T) {
	d := decimal.RequireFromString
	z := func(s string) *decimal.Decimal { v := d(s); return &v }
	m := &Machine{Unit: transform.MM, X: Range{d("0"), d("300")}, Y: Range{d("0"), d("200")}, Z: Range{d("-100"), d("0")}}
	for _, c := range []struct {
		name         string
		unit         transform.Unit
		faceX, backX string
		faceZ        string
		want         string
	}{
		{"inside, ends included", transform.MM, "0", "300", "-100", ""},
		{"beyond the right end", transform.MM, "300.001", "10", "-1", "face X 300.001;"},
		{"below the travel", transform.MM, "10", "10", "-300", "face Z -300;"},
		{"the back left of the travel", transform.MM, "10", "-0.5", "-1", "back X -0.5;"},
		{"in inches", transform.Inch, "11.8", "12", "-1", "back X 304.8;"},
	} {
		a := &registration.Answer{Question: registration.Question{Unit: c.unit, At: &registration.Position{X: d(c.faceX), Y: d("1"), Z: z(c.faceZ)}},
			Second: &registration.SecondZero{Machine: true, X: d(c.backX), Y: d("1")}}
		got := ""
		for _, o := range m.Outside(a) {
			got += fmt.Sprintf("%s %s %s;", o.Side, o.Axis, o.At)
		}
		if got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}
