// Package expression evaluates what may stand for a number in a block: numbers,
// parameters, expressions in brackets and functions (NISTIR 6556, 3.3.2). Sums,
// differences, products and quotients are exact fractions; a function whose value
// is no fraction gives the nearest float64, and so does what is made of it.
package expression

import (
	"fmt"
	"math"
	"math/big"

	"flipcalc/mirror/fault"
)

// refusal says what is wrong with an expression; at is a byte of the text. Whoever
// reads the file puts in its place.
func refusal(at int, found, expected string) error {
	return &fault.Error{Col: at + 1, Found: found, Expected: expected}
}

// maxBits bounds the size of a number, so that no expression costs more than a few
// microseconds an operator. A float64 as a fraction needs at most 1127.
const maxBits = 1 << 12

// fits reports whether r isn't too large to go on with.
func fits(r *big.Rat) bool { return r.Num().BitLen() <= maxBits && r.Denom().BitLen() <= maxBits }

// float gives the nearest float64.
func float(r *big.Rat) float64 {
	f, _ := r.Float64()
	return f
}

// nearest gives f as a fraction; ok is false where f is no number.
func nearest(f float64) (r *big.Rat, ok bool) {
	if math.IsNaN(f) || math.IsInf(f, 0) {
		return nil, false
	}
	return new(big.Rat).SetFloat64(f), true
}

// floor gives the largest whole number not above r.
func floor(r *big.Rat) *big.Int {
	return new(big.Int).Div(r.Num(), r.Denom()) // Euclidean, the denominator is positive
}

// round gives the nearest whole number, halves away from 0.
func round(r *big.Rat) *big.Int {
	half := big.NewRat(1, 2)
	if r.Sign() < 0 {
		n := floor(half.Sub(half, r))
		return n.Neg(n)
	}
	return floor(half.Add(half, r))
}

// root gives the square root, exactly where it is a fraction.
func root(r *big.Rat) (*big.Rat, bool) {
	if r.Sign() < 0 {
		return nil, false
	}
	n, d := new(big.Int).Sqrt(r.Num()), new(big.Int).Sqrt(r.Denom())
	s := new(big.Rat).SetFrac(n, d)
	if new(big.Rat).Mul(s, s).Cmp(r) == 0 {
		return s, true
	}
	return nearest(math.Sqrt(float(r)))
}

// power gives a**b, exactly where b is a whole number and the result isn't huge.
func power(a, b *big.Rat) (*big.Rat, string) {
	if a.Sign() == 0 && b.Sign() < 0 {
		return nil, "0 to a negative power"
	}
	if b.IsInt() && b.Num().IsInt64() {
		n := b.Num().Int64()
		size := int64(max(a.Num().BitLen(), a.Denom().BitLen()))
		if k := max(n, -n); k >= 0 && k <= maxBits && size*k <= maxBits {
			e := big.NewInt(k)
			p := new(big.Rat).SetFrac(new(big.Int).Exp(a.Num(), e, nil), new(big.Int).Exp(a.Denom(), e, nil))
			if n < 0 {
				p.Inv(p)
			}
			return p, ""
		}
	}
	if a.Sign() < 0 && !b.IsInt() {
		return nil, "a negative number to a broken power"
	}
	p, ok := nearest(math.Pow(float(a), float(b)))
	if !ok {
		return nil, "a power that is too large"
	}
	return p, ""
}

// modulo gives a MOD b, which lies between 0 and |b| (NISTIR 6556 gives only
// 15 MOD 4.0 = 3; the sign of a negative a's remainder is value from memory).
func modulo(a, b *big.Rat) *big.Rat {
	m := new(big.Rat).Abs(b)
	q := floor(new(big.Rat).Quo(a, m))
	return new(big.Rat).Sub(a, m.Mul(m, new(big.Rat).SetInt(q)))
}

const degree = math.Pi / 180

// function applies a function of one argument; what says why it can't.
func function(name string, x *big.Rat) (v *big.Rat, what string) {
	var f float64
	switch name {
	case "ABS":
		return new(big.Rat).Abs(x), ""
	case "FIX":
		return new(big.Rat).SetInt(floor(x)), ""
	case "FUP":
		n := floor(new(big.Rat).Neg(x))
		return new(big.Rat).SetInt(n.Neg(n)), ""
	case "ROUND":
		return new(big.Rat).SetInt(round(x)), ""
	case "SQRT":
		v, ok := root(x)
		if !ok {
			return nil, "the square root of a negative number"
		}
		return v, ""
	case "SIN":
		f = math.Sin(float(x) * degree)
	case "COS":
		f = math.Cos(float(x) * degree)
	case "TAN":
		f = math.Tan(float(x) * degree)
	case "ASIN", "ACOS":
		if one := big.NewRat(1, 1); new(big.Rat).Abs(x).Cmp(one) > 0 {
			return nil, name + " of a number beyond 1"
		}
		if f = math.Asin(float(x)); name == "ACOS" {
			f = math.Acos(float(x))
		}
		f /= degree
	case "EXP":
		f = math.Exp(float(x))
	case "LN":
		if x.Sign() <= 0 {
			return nil, "the logarithm of 0 or less"
		}
		f = math.Log(float(x))
	}
	v, ok := nearest(f)
	if !ok {
		return nil, fmt.Sprintf("%s of a number that is too large", name)
	}
	return v, ""
}

// arctangent gives ATAN[y]/[x] in degrees.
func arctangent(y, x *big.Rat) (*big.Rat, bool) {
	if y.Sign() == 0 && x.Sign() == 0 {
		return nil, false
	}
	return nearest(math.Atan2(float(y), float(x)) / degree)
}

// plainFunction gives what function would give as a fraction, in floating point alone; ok
// is false where it has to be exact or can't be given.
func plainFunction(name string, x float64) (f float64, ok bool) {
	switch name {
	case "SIN":
		f = math.Sin(x * degree)
	case "COS":
		f = math.Cos(x * degree)
	case "TAN":
		f = math.Tan(x * degree)
	default:
		return 0, false
	}
	return f, !math.IsNaN(f) && !math.IsInf(f, 0)
}
