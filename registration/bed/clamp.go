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
// in the question's unit. A blank that was touched where it lies askew covers no rectangle of the
// bed: there it isn't asked. A jaw that was set against the nominal edge goes aside with the edge
// of a blank measured larger: as far as that is larger, a clamp over its rim isn't one on top of it.
func LowClamps(a *registration.Answer, clamps []Area) (low []LowClamp) {
	q := a.Question
	over := func(corner registration.Point, turn registration.Quarter, top decimal.Decimal) {
		lying, nominal := turn.Blank(a.Used), turn.Blank(*q.Stock)
		x, y := decimal.Max(lying.W.Sub(nominal.W), decimal.Zero), decimal.Max(lying.H.Sub(nominal.H), decimal.Zero)
		on := Rect{X: corner.X.Add(x), Y: corner.Y.Add(y), W: lying.W.Sub(x).Sub(x), H: lying.H.Sub(y).Sub(y)}
		for _, c := range clamps {
			if c.Height != nil && !c.Height.GreaterThan(top) && c.Overlaps(on) {
				low = append(low, LowClamp{c, top})
			}
		}
	}
	over(a.FaceCorner, a.FaceTurn, q.Seat.Add(a.Uncut()))
	if turn, square := a.BackQuarter(); square && a.Second != nil {
		corner, _, _ := a.BackLies()
		over(corner, turn, q.BackSeat.Add(a.Used.T))
	}
	return low
}
