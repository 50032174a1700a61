package landed

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

func off(s string) Measurement {
	m, err := Parse(s, transform.MM)
	if err != nil {
		panic(err)
	}
	return m
}

// boards is a bread board of 140 x 90 against a fence and a stop.
func boards(flip registration.Flip, fence, stop registration.Side) registration.Question {
	return registration.Question{
		Stock: &registration.Blank{W: dec("140"), H: dec("90"), T: dec("19")}, Flip: flip,
		At:       &registration.Position{X: dec("50"), Y: dec("60"), Z: decp("-20")},
		Register: registration.FenceStop,
		Fence:    registration.Contact{Side: fence}, Stop: registration.Contact{Side: stop},
	}
}

func markers() registration.Question {
	return registration.Question{
		Stock: &registration.Blank{W: dec("120"), H: dec("80"), T: dec("12")}, Flip: registration.FlipY,
		At:       &registration.Position{X: dec("200"), Y: dec("100")},
		Register: registration.Dowels,
		Pins:     []registration.Pin{{At: point("60", "8"), Dia: dec("6")}, {At: point("60", "72"), Dia: dec("8")}},
	}
}

func solve(t *testing.T, q registration.Question) *registration.Answer {
	t.Helper()
	a, err := registration.Solve(q)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// A zero set wrong by (0.3, -0.12): the back's cuts land by just that off, and
// the corrected zero is the right one again, exactly.
func TestUndoesAShift(t *testing.T) {
	for _, e := range []registration.Point{point("0.3", "-0.12"), point("-1.0000001", "0"), point("0", "0")} {
		a := solve(t, boards(registration.FlipY, registration.Near, registration.Left))
		right := *a.Second
		a.Second.X, a.Second.Y = right.X.Add(e.X), right.Y.Add(e.Y)
		// A back program's point lies at the zero plus the point, on the blank that
		// much from its corner.
		p := point("37", "21")
		land := registration.Point{X: a.Second.X.Add(p.X).Sub(a.BackCorner.X), Y: a.Second.Y.Add(p.Y).Sub(a.BackCorner.Y)}
		should := registration.Point{X: right.X.Add(p.X).Sub(a.BackCorner.X), Y: right.Y.Add(p.Y).Sub(a.BackCorner.Y)}
		c, err := Correct(a, []Measurement{{Off: land.Sub(should)}}, Options{})
		if err != nil {
			t.Fatal(err)
		}
		if !c.Zero.X.Equal(right.X) || !c.Zero.Y.Equal(right.Y) || c.Zero.Offset != right.Offset || !c.Zero.Z.Equal(*right.Z) {
			t.Errorf("corrected to %v, want %v", c.Zero, right)
		}
		if c.Greatest != 0 || c.Turn != nil || c.Facts[len(c.Facts)-1].Code() != "turn-unknown" {
			t.Errorf("%+v", c)
		}
		// The same shift at three places is no turn, and three thirds are whole.
		m := Measurement{Off: e}
		var list []Measurement
		for _, at := range []registration.Point{point("10", "10"), point("130", "15"), point("70", "80")} {
			m.At = &registration.Point{X: at.X, Y: at.Y}
			list = append(list, m)
		}
		if c, err = Correct(a, list, Options{}); err != nil {
			t.Fatal(err)
		}
		if !c.Zero.X.Equal(right.X) || !c.Turn.Cures[0].Zero.X.Equal(right.X) || !c.Turn.Cures[0].Zero.Y.Equal(right.Y) ||
			c.Turn.Angle != 0 || c.Turn.Clear || c.Turn.Greatest != 0 {
			t.Errorf("three places: %+v %+v", c, c.Turn)
		}
	}
}

// A locator of the back alone moves by the mismatch; one for both sides by half
// of it across the flip line, and along the line nothing helps.
func TestLocatorMoves(t *testing.T) {
	second := markers()
	at := point("500", "120")
	second.BackPin = &at
	plug := markers()
	plug.Register, plug.Bore, plug.Round = registration.Plug, &registration.Pin{At: point("60", "40"), Dia: dec("30")}, true
	plugX := plug
	plugX.Flip = registration.FlipX
	plugTwo := plug
	plugTwo.PlugAt = &at
	otherStop := boards(registration.FlipY, registration.Near, registration.Left)
	otherStop.BackStop.Side = registration.Right
	for _, c := range []struct {
		name string
		q    registration.Question
		want string
	}{
		{"dowels", markers(), "dowels x 2 0.15, dowels y 0 0"},
		{"dowels at a second station", second, "dowels x 1 0.3, dowels y 1 -0.1"},
		{"plug", plug, "plug x 2 0.15, plug y 0 0"},
		{"plug, flip x", plugX, "plug x 0 0, plug y 2 -0.05"},
		{"plug at a second station", plugTwo, "plug x 1 0.3, plug y 1 -0.1"},
		{"fence near, stop left", boards(registration.FlipY, registration.Near, registration.Left), "stop x 2 0.15, fence y 0 0"},
		{"fence near, flip x", boards(registration.FlipX, registration.Near, registration.Left), "stop x 0 0, fence y 2 -0.05"},
		{"fence left", boards(registration.FlipY, registration.Left, registration.Far), "fence x 2 0.15, stop y 0 0"},
		{"other stop", otherStop, "stop x 1 0.3, fence y 0 0"},
	} {
		got, err := Correct(solve(t, c.q), []Measurement{off("0.3,-0.1")}, Options{})
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		var list []string
		no := 0
		for _, m := range got.Locators {
			list = append(list, fmt.Sprintf("%s %s %d %s", m.Locator, m.Axis, m.Factor, m.Move))
			if m.Factor == 0 {
				no++
			}
		}
		if s := strings.Join(list, ", "); s != c.want {
			t.Errorf("%s: %s, want %s", c.name, s, c.want)
		}
		for _, f := range got.Facts {
			if f.Code() == "no-locator-move" {
				no--
			}
		}
		if no != 0 {
			t.Errorf("%s: facts %v", c.name, got.Facts)
		}
	}
}

// The half move, seen at the machine: moving one stop for both sides by m moves
// the face's cuts on the part by -m and the back's by -m, which the turned part
// shows as 2m across the flip line. Derived by following one edge.
func TestHalfMoveSimulated(t *testing.T) {
	const w = 140.0
	wrong := 0.15 // the stop stands this far right of its place
	cut := func(stop float64) float64 {
		u := 30.0                // where the face program cuts, from the zero at the stop's supposed place
		face := u - stop         // so far from the blank's left edge it lands
		back := (w - u) - (stop) // the mirrored program, from the turned blank's left edge
		return back - (w - face) // seen on the back: where it lies minus where it should
	}
	measured := cut(wrong)
	a := solve(t, boards(registration.FlipY, registration.Near, registration.Left))
	c, err := Correct(a, []Measurement{{Off: registration.Point{X: decimal.NewFromFloat(measured)}}}, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if left := cut(wrong + c.Locators[0].Move.InexactFloat64()); math.Abs(left) > 1e-12 || measured == 0 {
		t.Errorf("moved by %s: %v left of %v", c.Locators[0].Move, left, measured)
	}
}

// pose is a blank on the bed: turned by a about c, then moved; float64.
type pose struct{ a, cx, cy, mx, my float64 }

func (p pose) take(x, y float64) (float64, float64) {
	s, c := math.Sincos(p.a)
	x, y = x-p.cx-p.mx, y-p.cy-p.my
	return p.cx + c*x + s*y, p.cy - s*x + c*y
}

func num(d decimal.Decimal) float64 { return d.InexactFloat64() }

func from(v float64) decimal.Decimal { return decimal.NewFromFloat(v) }

// Pins for both sides that stand out of line by a small angle: the pin moved
// by the given way, with its zero, leaves no more than r t^2/2. The blank is
// seated on the pins on both sides and cut on both.
func TestUndoesATurnAtThePins(t *testing.T) {
	for _, pins := range [][]registration.Pin{
		{{At: point("60", "8"), Dia: dec("6")}, {At: point("60", "72"), Dia: dec("8")}},
		{{At: point("10", "40"), Dia: dec("6")}, {At: point("110", "40"), Dia: dec("6")}},
	} {
		q := markers()
		q.Pins = pins
		a := solve(t, q)
		type xy = [2]float64
		cx, cy := num(a.FaceCorner.X), num(a.FaceCorner.Y)
		nominal := []xy{}
		for _, p := range a.FacePins {
			nominal = append(nominal, xy{num(p.At.X) - cx, num(p.At.Y) - cy})
		}
		w := 120.0
		over := func(p xy) xy { return xy{w - p[0], p[1]} }
		// seat lays the blank's holes over pins that stand at real.
		seat := func(holes, real []xy) pose {
			dir := func(p []xy) float64 { return math.Atan2(p[1][1]-p[0][1], p[1][0]-p[0][0]) }
			return pose{a: math.Remainder(dir(real)-dir(holes), 2*math.Pi), cx: holes[0][0], cy: holes[0][1],
				mx: real[0][0] - holes[0][0], my: real[0][1] - holes[0][1]}
		}
		// cut gives the mismatch at p of the back, with the back's zero off by z.
		cut := func(real []xy, z, p xy) xy {
			face := seat(nominal, real)
			holes := []xy{over(nominal[0]), over(nominal[1])}
			under := real
			if holes[0] != nominal[0] { // the holes change over
				holes[0], holes[1] = holes[1], holes[0]
			}
			back := seat(holes, under)
			f := over(p)
			fx, fy := face.take(f[0], f[1])
			should := over(xy{fx, fy})
			bx, by := back.take(p[0]+z[0], p[1]+z[1])
			return xy{bx - should[0], by - should[1]}
		}
		const lean = 0.3
		real := []xy{nominal[0], {nominal[1][0] - lean*(nominal[1][1]-nominal[0][1])/100, nominal[1][1] + lean*(nominal[1][0]-nominal[0][0])/100}}
		var list []Measurement
		for _, p := range []xy{{10, 10}, {110, 70}} {
			d := cut(real, xy{}, p)
			list = append(list, Measurement{Off: registration.Point{X: from(d[0]), Y: from(d[1])}, At: &registration.Point{X: from(p[0]), Y: from(p[1])}})
		}
		c, err := Correct(a, list, Options{})
		if err != nil {
			t.Fatal(err)
		}
		m := c.Turn.Cures[0].Pin
		if m == nil || !c.Turn.Cures[0].Both {
			t.Fatalf("%+v", m)
		}
		moved := []xy{real[0], real[1]}
		moved[m.Pin-1][0] += num(m.Move.X)
		moved[m.Pin-1][1] += num(m.Move.Y)
		after1 := c.Turn.Cures[0].Zero
		z := xy{num(after1.X.Sub(a.Second.X)), num(after1.Y.Sub(a.Second.Y))}
		before, after := 0.0, 0.0
		for _, p := range []xy{{0, 0}, {120, 0}, {0, 80}, {120, 80}} {
			d := cut(real, xy{}, p)
			before = max(before, math.Hypot(d[0], d[1]))
			d = cut(moved, z, p)
			after = max(after, math.Hypot(d[0], d[1]))
		}
		angle := c.Turn.Angle
		limit := math.Hypot(120, 80) * angle * angle / 2
		if math.Abs(math.Abs(angle)-2*lean/100) > 1e-4 || after > limit+1e-7 || before < 0.2 {
			t.Errorf("pins %v: turn %v, before %v, after %v, limit %v, moved %+v", nominal, angle, before, after, limit, m)
		}
	}
}

// A plug: its clocking pin moves across the join by the sine times its distance.
func TestPlugsClockingPin(t *testing.T) {
	q := markers()
	q.Register, q.Bore = registration.Plug, &registration.Pin{At: point("60", "40"), Dia: dec("30")}
	q.Clock = registration.Clocking{Kind: registration.ClockPin, Pin: point("60", "8"), Dia: dec("6")}
	c, err := Correct(solve(t, q), []Measurement{off("0,-0.1@10,40"), off("0,0.1@110,40")}, Options{})
	if err != nil {
		t.Fatal(err)
	}
	// sin t = 0.2/100; the pin lies (0, -32) from the plug and serves both sides.
	p := c.Turn.Cures[0].Pin
	if p == nil || p.Pin != 0 || !c.Turn.Cures[0].Both || !p.Move.X.Equal(dec("0.032")) || !p.Move.Y.IsZero() || c.Turn.Angle != math.Asin(0.002) {
		t.Errorf("%+v %+v", c.Turn, p)
	}
	if !c.Turn.Cures[0].Shift.X.IsZero() || !c.Turn.Cures[0].Shift.Y.IsZero() {
		t.Errorf("shift %v", c.Turn.Cures[0].Shift)
	}
}

// A clocking pin off the flip line through the bore stands elsewhere for the back, along X
// with flip y and along Y with flip x: moved there it serves the back alone, and goes the
// whole way, the sine 0.002 times its distance (derived).
func TestClockingPinOfTheBackAlone(t *testing.T) {
	for _, c := range []struct {
		flip registration.Flip
		pin  registration.Point
		want registration.Point // the pin lies so from the plug, seen from the back
	}{{registration.FlipY, point("20", "40"), point("40", "0")}, {registration.FlipX, point("60", "8"), point("0", "32")}} {
		q := markers()
		q.Flip, q.Register, q.Bore = c.flip, registration.Plug, &registration.Pin{At: point("60", "40"), Dia: dec("30")}
		q.Clock = registration.Clocking{Kind: registration.ClockPin, Pin: c.pin, Dia: dec("6")}
		got, err := Correct(solve(t, q), []Measurement{off("0,-0.1@10,40"), off("0,0.1@110,40")}, Options{})
		if err != nil {
			t.Fatal(err)
		}
		cure := got.Turn.Cures[0]
		way := quarter(c.want).Times(dec("0.002"))
		if p := cure.Pin; cure.Both || p == nil || !p.Move.X.Equal(way.X) || !p.Move.Y.Equal(way.Y) || cure.Angle != got.Turn.Angle {
			t.Errorf("flip %s: %+v, want %v", c.flip, cure.Pin, way)
		}
	}
}

// A turn is clear where it moves the farthest place by more than one measured value can be
// off: 0.001 over 50 mm is 0.05, so not with 0.05 and clear with 0.0499 (derived). The fact
// gives that way.
func TestClear(t *testing.T) {
	a := solve(t, markers())
	list := []Measurement{off("0,-0.05@10,40"), off("0,0.05@110,40")}
	for limit, want := range map[string]bool{"0.0501": false, "0.0499": true} {
		c, err := Correct(a, list, Options{Measuring: dec(limit)})
		if err != nil {
			t.Fatal(err)
		}
		way := ""
		for _, f := range c.Facts {
			if f.Code() == "turn-small" {
				way = fact.Values(f.Is)[0]
			}
		}
		if c.Turn.Clear != want || (way == "") != want || way != "" && way != "0.0500" {
			t.Errorf("measuring %s: clear %v, way %q", limit, c.Turn.Clear, way)
		}
	}
}

// Round is said of dowels, where it means nothing: there is no plug, and the mean counts.
func TestRoundOnDowels(t *testing.T) {
	q := markers()
	q.Round = true
	c, err := Correct(solve(t, q), []Measurement{off("0.1,0@10,40"), off("0.3,0@110,40")}, Options{})
	if err != nil || !c.Shift.X.Equal(dec("0.2")) {
		t.Errorf("%+v, %v", c, err)
	}
}

// Least squares over five places of a shift, a turn and small errors of
// measuring; the sums worked out by hand from q x d and q.q (derived).
func TestLeastSquares(t *testing.T) {
	q := markers()
	q.Stock = &registration.Blank{W: dec("120"), H: dec("120"), T: dec("12")}
	a := solve(t, q)
	list := []Measurement{off("0.21,-0.10@0,0"), off("0.19,0.10@100,0"), off("0.01,0.10@100,100"), off("-0.01,-0.10@0,100"), off("0.10,0.00@50,50")}
	c, err := Correct(a, list, Options{Measuring: dec("0.02")})
	if err != nil {
		t.Fatal(err)
	}
	// Mean (0.1, 0). About (50, 50) the corners give q x d = 50*0.11 + 50*0.10 and
	// so on, together 20; q.q is 4*5000. A turn of 0.002 also draws
	// the corners in by 71 x 0.002^2/2 = 0.00014.
	if !c.Shift.X.Equal(dec("0.1")) || !c.Shift.Y.IsZero() || c.Turn.Angle != math.Asin(0.002) {
		t.Errorf("shift %v, turn %v", c.Shift, c.Turn.Angle)
	}
	if math.Abs(c.Turn.Greatest-0.01) > 2e-4 || math.Abs(c.Greatest-math.Hypot(0.11, 0.1)) > 1e-12 {
		t.Errorf("greatest %v, %v", c.Turn.Greatest, c.Greatest)
	}
	for _, f := range c.Facts {
		if f.Code() == "not-rigid" {
			t.Errorf("%v", f)
		}
	}
}

func TestNotRigid(t *testing.T) {
	a := solve(t, markers())
	for _, c := range []struct {
		name string
		list []string
		want string // cause and amount, "" for none
	}{
		{"wider", []string{"-0.5,0@10,10", "0.5,0@110,10", "-0.5,0@10,70", "0.5,0@110,70"}, "size-x 1.2000"},
		{"shorter", []string{"0,0.3@10,10", "0,0.3@110,10", "0,-0.3@10,70", "0,-0.3@110,70"}, "size-y -0.8000"},
		{"wider, places anyhow", []string{"-0.5,0@10,10", "0.3,0@90,60", "0.5,0@110,70", "-0.2,0@40,65"}, "size-x 1.2000"},
		{"wider and shorter, wider by more", []string{"-0.5,0.15@10,10", "0.5,0.15@110,10", "-0.5,-0.15@10,70", "0.5,-0.15@110,70"}, "size-x 1.2000"},
		{"shorter, places anyhow", []string{"0,0.3@10,10", "0,-0.2@90,60", "0,-0.3@110,70", "0,-0.25@40,65", "0,0.2@100,20"}, "size-y -0.8000"},
		{"out of square, places anyhow", []string{"-0.3,0@10,10", "0.2,0@90,60", "0.3,0@110,70", "0.25,0@40,65", "-0.2,0@100,20"}, "square 0.8000"},
		{"out of square the other way", []string{"0,0.3@10,10", "0,-0.3@110,10", "0,0.3@10,70", "0,-0.3@110,70"}, "square -0.4800"},
		{"out of square", []string{"-0.3,0@10,10", "-0.3,0@110,10", "0.3,0@10,70", "0.3,0@110,70"}, "square 0.8000"},
		{"two places too far apart", []string{"-0.3,0@10,40", "0.3,0@110,40"}, "stretch 0.6000"},
		{"three in a line", []string{"-0.3,0@10,40", "0,0@60,40", "0.3,0@110,40"}, "stretch 0.6000"},
		{"three in a line across", []string{"0,-0.2@60,10", "0,0@60,40", "0,0.2@60,70"}, "stretch 0.4000"},
		{"three in a line that disagree", []string{"0,0@10,40", "0,0.4@60,40", "0,0@110,40"}, "scatter 0.2667"},
		{"three in a line that disagree along it", []string{"0,0@10,40", "0.4,0@60,40", "0,0@110,40"}, "scatter 0.2667"},
		// Sums of two by hand: what turns and shifts takes nothing from a size or a lean.
		{"wider and turned", []string{"-0.44,-0.1@10,10", "0.56,0.1@110,10", "-0.56,-0.1@10,70", "0.44,0.1@110,70"}, "size-x 1.2000"},
		{"out of square, shifted and turned", []string{"-0.04,-0.3@10,10", "-0.04,-0.1@110,10", "0.44,-0.3@10,70", "0.44,-0.1@110,70"}, "square 0.8000"},
		{"twisted, which no size or corner makes", []string{"0.3,0@10,10", "-0.3,0@110,10", "-0.3,0@10,70", "0.3,0@110,70"}, "scatter 0.3000"},
		{"one of four wrong", []string{"0,0@10,10", "0,0@110,10", "0,0@10,70", "1,0@110,70"}, ""},
		{"pieces that disagree", []string{"0.4,0", "-0.4,0", "0.3,0"}, ""}, // the second is named,
		{"a turn", []string{"0.06,-0.1@10,10", "0.06,0.1@110,10", "-0.06,-0.1@10,70", "-0.06,0.1@110,70"}, ""},
		{"within the measuring", []string{"0.04,0@10,10", "-0.04,0@110,10", "-0.04,0.04@10,70", "0.04,0@110,70"}, ""},
	} {
		var list []Measurement
		for _, s := range c.list {
			list = append(list, off(s))
		}
		got, err := Correct(a, list, Options{})
		if err != nil {
			t.Fatal(err)
		}
		found := ""
		for _, f := range got.Facts {
			if f.Code() == "not-rigid" {
				found = fact.Values(f.Is)[1] + " " + fact.Values(f.Is)[2]
			}
		}
		if found != c.want {
			t.Errorf("%s: %q, want %q", c.name, found, c.want)
		}
	}
}

func TestRefusals(t *testing.T) {
	a := solve(t, markers())
	at := point("1", "2")
	for _, c := range []struct {
		list []Measurement
		o    Options
		want string
	}{
		{nil, Options{}, "landed: nothing measured, expected at least one DX,DY"},
		{[]Measurement{{}, {At: &at}}, Options{}, "landed: 2 measurements, 1 of them with a place, expected a place at each, DX,DY@X,Y, or at none"},
		{[]Measurement{{Pair: 1}, {Pair: 2}}, Options{}, "landed: pieces of pairs 1 and 2, expected those of one pair at a time; hint: each pair's back has a zero of its own"},
		{[]Measurement{{}}, Options{Measuring: dec("-1")}, "tolerance measuring: a negative length, expected 0 or more"},
	} {
		if _, err := Correct(a, c.list, c.o); err == nil || err.Error() != c.want {
			t.Errorf("got %v\nwant %s", err, c.want)
		}
	}
	for _, s := range []string{"", "0.3", "0.3,0.1,0.2", "0.3,0.1@", "0.3,0.1@5", "a,b", "0.3,0.1@5,6@7,8", "1e3,0"} {
		if _, err := Parse(s, transform.MM); err == nil || !strings.HasPrefix(err.Error(), "landed: ") ||
			!strings.Contains(err.Error(), "expected DX,DY or DX,DY@X,Y, such as 0.3,-0.1@20,40") {
			t.Errorf("%q: %v", s, err)
		}
	}
	m, err := Parse("1/64in, -0.25@3/4in,19.05", transform.MM)
	if err != nil || !m.Off.X.Equal(dec("0.396875")) || !m.At.X.Equal(dec("19.05")) {
		t.Errorf("%v %v", m, err)
	}
	// No register, no zero: the move alone.
	q := markers()
	q.Register = registration.NoRegister
	c, err := Correct(solve(t, q), []Measurement{off("0.3,-0.1@10,20"), off("0.3,-0.1@50,20")}, Options{})
	if err != nil || c.Zero != nil || len(c.Turn.Cures) != 1 || len(c.Locators) != 0 {
		t.Errorf("%+v, %v", c, err)
	}
}

func ExampleCorrect() {
	a, err := registration.Solve(registration.Question{
		Stock:    &registration.Blank{W: dec("140"), H: dec("90"), T: dec("19")},
		Flip:     registration.FlipY,
		At:       &registration.Position{X: dec("50"), Y: dec("60")},
		Register: registration.FenceStop,
		Fence:    registration.Contact{Side: registration.Near},
		Stop:     registration.Contact{Side: registration.Left},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	m, err := Parse("0.3,-0.1", transform.MM)
	if err != nil {
		fmt.Println(err)
		return
	}
	c, err := Correct(a, []Measurement{m}, Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("zero from %s,%s to %s,%s\n", a.Second.X, a.Second.Y, c.Zero.X, c.Zero.Y)
	for _, l := range c.Locators {
		fmt.Printf("or the %s along %s by %s (factor %d)\n", l.Locator, l.Axis, l.Move, l.Factor)
	}
	// Output:
	// zero from 50,60 to 49.7,60.1
	// or the stop along x by 0.15 (factor 2)
	// or the fence along y by 0 (factor 0)
}

// A place that isn't on the blank can't have been measured there.
func TestPlaceOffTheBlank(t *testing.T) {
	a := solve(t, markers())
	for _, m := range []string{"0.1,0@120.001,40", "0.1,0@-0.001,40", "0.1,0@60,80.001", "0.1,0@60,-0.001"} {
		_, err := Correct(a, []Measurement{off(m)}, Options{})
		var e *registration.Error
		if !errors.As(err, &e) || e.About != "landed" {
			t.Errorf("%s: %v", m, err)
		}
	}
	if _, err := Correct(a, []Measurement{off("0.1,0@120,80")}, Options{}); err != nil {
		t.Errorf("its far corner: %v", err)
	}
}

// A mismatch that no locator makes gets a warning, by the limits of plausible (common
// practice); one at the limit doesn't.
func TestLargeMismatch(t *testing.T) {
	small := boards(registration.FlipY, registration.Near, registration.Left)
	small.Stock = &registration.Blank{W: dec("60"), H: dec("12"), T: dec("8")}
	inch := boards(registration.FlipY, registration.Near, registration.Left)
	inch.Unit = transform.Inch
	inch.Stock = &registration.Blank{W: dec("6"), H: dec("4"), T: dec("0.5")}
	for _, c := range []struct {
		name, off string
		q         registration.Question
		want      string
		worst     float64
	}{
		// Twice a worst case of 0.269 is 0.538.
		{"at twice the worst case", "0.538,0", boards(registration.FlipY, registration.Near, registration.Left), "", 0.269},
		{"over it", "0,-0.539", boards(registration.FlipY, registration.Near, registration.Left), "0.538 0.269 y", 0.269},
		{"a wide budget", "8,0", boards(registration.FlipY, registration.Near, registration.Left), "", 4},
		{"inches, over twice", "0.0215,0", inch, "0.0214 0.0107 y", 0.01061},
		{"at the limit", "3,-4", boards(registration.FlipY, registration.Near, registration.Left), "", 0},
		{"over it", "3,-4.001", boards(registration.FlipY, registration.Near, registration.Left), "5 y", 0},
		{"a quarter of a small blank", "0,3", small, "", 0},
		{"over a quarter", "0,3.001", small, "3 y", 0},
		{"inches", "0.2,0", inch, "", 0},
		{"inches, over", "-0.201,0", inch, "0.2 y", 0},
	} {
		m, err := Parse(c.off, c.q.Unit)
		if err != nil {
			t.Fatal(err)
		}
		k, err := Correct(solve(t, c.q), []Measurement{m}, Options{Worst: c.worst})
		if err != nil {
			t.Fatal(err)
		}
		got := ""
		for _, f := range k.Facts {
			if f.Code() == "mismatch-large" || f.Code() == "mismatch-beyond" {
				got = strings.Join(fact.Values(f.Is), " ")
			}
		}
		if got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}
