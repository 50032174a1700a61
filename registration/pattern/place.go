package pattern

import (
	"fmt"
	"slices"

	"github.com/shopspring/decimal"

	"flipcalc/registration"
)

// place finds style, diameters and places.
func (p *Pattern) place(s site) ([]registration.Pin, error) {
	most := greatest.in(s.q.Unit)
	styles := s.styles()
	for _, t := range s.tries(styles) {
		for thinner := most.Add(most); ; {
			dia, err := s.diameters(t.style, thinner)
			if err != nil {
				if s.o.Clear == nil || thinner.GreaterThan(most) && len(styles) == 1 {
					return nil, err // not for want of a clear place
				}
				break
			}
			places, err := s.spots(t, dia)
			if err != nil && s.o.Clear == nil {
				return nil, err
			}
			if err == nil && places != nil {
				p.Style = t.style
				for _, d := range dia {
					p.Strip = decimal.Max(p.Strip, s.strip(d))
				}
				if s.o.Margin == nil {
					p.fact(registration.LevelAssumed, MarginAssumed{p.Strip})
				}
				return places, nil
			}
			if thinner = dia[0]; len(s.o.Diameters) > 0 || len(s.q.Hole) > 0 {
				break
			}
		}
	}
	return nil, &registration.Error{About: "margin", No: true, Found: "no place in the waste is clear of the cuts of both sides",
		Expected: fmt.Sprintf("%s %s of wood between a hole and every cut", Wall(s.q.Unit), s.q.Unit),
		Hint:     "leave more waste and give its width as ‹margin›, or use thinner dowels, the other flip, or a fence and stop"}
}

// styles are those that suit what was asked for, the one to be tried first first; the
// second is tried only where the first may stand in a cut.
func (s site) styles() []Style {
	list := []Style{Pair, Line}
	switch dia := len(s.o.Diameters); {
	case s.o.Style != "":
		return []Style{s.o.Style}
	case dia == 2 && (len(s.q.Hole) == 0 || s.holesOfTwo()):
		return []Style{Line}
	case dia == 1 || len(s.q.Hole) > 0: // one diameter, so different ones can't tell the ends apart
		return []Style{Pair}
	case s.along.Mul(two).GreaterThanOrEqual(s.across):
		list = []Style{Line, Pair}
	}
	if s.o.Clear == nil {
		return list[:1]
	}
	return list
}

// try is a style, with the flip line in the blank's middle or aside of it.
type try struct {
	style Style
	aside bool
}

// tries lists what is tried in order: thinner dowels in the middle come before a flip
// line aside of it, which shifts the turned blank by twice as much.
func (s site) tries(styles []Style) (list []try) {
	for _, style := range styles {
		list = append(list, try{style: style})
	}
	if s.o.Clear != nil && slices.Contains(styles, Line) {
		list = append(list, try{Line, true})
	}
	return list
}

// spots finds the places of dowels of a style, those that stand farthest apart first;
// nil where none is clear.
func (s site) spots(t try, dia []decimal.Decimal) ([]registration.Pin, error) {
	if t.style == Line {
		return s.line(dia[0], dia[1], t.aside)
	}
	return s.pair(dia[0])
}

// line finds two dowels on the flip line.
func (s site) line(thick, thin decimal.Decimal, aside bool) ([]registration.Pin, error) {
	least := thick.Mul(three)
	if span := s.along.Sub(inset(thick)).Sub(inset(thin)); span.LessThan(least) {
		return nil, s.tooSmall(span, thick)
	}
	lines := []decimal.Decimal{s.across.Mul(half)}
	if aside {
		lines = s.about(s.across, thick)[1:]
	}
	for _, m := range lines {
		for _, near := range s.insets(thick) {
			first := s.at(m, near, thick)
			if !s.clear(first) {
				continue
			}
			for _, far := range s.insets(thin) {
				far = s.along.Sub(far)
				if last := s.at(m, far, thin); s.clear(last) && far.Sub(near).GreaterThanOrEqual(least) {
					return []registration.Pin{first, last}, nil
				}
			}
		}
	}
	return nil, nil
}

