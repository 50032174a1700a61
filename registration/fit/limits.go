// Package fit gives limits and fits of ISO 286 for holes and shafts to 120 mm,
// the diameters and lengths of standard dowel pins, and the measures of a plug
// for a bore.
//
// Sizes, deviations and clearances are exact decimals: millimetres for
// everything that ISO 286 and the metric pin standards name, inches for the inch
// pin standard. A clearance is diametral, hole minus pin; a negative one is an
// interference and stays negative.
package fit

import (
	"fmt"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/fault"
)

// Error says that a fit, class, size or pin has no answer here; its user names the flag.
type Error = fault.Error

// Limits are the lower and the upper deviation from the nominal size, or the
// least and the greatest size; its user says which.
type Limits struct {
	Lower decimal.Decimal `json:"least"`
	Upper decimal.Decimal `json:"greatest"`
}

// step is one row of the tables: nominal sizes over the row before and up to and
// including upTo mm, in micrometres.
type step struct {
	upTo          int64
	it            [7]int64 // IT5 ... IT11
	f, g, k, m    int64    // f and g: upper deviation es; k and m: lower deviation ei
	deviationsMem bool     // f, g, k and m of this row are values from memory
}

// The tolerance grades are those of ISO 286-1 as two copies of it agree; the
// deviations to 80 mm those of JIS B 0401:1999, which gives the ISO values. The
// row to 120 mm of f, g, k and m is from memory and says so.
var steps = []step{
	{3, [7]int64{4, 6, 10, 14, 25, 40, 60}, -6, -2, 0, 2, false},
	{6, [7]int64{5, 8, 12, 18, 30, 48, 75}, -10, -4, 1, 4, false},
	{10, [7]int64{6, 9, 15, 22, 36, 58, 90}, -13, -5, 1, 6, false},
	{18, [7]int64{8, 11, 18, 27, 43, 70, 110}, -16, -6, 1, 7, false},
	{30, [7]int64{9, 13, 21, 33, 52, 84, 130}, -20, -7, 2, 8, false},
	{50, [7]int64{11, 16, 25, 39, 62, 100, 160}, -25, -9, 2, 9, false},
	{80, [7]int64{13, 19, 30, 46, 74, 120, 190}, -30, -10, 2, 11, false},
	{120, [7]int64{15, 22, 35, 54, 87, 140, 220}, -36, -12, 3, 13, true},
}

// least and greatest grade of the table.
const (
	leastGrade    = 5
	greatestGrade = 11
)

// GreatestSize is the largest nominal size of the tables, in mm.
const GreatestSize = 120

// Class is one tolerance class such as H7 or m6.
type Class struct {
	Letter byte // H for a hole; f, g, h, k or m for a shaft
	Grade  int  // 5 ... 11
}

// String writes the class as in a drawing, for example "H7".
func (c Class) String() string { return fmt.Sprintf("%c%d", c.Letter, c.Grade) }

// Hole reports whether the class is one of a hole.
func (c Class) Hole() bool { return c.Letter >= 'A' && c.Letter <= 'Z' }

// ParseClass reads a class such as "H7" or "m6". Capitals name holes and small
// letters shafts, as in ISO 286.
func ParseClass(s string) (Class, error) {
	bad := &Error{
		Found:    fmt.Sprintf("tolerance class %q", s),
		Expected: "H5 to H11 for a hole, or f, g, h, k or m with a grade from 5 to 11 for a shaft",
	}
	if len(s) < 2 || len(s) > 3 {
		return Class{}, bad
	}
	c := Class{Letter: s[0]}
	for _, d := range []byte(s[1:]) {
		if d < '0' || d > '9' {
			return Class{}, bad
		}
		c.Grade = c.Grade*10 + int(d-'0')
	}
	if s[1] == '0' || !strings.ContainsRune("Hfghkm", rune(c.Letter)) ||
		c.Grade < leastGrade || c.Grade > greatestGrade {
		return Class{}, bad
	}
	if c.Letter == 'k' && c.Grade > 7 {
		// The lower deviation of k in the table holds for grades 4 to 7 only.
		bad.Expected = "k5, k6 or k7"
		return Class{}, bad
	}
	return c, nil
}

// Deviations gives the class's deviations at a nominal size, both in mm.
// fromMemory says that a value of this row couldn't be checked against a copy of
// the standard. Source: ISO 286.
func (c Class) Deviations(size decimal.Decimal) (d Limits, fromMemory bool, err error) {
	if _, err := ParseClass(c.String()); err != nil {
		return Limits{}, false, err
	}
	row, err := rowOf(size)
	if err != nil {
		return Limits{}, false, err
	}
	it := row.it[c.Grade-leastGrade]
	var lower, upper int64
	switch c.Letter {
	case 'H':
		upper = it
	case 'h':
		lower = -it
	case 'f':
		lower, upper = row.f-it, row.f
	case 'g':
		lower, upper = row.g-it, row.g
	case 'k':
		lower, upper = row.k, row.k+it
	case 'm':
		lower, upper = row.m, row.m+it
	}
	mem := row.deviationsMem && c.Letter != 'H' && c.Letter != 'h'
	return Limits{micrometres(lower), micrometres(upper)}, mem, nil
}

func rowOf(size decimal.Decimal) (step, error) {
	if size.IsPositive() {
		for _, s := range steps {
			if size.LessThanOrEqual(decimal.NewFromInt(s.upTo)) {
				return s, nil
			}
		}
	}
	return step{}, &Error{
		Found:    fmt.Sprintf("nominal size %s mm", size),
		Expected: fmt.Sprintf("more than 0 and at most %d mm for an ISO 286 fit", GreatestSize),
		Hint:     "give the hole's own diameter with ‹hole›",
	}
}

func micrometres(n int64) decimal.Decimal { return decimal.New(n, -3) }
