package motion

import (
	"math"

	"flipcalc/mirror/transform"
)

// Inch is an inch in mm.
var Inch = Num{v: transform.MMPerInch * scale}

// In gives a length of one unit in another, exactly: a fraction where an inch has no finite
// number for it.
func (n Num) In(from, to transform.Unit) Num {
	const most = math.MaxInt64 / 127
	switch {
	case from == to:
		return n
	case to == transform.Inch:
		return n.Quo(Inch)
	case n.r == nil && n.v%5 == 0 && n.v < most && n.v > -most:
		return Num{v: n.v / 5 * 127} // 25.4 is 127/5, and n has at most eight decimals
	}
	return n.Mul(Inch)
}

// mm gives a length in millimetres.
func (n Num) mm(from transform.Unit) Num { return n.In(from, transform.MM) }
