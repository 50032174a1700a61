package budget

import (
	"testing"

	"flipcalc/registration"
)

// A question gives the same budget before and after the solver has filled in
// what wasn't said, and the two agree on which locators serve both sides.
func TestSolvedQuestion(t *testing.T) {
	plug := markers()
	plug.Register, plug.Bore = registration.Plug, &registration.Pin{At: point("60", "40"), Dia: dec("30")}
	plug.Clock = registration.Clocking{Kind: registration.ClockPin, Pin: point("60", "8"), Dia: dec("6")}
	at := &registration.Position{X: dec("50"), Y: dec("60")}
	questions := map[string]registration.Question{"dowels": markers(), "plug": plug}
	for _, stop := range []registration.Side{noSide, rightSide, leftSide} {
		for _, coord := range []string{"", "190"} {
			q := registration.Question{
				Stock: &registration.Blank{W: dec("140"), H: dec("90"), T: dec("19")}, Flip: registration.FlipY,
				Register: registration.FenceStop, At: at,
				Fence: registration.Contact{Side: nearSide}, Stop: registration.Contact{Side: leftSide},
				BackStop: registration.Contact{Side: stop},
			}
			if coord != "" && stop != noSide {
				q.BackStop.Coord = decp(coord)
			}
			questions["fence, back stop "+stop.String()+coord] = q
		}
	}
	same := questions["fence, back stop "+leftSide.String()]
	same.BackStop.Coord = decp("50") // where the face's stop stands anyway
	questions["fence, the same stop by its coordinate"] = same
	for name, q := range questions {
		a, err := registration.Solve(q)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		before, err := of(q, Options{})
		if err != nil {
			t.Fatal(err)
		}
		after, err := For(a, Options{})
		if err != nil {
			t.Fatal(err)
		}
		if name != "fence, the same stop by its coordinate" {
			near(t, name, after.Worst, before.Worst, 1e-12)
			near(t, name+" likely", after.Likely, before.Likely, 1e-12)
		}
		for _, touch := range a.Touches {
			axis := "y"
			if touch.Side == leftSide || touch.Side == rightSide {
				axis = "x"
			}
			apart := false
			for _, term := range after.Terms {
				apart = apart || term.Name == Locator && term.Axis == axis && term.Sides != "both"
			}
			if apart == touch.Shared {
				t.Errorf("%s: %s shared %v, budget has two %v", name, touch.Locator, touch.Shared, apart)
			}
		}
	}
}
