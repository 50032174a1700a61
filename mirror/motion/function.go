package motion

import (
	"math"
	"math/big"
)

// float gives the nearest float64.
func float(r *big.Rat) float64 {
	f, _ := r.Float64()
	return f
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

// root gives the square root of a number that isn't negative, exactly where it is a fraction.
func root(r *big.Rat) amount {
	s := new(big.Rat).SetFrac(new(big.Int).Sqrt(r.Num()), new(big.Int).Sqrt(r.Denom()))
	if new(big.Rat).Mul(s, s).Cmp(r) == 0 {
		return exactly(FromRat(s))
	}
	return nearly(math.Sqrt(float(r)))
}

// power gives a**b, exactly where b is a whole number and the result isn't huge; what says
// why it can't.
func power(a, b *big.Rat) (v amount, what string) {
	if a.Sign() == 0 && b.Sign() < 0 {
		return v, "0 to a negative power"
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
			return exactly(FromRat(p)), ""
		}
	}
	if a.Sign() < 0 && !b.IsInt() {
		return v, "a negative number to a power that isn't whole"
	}
	p := math.Pow(float(a), float(b))
	if math.IsInf(p, 0) {
		return v, "a power that is too large"
	}
	return nearly(p), ""
}

// modulo gives a MOD b, which lies between 0 and |b| (NISTIR 6556 gives only
// 15 MOD 4.0 = 3; the sign of a negative a's remainder is value from memory).
func modulo(a, b *big.Rat) amount {
	m := new(big.Rat).Abs(b)
	q := floor(new(big.Rat).Quo(a, m))
	return exactly(FromRat(new(big.Rat).Sub(a, m.Mul(m, new(big.Rat).SetInt(q)))))
}

const degree = math.Pi / 180

// function applies a function of one argument; what says why it can't.
func function(name string, a amount) (v amount, what string) {
	whole := func(n *big.Int) (amount, string) { return exactly(FromRat(new(big.Rat).SetInt(n))), "" }
	f := a.Float()
	switch name {
	case "ABS":
		if a.sign() < 0 {
			a = a.minus()
		}
		return a, ""
	case "FIX":
		return whole(floor(a.Rat()))
	case "FUP":
		n := floor(a.minus().Rat())
		return whole(n.Neg(n))
	case "ROUND":
		return whole(round(a.Rat()))
	case "SQRT":
		if a.sign() < 0 {
			return v, "the square root of a negative number"
		}
		return root(a.Rat()), ""
	case "SIN":
		f = math.Sin(f * degree)
	case "COS":
		f = math.Cos(f * degree)
	case "TAN":
		f = math.Tan(f * degree)
	case "ASIN", "ACOS":
		if a.cmp(exactly(one)) > 0 || a.minus().cmp(exactly(one)) > 0 {
			return v, name + " of a number beyond 1"
		}
		if f = math.Asin(f); name == "ACOS" {
			f = math.Acos(a.Float())
		}
		f /= degree
	case "EXP":
		f = math.Exp(f)
	case "LN":
		if a.sign() <= 0 {
			return v, "the logarithm of 0 or less"
		}
		f = math.Log(f)
	}
	if math.IsInf(f, 0) {
		return v, name + " of a number that is too large"
	}
	return nearly(f), ""
}
