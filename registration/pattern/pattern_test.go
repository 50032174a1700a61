package pattern

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/fact"
	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/registration/fit"
	"flipcalc/testdata/draws"
)

func dec(s string) decimal.Decimal { return decimal.RequireFromString(s) }

func decp(s string) *decimal.Decimal {
	d := dec(s)
	return &d
}

func blank(w, h, t string) *registration.Blank {
	return &registration.Blank{W: dec(w), H: dec(h), T: dec(t)}
}

func (p *Pattern) text() string {
	var list []string
	for _, d := range p.Dowels {
		list = append(list, fmt.Sprintf("%s at %s,%s", d.Pin.Label, d.At.X, d.At.Y))
	}
	return string(p.Style) + ": " + strings.Join(list, "; ")
}

// everywhere has no cut.
func everywhere(registration.Point, decimal.Decimal) bool { return true }

func TestPropose(t *testing.T) {
	for _, c := range []struct {
		name    string
		q       registration.Question
		o       Options
		want    string
		spacing string
	}{
		{"row markers", registration.Question{Stock: blank("120", "80", "12"), Flip: registration.FlipY, Fit: "H7/g6"},
			Options{Margin: decp("12")}, "line: 8 at 60,8; 6 at 60,74", "66"},
		{"flip x", registration.Question{Stock: blank("120", "80", "12"), Flip: registration.FlipX, Fit: "H7/g6"},
			Options{Margin: decp("12")}, "line: 8 at 8,40; 6 at 114,40", "106"},
		{"a narrow margin", registration.Question{Stock: blank("120", "80", "12"), Flip: registration.FlipY, Fit: "H7/g6"},
			Options{Margin: decp("8")}, "line: 5 at 60,5; 4 at 60,76", "71"},
		{"a wide board", registration.Question{Stock: blank("300", "80", "19"), Flip: registration.FlipY, Fit: "H7/g6"},
			Options{}, "pair: 8 at 8,40; 8 at 292,40; 8 at 150,8", "284"},
		{"a wide board on the line all the same", registration.Question{Stock: blank("300", "80", "19"), Flip: registration.FlipY, Fit: "H7/g6"},
			Options{Style: Line}, "line: 8 at 150,8; 6 at 150,74", "66"},
		{"two diameters on a wide board", registration.Question{Stock: blank("300", "80", "19"), Flip: registration.FlipY, Fit: "H7/g6"},
			Options{Diameters: []decimal.Decimal{dec("6"), dec("8")}}, "line: 8 at 150,8; 6 at 150,74", "66"},
		{"a line on a board just twice as wide as it is long", registration.Question{Stock: blank("160", "80", "12"), Flip: registration.FlipY, Fit: "H7/g6"},
			Options{}, "line: 8 at 80,8; 6 at 80,74", "66"},
		{"cuts known, no margin: at the least inset", registration.Question{Stock: blank("120", "80", "12"), Flip: registration.FlipY, Fit: "H7/g6"},
			Options{Clear: everywhere}, "line: 8 at 60,8; 6 at 60,74", "66"},
		// A margin of 2.3 takes no hole wider than 1.5, and 1 beside it is too near in size.
		{"cuts known, no two diameters in the waste: a pair and a third", registration.Question{Stock: blank("120", "80", "12"), Flip: registration.FlipY, Fit: "H7/g6"},
			Options{Clear: everywhere, Margin: decp("2.3")}, "pair: 1.5 at 1.5,40; 1.5 at 118.5,40; 1.5 at 60,1.5", "117"},
		{"one hole", registration.Question{Stock: blank("120", "80", "12"), Flip: registration.FlipY, Hole: []decimal.Decimal{dec("6.05")}},
			Options{}, "pair: 6 at 6,40; 6 at 114,40; 6 at 60,6", "108"},
		{"a hole for each of two diameters, the thinner named first", registration.Question{Stock: blank("120", "80", "12"), Flip: registration.FlipY, Hole: []decimal.Decimal{dec("5.1"), dec("6.1")}},
			Options{Diameters: []decimal.Decimal{dec("5"), dec("6")}}, "line: 6 at 60,6; 5 at 60,75", "69"},
		{"thin", registration.Question{Stock: blank("120", "80", "6"), Flip: registration.FlipY, Fit: "H7/g6"},
			Options{Over: dec("1.5")}, "line: 4 at 60,4; 3 at 60,77", "73"},
		{"skimmed", registration.Question{Stock: blank("120", "80", "6"), Flip: registration.FlipY, Fit: "H7/g6", Skimmed: dec("1.5")},
			Options{}, "line: 4 at 60,4; 3 at 60,77", "73"},
		{"inches", registration.Question{Unit: transform.Inch, Stock: blank("4.75", "3.125", "0.5"), Flip: registration.FlipY, Hole: []decimal.Decimal{dec("0.2510")}},
			Options{}, "pair: 1/4 at 0.25,1.5625; 1/4 at 4.5,1.5625; 1/4 at 2.375,0.25", "4.25"},
		{"diameters asked for", registration.Question{Stock: blank("120", "80", "12"), Flip: registration.FlipY, Fit: "H7/m6"},
			Options{Diameters: []decimal.Decimal{dec("5"), dec("10")}}, "line: 10 at 60,10; 5 at 60,75", "65"},
	} {
		p, err := Propose(c.q, c.o)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if p.text() != c.want || !p.Spacing.Equal(dec(c.spacing)) {
			t.Errorf("%s: %s, %s apart; want %s, %s", c.name, p.text(), p.Spacing, c.want, c.spacing)
		}
		if !p.Answer.Foolproof {
			t.Errorf("%s: not foolproof: %+v", c.name, p.Answer.LayUps)
		}
	}
}

