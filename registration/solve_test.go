package registration

import (
	"fmt"
	oldrand "math/rand"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"
	"testing/quick"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/fact"
	"flipcalc/mirror/transform"
)

// The worked case of a 140 x 90 board: the stop moves to the other side for the
// back, so the same edge touches, and L2x = 190 - 140 (derived by hand).
func TestBoard(t *testing.T) {
	q := board()
	q.BackStop.Side = Right
	q.At = &Position{X: d("50"), Y: d("60"), Z: ptr("-20")}
	a, err := Solve(q)
	if err != nil {
		t.Fatal(err)
	}
	if a.BackCorner.String() != "50,60" || a.Second.X.String() != "50" || a.Second.Y.String() != "60" || a.Second.Z.String() != "-20" {
		t.Errorf("L2 %s, second zero %s,%s,%s", a.BackCorner, a.Second.X, a.Second.Y, a.Second.Z)
	}
	if got := a.Transform.String(); got != "x' = 140 - x, y' = y, z' = z" {
		t.Error(got)
	}
	if v := facts(a, "same-edge"); v == nil || facts(a, "other-edge") != nil {
		t.Errorf("same edge %v, other edge %v", v, facts(a, "other-edge"))
	}
	if a.Second.Offset != "G55" || !a.Machine {
		t.Errorf("offset %s, machine %v", a.Second.Offset, a.Machine)
	}

	// With the stop left where it is, the other edge touches: the width's error
	// enters, and the zero is another only if the piece is measured.
	q.BackStop = Contact{}
	if a, err = Solve(q); err != nil {
		t.Fatal(err)
	}
	if v := facts(a, "other-edge"); fmt.Sprint(v) != "[stop left right W]" {
		t.Errorf("other edge %v", v)
	}
	stop := a.Touches[1]
	if stop.Locator != "stop" || stop.KeepSide != Right || stop.KeepFlip != FlipX || !stop.KeepFlipSpoils || !stop.Across || !stop.Shared {
		t.Errorf("%+v", stop)
	}

	// A narrower piece, still against a left stop at 50: its right edge touches.
	q.Measured = &Blank{d("139.6"), d("90"), d("19")}
	if a, err = Solve(q); err != nil {
		t.Fatal(err)
	}
	if a.Second.X.String() != "50" || a.Transform.X.Offset.String() != "139.6" || a.NominalZero.X.String() != "49.6" {
		t.Errorf("second zero %s, %s, for the nominal program %s", a.Second.X, a.Transform.X.Formula("x"), a.NominalZero.X)
	}
}

// With the same edge both times the piece's size doesn't matter: where a point
// of the face program is cut from the back, in machine coordinates, stays put.
// With the other edge it moves by the error.
func TestSizeErrorEntersWithOtherEdgeOnly(t *testing.T) {
	for _, test := range []struct {
		back  Side
		moves string
	}{{Right, "0"}, {Left, "-0.4"}} {
		q := board()
		q.BackStop.Side = test.back
		q.At = &Position{X: d("50"), Y: d("60")}
		cut := func() decimal.Decimal {
			a, err := Solve(q)
			if err != nil {
				t.Fatal(err)
			}
			return a.Second.X.Add(a.Transform.X.Apply(d("12.5")))
		}
		nominal := cut()
		q.Measured = &Blank{d("139.6"), d("90"), d("19")}
		if moved := cut().Sub(nominal); !moved.Equal(d(test.moves)) {
			t.Errorf("back stop %s: moved by %s, want %s", test.back, moved, test.moves)
		}
	}
}

