package budget

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/fact"
	"flipcalc/mirror/transform"
	"flipcalc/registration"
)

func dec(s string) decimal.Decimal { return decimal.RequireFromString(s) }

func decp(s string) *decimal.Decimal {
	d := dec(s)
	return &d
}

func point(x, y string) registration.Point { return registration.Point{X: dec(x), Y: dec(y)} }

func pin(x, y, dia string) registration.Pin {
	return registration.Pin{At: point(x, y), Dia: dec(dia)}
}

// plain reads a length without units.
func plain(s string) (decimal.Decimal, error) { return decimal.NewFromString(s) }

// only gives tolerances that are all zero but those named.
func only(t *testing.T, u transform.Unit, args ...string) Tolerances {
	t.Helper()
	tol := Tolerances{}
	for _, a := range args {
		if err := tol.Set(a, u, plain); err != nil {
			t.Fatal(err)
		}
	}
	for _, d := range All() {
		if _, ok := tol[d.Name]; !ok {
			tol[d.Name] = Value{}
		}
	}
	return tol
}

// markers is a row marker of 120 x 80 x 12 on two dowels on the flip line.
func markers() registration.Question {
	return registration.Question{
		Stock: &registration.Blank{W: dec("120"), H: dec("80"), T: dec("12")},
		Flip:  registration.FlipY, Register: registration.Dowels,
		Pins: []registration.Pin{pin("60", "10", "6"), pin("60", "70", "8")},
	}
}

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > tol {
		t.Errorf("%s: %.9g, want %.9g", what, got, want)
	}
}

// along gives the sum of the terms' limits along an axis.
func along(r *Result, of func(Term) float64) (s float64) {
	for _, t := range r.Terms {
		s += of(t)
	}
	return s
}

func limitX(t Term) float64 { return t.X }
func limitY(t Term) float64 { return t.Y }

func worstX(r *Result) float64 { return along(r, limitX) }
func worstY(r *Result) float64 { return along(r, limitY) }

// uncertainty gives the combined standard uncertainty of limits taken as rectangular: a limit
// a has the variance a^2/3 (GUM 4.3.7), and variances add up (GUM 5.1.2).
func uncertainty(r *Result, of func(Term) float64) float64 {
	return math.Sqrt(along(r, func(t Term) float64 { return of(t) * of(t) / 3 }))
}

// Two dowels with 0.024 mm of clearance each (H7/g6 at 4 to 6 mm, ISO 286) at 100
// mm turn the blank by 2.400e-4 rad; 150 mm past a pin one seat displaces it by
// 0.048 mm. Derived: 0.012 + 150 x 0.024/100. Two seats count twice, the fit
// gives the same as the clearance itself.
func TestTwoPins(t *testing.T) {
	q := registration.Question{
		Stock: &registration.Blank{W: dec("80"), H: dec("300"), T: dec("12")},
		Flip:  registration.FlipY, Register: registration.Dowels, DrilledFace: true,
		Pins: []registration.Pin{pin("40", "50", "5"), pin("40", "150", "5")},
	}
	at := point("40", "300")
	tol := only(t, transform.MM, "clearance=0.024")
	r, err := of(q, Options{At: &at, Tolerances: tol})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "turn", r.Turn, 2.4e-4, 1e-9)
	near(t, "one seat", r.Worst, 0.048, 1e-12)
	near(t, "across the pins' line", worstX(r), 0.048, 1e-7)
	middle := point("40", "100")
	if m, err := of(q, Options{At: &middle, Tolerances: tol}); err != nil {
		t.Fatal(err)
	} else {
		// Half way between the holes a point goes no farther than they do: 0.024/2, any way.
		near(t, "between the pins", m.Worst, 0.012, 1e-12)
		near(t, "between the pins along X", worstX(m), 0.012, 1e-12)
		near(t, "between the pins along Y", worstY(m), 0.012, 1e-12)
	}
	near(t, "along the pins' line", worstY(r), 0.012, 1e-5)
	q.DrilledFace = false
	if r, err = of(q, Options{At: &at, Tolerances: tol}); err != nil {
		t.Fatal(err)
	}
	near(t, "two seats", r.Worst, 0.096, 1e-12)
	near(t, "two seats in quadrature, k = 2", r.Likely, 2*0.048*math.Sqrt2/math.Sqrt(3), 1e-12)
	q.Fit = "H7/g6"
	delete(tol, Clearance)
	if r, err = of(q, Options{At: &at, Tolerances: tol}); err != nil {
		t.Fatal(err)
	}
	near(t, "H7/g6", r.Worst, 0.096, 1e-12)
	if r.Terms[0].From != FromFit || r.Terms[0].Name != Clearance || len(r.Facts) != 0 {
		t.Errorf("%+v %+v", r.Terms[0], r.Facts)
	}
	// 0.017 at 100 mm: 1.700e-4 rad; 0.035 at 200 mm: 1.750e-4 rad (derived).
	for _, c := range []struct {
		c, y string
		want float64
	}{{"0.017", "150", 1.7e-4}, {"0.035", "250", 1.75e-4}} {
		q.Pins[1] = pin("40", c.y, "5")
		r, err := of(q, Options{Tolerances: only(t, transform.MM, "clearance="+c.c)})
		if err != nil {
			t.Fatal(err)
		}
		near(t, "turn "+c.c, r.Turn, c.want, 1e-9)
	}
}

