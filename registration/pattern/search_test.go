package pattern

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/registration/fit"
)

// A pair and its third are found among cuts wherever there are such places, and nowhere else:
// against a search of the whole grid of 1 mm, on random discs that are cut out of a marker.
func TestPairAgainstSearch(t *testing.T) {
	r := rand.New(rand.NewPCG(23, 4))
	found := 0
	for range 60 {
		cuts := cutOut(r, 5+r.IntN(25), 8)
		clear := cuts.clear
		o := Options{Style: Pair, Diameters: []decimal.Decimal{dec("5")}, Margin: decp("16"), Clear: cuts.leave}
		p, err := Propose(registration.Question{Stock: blank("60", "50", "12"), Flip: registration.FlipY, Fit: "H7/g6"}, o)
		// The two as far from the left and the right edge, a diameter or more, holes inside the
		// margin; the third on the middle line at either end, a diameter or more off their join.
		there := false
		for e := 5.0; e <= 16-2.5; e++ {
			for l := 5.0; l <= 45; l++ {
				if !clear(e, l, 3.5) || !clear(60-e, l, 3.5) {
					continue
				}
				for on := 5.0; on <= 16-2.5; on++ {
					there = there || math.Abs(on-l) >= 5 && clear(30, on, 3.5) || math.Abs(50-on-l) >= 5 && clear(30, 50-on, 3.5)
				}
			}
		}
		if there != (err == nil) {
			t.Errorf("cuts %v: a place is there %v, proposed %v", cuts, there, err)
		}
		if err != nil {
			continue
		}
		found++
		for _, d := range p.Dowels {
			if !o.Clear(d.At, dec("3.5")) {
				t.Errorf("cuts %v: %s", cuts, p.text())
			}
		}
		a, b, third := p.Dowels[0].At, p.Dowels[1].At, p.Dowels[2].At
		if !a.X.Add(b.X).Equal(dec("60")) || !a.Y.Equal(b.Y) || !third.X.Equal(dec("30")) || !p.Answer.Foolproof {
			t.Errorf("cuts %v: %s, foolproof %v", cuts, p.text(), p.Answer.Foolproof)
		}
	}
	if found < 15 || found > 58 {
		t.Errorf("a place was found %d times of 60", found)
	}
}

// Every length that a standard has, in a bed's hole of every depth: of those in which the pin
// holds by a diameter in bed and blank, however short it came out, and ends under the wood left
// over it, however long, the one that reaches highest counts, and of such the shortest.
func TestPinLengthBruteForce(t *testing.T) {
	suits, n := 0, 0
	for _, c := range []struct {
		unit        transform.Unit
		standard    fit.Standard
		dia         []string
		stock, bed  []string
		step, least string // of depths in the bed, and the wood over the pin
		over        string
		sizes       func(v string) *registration.Blank
	}{
		{transform.MM, fit.ISO8734, []string{"3", "5", "6", "8"}, []string{"7", "10.3", "12", "17.5", "25"}, []string{"4", "6.2", "12", "18"}, "0.5", "0.5", "2",
			func(v string) *registration.Blank { return blank("120", "80", v) }},
		{transform.Inch, fit.B18_8_2, []string{"0.125", "0.25", "0.3125"}, []string{"0.375", "0.5140625", "0.75", "1"}, []string{"0.2", "0.4", "0.75"}, "0.015625", "0.02", "0.0625",
			func(v string) *registration.Blank { return blank("5", "4", v) }},
	} {
		for _, dia := range c.dia {
			pin, err := fit.Lookup(c.standard, dec(dia))
			if err != nil {
				t.Fatal(err)
			}
			for _, thick := range c.stock {
				for _, deep := range c.bed {
					for _, over := range []string{"0", c.over} {
						s := site{q: registration.Question{Unit: c.unit}, o: Options{Standard: c.standard, Spoilboard: dec(deep), Over: dec(over)}, b: *c.sizes(thick)}
						room := dec(thick).Sub(dec(over)).Sub(dec(c.least))
						best := ""
						high := dec("-1")
						for _, l := range pin.Lengths() {
							tol := fit.LengthTolerance(c.standard, l)
							for bed := dec("0"); bed.LessThanOrEqual(dec(deep)); bed = bed.Add(dec(c.step)) {
								in := l.Sub(bed)
								if bed.LessThan(pin.Nominal) || in.Sub(tol).LessThan(pin.Nominal) || in.Add(tol).GreaterThan(room) {
									continue
								}
								if in.GreaterThan(high) {
									high, best = in, fmt.Sprint(l, in, bed)
								}
							}
						}
						length, in, bed, _, ok := s.cutLength(pin)
						got := ""
						if ok {
							got, suits = fmt.Sprint(length, in, bed), suits+1
						}
						if n++; got != best {
							t.Errorf("%s in %s over %s, %s cut over it: %q, by trying %q", dia, thick, deep, over, got, best)
						}
					}
				}
			}
		}
	}
	if suits < n/4 || suits == n {
		t.Errorf("%d of %d have a length", suits, n)
	}
}

