package registration

import (
	"fmt"
	"strings"
	"testing"

	"flipcalc/mirror/transform"
)

// markerAt is a row marker of 120 x 80 x 12 whose near-left corner lies at X200 Y100.
func markerAt(change func(q *Question)) Question {
	q := Question{Stock: &Blank{d("120"), d("80"), d("12")}, Flip: FlipY, Zero: Zero{Name: "near-left"}, At: &Position{X: d("200"), Y: d("100")}}
	change(&q)
	return q
}

func standsOf(a *Answer, back bool) string {
	var list []string
	for _, s := range a.Stands(back) {
		at := s.At.String()
		if !s.Pin() {
			at = s.Side.String() + "@" + s.Coordinate().String()
		}
		if !s.Dia.IsZero() {
			at += " dia " + s.Dia.String()
		}
		if !s.Machine {
			at += " from the zero"
		}
		list = append(list, s.Name+" "+at)
	}
	return strings.Join(list, "; ")
}

// What locates the blank on either side, worked by hand on a sketch: the blank lies from
// X200 Y100 to X320 Y180. unmoved are the stands of the back that one of the face is too.
func TestStands(t *testing.T) {
	pin := func(s string) Pin { return mustPin(t, s) }
	fence := func(q *Question) { q.Register, q.Fence.Side, q.Stop.Side = FenceStop, Near, Left }
	pairOf := func(q *Question) { q.Register, q.Pins = Dowels, []Pin{pin("60,6,6"), pin("60,74,5")} }
	plug := func(index string) func(q *Question) {
		return func(q *Question) {
			bore, at := pin("30,40,12"), pin(index)
			q.Register, q.Bore, q.PlugD, q.Clock = Plug, &bore, ptr("11.95"), Clocking{Kind: ClockPin, Pin: at.At, Dia: at.Dia}
		}
	}
	for _, c := range []struct {
		name       string
		q          Question
		face, back string
		unmoved    int
	}{
		{"fence and stop for both sides", markerAt(fence), "fence near@100; stop left@200", "fence near@100; stop left@200", 2},
		{"not known in machine coordinates", markerAt(func(q *Question) { fence(q); q.At = nil }),
			"fence near@0 from the zero; stop left@0 from the zero", "fence near@0 from the zero; stop left@0 from the zero", 2},
		{"the same edge against a stop at the right", markerAt(func(q *Question) { fence(q); q.BackStop.Side = Right }),
			"fence near@100; stop left@200", "fence near@100; stop right@320", 1},
		{"the fence at another coordinate", markerAt(func(q *Question) {
			fence(q)
			q.BackFence, q.BackStop = Contact{Near, ptr("250")}, Contact{Left, ptr("200")}
		}),
			"fence near@100; stop left@200", "fence near@250; stop left@200", 1},
		// Fence and stop change places: one strip is the other's, but nobody takes it for the same.
		{"the strips change over", markerAt(func(q *Question) { fence(q); q.BackFence.Side, q.BackStop.Side = Left, Near }),
			"fence near@100; stop left@200", "stop near@100; fence left@200", 0},
		{"dowels on the flip line", markerAt(pairOf), "dowel 1 260,106 dia 6; dowel 2 260,174 dia 5", "dowel 1 260,106 dia 6; dowel 2 260,174 dia 5", 2},
		{"from the blank's centre", markerAt(func(q *Question) { pairOf(q); q.At, q.Zero.Name = nil, "center" }),
			"dowel 1 0,-34 dia 6 from the zero; dowel 2 0,34 dia 5 from the zero", "dowel 1 0,-34 dia 6 from the zero; dowel 2 0,34 dia 5 from the zero", 2},
		// Hole 1, 20 from the left, lies 20 from the right once turned: over the other dowel.
		{"two dowels that change holes", markerAt(func(q *Question) { q.Register, q.Pins = Dowels, []Pin{pin("20,40,6"), pin("100,40,6")} }),
			"dowel 1 220,140 dia 6; dowel 2 300,140 dia 6", "dowel 1 300,140 dia 6; dowel 2 220,140 dia 6", 2},
		// The first hole over X500 Y306; the second 68 beyond it as ever.
		{"a second station", markerAt(func(q *Question) { pairOf(q); q.BackPin = &Point{d("500"), d("306")} }),
			"dowel 1 260,106 dia 6; dowel 2 260,174 dia 5", "dowel 1 500,306 dia 6; dowel 2 500,374 dia 5", 0},
		{"an index pin on the flip line through the bore", markerAt(plug("30,70,5")),
			"plug 230,140 dia 11.95; index pin 230,170 dia 5", "plug 230,140 dia 11.95; index pin 230,170 dia 5", 2},
		// 20 right of the bore with the face up, 20 left of it turned.
		{"an index pin beside it", markerAt(plug("50,40,5")),
			"plug 230,140 dia 11.95; index pin 250,140 dia 5", "plug 230,140 dia 11.95; index pin 210,140 dia 5", 1},
		{"a plug of its own for the back", markerAt(func(q *Question) { plug("30,70,5")(q); q.PlugAt = &Point{d("400"), d("140")} }),
			"plug 230,140 dia 11.95; index pin 230,170 dia 5", "plug 400,140 dia 11.95; index pin 400,170 dia 5", 0},
		{"a plug clocked by a fence", markerAt(func(q *Question) { plug("30,70,5")(q); q.Clock, q.Fence.Side = Clocking{Kind: ClockFence}, Near }),
			"fence near@100; plug 230,140 dia 11.95", "fence near@100; plug 230,140 dia 11.95", 2},
		{"nothing", markerAt(func(*Question) {}), "", "", 0},
	} {
		a, err := Solve(c.q)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if got := standsOf(a, false); got != c.face {
			t.Errorf("%s, face: %s, want %s", c.name, got, c.face)
		}
		if got := standsOf(a, true); got != c.back {
			t.Errorf("%s, back: %s, want %s", c.name, got, c.back)
		}
		unmoved := 0
		for _, b := range a.Stands(true) {
			for _, f := range a.Stands(false) {
				if f.Same(b) {
					unmoved++
				}
			}
		}
		if unmoved != c.unmoved {
			t.Errorf("%s: %d stay where they are, want %d", c.name, unmoved, c.unmoved)
		}
	}
}

