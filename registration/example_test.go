package registration_test

import (
	"fmt"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
	"flipcalc/registration"
)

// A bread board against a fence at the near edge; the stop moves from the left
// to the right for the back, so the same edge touches both times.
func ExampleSolve() {
	stock, _ := registration.ParseSize("140x90x19", transform.MM)
	at, _ := registration.ParsePosition("50,60,-20", transform.MM)
	a, err := registration.Solve(registration.Question{
		Stock: &stock, Flip: registration.FlipY, At: &at,
		Register: registration.FenceStop,
		Fence:    registration.Contact{Side: registration.Near},
		Stop:     registration.Contact{Side: registration.Left},
		BackStop: registration.Contact{Side: registration.Right},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(a.Transform)
	fmt.Println(a.Second.Offset, a.Second.X, a.Second.Y, a.Second.Z)
	for _, t := range a.Touches {
		fmt.Printf("%s: %s edge, then %s edge\n", t.Locator, t.FaceEdge, t.BackEdge)
	}
	// Output:
	// x' = 140 - x, y' = y, z' = z
	// G55 50 60 -20
	// fence: near edge, then near edge
	// stop: left edge, then left edge
}

// A row marker on two dowels that don't stand on one line.
func ExampleSolve_refused() {
	stock, _ := registration.ParseSize("120x80x12", transform.MM)
	one, _ := registration.ParsePin("60,8,6", transform.MM)
	two, _ := registration.ParsePin("61,72,8", transform.MM)
	_, err := registration.Solve(registration.Question{
		Stock: &stock, Flip: registration.FlipY,
		Register: registration.Dowels, Pins: []registration.Pin{one, two},
	})
	e := err.(*registration.Error)
	fmt.Println(e.Found)
	// Output:
	// turned over (flip y), the holes don't come back over the dowels: the two stand 1 apart in X and 64 in Y
}

func ExampleParseLength() {
	for _, s := range []string{"4-3/4", "3/4in", "19mm", "1/3"} {
		v, err := registration.ParseLength(s, transform.MM)
		if err != nil {
			fmt.Println(err)
			continue
		}
		fmt.Println(v)
	}
	// Output:
	// 4.75
	// 19.05
	// 19
	// "1/3" is 0.333333... in mm, with no last digit, expected a length that ends; hint: write it with the decimals that you can set, or choose the other ‹units›
}

func ExampleParseContact() {
	c, err := registration.ParseContact("right@190", transform.MM)
	fmt.Println(c.Side, c.Coord, err)
	// Output:
	// right 190 <nil>
}

func ExampleAbout() {
	_, err := registration.ParseSide("top")
	fmt.Println(registration.About(err, "fence"))
	// Output:
	// fence: "top", expected near, far, left or right
}

func ExampleFirstFree() {
	fmt.Println(registration.FirstFree(false, "G54", "G55"))
	// Output:
	// G56
}

// A bobbin end of 70 x 70 on a plug with 0.05 of clearance, kept from turning by
// a pin 25 from the middle with 0.1.
func ExampleOnPlug() {
	blank, _ := registration.ParseSize("70x70x10", transform.MM)
	middle, _ := registration.ParsePoint("35,35", transform.MM)
	pin, _ := registration.ParsePoint("35,60", transform.MM)
	plugPlay, pinPlay := decimal.New(5, -2), decimal.New(1, -1)
	t := registration.OnPlug(blank, middle, &pin, &plugPlay, &pinPlay)
	fmt.Printf("%s mm at the rim, %s degrees\n", t.AtRim, t.Degrees)
	// Output:
	// 0.1685 mm at the rim, 0.1719 degrees
}