func TestFacts(t *testing.T) {
	var tests = []struct {
		name        string
		from        func() Question
		change      func(q *Question)
		code, level string
		want        string // values, or "none"
	}{
		{"no face zero said", board, nil, "zero-default", LevelAssumed, "near-left"},
		{"face zero said", board, func(q *Question) { q.Zero.Name = "center" }, "zero-default", "", "none"},
		{"back zero takes the face's", board, func(q *Question) { q.Zero.Name = "center" }, "back-zero-default", LevelAssumed, "center"},
		{"back zero said", board, func(q *Question) { q.BackZero.Name = "center" }, "back-zero-default", "", "none"},
		{"Z zeros not said", board, nil, "z-zero-default", LevelAssumed, "top top"},
		{"back Z zero takes the face's", board, func(q *Question) { q.ZZero = Bed }, "z-zero-default", LevelAssumed, "bed bed"},
		{"Z zeros said", board, func(q *Question) { q.ZZero, q.BackZZero = Top, Bed }, "z-zero-default", "", "none"},
		{"offset not said", board, nil, "offset-default", LevelAssumed, "G54"},
		{"offset not said and G54 taken", board, func(q *Question) { q.Taken = []string{"G54", "G55"} }, "offset-free", LevelWarning, "G56 G54"},
		{"nor the back's", board, func(q *Question) { q.Taken, q.BackOffset = []string{"G54"}, "G55" }, "offset-free", LevelWarning, "G56 G54"},
		{"first free", board, func(q *Question) { q.Taken = []string{"G55", "g57"} }, "back-offset-chosen", LevelAssumed, "G56 G55 G57"},
		{"first free, before the face's", board, func(q *Question) { q.Offset = "G55" }, "back-offset-chosen", LevelAssumed, "G54"},
		{"first free of an extended control", board, func(q *Question) {
			q.Extended, q.Taken = true, []string{"G55", "G56", "G57", "G58", "G59"}
		}, "back-offset-chosen", LevelAssumed, "G59.1 G55 G56 G57 G58 G59"},
		{"back offset said", board, func(q *Question) { q.BackOffset = "g56" }, "back-offset-chosen", "", "none"},
		{"fence's place", board, func(q *Question) { q.At = &Position{X: d("50"), Y: d("60")} }, "locator-default", LevelAssumed, "fence near 60 machine"},
		{"fence's place from the face zero", board, func(q *Question) { q.Zero.Name = "far-left" }, "locator-default", LevelAssumed, "fence near -90 face zero"},
		{"stop on the other side", board, func(q *Question) {
			q.Fence.Coord, q.Stop.Coord, q.BackStop.Side = ptr("60"), ptr("50"), Right
		}, "locator-default", LevelAssumed, "back stop right 190 machine"},
		{"locators' places said", board, func(q *Question) { q.Fence.Coord, q.Stop.Coord = ptr("60"), ptr("50") }, "locator-default", "", "none"},
		{"no register", board, func(q *Question) { q.Register = NoRegister }, "no-register", LevelNote, ""},
		{"flags without a part", board, func(q *Question) { q.Register = NoRegister }, "unused", LevelNote, "none fence stop"},
		{"pins with a fence", board, func(q *Question) { q.Pins = marker().Pins }, "unused", LevelNote, "fence pin"},
		{"all flags have a part", board, nil, "unused", "", "none"},
		{"a fence beside an index pin", bobbin, func(q *Question) { q.Fence.Side, q.BackFence.Side = Near, Near }, "unused", LevelNote, "plug fence back-fence"},
		{"a fence that clocks", bobbin, func(q *Question) { q.Clock, q.Fence.Side = Clocking{Kind: ClockFence}, Near }, "unused", "", "none"},
		{"a Z where programs call lengths", board, func(q *Question) {
			q.At, q.Lengths = &Position{X: d("50"), Y: d("60"), Z: ptr("91")}, LengthsCalled
		}, "z-left", LevelWarning, "91"},
		{"no Z where programs call lengths", board, func(q *Question) { q.At, q.Lengths = &Position{X: d("50"), Y: d("60")}, LengthsCalled }, "z-left", "", "none"},
		{"measured", board, func(q *Question) { q.Measured = &Blank{d("140"), d("90"), d("18.7")} }, "measured", LevelNote, "140x90x19 140x90x18.7"},
		{"measured a tenth off", board, func(q *Question) { q.Measured = &Blank{d("126"), d("90"), d("19")} }, "measured", LevelNote, "140x90x19 126x90x19"},
		{"measured as stated", board, func(q *Question) { q.Measured = &Blank{d("140"), d("90.0"), d("19")} }, "measured", "", "none"},
		{"skimmed", board, func(q *Question) { q.Skimmed = d("0.5") }, "skimmed", LevelNote, "0.5 18.5 top"},
		{"skimmed, Z0 at the bed", board, func(q *Question) { q.Skimmed, q.ZZero = d("0.5"), Bed }, "skimmed", LevelNote, "0.5 18.5 bed"},
		{"face zero's Z unknown", board, func(q *Question) {
			q.At, q.ZZero, q.BackZZero = &Position{X: d("50"), Y: d("60")}, Top, Bed
		}, "z-unknown", LevelNote, "-19"},
		{"no machine coordinates, Z from the face zero", board, nil, "z-unknown", "", "none"},
		{"face zero outside", board, func(q *Question) {
			q.Zero, q.BackZero.Name = Zero{At: &Point{d("-5"), d("10")}}, "near-left"
		}, "zero-outside", LevelWarning, "face -5 10"},
		{"back zero outside", board, func(q *Question) { q.BackZero = Zero{At: &Point{d("10"), d("90.01")}} }, "zero-outside", LevelWarning, "back 10 90.01"},
		{"zero on the edge", board, func(q *Question) { q.BackZero = Zero{At: &Point{d("140"), d("90")}} }, "zero-outside", "", "none"},
		{"fence on the shorter edge", board, func(q *Question) { q.Fence.Side, q.Stop.Side = Left, Near }, "fence-short", LevelWarning, "face left 90 140"},
		{"fence on the longer edge", board, nil, "fence-short", "", "none"},
		{"square blank", board, func(q *Question) { q.Stock.W = d("90") }, "fence-short", "", "none"},
		{"fence touches the opposite edge", board, func(q *Question) { q.Flip = FlipX }, "fence-edge-changed", LevelWarning, "near far parallel"},
		{"fence touches an edge across", board, func(q *Question) {
			q.BackFence.Side, q.BackStop.Side = Left, Near
		}, "fence-edge-changed", LevelWarning, "near right square"},
		{"fence touches the same edge", board, nil, "fence-edge-changed", "", "none"},
		{"zero on the edge that doesn't touch", board, func(q *Question) {
			q.Zero.Name, q.Measured = "near-right", &Blank{d("139.6"), d("90"), d("19")}
		}, "zero-moved", LevelNote, "0.4 0"},
		{"zero on the edge that touches", board, func(q *Question) { q.Measured = &Blank{d("139.6"), d("90"), d("19")} }, "zero-moved", "", "none"},
		{"touching off", board, nil, "touch-off-edge", LevelCaution, "fence"},
		{"touching off", marker, nil, "touch-off-edge", LevelCaution, "dowels"},
		{"tool", board, func(q *Question) { q.Tool, q.TouchOff = "T2", TouchOffOnce }, "tool-z", LevelNote, "T2 once"},
		// A Z0 on the top of one piece is that piece's (common practice).
		{"once, another thickness", board, func(q *Question) {
			q.TouchOff, q.Measured = TouchOffOnce, &Blank{d("140"), d("90"), d("19.3")}
		}, "touch-off-piece", LevelCaution, "19.3"},
		{"once, back on the top", board, func(q *Question) {
			q.TouchOff, q.Measured, q.ZZero, q.BackZZero = TouchOffOnce, &Blank{d("140"), d("90"), d("19.3")}, Bed, Top
		}, "touch-off-piece", LevelCaution, "19.3"},
		{"once, both from the bed", board, func(q *Question) {
			q.TouchOff, q.Measured, q.ZZero = TouchOffOnce, &Blank{d("140"), d("90"), d("19.3")}, Bed
		}, "touch-off-piece", "", "none"},
		{"once, the same thickness", board, func(q *Question) {
			q.TouchOff, q.Measured = TouchOffOnce, &Blank{d("139"), d("90"), d("19")}
		}, "touch-off-piece", "", "none"},
		{"each piece", board, func(q *Question) { q.Measured = &Blank{d("140"), d("90"), d("19.3")} }, "touch-off-piece", "", "none"},
		{"same pins", marker, nil, "same-pins", LevelNote, "left 60"},
		{"second station", marker, func(q *Question) { q.BackPin = &Point{d("300"), d("20")} }, "second-pins", LevelNote, "2"},
		{"drilled with the face", marker, func(q *Question) { q.DrilledFace = true }, "drilled-face", LevelNote, ""},
		{"pin hole open to the edge", marker, func(q *Question) { q.Pins[0].At.Y = d("2.5") }, "pin-at-edge", LevelWarning, "1 0.5"},
		{"hole open to the edge", marker, func(q *Question) {
			q.Pins[0].At.Y, q.Pins[1].Dia, q.Hole = d("3"), d("6"), holes("6.2")
		}, "pin-at-edge", LevelWarning, "1 0.1"},
		{"hole like the pin", marker, func(q *Question) { q.Pins[1].Dia, q.Hole = d("6"), holes("6") }, "hole-tight", LevelWarning, "6 6"},
		// H7 and m6 at 6 mm: ISO 286. 0.2 mm: common practice.
		{"a fit that presses", marker, func(q *Question) { q.Fit = "H7/m6" }, "fit-pressed", LevelWarning, "H7/m6 6 -0.012 0.008 8 -0.015 0.009"},
		{"a fit that slides", marker, func(q *Question) { q.Pins[1].Dia, q.Fit = d("6"), "H7/h6" }, "fit-pressed", "", "none"},
		{"a plug that is pressed in", bobbin, func(q *Question) { q.PlugD, q.Fit = nil, "H7/k6" }, "fit-pressed", LevelWarning, "H7/k6 22 -0.015 0.019"},
		{"one of two holes tight", marker, func(q *Question) { q.Hole = holes("6.1", "7.9") }, "hole-tight", LevelWarning, "7.9 8"},
		{"one of two holes too wide", marker, func(q *Question) { q.Hole = holes("6.05", "8.3") }, "pin-loose", LevelWarning, "0.3 0.2"},
		{"a hole for each", marker, func(q *Question) { q.Hole = holes("6.05", "8.05") }, "pin-loose", "", "none"},
		{"hole too wide to register", marker, func(q *Question) { q.Pins[1].Dia, q.Hole = d("6"), holes("6.21") }, "pin-loose", LevelWarning, "0.21 0.2"},
		{"hole as wide as registers", marker, func(q *Question) { q.Pins[1].Dia, q.Hole = d("6"), holes("6.2") }, "pin-loose", "", "none"},
		{"fit too loose to register", marker, func(q *Question) { q.Pins[1].Dia, q.Fit = d("6"), "H11/f11" }, "pin-loose", "", "none"},
		{"hole with clearance", marker, func(q *Question) { q.Pins[1].Dia, q.Hole = d("6"), holes("6.05") }, "hole-tight", "", "none"},
		{"clearance that lets a wrong lay-up on", marker, func(q *Question) {
			q.Pins[1].Dia, q.Hole = d("6"), holes("7")
			q.Pins = append(q.Pins, Pin{At: Point{d("60"), d("40.4")}, Dia: d("6")})
		}, "not-foolproof", LevelWarning, "diameters 2 flip x turned 180"},
		{"a fit's clearance is less than the hand", marker, func(q *Question) {
			q.Pins[1].Dia, q.Fit = d("6"), "H7/g6"
			q.Pins = append(q.Pins, Pin{At: Point{d("60"), d("40.4")}, Dia: d("6")})
		}, "near-miss", "", "none"},
	}
	for _, test := range tests {
		q := test.from()
		if test.change != nil {
			test.change(&q)
		}
		a, err := Solve(q)
		if err != nil {
			t.Errorf("%s: %v", test.name, err)
			continue
		}
		got, level := "none", ""
		for _, f := range a.Facts {
			if f.Code() != test.code {
				continue
			}
			got, level = strings.Join(fact.Values(f.Is), " "), f.Level
			break
		}
		if got != test.want || level != test.level {
			t.Errorf("%s: %s %q %q, want %q %q", test.name, test.code, level, got, test.level, test.want)
		}
	}
}

