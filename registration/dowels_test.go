package registration

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"gonum.org/v1/gonum/mat"

	"flipcalc/mirror/fact"
	"flipcalc/testdata/draws"
)

// pins reads "X,Y,DIA X,Y,DIA ..." in mm.
func pins(t testing.TB, s string) []Pin {
	t.Helper()
	var list []Pin
	for _, f := range strings.Fields(s) {
		p, err := ParsePin(f, 0)
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, p)
	}
	return list
}

// fitting names the lay-ups that fit, with their shift where there is one.
func fitting(a *Answer) string {
	var names []string
	for _, l := range a.LayUps {
		if !l.Fits {
			continue
		}
		s := l.Name
		if !l.Shift.X.IsZero() || !l.Shift.Y.IsZero() {
			s += " (" + l.Shift.String() + ")"
		}
		names = append(names, s)
	}
	return strings.Join(names, ", ")
}

// The verdicts follow from common practice in jig-making: two equal pins go on
// either way round; unlike pins, or a third one off the pattern's middle, don't.
func TestLayUps(t *testing.T) {
	var tests = []struct {
		name, flip, pins, backPin string
		fits                      string
		verdict                   string // code and values
	}{
		{"two equal pins on the flip line", "y", "60,8,6 60,72,6", "",
			"as is, flip x, flip y, turned 180", "not-foolproof [diameters 2 flip x turned 180]"},
		{"two unlike pins on the flip line", "y", "60,8,6 60,72,8", "",
			"as is, flip y", "foolproof [as is]"},
		{"the same for flip x", "x", "10,40,6 110,40,8", "",
			"as is, flip x", "foolproof [as is]"},
		{"two equal pins across the flip line", "y", "10,40,6 110,40,6", "",
			"as is, flip x, flip y, turned 180", "not-foolproof [third-pin flip x turned 180]"},
		{"off the middle, so the wrong way lands displaced", "y", "50,8,6 50,70,6", "",
			"as is (20,0), flip x (20,-2), flip y, turned 180 (0,-2)", "not-foolproof [diameters 2 flip x turned 180]"},
		{"three equal pins on the line, equally spaced", "y", "60,8,6 60,40,6 60,72,6", "",
			"as is, flip x, flip y, turned 180", "not-foolproof [diameters 3 flip x turned 180]"},
		{"three equal pins on the line, unequally spaced", "y", "60,8,6 60,30,6 60,72,6", "",
			"as is, flip y", "foolproof [as is]"},
		{"a pair across the line and a third pin on it, off the join", "y", "10,40,6 110,40,6 60,70,6", "",
			"as is, flip y", "foolproof [as is]"},
		{"four in the corners", "y", "10,10,6 110,10,6 10,70,6 110,70,6", "",
			"as is, flip x, flip y, turned 180", "not-foolproof [third-pin flip x turned 180]"},
		{"diameters not said", "y", "60,8 60,72", "",
			"as is, flip x, flip y, turned 180", "not-foolproof [diameters 2 flip x turned 180]"},
		// The third hole lands 0.4 from its pin, so at best each is 0.2 off.
		{"a third pin hardly off the middle", "y", "60,8,6 60,40.2,6 60,72,6", "",
			"as is, flip y", "near-miss [flip x 0.2]"},
		{"as far off as a push of the hand", "y", "60,8,6 60,40.25,6 60,72,6", "",
			"as is, flip y", "near-miss [flip x 0.25]"},
		{"a little farther", "y", "60,8,6 60,40.26,6 60,72,6", "",
			"as is, flip y", "foolproof [as is]"},
		{"diameters hardly different", "y", "60,8,6 60,72,6.3", "",
			"as is, flip y", "near-miss [flip x 0.15]"},
		{"any pattern at a second station", "y", "20,10,6 100,25,6 45,70,8", "300,50",
			"flip y", "foolproof []"},
		{"two equal pins at a second station", "y", "20,10,6 100,70,6", "300,50",
			"flip x, flip y", "not-foolproof [diameters 2 flip x]"},
	}
	for _, test := range tests {
		flip, err := ParseFlip(test.flip)
		if err != nil {
			t.Fatal(err)
		}
		q := Question{Stock: &Blank{d("120"), d("80"), d("12")}, Flip: flip, Register: Dowels, Pins: pins(t, test.pins)}
		if test.backPin != "" {
			p, err := ParsePoint(test.backPin, 0)
			if err != nil {
				t.Fatal(err)
			}
			q.BackPin = &p
		}
		a, err := Solve(q)
		if err != nil {
			t.Errorf("%s: %v", test.name, err)
			continue
		}
		if got := fitting(a); got != test.fits {
			t.Errorf("%s: fits %s, want %s", test.name, got, test.fits)
		}
		verdict := ""
		for _, f := range a.Facts {
			switch f.Code() {
			case "foolproof", "not-foolproof", "near-miss":
				if verdict == "" {
					verdict = f.Code() + " " + fmt.Sprint(fact.Values(f.Is))
				}
			}
		}
		if verdict != test.verdict {
			t.Errorf("%s: verdict %q, want %q", test.name, verdict, test.verdict)
		}
		if a.Foolproof != strings.HasPrefix(test.verdict, "foolproof") {
			t.Errorf("%s: Foolproof = %v", test.name, a.Foolproof)
		}
	}
}

