package budget

import (
	"math"
	"strings"
	"testing"

	"flipcalc/mirror/fact"
	"flipcalc/mirror/transform"
	"flipcalc/registration"
)

// Wood Handbook (FPL-GTR-190, 2010), chapter 13: a white fir board of 232 mm
// going from 8 to 11 % grows by 1.7 mm. Its flatsawn coefficient 0.00245 is a
// value from memory that gives that figure.
func TestHandbookExample(t *testing.T) {
	s, err := FindWood("white fir")
	if err != nil || !s.FromMemory {
		t.Fatal(s, err)
	}
	if m := s.Movement(dec("232"), dec("3"), false); !m.Round(1).Equal(dec("1.7")) {
		t.Errorf("232 mm, 3 %%: %s mm, want 1.7", m)
	}
	if !s.Radial.Equal(dec("0.00112")) { // used for the thickness in the same example
		t.Errorf("radial %s", s.Radial)
	}
}

// 300 mm by 2 %: flatsawn and quartersawn, derived from table 13-5.
func TestMovement(t *testing.T) {
	for _, c := range []struct{ wood, flat, quarter string }{
		{"red oak", "2.214", "0.948"}, {"oak, red", "2.214", "0.948"}, {"Sugar Maple", "2.118", "0.990"},
		{"walnut", "1.644", "1.140"}, {"cherry", "1.488", "0.756"}, {"basswood", "1.980", "1.380"},
		{"beech", "2.586", "1.140"},
		{"0.431", "2.586", "2.586"}, // beech, flatsawn, as the maker's own figure
	} {
		s, err := FindWood(c.wood)
		if err != nil {
			t.Errorf("%s: %v", c.wood, err)
			continue
		}
		flat, quarter := s.Movement(dec("300"), dec("2"), false), s.Movement(dec("300"), dec("2"), true)
		if !flat.Equal(dec(c.flat)) || !quarter.Equal(dec(c.quarter)) {
			t.Errorf("%s: %s / %s, want %s / %s", c.wood, flat, quarter, c.flat, c.quarter)
		}
	}
}

func TestFindWood(t *testing.T) {
	for _, c := range []struct{ name, want string }{
		{"oak", `wood: "oak", expected which one: oak, live white; oak, red; oak, white`},
		{"white", `wood: "white", expected which one: ash, white; oak, live white; oak, white; fir, white; pine, eastern white`},
		{"", `wood: "", expected one of: alder, red; `},
		{"plastic", `wood: "plastic", expected one of: alder, red; `},
		{"0", `wood: 0, expected % of movement for each % of moisture, above 0, at most 1`},
		{"35", `wood: 35, expected % of movement`}, // hundredths of a percent, taken for percent
	} {
		_, err := FindWood(c.name)
		if err == nil || !strings.HasPrefix(err.Error(), c.want) {
			t.Errorf("%q: %v", c.name, err)
		}
	}
	if s, err := FindWood("White Oak"); err != nil || s.Name != "oak, white" {
		t.Errorf("%v %v", s, err)
	}
	for _, w := range Woods() {
		n := w.Name
		if s, err := FindWood(n); err != nil || s.Name != n {
			t.Errorf("%s: %v %v", n, s, err)
		}
	}
}

// Beech, 2 %: at 30 mm from the pins across the grain 30 x 0.00431 x 2 = 0.2586 mm
// (table 13-5), nothing along it.
func TestWoodTerm(t *testing.T) {
	q := markers()
	q.Pins = []registration.Pin{pin("60", "40", "6"), pin("20", "40", "6"), pin("100", "40", "6")}
	at := point("110", "70")
	r, err := of(q, Options{At: &at, Wood: "beech", Tolerances: only(t, transform.MM)})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "across", worstY(r), 0.2586, 1e-12)
	near(t, "along", worstX(r), 0, 0)
	codes := ""
	for _, f := range r.Facts {
		codes += f.Code() + "=" + strings.Join(fact.Values(f.Is), ",") + " "
	}
	if codes != "moisture-two=2 grain-assumed=x " {
		t.Error(codes)
	}
	// Grain along Y: the pins' middle is at X 60; the holes 80 apart move by 0.6896
	// mm, more than their play.
	r, err = of(q, Options{At: &at, Wood: "beech", Grain: "y", Moisture: decp("-2"), Tolerances: only(t, transform.MM, "clearance=0.05")})
	if err != nil {
		t.Fatal(err)
	}
	for _, term := range r.Terms {
		if term.Name == Wood && (term.Y != 0 || math.Abs(term.X-50*0.00431*2) > 1e-12) {
			t.Errorf("%+v", term)
		}
	}
	if len(r.Facts) != 1 || r.Facts[0].Code() != "pins-move" || fact.Values(r.Facts[0].Is)[0] != "0.6896" {
		t.Errorf("%+v", r.Facts)
	}
	// A fence: away from the edge that touches on the back, here the far one, and
	// out of the coefficient's range.
	f := registration.Question{
		Stock: q.Stock, Flip: registration.FlipX, Register: registration.FenceStop,
		Fence: registration.Contact{Side: registration.Near}, Stop: registration.Contact{Side: registration.Left},
	}
	r, err = of(f, Options{At: &at, Wood: "sitka spruce", Moisture: decp("9"), Quartersawn: true, Grain: "x", Tolerances: only(t, transform.MM)})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "from the far edge", r.Worst, 10*0.00148*9, 1e-12)
	if len(r.Facts) != 3 || r.Facts[0].Code() != "contacts-taken" || r.Facts[1].Code() != "wood-memory" || r.Facts[2].Code() != "moisture-range" {
		t.Errorf("%+v", r.Facts)
	}
}
