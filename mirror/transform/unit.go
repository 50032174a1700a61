package transform

import "github.com/shopspring/decimal"

// Unit is the unit of a length.
type Unit uint8

// The two units of length that G20 and G21 name.
const (
	MM Unit = iota
	Inch
)

// MMPerInch is exact by definition (international inch, 1959).
const MMPerInch = 25.4

var mmPerInch = decimal.New(MMPerInch*10, -1)

// String gives the unit's usual abbreviation.
func (u Unit) String() string {
	if u == Inch {
		return "in"
	}
	return "mm"
}

// Code gives the word that selects the unit.
func (u Unit) Code() string {
	if u == Inch {
		return "G20"
	}
	return "G21"
}

// MM gives how many millimetres the unit has.
func (u Unit) MM() float64 {
	if u == Inch {
		return MMPerInch
	}
	return 1
}

// InMM gives a length in millimetres, exactly.
func InMM(v decimal.Decimal, from Unit) decimal.Decimal {
	mm, _ := Convert(v, from, MM, 0)
	return mm
}

// Convert gives length v in unit to. exact is false where the value is no
// finite decimal; it is then rounded to places decimals, half away from zero.
func Convert(v decimal.Decimal, from, to Unit, places int32) (w decimal.Decimal, exact bool) {
	switch {
	case from == to:
		return v, true
	case from == Inch:
		return v.Mul(mmPerInch), true
	}
	// v/25.4 = 5v/127 is finite exactly if 127 divides the numerator.
	q := v.Mul(decimal.New(5, 0)).DivRound(decimal.New(127, 0), -min(v.Exponent(), 0)+1)
	if q.Mul(mmPerInch).Equal(v) {
		return q, true
	}
	return v.DivRound(mmPerInch, places), false
}