// The holes of a pair that is turned, in programs that are turned with it: from the zero in the
// blank's middle the dowels lie 32 nearer and 34 farther, a quarter turned 32 right and 34 left.
// With its zero that is where the dowels stand on the bed.
func TestBoresTurned(t *testing.T) {
	q := registration.Question{Stock: blank("120", "80", "12"), Flip: registration.FlipY, Fit: "H7/g6", Register: registration.Dowels,
		Zero: registration.Zero{Name: "center"},
		Pins: []registration.Pin{{At: registration.Point{X: dec("60"), Y: dec("8")}, Dia: dec("8")}, {At: registration.Point{X: dec("60"), Y: dec("74")}, Dia: dec("6")}}}
	for k, c := range []struct{ places, face, back string }{
		{"0,-32 0,34", "200,68 200,134", "460,68 460,134"},
		{"32,0 -34,0", "232,100 166,100", "472,120 406,120"},
		{"0,32 0,-34", "200,132 200,66", "460,132 460,66"},
		{"-32,0 34,0", "168,100 234,100", "408,120 474,120"},
	} {
		turn := registration.Quarter(k)
		a, err := registration.Solve(q)
		if err != nil {
			t.Fatal(err)
		}
		// The back's blank has its near-left corner at X400 Y60: its middle lies at X460 Y100, or
		// a quarter turned at X440 Y120.
		if a, err = a.At(registration.Station{Offset: "G54", Turn: turn, Zero: registration.Position{X: dec("200"), Y: dec("100")}},
			registration.Station{Offset: "G55", Turn: turn, Corner: registration.Point{X: dec("400"), Y: dec("60")}}); err != nil {
			t.Fatal(err)
		}
		p, err := At(a, Options{Spoilboard: dec("18"), Over: dec("2")})
		if err != nil {
			t.Fatal(err)
		}
		for where, zero := range map[Where]registration.Point{Blank: {X: dec("200"), Y: dec("100")}, Bed: {X: dec("200"), Y: dec("100")}, Through: {X: dec("200"), Y: dec("100")}, BackBed: a.Second.At()} {
			list, err := p.Bores(where, decimal.Zero)
			if err != nil {
				t.Fatal(err)
			}
			want := c.face
			if where == BackBed {
				want = c.back
			}
			first, second := registration.Point{X: list[0].X, Y: list[0].Y}, registration.Point{X: list[1].X, Y: list[1].Y}
			if got := first.String() + " " + second.String(); got != c.places {
				t.Errorf("%d quarters, program %d: %s, want %s", k, where, got, c.places)
			}
			if got := zero.Add(first).String() + " " + zero.Add(second).String(); got != want {
				t.Errorf("%d quarters, program %d: on the bed %s, want %s", k, where, got, want)
			}
		}
	}
}
