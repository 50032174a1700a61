package motion

import (
	"cmp"
	"math"
	"math/big"
	"math/bits"
	"strings"

	"github.com/shopspring/decimal"
)

// Num is an exact length, feed or other number of a program. Its usual form is a
// count of 1e-9 units in an int64, which holds every decimal with up to nine
// places below 9.2e9; anything else is a fraction behind it. The zero value is 0.
type Num struct {
	v int64
	r *big.Rat // nil wherever v alone holds the value
}

// scale is how many steps of v make one unit.
const scale = 1_000_000_000

// maxDigits bounds a number's length, so that no text can make one number cost
// more than a page of memory.
const maxDigits = 1000

var (
	ratScale = big.NewRat(scale, 1)
	pow10    = [...]int64{1, 10, 100, 1_000, 10_000, 100_000, 1_000_000, 10_000_000, 100_000_000, scale}
)

// FromInt gives n whole units.
func FromInt(n int64) Num {
	if n > math.MaxInt64/scale || n < math.MinInt64/scale {
		return FromRat(new(big.Rat).SetInt64(n))
	}
	return Num{v: n * scale}
}

// FromNano gives v steps of 1e-9 unit.
func FromNano(v int64) Num { return Num{v: v} }

// FromRat gives the fraction r exactly. r isn't kept.
func FromRat(r *big.Rat) Num {
	s := new(big.Rat).Mul(r, ratScale)
	if s.IsInt() && s.Num().IsInt64() {
		return Num{v: s.Num().Int64()}
	}
	return Num{r: new(big.Rat).Set(r)}
}

// FromDecimal gives d exactly.
func FromDecimal(d decimal.Decimal) Num {
	if e := d.Exponent(); e < -9 || e > 0 || !d.Coefficient().IsInt64() {
		return FromRat(d.Rat())
	}
	c := d.CoefficientInt64()
	f := pow10[9+d.Exponent()]
	if c > math.MaxInt64/f || c < math.MinInt64/f {
		return FromRat(d.Rat())
	}
	return Num{v: c * f}
}

// scanNum reads a number that begins at s[i], blanks in front and inside allowed
// (NISTIR 6556, 3.1). end is the place after its last digit or point. ok is false
// where there is no digit, two points, or more digits than maxDigits.
func scanNum(s []byte, i int) (n Num, end int, ok bool) {
	start := i
	neg, point := false, false
	digits, places := 0, 0
	var v int64
	if i = skipBlanks(s, i); i < len(s) && (s[i] == '-' || s[i] == '+') {
		neg = s[i] == '-'
		i++
	}
	end = i
	exact := true
	for ; i < len(s); i++ {
		c := s[i]
		switch {
		case c-'0' <= 9:
			digits++
			if point {
				places++
			}
			if v > (math.MaxInt64-9)/10 {
				exact = false
			} else {
				v = v*10 + int64(c-'0')
			}
			end = i + 1
			continue
		case c == '.':
			if point {
				return Num{}, i, false
			}
			point = true
			end = i + 1
			continue
		case c == ' ' || c == '\t':
			continue
		}
		break
	}
	if digits == 0 || digits > maxDigits {
		return Num{}, end, false
	}
	if exact && places <= 9 {
		f := pow10[9-places]
		if v <= math.MaxInt64/f {
			v *= f
			if neg {
				v = -v
			}
			return Num{v: v}, end, true
		}
	}
	return slowNum(s[start:end]), end, true
}

// slowNum reads a checked number that doesn't fit the fast form.
func slowNum(s []byte) Num {
	r, ok := new(big.Rat).SetString(strings.NewReplacer(" ", "", "\t", "").Replace(string(s)))
	if !ok {
		return Num{}
	}
	return FromRat(r)
}

// Nano gives n in steps of 1e-9 unit; ok is false where it doesn't fit.
func (n Num) Nano() (v int64, ok bool) { return n.v, n.r == nil }

// Rat gives n as a fraction of the caller's own.
func (n Num) Rat() *big.Rat { return new(big.Rat).Set(n.rat()) }

// rat gives n as a fraction to read only.
func (n Num) rat() *big.Rat {
	if n.r != nil {
		return n.r
	}
	return big.NewRat(n.v, scale)
}

// Add gives n + m.
func (n Num) Add(m Num) Num {
	if s := n.v + m.v; n.r == nil && m.r == nil && (s > n.v) == (m.v > 0) {
		return Num{v: s}
	}
	return n.addSlow(m)
}

