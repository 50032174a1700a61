package landed

import (
	"fmt"
	"math"

	"github.com/shopspring/decimal"

	"flipcalc/registration"
)

// Turn is a turn of the back's cuts against the face, with its cure.
type Turn struct {
	Sine  decimal.Decimal // of the angle, counter-clockwise, rounded to the fifteenth decimal
	Angle float64         // radians
	Clear bool            // more than the measuring can hide
	// Pivot is the place of the back, in its as-laid frame, about which the shim or
	// the pin move turns the blank; without either, the mean of the places measured.
	Pivot registration.Point
	Shim  *Shim    // fence and stop
	Pin   *PinMove // dowels, or a plug's clocking pin
	// Zero is the second zero that goes with the pin move, or with the shim for the
	// back only: moved by the opposite of Shift.
	Shift registration.Point
	Zero  *registration.SecondZero
	// Remain is the mismatch left at each measurement then, and Greatest the length
	// of the greatest of them.
	Remain   []registration.Point
	Greatest float64
}

// Shim is a strip between the blank and one contact of the fence.
type Shim struct {
	Fence registration.Side // where the fence stands at the back station
	End   registration.Side // the end of the fence at which it goes
	// Thick is for a shim that goes in for the back only. Stays is for one that
	// stays in for the face too, zero if another fence serves the face.
	Thick, Stays decimal.Decimal
}

// PinMove is a pin's way, at the back station, looking at the back.
type PinMove struct {
	Pin int                // its number from 1; 0 is the plug's clocking pin
	At  registration.Point // where it stands now, in the frame of the second zero
	// Move is for a pin of the back station alone; if the pin serves both sides it
	// is half as long, since the turn counts twice.
	Move registration.Point
	Both bool // the same pin serves both sides
}

// turn fits a shift and a turn by least squares. With q the places from their
// mean and d the mismatches from theirs, a turn by t about the mean gives
// d = (R - 1) q, whose part across q is sin t |q|: sin t = sum(q x d)/sum(q.q).
func (c *Correction) turn(a *registration.Answer, measured []Measurement, o Options) {
	n := decimal.NewFromInt(int64(len(measured)))
	var mean registration.Point
	for _, m := range measured {
		mean = add(mean, *m.At)
	}
	mean = registration.Point{X: quotient(mean.X, n), Y: quotient(mean.Y, n)}
	var num, den decimal.Decimal
	far := 0.0
	for i, m := range measured {
		q := sub(*m.At, mean)
		num = num.Add(dot(quarter(q), c.Remains[i]))
		den = den.Add(dot(q, q))
		far = max(far, length(q))
	}
	t := &Turn{Sine: num.DivRound(den, 15)}
	t.Angle = math.Asin(max(-1, min(1, t.Sine.InexactFloat64())))
	// Each measured value is off by at most the measuring; what a turn moves at the
	// farthest place must be more than that.
	t.Clear = math.Abs(t.Angle)*far > o.Measuring.InexactFloat64()
	if !t.Clear {
		c.fact(FactTurnSmall, registration.LevelNote, fmt.Sprintf("%.4f", math.Abs(t.Angle)*far))
	}
	cosine := cosineOf(t.Sine)
	// at is the fitted mismatch at p: the mean, and (R - 1) from the mean's place.
	at := func(p registration.Point) registration.Point {
		q := sub(p, mean)
		return add(c.Shift, add(scaled(q, cosine.Sub(decimal.NewFromInt(1))), scaled(quarter(q), t.Sine)))
	}
	for _, m := range measured {
		rest := sub(m.Off, at(*m.At))
		t.Remain = append(t.Remain, rest)
		t.Greatest = max(t.Greatest, length(rest))
	}
	t.Pivot = mean
	t.cure(a, o)
	// Once the blank is turned about the pivot by the same angle, the mismatch
	// everywhere is what it was at the pivot. It was measured along the part, which
	// lay turned by the angle the other way.
	d := at(t.Pivot)
	d = sub(scaled(d, cosine), scaled(quarter(d), t.Sine))
	t.Shift = registration.Point{X: d.X.Round(places), Y: d.Y.Round(places)}
	t.Zero = Moved(a.Second, t.Shift)
	c.Turn = t
	c.rigid(a, measured, mean, o)
}

// cosineOf gives the cosine of an angle less than a quarter turn, to the fifteenth
// decimal; of a sine that no angle has, zero.
func cosineOf(sine decimal.Decimal) decimal.Decimal {
	square := decimal.NewFromInt(1).Sub(sine.Mul(sine))
	c, err := square.SqrtRound(15)
	if err != nil {
		return decimal.Zero
	}
	return c
}

