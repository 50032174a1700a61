package report

import (
	"github.com/shopspring/decimal"

	"flipcalc/mirror/cut"
	"flipcalc/mirror/transform"
)

// ToolOf lists a cutter with its lengths in unit. They were read from decimals, so
// rounding them to 1e-9 mm gives back what the maker wrote.
func ToolOf(t cut.Tool, unit transform.Unit) Tool {
	length := func(mm float64) decimal.Decimal {
		d, _ := transform.Convert(decimal.NewFromFloat(mm).Round(9), transform.MM, unit, 6)
		return d
	}
	out := Tool{Number: t.Number, Shape: t.Shape.String(), Dia: length(t.Diameter)}
	switch t.Shape {
	case cut.Vee, cut.Drill:
		x := decimal.NewFromFloat(t.Angle)
		out.X = &x
	case cut.Bull:
		x := length(t.Corner)
		out.X = &x
	}
	if t.Flute > 0 {
		f := length(t.Flute)
		out.Flute = &f
	}
	return out
}
