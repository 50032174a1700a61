package landed

import (
	"math"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
	"flipcalc/registration"
)

// Turn is a turn of the back's cuts against the face, with its cures.
type Turn struct {
	Angle float64 // radians, counter-clockwise
	Clear bool    // more than the measuring can hide
	// Cures are the ways to take it out, a turned program the last. Each leaves Remain at
	// the measurements, Greatest the length of the greatest of them.
	Cures    []Cure
	Best     int // index of the one cure to recommend
	Remain   []registration.Point
	Greatest float64
}

// Cure turns the blank back, by one of Shim, Pin and Part, or the back programs, by
// Program, with the zero that goes with it and with no other.
type Cure struct {
	Shim *Shim    // at a fence
	Pin  *PinMove // of dowels, or a plug's clocking pin
	Part string   // "plug" or "fence", turned itself by Angle, radians, counter-clockwise
	// Program is the turn of the back programs about the back zero, in degrees,
	// counter-clockwise, rounded to the fifth decimal: over 1 m that is 0.0001 mm.
	Program *decimal.Decimal
	// Angle is by how much the blank is turned on each side that it serves.
	Angle float64
	Both  bool // it serves face and back, so that it counts twice
	// Pivot is the place of the back, in its as-laid frame, about which the two sides turn
	// against each other.
	Pivot registration.Point
	Shift registration.Point
	Zero  *registration.SecondZero // the second zero, moved by the opposite of Shift
}

// Shim is a strip between the blank and one contact of the fence. Negative it isn't one:
// the fence is moved away from the blank there by as much.
type Shim struct {
	Fence registration.Side  // where the fence stands at the back station
	End   registration.Side  // the end of the fence at which it goes
	At    registration.Point // the contact, in the back's as-laid frame
	Thick decimal.Decimal
}

// PinMove is a pin's way, at the back station, looking at the back.
type PinMove struct {
	Pin  int                // its number from 1; 0 is the plug's clocking pin
	At   registration.Point // where it stands now, in the frame of the second zero
	Move registration.Point
}

// turn finds the cures of a fitted turn.
func (c *Correction) turn(a *registration.Answer, measured []Measurement, f fitted, o Options) {
	t := &Turn{Angle: f.angle()}
	// Each measured value is off by at most the measuring; what a turn moves at the
	// farthest place must be more than that.
	t.Clear = math.Abs(t.Angle)*f.far > o.Measuring.InexactFloat64()
	if !t.Clear {
		c.fact(registration.LevelNote, TurnSmall{Figure(math.Abs(t.Angle) * f.far)})
	}
	t.Remain, t.Greatest = rests(measured, f.at)
	program := decimal.NewFromFloat(-t.Angle * 180 / math.Pi).Round(5)
	t.Cures = append(cures(a, f), Cure{Program: &program, Angle: t.Angle, Pivot: a.BackZero})
	t.Best = best(t.Cures, a.Question.Unit)
	for i := range t.Cures {
		k := &t.Cures[i]
		if k.Shim != nil && a.Question.Contacts == nil && i == 0 {
			on := a.Question.ContactsOn(a.Used, k.Shim.Fence)
			c.fact(registration.LevelAssumed, Contacts{on.Fence[0], on.Fence[1], on.Stop})
		}
		// Once the blank is turned about the pivot by the same angle, the mismatch
		// everywhere is what it was at the pivot. It was measured along the part, which
		// lay turned by the angle the other way.
		d := f.at(k.Pivot)
		k.Shift = point9(d.Times(f.cosine).Sub(quarter(d).Times(f.sine)))
		k.Zero = Moved(a, k.Shift)
	}
	c.Turn = t
}

// cures are the ways to turn the blank by the angle. What serves both sides turns the
// face's cuts the other way on the part, so it takes half; the pivot is then midway
// between the back's own and the face's, seen from the back.
func cures(a *registration.Answer, f fitted) []Cure {
	switch a.Question.Register {
	case registration.FenceStop:
		return fenceCures(a, f)
	case registration.Dowels:
		return dowelCures(a, f)
	case registration.Plug:
		return plugCures(a, f)
	}
	return nil
}

// thinnest is the thinnest shim that is handled well, in mm and inches: common practice,
// from memory.
var thinnest = [2]decimal.Decimal{transform.MM: decimal.New(5, -2), transform.Inch: decimal.New(2, -3)}

// best chooses one cure: a shim at a fence, which serves every part, the one that stays in
// where there are two; else the programs are turned, since pins and plugs in drilled holes
// don't move by tenths.
func best(list []Cure, unit transform.Unit) int {
	for i := len(list) - 1; i >= 0; i-- {
		if s := list[i].Shim; s != nil && !s.Thick.LessThan(thinnest[unit]) {
			return i
		}
	}
	return len(list) - 1
}

var halfOf = decimal.New(5, -1)

func midway(p, q registration.Point) registration.Point { return p.Add(q).Times(halfOf) }

// over is a place of the face, seen from the back.
func over(a *registration.Answer, p registration.Point) registration.Point {
	return a.Question.Flip.TurnedPoint(p, a.Used)
}

