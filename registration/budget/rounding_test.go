package budget

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/shopspring/decimal"
)

// TestRounding: the term of a program that was written out against arcs that are drawn,
// rounded as plain rounds them and measured (plane geometry): no point of the rounded
// circle lies further from the circle than the term says, and one comes close.
func TestRounding(t *testing.T) {
	const step = 0.001
	r := rand.New(rand.NewPCG(3, 5))
	round := func(v, q float64) float64 { return math.Round(v/q) * q }
	limit, most := arcRounding*step, 0.0
	for range 200_000 {
		start := [2]float64{r.Float64() * 100, r.Float64() * 100}
		centre := [2]float64{r.Float64() * 100, r.Float64() * 100}
		var s, c [2]float64
		for i := range 2 {
			s[i] = round(start[i], step)
			c[i] = s[i] + round(centre[i]-s[i], step/10)
		}
		radius, was := math.Hypot(s[0]-c[0], s[1]-c[1]), math.Hypot(start[0]-centre[0], start[1]-centre[1])
		// The farthest any point of one circle lies from the other.
		off := math.Hypot(c[0]-centre[0], c[1]-centre[1]) + math.Abs(radius-was)
		most = math.Max(most, off)
	}
	if most > limit || most < 0.9*limit {
		t.Errorf("rounded arcs lie off by %.7f, the term says %.7f", most, limit)
	}
}

// TestRoundingTerm: one term for each side whose program was written out.
func TestRoundingTerm(t *testing.T) {
	o := Options{Rounding: [2]decimal.Decimal{decimal.New(1, -3), {}}}
	b, err := of(markers(), o)
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	for _, term := range b.Terms {
		if term.Name == Rounding {
			n++
			near(t, "rounding", term.Limit, 0.0008485, 1e-7)
			if term.Sides != "face" {
				t.Errorf("of the %s", term.Sides)
			}
		}
	}
	if n != 1 {
		t.Errorf("%d terms", n)
	}
}
