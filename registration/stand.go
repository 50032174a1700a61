package registration

import (
	"strconv"

	"github.com/shopspring/decimal"
)

// What a Stand is, where it isn't a dowel, which has its number too.
const (
	StandFence    = "fence"
	StandStop     = "stop"
	StandPlug     = "plug"
	StandIndexPin = "index pin"
)

// Stand is one thing that locates the blank on one side: a fence or a stop, a dowel, the
// plug or its index pin.
type Stand struct {
	Name    string
	Side    Side            // of the bed on which a fence or a stop is; NoSide for what stands in a hole
	At      Point           // where it stands; of a fence or a stop the coordinate across its side counts
	Machine bool            // At is in machine coordinates, else from the face zero
	Dia     decimal.Decimal // 0 where it isn't known
}

// Pin says that it stands in a hole of the blank.
func (s Stand) Pin() bool { return s.Side == NoSide }

// Coordinate is where a fence or a stop stands, along its axis.
func (s Stand) Coordinate() decimal.Decimal {
	if s.Side.Axis() == "Y" {
		return s.At.Y
	}
	return s.At.X
}

// Same says that one thing, unmoved, is the other too.
func (s Stand) Same(o Stand) bool {
	switch {
	case s.Side != o.Side || s.Machine != o.Machine:
		return false
	case s.Pin():
		return s.Dia.Equal(o.Dia) && s.At.Equal(o.At)
	}
	return s.Name == o.Name && s.Coordinate().Equal(o.Coordinate())
}

// Stands lists what locates the blank on one side, as far as its place is known.
func (a *Answer) Stands(back bool) (out []Stand) {
	q := &a.Question
	machine, pins := a.FaceMachine, a.FacePins
	if back {
		machine, pins = a.Machine, a.BackPins
	}
	for _, t := range a.Touches {
		out = append(out, t.stand(back))
	}
	for i, p := range pins {
		out = append(out, Stand{Name: "dowel " + strconv.Itoa(i+1), At: p.At, Machine: machine, Dia: p.Dia})
	}
	if q.Register != Plug || q.Bore == nil {
		return out
	}
	plug := Stand{Name: StandPlug, Machine: machine}
	if q.PlugD != nil {
		plug.Dia = *q.PlugD
	}
	index := Stand{Name: StandIndexPin, Machine: machine, Dia: q.Clock.Dia}
	plugAt, indexAt := a.PlugAt, a.ClockAt
	if !back {
		at, clock := a.FacePlace(q.Bore.At), a.FacePlace(q.Clock.Pin)
		plugAt, indexAt = &at, &clock
	}
	if plugAt != nil {
		plug.At = *plugAt
		out = append(out, plug)
	}
	if indexAt != nil && q.Clock.Kind == ClockPin {
		index.At = *indexAt
		out = append(out, index)
	}
	return out
}

// stand is a touch's fence or stop on one side.
func (t Touch) stand(back bool) Stand {
	s, at := Stand{Name: t.Locator, Side: t.Side, Machine: t.CoordKnown}, t.FaceCoord
	if back {
		s, at = Stand{Name: t.BackLocator, Side: t.BackSide, Machine: t.BackKnown}, t.BackCoord
		if s.Name == "" {
			s.Name = t.Locator
		}
	}
	s.At = Point{at, at}
	return s
}
