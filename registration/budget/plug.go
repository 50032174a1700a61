package budget

import (
	"github.com/shopspring/decimal"

	"flipcalc/registration"
)

// plug gives what holds a blank on its plug.
func (w *work) plug() error {
	w.seats = []string{"face", "back"}
	c, err := w.clearance(nil, w.q.Bore.Dia, "bore")
	if err != nil {
		return err
	}
	w.clear = c
	at := toVec(w.q.Bore.At)
	w.pegs = []peg{{at: at, c: c.Amount.InexactFloat64()}}
	w.datum = [2]vec{at, at}
	w.clocking, w.clockingFrom = w.o.Tolerances.of(Clocking, w.q)
	switch w.q.Clock.Kind {
	case registration.ClockPin:
		if k := w.q.Clock; w.clockingFrom != Given && !k.Dia.IsZero() && !k.Hole.IsZero() {
			tol, _ := w.o.Tolerances.of(Hole, w.q)
			play := k.Hole.Sub(k.Dia)
			w.clocking.Amount = w.loose(k.Hole.String(), play.Sub(tol.Amount), play.Add(tol.Amount))
			w.clockingFrom = Sizes
		}
		w.clock(toVec(w.q.Clock.Pin))
	case registration.ClockFlat, registration.ClockFence:
		lever, x := w.lever()
		w.fact(registration.LevelAssumed, ClockingLever{lever})
		if l := lever.InexactFloat64(); x {
			w.clock(vec{at.x + l, at.y})
		} else {
			w.clock(vec{at.x, at.y + l})
		}
	default:
		w.free = true
		w.sin2 = [2]float64{0.5, 0.5} // the turn that leaves the least
	}
	return nil
}

// lever is how far from the plug, along X or Y, a flat or a fence holds the turn. A fence
// holds it at one of its contacts, at worst the nearer. A flat, and a fence whose side
// isn't known, hold it at a lever that isn't known: half the longer side.
func (w *work) lever() (length decimal.Decimal, x bool) {
	x = w.size.W.GreaterThanOrEqual(w.size.H)
	if s := w.q.Fence.Side; w.q.Clock.Kind == registration.ClockFence && s != registration.NoSide {
		x = alongX(s)
		if near := w.nearContact(s); near.IsPositive() {
			return near, x
		}
	}
	if x {
		return w.size.W.Mul(half), x
	}
	return w.size.H.Mul(half), x
}

// nearContact is how far the nearer of a fence's contacts stands from the bore, along it.
func (w *work) nearContact(side registration.Side) decimal.Decimal {
	on, _ := w.q.ContactsOn(w.size, side).Points(w.size, side, registration.NoSide)
	away := func(p registration.Point) decimal.Decimal {
		if alongX(side) {
			return p.X.Sub(w.q.Bore.At.X).Abs()
		}
		return p.Y.Sub(w.q.Bore.At.Y).Abs()
	}
	return decimal.Min(away(on[0]), away(on[1]))
}

// clock adds the place where a plug's blank is kept from turning.
func (w *work) clock(at vec) {
	d := at.minus(w.pegs[0].at)
	w.pegs = append(w.pegs, peg{at: at, c: w.clocking.number(), turnOnly: true})
	sin2 := d.y * d.y / (d.x*d.x + d.y*d.y)
	w.sin2 = [2]float64{sin2, sin2}
}
