package registration

import (
	"fmt"
	"slices"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/fact"
	"flipcalc/registration/fit"
)

// checkPins refuses pins that can't stand.
func (q *Question) checkPins(a *Answer, b Blank) error {
	const key = "pin"
	if len(q.Pins) < 2 {
		return &Error{About: key, Found: fmt.Sprintf("%d given", len(q.Pins)), Expected: "at least two dowels",
			Hint: "on one dowel the blank turns; add ‹pin + X,Y,DIA›"}
	}
	without := 0
	for i, p := range q.Pins {
		if p.Dia.IsZero() {
			without++
		}
		if p.Dia.IsNegative() {
			return &Error{About: key, Found: fmt.Sprintf("dowel %d has diameter %s", i+1, p.Dia), Expected: "a diameter greater than 0"}
		}
		if err := b.outside(p.At, key, fmt.Sprintf("dowel %d", i+1)); err != nil {
			return err
		}
		for j, o := range q.Pins[:i] {
			d := p.At.Sub(o.At)
			square := d.Dot(d)
			reach := p.Dia.Add(o.Dia).Mul(half)
			if square.IsZero() || square.Cmp(reach.Mul(reach)) < 0 {
				return &Error{About: key, Found: fmt.Sprintf("dowels %d and %d overlap, at %s and %s", j+1, i+1, o.At, p.At), Expected: "dowels apart from each other"}
			}
		}
	}
	if without > 0 && without < len(q.Pins) {
		return &Error{About: key, Found: fmt.Sprintf("%d of %d dowels have no diameter", without, len(q.Pins)), Expected: "a diameter for all or for none",
			Hint: "the diameters decide which way round the blank goes on: ‹pin X,Y,DIA; X,Y,DIA›"}
	}
	for i, p := range q.Pins {
		r := p.Dia.Mul(half)
		if hole := q.HoleOf(i); hole != nil {
			r = decimal.Max(r, hole.Mul(half))
		}
		inset := b.Inset(p.At)
		if out := r.Sub(inset); !out.IsNegative() {
			a.add(LevelWarning, PinAtEdge{i + 1, out})
		}
	}
	return q.checkHoles(a)
}

// checkHoles refuses holes that aren't those of the pins, and warns of tight ones.
func (q *Question) checkHoles(a *Answer) error {
	const key = "hole"
	for _, h := range q.Hole {
		if !h.IsPositive() {
			return &Error{About: key, Found: "the diameter is " + h.String(), Expected: "a length greater than 0"}
		}
	}
	if n := len(q.Hole); n > 1 && n != len(q.Pins) {
		return &Error{About: key, Found: fmt.Sprintf("%d holes for %d dowels", n, len(q.Pins)), Expected: "one for all, or one for each ‹pin› in the same order"}
	}
	for i, p := range q.Pins {
		hole := q.HoleOf(i)
		if hole == nil {
			return nil
		}
		if len(q.Hole) == 1 && !p.Dia.Equal(q.Pins[0].Dia) {
			return &Error{About: key, Found: fmt.Sprintf("one hole of %s for dowels of %s and %s", hole, q.Pins[0].Dia, p.Dia),
				Expected: "one for each ‹pin›, in the same order", Hint: "give ‹hole› for each, or in mm a ‹fit› such as H7/g6 and no ‹hole›"}
		}
		if err := q.holds("dowel", *hole, p.Dia); err != nil {
			return err
		}
		tight := HoleTight{*hole, p.Dia}
		if hole.Cmp(p.Dia) <= 0 && !slices.ContainsFunc(a.Facts, func(f Fact) bool { return fact.Same(f.Is, tight) }) {
			a.add(LevelWarning, tight)
		}
	}
	return nil
}

// holds refuses a hole that its pin can't be pressed into: one thinner than the pin by
// more than a push of the hand makes up for, and one twice as wide or more, which is a
// slip of the keyboard. No diameter is not known.
func (q *Question) holds(name string, hole, pin decimal.Decimal) error {
	if pin.IsZero() || pin.Sub(hole).Cmp(q.hand()) <= 0 && hole.LessThan(pin.Add(pin)) {
		return nil
	}
	return &Error{About: "hole", Found: fmt.Sprintf("a hole of %s for the %s of %s", hole, name, pin), Expected: fmt.Sprintf("a hole of %s or a little more", pin)}
}

// corners sets L1, and FaceMachine and FaceAt, from the face zero.
func (q *Question) corners(a *Answer) {
	a.FaceCorner = Point{}.Sub(a.FaceZero)
	if q.At != nil {
		a.FaceMachine = true
		a.FaceCorner = Point{q.At.X, q.At.Y}.Sub(a.FaceZero)
	}
}

