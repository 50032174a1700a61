package fault

import (
	"math"
	"strconv"
)

// Number writes a number as people do, with no exponent: rounded to the sixth decimal,
// or to three digits where that leaves nothing.
func Number(v float64) string {
	r := math.Round(v*1e6) / 1e6
	switch {
	case math.IsInf(r, 0): // beyond what the rounding can hold
		r = v
	case r == 0 && v != 0:
		s := strconv.FormatFloat(v, 'g', 3, 64)
		r, _ = strconv.ParseFloat(s, 64) // its own words
	}
	return strconv.FormatFloat(r, 'f', -1, 64)
}