// Whatever the blank, margin and flip: pins in the margin, wood round them, the
// wanted lay-up fits and neither the other flip nor the blank turned by 180
// degrees does. Worked out here by brute force over pairings, in whole numbers,
// and by the solver of the second zero.
func TestAlwaysFoolproof(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	rng := rand.New(rand.NewPCG(4, 44))
	proposed := 0
	for range draws.Of(3000) {
		w, h, th := 40+rng.Int64N(400), 40+rng.Int64N(400), 4+rng.Int64N(30)
		q := registration.Question{
			Stock: &registration.Blank{W: decimal.NewFromInt(w), H: decimal.NewFromInt(h), T: decimal.NewFromInt(th)},
			Flip:  []registration.Flip{registration.FlipX, registration.FlipY}[rng.IntN(2)], Fit: "H7/g6",
		}
		margin := decimal.NewFromInt(4 + rng.Int64N(20))
		o := Options{Margin: &margin, Style: []Style{"", Line, Pair}[rng.IntN(3)], Spoilboard: decimal.NewFromInt(10 + rng.Int64N(20))}
		p, err := Propose(q, o)
		if err != nil {
			if e, ok := err.(*registration.Error); !ok || !e.No {
				t.Fatalf("%+v %+v: %v", q.Stock, o, err)
			}
			continue
		}
		proposed++
		for _, d := range p.Dowels {
			r := d.Hole.Div(dec("2"))
			near := decimal.Min(d.At.X, d.At.Y, q.Stock.W.Sub(d.At.X), q.Stock.H.Sub(d.At.Y))
			if near.Add(r).GreaterThan(margin) || near.Sub(r).LessThan(r) {
				t.Errorf("%+v: hole of %s at %v leaves the strip of %s or the wood round it", *q.Stock, d.Hole, d.At, margin)
			}
			if d.InBlank.Sub(d.Tolerance).LessThan(d.Pin.Nominal) || d.InBed.LessThan(d.Pin.Nominal) ||
				d.InBlank.Add(d.Tolerance).GreaterThanOrEqual(q.Stock.T) || d.InBed.GreaterThan(o.Spoilboard) ||
				!d.InBlank.Add(d.InBed).Equal(d.Length) {
				t.Errorf("%+v, bed %s: pin %+v", *q.Stock, o.Spoilboard, d)
			}
		}
		for _, lay := range []struct {
			x, y bool
			want bool
		}{{true, false, q.Flip == registration.FlipY}, {false, true, q.Flip == registration.FlipX}, {true, true, false}} {
			if got := goesOn(p, *q.Stock, lay.x, lay.y); got != lay.want {
				t.Errorf("%+v flip %v, %s: reversed %v %v goes on: %v", *q.Stock, q.Flip, p.text(), lay.x, lay.y, got)
			}
		}
		if !p.Answer.Foolproof || p.Answer.FlipLine == nil {
			t.Errorf("%+v: solver says %+v", *q.Stock, p.Answer.LayUps)
		}
	}
	if proposed < draws.Of(1000) {
		t.Errorf("only %d patterns proposed", proposed)
	}
}

// goesOn tries to put the reversed holes over the pins, every hole on any pin
// whose diameter goes in, with any shift that carries the first hole onto a pin,
// give or take 0.3 mm.
func goesOn(p *Pattern, b registration.Blank, x, y bool) bool {
	type hole struct{ x, y, d float64 }
	var pins, holes []hole
	for _, d := range p.Dowels {
		h := hole{d.At.X.InexactFloat64(), d.At.Y.InexactFloat64(), d.Pin.Nominal.InexactFloat64()}
		pins = append(pins, h)
		if x {
			h.x = b.W.InexactFloat64() - h.x
		}
		if y {
			h.y = b.H.InexactFloat64() - h.y
		}
		holes = append(holes, h)
	}
	const give = 0.3
	for _, first := range pins {
		sx, sy := first.x-holes[0].x, first.y-holes[0].y
		all := true
		for _, h := range holes {
			on := false
			for _, q := range pins {
				dx, dy := q.x-h.x-sx, q.y-h.y-sy
				on = on || dx*dx+dy*dy <= 4*give*give && q.d <= h.d+2*give
			}
			all = all && on
		}
		if all {
			return true
		}
	}
	return false
}

