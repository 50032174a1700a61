package bed

import (
	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
	"flipcalc/registration"
)

// cornerPlaces is the resolution to which corners placed in millimetres are
// rounded for a job in inches: 0.0001 in is 2.5 um, below what a stored offset of
// such a control holds (four decimals, common practice). A corner thus moves by at
// most 0.00005 in, far less than any gap.
const cornerPlaces = 4

// In gives an area that is in one unit in another one, to 1e-9 of it.
func (a Area) In(from, to transform.Unit) Area {
	c := convert(func(v decimal.Decimal) decimal.Decimal {
		w, _ := transform.Convert(v, from, to, places)
		return w
	})
	return Area{Rect: c.rect(a.Rect), Height: c.maybe(a.Height)}
}

// In gives the layout in unit u. From millimetres to inches corners and Z are
// rounded to 0.0001 in; each zero stays exactly as far from its corner as it was.
func (l *Layout) In(u transform.Unit) *Layout {
	if l.Unit == u {
		return l
	}
	length := func(v decimal.Decimal, places int32) decimal.Decimal {
		w, _ := transform.Convert(v, l.Unit, u, places)
		return w
	}
	rect := func(r Rect) Rect {
		return Rect{X: length(r.X, 6), Y: length(r.Y, 6), W: length(r.W, 6), H: length(r.H, 6)}
	}
	out := *l
	out.Unit = u
	out.Stations = nil
	for _, s := range l.Stations {
		c := registration.Point{X: length(s.Corner.X, cornerPlaces), Y: length(s.Corner.Y, cornerPlaces)}
		s.Zero.X = c.X.Add(length(s.Zero.X.Sub(s.Corner.X), 12))
		s.Zero.Y = c.Y.Add(length(s.Zero.Y.Sub(s.Corner.Y), 12))
		if s.Zero.Z != nil {
			z := length(*s.Zero.Z, cornerPlaces)
			s.Zero.Z = &z
		}
		s.Corner, s.Blank, s.Occupied, s.Reached = c, rect(s.Blank), rect(s.Occupied), rect(s.Reached)
		out.Stations = append(out.Stations, s)
	}
	return &out
}
