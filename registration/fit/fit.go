package fit

import (
	"fmt"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
)

// Fit is a pair of a hole and a shaft class, such as H7/m6.
type Fit struct{ Hole, Shaft Class }

// Parse reads a fit such as "H7/m6": the hole's class, a slash, the pin's class.
func Parse(s string) (Fit, error) {
	h, p, ok := strings.Cut(strings.TrimSpace(s), "/")
	if !ok {
		return Fit{}, &Error{
			Found:    fmt.Sprintf("fit %q", s),
			Expected: "a hole class, a slash and a shaft class, such as H7/g6",
		}
	}
	hole, err := ParseClass(strings.TrimSpace(h))
	if err != nil {
		return Fit{}, err
	}
	shaft, err := ParseClass(strings.TrimSpace(p))
	if err != nil {
		return Fit{}, err
	}
	switch {
	case !hole.Hole() && shaft.Hole():
		return Fit{}, &Error{
			Found:    fmt.Sprintf("fit %q", s),
			Expected: "the hole's class first",
			Hint:     fmt.Sprintf("write %s/%s", shaft, hole),
		}
	case !hole.Hole():
		return Fit{}, &Error{Found: fmt.Sprintf("%s before the slash in fit %q", hole, s),
			Expected: "a hole class there (H5 to H11)"}
	case shaft.Hole():
		return Fit{}, &Error{Found: fmt.Sprintf("%s behind the slash in fit %q", shaft, s),
			Expected: "a shaft class there (f, g, h, k or m with a grade)"}
	}
	return Fit{Hole: hole, Shaft: shaft}, nil
}

// String writes the fit as it is read, for example "H7/m6".
func (f Fit) String() string { return f.Hole.String() + "/" + f.Shaft.String() }

// Play is a hole and a pin in it: their sizes and the diametral clearance
// between them, in the unit of the sizes that it was asked for.
type Play struct {
	Hole, Pin  Limits          // least and greatest diameter
	Min, Max   decimal.Decimal // clearance; negative is interference
	FromMemory bool            // a limit couldn't be checked against the standard
}

// At gives the fit's sizes and clearance at a nominal size in unit u. ISO 286
// doesn't name inch holes: in inches the answer is an error that asks for --hole
// and says which suits where the size is one of the pin standard's.
func (f Fit) At(size decimal.Decimal, u transform.Unit) (Play, error) {
	if u == transform.Inch {
		e := &Error{
			Found:    fmt.Sprintf("fit %s with lengths in inches", f),
			Expected: "a hole diameter in inches, since ISO 286 fits don't name inch holes",
			Hint:     "give ‹hole›",
		}
		if p, err := Lookup(B18_8_2, size); err == nil {
			e.Hint = "give ‹hole›; " + p.Takes()
		}
		return Play{}, e
	}
	h, memH, err := f.Hole.Deviations(size)
	if err != nil {
		return Play{}, err
	}
	s, memS, err := f.Shaft.Deviations(size)
	if err != nil {
		return Play{}, err
	}
	p := between(Limits{size.Add(h.Lower), size.Add(h.Upper)}, Limits{size.Add(s.Lower), size.Add(s.Upper)})
	p.FromMemory = memH || memS
	return p, nil
}

// With gives the clearance of a standard pin, as its standard makes it, in the
// fit's hole at the pin's nominal size. It differs from At where the pin isn't of the
// fit's shaft class: dowel pins are made m6 or h8, not g6.
func (f Fit) With(p Pin) (Play, error) {
	at, err := f.At(p.Nominal, p.Unit)
	if err != nil {
		return Play{}, err
	}
	play := between(at.Hole, p.Size)
	play.FromMemory = p.FromMemory
	return play, nil
}

// Drilled gives the clearance of a standard pin in a hole of the given diameter,
// in the pin's unit, where the hole may be larger or smaller by up to tolerance.
func Drilled(p Pin, hole, tolerance decimal.Decimal) (Play, error) {
	if !hole.IsPositive() || tolerance.IsNegative() || !hole.GreaterThan(tolerance) {
		return Play{}, &Error{Found: fmt.Sprintf("a hole of %s %s, give or take %s", hole, p.Unit, tolerance),
			Expected: "a hole larger than its tolerance"}
	}
	play := between(Limits{hole.Sub(tolerance), hole.Add(tolerance)}, p.Size)
	play.FromMemory = p.FromMemory
	return play, nil
}

// GreatestPlay is the greatest diametral clearance with which a pin or a plug still
// registers, in unit u: 0.2 mm or 0.008 in. A seat can lie off by half its
// clearance, so the two sides together by all of it, and above this a finger feels
// the step at the joint (common practice). H8/f7, the loosest fit that is advised
// here, stays under it at every size.
func GreatestPlay(u transform.Unit) decimal.Decimal {
	if u == transform.Inch {
		return decimal.New(8, -3)
	}
	return decimal.New(2, -1)
}

// Registers gives the holes in which a standard pin goes on by hand and still
// registers, in the pin's unit: from the thickest pin that the standard lets through to
// GreatestPlay over the thinnest one, or over the nominal diameter if that is less.
func (p Pin) Registers() Limits {
	return Limits{p.Size.Upper, decimal.Min(p.Size.Lower, p.Nominal).Add(GreatestPlay(p.Unit))}
}

// Takes says in which holes the pin registers.
func (p Pin) Takes() string {
	l := p.Registers()
	return fmt.Sprintf("a dowel of %s takes a hole of %s to %s", p.Label, l.Lower, l.Upper)
}

// Holds reports whether a size lies between the two, both included.
func (l Limits) Holds(size decimal.Decimal) bool {
	return !size.LessThan(l.Lower) && !size.GreaterThan(l.Upper)
}

func between(hole, pin Limits) Play {
	return Play{Hole: hole, Pin: pin, Min: hole.Lower.Sub(pin.Upper), Max: hole.Upper.Sub(pin.Lower)}
}
