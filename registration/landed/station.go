package landed

import (
	"github.com/shopspring/decimal"

	"flipcalc/registration"
)

// station carries what was measured at a station that is turned into a frame that is turned
// with it, and the correction back.
type station struct {
	k     registration.Quarter
	blank registration.Blank // its own W and H
}

func standing(a *registration.Answer) station { return station{a.FaceTurn, a.Used} }

// own gives the answer in that frame, with the second zero that the piece was cut with.
func (s station) own(a *registration.Answer) *registration.Answer {
	out := *a.Own()
	out.Second = a.Second.Moved(s.k.Back().Point)
	return &out
}

func (s station) measured(list []Measurement) (out []Measurement) {
	for _, m := range list {
		m.Off = s.k.Back().Point(m.Off)
		if m.At != nil {
			at := s.k.Back().On(s.k.Blank(s.blank), *m.At)
			m.At = &at
		}
		out = append(out, m)
	}
	return out
}

// correction carries a correction back to the machine's axes.
func (s station) correction(c *Correction) {
	c.Shift = s.k.Point(c.Shift)
	c.Zero, c.MovesZero = c.Zero.Moved(s.k.Point), c.MovesZero.Moved(s.k.Point)
	s.points(c.Remains)
	for i := range c.Locators {
		l := &c.Locators[i]
		l.Axis, l.Move = s.along(l.Axis, l.Move)
	}
	for i := range c.Facts {
		switch f := c.Facts[i].Is.(type) {
		case NoLocatorMove:
			f.Axis, f.Off = s.along(f.Axis, f.Off)
			c.Facts[i].Is = f
		case NotRigid:
			c.Facts[i].Is = s.cause(f)
		}
	}
	if c.Turn == nil {
		return
	}
	s.points(c.Turn.Remain)
	for i := range c.Turn.Cures {
		s.cure(&c.Turn.Cures[i])
	}
}

func (s station) points(list []registration.Point) {
	for i := range list {
		list[i] = s.k.Point(list[i])
	}
}

func (s station) cure(c *Cure) {
	c.Pivot, c.Shift, c.Zero = s.k.On(s.blank, c.Pivot), s.k.Point(c.Shift), c.Zero.Moved(s.k.Point)
	if c.Shim != nil {
		shim := *c.Shim
		shim.Fence, shim.End, shim.At = s.k.Side(shim.Fence), s.k.Side(shim.End), s.k.On(s.blank, shim.At)
		c.Shim = &shim
	}
	if c.Pin != nil {
		pin := *c.Pin
		pin.At, pin.Move = s.k.Point(pin.At), s.k.Point(pin.Move)
		c.Pin = &pin
	}
}

// cause names the axis along which a blank came out longer or shorter. A square that leans
// right as it goes far leans near as it goes right a quarter later: the other way, over the
// side that is H then.
func (s station) cause(f NotRigid) NotRigid {
	if s.k%2 == 0 {
		return f
	}
	switch f.Cause {
	case CauseSizeX:
		f.Cause = CauseSizeY
	case CauseSizeY:
		f.Cause = CauseSizeX
	case CauseSquare:
		f.Amount *= Figure(-s.blank.W.Div(s.blank.H).InexactFloat64())
	}
	return f
}

// along gives an axis and a way along it as they then lie.
func (s station) along(axis string, way decimal.Decimal) (string, decimal.Decimal) {
	p := registration.Point{Y: way}
	if axis == "x" {
		p = registration.Point{X: way}
	}
	p = s.k.Point(p)
	if (axis == "x") == (s.k%2 == 0) {
		return "x", p.X
	}
	return "y", p.Y
}
