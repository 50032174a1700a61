// Package cut cuts the face and the back program of one blank in memory: it
// sweeps every cutter along the way that it really takes, compensation counted, over a grid
// of heights, and says what the wood, the pins and clamps and the end of the travel would
// say too late. It finds where the two sides meet, where a web is too
// thin, which through cuts don't meet, and what the cutter runs into.
//
// All lengths are float64 in millimetres and all angles in degrees unless said
// otherwise; exact lengths stay with the caller. Places in results are in the
// coordinates of the face program (X and Y from the face zero).
package cut

import (
	"math"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/fault"
	"flipcalc/mirror/transform"
)

// Shape is the shape of a cutter's end.
type Shape uint8

// The five shapes.
const (
	Flat  Shape = iota // flat end mill, drill taken as flat
	Ball               // ball nose
	Vee                // cone with a sharp tip
	Bull               // flat end with a corner radius
	Drill              // drill with a point: depths are its tip's
)

// shapes are the shapes as the maker writes them, with what is written behind the
// diameter, "" for nothing.
var shapes = [...]struct{ name, third, meaning string }{
	Flat:  {"flat", "", "flat end"},
	Ball:  {"ball", "", "ball nose"},
	Vee:   {"vee", "included angle", "cone with a sharp tip"},
	Bull:  {"bull", "corner radius", "flat end with rounded corners"},
	Drill: {"drill", "point angle", "drill with a point; depths are its tip's"},
}

// Shapes lists the shapes.
func Shapes() []Shape { return []Shape{Flat, Ball, Vee, Bull, Drill} }

// String gives the shape's name as the maker writes it.
func (s Shape) String() string { return shapes[s].name }

// Third names what is written behind the diameter, "" for nothing.
func (s Shape) Third() string { return shapes[s].third }

// Meaning says what the shape is and what is written behind its diameter.
func (s Shape) Meaning() string {
	if t := shapes[s].third; t != "" {
		return shapes[s].meaning + "; diameter and " + t
	}
	return shapes[s].meaning + "; diameter"
}

// Tool is one cutter.
type Tool struct {
	Number   int
	Shape    Shape
	Diameter float64 // greatest cutting diameter, mm
	Angle    float64 // vee and drill: the included angle of the point, degrees
	Corner   float64 // bull: the corner radius, mm
	Flute    float64 // length that cuts, from the tip, mm; 0 is not known
}

// maxDiameter is the greatest diameter taken, mm; anything larger is a slip.
const maxDiameter = 1000

// Validate says why a tool can't be: a *fault.Error or nil.
func (t Tool) Validate() error {
	bad := func(what string, v float64, expected string) error {
		return &fault.Error{Found: what + " " + fault.Number(v), Expected: expected}
	}
	switch {
	case int(t.Shape) >= len(shapes):
		return bad("shape", float64(t.Shape), "flat, ball, vee, bull or drill")
	case !(t.Diameter > 0 && t.Diameter <= maxDiameter):
		return bad("diameter", t.Diameter, "over 0 and at most 1000 mm")
	case (t.Shape == Vee || t.Shape == Drill) && !(t.Angle > 0 && t.Angle < 180):
		return bad("included angle", t.Angle, "over 0 and under 180 degrees")
	case t.Shape == Bull && !(t.Corner > 0 && t.Corner <= t.Diameter/2):
		return bad("corner radius", t.Corner, "over 0 and at most half the diameter")
	case !(t.Flute >= 0) || math.IsInf(t.Flute, 0):
		return bad("flute length", t.Flute, "0 or more")
	}
	return nil
}

// Widest gives the greatest cutter radius of the tools in unit u; 0 without tools.
// The diameter was read from a decimal, so rounding it to 1e-9 mm restores it; in
// inches the radius, which of a metric cutter has no last digit, is rounded up at 1e-8,
// so that it has at most 9 decimals in millimetres too. It only keeps cutters clear of
// things: no coordinate is reckoned from it.
func Widest(tools []Tool, u transform.Unit) decimal.Decimal {
	var widest float64
	for _, t := range tools {
		widest = max(widest, t.Diameter)
	}
	r := decimal.NewFromFloat(widest).Round(9).Div(decimal.New(2, 0))
	r, exact := transform.Convert(r, transform.MM, u, 12)
	if !exact {
		return r.RoundCeil(8)
	}
	return r.RoundCeil(9)
}
