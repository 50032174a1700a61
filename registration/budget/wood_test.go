package budget

import (
	"math"
	"strings"
	"testing"

	"github.com/shopspring/decimal"

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

// Coefficients of dimensional change, radial and tangential, in 1e-5 a percent. Source: Wood
// Handbook (FPL-GTR-190, 2010), table 13-5, by its own two columns of hardwoods; the
// softwoods are values from memory.
func TestCoefficients(t *testing.T) {
	hardwoods := map[string][2]int64{
		"alder, red": {151, 256}, "ash, white": {169, 274}, "ash, black": {172, 274}, "aspen, quaking": {119, 234},
		"basswood, american": {230, 330}, "beech, american": {190, 431}, "birch, paper": {219, 304}, "birch, yellow": {256, 338},
		"butternut": {116, 223}, "cherry, black": {126, 248}, "chestnut, american": {116, 234}, "cottonwood, eastern": {133, 327},
		"elm, american": {144, 338}, "elm, rock": {165, 285},

		"hackberry": {165, 315}, "hickory, pecan": {169, 315}, "locust, black": {158, 252}, "maple, bigleaf": {126, 248},
		"maple, red": {137, 289}, "maple, silver": {102, 252}, "maple, sugar": {165, 353}, "oak, red": {158, 369},
		"oak, white": {180, 365}, "oak, live white": {230, 338}, "sweetgum": {183, 365}, "sycamore, american": {172, 296},
		"tupelo, black": {176, 308}, "walnut, black": {190, 274},
	}
	softwoods := map[string][2]int64{
		"douglas-fir, coast": {165, 267}, "pine, ponderosa": {133, 216}, "pine, eastern white": {71, 212}, "redcedar, western": {111, 234},
		"redwood, old growth": {120, 205}, "spruce, sitka": {148, 263}, "fir, white": {112, 245},
	}
	if n := len(Woods()); n != len(hardwoods)+len(softwoods) {
		t.Errorf("%d woods, want %d", n, len(hardwoods)+len(softwoods))
	}
	for _, s := range Woods() {
		want, hard := hardwoods[s.Name]
		if !hard {
			want = softwoods[s.Name]
		}
		if !s.Radial.Equal(decimal.New(want[0], -5)) || !s.Tangential.Equal(decimal.New(want[1], -5)) || s.FromMemory == hard {
			t.Errorf("%s: %s and %s, from memory %v; want %v", s.Name, s.Radial, s.Tangential, s.FromMemory, want)
		}
	}
}

// The grain is taken to run along the longer side, along X where they are equal.
func TestGrainAssumed(t *testing.T) {
	for size, want := range map[string]string{"120x80x12": "x", "80x120x12": "y", "90x90x12": "x"} {
		q := markers()
		b, err := registration.ParseSize(size, transform.MM)
		if err != nil {
			t.Fatal(err)
		}
		q.Stock = &b
		r, err := of(q, Options{Wood: "beech", Moisture: decp("2")})
		if err != nil || len(r.Facts) == 0 || r.Facts[0].Is != any(GrainAssumed{want}) {
			t.Errorf("%s: %+v, %v; want %s", size, r, err, want)
		}
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