// A dowel of 6 whose center lies 3 from the near edge leaves no wall there; its hole of 6.2 runs
// 0.1 over; 3.001 from it there is a wall.
func TestPinAtTheEdge(t *testing.T) {
	for _, c := range []struct{ y, hole, want string }{{"3", "6", "0"}, {"3", "6.2", "0.1"}, {"2", "6", "1"}, {"3.001", "6", ""}} {
		q := marker()
		q.Pins, q.Hole = pins(t, "60,"+c.y+",6 60,40,6"), []decimal.Decimal{d(c.hole)}
		a, err := Solve(q)
		if err != nil {
			t.Fatal(err)
		}
		got := ""
		for _, f := range a.Facts {
			if at, is := f.Is.(PinAtEdge); is {
				got += at.Out.String()
			}
		}
		if got != c.want {
			t.Errorf("%s from the edge, hole %s: %q, want %q", c.y, c.hole, got, c.want)
		}
	}
}

// A marker with dowels on u = 50 of a 120 blank: L2x = L1x + 2m - W.
func TestSamePins(t *testing.T) {
	q := marker()
	q.Pins = pins(t, "50,8,6 50,72,8")
	q.At = &Position{X: d("200"), Y: d("100"), Z: ptr("-30")}
	a, err := Solve(q)
	if err != nil {
		t.Fatal(err)
	}
	if !a.FlipLine.Equal(d("50")) || a.BackCorner.String() != "180,100" || a.Second.X.String() != "180" || a.Second.Y.String() != "100" {
		t.Errorf("flip line %s, L2 %s, second zero %s,%s", a.FlipLine, a.BackCorner, a.Second.X, a.Second.Y)
	}
	for i := range a.FacePins {
		if a.FacePins[i].String() != a.BackPins[i].String() {
			t.Errorf("pin %d: %s on the face, %s on the back", i+1, a.FacePins[i], a.BackPins[i])
		}
	}
	// A pair across the line swaps its pins.
	q.Pins = pins(t, "10,40,6 90,40,6")
	if a, err = Solve(q); err != nil {
		t.Fatal(err)
	}
	for _, l := range a.LayUps {
		if l.Wanted && !slices.Equal(l.Pairing, []int{1, 0}) {
			t.Errorf("pairing %v, want [1 0]", l.Pairing)
		}
	}
	if a.BackPins[0].String() != a.FacePins[1].String() {
		t.Errorf("hole 1 comes over %s, want the other pin at %s", a.BackPins[0], a.FacePins[1])
	}
}

