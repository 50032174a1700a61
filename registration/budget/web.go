package budget

import (
	"github.com/shopspring/decimal"

	"flipcalc/registration"
)

// Web says what the thickness and its error do to the depths of the two sides
// and to what is left between them, in the question's unit. All exact.
type Web struct {
	Thickness decimal.Decimal // of the untouched blank
	Error     Value           // thickness error t, to both sides
	From      From
	// A blank thicker by t has a web thicker by WebFactor t, and cuts deeper by
	// FaceFactor t and BackFactor t, measured each from its own surface.
	WebFactor, FaceFactor, BackFactor int
	// TouchOff is the error of one Z zero against its surface, once per side.
	TouchOff     Value
	TouchOffFrom From
	// The rest is there if both depths were given.
	FaceDepth, BackDepth *decimal.Decimal
	// Nominal is thickness less both depths; Least and Greatest its limits. A
	// negative web is an overlap: the two cuts meet.
	Nominal, Least, Greatest decimal.Decimal
	// Through says that the cuts meet nominally. Asked is the overlap asked of
	// them, and Enough whether the least overlap still gives it.
	Through bool
	Asked   decimal.Decimal
	Enough  bool
}

// Factors gives what a blank thicker by t does: how many t the web, the face's
// depth and the back's depth take. A zero touched off on each blank's top keeps
// its depth; a zero at the bed, or a top set once for the run, lets t into it.
func Factors(face, back registration.ZZero, touch registration.TouchOff) (web, faceDepth, backDepth int) {
	in := func(z registration.ZZero) int {
		if z == registration.Bed || touch == registration.TouchOffOnce {
			return 1
		}
		return 0
	}
	faceDepth, backDepth = in(face), in(back)
	return 1 - faceDepth - backDepth, faceDepth, backDepth
}

func webOf(q registration.Question, o Options, size registration.Blank) (*Web, error) {
	w := &Web{Thickness: size.T}
	w.Error, w.From = o.Tolerances.of(Thickness, q)
	w.TouchOff, w.TouchOffFrom = o.Tolerances.of(TouchOff, q)
	w.WebFactor, w.FaceFactor, w.BackFactor = Factors(q.ZZero, q.BackZZero, q.TouchOff)
	if o.FaceDepth == nil || o.BackDepth == nil {
		return w, nil
	}
	for _, d := range []*decimal.Decimal{o.FaceDepth, o.BackDepth} {
		if d.IsNegative() {
			return nil, &registration.Error{About: "web", Found: "depth " + d.String(),
				Expected: "a depth of 0 or more, measured downwards"}
		}
	}
	w.FaceDepth, w.BackDepth = o.FaceDepth, o.BackDepth
	w.Nominal = w.Thickness.Sub(*o.FaceDepth).Sub(*o.BackDepth)
	off := w.TouchOff.Amount.Mul(decimal.NewFromInt(2))
	if w.WebFactor != 0 {
		off = off.Add(w.Error.Amount)
	}
	w.Least, w.Greatest = w.Nominal.Sub(off), w.Nominal.Add(off)
	w.Through = w.Nominal.IsNegative()
	if o.Overlap != nil {
		w.Asked = *o.Overlap
		w.Enough = w.Greatest.Neg().GreaterThanOrEqual(w.Asked)
	} else {
		w.Enough = !w.Through || w.Greatest.IsNegative()
	}
	return w, nil
}
