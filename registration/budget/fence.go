package budget

import (
	"math"

	"flipcalc/registration"
)

// side is the locator sides of one seat.
type side struct{ fence, stop registration.Side }

// fence gives what holds a blank against fence and stop.
func (w *work) fence() {
	w.seats = []string{"face", "back"}
	for i, s := range w.sides() {
		back := i == 1
		for _, edge := range []registration.Side{s.fence, s.stop} {
			if back {
				edge = w.q.Flip.Turned(edge)
			}
			switch edge {
			case registration.Right:
				w.corner[i].x = w.w
			case registration.Far:
				w.corner[i].y = w.h
			}
		}
		// Along the fence it is held at the contact beside the stop, off which the fence is
		// taken to be set, away from it where the stop touches.
		on, stop := w.q.ContactsOn(w.size, s.fence).Points(w.size, s.fence, s.stop)
		held, at := toVec(on[0]), toVec(stop)
		if s.stop == registration.Right || s.stop == registration.Far {
			held = toVec(on[1])
		}
		w.datum[i] = vec{held.x, at.y}
		if !alongX(s.fence) {
			w.datum[i], w.sin2[i] = vec{at.x, held.y}, 1
		}
		if back {
			w.datum[i] = w.over(w.datum[i])
		}
	}
	if w.q.Contacts == nil {
		c := w.q.ContactsOn(w.size, w.q.Fence.Side)
		w.fact(registration.LevelAssumed, ContactsTaken{c.Fence[0], c.Fence[1], c.Stop})
	}
}

// sides gives the locators of the face and of the back.
func (w *work) sides() [2]side {
	face := side{w.q.Fence.Side, w.q.Stop.Side}
	back := side{w.q.BackFence.Side, w.q.BackStop.Side}
	if back.fence == registration.NoSide {
		back.fence = face.fence
	}
	if back.stop == registration.NoSide {
		back.stop = face.stop
	}
	return [2]side{face, back}
}

// axis names the one of two.
func axis(x bool) string {
	if x {
		return "x"
	}
	return "y"
}

// alongX reports whether a fence on that side runs along X.
func alongX(s registration.Side) bool { return s == registration.Near || s == registration.Far }

// terms gives every term at p, in a fixed order.
func (w *work) terms(p vec) []Term {
	var list []Term
	add := func(name, sides, axis string, v Value, from From, r reach) {
		list = append(list, Term{Name: name, Sides: sides, Axis: axis, Value: v, From: from, X: r.x, Y: r.y, Limit: r.all})
	}
	if len(w.pegs) > 0 {
		pegs := w.pegs
		if w.q.Register == registration.Plug && !w.free {
			// The clocking's own play is a term of its own.
			pegs = []peg{w.pegs[0], {at: w.pegs[1].at, turnOnly: true}}
		}
		r, _, ok := seat(pegs, p)
		if !ok { // a plug alone, under a round part: no turn counts
			c := w.pegs[0].c / 2
			r = reach{c, c, c}
		}
		for _, s := range w.seats {
			add(Clearance, s, "", w.clear, w.clearFrom, r)
		}
		if w.q.Register == registration.Plug && !w.free {
			held := []peg{{at: w.pegs[0].at}, w.pegs[1]}
			r, _, _ := seat(held, p)
			for _, s := range w.seats {
				add(Clocking, s, "", w.clocking, w.clockingFrom, r)
			}
		}
	}
	if w.lie != nil {
		w.touches(p, add)
	} else {
		w.locators(p, add)
		w.squareness(p, add)
	}
	if w.q.Register == registration.FenceStop {
		w.contacts(p, add)
	}
	v, from := w.o.Tolerances.of(Repeatability, w.q)
	for _, s := range []string{"face", "back"} {
		// Each axis comes back to its place by itself.
		d := v.number()
		add(Repeatability, s, "", v, from, reach{d, d, d * math.Sqrt2})
	}
	for i, s := range []string{"face", "back"} {
		if q := w.o.Rounding[i]; q.IsPositive() {
			add(Rounding, s, "", Value{Amount: q}, Written, even(arcRounding*q.InexactFloat64()))
		}
	}
	if w.wood != nil {
		w.movement(p, add)
	}
	return list
}

