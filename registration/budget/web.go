package budget

import (
	"github.com/shopspring/decimal"

	"flipcalc/registration"
)

// Web says what an error of the thickness does to the depths of the two sides and to what
// is left between them.
type Web struct {
	Error Value // thickness error t, to both sides, in the question's unit
	From  From
	// A blank thicker by t has a web thicker by WebFactor t, and cuts deeper by
	// FaceFactor t and BackFactor t, measured each from its own surface.
	WebFactor, FaceFactor, BackFactor int
	// Off is how much thinner or thicker the web can be: by the error, where it takes it,
	// and by that of one Z zero against its surface on each side. In the question's unit.
	Off decimal.Decimal
}

// factors gives what a blank thicker by t does: how many t the web, the face's
// depth and the back's depth take. A zero touched off on each blank's top keeps
// its depth; a zero at the bed, or a top set once for the run, lets t into it.
func factors(face, back registration.ZZero, touch registration.TouchOff) (web, faceDepth, backDepth int) {
	in := func(z registration.ZZero) int {
		if z == registration.Bed || touch == registration.TouchOffOnce {
			return 1
		}
		return 0
	}
	faceDepth, backDepth = in(face), in(back)
	return 1 - faceDepth - backDepth, faceDepth, backDepth
}

func webOf(q registration.Question, o Options) (w Web) {
	w.Error, w.From = o.Tolerances.of(Thickness, q)
	w.WebFactor, w.FaceFactor, w.BackFactor = factors(q.ZZero, q.BackZZero, q.TouchOff)
	touchOff, _ := o.Tolerances.of(TouchOff, q)
	w.Off = touchOff.Amount.Mul(decimal.NewFromInt(2))
	if w.WebFactor != 0 {
		w.Off = w.Off.Add(w.Error.Amount)
	}
	return w
}
