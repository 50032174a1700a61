package motion

import (
	"cmp"
	"math"
	"math/big"
)

// amount is the value of an expression: n, exactly, or where near the closest
// floating-point number f, which functions and fractions that grow too fine come to.
type amount struct {
	n    Num
	f    float64
	near bool
}

// exactly gives n.
func exactly(n Num) amount { return amount{n: n} }

// nearly gives f.
func nearly(f float64) amount { return amount{f: f, near: true} }

// Float gives the nearest float64.
func (a amount) Float() float64 {
	if a.near {
		return a.f
	}
	return a.n.Float()
}

// Rat gives a as a fraction of the caller's own.
func (a amount) Rat() *big.Rat {
	if a.near {
		return new(big.Rat).SetFloat64(a.f)
	}
	return a.n.Rat()
}

// Nano gives a in steps of 1e-9, rounded half away from 0; ok is false where it is too
// large.
func (a amount) Nano() (v int64, ok bool) {
	if a.near {
		f := math.Round(a.f * scale)
		return int64(f), math.Abs(f) < 1<<62
	}
	if v, ok = a.n.Nano(); ok {
		return v, true
	}
	i := round(new(big.Rat).Mul(a.n.rat(), ratScale))
	return i.Int64(), i.IsInt64()
}

// sign gives -1, 0 or +1.
func (a amount) sign() int {
	if a.near {
		return cmp.Compare(a.f, 0)
	}
	return a.n.Sign()
}

// cmp gives -1, 0 or +1 as a is less than, equal to or greater than b.
func (a amount) cmp(b amount) int {
	if a.near || b.near {
		return cmp.Compare(a.Float(), b.Float())
	}
	return a.n.Cmp(b.n)
}

// plus gives a + b.
func (a amount) plus(b amount) amount {
	if a.near || b.near {
		return nearly(a.Float() + b.Float())
	}
	return exactly(a.n.Add(b.n))
}

// minus gives -a.
func (a amount) minus() amount {
	if a.near {
		return nearly(-a.f)
	}
	return exactly(a.n.Neg())
}

// times gives a * b.
func (a amount) times(b amount) amount {
	if a.near || b.near {
		return nearly(a.Float() * b.Float())
	}
	return exactly(a.n.Mul(b.n))
}

// over gives a / b; b isn't 0.
func (a amount) over(b amount) amount {
	if a.near || b.near {
		return nearly(a.Float() / b.Float())
	}
	return exactly(a.n.Quo(b.n))
}

// maxBits bounds the size of a fraction, so that no expression costs more than a few
// microseconds an operator. A float64 as a fraction needs at most 1127.
const maxBits = 1 << 12

// unwieldy reports a number that is too large to go on with. A fraction that grew too fine
// becomes its nearest floating-point number.
func (a *amount) unwieldy() bool {
	if r := a.n.r; r != nil && (r.Num().BitLen() > maxBits || r.Denom().BitLen() > maxBits) {
		*a = nearly(a.Float())
	}
	return a.near && !(a.f < 1e300 && a.f > -1e300)
}