// A hole and a pin that can be tight have no play there, and the budget says so:
// 6 mm H7/m6 is -0.012 to 0.008 (ISO 286).
func TestTightFit(t *testing.T) {
	q := markers()
	q.Fit = "H7/m6"
	q.Pins[1].Dia = dec("6")
	r, err := of(q, Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, term := range r.Terms {
		if term.Name == Clearance && term.Value.number() != 0.008 {
			t.Errorf("clearance %v", term.Value)
		}
	}
	want := registration.Fact{Level: "note", Is: FitTight{"H7/m6", dec("-0.012"), dec("0.008")}}
	if len(r.Facts) != 1 || fmt.Sprint(r.Facts[0]) != fmt.Sprint(want) {
		t.Errorf("facts %v", r.Facts)
	}
	// A hole of 6.1 give or take 0.02 on a pin of 6: 0.12 at most (derived).
	q.Fit, q.Hole = "", []decimal.Decimal{dec("6.1")}
	if r, err = of(q, Options{}); err != nil {
		t.Fatal(err)
	}
	for _, term := range r.Terms {
		if term.Name == Clearance && (math.Abs(term.Value.number()-0.12) > 1e-12 || term.From != Sizes) {
			t.Errorf("clearance %v %v", term.Value, term.From)
		}
	}
}

// Each pin has its own hole: 6.05 on 6 and 8.1 on 8, each give or take 0.02, so 0.07 and
// 0.12 at most; on the join's middle one seat moves by their mean's half, 0.0475 (derived).
func TestHoleForEachPin(t *testing.T) {
	at := registration.Point{X: dec("60"), Y: dec("40")}
	q := registration.Question{Stock: &registration.Blank{W: dec("120"), H: dec("80"), T: dec("12")}, Flip: registration.FlipY, Register: registration.Dowels, DrilledFace: true,
		Pins: []registration.Pin{{At: registration.Point{X: dec("60"), Y: dec("10")}, Dia: dec("6")}, {At: registration.Point{X: dec("60"), Y: dec("70")}, Dia: dec("8")}},
		Hole: []decimal.Decimal{dec("6.05"), dec("8.1")}}
	r, err := of(q, Options{At: &at})
	if err != nil {
		t.Fatal(err)
	}
	for _, term := range r.Terms {
		if term.Name == Clearance && math.Abs(term.Limit-0.0475) > 1e-12 {
			t.Errorf("limit %v, want 0.0475", term.Limit)
		}
	}
}

// An axis 0.1 mm out of square in 300 moves a feature 200 mm from the line where
// the blank is held by 2 x 200 x 0.1/300 = 0.1333 mm, at 300 mm by 0.2 mm.
// Derived from the inversion test of a plate (comparator calibration).
func TestSquareness(t *testing.T) {
	tol := only(t, transform.MM, "square=0.1/300")
	q := registration.Question{
		Stock: &registration.Blank{W: dec("400"), H: dec("300"), T: dec("18")}, Flip: registration.FlipY,
		Register: registration.FenceStop,
		Fence:    registration.Contact{Side: registration.Near}, Stop: registration.Contact{Side: registration.Left},
		Contacts: &registration.Contacts{Fence: [2]decimal.Decimal{dec("60"), dec("340")}},
	}
	for _, c := range []struct {
		y, stop string // where the stop touches, from the fence
		want    float64
	}{{"200", "0", 0.4 / 3}, {"300", "0", 0.2}, {"0", "0", 0}, {"300", "100", 0.4 / 3}, {"100", "100", 0}} {
		q.Contacts.Stop = dec(c.stop)
		at := point("10", c.y)
		r, err := of(q, Options{At: &at, Tolerances: tol})
		if err != nil {
			t.Fatal(err)
		}
		near(t, "square at "+c.y, r.Worst, c.want, 1e-12)
		near(t, "square in X at "+c.y, worstX(r), c.want, 1e-12)
	}
	// Turned over near to far, the blank is held at the stop's 100 on both sides, which are
	// 100 and 200 of the face: q (y - 100) and q (y - 200) add up (derived).
	q.Flip, q.Contacts.Stop = registration.FlipX, dec("100")
	for y, want := range map[string]float64{"200": 0.1 / 3, "150": 0, "300": 0.1} {
		at := point("10", y)
		r, err := of(q, Options{At: &at, Tolerances: tol})
		if err != nil {
			t.Fatal(err)
		}
		near(t, "square, flip x, at "+y, r.Worst, want, 1e-12)
	}
}

// The end gauge of the GUM (JCGM 100:2008, H.1): contributions of 25, 9.7, 2.9
// and 16.6 nm give 32 nm (31.67 of the rounded four), and 9.7 nm is itself 5.8,
// 3.9 and 6.7 nm.
func TestQuadrature(t *testing.T) {
	near(t, "H.1", quadrature(25, 9.7, 2.9, 16.6), 31.67, 0.005)
	near(t, "H.1 difference", quadrature(5.8, 3.9, 6.7), 9.7, 0.05)
	near(t, "nothing", quadrature(), 0, 0)
	// 0.20, 0.10 and 0.15: worst 0.45, root of squares 0.269 (arithmetic).
	near(t, "root of squares", quadrature(0.20, 0.10, 0.15), 0.269258, 1e-6)
}

// Rectangular limits: u = a/sqrt 3 (GUM 4.3.7). Machine repeatability alone is
// once per side and axis: worst 0.04 sqrt 2, u = 0.02 sqrt 2 sqrt(2/3), and k = 2 would reach beyond
// what is possible, which Likely doesn't.
func TestTotals(t *testing.T) {
	r, err := of(markers(), Options{Tolerances: only(t, transform.MM, "repeatability=0.02")})
	if err != nil {
		t.Fatal(err)
	}
	u := 0.02 * math.Sqrt2 * math.Sqrt(2.0/3)
	near(t, "worst", r.Worst, 0.04*math.Sqrt2, 1e-12)
	near(t, "worst along X", worstX(r), 0.04, 1e-12)
	near(t, "likely", r.Likely, 2*u, 1e-12)
	if r.Halved == nil || r.Halved.Name != Repeatability || r.Halved.Value.String() != "0.01" {
		t.Fatalf("halved %+v", r.Halved)
	}
	near(t, "halved worst", r.Halved.Worst, 0.02*math.Sqrt2, 1e-12)
	near(t, "halved likely", r.Halved.Likely, u, 1e-12)
	r, err = of(markers(), Options{Tolerances: only(t, transform.MM, "locator=0.02")})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "one term's likely", r.Likely, 0.04, 1e-12) // k = 2 would give 0.04 x 2/sqrt 3
	r, err = of(markers(), Options{Tolerances: only(t, transform.MM)})
	if err != nil || r.Worst != 0 || r.Likely != 0 || r.Halved != nil {
		t.Errorf("all zero: %+v, %v", r, err)
	}
}

