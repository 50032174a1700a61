package motion

import (
	"fmt"
	"math"
	"math/big"
	"math/rand"
	"testing"

	"flipcalc/mirror/transform"

	"github.com/shopspring/decimal"
)

// rats are numbers on both sides of every limit of the fast form.
func rats() (all []*big.Rat) {
	for _, s := range []string{
		"0", "1", "-1", "0.000000001", "-0.000000001", "0.0000000001", "9223372036.854775807", "-9223372036.854775808",
		"9223372036.854775808", "-9223372036.854775809", "9223372037", "25.4", "1/3", "-5/127", "123456789012345678901234567890.5", "1e-30",
	} {
		r, ok := new(big.Rat).SetString(s)
		if !ok {
			panic(s)
		}
		all = append(all, r)
	}
	return all
}

// TestNum compares every operation with exact fractions (math/big).
func TestNum(t *testing.T) {
	same := func(what string, got Num, want *big.Rat) {
		t.Helper()
		if got.Rat().Cmp(want) != 0 {
			t.Errorf("%s: got %s, want %s", what, got.Rat().RatString(), want.RatString())
		}
		// One number has one form.
		if again := FromRat(want); (again.r == nil) != (got.r == nil) || again.v != got.v {
			t.Errorf("%s: two forms of %s", what, want.RatString())
		}
	}
	for _, a := range rats() {
		n := FromRat(a)
		same("itself", n, a)
		same("neg", n.Neg(), new(big.Rat).Neg(a))
		same("in mm", n.mm(transform.Inch), new(big.Rat).Mul(a, big.NewRat(254, 10)))
		if n.Sign() != a.Sign() || n.IsZero() != (a.Sign() == 0) {
			t.Errorf("sign of %s", a.RatString())
		}
		i, ok := n.Int()
		if ok != a.IsInt() && a.Num().IsInt64() || ok && a.Cmp(big.NewRat(i, 1)) != 0 {
			t.Errorf("%s as a whole number: %d %v", a.RatString(), i, ok)
		}
		for _, b := range rats() {
			m := FromRat(b)
			what := a.RatString() + " and " + b.RatString()
			same("add "+what, n.Add(m), new(big.Rat).Add(a, b))
			same("sub "+what, n.Sub(m), new(big.Rat).Sub(a, b))
			same("mul "+what, n.Mul(m), new(big.Rat).Mul(a, b))
			if b.Sign() != 0 {
				same("quo "+what, n.Quo(m), new(big.Rat).Quo(a, b))
			}
			if n.Cmp(m) != a.Cmp(b) || n.Equal(m) != (a.Cmp(b) == 0) {
				t.Errorf("cmp %s", what)
			}
		}
		for _, k := range []int64{0, 1, -1, 3, math.MaxInt64, math.MinInt64} {
			same(fmt.Sprintf("%s times %d", a.RatString(), k), n.Times(k), new(big.Rat).Mul(a, new(big.Rat).SetInt64(k)))
		}
	}
}

// parse reads a whole text as a number of NISTIR 6556, 3.3.2.1.
func parse(s string) (n Num, ok bool) {
	n, end, ok := scanNum([]byte(s), 0)
	return n, ok && end == len(s)
}

// TestScanNum compares with shopspring/decimal on random texts.
func TestScanNum(t *testing.T) {
	r := rand.New(rand.NewSource(4))
	for range 20_000 {
		s := [...]string{"", "-", "+"}[r.Intn(3)]
		whole, places := r.Intn(13), r.Intn(14)
		if whole+places == 0 {
			whole = 1
		}
		for range whole {
			s += string(rune('0' + r.Intn(10)))
		}
		if places > 0 || r.Intn(2) == 0 {
			s += "."
		}
		for range places {
			s += string(rune('0' + r.Intn(10)))
		}
		n, ok := parse(s)
		d, derr := decimal.NewFromString(s)
		if !ok || derr != nil || n.Rat().Cmp(d.Rat()) != 0 || !FromDecimal(d).Equal(n) {
			t.Fatalf("%q: got %v %v, want %v %v", s, n, ok, d, derr)
		}
		if back, ok := n.Decimal(); !ok || !back.Equal(d) {
			t.Fatalf("%q: back as %v", s, back)
		}
	}
	for _, s := range []string{"", "-", ".", "+.", "1.2.3", "1e5", "--1", "1-", "x", "1 2 x"} {
		if n, ok := parse(s); ok {
			t.Errorf("%q: got %v", s, n)
		}
	}
}

// TestDecimal: a fraction is a finite decimal exactly if nothing but 2 and 5
// divides its denominator.
func TestDecimal(t *testing.T) {
	for _, tt := range []struct {
		num, den int64
		want     string
		ok       bool
	}{
		{1, 8, "0.125", true}, {1, 3, "0.333333333333", false}, {-7, 1 << 40, "-0.000000000006366462912410497665405", true},
		{5, 127, "0.03937007874", false}, {3, 1, "3", true}, {1, 12_500_000_000, "0.00000000008", true},
	} {
		d, ok := FromRat(big.NewRat(tt.num, tt.den)).Decimal()
		want := decimal.RequireFromString(tt.want)
		if ok != tt.ok || ok && d.Rat().Cmp(big.NewRat(tt.num, tt.den)) != 0 || !d.Round(12).Equal(want.Round(12)) {
			t.Errorf("%d/%d: got %s %v", tt.num, tt.den, d, ok)
		}
	}
}

// TestApart compares the quick comparison of radii with the exact one near the
// tolerance, where it matters: Pythagorean triples have whole radii.
func TestApart(t *testing.T) {
	tol := Num{v: 2_000_000} // 0.002
	for _, tt := range []struct {
		a, b string
		want bool
	}{
		{"0", "0", false}, {"0.002", "0", false}, {"0.002000001", "0", true}, {"-0.002", "0", false}, {"-0.002000001", "0", true},
	} {
		for _, k := range []int64{1, 7, 1000, 1_000_000} {
			a := [2]Num{FromInt(3 * k), FromInt(4 * k)} // radius 5k
			extra, _ := parse(tt.a)
			b := [2]Num{FromInt(5 * k).Add(extra), {}}
			if got := apart(a, b, tol); got != tt.want {
				t.Errorf("radii %d and %d%+v: got %v", 5*k, 5*k, extra, got)
			}
			if got := apartExactly(b, a, tol); got != tt.want {
				t.Errorf("exactly, radii %d%+v and %d: got %v", 5*k, extra, 5*k, got)
			}
		}
	}
	r := rand.New(rand.NewSource(5))
	for range 2000 {
		a := [2]Num{{v: r.Int63n(1e12)}, {v: r.Int63n(1e12)}}
		b := [2]Num{{v: a[0].v + r.Int63n(8e6) - 4e6}, {v: a[1].v + r.Int63n(8e6) - 4e6}}
		if apart(a, b, tol) != apartExactly(a, b, tol) {
			t.Fatalf("%v and %v", a, b)
		}
	}
}

func ExampleNum() {
	a, b := FromNano(100_000_000), FromInt(120)
	third := FromInt(1).Quo(FromInt(3))
	fmt.Println(b.Sub(a), third.Times(3), third)
	// Output: 119.9 1 ~0.333333333333
}
