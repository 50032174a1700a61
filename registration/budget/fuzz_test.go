package budget

import (
	"math"
	"testing"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
	"flipcalc/registration"
)

// Whatever is typed as a tolerance, it is refused or gives a finite budget.
func FuzzSet(f *testing.F) {
	for _, s := range []string{"clearance=0.024", "square=0.1/300", "square=0.1", "size=1/64in", "corner=0.1/0", "=", "hole", "locator=-1", "pin-line=1/3"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		tol := Tolerances{}
		length := func(s string) (decimal.Decimal, error) { return registration.ParseLength(s, transform.MM) }
		if tol.Set(s, transform.MM, length) != nil {
			return
		}
		r, err := of(markers(), Options{Tolerances: tol})
		if err != nil || math.IsNaN(r.Worst) || math.IsInf(r.Worst, 0) && len(s) < 300 || r.Likely > r.Worst {
			t.Errorf("%q: %v, %v", s, r, err)
		}
	})
}