// A fact is said once, the question handed in stays as it was, and asking the
// filled-in question again gives the same answer.
func TestSolveIsSettled(t *testing.T) {
	for _, from := range []func() Question{marker, board, bobbin} {
		q := from()
		before := fmt.Sprintf("%+v", q)
		a, err := Solve(q)
		if err != nil {
			t.Fatal(err)
		}
		seen := map[string]bool{}
		for _, f := range a.Facts {
			if key := f.Code() + fmt.Sprint(fact.Values(f.Is)); seen[key] {
				t.Errorf("%s said twice", key)
			} else {
				seen[key] = true
			}
		}
		if after := fmt.Sprintf("%+v", q); after != before {
			t.Errorf("the question was changed:\n%s\n%s", before, after)
		}
		// Asked again as it was filled in, the question has the same answer.
		again, err := Solve(a.Question)
		if err != nil {
			t.Fatal(err)
		}
		if !reflect.DeepEqual(again.Second, a.Second) || again.Transform.String() != a.Transform.String() {
			t.Errorf("asked again: %+v, want %+v", again.Second, a.Second)
		}
	}
}

// Z of the second zero from the Z of the face zero, for each pair of levels, a
// seat 3 higher and a blank 19 thick (derived by hand from heights over the bed).
func TestSecondZ(t *testing.T) {
	var tests = []struct {
		face, back ZZero
		z, map1    string
	}{
		{Top, Top, "-17", "z' = z"},
		{Bed, Bed, "-17", "z' = z"},
		{Top, Bed, "-36", "z' = z + 19"},
		{Bed, Top, "2", "z' = z - 19"},
	}
	for _, test := range tests {
		q := board()
		q.At = &Position{X: d("50"), Y: d("60"), Z: ptr("-20")}
		q.ZZero, q.BackZZero, q.Seat, q.BackSeat = test.face, test.back, d("1"), d("4")
		a, err := Solve(q)
		if err != nil {
			t.Fatal(err)
		}
		if got := a.Transform.Z.Formula("z"); a.Second.Z.String() != test.z || got != test.map1 {
			t.Errorf("%s to %s: Z %s, %s, want %s, %s", test.face, test.back, a.Second.Z, got, test.z, test.map1)
		}
	}
}

