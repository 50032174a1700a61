package expression

import (
	"math"
	"math/big"
	"math/bits"
)

// Number is a value of an expression: a whole number of steps of 1e-9 in v where that
// holds it, else an exact fraction in r, else the nearest floating-point number in f. The
// last is made by Tree.Value alone, of functions and of fractions that grow too fine.
type Number struct {
	v    int64
	f    float64
	r    *big.Rat
	near bool // f holds it
}

// scale is how many steps make 1.
const scale = 1_000_000_000

// FromNano gives v steps of 1e-9.
func FromNano(v int64) Number { return Number{v: v} }

// fromRat gives r, which isn't changed any more.
func fromRat(r *big.Rat) Number {
	d := r.Denom()
	if d.IsInt64() && r.Num().IsInt64() {
		n, m := r.Num().Int64(), d.Int64()
		if scale%m == 0 {
			if f := int64(scale / m); n <= math.MaxInt64/f && n >= -math.MaxInt64/f {
				return Number{v: n * f}
			}
		}
	}
	return Number{r: r}
}

// fromFloat gives f, in whole steps where it is so close to them that no more can be said.
func fromFloat(f float64) Number { return Number{f: f, near: true} }

// Float gives the nearest float64.
func (n Number) Float() float64 {
	switch {
	case n.near:
		return n.f
	case n.r != nil:
		return float(n.r)
	}
	return float64(n.v) / scale
}

// Rat gives n as a fraction of the caller's own.
func (n Number) Rat() *big.Rat {
	switch {
	case n.near:
		return new(big.Rat).SetFloat64(n.f)
	case n.r != nil:
		return new(big.Rat).Set(n.r)
	}
	return big.NewRat(n.v, scale)
}

// Nano gives n in steps of 1e-9, rounded half away from 0; ok is false where it is too
// large.
func (n Number) Nano() (v int64, ok bool) {
	switch {
	case n.near:
		f := math.Round(n.f * scale)
		return int64(f), math.Abs(f) < 1<<62
	case n.r != nil:
		i := round(new(big.Rat).Mul(n.r, big.NewRat(scale, 1)))
		return i.Int64(), i.IsInt64()
	}
	return n.v, true
}

// sign gives -1, 0 or +1.
func (n Number) sign() int {
	switch {
	case n.near:
		return compare(n.f, 0)
	case n.r != nil:
		return n.r.Sign()
	}
	return compare(n.v, 0)
}

func compare[T int64 | float64](a, b T) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

// cmp gives -1, 0 or +1 as n is less than, equal to or greater than m.
func (n Number) cmp(m Number) int {
	switch {
	case n.near || m.near:
		return compare(n.Float(), m.Float())
	case n.r == nil && m.r == nil:
		return compare(n.v, m.v)
	}
	return n.Rat().Cmp(m.Rat())
}

// plus gives n + m.
func (n Number) plus(m Number) Number {
	if n.near || m.near {
		return fromFloat(n.Float() + m.Float())
	}
	if s := n.v + m.v; n.r == nil && m.r == nil && (s > n.v) == (m.v > 0) {
		return Number{v: s}
	}
	return fromRat(n.Rat().Add(n.Rat(), m.Rat()))
}

// minus gives -n.
func (n Number) minus() Number {
	switch {
	case n.near:
		return fromFloat(-n.f)
	case n.r != nil || n.v == math.MinInt64:
		r := n.Rat()
		return fromRat(r.Neg(r))
	}
	return Number{v: -n.v}
}

// times gives n * m.
func (n Number) times(m Number) Number {
	if n.near || m.near {
		return fromFloat(n.Float() * m.Float())
	}
	if n.r == nil && m.r == nil {
		a, b := uint64(max(n.v, -n.v)), uint64(max(m.v, -m.v))
		if hi, lo := bits.Mul64(a, b); hi < scale {
			if q, rest := bits.Div64(hi, lo, scale); rest == 0 && q <= math.MaxInt64 {
				if (n.v < 0) != (m.v < 0) {
					return Number{v: -int64(q)}
				}
				return Number{v: int64(q)}
			}
		}
	}
	return fromRat(n.Rat().Mul(n.Rat(), m.Rat()))
}

// over gives n / m; m isn't 0.
func (n Number) over(m Number) Number {
	if n.near || m.near {
		return fromFloat(n.Float() / m.Float())
	}
	return fromRat(n.Rat().Quo(n.Rat(), m.Rat()))
}
