package registration

import (
	"errors"
	"testing"

	"flipcalc/mirror/transform"
)

// Wherever a pair of stations stands, the locators set for it must put the turned
// blank on the back station: L2 is computed from the locators, the station is not.
func TestAtPutsTheBlankOnTheStation(t *testing.T) {
	blank, _ := ParseSize("120x80x12", transform.MM)
	pins := []Pin{mustPin(t, "60,6,6"), mustPin(t, "60,74,5")}
	bore := mustPin(t, "30,40,12")
	plug := bore.Dia
	for _, flip := range []Flip{FlipX, FlipY} {
		for name, q := range map[string]Question{
			"dowels": {Register: Dowels, Pins: pins},
			"plug":   {Register: Plug, Bore: &bore, PlugD: &plug, Round: true},
			"fence":  {Register: FenceStop, Fence: Contact{Side: Near}, Stop: Contact{Side: Left}},
			"other":  {Register: FenceStop, Fence: Contact{Side: Far}, Stop: Contact{Side: Left}, BackFence: Contact{Side: Near}, BackStop: Contact{Side: Right}},
			"none":   {},
		} {
			if name == "dowels" && flip == FlipX {
				continue // that pattern maps about a line u = m only
			}
			q.Stock, q.Flip, q.Zero = &blank, flip, Zero{Name: "far-right"}
			a, err := Solve(q)
			if err != nil {
				t.Fatalf("%s %s: %v", name, flip, err)
			}
			z := d("-88")
			face := Station{Offset: "G54", Corner: Point{d("30"), d("30")}, Zero: Position{X: d("150"), Y: d("110"), Z: &z}}
			back := Station{Offset: "G56", Corner: Point{d("200.5"), d("30")}}
			got, err := a.At(face, back)
			if err != nil {
				t.Fatalf("%s %s: %v", name, flip, err)
			}
			if name == "none" {
				continue
			}
			if got.Second.Offset != "G56" || !got.Second.X.Equal(d("320.5")) || !got.Second.Y.Equal(d("110")) {
				t.Errorf("%s %s: second zero %+v, want X320.5 Y110 in G56", name, flip, *got.Second)
			}
		}
	}
}

func TestAtRefusesCoordinatesOfItsOwn(t *testing.T) {
	blank, _ := ParseSize("120x80x12", transform.MM)
	at := d("30")
	a, err := Solve(Question{Stock: &blank, Flip: FlipY, Register: FenceStop, Fence: Contact{Side: Near, Coord: &at}, Stop: Contact{Side: Left, Coord: &at}})
	if err != nil {
		t.Fatal(err)
	}
	_, err = a.At(Station{Offset: "G54"}, Station{Offset: "G56"})
	var e *Error
	if !errors.As(err, &e) || e.About != "fence" {
		t.Errorf("got %v", err)
	}
}

func mustPin(t *testing.T, s string) Pin {
	t.Helper()
	p, err := ParsePin(s, transform.MM)
	if err != nil {
		t.Fatal(err)
	}
	return p
}
