package landed

import (
	"math"
	"slices"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
	"flipcalc/registration"
)

// Options are the things beside the answer and the measurements.
type Options struct {
	// Measuring is the limit to both sides of one measured DX or DY; zero takes
	// 0.05 mm or 0.002 in (common practice: a calliper on cut edges).
	Measuring decimal.Decimal
	// Worst is the worst case of the misalignment budget, in the question's unit; zero
	// where there is none.
	Worst float64
}

// Correction is what the measured mismatch asks for. Choose one: move the zero,
// move the locators with the zero that goes with that, or one cure of a turn with its
// own zero. Each leaves something at the places that were measured.
type Correction struct {
	// Shift is the mean mismatch, of a round part that at its bore, rounded to the ninth
	// decimal where it isn't exact, and Zero the second zero moved by the opposite; nil
	// without one.
	Shift registration.Point
	Zero  *registration.SecondZero
	// Remains is the mismatch left at each measurement once the zero is moved, and
	// Greatest the length of the greatest of them.
	Remains  []registration.Point
	Greatest float64
	// Turn is nil where all were measured at one place, and where a turn doesn't matter.
	Turn *Turn
	// Locators says what the same shift is as a move of the locators, one for X and one
	// for Y, and MovesZero the second zero that goes with it: moved along an axis only
	// where no locator can be. It leaves what Remains says.
	Locators  []Move
	MovesZero *registration.SecondZero
	Facts     []registration.Fact
}

// Move is a correction along one axis as a move of the locator.
type Move struct {
	Locator string // "fence", "stop", "dowels" or "plug"
	Axis    string // "x" or "y"
	// Factor is how many times a move of the locator shows in the mismatch: 2
	// across the flip line if it places both sides, 1 if it places the back only,
	// 0 along the line if it places both: no move of it corrects anything there.
	Factor int
	Move   decimal.Decimal // zero if Factor is 0
}

// The causes of a mismatch that is no rigid shift.
const (
	CauseSizeX   = "size-x"  // the back is longer along X (negative: shorter) by the amount over W
	CauseSizeY   = "size-y"  // and along Y over H
	CauseSquare  = "square"  // an axis or the blank is out of square, by the amount over H
	CauseStretch = "stretch" // two places, or all on a line: the length between them differs
	CauseScatter = "scatter" // the measurements don't agree with each other
)

// Correct works out the correction for one answer from everything measured. At a station
// that is turned it does so in a frame that is turned with it, and carries the correction
// back.
func Correct(a *registration.Answer, measured []Measurement, o Options) (*Correction, error) {
	turn, err := check(measured)
	if err != nil {
		return nil, err
	}
	if o.Measuring.IsNegative() {
		return nil, &registration.Error{About: "tolerance measuring", Found: "a negative length", Expected: "0 or more"}
	}
	var b registration.Blank
	b.W, b.H = a.LyingSize()
	for _, m := range measured {
		if m.At != nil && b.W.IsPositive() && (m.At.X.IsNegative() || m.At.Y.IsNegative() || m.At.X.GreaterThan(b.W) || m.At.Y.GreaterThan(b.H)) {
			return nil, &registration.Error{About: "landed", Found: "X" + m.At.X.String() + " Y" + m.At.Y.String() + " is off the blank",
				Expected: "a place on it, from the near-left corner of the back as it lay: 0 to " + b.W.String() + ", 0 to " + b.H.String()}
		}
	}
	if s := standing(a); s.k != 0 {
		c, err := correct(s.own(a), s.measured(measured), turn, o)
		if err == nil {
			s.correction(c)
		}
		return c, err
	}
	return correct(a, measured, turn, o)
}

// correct is Correct at a station that stands straight; turn says that the measurements tell
// a turn.
func correct(a *registration.Answer, measured []Measurement, turn bool, o Options) (*Correction, error) {
	c := &Correction{}
	c.doubt(a, measured, o.Worst)
	if o.Measuring.IsZero() {
		o.Measuring = decimal.New(5, -2)
		if a.Question.Unit == transform.Inch {
			o.Measuring = decimal.New(2, -3)
		}
		c.fact(registration.LevelAssumed, Measuring{o.Measuring})
	}
	f := fit(measured)
	c.Shift = f.shift
	round := turn && a.Question.Round
	if round {
		if p := centre(a); p != nil {
			c.Shift = point9(f.at(*p))
		}
	}
	c.Zero = Moved(a, c.Shift)
	if c.Zero == nil {
		c.fact(registration.LevelNote, NoSecondZero{})
	}
	c.Remains, c.Greatest = rests(measured, func(p registration.Point) registration.Point {
		if round {
			return f.at(p)
		}
		return c.Shift
	})
	c.locators(a)
	place := c.disagrees(measured, o)
	switch {
	case !turn:
		if !a.Question.Round {
			c.fact(registration.LevelNote, TurnUnknown{})
		}
		if !place {
			c.scatter(c.Remains, o)
		}
		return c, nil
	case round:
		if !place {
			c.scatter(c.Remains, o)
		}
		return c, nil
	}
	c.turn(a, measured, f, o)
	if !place {
		c.rigid(a, measured, f.mean, o)
	}
	return c, nil
}