func TestBackZeroZeroZero(t *testing.T) {
	// 0,0 said by hand is a place of its own, so the back's must be said.
	z, err := ParseZero("0,0", transform.MM)
	if err != nil {
		t.Fatal(err)
	}
	q := board()
	q.Zero = z
	if _, err := Solve(q); err == nil || !strings.HasPrefix(err.Error(), "back-zero: missing") {
		t.Errorf("%v", err)
	}
	q.BackZero = z // and 0,0 it is
	a, err := Solve(q)
	if err != nil || a.Question.BackZero.String() != "0,0" {
		t.Errorf("%v, %v", a, err)
	}
}

// random makes a question without a register from seeds.
func random(r *rand.Rand) Question {
	cents := func(n int) decimal.Decimal { return decimal.New(int64(r.IntN(n)), -2) }
	names := []string{"near-left", "near-right", "far-left", "far-right", "center"}
	zero := func() Zero {
		if r.IntN(3) == 0 {
			return Zero{At: &Point{cents(20000).Sub(d("50")), cents(20000).Sub(d("50"))}}
		}
		return Zero{Name: names[r.IntN(5)]}
	}
	return Question{
		Stock: &Blank{cents(30000).Add(d("1")), cents(30000).Add(d("1")), cents(3000).Add(d("1"))},
		Flip:  Flip(1 + r.IntN(2)), Zero: zero(), BackZero: zero(),
		ZZero: ZZero(1 + r.IntN(2)), BackZZero: ZZero(1 + r.IntN(2)),
	}
}

