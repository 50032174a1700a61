package budget

import (
	"math"

	"github.com/shopspring/decimal"

	"flipcalc/registration"
)

// Slack gives the limits of a touched blank's touches.
func (t Tolerances) Slack(q registration.Question) *registration.Slack {
	amount := func(name string) decimal.Decimal {
		v, _ := t.of(name, q)
		return v.Amount
	}
	corner, _ := t.of(Corner, q)
	return &registration.Slack{Touch: amount(Touch), Feature: amount(Feature), Size: amount(Size), Corner: corner.number()}
}

// touched finds how a touched blank lies with these tolerances. Whether its turn is known
// well enough was asked before.
func (w *work) touched() (err error) {
	q := w.q
	q.Slack, q.TurnLimit = w.o.Tolerances.Slack(q), nil
	w.lie, err = q.Lie(w.size)
	return err
}

// touches: what the touches' errors make of the back's place. Each touch errs for itself,
// so the causes of one name add up.
func (w *work) touches(p vec, add adder) {
	at := w.over(p)
	for _, name := range []string{Touch, Feature, Size, Corner, Turn} {
		v, from := w.o.Tolerances.of(name, w.q)
		if name == Turn {
			v, from = Value{Amount: w.lie.Askew.Sub(w.lie.Turn).Abs()}, Sizes
		}
		var r reach
		some := false
		for _, c := range w.lie.Causes {
			if c.Name != name {
				continue
			}
			dx, dy := c.At(at.x, at.y)
			r.x, r.y, r.all, some = r.x+math.Abs(dx), r.y+math.Abs(dy), r.all+math.Hypot(dx, dy), true
		}
		if some {
			add(name, "back", "", v, from, r)
		}
	}
	w.touchedSquare(p, add)
}

// touchedSquare: Y out of square with X by q carries a point by q E s, E s = (y, 0). The
// face's features lie off by it, mirrored, which makes -q E s' on the turned blank; the
// machine reads them and cuts the back with the same error in its own axes, R the blank's
// turn in them: in the blank's axes -q R'E R s'. The fit takes out of the sum what is a
// shift or a turn: at 90 degrees all of it.
func (w *work) touchedSquare(p vec, add adder) {
	v, from := w.o.Tolerances.of(Square, w.q)
	q := v.number()
	sin, cos := math.Sincos(w.lie.Turn.InexactFloat64() * math.Pi / 180)
	add(Square, "both", "", v, from, w.unfixed(p, func(at vec) vec {
		y := q * (at.x*sin + at.y*cos) // along the machine's Y
		return vec{-q*at.y - y*cos, y * sin}
	}))
}

// unfixed is what is left of a displacement over the turned blank at a place of the face.
func (w *work) unfixed(p vec, shift func(at vec) vec) reach {
	at := w.over(p)
	dx, dy := w.lie.Unfixed(func(x, y float64) (float64, float64) {
		s := shift(vec{x, y})
		return s.x, s.y
	}, at.x, at.y)
	return reach{math.Abs(dx), math.Abs(dy), math.Hypot(dx, dy)}
}
