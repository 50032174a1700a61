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

// A piece of 119.8 by 80.3 at stations that were placed for 120 by 80, on a sketch. The face's
// zero, near-left, is at X30 Y30, the back's nominal blank from X200.5 Y30. The locators stand
// for the nominal blank: a far or right one leaves the piece what it is short or long by at its
// other side. A hole is as far from the edge at which it was drilled, so turned over the piece
// goes by the difference the other way, and the zero keeps its distance from the dowels. A
// quarter turned, the blank lies 80 along X: its own X runs along Y and its Y back along X.
func TestPieceAtStations(t *testing.T) {
	dowels := func(list ...string) func(q *Question) {
		return func(q *Question) {
			q.Register = Dowels
			for _, s := range list {
				q.Pins = append(q.Pins, mustPin(t, s))
			}
		}
	}
	fence := func(fence, stop, backStop Side) func(q *Question) {
		return func(q *Question) {
			q.Register, q.Fence.Side, q.Stop.Side, q.BackStop.Side = FenceStop, fence, stop, backStop
		}
	}
	plug := func(q *Question) {
		bore := mustPin(t, "30,40,12")
		q.Register, q.Bore, q.PlugD, q.Round = Plug, &bore, &bore.Dia, true
	}
	for _, c := range []struct {
		name               string
		flip               Flip
		turn               Quarter
		ask                func(q *Question)
		face, back, second string // near-left corners of the piece as it lies, and the second zero
	}{
		{"near fence, left stop", FlipY, 0, fence(Near, Left, Left), "30,30", "200.5,30", "200.5,30"},
		{"near fence, then a right stop", FlipY, 0, fence(Near, Left, Right), "30,30", "200.7,30", "200.7,30"},
		{"far fence", FlipY, 0, fence(Far, Left, Left), "30,29.7", "200.5,29.7", "200.5,29.7"},
		{"dowels, flip y", FlipY, 0, dowels("60,6,6", "60,74,5"), "30,30", "200.7,30", "200.5,30"},
		{"dowels, flip x", FlipX, 0, dowels("20,40,6", "100,40,5"), "30,30", "200.5,29.7", "200.5,30"},
		{"a plug, flip y", FlipY, 0, plug, "30,30", "200.7,30", "200.5,30"},
		{"a plug, flip x", FlipX, 0, plug, "30,30", "200.5,29.7", "200.5,30"},
		// Its own near-left corner is near-right now, nominally at X280.5 Y30.
		{"near fence, then a right stop, a quarter turned", FlipY, 1, fence(Near, Left, Right), "-50.3,30", "200.2,30.2", "280.5,30.2"},
		{"dowels, a quarter turned", FlipY, 1, dowels("60,6,6", "60,74,5"), "-50.3,30", "200.2,30.2", "280.5,30"},
		// Far-right at X320.5 Y110: the piece's own is 0.2 and 0.3 off, which leaves 200.7 and 29.7.
		{"near fence, left stop, which are far and right by half a turn", FlipY, 2, fence(Near, Left, Left), "-89.8,-50.3", "200.7,29.7", "320.5,110"},
	} {
		q := Question{Stock: &Blank{d("120"), d("80"), d("12")}, Measured: &Blank{d("119.8"), d("80.3"), d("12")}, Flip: c.flip, Zero: Zero{Name: "near-left"}}
		c.ask(&q)
		a, err := Solve(q)
		if err == nil {
			a, err = a.At(Station{Offset: "G54", Turn: c.turn, Zero: Position{X: d("30"), Y: d("30")}}, Station{Offset: "G55", Turn: c.turn, Corner: Point{d("200.5"), d("30")}})
		}
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if face, back, second := a.FaceCorner.String(), a.BackCorner.String(), a.Second.At().String(); face != c.face || back != c.back || second != c.second {
			t.Errorf("%s: the piece lies from %s and %s, zero %s; want %s and %s, zero %s", c.name, face, back, second, c.face, c.back, c.second)
		}
	}
}

// Stations are placed for the nominal length and width where locators are set for them, and
// for the piece where nothing on the bed locates it; for its thickness before a skim always.
func TestBedded(t *testing.T) {
	finder := d("10")
	for name, c := range map[string]struct {
		ask  func(q *Question)
		want string
	}{
		"fence":   {func(q *Question) { q.Register, q.Fence.Side, q.Stop.Side = FenceStop, Near, Left }, "120x80x12.4"},
		"dowels":  {func(q *Question) { q.Register, q.Pins = Dowels, []Pin{mustPin(t, "60,6,6"), mustPin(t, "60,74,5")} }, "120x80x12.4"},
		"nothing": {func(*Question) {}, "119.8x80.3x12.4"},
		"touched": {func(q *Question) {
			q.Register, q.Finder, q.Touched = Touched, &finder, touches("near@210,95", "near@310,95", "left@195,140")
		}, "119.8x80.3x12.4"},
	} {
		q := Question{Stock: &Blank{d("120"), d("80"), d("12")}, Measured: &Blank{d("119.8"), d("80.3"), d("12.4")}, Skimmed: d("0.5"), Flip: FlipY}
		c.ask(&q)
		a, err := Solve(q)
		if err != nil {
			t.Fatal(err)
		}
		if a, err = a.Bedded(); err != nil || a.Question.Measured.String() != c.want || a.Used.T.String() != "11.9" {
			t.Errorf("%s: %v, %s at the turn, %v; want %s", name, a.Question.Measured, a.Used.T, err, c.want)
		}
	}
}