// fenceLocators: where fence and stop stand, and how the fence runs.
func (w *work) fenceLocators(p vec, add adder) {
	v, from := w.o.Tolerances.of(Locator, w.q)
	d := v.number()
	s := w.sides()
	reversesX := w.q.Flip == registration.FlipY
	for _, x := range []bool{true, false} {
		face, back := w.placing(s[0], x), w.placing(s[1], x)
		one := face == back && !w.elsewhere(x)
		switch {
		case one && x == reversesX:
			add(Locator, "both", axis(x), v, from, onAxis(x, 2*d))
		case one: // along the flip line one locator errs alike on both sides
		default:
			add(Locator, "face", axis(x), v, from, onAxis(x, d))
			add(Locator, "back", axis(x), v, from, onAxis(x, d))
		}
	}
	l, from := w.o.Tolerances.of(FenceLine, w.q)
	if s[0].fence == s[1].fence && !w.elsewhere(!alongX(s[0].fence)) {
		// The blank turns with the fence on both sides, which in the part are
		// opposite turns: 2 angle about a point in the middle across the flip line,
		// and along it where the fence was touched off, at the face's stop.
		c := vec{w.w / 2, w.datum[0].y}
		if !reversesX {
			c = vec{w.datum[0].x, w.h / 2}
		}
		add(FenceLine, "both", "", l, from, turned(p, c, l.number()).times(2))
		return
	}
	add(FenceLine, "face", "", l, from, turned(p, w.datum[0], l.number()))
	add(FenceLine, "back", "", l, from, turned(p, w.datum[1], l.number()))
}

// placing gives the side of the locator that places the blank along X or Y.
func (w *work) placing(s side, x bool) registration.Side {
	if alongX(s.fence) == x {
		return s.stop
	}
	return s.fence
}

// elsewhere reports whether the locator that places along X or Y stands at another
// coordinate for the back, as at a second station.
func (w *work) elsewhere(x bool) bool {
	face, back := w.q.Fence, w.q.BackFence
	if alongX(w.q.Fence.Side) == x {
		face, back = w.q.Stop, w.q.BackStop
	}
	return back.Coord != nil && (face.Coord == nil || !back.Coord.Equal(*face.Coord))
}

// contacts: how the blank lies against fence and stop.
func (w *work) contacts(p vec, add adder) {
	v, from := w.o.Tolerances.of(Seating, w.q)
	e := v.number()
	s := w.sides()
	for i, name := range w.seats {
		// Each contact stands off by 0 to e. Between the fence's two, L apart, a point goes
		// at most e along its normal, outside them by o at most e (1 + o/L); along the
		// fence the stop's e and the turn e/L about its contact come together.
		on, stop := w.q.ContactsOn(w.size, s[i].fence).Points(w.size, s[i].fence, s[i].stop)
		own := p
		if i == 1 {
			own = w.over(p)
		}
		a, b, d := toVec(on[0]), toVec(on[1]), own.minus(toVec(stop))
		var r reach
		if alongX(s[i].fence) {
			l := b.x - a.x
			r = reach{x: e + e/l*math.Abs(d.y), y: e * (1 + max(a.x-own.x, own.x-b.x, 0)/l)}
		} else {
			l := b.y - a.y
			r = reach{x: e * (1 + max(a.y-own.y, own.y-b.y, 0)/l), y: e + e/l*math.Abs(d.x)}
		}
		r.all = math.Hypot(r.x, r.y)
		add(Seating, name, "", v, from, r)
	}
	size, from := w.o.Tolerances.of(Size, w.q)
	for _, x := range []bool{true, false} {
		face, back := w.placing(s[0], x), w.placing(s[1], x)
		if w.q.Flip.Turned(back) != face {
			add(Size, "both", axis(x), size, from, onAxis(x, size.number()))
		}
	}
	if w.q.Flip.Turned(s[1].fence) != s[0].fence {
		c, from := w.o.Tolerances.of(Corner, w.q)
		// The edge is taken to be right at the corner, and the stop's contact slides.
		k := vec{w.corner[1].x, w.datum[1].y}
		if !alongX(s[1].fence) {
			k = vec{w.datum[1].x, w.corner[1].y}
		}
		add(Corner, "both", "fence", c, from, turned(p, k, c.number()))
	}
}