// A 6 mm pin of ISO 8734 in a 12 mm blank with a 3 mm cut over it: 8.5 of room,
// so with its length tolerance of 0.5 (ISO 2339; the same for this pin from
// memory) at most 8 and at least 6.5 of it stand in the blank.
func TestLengths(t *testing.T) {
	q := registration.Question{Stock: blank("120", "80", "12"), Flip: registration.FlipY, Fit: "H7/g6"}
	o := Options{Over: dec("3"), Spoilboard: dec("18"), Diameters: []decimal.Decimal{dec("6"), dec("5")}}
	p, err := Propose(q, o)
	if err != nil {
		t.Fatal(err)
	}
	d := p.Dowels[0]
	if !d.InBlank.Equal(dec("8")) || !d.Length.Equal(dec("14")) || !d.InBed.Equal(dec("6")) || !d.Tolerance.Equal(dec("0.5")) {
		t.Errorf("%+v", d)
	}
	// The bed allows only 4: too short for a 5 or 6 mm pin.
	o.Spoilboard = dec("4")
	if _, err = Propose(q, o); err == nil || !strings.Contains(err.Error(), "no standard length suits a dowel of 6 with 8.5 of room in the blank and 4 in the bed") {
		t.Errorf("%v", err)
	}
	// Play of the fit, and a pin that can be tight.
	if !p.Dowels[0].Play.Max.Equal(dec("0.008")) || !p.Dowels[0].Hole.Equal(dec("6")) {
		t.Errorf("%+v", p.Dowels[0].Play)
	}
	// Pins of ISO 8734 are m6 whatever the fit says: 8 H7 with m6 has -0.015 to
	// 0.009, 6 H7 with m6 -0.012 to 0.008 (ISO 286; H7 and m6 of these sizes).
	class := ""
	for _, f := range p.Facts {
		if f.Code() == "pin-class" {
			class = strings.Join(fact.Values(f.Is), ",")
		}
	}
	if class != "ISO 8734 m6,H7/g6,6,-0.012,0.008,5,-0.012,0.008" {
		t.Errorf("pin class %q", class)
	}
	q.Fit = "H7/m6"
	if p, err = Propose(q, Options{}); err != nil {
		t.Fatal(err)
	}
	codes := map[string]string{}
	for _, f := range p.Facts {
		codes[f.Code()] += strings.Join(fact.Values(f.Is), ",") + ";"
	}
	if codes["pin-tight"] != "" || codes["margin-assumed"] != "12;" || codes["bed-unsaid"] != ";" || codes["pin-size-memory"] != "ISO 8734 m6;" || codes["pin-class"] != "" {
		t.Errorf("%v", codes)
	}
}

// A pin that is proposed for a hole goes on by hand and registers there. Limits of
// m6 at 6 and 8 mm: ISO 286; of a 1/4 and a 5/16 in pin: ASME B18.8.2; 0.2 mm and
// 0.008 in: common practice.
func TestHoleRegisters(t *testing.T) {
	for _, c := range []struct {
		name, hole string
		unit       transform.Unit
		want       string // the pins, or what the error says
	}{
		{"5/16 in", "0.3125", transform.Inch, "no dowel of ASME B18.8.2 registers in a hole of 0.3125: the thickest that goes in, 1/4, has a clearance of 0.0622 to 0.0624, expected a dowel with a clearance of 0 to 0.008; hint: a dowel of 5/16 takes a hole of 0.3128 to 0.3205; a dowel of 1/4 takes a hole of 0.2503 to 0.258"},
		{"5/16 in and the pin's excess", "0.3128", transform.Inch, "pair: 5/16 at"},
		{"a hair less", "0.3127", transform.Inch, "no dowel"},
		{"loose by all that registers", "0.258", transform.Inch, "pair: 1/4 at"},
		{"a hair more", "0.2581", transform.Inch, "no dowel"},
		{"8 mm", "8", transform.MM, "a dowel of 8 takes a hole of 8.015 to 8.2; a dowel of 6 takes a hole of 6.012 to 6.2; ‹standard iso-2338-h8› has a dowel of 8 for this hole"},
		{"5/16 in as millimetres", "7.9375", transform.MM, "the thickest that goes in, 6, has a clearance of 1.9255 to 1.9335"},
		{"8 mm and the pin's excess", "8.015", transform.MM, "pair: 8 at"},
		{"8 mm, loose by all that registers", "8.2", transform.MM, "pair: 8 at"},
		{"8 mm, too loose", "8.201", transform.MM, "no dowel"},
		{"under every pin", "0.9", transform.MM, "no dowel of ISO 8734 m6 registers in a hole of 0.9, expected a dowel with a clearance of 0 to 0.2; hint: a dowel of 1 takes a hole of 1.008 to 1.2"},
		{"for a pin thicker than is proposed", "10.1", transform.MM, "a hole of 10.1 is for a dowel of 10, and none thicker than 8 is proposed"},
	} {
		q := registration.Question{Unit: c.unit, Stock: blank("120", "80", "25"), Flip: registration.FlipY, Hole: []decimal.Decimal{dec(c.hole)}}
		if c.unit == transform.Inch {
			q.Stock = blank("5", "3", "0.75")
		}
		got := ""
		if p, err := Propose(q, Options{}); err != nil {
			got = err.Error()
		} else {
			got = p.text()
		}
		if !strings.Contains(got, c.want) {
			t.Errorf("%s: %s\nwant %s", c.name, got, c.want)
		}
	}
}

