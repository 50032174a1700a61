package bed

import (
	"fmt"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
	"flipcalc/registration"
)

// Way is a move across the bed outside a station's own cuts, in machine coordinates of
// a Crossing's unit.
type Way struct {
	From, At registration.Point
	Known    bool   // both ends are
	Clear    bool   // it is made at the clear height
	To       string // what it leads to, for messages
	Where    string // program and line, for messages
}

// Crossing asks over which no-go areas a run goes. Lengths are in Unit.
type Crossing struct {
	Unit   transform.Unit
	Areas  []Area
	Ways   []Way
	Radius decimal.Decimal // of the widest cutter
}

// reachOf gives all that a tool may sweep on a way. The axes of a rapid need not arrive
// together, so what counts is the whole rectangle between its ends.
func (c *Crossing) reachOf(w Way) Rect {
	x, y := decimal.Min(w.From.X, w.At.X), decimal.Min(w.From.Y, w.At.Y)
	r := Rect{X: x, Y: y, W: decimal.Max(w.From.X, w.At.X).Sub(x), H: decimal.Max(w.From.Y, w.At.Y).Sub(y)}
	return r.Grow(c.Radius)
}

// Over gives the areas that ways pass over at the clear height, all of known height.
// The error names the first way that may not be: over an
// area that reaches up to the spindle, into one below the clear height, or between
// places that aren't known.
func (c *Crossing) Over() (areas []Area, err error) {
	met := make([]bool, len(c.Areas))
	for _, w := range c.Ways {
		if !w.Known && len(c.Areas) > 0 {
			return nil, &registration.Error{About: w.Where, No: true, Found: "a way to " + w.To + " between places that aren't known", Expected: "ways clear of no-go " + c.Areas[0].String(),
				Hint: "say where the stations lie (‹at›, or ‹pairs› with a machine file); home for G28"}
		}
		for i, a := range c.Areas {
			if !c.reachOf(w).Overlaps(a.Rect) {
				continue
			}
			at := fmt.Sprintf("X%s Y%s to X%s Y%s", w.From.X, w.From.Y, w.At.X, w.At.Y)
			switch {
			case !w.Clear:
				return nil, &registration.Error{About: w.Where, No: true, Found: "the way to " + w.To + ", " + at + ", meets " + noGoName(a) + " below the clear height",
					Expected: "a way clear of it", Hint: "take that move out of the program: the merged program goes up and across by itself"}
			case a.Height == nil:
				return nil, &registration.Error{About: w.Where, No: true, Found: "the way to " + w.To + ", " + at + ", goes over " + noGoName(a),
					Expected: "a way clear of it; a rapid need not run straight", Hint: "give its height over the bed, " + a.String() + ",HEIGHT, or place the stations otherwise"}
			}
			met[i] = true
		}
	}
	for i, a := range c.Areas {
		if met[i] {
			areas = append(areas, a)
		}
	}
	return areas, nil
}

// ParkFault says that a place to park, in the crossing's unit, lies in a no-go area,
// whatever its height: a tool that stands there can be lowered. nil is nothing.
func (c *Crossing) ParkFault(at registration.Point) *registration.Error {
	spot := Rect{X: at.X, Y: at.Y}
	for _, a := range c.Areas {
		if a.Holds(spot) || spot.Grow(c.Radius).Overlaps(a.Rect) {
			return &registration.Error{Found: fmt.Sprintf("a place to park at X%s Y%s, inside %s", at.X, at.Y, noGoName(a)),
				Expected: "a place beside every no-go area, cutter included"}
		}
	}
	return nil
}

// noGoName names an area as it was given.
func noGoName(a Area) string { return "no-go " + a.String() }