// Eight pins in a row at unequal spacing: too many pairings to try each, so they
// are paired in their order; turned, two of them land 1 from their pins, so at best
// each is 0.5 off.
func TestManyPins(t *testing.T) {
	q := Question{Stock: &Blank{d("120"), d("80"), d("12")}, Flip: FlipY, Register: Dowels,
		Pins: pins(t, "60,5,4 60,15,4 60,25,4 60,36,4 60,45,4 60,55,4 60,65,4 60,75,4")}
	a, err := Solve(q)
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range a.LayUps {
		fits := l.Name == LayAsIs || l.Name == LayFlipY
		if l.Fits != fits || !fits && l.Miss.String() != "0.5" {
			t.Errorf("%s: fits %v, miss %s", l.Name, l.Fits, l.Miss)
		}
	}
	if !a.Foolproof {
		t.Error("half a millimetre off is not near")
	}
	q.Pins[3].At.Y = d("35.2")
	if a, err = Solve(q); err != nil || a.Foolproof || facts(a, "near-miss") == nil {
		t.Errorf("0.2 off: %v, %v", a.Foolproof, err)
	}
}

// bruteLayUps tries the lay-ups with rotation matrices and every pair of a hole
// and a pin as the first to meet.
func bruteLayUps(q Question) map[string]bool {
	size := vec{f(q.Stock.W), f(q.Stock.H), f(q.Stock.T)}
	var turned mat.Dense
	turned.Mul(aboutX, aboutY) // half a turn about Z
	poses := map[string]*mat.Dense{LayAsIs: flat, LayFlipX: aboutX, LayFlipY: aboutY, LayTurned: &turned}
	spots := func(r *mat.Dense) []vec {
		b := &body{size: size}
		b.orient(r)
		var s []vec
		for _, p := range q.Pins {
			v := b.at(vec{f(p.At.X), f(p.At.Y)})
			s = append(s, vec{v[0], v[1], f(p.Dia)})
		}
		return s
	}
	pins := spots(flat)
	if q.BackPin != nil {
		pins = spots(map[Flip]*mat.Dense{FlipX: aboutX, FlipY: aboutY}[q.Flip])
	}
	fits := map[string]bool{}
	for name, r := range poses {
		holes := spots(r)
		for _, h := range holes {
			for _, p := range pins {
				met := 0
				for _, g := range holes {
					moved := vec{g[0] + p[0] - h[0], g[1] + p[1] - h[1], g[2]}
					for _, o := range pins {
						if e := moved.minus(o); math.Abs(e[0])+math.Abs(e[1])+math.Abs(e[2]) < near0 {
							met++
							break
						}
					}
				}
				fits[name] = fits[name] || met == len(holes)
			}
		}
	}
	return fits
}

func TestLayUpsAgreeWithTurnedBox(t *testing.T) {
	r := rand.New(rand.NewPCG(20, 26))
	pick := func(from ...string) decimal.Decimal { return d(from[r.IntN(len(from))]) }
	mapped, unmapped := 0, 0
	for range draws.Of(6000) {
		q := Question{Stock: &Blank{d("120"), d("80"), d("12")}, Flip: Flip(1 + r.IntN(2)), Register: Dowels}
		if r.IntN(3) == 0 {
			q.BackPin = &Point{d("300"), d("50")}
		}
		for range 2 + r.IntN(3) {
			p := Pin{At: Point{pick("20", "60", "100", "35"), pick("10", "40", "70", "55")}, Dia: pick("6", "6", "8")}
			if !slices.ContainsFunc(q.Pins, func(o Pin) bool { return o.At.Equal(p.At) }) {
				q.Pins = append(q.Pins, p)
			}
		}
		if len(q.Pins) < 2 {
			continue
		}
		want := bruteLayUps(q)
		a, err := Solve(q)
		if e, no := err.(*Error); no && e.No {
			if unmapped++; want["flip "+q.Flip.String()] {
				t.Errorf("flip %s, %v: %v, but the box fits", q.Flip, q.Pins, err)
			}
			continue
		} else if err != nil {
			t.Fatal(err)
		}
		mapped++
		foolproof := true
		for _, l := range a.LayUps {
			if l.Fits != want[l.Name] {
				t.Errorf("flip %s, %v: %s fits = %v, the box says %v", q.Flip, q.Pins, l.Name, l.Fits, want[l.Name])
			}
			if l.Fits != (l.Reason == "") || !l.Fits && !l.Miss.IsPositive() {
				t.Errorf("flip %s, %v: %s fits = %v, reason %q, miss %s", q.Flip, q.Pins, l.Name, l.Fits, l.Reason, l.Miss)
			}
			if l.Fits && !l.Wanted && l.Name != LayAsIs {
				foolproof = false
			}
		}
		if a.Foolproof != foolproof {
			t.Errorf("flip %s, %v: foolproof = %v", q.Flip, q.Pins, a.Foolproof)
		}
	}
	t.Logf("%d patterns map, %d don't", mapped, unmapped)
	if mapped < draws.Of(1000) || unmapped < draws.Of(1000) {
		t.Error("too few of one kind")
	}
}