// fenceCures are a shim at the back alone, and one that stays in where the same fence
// serves the face. The other contact keeps its height over the fence, the stop's its
// distance from the stop, so the blank turns about where their normals meet.
func fenceCures(a *registration.Answer, f fitted) []Cure {
	var fence, stop *registration.Touch
	for i := range a.Touches {
		if t := &a.Touches[i]; t.BackLocator == "fence" {
			fence = t
		} else {
			stop = t
		}
	}
	if fence == nil || stop == nil {
		return nil
	}
	q, b := a.Question, a.Used
	side := fence.BackSide
	on, stopAt := q.ContactsOn(b, side).Points(b, side, stop.BackSide)
	i := shimmed(side, f.sine.IsPositive())
	along := side == registration.Near || side == registration.Far
	pivot := func(still, stop registration.Point) registration.Point {
		if along {
			return registration.Point{X: still.X, Y: stop.Y}
		}
		return registration.Point{X: stop.X, Y: still.Y}
	}
	spacing := on[1].Sub(on[0])
	s := Shim{Fence: side, End: endOf(side, i), At: on[i], Thick: f.sine.Abs().Mul(spacing.X.Add(spacing.Y)).Round(places)}
	back := Cure{Shim: &s, Angle: f.angle(), Pivot: pivot(on[1-i], stopAt)}
	if !fence.Shared {
		return []Cure{back}
	}
	half := s
	half.Thick = s.Thick.Mul(halfOf)
	_, faceStop := q.ContactsOn(b, side).Points(b, side, stop.Side)
	both := Cure{Shim: &half, Angle: f.angle() / 2, Both: true, Pivot: midway(back.Pivot, over(a, pivot(on[1-i], faceStop)))}
	return []Cure{back, both}
}

// shimmed is the contact, 0 at the left or near end, at which the turn leads the edge
// away from a fence.
func shimmed(fence registration.Side, ccw bool) int {
	// Counter-clockwise about the blank's middle the right goes far and the far left.
	if up := fence == registration.Near || fence == registration.Right; up == ccw {
		return 1
	}
	return 0
}

// endOf names the end of a fence.
func endOf(fence registration.Side, i int) registration.Side {
	if fence == registration.Near || fence == registration.Far {
		return [2]registration.Side{registration.Left, registration.Right}[i]
	}
	return [2]registration.Side{registration.Near, registration.Far}[i]
}

// dowelCures move the dowel that stands farthest from the first.
func dowelCures(a *registration.Answer, f fitted) []Cure {
	if len(a.BackPins) < 2 || a.BackCorner == nil {
		return nil
	}
	from, far := 0, decimal.Zero
	for i, p := range a.BackPins {
		d := p.At.Sub(a.BackPins[0].At)
		if square := d.Dot(d); square.GreaterThan(far) {
			from, far = i, square
		}
	}
	if from == 0 {
		return nil
	}
	still, moved := a.BackPins[0].At, a.BackPins[from].At
	k := Cure{Pin: &PinMove{Pin: from + 1, At: moved, Move: quarter(moved.Sub(still)).Times(f.sine)}, Angle: f.angle(), Pivot: still.Sub(*a.BackCorner)}
	if a.Question.BackPin == nil {
		// The face turns about the same pin, which is under another hole if the holes
		// change over.
		k.half(over(a, still.Sub(a.FaceCorner)))
		for i, p := range a.FacePins {
			if p.At.X.Equal(moved.X) && p.At.Y.Equal(moved.Y) {
				k.Pin.Pin = i + 1
			}
		}
	}
	k.Pin.Move = point9(k.Pin.Move)
	return []Cure{k}
}

// half makes a cure serve both sides; face is the face's pivot, seen from the back.
func (k *Cure) half(face registration.Point) {
	k.Both, k.Angle, k.Pivot = true, k.Angle/2, midway(k.Pivot, face)
	if k.Pin != nil {
		k.Pin.Move = k.Pin.Move.Times(halfOf)
	}
	if k.Shim != nil {
		s := *k.Shim
		s.Thick = s.Thick.Mul(halfOf)
		k.Shim = &s
	}
}

// plugCures turn the blank on its plug: by the clocking pin, by a shim at the fence that
// clocks it, by that fence or by a plug with a flat itself.
func plugCures(a *registration.Answer, f fitted) []Cure {
	p := centre(a)
	if p == nil {
		return nil
	}
	faceCentre := over(a, a.Question.Bore.At)
	k := Cure{Angle: f.angle(), Pivot: *p}
	switch a.Question.Clock.Kind {
	case registration.ClockPin:
		if a.ClockAt == nil {
			return nil
		}
		k.Pin = &PinMove{At: *a.ClockAt, Move: quarter(a.ClockAt.Sub(*a.PlugAt)).Times(f.sine)}
		if !a.ClockMoves() {
			k.half(faceCentre)
		}
		k.Pin.Move = point9(k.Pin.Move)
		return []Cure{k}
	case registration.ClockFlat:
		k.Part = "plug"
		if a.Question.PlugAt == nil {
			k.half(faceCentre)
		}
		return []Cure{k}
	case registration.ClockFence:
		if len(a.Touches) == 0 {
			k.Part = "fence"
			return []Cure{k}
		}
		side := a.Touches[0].BackSide
		on, _ := a.Question.ContactsOn(a.Used, side).Points(a.Used, side, registration.NoSide)
		i := shimmed(side, f.sine.IsPositive())
		// How far the contact stands from the plug along the fence, on the side at which
		// the turn leads the edge away.
		lever := on[i].Sub(*p)
		l := lever.X
		if side == registration.Left || side == registration.Right {
			l = lever.Y
		}
		if i == 0 {
			l = l.Neg()
		}
		k.Shim = &Shim{Fence: side, End: endOf(side, i), At: on[i], Thick: f.sine.Abs().Mul(l).Round(places)}
		if !a.Touches[0].Shared {
			return []Cure{k}
		}
		both := k
		both.half(faceCentre)
		return []Cure{k, both}
	}
	return nil
}