// pair finds two equal dowels either side of the flip line, and a third on it that tells
// the line's ends apart: it lies off the line's middle by more than the play, and not over
// the pair's join.
func (s site) pair(d decimal.Decimal) ([]registration.Pin, error) {
	if spacing := s.across.Sub(inset(d)).Sub(inset(d)); spacing.LessThan(d.Mul(three)) {
		return nil, s.tooSmall(spacing, d)
	}
	if off := s.along.Mul(half).Sub(inset(d)); off.LessThan(d) {
		return nil, s.tooSmall(off, d)
	}
	for _, e := range s.insets(d) {
		if s.across.Sub(e).Sub(e).LessThan(d.Mul(three)) {
			break
		}
		for _, l := range s.about(s.along, d) {
			left, right := s.at(e, l, d), s.at(s.across.Sub(e), l, d)
			if !s.clear(left, right) {
				continue
			}
			for _, i := range s.insets(d) {
				for _, on := range []decimal.Decimal{i, s.along.Sub(i)} {
					if third := s.at(s.across.Mul(half), on, d); on.Sub(l).Abs().GreaterThanOrEqual(d) && s.clear(third) {
						return []registration.Pin{left, right, third}, nil
					}
				}
			}
		}
	}
	return nil, nil
}

// at is a dowel at a across the flip line and l along it.
func (s site) at(a, l, dia decimal.Decimal) registration.Pin {
	if s.q.Flip == registration.FlipX {
		a, l = l, a
	}
	return registration.Pin{At: registration.Point{X: a, Y: l}, Dia: dia}
}

// clear reports whether the holes of dowels keep a wall from every cut.
func (s site) clear(pins ...registration.Pin) bool {
	return s.o.Clear == nil || !slices.ContainsFunc(pins, func(p registration.Pin) bool {
		return !s.o.Clear(p.At, s.holeFor(p.Dia).Mul(half).Add(Wall(s.q.Unit)))
	})
}

// step is how far apart the places are that are tried.
func (s site) step() decimal.Decimal { return byUnit{"1", "0.0625"}.in(s.q.Unit) }

// insets are how far a hole's centre may lie from an edge inside the waste.
func (s site) insets(d decimal.Decimal) (list []decimal.Decimal) {
	most := inset(d)
	if s.o.Margin != nil && s.o.Clear != nil {
		most = decimal.Max(most, s.o.Margin.Sub(s.holeFor(d).Mul(half)))
	}
	for e := inset(d); e.LessThanOrEqual(most); e = e.Add(s.step()) {
		list = append(list, e)
	}
	return list
}

// about lists places on either side of the middle of a length, the nearest first.
func (s site) about(length, d decimal.Decimal) []decimal.Decimal {
	middle := length.Mul(half)
	list := []decimal.Decimal{middle}
	for k := s.step(); s.o.Clear != nil && middle.Sub(k).GreaterThanOrEqual(inset(d)); k = k.Add(s.step()) {
		list = append(list, middle.Sub(k), middle.Add(k))
	}
	return list
}

func (s site) tooSmall(spacing, dia decimal.Decimal) error {
	return &registration.Error{About: "stock", No: true,
		Found:    fmt.Sprintf("dowels of %s would be only %s apart on a blank of %s by %s", dia, spacing, s.b.W, s.b.H),
		Expected: "at least three diameters",
		Hint:     "use thinner dowels, the other flip, or a fence and stop"}
}

// given looks where given dowels lie against the margin.
func (p *Pattern) given(s site) {
	for i, pin := range s.q.Pins {
		r := pin.Dia.Mul(half)
		if hole := s.q.HoleOf(i); hole != nil {
			r = decimal.Max(r, hole.Mul(half))
		}
		depth := s.b.Inset(pin.At).Add(r)
		p.Strip = decimal.Max(p.Strip, depth)
		if s.o.Margin != nil && depth.GreaterThan(*s.o.Margin) {
			p.fact(registration.LevelWarning, OutsideMargin{i + 1, depth.Sub(*s.o.Margin)})
		}
		if s.o.Clear != nil && !s.o.Clear(pin.At, r) {
			p.fact(registration.LevelWarning, PinUnderCut{i + 1})
		}
	}
}
