package fit

import (
	"fmt"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
)

// PlugMeasures is a turned or routed plug for a blank with a bore: a stud on a
// shoulder, on which the blank sits. All lengths are in the unit that it was asked for in.
type PlugMeasures struct {
	Play Play // bore and stud
	// Height is the stud's length over the shoulder: it ends below the blank's
	// top, so that a cut over the bore can't meet it.
	Height decimal.Decimal
	// Lead is the 45 degree chamfer at the stud's top that leads the bore on.
	Lead decimal.Decimal
	// Relief is the least width and depth of the groove where stud and shoulder
	// meet, or of the chamfer at the bore's edge: with it the blank sits on the
	// shoulder and not on a fillet, a burr or a chip.
	Relief decimal.Decimal
	// Shoulder is the least diameter of the shoulder.
	Shoulder decimal.Decimal
}

// ForBore proposes a plug for a bore of the given nominal diameter in a blank of
// thickness t, of which a cut over the bore takes at most over. Fit's shaft
// class gives the stud's size, its hole class the bore's. With f nil the stud is
// given by its own diameter, stud, as it must be in inches. The proportions are
// common practice: a stud of two thirds of what is left of the thickness but no
// longer than the bore is wide, rounded down to 0.5 mm or 1/64 in; a lead of a
// fifth of that; a relief of 0.5 mm or 1/64 in; a shoulder half as wide again as
// the bore.
func ForBore(bore, t, over decimal.Decimal, f *Fit, stud decimal.Decimal, u transform.Unit) (PlugMeasures, error) {
	left := t.Sub(over)
	if !bore.IsPositive() || !t.IsPositive() || over.IsNegative() || !left.IsPositive() {
		return PlugMeasures{}, &Error{
			Found:    fmt.Sprintf("a bore of %s, thickness %s, cut over the bore %s", bore, t, over),
			Expected: "a bore and a thickness over 0 and a cut less deep than the blank is thick",
		}
	}
	var m PlugMeasures
	if f != nil {
		p, err := f.At(bore, u)
		if err != nil {
			return PlugMeasures{}, err
		}
		m.Play = p
	} else {
		if !stud.IsPositive() || stud.GreaterThan(bore) {
			return PlugMeasures{}, &Error{
				Found:    fmt.Sprintf("a plug of %s %s for a bore of %s %s", stud, u, bore, u),
				Expected: "a plug over 0 and not larger than its bore",
			}
		}
		m.Play = between(Limits{bore, bore}, Limits{stud, stud})
	}
	grain := decimal.New(5, -1)
	if u == transform.Inch {
		grain = sixtyFourths(1)
	}
	h := decimal.Min(left.Mul(decimal.NewFromInt(2)).DivRound(decimal.NewFromInt(3), 6), bore)
	m.Height = floorTo(h, grain)
	if m.Height.IsZero() {
		return PlugMeasures{}, &Error{
			Found:    fmt.Sprintf("only %s %s of the blank left at the bore", left, u),
			Expected: fmt.Sprintf("at least %s %s, for a plug to stand in", grain.Mul(decimal.New(15, -1)), u),
			Hint:     "register by dowels or by fence and stop",
		}
	}
	m.Lead = m.Height.DivRound(decimal.NewFromInt(5), 4)
	m.Relief = grain
	m.Shoulder = bore.Mul(decimal.New(15, -1))
	return m, nil
}

// floorTo rounds a positive v down to a multiple of grain.
func floorTo(v, grain decimal.Decimal) decimal.Decimal {
	n := v.DivRound(grain, 12).Floor()
	if n.Mul(grain).GreaterThan(v) {
		n = n.Sub(decimal.NewFromInt(1))
	}
	return n.Mul(grain)
}
