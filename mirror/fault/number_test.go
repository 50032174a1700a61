package fault

import (
	"math"
	"strings"
	"testing"
)

func TestNumber(t *testing.T) {
	for _, c := range []struct {
		v    float64
		want string
	}{
		{0, "0"}, {1.5, "1.5"}, {1.2e6, "1200000"}, {-8e7, "-80000000"}, {0.1 + 0.2, "0.3"}, {1e-5, "0.00001"}, {1.23456e-9, "0.00000000123"},
		{2.0 / 3, "0.666667"}, {math.NaN(), "NaN"}, {math.Inf(1), "+Inf"}, {1.5e305, "15" + strings.Repeat("0", 304)},
	} {
		if got := Number(c.v); got != c.want {
			t.Errorf("%v: %s, want %s", c.v, got, c.want)
		}
	}
}
