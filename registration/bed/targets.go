package bed

import (
	"github.com/shopspring/decimal"

	"flipcalc/registration"
)

// Targets lists what a station's zero is touched off against, given the answer for
// its pair: its locators, since the zero goes by them, or the blank's own edges
// where nothing locates the blank; and for Z the level that the program calls Z0.
func (s *Station) Targets(a *registration.Answer) []Target {
	q := a.Question
	back := s.Side == BackSide
	var out []Target
	switch q.Register {
	case registration.FenceStop:
		for _, t := range a.Touches {
			if back {
				t.Locator, t.Side = t.BackLocator, t.BackSide
			}
			out = append(out, s.Contact(t.Locator, t.Side))
		}
	case registration.Dowels:
		pins, placed := a.FacePins, a.FaceMachine
		if back {
			pins, placed = a.BackPins, a.Machine
		}
		if !placed {
			pins = nil
		}
		for _, p := range pins {
			// The pins stand in machine coordinates, as the station does.
			name := "dowel"
			if !p.Dia.IsZero() {
				name += " of " + p.Dia.String()
			}
			t := s.Centre(name, p.At.Sub(s.Corner))
			out = append(out, t[:]...)
		}
	case registration.Plug:
		if q.Bore != nil && (!back || a.PlugAt != nil && a.Machine) {
			at := s.Place(q.Bore.At)
			if back {
				at = *a.PlugAt
			}
			t := s.Centre("plug", at.Sub(s.Corner))
			out = append(out, t[:]...)
		}
	default:
		out = append(out, s.Edge(registration.Left), s.Edge(registration.Near))
	}
	zero := q.ZZero
	if back {
		zero = q.BackZZero
	}
	if zero == registration.Bed {
		return append(out, Level("seating plane", decimal.Decimal{}))
	}
	return append(out, Level("top of the blank", decimal.Decimal{}))
}
