package words

import (
	"github.com/shopspring/decimal"

	"flipcalc/mirror"
	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/report/letters"
)

// ZeroHere is a G92 at the start with the blank that it is run on, so that the place where
// the tool must stand can be named.
type ZeroHere struct {
	mirror.ZeroHere
	On       *registration.Answer `json:"-"`
	OnBack   bool                 `json:"-"` // the program runs on the back
	Straight bool                 `json:"-"` // neither X nor Y is mirrored
}

func (z ZeroHere) sentence() string {
	at, err := decimal.NewFromString(z.Back)
	if err != nil {
		return mirrorFact(z.ZeroHere, "")
	}
	place := startPlace(z.Axis, at, z.Unit, z.OnBack)
	if edge := startEdge(z.Axis, at, z.Unit, z.On, z.OnBack); edge != "" {
		place += ", " + edge
	}
	if z.Straight && z.Face == z.Back {
		return "G92 calls the tool's place " + z.Axis + z.Back + " (" + z.Unit.String() + "): before the start the tool must stand " + place
	}
	return onBothSides(z.ZeroHere) + " on the back: before the back starts, the tool must stand at the mirror image of the face's start, " + place
}

// onBothSides says what a G92 calls the tool's place on the face, and there on the back.
func onBothSides(z mirror.ZeroHere) string {
	return "G92 calls the tool's place " + z.Axis + z.Face + " on the face, " + z.Axis + z.Back + " (" + z.Unit.String() + ")"
}

// startPlace says where a coordinate of a program lies from its zero.
func startPlace(axis string, at decimal.Decimal, unit transform.Unit, back bool) string {
	zero := " the " + letters.Side(back) + " zero"
	way := map[string][2]string{"X": {"to the right of", "to the left of"}, "Y": {"away from you from", "towards you from"}, "Z": {"above", "below"}}[axis]
	if at.IsZero() {
		return "level with" + zero
	}
	word := way[0]
	if at.IsNegative() {
		word = way[1]
	}
	return at.Abs().String() + " " + unit.String() + " " + word + zero
}

// startEdge names the edge of the blank on which a coordinate of a program lies, ""
// if it lies on none.
func startEdge(axis string, at decimal.Decimal, unit transform.Unit, a *registration.Answer, back bool) string {
	u := a.Question.Unit
	if axis == "Z" {
		return ""
	}
	at, exact := transform.Convert(at, unit, u, 0)
	if !exact {
		return ""
	}
	zero, size := a.FaceZero, a.Used
	if back {
		zero = a.BackZero
	}
	p, whole, names := zero.X.Add(at), size.W, [2]registration.Side{registration.Left, registration.Right}
	if axis == "Y" {
		p, whole, names = zero.Y.Add(at), size.H, [2]registration.Side{registration.Near, registration.Far}
	}
	switch {
	case p.IsZero():
		return "over the blank's " + names[0].String() + " edge as it then lies"
	case p.Equal(whole):
		return "over the blank's " + names[1].String() + " edge as it then lies"
	case p.Add(p).Equal(whole):
		return "over the middle between the blank's " + names[0].String() + " and " + names[1].String() + " edges"
	}
	return ""
}