// Given pins keep their places, get their lengths, and are checked the same way.
func TestGivenPins(t *testing.T) {
	at := func(x, y, d string) registration.Pin {
		return registration.Pin{At: registration.Point{X: dec(x), Y: dec(y)}, Dia: dec(d)}
	}
	q := registration.Question{Stock: blank("120", "80", "12"), Flip: registration.FlipY, Fit: "H7/g6",
		Pins: []registration.Pin{at("60", "20", "6"), at("60", "74", "6")}}
	p, err := Propose(q, Options{Margin: decp("12"), Spoilboard: dec("18")})
	if err != nil {
		t.Fatal(err)
	}
	if p.Style != "" || p.Answer.Foolproof || p.text() != ": 6 at 60,20; 6 at 60,74" || p.Dowels[0].Length.IsZero() {
		t.Errorf("%s, foolproof %v", p.text(), p.Answer.Foolproof)
	}
	found := false
	for _, f := range p.Facts {
		found = found || f.Code() == "outside-margin" && fact.Values(f.Is)[0] == "1" && fact.Values(f.Is)[1] == "11"
	}
	if !found {
		t.Errorf("facts %+v", p.Facts)
	}
	q.Pins[1].At.X = dec("61")
	if _, err = Propose(q, Options{}); err == nil {
		t.Error("pins that don't map onto themselves were accepted")
	}
}