// What isn't the same thing: another diameter, another frame.
func TestStandsApart(t *testing.T) {
	dowel := Stand{Name: "dowel 1", At: Point{d("60"), d("6")}, Machine: true, Dia: d("6")}
	strip := Stand{Name: StandFence, Side: Near, At: Point{d("100"), d("100")}, Machine: true}
	for _, c := range []struct {
		name   string
		s      Stand
		change func(*Stand)
		want   bool
	}{
		{"a dowel by another number", dowel, func(s *Stand) { s.Name = "dowel 2" }, true},
		{"a thicker dowel", dowel, func(s *Stand) { s.Dia = d("6.01") }, false},
		{"from the face zero", dowel, func(s *Stand) { s.Machine = false }, false},
		{"farther along Y", dowel, func(s *Stand) { s.At.Y = d("6.001") }, false},
		{"a fence, farther along itself", strip, func(s *Stand) { s.At.X = d("300") }, true},
		{"a fence across itself", strip, func(s *Stand) { s.At.Y = d("99.9") }, false},
		{"a fence on the far side", strip, func(s *Stand) { s.Side = Far }, false},
		{"a stop there", strip, func(s *Stand) { s.Name = StandStop }, false},
	} {
		o := c.s
		c.change(&o)
		if c.s.Same(o) != c.want || o.Same(c.s) != c.want {
			t.Errorf("%s: same %v, want %v", c.name, !c.want, c.want)
		}
	}
}

