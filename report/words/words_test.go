package words

import (
	"testing"

	"github.com/shopspring/decimal"

	"flipcalc/registration"
)

// The flip is said in words that name what moves where: about a line parallel to
// Y the left edge goes right, about one parallel to X the near edge goes far.
func TestFlip(t *testing.T) {
	for _, c := range []struct {
		flip registration.Flip
		want string
	}{
		{registration.FlipY, "turned over about a line parallel to Y, like a page: left edge goes right"},
		{registration.FlipX, "turned over about a line parallel to X: near edge goes far"},
	} {
		if got := Flip(c.flip); got != c.want {
			t.Errorf("%v: %q, want %q", c.flip, got, c.want)
		}
	}
}

func d(s string) decimal.Decimal { return decimal.RequireFromString(s) }
