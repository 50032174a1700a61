package pattern

import (
	"fmt"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
	"flipcalc/registration"
)

// site is a blank with what is asked of its dowels.
type site struct {
	q             registration.Question
	o             Options
	b             registration.Blank // with the face up
	along, across decimal.Decimal    // the flip line's length, and the size across it
}

// siteOf refuses questions without an answer.
func siteOf(q registration.Question, o Options) (site, error) {
	bare := q
	bare.Register, bare.Pins, bare.Hole = registration.NoRegister, nil, nil
	a, err := registration.Solve(bare)
	if err != nil {
		return site{}, err
	}
	s := site{q: q, o: o, b: a.Used, along: a.Used.H, across: a.Used.W}
	s.b.T = a.Uncut()
	if q.Flip == registration.FlipX {
		s.along, s.across = s.across, s.along
	}
	return s, s.check()
}

// check refuses options that contradict the question or each other.
func (s site) check() error {
	q, o := s.q, s.o
	switch {
	case o.Standard.Unit() != q.Unit:
		return &registration.Error{About: "standard", Found: fmt.Sprintf("dowels of %s with lengths in %s", o.Standard, q.Unit),
			Expected: "a standard in the same unit", Hint: "or the other ‹units›"}
	case o.Over.IsNegative():
		return &registration.Error{About: "over", Found: o.Over.String(), Expected: "0 or more"}
	case o.Spoilboard.IsNegative():
		return &registration.Error{About: "spoilboard", Found: o.Spoilboard.String(), Expected: "0 or more"}
	case o.Margin != nil && !o.Margin.IsPositive():
		return &registration.Error{About: "margin", Found: o.Margin.String(), Expected: "a width over 0"}
	case o.Style != "" && o.Style != Line && o.Style != Pair:
		return &registration.Error{About: "pattern", Found: fmt.Sprintf("%q", string(o.Style)), Expected: "line or pair"}
	case q.Fit != "" && len(q.Hole) > 0:
		return &registration.Error{About: "hole", Found: "a hole and a fit", Expected: "one of the two"}
	case len(q.Hole) > 1 && len(q.Pins) == 0 && !s.holesOfTwo():
		return &registration.Error{About: "hole", Found: fmt.Sprintf("%d holes and no dowels", len(q.Hole)), Expected: "a ‹pin› or a ‹diameter› for each, in the same order"}
	}
	return nil
}

// holesOfTwo reports whether two diameters are asked for with a hole for each.
func (s site) holesOfTwo() bool {
	return len(s.q.Hole) == 2 && len(s.o.Diameters) == 2
}

// inset is how far a hole's centre lies from the edge: one diameter, so that half
// a diameter of wood is left (common practice).
func inset(dia decimal.Decimal) decimal.Decimal { return dia }

// strip is the width of waste that the hole of a pin takes.
func (s site) strip(dia decimal.Decimal) decimal.Decimal {
	return inset(dia).Add(s.holeFor(dia).Mul(half))
}

// holeFor is the diameter of the hole that a pin to be proposed gets: the one that is
// given for it, or its own.
func (s site) holeFor(dia decimal.Decimal) decimal.Decimal {
	switch {
	case s.holesOfTwo(): // the thicker pin's stands first
		if dia.Equal(decimal.Max(s.o.Diameters[0], s.o.Diameters[1:]...)) {
			return s.q.Hole[0]
		}
		return s.q.Hole[1]
	case len(s.q.Hole) == 1:
		return s.q.Hole[0]
	}
	return dia
}

// room is the greatest length of a pin inside the blank: its end stays below the
// top and below any cut over it.
func (s site) room() decimal.Decimal {
	over := decimal.Max(s.o.Over, s.q.Skimmed)
	return s.b.T.Sub(over).Sub(under.in(s.q.Unit))
}

// Wall is the least wood between a dowel's hole and a cut of either side: 1 mm or
// 0.04 in, for a cutter that runs out and a hole that is drilled wide (common practice).
func Wall(u transform.Unit) decimal.Decimal { return byUnit{"1", "0.04"}.in(u) }