// dowels answers for pins, the same ones on both sides or a mirrored pattern at
// a second station.
func (q *Question) dowels(a *Answer, b Blank) error {
	if err := q.checkPins(a, b); err != nil {
		return err
	}
	q.corners(a)
	turned := lay(q.Pins, b, q.Flip == FlipY, q.Flip == FlipX)
	pins := q.Pins
	if q.BackPin != nil {
		if q.DrilledFace {
			return &Error{About: "drilled", Found: "face, and dowels of its own for the back, which can't be drilled through the blank",
				Expected: "the same dowels for both sides, or no ‹drilled›"}
		}
		pins = turned
	}
	var holes, thin []Pin
	for i, p := range q.Pins {
		h, t, err := q.holeAndPin(p.At, p.Dia, q.HoleOf(i), "hole")
		if err != nil {
			return err
		}
		t.At = pins[i].At
		holes, thin = append(holes, h), append(thin, t)
	}
	var shift Point
	a.LayUps, shift = q.tryLayUps(holes, thin, b)
	wanted := slices.IndexFunc(a.LayUps, func(l LayUp) bool { return l.Wanted })
	if !a.LayUps[wanted].Fits {
		return q.unmapped(a.LayUps)
	}

	q.onPins(a, b, turned, shift)
	if q.DrilledFace {
		a.add(LevelNote, DrilledFace{})
	}
	clearance, err := q.pinClearance()
	if err != nil {
		return err
	}
	if play, limit := clearance.Add(clearance), fit.GreatestPlay(q.Unit); play.GreaterThan(limit) {
		a.add(LevelWarning, PinLoose{play, limit})
	}
	if len(q.Hole) == 0 {
		if err := q.pressed(a, q.Pins...); err != nil {
			return err
		}
	}
	q.verdict(a, func() string { return q.cure(a, holes, thin, b) })
	return nil
}

// onPins sets where the turned blank and the dowels of both sides lie. turned are the holes
// of the turned blank, and shift brings them over the dowels of the face.
func (q *Question) onPins(a *Answer, b Blank, turned []Pin, shift Point) {
	if q.BackPin != nil {
		l2 := q.BackPin.Sub(turned[0].At)
		a.BackCorner, a.Machine = &l2, true
		a.add(LevelNote, SecondPins{len(turned)})
	} else {
		l2 := a.FaceCorner.Add(shift)
		a.BackCorner, a.Machine = &l2, a.FaceMachine
		// u' = W - u lands on 2m - u: the shift is 2m - W.
		edge, m := "left", shift.X.Add(b.W).Mul(half)
		if q.Flip == FlipX {
			edge, m = "near", shift.Y.Add(b.H).Mul(half)
		}
		a.FlipLine = &m
		a.add(LevelNote, SamePins{edge, m})
	}
	for i, p := range q.Pins {
		a.FacePins = append(a.FacePins, Pin{At: a.FaceCorner.Add(p.At), Dia: p.Dia})
		a.BackPins = append(a.BackPins, Pin{At: a.BackCorner.Add(turned[i].At), Dia: p.Dia})
	}
}

// unmapped says why the wanted flip doesn't bring the holes back over the pins.
func (q *Question) unmapped(tried []LayUp) error {
	var l LayUp
	other := false
	for _, u := range tried {
		if u.Wanted {
			l = u
		} else if u.Name == "flip "+q.Flip.Other().String() {
			other = u.Fits
		}
	}
	along := "Y"
	if q.Flip == FlipX {
		along = "X"
	}
	e := &Error{About: "pin", No: true,
		Found: fmt.Sprintf("turned over (flip %s), the holes don't come back over the dowels", q.Flip),
		Expected: fmt.Sprintf("all dowels on one line along %s, or in pairs of one diameter at the same %s, as far either side of it",
			along, along),
		Hint: "a second station takes any dowels: give its first with ‹back-pin X,Y›"}
	switch {
	case l.Reason == ReasonDiameters:
		e.Found += ": their sizes differ"
	case len(q.Pins) == 2:
		d := q.Pins[1].At.Sub(q.Pins[0].At)
		e.Found += fmt.Sprintf(": the two stand %s apart in X and %s in Y", d.X.Abs(), d.Y.Abs())
	case l.Miss.IsZero():
		e.Found += ": clearance alone lets the blank on, so its place is left to chance"
	default:
		e.Found += fmt.Sprintf(": some miss by %s %s or more", l.Miss.Truncate(2), q.Unit)
	}
	if other {
		e.Hint = fmt.Sprintf("these dowels fit ‹flip %s›; ", q.Flip.Other()) + e.Hint
	}
	return e
}
