package motion

import (
	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
)

// Box gives the reach of all known moves in unit u. What isn't exact (the widest
// point of an arc given by R, a millimetre value in inches) is rounded outward to
// 1e-6, so that the box always holds the moves. It is empty where an axis has no
// known move.
func (e Extents) Box(u transform.Unit) transform.Box {
	b := transform.Box{Any: true}
	for i, x := range e {
		if !x.Any {
			return transform.Box{}
		}
		b.Least[i] = outward(x.Min, u, -1)
		b.Greatest[i] = outward(x.Max, u, 1)
	}
	return b
}

// outward gives a length in mm as a decimal in u, rounded to 6 decimals toward
// the sign. Binary floating point writes a decimal of up to 9 places with an error
// below 1e-9 for lengths under a kilometre, so values are first rounded there:
// an exact 12.5 stays 12.5.
func outward(mm float64, u transform.Unit, sign int) decimal.Decimal {
	d := decimal.NewFromFloat(mm).Round(9)
	d, _ = transform.Convert(d, transform.MM, u, 12)
	if sign < 0 {
		return d.RoundFloor(6)
	}
	return d.RoundCeil(6)
}