func (n Num) addSlow(m Num) Num { return FromRat(new(big.Rat).Add(n.rat(), m.rat())) }

// Sub gives n - m.
func (n Num) Sub(m Num) Num {
	if s := n.v - m.v; n.r == nil && m.r == nil && (s < n.v) == (m.v > 0) {
		return Num{v: s}
	}
	return n.subSlow(m)
}

func (n Num) subSlow(m Num) Num { return FromRat(new(big.Rat).Sub(n.rat(), m.rat())) }

// Neg gives -n.
func (n Num) Neg() Num {
	if n.r == nil && n.v != math.MinInt64 {
		return Num{v: -n.v}
	}
	return FromRat(new(big.Rat).Neg(n.rat()))
}

// Mul gives n * m.
func (n Num) Mul(m Num) Num {
	if n.r == nil && m.r == nil {
		if v, ok := scaled(n.v, m.v, scale); ok {
			return Num{v: v}
		}
	}
	return FromRat(new(big.Rat).Mul(n.rat(), m.rat()))
}

// Quo gives n / m; m must not be 0.
func (n Num) Quo(m Num) Num {
	if n.r == nil && m.r == nil {
		if v, ok := scaled(n.v, scale, m.v); ok {
			return Num{v: v}
		}
	}
	return FromRat(new(big.Rat).Quo(n.rat(), m.rat()))
}

// scaled gives a * b / c; ok is false where that is no whole number or doesn't fit.
func scaled(a, b, c int64) (v int64, ok bool) {
	size := func(v int64) uint64 {
		if v < 0 {
			return -uint64(v)
		}
		return uint64(v)
	}
	hi, lo := bits.Mul64(size(a), size(b))
	d := size(c)
	if hi >= d {
		return 0, false
	}
	q, rest := bits.Div64(hi, lo, d)
	if rest != 0 || q > math.MaxInt64 {
		return 0, false
	}
	if (a < 0) != (b < 0) != (c < 0) {
		return -int64(q), true
	}
	return int64(q), true
}

// Times gives n times a whole number.
func (n Num) Times(k int64) Num { return n.Mul(FromInt(k)) }

// Signed gives n for a positive sign and -n for a negative one.
func (n Num) Signed(sign int) Num {
	if sign < 0 {
		return n.Neg()
	}
	return n
}

// Cmp gives -1, 0 or +1 as n is less than, equal to or greater than m.
func (n Num) Cmp(m Num) int {
	if n.r == nil && m.r == nil {
		return cmp.Compare(n.v, m.v)
	}
	return n.rat().Cmp(m.rat())
}

// Equal reports whether n and m are the same number.
func (n Num) Equal(m Num) bool {
	if n.r == nil && m.r == nil {
		return n.v == m.v
	}
	return n.r != nil && m.r != nil && n.r.Cmp(m.r) == 0
}

// Sign gives -1, 0 or +1.
func (n Num) Sign() int {
	if n.r != nil {
		return n.r.Sign()
	}
	return cmp.Compare(n.v, 0)
}

// IsZero reports whether n is 0.
func (n Num) IsZero() bool { return n.r == nil && n.v == 0 }

// Int gives n as a whole number; ok is false where it is none or doesn't fit.
func (n Num) Int() (i int64, ok bool) {
	if n.r != nil {
		if n.r.IsInt() && n.r.Num().IsInt64() {
			return n.r.Num().Int64(), true
		}
		return 0, false
	}
	return n.v / scale, n.v%scale == 0
}

// Float gives the nearest float64, for lengths and times only: no comparison of
// positions is made with it.
func (n Num) Float() float64 {
	if n.r != nil {
		return float(n.r)
	}
	return float64(n.v) / scale
}

// Decimal gives n as a decimal; ok is false where it is no finite decimal, and d
// is then rounded to 12 places.
func (n Num) Decimal() (d decimal.Decimal, ok bool) {
	if n.r == nil {
		return decimal.New(n.v, -9), true
	}
	places, ok := n.r.FloatPrec()
	if !ok {
		places = 12
	}
	return decimal.RequireFromString(n.r.FloatString(places)), ok
}

// String writes n as a decimal, or rounded to 12 places with a leading "~" where
// it has more than 20.
func (n Num) String() string {
	d, ok := n.Decimal()
	if !ok || d.Exponent() < -20 {
		return "~" + d.Round(12).String()
	}
	return d.String()
}