// seeded gives the same values on every run.
func seeded() *quick.Config {
	return &quick.Config{MaxCount: 2000, Rand: oldrand.New(oldrand.NewSource(1125))}
}

// mapping is the transform alone, which needs no locator.
func mapping(q Question) (transform.Map, error) {
	q.Register = NoRegister
	a, err := Solve(q)
	if err != nil {
		return transform.Map{}, err
	}
	return a.Transform, nil
}

// Back through the inverse, every coordinate is itself again.
func TestTransformInverse(t *testing.T) {
	check := func(a, b uint64, n int32) bool {
		m, err := mapping(random(rand.New(rand.NewPCG(a, b))))
		if err != nil {
			t.Fatal(err)
		}
		v := decimal.New(int64(n), -3)
		for i := range 3 {
			if !m.Inverse().Axis(i).Apply(m.Axis(i).Apply(v)).Equal(v) {
				return false
			}
		}
		return true
	}
	if err := quick.Check(check, seeded()); err != nil {
		t.Error(err)
	}
}

// Turned over and turned over again, with the zeros the other way round, every
// program point is where it was.
func TestFlipTwiceIsIdentity(t *testing.T) {
	check := func(a, b uint64, n int32) bool {
		q := random(rand.New(rand.NewPCG(a, b)))
		there, err := mapping(q)
		if err != nil {
			t.Fatal(err)
		}
		q.Zero, q.BackZero = q.BackZero, q.Zero
		q.ZZero, q.BackZZero = q.BackZZero, q.ZZero
		back, err := mapping(q)
		if err != nil {
			t.Fatal(err)
		}
		v := decimal.New(int64(n), -3)
		for i := range 3 {
			if !back.Axis(i).Apply(there.Axis(i).Apply(v)).Equal(v) {
				return false
			}
		}
		return there.OneAxis()
	}
	if err := quick.Check(check, seeded()); err != nil {
		t.Error(err)
	}
}

