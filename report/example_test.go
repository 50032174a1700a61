package report_test

import (
	"fmt"
	"os"

	"github.com/shopspring/decimal"

	"flipcalc/registration"
	"flipcalc/registration/bed"
	"flipcalc/report"
)

// breadBoard asks for a 140 x 90 x 19 mm board on a fence and two stops, turned
// over like a page.
func breadBoard() *registration.Answer {
	n := func(s string) decimal.Decimal { return decimal.RequireFromString(s) }
	z := n("-20")
	a, err := registration.Solve(registration.Question{
		Stock: &registration.Blank{W: n("140"), H: n("90"), T: n("19")}, Flip: registration.FlipY,
		Zero: registration.Zero{Name: "near-left"}, BackZero: registration.Zero{Name: "near-left"},
		ZZero: registration.Top, BackZZero: registration.Top, Offset: "G54", BackOffset: "G55",
		At:       &registration.Position{X: n("50"), Y: n("60"), Z: &z},
		Register: registration.FenceStop, Tool: "T1",
		Fence: registration.Contact{Side: registration.Near}, Stop: registration.Contact{Side: registration.Left},
		BackStop: registration.Contact{Side: registration.Right},
	})
	if err != nil {
		panic(err)
	}
	return a
}

func ExampleOneLine() {
	fmt.Println(report.OneLine(breadBoard()))
	// Output: G55 X50 Y60 Z-20
}

func ExampleTerminal() {
	err := report.Terminal(os.Stdout, report.Setup{
		Stations: []bed.Station{{Pair: 1, Side: bed.FaceSide, Offset: "G54"}, {Pair: 1, Side: bed.BackSide, Offset: "G55"}},
	}, report.Options{Width: 80, ASCII: true})
	if err != nil {
		panic(err)
	}
	// Output:
	// Zero and near-left corner in machine coordinates, mm
	// +------+------+--------+----+----+-----------+----------+----------+----------+
	// | Pair | Side | Offset | X0 | Y0 |        Z0 | Corner X | Corner Y | Lies     |
	// +------+------+--------+----+----+-----------+----------+----------+----------+
	// |    1 | face | G54    |  0 |  0 | touch off |        0 |        0 | straight |
	// |    1 | back | G55    |  0 |  0 | touch off |        0 |        0 | straight |
	// +------+------+--------+----+----+-----------+----------+----------+----------+
}