// A pair a quarter turned, by hand: the face's blank lies from X120 Y100 to X200 Y220, its
// own near-left corner at X200 Y100, the back's from X300 to X380. A place u, v of it lies u
// along Y and v back along X; what was near is right and what was left is near.
func TestStandsTurned(t *testing.T) {
	face := Station{Offset: "G54", Turn: 1, Zero: Position{X: d("200"), Y: d("100")}, Corner: Point{d("120"), d("100")}}
	back := Station{Offset: "G55", Turn: 1, Corner: Point{d("300"), d("100")}}
	for name, c := range map[string]struct {
		ask        func(q *Question)
		face, back string
	}{
		"fence": {func(q *Question) { q.Register, q.Fence.Side, q.Stop.Side = FenceStop, Near, Left },
			"fence right@200; stop near@100", "fence right@380; stop near@100"},
		"the stop on the other side": {func(q *Question) {
			q.Register, q.Fence.Side, q.Stop.Side, q.BackStop.Side = FenceStop, Near, Left, Right
		},
			"fence right@200; stop near@100", "fence right@380; stop far@220"},
		"dowels": {func(q *Question) { q.Register, q.Pins = Dowels, []Pin{mustPin(t, "60,6,6"), mustPin(t, "60,74,5")} },
			"dowel 1 194,160 dia 6; dowel 2 126,160 dia 5", "dowel 1 374,160 dia 6; dowel 2 306,160 dia 5"},
		// Turned over, the bore lies 90 from the left: Y190. The index pin 10 nearer there.
		"plug": {func(q *Question) {
			bore := mustPin(t, "30,40,12")
			q.Register, q.Bore, q.PlugD, q.Clock = Plug, &bore, ptr("12"), Clocking{Kind: ClockPin, Pin: Point{d("40"), d("70")}, Dia: d("5")}
		}, "plug 160,130 dia 12; index pin 130,140 dia 5", "plug 340,190 dia 12; index pin 310,180 dia 5"},
	} {
		a, err := Solve(markerAt(func(q *Question) { q.At = nil; c.ask(q) }))
		if err == nil {
			a, err = a.At(face, back)
		}
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if got := standsOf(a, false); got != c.face {
			t.Errorf("%s, face: %s, want %s", name, got, c.face)
		}
		if got := standsOf(a, true); got != c.back {
			t.Errorf("%s, back: %s, want %s", name, got, c.back)
		}
		x, y := a.LyingSize()
		if x.String() != "80" || y.String() != "120" {
			t.Errorf("%s: the blank lies %s by %s", name, x, y)
		}
	}
}

// What is told of a pair goes with it by each quarter, by hand on a cross of two axes: right
// comes to far, far to left, left to near; X50 Y20 to X-20 Y50, to X-50 Y-20, to X20 Y-50.
func TestFactsTurned(t *testing.T) {
	x50, y20 := d("50"), d("20")
	for _, c := range []struct {
		is   any
		want [3]string
	}{
		{PlugAtDefault{x50, y20, "machine"}, [3]string{"{-20 50 machine}", "{-50 -20 machine}", "{20 -50 machine}"}},
		{ClockPinMoves{x50, y20, "machine"}, [3]string{"{-20 50 machine}", "{-50 -20 machine}", "{20 -50 machine}"}},
		{LocatorDefault{"stop", Right, x50, "machine"}, [3]string{"{stop far 50 machine}", "{stop left -50 machine}", "{stop near -50 machine}"}},
		{LocatorDefault{"fence", Near, y20, "machine"}, [3]string{"{fence right -20 machine}", "{fence far -20 machine}", "{fence left 20 machine}"}},
		{SameEdge{"stop", Left, Left, Right}, [3]string{"{stop left near far}", "{stop left right left}", "{stop left far near}"}},
		{FenceShort{"face", Left, y20, x50}, [3]string{"{face near 20 50}", "{face right 20 50}", "{face far 20 50}"}},
		{ClockFlatTurns{Left, Right}, [3]string{"{near far}", "{right left}", "{far near}"}},
		{ClockFenceMoves{Near, y20, "machine", Far, x50, "machine"},
			[3]string{"{right -20 machine left -50 machine}", "{far -20 machine near -50 machine}", "{left 20 machine right 50 machine}"}},
		{ZeroMoved{x50, y20}, [3]string{"{-20 50}", "{-50 -20}", "{20 -50}"}},
		// Of the blank itself.
		{OtherEdge{"stop", Left, Right, "W"}, [3]string{"{stop left right W}", "{stop left right W}", "{stop left right W}"}},
		{ZeroOutside{"face", x50, y20}, [3]string{"{face 50 20}", "{face 50 20}", "{face 50 20}"}},
	} {
		for k := range c.want {
			if got := fmt.Sprint(Quarter(k + 1).fact(c.is)); got != c.want[k] {
				t.Errorf("%T by %d quarters: %s, want %s", c.is, k+1, got, c.want[k])
			}
		}
	}
}

