package bed

import (
	"github.com/shopspring/decimal"

	"flipcalc/registration"
)

// LowClamp is a clamp that lies over a blank and ends at its top or lower.
type LowClamp struct {
	Area
	Top decimal.Decimal // of the blank, over the bed
}

// LowClamps finds those over the blank of an answer, at the face and then at the back; all is
// in the question's unit. A blank that was touched as it lies turned covers no rectangle of the
// bed: there it isn't asked. A jaw that was set against the nominal edge goes aside with the edge
// of a blank measured larger: as far as that is larger, a clamp over its rim isn't one on top of it.
func LowClamps(a *registration.Answer, clamps []Area) (low []LowClamp) {
	q := a.Question
	w, h := a.LyingSize()
	nominal := a.FaceTurn.Blank(*q.Stock)
	inner := Rect{X: decimal.Max(w.Sub(nominal.W), decimal.Zero), Y: decimal.Max(h.Sub(nominal.H), decimal.Zero)}
	inner.W, inner.H = w.Sub(inner.X).Sub(inner.X), h.Sub(inner.Y).Sub(inner.Y)
	over := func(corner registration.Point, top decimal.Decimal) {
		on := inner
		on.X, on.Y = corner.X.Add(inner.X), corner.Y.Add(inner.Y)
		for _, c := range clamps {
			if c.Height != nil && !c.Height.GreaterThan(top) && c.Overlaps(on) {
				low = append(low, LowClamp{c, top})
			}
		}
	}
	over(a.FaceCorner, q.Seat.Add(a.Uncut()))
	if a.Second != nil && (a.Lie == nil || a.Lie.Turn.IsZero()) {
		over(*a.BackCorner, q.BackSeat.Add(a.Used.T))
	}
	return low
}