func TestRefusals(t *testing.T) {
	type change func(*registration.Question, *Options)
	for _, c := range []struct {
		want string
		do   change
	}{
		{"stock: missing, expected the blank's size WxHxT, such as 120x80x12", func(q *registration.Question, _ *Options) { q.Stock = nil }},
		{"stock: the height H is 0, expected a length greater than 0", func(q *registration.Question, _ *Options) { q.Stock.H = dec("0") }},
		{"flip: missing, expected x or y; hint: y turns the blank over like a page, left edge to the right; x turns the near edge to the far side", func(q *registration.Question, _ *Options) { q.Flip = 0 }},
		{"margin: 0, expected a width over 0", func(_ *registration.Question, o *Options) { o.Margin = decp("0") }},
		{"over: -1, expected 0 or more", func(_ *registration.Question, o *Options) { o.Over = dec("-1") }},
		{"spoilboard: -1, expected 0 or more", func(_ *registration.Question, o *Options) { o.Spoilboard = dec("-1") }},
		{"hole: a hole and a fit, expected one of the two", func(q *registration.Question, _ *Options) { q.Hole = []decimal.Decimal{dec("6")} }},
		{"fit: no fit and no hole, expected ‹fit› such as H7/g6, or ‹hole DIA›; hint: drilled in wood: 0.1 mm wider (common practice), such as ‹hole 6.1› for 6; reamed, and ground to the class: H7/g6 slides, H7/h6 is close, H8/f7 is easy, H7/m6 may need pressing",
			func(q *registration.Question, _ *Options) { q.Fit = "" }},
		{"fit: tolerance class \"g7x\", expected H5 to H11 for a hole, or f, g, h, k or m with a grade from 5 to 11 for a shaft",
			func(q *registration.Question, _ *Options) { q.Fit = "H7/g7x" }},
		{`pattern: "ring", expected line or pair`, func(_ *registration.Question, o *Options) { o.Style = "ring" }},
		{"standard: dowels of ASME B18.8.2 with lengths in mm, expected a standard in the same unit; hint: or the other ‹units›",
			func(_ *registration.Question, o *Options) { o.Standard, o.Chosen = fit.B18_8_2, true }},
		{"hole: no fit and no hole, expected ‹hole DIA›, since ISO 286 fits don't name inch holes; hint: a dowel of 5/16 takes a hole of 0.3128 to 0.3205",
			func(q *registration.Question, _ *Options) {
				q.Unit, q.Fit, q.Stock = transform.Inch, "", blank("5", "4", "0.5")
			}},
		{"fit: fit H7/g6 with lengths in inches, expected a hole diameter in inches, since ISO 286 fits don't name inch holes; hint: give ‹hole›; a dowel of 5/16 takes a hole of 0.3128 to 0.3205",
			func(q *registration.Question, _ *Options) { q.Unit, q.Stock = transform.Inch, blank("5", "4", "0.5") }},
		{"hole: one hole of 6 for two diameters, expected a ‹fit›, or a ‹hole› and a ‹diameter› for each of the two, or three dowels of one diameter",
			func(q *registration.Question, o *Options) {
				q.Fit, q.Hole, o.Style = "", []decimal.Decimal{dec("6")}, Line
			}},
		{"diameter: 3 diameters, expected two different ones on the flip line",
			func(_ *registration.Question, o *Options) {
				o.Style, o.Diameters = Line, []decimal.Decimal{dec("4"), dec("6"), dec("8")}
			}},
		{"diameter: 6 and 6, expected a difference of at least 1, so that the thicker dowel can't be pushed into the thinner one's hole",
			func(_ *registration.Question, o *Options) { o.Diameters = []decimal.Decimal{dec("6"), dec("6")} }},
		{"diameter: a dowel of 7 mm, expected a diameter of ISO 8734 m6: 1, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10, 12, 16, 20",
			func(_ *registration.Question, o *Options) { o.Diameters = []decimal.Decimal{dec("7"), dec("5")} }},
		{"diameter: a dowel of 16 has only 11.5 of the blank to stand in, expected a thinner dowel",
			func(_ *registration.Question, o *Options) { o.Diameters = []decimal.Decimal{dec("16"), dec("5")} }},
		{"diameter: a dowel of 8 takes a strip of 12, the margin is 10, expected a thinner dowel",
			func(_ *registration.Question, o *Options) {
				o.Margin, o.Diameters = decp("10"), []decimal.Decimal{dec("8"), dec("5")}
			}},
		{"margin: a dowel of 1 takes a strip of 1.5, the margin is 1, expected room for standard dowels (ISO 8734 m6); hint: use more waste, a thicker blank, less depth over the dowels, or a fence and stop",
			func(_ *registration.Question, o *Options) { o.Margin = decp("1") }},
		{"over: a dowel of 1 has only 0.5 of the blank to stand in, under a cut of 11, expected room for standard dowels (ISO 8734 m6); hint: use more waste, a thicker blank, less depth over the dowels, or a fence and stop",
			func(_ *registration.Question, o *Options) { o.Over = dec("11") }},
		{"skimmed: a dowel of 1 has only 0 of the blank to stand in, once 11.5 are skimmed off, expected room for standard dowels (ISO 8734 m6); hint: use more waste, a thicker blank, less depth over the dowels, or a fence and stop",
			func(q *registration.Question, _ *Options) { q.Skimmed = dec("11.5") }},
		{"stock: a dowel of 1 has only 0.5 of the blank to stand in, expected room for standard dowels (ISO 8734 m6); hint: use more waste, a thicker blank, less depth over the dowels, or a fence and stop",
			func(q *registration.Question, _ *Options) { q.Stock.T = dec("1") }},
		{"spoilboard: no standard length suits a dowel of 1 with 11.5 of room in the blank and 0.5 in the bed, expected room for standard dowels (ISO 8734 m6); hint: use more waste, a thicker blank, less depth over the dowels, or a fence and stop",
			func(_ *registration.Question, o *Options) { o.Spoilboard = dec("0.5") }},
		{"stock: dowels of 8 would be only 6 apart on a blank of 30 by 20, expected at least three diameters; hint: use thinner dowels, the other flip, or a fence and stop",
			func(q *registration.Question, _ *Options) { q.Stock = blank("30", "20", "12") }},
		{"pin: dowel 1 has no diameter, expected X,Y,DIA, since length and hole depend on it",
			func(q *registration.Question, _ *Options) {
				q.Pins = []registration.Pin{{At: registration.Point{X: dec("60"), Y: dec("10")}}, {At: registration.Point{X: dec("60"), Y: dec("70")}}}
			}},
		{"pattern: \"ring\", expected line or pair", func(_ *registration.Question, o *Options) { o.Style = "ring" }},
		{"hole: 2 holes and no dowels, expected a ‹pin› or a ‹diameter› for each, in the same order",
			func(q *registration.Question, _ *Options) { q.Fit, q.Hole = "", []decimal.Decimal{dec("6"), dec("8")} }},
		// One diameter of wood at either edge: 30 - 16 and 20/2 - 8 are left.
		{"stock: dowels of 8 would be only 14 apart on a blank of 30 by 80, expected at least three diameters; hint: use thinner dowels, the other flip, or a fence and stop",
			func(q *registration.Question, o *Options) {
				q.Stock, o.Style, o.Diameters = blank("30", "80", "12"), Pair, []decimal.Decimal{dec("8")}
			}},
		{"stock: dowels of 8 would be only 2 apart on a blank of 120 by 20, expected at least three diameters; hint: use thinner dowels, the other flip, or a fence and stop",
			func(q *registration.Question, o *Options) {
				q.Stock, o.Style, o.Diameters = blank("120", "20", "12"), Pair, []decimal.Decimal{dec("8")}
			}},
		{"hole: no dowel of ISO 8734 m6 registers in a hole of 0.9, expected a dowel with a clearance of 0 to 0.2; hint: a dowel of 1 takes a hole of 1.008 to 1.2; ‹standard iso-2338› has a dowel of 0.8 for this hole; ‹standard iso-2338-h8› has a dowel of 0.8 for this hole",
			func(q *registration.Question, _ *Options) { q.Fit, q.Hole = "", []decimal.Decimal{dec("0.9")} }},
	} {
		q := registration.Question{Stock: blank("120", "80", "12"), Flip: registration.FlipY, Fit: "H7/g6"}
		var o Options
		c.do(&q, &o)
		if _, err := Propose(q, o); err == nil || err.Error() != c.want {
			t.Errorf("got  %v\nwant %s", err, c.want)
		}
	}
}

func ExamplePropose() {
	margin := dec("12")
	p, err := Propose(registration.Question{
		Stock: blank("120", "80", "12"), Flip: registration.FlipY, Fit: "H7/g6",
	}, Options{Margin: &margin, Spoilboard: dec("18"), Over: dec("2")})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, d := range p.Dowels {
		fmt.Printf("pin %s x %s at %s,%s: %s in the blank, %s in the bed; hole %s, clearance %s to %s\n", d.Pin.Label,
			d.Pin.LengthLabel(d.Length), d.At.X, d.At.Y, d.InBlank, d.InBed, d.Hole, d.Play.Min, d.Play.Max)
	}
	fmt.Printf("%s apart, foolproof: %v\n", p.Spacing, p.Answer.Foolproof)
	// Output:
	// pin 8 x 18 at 60,8: 9 in the blank, 9 in the bed; hole 8, clearance -0.015 to 0.009
	// pin 6 x 16 at 60,74: 9 in the blank, 7 in the bed; hole 6, clearance -0.012 to 0.008
	// 66 apart, foolproof: true
}