// A piece measured 0.2 short of 120 and 0.3 over 80 on its dowels, which hang on its near-left
// corner: the zero, where the nominal far-right corner is, lies 0.2 right of the piece's and
// 0.3 nearer. At a turned station what is told is the way from the one to the other there.
func TestZeroMovedAtStations(t *testing.T) {
	for k, want := range []string{"0.2,-0.3", "0.3,0.2", "-0.2,0.3", "-0.3,-0.2"} {
		q := markerAt(func(q *Question) {
			q.At, q.Zero.Name, q.Measured = nil, "far-right", &Blank{d("119.8"), d("80.3"), d("12")}
			q.Register, q.Pins = Dowels, []Pin{mustPin(t, "60,6,6"), mustPin(t, "60,74,5")}
		})
		a, err := Solve(q)
		if err != nil {
			t.Fatal(err)
		}
		zero := Position{X: d("200"), Y: d("100")}
		if a, err = a.At(Station{Offset: "G54", Zero: zero, Turn: Quarter(k)}, Station{Offset: "G55", Corner: Point{d("400"), d("0")}, Turn: Quarter(k)}); err != nil {
			t.Fatal(err)
		}
		way := Point{zero.X, zero.Y}.Sub(a.FacePlace(Point{q.Measured.W, q.Measured.H}))
		told := ""
		for _, f := range a.Facts {
			if z, ok := f.Is.(ZeroMoved); ok {
				told = Point(z).String()
			}
		}
		if way.String() != want || told != want {
			t.Errorf("%d quarters: the zero lies %s off, told %s, want %s", k, way, told, want)
		}
	}
}

// A bench's diameters for which no limits are in the table, and what to give instead.
func TestFitBeyondTheTable(t *testing.T) {
	bore := func(q *Question) {
		q.Register, q.Round, q.Bore = Plug, true, &Pin{At: Point{d("150"), d("150")}, Dia: d("130")}
	}
	for _, c := range []struct {
		ask  func(q *Question)
		want string
	}{
		{bore, "fit: nominal size 130 mm, expected more than 0 and at most 120 mm for an ISO 286 fit; hint: give ‹plug›"},
		{func(q *Question) { q.Unit = transform.Inch; bore(q) },
			"fit: fit H7/g6 with lengths in inches, expected a hole diameter in inches, since ISO 286 fits don't name inch holes; hint: give ‹plug›"},
		{func(q *Question) {
			q.Register, q.Pins = Dowels, []Pin{mustPin(t, "150,60,130"), mustPin(t, "150,230,6")}
		},
			"fit: nominal size 130 mm, expected more than 0 and at most 120 mm for an ISO 286 fit; hint: give the hole's own diameter with ‹hole›"},
	} {
		q := Question{Stock: &Blank{d("300"), d("300"), d("12")}, Flip: FlipY, Fit: "H7/g6"}
		c.ask(&q)
		if _, err := Solve(q); err == nil || err.Error() != c.want {
			t.Errorf("got  %v\nwant %s", err, c.want)
		}
	}
}