// cure turns the blank by the angle: a shim at the fence, or a pin moved.
func (t *Turn) cure(a *registration.Answer, o Options) {
	q := a.Question
	b := a.Used
	switch q.Register {
	case registration.FenceStop:
		fence, shared := backFence(a.Touches)
		if fence == registration.NoSide {
			return
		}
		edge := b.W
		if fence == registration.Left || fence == registration.Right {
			edge = b.H
		}
		if !o.Contacts.IsZero() {
			edge = o.Contacts
		}
		s := &Shim{Fence: fence, Thick: t.Sine.Abs().Mul(edge).Round(places)}
		if shared {
			s.Stays = s.Thick.Mul(decimal.New(5, -1))
		}
		// The shim goes where the turn leads the edge away from the fence; the other
		// contact, and the stop on its side, are the pivot.
		ccw := t.Sine.IsPositive()
		var other registration.Side
		switch fence {
		case registration.Near:
			s.End, other = pick(ccw, registration.Right, registration.Left)
		case registration.Far:
			s.End, other = pick(ccw, registration.Left, registration.Right)
		case registration.Left:
			s.End, other = pick(ccw, registration.Near, registration.Far)
		default:
			s.End, other = pick(ccw, registration.Far, registration.Near)
		}
		// The unshimmed contact keeps its height over the fence, the stop's contact its
		// distance from the stop: the blank turns about where their normals meet.
		t.Pivot = corner(b, fence, other)
		t.Shim = s
	case registration.Dowels:
		if len(a.BackPins) < 2 || a.BackCorner == nil {
			return
		}
		from := 0
		far := decimal.Zero
		for i, p := range a.BackPins {
			d := sub(p.At, a.BackPins[0].At)
			if dd := dot(d, d); dd.GreaterThan(far) {
				from, far = i, dd
			}
		}
		if from == 0 {
			return
		}
		still, moved := a.BackPins[0].At, a.BackPins[from].At
		t.Pivot = sub(still, *a.BackCorner)
		both := q.BackPin == nil
		t.Pin = pinMove(from+1, moved, scaled(quarter(sub(moved, still)), t.Sine), both)
		if !both {
			return
		}
		// The face turns about the same pin, which is under another hole if the holes
		// change over: the two turns together are one about the middle.
		face := sub(still, a.FaceCorner)
		if q.Flip == registration.FlipY {
			face.X = b.W.Sub(face.X)
		} else {
			face.Y = b.H.Sub(face.Y)
		}
		t.Pivot = scaled(add(t.Pivot, face), decimal.New(5, -1))
		for i, p := range a.FacePins {
			if p.At.X.Equal(moved.X) && p.At.Y.Equal(moved.Y) {
				t.Pin.Pin = i + 1
			}
		}
	case registration.Plug:
		if a.PlugAt == nil || a.BackCorner == nil {
			return
		}
		t.Pivot = sub(*a.PlugAt, *a.BackCorner)
		if a.ClockAt != nil && q.Clock.Kind == registration.ClockPin {
			m := scaled(quarter(sub(*a.ClockAt, *a.PlugAt)), t.Sine)
			t.Pin = pinMove(0, *a.ClockAt, m, !movesForBack(a))
		}
	}
}

func pinMove(pin int, at, m registration.Point, both bool) *PinMove {
	if both {
		m = scaled(m, decimal.New(5, -1))
	}
	return &PinMove{Pin: pin, At: at, Both: both, Move: registration.Point{X: m.X.Round(places), Y: m.Y.Round(places)}}
}

func pick(first bool, a, b registration.Side) (chosen, other registration.Side) {
	if first {
		return a, b
	}
	return b, a
}

// corner is the corner of the blank, as the back lies, where two sides meet.
func corner(b registration.Blank, s ...registration.Side) (p registration.Point) {
	for _, side := range s {
		switch side {
		case registration.Right:
			p.X = b.W
		case registration.Far:
			p.Y = b.H
		}
	}
	return p
}

// backFence finds the fence that serves the back, and whether it is the one that
// serves the face.
func backFence(touches []registration.Touch) (side registration.Side, shared bool) {
	for _, t := range touches {
		if t.BackLocator == "fence" {
			return t.BackSide, t.Shared
		}
	}
	return registration.NoSide, false
}

// movesForBack reports whether the clocking pin stands elsewhere for the back.
func movesForBack(a *registration.Answer) bool {
	face := add(a.FaceCorner, a.Question.Clock.Pin)
	return a.Machine != a.FaceMachine || !a.ClockAt.X.Equal(face.X) || !a.ClockAt.Y.Equal(face.Y)
}
