package cut

import (
	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
)

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