// A drill makes a hole of H8 or finer 0.05 mm wider than it should be (common practice).
// Greatest clearances from ISO 286: H7/g6 0.024 at 6 and 0.029 at 8, H8/f7 0.050 at 8.
func TestAsDrilled(t *testing.T) {
	for _, c := range []struct {
		fit  string
		unit transform.Unit
		want string
	}{
		{"H7/g6", transform.MM, "H7 0.05 0.079"},
		{"H8/f7", transform.MM, "H8 0.05 0.1"},
		{"H9/h8", transform.MM, ""},
		{"", transform.MM, ""},
		{"H7/g6", transform.Inch, ""},
	} {
		q := registration.Question{Unit: c.unit, Register: registration.Dowels, Fit: c.fit, Pins: []registration.Pin{{Dia: dec("6")}, {Dia: dec("8")}}}
		got := ""
		if f, ok := AsDrilled(q); ok {
			got = strings.Join(fact.Values(f.Is), " ")
		}
		if got != c.want {
			t.Errorf("%q: %q, want %q", c.fit, got, c.want)
		}
	}
	if _, ok := AsDrilled(registration.Question{Register: registration.Plug, Fit: "H7/g6"}); ok {
		t.Error("a bore is not drilled")
	}
}

// cutRect is a cut as a rectangle of the blank.
type cutRect struct{ x0, y0, x1, y1 float64 }

// clearOf says by distance whether a circle stays clear of some cuts.
func clearOf(cuts []cutRect) func(registration.Point, decimal.Decimal) bool {
	return func(at registration.Point, radius decimal.Decimal) bool {
		x, y, r := at.X.InexactFloat64(), at.Y.InexactFloat64(), radius.InexactFloat64()
		for _, c := range cuts {
			if math.Hypot(x-min(max(x, c.x0), c.x1), y-min(max(y, c.y0), c.y1)) < r {
				return false
			}
		}
		return true
	}
}

// Dowels are proposed clear of every cut, by 1 mm of wood at least, inside the waste and
// foolproof; in a blank of 120 x 80 with 12 mm of waste, whose part is cut out at 12.
func TestClearOfCuts(t *testing.T) {
	outline := []cutRect{{10, 10, 110, 10}, {10, 70, 110, 70}, {10, 10, 10, 70}, {110, 10, 110, 70}}
	for _, test := range []struct {
		name string
		cuts []cutRect
		want string // "" for no place
	}{
		{"nothing cut", nil, "60,8,8 60,74,6"},
		{"an outline leaves room for thinner ones", outline, "60,6,6 60,75,5"},
		{"a cut at the near edge's middle: a pair and a third", append([]cutRect{{50, 0, 70, 8}}, outline...), "6,40,6 114,40,6 60,74,6"},
		{"both sides cut, and the near edge's middle: a flip line aside", append([]cutRect{{40, 0, 80, 8}, {0, 0, 12, 80}, {108, 0, 120, 80}}, outline...), "36,6,6 36,75,5"},
		{"the whole near waste", []cutRect{{0, 0, 120, 12}, {0, 0, 12, 80}}, ""},
	} {
		q := registration.Question{Stock: &registration.Blank{W: dec("120"), H: dec("80"), T: dec("12")}, Flip: registration.FlipY, Fit: "H7/g6"}
		margin := dec("12")
		p, err := Propose(q, Options{Margin: &margin, Clear: clearOf(test.cuts)})
		if test.want == "" {
			if e, ok := err.(*registration.Error); !ok || !e.No || !strings.Contains(e.Found, "clear of the cuts of both sides") {
				t.Errorf("%s: %v", test.name, err)
			}
			continue
		}
		if err != nil {
			t.Errorf("%s: %v", test.name, err)
			continue
		}
		var got []string
		for _, d := range p.Dowels {
			got = append(got, fmt.Sprintf("%s,%s,%s", d.At.X, d.At.Y, d.Pin.Nominal))
			// Round the hole and 1 mm about it, no point lies in a cut.
			for a := 0.0; a < 360; a += 5 {
				sin, cos := math.Sincos(a * math.Pi / 180)
				r := d.Hole.InexactFloat64()/2 + 0.999
				x, y := d.At.X.InexactFloat64()+r*cos, d.At.Y.InexactFloat64()+r*sin
				for _, c := range test.cuts {
					if x > c.x0 && x < c.x1 && y > c.y0 && y < c.y1 {
						t.Errorf("%s: pin at %s meets a cut at %.2f,%.2f", test.name, d.At, x, y)
					}
				}
			}
		}
		if s := strings.Join(got, " "); s != test.want || !p.Answer.Foolproof {
			t.Errorf("%s: %s, foolproof %v; want %s", test.name, s, p.Answer.Foolproof, test.want)
		}
	}
	// Given pins stay, and are told.
	q := registration.Question{Stock: &registration.Blank{W: dec("120"), H: dec("80"), T: dec("12")}, Flip: registration.FlipY, Fit: "H7/g6",
		Pins: []registration.Pin{{At: registration.Point{X: dec("60"), Y: dec("8")}, Dia: dec("6")}, {At: registration.Point{X: dec("60"), Y: dec("75")}, Dia: dec("5")}}}
	p, err := Propose(q, Options{Clear: clearOf(outline)})
	under := func(pin int) registration.Fact {
		return registration.Fact{Level: registration.LevelWarning, Is: PinUnderCut{pin}}
	}
	if err != nil || !slices.Contains(p.Facts, under(1)) || slices.Contains(p.Facts, under(2)) {
		t.Errorf("given: %v, %v", p, err)
	}
}