// No question, however odd, panics; each gets an answer or an *Error.
func TestOddQuestions(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 9))
	length := func() decimal.Decimal { return decimal.New(int64(r.IntN(400)-100), -int32(r.IntN(3))) }
	point := func() *Point { return &Point{length(), length()} }
	maybe := func() *decimal.Decimal {
		if r.IntN(2) == 0 {
			return nil
		}
		v := length()
		return &v
	}
	contact := func() Contact { return Contact{Side(r.IntN(5)), maybe()} }
	answered := 0
	for range 20000 {
		q := random(r)
		q.Flip, q.Register = Flip(r.IntN(3)), Register(r.IntN(5))
		q.Fence, q.Stop, q.BackFence, q.BackStop = contact(), contact(), contact(), contact()
		if hole := maybe(); hole != nil {
			q.Hole = append(q.Hole, *hole)
		}
		q.PlugD, q.Skimmed, q.Seat = maybe(), length().Abs().Sub(d("1")), length()
		q.Clock = Clocking{Kind: []string{"", ClockPin, ClockFlat, ClockFence, ClockNone, "?"}[r.IntN(6)], Pin: *point(), Dia: length()}
		q.Round, q.DrilledFace, q.Extended = r.IntN(2) == 0, r.IntN(4) == 0, r.IntN(2) == 0
		for range r.IntN(4) {
			q.Pins = append(q.Pins, Pin{*point(), d("6")})
		}
		if r.IntN(2) == 0 {
			q.BackPin, q.PlugAt, q.Bore = point(), point(), &Pin{*point(), length()}
		}
		if r.IntN(2) == 0 {
			q.At = &Position{X: length(), Y: length(), Z: maybe()}
		}
		a, err := Solve(q)
		if err == nil {
			answered++
			if (a.Second == nil) != (q.Register == NoRegister) || (a.BackCorner == nil) != (a.Second == nil) {
				t.Fatalf("%+v: %+v", q, a)
			}
			continue
		}
		if e, ok := err.(*Error); !ok || e.About == "" || e.Found == "" || e.Expected == "" {
			t.Fatalf("%+v: %v", q, err)
		}
	}
	if answered < 1000 {
		t.Errorf("only %d answered", answered)
	}
}
