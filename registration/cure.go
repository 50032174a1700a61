package registration

import (
	"fmt"
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
)

// cure names what makes a pattern foolproof that isn't and can be done, the same for
// one place and for two: another diameter for a pin that the flip brings back to its
// own place and no wrong lay-up does, so that no new hole is made; else one more pin
// on the flip line. pins are those of the back station.
func (q *Question) cure(a *Answer, holes, pins []Pin, b Blank) string {
	shift, home, inPlace := carry(lay(q.Pins, b, q.Flip == FlipY, q.Flip == FlipX), q.Pins, true)
	for i := len(q.Pins) - 1; i >= 0; i-- {
		stays := func(l LayUp) bool {
			return l.Fits && !l.Wanted && l.Name != LayAsIs && l.Pairing[i] == i
		}
		if (!inPlace || home[i] == i) && !slices.ContainsFunc(a.LayUps, stays) {
			return fmt.Sprint(CureDiameters, " ", i+1)
		}
	}
	if !inPlace {
		return CureNone
	}
	at, ok := q.third(holes, pins, b, shift)
	switch {
	case !ok:
		return CureNone
	case q.Clear == nil:
		return CureThirdPin
	}
	return CureThirdPin + " " + at.X.String() + "," + at.Y.String()
}

// third finds a place on the flip line for one more pin as thick as the first: on the
// blank, one diameter from every edge and two from every pin (common practice), clear
// of the cuts where they are known, and with no wrong lay-up left.
func (q *Question) third(holes, pins []Pin, b Blank, shift Point) (Point, bool) {
	dia, step := holes[0].Dia, decimal.New(1, 0)
	if q.Unit == transform.Inch {
		step = decimal.New(625, -4)
	}
	if !dia.IsPositive() {
		dia = step.Mul(decimal.NewFromInt(8)) // the thickest that pins proposes
	}
	across, along, line := b.W, b.H, shift.X.Add(b.W).Mul(half)
	if q.Flip == FlipX {
		across, along, line = b.H, b.W, shift.Y.Add(b.H).Mul(half)
	}
	if line.LessThan(dia) || line.GreaterThan(across.Sub(dia)) {
		return Point{}, false
	}
	square := dia.Mul(dia).Mul(decimal.NewFromInt(4))
	fits := func(at Point) bool {
		near := func(p Pin) bool {
			d := p.At.Sub(at)
			return d.Dot(d).LessThan(square)
		}
		if slices.ContainsFunc(q.Pins, near) || q.Clear != nil && !q.Clear(at, dia.Mul(half)) {
			return false
		}
		hole, pin := Pin{at, holes[0].Dia}, Pin{at, pins[0].Dia}
		if q.BackPin != nil {
			pin = lay([]Pin{pin}, b, q.Flip == FlipY, q.Flip == FlipX)[0]
		}
		tried, _ := q.tryLayUps(append(slices.Clone(holes), hole), append(slices.Clone(pins), pin), b)
		return !slices.ContainsFunc(tried, func(l LayUp) bool { return l.Wanted != l.Fits && l.Name != LayAsIs || l.Near })
	}
	for in := dia; in.LessThanOrEqual(along.Mul(half)); in = in.Add(step) {
		for _, l := range []decimal.Decimal{along.Sub(in), in} {
			at := Point{line, l}
			if q.Flip == FlipX {
				at = Point{l, line}
			}
			if fits(at) {
				return at, true
			}
		}
	}
	return Point{}, false
}

// ParseCure parts a cure's code from the pin's number or place behind it, "" if none.
func ParseCure(s string) (code, pin string) {
	code, pin, _ = strings.Cut(s, " ")
	return code, pin
}