// A given diameter that finds no clear place is refused; no thinner one is tried.
func TestGivenDiameterNowhereClear(t *testing.T) {
	q := registration.Question{Stock: blank("120", "80", "12"), Flip: registration.FlipY, Fit: "H7/g6"}
	nowhere := func(registration.Point, decimal.Decimal) bool { return false }
	for _, list := range [][]decimal.Decimal{{dec("6")}, {dec("8"), dec("6")}} {
		_, err := Propose(q, Options{Diameters: list, Clear: nowhere})
		if e, ok := err.(*registration.Error); !ok || !e.No || !strings.Contains(e.Found, "clear of the cuts of both sides") {
			t.Errorf("%v: %v", list, err)
		}
	}
}

// Two holes, the thicker pin's strip is the wider: 8 + 8.1/2 (derived), whichever is named
// first.
func TestStripOfTwo(t *testing.T) {
	for _, c := range [][2][2]string{{{"8", "6"}, {"8.1", "6.1"}}, {{"6", "8"}, {"6.1", "8.1"}}} {
		q := registration.Question{Stock: blank("120", "80", "12"), Flip: registration.FlipY, Hole: []decimal.Decimal{dec(c[1][0]), dec(c[1][1])}}
		p, err := Propose(q, Options{Diameters: []decimal.Decimal{dec(c[0][0]), dec(c[0][1])}})
		if err != nil || !p.Strip.Equal(dec("12.05")) {
			t.Errorf("%v: %+v, %v", c, p, err)
		}
	}
}

// A pin of 1/4 in, 3/4 long, give or take 0.010 (ASME B18.8.2), in a blank of 0.5140625 under
// 0.02 of wood: 0.2659375 must go into the bed, which is 17.02 sixty-fourths: 18 (derived).
func TestBedInSixtyFourths(t *testing.T) {
	q := registration.Question{Unit: transform.Inch, Stock: blank("5", "4", "0.5140625"), Flip: registration.FlipY, Hole: []decimal.Decimal{dec("0.254")},
		Pins: []registration.Pin{{At: registration.Point{X: dec("2.5"), Y: dec("0.5")}, Dia: dec("0.25")}, {At: registration.Point{X: dec("2.5"), Y: dec("3")}, Dia: dec("0.25")}}}
	p, err := Propose(q, Options{Spoilboard: dec("0.5")})
	if err != nil {
		t.Fatal(err)
	}
	if d := p.Dowels[0]; !d.Length.Equal(dec("0.75")) || !d.InBed.Equal(dec("0.28125")) || !d.InBlank.Equal(dec("0.46875")) || !d.Tolerance.Equal(dec("0.010")) {
		t.Errorf("%+v", d)
	}
}

// A hole wider than its pin takes more of the waste: 6 + 6.1/2 = 9.05 (derived).
func TestStripHoldsTheHole(t *testing.T) {
	q := registration.Question{Stock: &registration.Blank{W: dec("120"), H: dec("80"), T: dec("12")}, Flip: registration.FlipY, Hole: []decimal.Decimal{dec("6.1")}}
	for _, test := range []struct {
		margin string
		fits   bool
	}{{"9", false}, {"9.04", false}, {"9.05", true}} {
		m := dec(test.margin)
		p, err := Propose(q, Options{Margin: &m})
		if (err == nil) != test.fits {
			t.Errorf("margin %s: %v", test.margin, err)
		}
		if err == nil && p.Strip.String() != "9.05" {
			t.Errorf("margin %s: strip %s", test.margin, p.Strip)
		}
	}
}

// discs are what is cut out of a marker of 60 x 50.
type discs []struct{ x, y, r float64 }

// cutOut draws so many at random, of radii from 2 to most.
func cutOut(r *rand.Rand, n int, most float64) discs {
	cuts := make(discs, n)
	for i := range cuts {
		c := &cuts[i]
		c.x, c.y, c.r = r.Float64()*60, r.Float64()*50, 2+(most-2)*r.Float64()
	}
	return cuts
}

func (d discs) clear(x, y, radius float64) bool {
	for _, c := range d {
		if math.Hypot(x-c.x, y-c.y) < c.r+radius {
			return false
		}
	}
	return true
}

// leave is clear as Options have it.
func (d discs) leave(at registration.Point, radius decimal.Decimal) bool {
	return d.clear(at.X.InexactFloat64(), at.Y.InexactFloat64(), radius.InexactFloat64())
}