// centre is the plug's centre in the back's as-laid frame; nil without a plug.
func centre(a *registration.Answer) *registration.Point {
	if a.PlugAt == nil || a.BackCorner == nil {
		return nil
	}
	p := a.PlugAt.Sub(*a.BackCorner)
	return &p
}

// rests are what a correction leaves at each measurement, given what it takes out at a
// place, with the length of the greatest.
func rests(measured []Measurement, out func(registration.Point) registration.Point) (list []registration.Point, greatest float64) {
	for _, m := range measured {
		var at registration.Point
		if m.At != nil {
			at = *m.At
		}
		rest := m.Off.Sub(out(at))
		list = append(list, rest)
		greatest = max(greatest, length(rest))
	}
	return list, greatest
}

// doubt warns of a mismatch that seating and locators don't explain. Where the budget
// gives a worst case the limit is twice that: the sum of its terms holds already, and as
// much again covers what a budget leaves out and the measuring (common practice). The
// worst case is taken as it is shown, to the third decimal in mm, the fourth in inches.
func (c *Correction) doubt(a *registration.Answer, measured []Measurement, worst float64) {
	over := func(limit decimal.Decimal) bool {
		return slices.ContainsFunc(measured, func(m Measurement) bool { return m.Off.Dot(m.Off).GreaterThan(limit.Mul(limit)) })
	}
	flip := a.Question.Flip
	if worst > 0 {
		places := int32(3)
		if a.Question.Unit == transform.Inch {
			places = 4
		}
		w := decimal.NewFromFloat(worst - 1e-9).RoundCeil(places) // the rounding of sums in binary taken off
		if limit := w.Add(w); over(limit) {
			c.fact(registration.LevelWarning, MismatchBeyond{limit, w, flip})
		}
		return
	}
	if limit := a.Plausible(); over(limit) {
		c.fact(registration.LevelWarning, MismatchLarge{limit, flip})
	}
}

// Moved gives the second zero moved against a mismatch: by -DX, -DY along the blank's own
// axes, which lie turned where the back programs are. Nil stays nil.
func Moved(a *registration.Answer, off registration.Point) *registration.SecondZero {
	if !a.BackTurn.IsZero() {
		sin, cos := math.Sincos(a.BackTurn.InexactFloat64() * math.Pi / 180)
		off = point9(off.Times(decimal.NewFromFloat(cos)).Add(quarter(off).Times(decimal.NewFromFloat(sin))))
	}
	return a.Second.Moved(func(p registration.Point) registration.Point { return p.Sub(off) })
}

// locators says what the shift is as a move of the locators. The blank moved by
// (x, y) on the back moves the mismatch by (-x, -y), so a locator of the back
// alone moves by the mismatch itself. One that places both sides moves the face's
// cuts too: across the flip line the two add up, along it they cancel.
func (c *Correction) locators(a *registration.Answer) {
	q := a.Question
	if q.Register != registration.NoRegister {
		c.MovesZero = Moved(a, c.Shift)
	}
	move := func(locator, axis string, factor int) {
		v := c.Shift.X
		if axis == "y" {
			v = c.Shift.Y
		}
		m := Move{Locator: locator, Axis: axis, Factor: factor}
		switch factor {
		case 1:
			m.Move = v
		case 2:
			m.Move = v.Mul(decimal.New(5, -1))
		case 0:
			if !v.IsZero() {
				c.fact(registration.LevelNote, NoLocatorMove{locator, axis, v})
			}
		}
		if factor != 0 && c.MovesZero != nil {
			if axis == "x" {
				c.MovesZero.X = a.Second.X
			} else {
				c.MovesZero.Y = a.Second.Y
			}
		}
		c.Locators = append(c.Locators, m)
	}
	factor := func(shared, across bool) int {
		switch {
		case !shared:
			return 1
		case across:
			return 2
		}
		return 0
	}
	switch q.Register {
	case registration.Dowels:
		move("dowels", "x", factor(q.BackPin == nil, q.Flip == registration.FlipY))
		move("dowels", "y", factor(q.BackPin == nil, q.Flip == registration.FlipX))
	case registration.Plug:
		move("plug", "x", factor(q.PlugAt == nil, q.Flip == registration.FlipY))
		move("plug", "y", factor(q.PlugAt == nil, q.Flip == registration.FlipX))
	case registration.FenceStop:
		for _, axis := range []string{"x", "y"} {
			for _, t := range a.Touches {
				if x := t.BackSide == registration.Left || t.BackSide == registration.Right; x == (axis == "x") {
					move(t.BackLocator, axis, factor(t.Shared, t.Across))
				}
			}
		}
	}
}
