package report

import (
	"github.com/shopspring/decimal"

	"flipcalc/mirror"
	"flipcalc/mirror/transform"
	"flipcalc/registration"
)

// StartOn says for every G92 that the program begins with where on the blank the
// tool must stand then. back is false for a program that runs on the face.
func (m *Mirrored) StartOn(a *registration.Answer, back bool) {
	plain := m.Map.X.Sign > 0 && m.Map.Y.Sign > 0
	for i := range m.Notes {
		n := &m.Notes[i]
		v := values(n.Values)
		if n.Code != mirror.ZeroHere || len(v) < 4 {
			continue
		}
		at, err := decimal.NewFromString(v.at(2))
		if err != nil {
			continue
		}
		place := startWords(v.at(0), at, v.at(3), back)
		if edge := startEdge(v.at(0), at, v.at(3), a, back); edge != "" {
			place += ", " + edge
		}
		if plain && v.at(1) == v.at(2) {
			n.Text = "G92 calls the tool's place " + v.at(0) + v.at(2) + " (" + v.at(3) + "): before the start the tool must stand " + place
			continue
		}
		n.Text = "G92 calls the tool's place " + v.at(0) + v.at(1) + " on the face, " + v.at(0) + v.at(2) + " (" + v.at(3) +
			") on the back: before the back starts, the tool must stand at the mirror image of the face's start, " + place
	}
}

// startWords says where a coordinate of a program lies from its zero.
func startWords(axis string, at decimal.Decimal, unit string, back bool) string {
	zero := " the " + sideOf(back) + " zero"
	way := map[string][2]string{"X": {"to the right of", "to the left of"}, "Y": {"away from you from", "towards you from"}, "Z": {"above", "below"}}[axis]
	if at.IsZero() {
		return "level with" + zero
	}
	word := way[0]
	if at.IsNegative() {
		word = way[1]
	}
	return at.Abs().String() + " " + unit + " " + word + zero
}

// startEdge names the edge of the blank on which a coordinate of a program lies, ""
// if it lies on none.
func startEdge(axis string, at decimal.Decimal, unit string, a *registration.Answer, back bool) string {
	u := a.Question.Unit
	if axis == "Z" {
		return ""
	}
	from := transform.MM
	if unit == transform.Inch.String() {
		from = transform.Inch
	}
	at, exact := transform.Convert(at, from, u, 0)
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