// A line of dowels is found among cuts wherever one is, and nowhere else: against a search
// of the whole grid of 1 mm, on random discs that are cut out of a row marker.
func TestLineAgainstSearch(t *testing.T) {
	r := rand.New(rand.NewPCG(14, 1))
	found := 0
	for range 60 {
		cuts := cutOut(r, 10+r.IntN(50), 9)
		clear := cuts.clear
		o := Options{Style: Line, Diameters: []decimal.Decimal{dec("6"), dec("4")}, Margin: decp("16"), Clear: cuts.leave}
		q := registration.Question{Stock: blank("60", "50", "12"), Flip: registration.FlipY, Fit: "H7/g6"}
		p, err := Propose(q, o)
		// Centres lie a diameter or more from an edge, holes inside the margin of 16, with 1
		// mm of wood round them and three diameters of the thicker between them.
		there := false
		for m := 6.0; m <= 54; m++ {
			for near := 6.0; near <= 16-3; near++ {
				for far := 4.0; far <= 16-2; far++ {
					there = there || 50-far-near >= 18 && clear(m, near, 4) && clear(m, 50-far, 3)
				}
			}
		}
		if there != (err == nil) {
			t.Errorf("cuts %v: a place is there %v, proposed %v", cuts, there, err)
			continue
		}
		if err != nil {
			continue
		}
		found++
		a, b := p.Dowels[0], p.Dowels[1]
		if !o.Clear(a.At, dec("4")) || !o.Clear(b.At, dec("3")) || !a.At.X.Equal(b.At.X) || b.At.Y.Sub(a.At.Y).LessThan(dec("18")) {
			t.Errorf("cuts %v: %s", cuts, p.text())
		}
	}
	if found < 15 || found > 58 {
		t.Errorf("a place was found %d times of 60", found)
	}
}

// What a given dowel takes of the waste is its hole, which is cut through.
func TestGivenHolesInTheWaste(t *testing.T) {
	at := func(x, y, dia string) registration.Pin {
		return registration.Pin{At: registration.Point{X: dec(x), Y: dec(y)}, Dia: dec(dia)}
	}
	q := registration.Question{Stock: blank("120", "80", "12"), Flip: registration.FlipY,
		Pins: []registration.Pin{at("60", "8", "6"), at("60", "72", "8")}, Hole: []decimal.Decimal{dec("6.2"), dec("8.4")}}
	for _, c := range []struct {
		cut   string // Y over which a cut begins
		under []int  // dowels whose holes it meets
	}{
		{"11.2", nil}, {"11.05", []int{1}}, // 8 + 3.1
	} {
		o := Options{Margin: decp("12"), Clear: func(at registration.Point, radius decimal.Decimal) bool {
			return at.Y.GreaterThan(dec("40")) || at.Y.Add(radius).LessThanOrEqual(dec(c.cut))
		}}
		p, err := Propose(q, o)
		if err != nil {
			t.Fatal(err)
		}
		var under []int
		out := decimal.Zero
		for _, f := range p.Facts {
			switch is := f.Is.(type) {
			case PinUnderCut:
				under = append(under, is.Pin)
			case OutsideMargin:
				out = is.By
			}
		}
		// The second hole reaches 8 + 4.2 into the blank, 0.2 more than the margin.
		if !slices.Equal(under, c.under) || !out.Equal(dec("0.2")) || !p.Strip.Equal(dec("12.2")) {
			t.Errorf("cut from Y%s: under it %v, want %v; %s outside the margin, strip %s", c.cut, under, c.under, out, p.Strip)
		}
	}
}

// A rod of 6.35 is no pin of ISO 8734: it is told with the diameters that H7/g6 asks of one,
// 5 to 14 um under 6.35 (ISO 286, over 6 to 10), and its play is the fit's, 5 to 29 um.
func TestPlainRod(t *testing.T) {
	at := func(y string) registration.Pin {
		return registration.Pin{At: registration.Point{X: dec("60"), Y: dec(y)}, Dia: dec("6.35")}
	}
	q := registration.Question{Stock: blank("120", "80", "12"), Flip: registration.FlipY, Fit: "H7/g6", Pins: []registration.Pin{at("10"), at("60")}}
	p, err := Propose(q, Options{Spoilboard: dec("20")})
	if err != nil {
		t.Fatal(err)
	}
	var told []string
	for _, f := range p.Facts {
		if f.Code() == "pin-plain" {
			told = append(told, strings.Join(fact.Values(f.Is), " "))
		}
		if f.Code() == "pin-class" || f.Code() == "pin-lengths-memory" {
			t.Errorf("%v of a rod", f)
		}
	}
	if got := strings.Join(told, "; "); got != "1 6.35 ISO 8734 m6 H7/g6 6.336 6.345; 2 6.35 ISO 8734 m6 H7/g6 6.336 6.345" {
		t.Error(got)
	}
	// Lengths in steps of 1: at least 6.35 in the bed, in steps of 0.5, and 11.5 at most in
	// the blank, less 0.5 by which it may be longer (ISO 2339).
	d := p.Dowels[0]
	if !d.Play.Min.Equal(dec("0.005")) || !d.Play.Max.Equal(dec("0.029")) || !d.Hole.Equal(dec("6.35")) || !d.InBlank.Equal(dec("11")) || !d.InBed.Equal(dec("7")) || !d.Length.Equal(dec("18")) {
		t.Errorf("%+v", d)
	}
}