// The corner looked at by default is the one where the worst case is largest:
// with pins near one end, a corner at the other.
func TestFarthestCorner(t *testing.T) {
	q := markers()
	q.Pins = []registration.Pin{pin("60", "50", "6"), pin("60", "70", "8")}
	r, err := of(q, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if !r.At.Y.IsZero() {
		t.Errorf("at %v, want a near corner", r.At)
	}
	for _, c := range q.Stock.Corners() {
		s, err := of(q, Options{At: &c})
		if err != nil || s.Worst > r.Worst*(1+1e-9) {
			t.Errorf("corner %v has %v, more than %v; %v", c, s.Worst, r.Worst, err)
		}
	}
}

// One locator for both sides counts twice across the flip line and not at all
// along it; a second station's counts once each, any way.
func TestLocators(t *testing.T) {
	tol := only(t, transform.MM, "locator=0.05")
	fence := func(flip registration.Flip, fence, stop, backFence, backStop registration.Side) registration.Question {
		return registration.Question{
			Stock: &registration.Blank{W: dec("140"), H: dec("90"), T: dec("19")}, Flip: flip,
			Register: registration.FenceStop,
			Fence:    registration.Contact{Side: fence}, Stop: registration.Contact{Side: stop},
			BackFence: registration.Contact{Side: backFence}, BackStop: registration.Contact{Side: backStop},
		}
	}
	const n, f, l, r = registration.Near, registration.Far, registration.Left, registration.Right
	second := markers()
	at := point("300", "40")
	second.BackPin = &at
	moved := fence(registration.FlipY, n, l, n, l)
	moved.Stop.Coord, moved.BackStop.Coord = decp("50"), decp("350")
	plug := markers()
	plug.Register, plug.Round, plug.Bore = registration.Plug, true, &registration.Pin{At: point("60", "40"), Dia: dec("30")}
	plugTwo := plug
	plugTwo.PlugAt = &at
	flipX := markers()
	flipX.Flip, flipX.Pins = registration.FlipX, []registration.Pin{pin("10", "40", "6"), pin("110", "40", "8")}
	for _, c := range []struct {
		name string
		q    registration.Question
		x, y float64
	}{
		{"dowels, flip y", markers(), 0.1, 0},
		{"dowels, flip x", flipX, 0, 0.1},
		{"dowels, second station", second, 0.1, 0.1},
		{"plug", plug, 0.1, 0},
		{"plug, second station", plugTwo, 0.1, 0.1},
		{"fence, same stop", fence(registration.FlipY, n, l, n, l), 0.1, 0},
		{"fence, other stop", fence(registration.FlipY, n, l, n, r), 0.1, 0},
		{"fence, other fence", fence(registration.FlipY, n, l, f, l), 0.1, 0.1},
		{"fence, flip x", fence(registration.FlipX, n, l, n, l), 0, 0.1},
		{"fence, stop at a second station", moved, 0.1, 0},
	} {
		res, err := of(c.q, Options{Tolerances: tol})
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		near(t, c.name+" x", worstX(res), c.x, 1e-12)
		near(t, c.name+" y", worstY(res), c.y, 1e-12)
	}
	// One stop for both sides is one error doubled, two stops are two errors: the
	// same worst case, but another quadrature.
	one, _ := of(fence(registration.FlipY, n, l, n, l), Options{Tolerances: tol})
	two, _ := of(fence(registration.FlipY, n, l, n, r), Options{Tolerances: tol})
	near(t, "one, capped by the worst case", one.Likely, 0.1, 1e-12)
	near(t, "two in quadrature, k = 2", two.Likely, 2*0.05*math.Sqrt2/math.Sqrt(3), 1e-12)
}

// The blank's size and corners enter where another physical edge touches on the
// back, and only there.
func TestOtherEdges(t *testing.T) {
	const n, f, l, r = registration.Near, registration.Far, registration.Left, registration.Right
	for _, c := range []struct {
		flip                             registration.Flip
		fence, stop, backFence, backStop registration.Side
		x, y                             float64
		corner                           bool
	}{
		{registration.FlipY, n, l, n, r, 0, 0, false},
		{registration.FlipY, n, l, n, l, 0.2, 0, false},
		{registration.FlipY, n, l, f, r, 0, 0.2, true},
		{registration.FlipX, n, l, f, l, 0, 0, false},
		{registration.FlipX, n, l, n, l, 0, 0.2, true},
		{registration.FlipX, l, n, l, n, 0, 0.2, false},
		{registration.FlipY, l, n, r, n, 0, 0, false},
		{registration.FlipY, l, n, l, n, 0.2, 0, true},
	} {
		q := registration.Question{
			Stock: &registration.Blank{W: dec("140"), H: dec("90"), T: dec("19")}, Flip: c.flip,
			Register: registration.FenceStop,
			Fence:    registration.Contact{Side: c.fence}, Stop: registration.Contact{Side: c.stop},
			BackFence: registration.Contact{Side: c.backFence}, BackStop: registration.Contact{Side: c.backStop},
		}
		res, err := of(q, Options{Tolerances: only(t, transform.MM, "size=0.2")})
		if err != nil {
			t.Fatal(err)
		}
		near(t, fmt.Sprintf("%+v x", c), worstX(res), c.x, 1e-12)
		near(t, fmt.Sprintf("%+v y", c), worstY(res), c.y, 1e-12)
		res, err = of(q, Options{Tolerances: only(t, transform.MM, "corner=0.1")})
		if err != nil || (res.Worst > 0) != c.corner {
			t.Errorf("%+v: corner %v, %v", c, res.Worst, err)
		}
	}
}

// A plug of 0.04 clearance in a bore 50 from a index pin of 0.10 play turns
// the blank by (0.04 + 0.10)/(2 x 50) = 1.4e-3 rad (derived); at the far corner of
// a 120 square about its middle, 84.85 mm away, that is 0.1188 mm.
func TestPlug(t *testing.T) {
	q := registration.Question{
		Stock: &registration.Blank{W: dec("120"), H: dec("120"), T: dec("12")}, Flip: registration.FlipY,
		Register: registration.Plug, Bore: &registration.Pin{At: point("60", "60"), Dia: dec("30")},
		Clock: registration.Clocking{Kind: registration.ClockPin, Pin: point("60", "10")},
	}
	tol := only(t, transform.MM, "clearance=0.04", "clocking=0.1")
	r, err := of(q, Options{Tolerances: tol})
	if err != nil {
		t.Fatal(err)
	}
	rim := 60 * math.Sqrt2
	near(t, "turn", r.Turn, 1.4e-3, 1e-9)
	near(t, "at the rim", r.TurnAtRim, 1.4e-3*rim, 1e-12)
	near(t, "worst", r.Worst, 2*(0.02+1.4e-3*rim), 1e-12)
	if len(r.Terms) < 4 || r.Terms[0].Name != Clocking || r.Halved.Name != Clocking {
		t.Errorf("%+v", r.Terms)
	}
	near(t, "halved", r.Halved.Worst, 2*(0.02+0.9e-3*rim), 1e-12)
	// From the pin's own sizes: hole 6.1 give or take 0.02 on 6.
	q.Clock.Dia, q.Clock.Hole = dec("6"), dec("6.1")
	delete(tol, Clocking)
	tol[Hole] = Value{Amount: dec("0.02")}
	if r, err = of(q, Options{Tolerances: tol}); err != nil || math.Abs(r.Turn-(0.04+0.12)/100) > 1e-9 {
		t.Errorf("from sizes: %v, %v", r.Turn, err)
	}
	// A round part without clocking: only the plug's play is left, and free to turn.
	q.Clock, q.Round = registration.Clocking{Kind: registration.ClockNone}, true
	if r, err = of(q, Options{Tolerances: only(t, transform.MM, "clearance=0.04")}); err != nil {
		t.Fatal(err)
	}
	if near(t, "round", r.Worst, 0.04, 1e-12); !r.Free || r.Turn != 0 {
		t.Errorf("free %v turn %v", r.Free, r.Turn)
	}
	// A fence holds at its contacts, at worst at the nearer: 30 and 170 along the edge of
	// 200, the bore at 60.
	q.Clock = registration.Clocking{Kind: registration.ClockFence}
	q.Fence.Side = registration.Left
	q.Stock.H = dec("200")
	if r, err = of(q, Options{Tolerances: only(t, transform.MM, "clocking=0.1")}); err != nil {
		t.Fatal(err)
	}
	near(t, "fence", r.Turn, 0.1/60, 1e-8)
	// Beyond the bore too: 18 and 102 along the near edge of 120, the bore at 10.
	q.Fence.Side, q.Bore.At.X = registration.Near, dec("10")
	if beside, err := of(q, Options{Tolerances: only(t, transform.MM, "clocking=0.1")}); err != nil || fact.Values(beside.Facts[0].Is)[0] != "8" {
		t.Errorf("%+v, %v", beside, err)
	}
	// A fence on no said side, and a flat, hold at half the longer side, here of 120 x 200.
	for _, kind := range []string{registration.ClockFlat, registration.ClockFence} {
		q.Fence.Side, q.Clock.Kind = registration.NoSide, kind
		if half, err := of(q, Options{Tolerances: only(t, transform.MM, "clocking=0.1")}); err != nil || fact.Values(half.Facts[0].Is)[0] != "100" {
			t.Errorf("%s: %+v, %v", kind, half, err)
		}
	}
	if len(r.Facts) != 1 || r.Facts[0].Code() != "clocking-lever" || fact.Values(r.Facts[0].Is)[0] != "30" {
		t.Errorf("%+v", r.Facts)
	}
}

func TestRefusals(t *testing.T) {
	type change func(*registration.Question, *Options)
	for _, c := range []struct {
		name, want string
		do         change
	}{
		{"no register", "register: nothing that locates the blank, expected dowels, plug, fence or touched, since the budget depends on it",
			func(q *registration.Question, _ *Options) { q.Register = registration.NoRegister }},
		{"bad fit", `fit: fit "tight", expected a hole class, a slash and a shaft class, such as H7/g6`,
			func(q *registration.Question, _ *Options) { q.Fit = "tight" }},
		{"fit without diameter", "pin: fit H7/g6 and no diameter, expected the nominal diameter to which the fit belongs",
			func(q *registration.Question, _ *Options) { q.Fit, q.Pins[0].Dia = "H7/g6", decimal.Decimal{} }},
		{"fit in inches", "fit: fit H7/g6 with lengths in inches, expected a hole diameter in inches, since ISO 286 fits don't name inch holes; " +
			"hint: give ‹hole›; a dowel of 1/4 takes a hole of 0.2503 to 0.258",
			func(q *registration.Question, _ *Options) {
				q.Fit, q.Unit, q.Pins[0].Dia = "H7/g6", transform.Inch, dec("0.25")
			}},
		{"moisture alone", "moisture: a change of moisture and no wood, expected ‹wood› too",
			func(_ *registration.Question, o *Options) { o.Moisture = decp("2") }},
		{"grain", `grain: "z", expected x or y`, func(_ *registration.Question, o *Options) { o.Wood, o.Grain = "beech", "z" }},
	} {
		q, o := markers(), Options{}
		c.do(&q, &o)
		_, err := of(q, o)
		var e *registration.Error
		if err == nil || err.Error() != c.want || !errors.As(err, &e) {
			t.Errorf("%s:\n got %v\nwant %s", c.name, err, c.want)
		}
	}
}

func ExampleFor() {
	q := registration.Question{
		Stock: &registration.Blank{W: dec("120"), H: dec("80"), T: dec("12")},
		Flip:  registration.FlipY, Register: registration.Dowels, Fit: "H7/g6",
		Pins: []registration.Pin{pin("60", "8", "6"), pin("60", "72", "8")},
	}
	a, err := registration.Solve(q)
	if err != nil {
		fmt.Println(err)
		return
	}
	r, err := For(a, Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, t := range r.Terms {
		fmt.Println(strings.TrimSpace(fmt.Sprintf("%-13s %-4s %-7s %.3f mm %s", t.Name, t.Sides, t.Value, t.Limit, t.From)))
	}
	fmt.Printf("at %s,%s: worst case %.3f mm, likely %.3f mm\n", r.At.X, r.At.Y, r.Worst, r.Likely)
	fmt.Printf("halving %s to %s leaves %.3f mm\n", r.Halved.Name, r.Halved.Value, r.Halved.Worst)
	// Output:
	// pin-line      both 0.02    0.045 mm common practice
	// square        both 0.1/300 0.040 mm common practice
	// locator       both 0.02    0.040 mm common practice
	// clearance     face 0.029   0.033 mm fit
	// clearance     back 0.029   0.033 mm fit
	// repeatability face 0.02    0.028 mm common practice
	// repeatability back 0.02    0.028 mm common practice
	// at 0,80: worst case 0.247 mm, likely 0.109 mm
	// halving clearance to 0.0145 leaves 0.214 mm
}

// The worst place of a round part lies on its rim, whatever the corner of the square
// about it says (derived).
func TestWorstPlaceOfARoundPart(t *testing.T) {
	bore, plug := pin("30", "30", "12"), decimal.RequireFromString("11.95")
	sixty := decimal.NewFromInt(60)
	r, err := of(registration.Question{Stock: &registration.Blank{W: sixty, H: sixty, T: decimal.NewFromInt(8)}, Flip: registration.FlipX,
		Register: registration.Plug, Round: true, Bore: &bore, PlugD: &plug, TouchOff: registration.TouchOffEach}, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if far := toVec(r.At).minus(vec{30, 30}).abs(); far > 30 || far < 29.999 {
		t.Errorf("at %v, %g from the middle; want 30, the rim", r.At, far)
	}
}

// A round part of 60 on a plug 10 off its middle, held by a pin 20 from the plug: the rim
// reaches 40 from the plug and turns by 0.1/(2 x 20) of it (derived).
func TestRimOfARoundPart(t *testing.T) {
	bore := pin("40", "30", "12")
	r, err := of(registration.Question{Stock: &registration.Blank{W: dec("60"), H: dec("60"), T: dec("8")}, Flip: registration.FlipX,
		Register: registration.Plug, Round: true, Bore: &bore,
		Clock: registration.Clocking{Kind: registration.ClockPin, Pin: point("20", "30")}}, Options{Tolerances: only(t, transform.MM, "clocking=0.1")})
	if err != nil || r.Free {
		t.Fatal(r, err)
	}
	near(t, "at the rim", r.TurnAtRim, 40*0.1/40, 1e-6)
}
