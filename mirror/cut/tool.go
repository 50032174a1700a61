// Package cut cuts the face and the back program of one blank in memory: it
// sweeps every cutter along its moves over a grid of heights and says what the
// wood would say too late. It finds where the two sides meet, where a web is too
// thin, which through cuts don't meet, and what the cutter runs into.
//
// All lengths are float64 in millimetres and all angles in degrees unless said
// otherwise; exact lengths stay with the caller. Places in results are in the
// coordinates of the face program (X and Y from the face zero).
package cut

import (
	"fmt"
	"math"
	"strings"

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
	Shank    float64 // diameter above the flutes, mm; 0 is the cutting diameter
}

// maxDiameter is the greatest diameter taken, mm; anything larger is a slip.
const maxDiameter = 1000

// ParseTool reads one cutter as NUMBER=SHAPE,DIAMETER[,X], for example "1=flat,6",
// "2=ball,3", "3=vee,6,60" (included angle in degrees), "4=bull,6,1" (corner
// radius) or "5=drill,3,118" (point angle in degrees). Plain lengths are in unit; "mm" or "in" behind a length and fractions
// such as 1/4 or 1-1/8 are taken too. The tool's lengths come back in millimetres.
// The error is a *fault.Error.
func ParseTool(s string, unit transform.Unit) (Tool, error) {
	bad := func(found, expected string) (Tool, error) {
		return Tool{}, &fault.Error{
			Found:    fmt.Sprintf("tool %q: %s", s, found),
			Expected: expected,
			Hint:     "write a tool as 1=flat,6 or 2=ball,3 or 3=vee,6,60 or 4=bull,6,1 or 5=drill,3,118",
		}
	}
	num, rest, ok := strings.Cut(s, "=")
	if !ok {
		return bad("no '='", "NUMBER=SHAPE,DIAMETER")
	}
	var t Tool
	num = strings.TrimSpace(num)
	if num == "" || len(num) > 6 || strings.Trim(num, "0123456789") != "" {
		return bad(fmt.Sprintf("number %q", num), "a whole number from 0")
	}
	for _, c := range num {
		t.Number = 10*t.Number + int(c-'0')
	}
	words := strings.Split(rest, ",")
	for i := range words {
		words[i] = strings.TrimSpace(words[i])
	}
	shape := -1
	for i := range shapes {
		if strings.EqualFold(words[0], shapes[i].name) {
			shape = i
		}
	}
	if shape < 0 {
		return bad(fmt.Sprintf("shape %q", words[0]), "flat, ball, vee, bull or drill")
	}
	t.Shape = Shape(shape)
	want, expected := 2, "the diameter"
	if third := shapes[shape].third; third != "" {
		want, expected = 3, "diameter and "+third
	}
	if len(words) != want {
		found := fmt.Sprintf("%d values", len(words)-1)
		if len(words) == 2 {
			found = "1 value"
		}
		return bad(found+" after the shape", expected)
	}
	var err error
	if t.Diameter, err = parseLength(words[1], unit); err != nil {
		return bad("diameter "+err.Error(), "a length over 0")
	}
	switch t.Shape {
	case Vee, Drill:
		d, derr := decimal.NewFromString(words[2])
		if derr != nil || strings.ContainsAny(words[2], "eE") {
			return bad(fmt.Sprintf("angle %q", words[2]), "degrees over 0 and under 180")
		}
		t.Angle = d.InexactFloat64()
	case Bull:
		if t.Corner, err = parseLength(words[2], unit); err != nil {
			return bad("corner radius "+err.Error(), "a length over 0")
		}
	}
	if err := t.Validate(); err != nil {
		f := err.(*fault.Error)
		return bad(f.Found, f.Expected)
	}
	return t, nil
}

// parseLength reads a length over 0: a decimal, a fraction a/b or n-a/b, each
// with mm or in behind it where it isn't in unit. The result is in millimetres.
func parseLength(s string, unit transform.Unit) (float64, error) {
	text := strings.ToLower(s)
	switch {
	case strings.HasSuffix(text, "mm"):
		unit, text = transform.MM, strings.TrimSpace(text[:len(text)-2])
	case strings.HasSuffix(text, "in"):
		unit, text = transform.Inch, strings.TrimSpace(text[:len(text)-2])
	}
	fail := fmt.Errorf("%q", s)
	if text == "" || len(text) > 40 || strings.Trim(text, "0123456789./-") != "" {
		return 0, fail
	}
	whole, frac := "0", text
	if w, f, ok := strings.Cut(text, "-"); ok {
		whole, frac = w, f
		if !strings.Contains(f, "/") {
			return 0, fail
		}
	}
	a, b, isFrac := strings.Cut(frac, "/")
	w, err1 := decimal.NewFromString(whole)
	n, err2 := decimal.NewFromString(a)
	if err1 != nil || err2 != nil {
		return 0, fail
	}
	d := decimal.New(1, 0)
	if isFrac {
		var err error
		if d, err = decimal.NewFromString(b); err != nil || d.Sign() <= 0 {
			return 0, fail
		}
	}
	v := w.Add(n.DivRound(d, 12))
	v = transform.InMM(v, unit)
	if v.Sign() <= 0 {
		return 0, fail
	}
	return v.InexactFloat64(), nil
}

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
	case !(t.Shank >= 0 && t.Shank <= maxDiameter):
		return bad("shank diameter", t.Shank, "from 0 to 1000 mm")
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
		widest = max(widest, t.Diameter, t.Shank)
	}
	r := decimal.NewFromFloat(widest).Round(9).Div(decimal.New(2, 0))
	r, exact := transform.Convert(r, transform.MM, u, 12)
	if !exact {
		return r.RoundCeil(8)
	}
	return r.RoundCeil(9)
}