// Each cure, carried out, makes the pattern foolproof, and is the same at a second
// station where one place does it.
func TestCures(t *testing.T) {
	far := func(at Point, radius decimal.Decimal) bool { return at.Y.Sub(radius).GreaterThanOrEqual(d("40")) }
	var tests = []struct {
		name, flip, before string
		clear              func(Point, decimal.Decimal) bool
		cure, after        string
	}{
		{"two on the line", "y", "60,8,6 60,72,6", nil, "diameters 2", "60,8,6 60,72,8"},
		{"two on the line", "x", "10,40,6 110,40,6", nil, "diameters 2", "10,40,6 110,40,4"},
		{"three on the line", "y", "60,8,6 60,40,6 60,72,6", nil, "diameters 3", "60,8,6 60,40,6 60,72,8"},
		{"a pair", "y", "10,40,6 110,40,6", nil, "third-pin", ""},
		{"a pair", "y", "10,40,6 110,40,6", func(Point, decimal.Decimal) bool { return true }, "third-pin 60,74", "10,40,6 110,40,6 60,74,6"},
		{"a pair, far half clear", "x", "60,8,6 60,72,6", func(at Point, r decimal.Decimal) bool { return at.X.Add(r).LessThanOrEqual(d("100")) }, "third-pin 6,40", "60,8,6 60,72,6 6,40,6"},
		{"a pair, little clear", "y", "10,40,6 110,40,6", func(at Point, r decimal.Decimal) bool {
			return at.Y.Sub(r).GreaterThanOrEqual(d("50")) && at.Y.Add(r).LessThanOrEqual(d("60"))
		}, "third-pin 60,57", "10,40,6 110,40,6 60,57,6"},
		{"a pair, nothing clear", "y", "10,40,6 110,40,6", func(Point, decimal.Decimal) bool { return false }, "none", ""},
		{"two pairs", "y", "10,10,6 110,10,6 10,70,6 110,70,6", far, "third-pin 60,74", "10,10,6 110,10,6 10,70,6 110,70,6 60,74,6"},
		{"a pair and one between them", "y", "10,40,6 110,40,6 60,40,6", func(Point, decimal.Decimal) bool { return true }, "third-pin 60,74", "10,40,6 110,40,6 60,40,6 60,74,6"},
		{"a line at the edge", "y", "1,30,6 9,30,6", nil, "none", ""},
		{"only a second station", "y second", "20,10,6 100,70,6", nil, "diameters 2", "20,10,6 100,70,8"},
		{"two pairs", "x second", "10,40,6 110,40,6 60,20,6 60,60,6", far, "diameters 2", "10,40,6 110,40,8 60,20,6 60,60,6"},
	}
	for _, test := range tests {
		flip, _ := ParseFlip(test.flip[:1])
		for i, s := range []string{test.before, test.after} {
			for _, second := range []bool{false, true} {
				if s == "" || !second && strings.HasSuffix(test.flip, "second") {
					continue
				}
				q := Question{Stock: &Blank{d("120"), d("80"), d("12")}, Flip: flip, Register: Dowels, Pins: pins(t, s), Clear: test.clear}
				if second {
					q.BackPin = &Point{d("300"), d("50")}
				}
				a, err := Solve(q)
				if err != nil {
					t.Fatal(test.name, err)
				}
				if a.Foolproof != (i == 1) {
					t.Errorf("%s, flip %s, %s, second %v: foolproof = %v", test.name, test.flip, s, second, a.Foolproof)
				}
				for _, f := range a.Facts {
					if f.Code() == "not-foolproof" && fact.Values(f.Is)[0] != test.cure {
						t.Errorf("%s, flip %s, %s, second %v: cure %s, want %s", test.name, test.flip, s, second, fact.Values(f.Is)[0], test.cure)
					}
				}
			}
		}
	}
}
