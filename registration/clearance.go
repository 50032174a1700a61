package registration

import (
	"errors"
	"fmt"
	"slices"

	"github.com/shopspring/decimal"

	"flipcalc/registration/fit"
)

// limits gives what the fit says of a diameter. instead names the key that gives the size
// itself, for lengths that the fit can't name.
func (q *Question) limits(dia decimal.Decimal, instead string) (fit.Play, error) {
	f, err := fit.Parse(q.Fit)
	if err != nil {
		return fit.Play{}, fitError(err, instead)
	}
	p, err := f.At(dia, q.Unit)
	if err != nil {
		return p, fitError(err, instead)
	}
	return p, nil
}

// clearance gives the greatest diametral clearance that the fit allows at a nominal
// diameter, or nil without a fit or a diameter.
func (q *Question) clearance(dia decimal.Decimal, instead string) (*decimal.Decimal, error) {
	if q.Fit == "" || !dia.IsPositive() {
		return nil, nil
	}
	p, err := q.limits(dia, instead)
	if err != nil {
		return nil, err
	}
	c := decimal.Max(p.Max, decimal.Zero)
	return &c, nil
}

// fitError puts the key into an error of a fit, and the hint that suits what it is for.
func fitError(err error, instead string) error {
	var f *Error
	if !errors.As(err, &f) {
		return err
	}
	e := &Error{About: "fit", Found: f.Found, Expected: f.Expected, Hint: f.Hint}
	if instead != "hole" && e.Hint != "" {
		e.Hint = fmt.Sprintf("give ‹%s›", instead)
	}
	return e
}

// pressed warns of a fit that can be an interference at the nominal diameter of a pin
// or a plug: what is pressed on doesn't come off by hand.
func (q *Question) pressed(a *Answer, round ...Pin) error {
	if q.Fit == "" {
		return nil
	}
	var pressed []Interference
	for i, pin := range round {
		if !pin.Dia.IsPositive() || slices.ContainsFunc(round[:i], func(o Pin) bool { return o.Dia.Equal(pin.Dia) }) {
			continue
		}
		p, err := q.limits(pin.Dia, "hole")
		if err != nil {
			return err
		}
		if p.Min.IsNegative() {
			pressed = append(pressed, Interference{pin.Dia, p.Min, p.Max})
		}
	}
	if len(pressed) > 0 {
		a.add(LevelWarning, FitPressed{q.Fit, pressed})
	}
	return nil
}

// pinClearance gives the greatest radial clearance of the holes over their pins, as
// it is stated, or from --hole or else from --fit; zero where none is given.
func (q *Question) pinClearance() (decimal.Decimal, error) {
	most := decimal.Zero
	if q.Clearance != nil {
		return q.Clearance.Mul(half), nil
	}
	for i, p := range q.Pins {
		if p.Dia.IsZero() {
			continue
		}
		c, err := q.clearance(p.Dia, "hole")
		switch hole := q.HoleOf(i); {
		case hole != nil:
			h := hole.Sub(p.Dia)
			c = &h
		case err != nil:
			return most, err
		}
		if c != nil {
			most = decimal.Max(most, c.Mul(half))
		}
	}
	return most, nil
}
