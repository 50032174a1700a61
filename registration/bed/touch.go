package bed

import (
	"github.com/shopspring/decimal"

	"flipcalc/registration"
)

// Target is something at a known place that a station's zero can be touched off
// against along one axis, 0 for X, 1 for Y, 2 for Z.
type Target struct {
	What string
	Axis int
	// At is its coordinate: for X and Y from the station's corner, for Z from the
	// level that the program calls Z0.
	At decimal.Decimal
	// Side is +1 where the tool stands beyond the target, on the side of greater
	// coordinates, -1 where it stands before it, and 0 where it is centred on it.
	Side int
}

// Touch is the reading of one touch-off.
type Touch struct {
	Target
	// Reads is what the axis reads in the station's own offset when the tool
	// touches: the value to enter there.
	Reads decimal.Decimal
	// Machine is what the axis then reads in machine coordinates if the station
	// stands where the layout has it; nil for a Z that isn't known.
	Machine *decimal.Decimal
}

// Edge is the blank's own edge, touched from outside. With a fence or stop a zero
// isn't touched off like that: the size error of that one blank would enter.
func (s *Station) Edge(side registration.Side) Target { return s.edge("edge of the blank", side, -1) }

// Contact is the face of a fence or stop that stands at a side, touched from where
// the blank will lie, before it is put in.
func (s *Station) Contact(what string, side registration.Side) Target {
	return s.edge(what, side, 1)
}

// edge gives a target on one side; inward is +1 if the tool stands inside.
func (s *Station) edge(what string, side registration.Side, inward int) Target {
	t := Target{What: sideNames[side] + " " + what, Side: inward}
	switch side {
	case registration.Right:
		t.At, t.Side = s.Blank.W, -inward
	case registration.Near:
		t.Axis = 1
	case registration.Far:
		t.Axis, t.At, t.Side = 1, s.Blank.H, -inward
	}
	return t
}

var sideNames = map[registration.Side]string{
	registration.Near: "near", registration.Far: "far", registration.Left: "left", registration.Right: "right",
}

// Centre gives the two targets of a pin or plug that the spindle is centred on;
// at is its place from the station's corner.
func (s *Station) Centre(what string, at registration.Point) [2]Target {
	return [2]Target{{What: what, Axis: 0, At: at.X}, {What: what, Axis: 1, At: at.Y}}
}

// Level is a surface that the tool comes down on, height above the level that the
// program calls Z0.
func Level(what string, height decimal.Decimal) Target {
	return Target{What: what, Axis: 2, At: height, Side: 1}
}

// TouchOff says what the axis reads when a tool of the given radius touches the
// target with a feeler gauge or a slip of paper of the given thickness between
// them: target + side * (radius + feeler), no radius in Z. All in the layout's unit.
func (s *Station) TouchOff(t Target, radius, feeler decimal.Decimal) Touch {
	off := feeler
	if t.Axis < 2 {
		off = off.Add(radius)
	}
	at := t.At.Add(off.Mul(decimal.NewFromInt(int64(t.Side))))
	touch := Touch{Target: t, Reads: at}
	switch t.Axis {
	case 0:
		m := s.Corner.X.Add(at)
		touch.Machine, touch.Reads = &m, m.Sub(s.Zero.X)
	case 1:
		m := s.Corner.Y.Add(at)
		touch.Machine, touch.Reads = &m, m.Sub(s.Zero.Y)
	default:
		if s.Zero.Z != nil {
			m := s.Zero.Z.Add(at)
			touch.Machine = &m
		}
	}
	return touch
}
