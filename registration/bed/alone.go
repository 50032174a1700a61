package bed

import (
	"github.com/shopspring/decimal"

	"flipcalc/registration"
)

// Alone gives the places of a blank that has no stations: where an answer has its sides, as
// far as that is known in machine coordinates.
func Alone(a *registration.Answer) (out []Station) {
	add := func(side, offset string, zero registration.Position, corner registration.Point, w, h decimal.Decimal) {
		out = append(out, Station{Pair: 1, Side: side, Offset: offset, Zero: zero, Corner: corner,
			Blank: Rect{X: corner.X, Y: corner.Y, W: w, H: h}})
	}
	if a.FaceMachine && a.FaceAt != nil {
		add(FaceSide, a.Question.FaceOffset(), *a.FaceAt, a.FaceCorner, a.Used.W, a.Used.H)
	}
	if z := a.Second; a.Machine && a.BackCorner != nil && z != nil {
		corner, w, h := a.BackLies()
		add(BackSide, z.Offset, registration.Position{X: z.X, Y: z.Y, Z: z.Z}, corner, w, h)
	}
	return out
}
