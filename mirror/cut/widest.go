package cut

import (
	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
)

// Widest gives the greatest cutter radius of the tools in unit u; 0 without tools.
// The diameter was read from a decimal, so rounding it to 1e-9 mm restores it; in
// inches the radius is rounded up at 1e-9.
func Widest(tools []Tool, u transform.Unit) decimal.Decimal {
	var widest float64
	for _, t := range tools {
		widest = max(widest, t.Diameter, t.Shank)
	}
	r := decimal.NewFromFloat(widest).Round(9).Div(decimal.New(2, 0))
	r, _ = transform.Convert(r, transform.MM, u, 12)
	return r.RoundCeil(9)
}
