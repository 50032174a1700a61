package budget

import (
	"math"
	"testing"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
	"flipcalc/registration"
)

func touched(t *testing.T, list ...string) registration.Question {
	t.Helper()
	finder := decimal.NewFromInt(10)
	q := registration.Question{Stock: &registration.Blank{W: decimal.NewFromInt(120), H: decimal.NewFromInt(80), T: decimal.NewFromInt(12)},
		Flip: registration.FlipY, Register: registration.Touched, Finder: &finder}
	for _, s := range list {
		spot, err := registration.ParseSpot(s, transform.MM)
		if err != nil {
			t.Fatal(err)
		}
		q.Touched = append(q.Touched, spot)
	}
	a, err := registration.Solve(q)
	if err != nil {
		t.Fatal(err)
	}
	return a.Question
}

func term(r *Result, name string) (out Term) {
	for _, t := range r.Terms {
		if t.Name == name {
			return t
		}
	}
	return out
}

func byHand(t *testing.T, what string, got, want float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > 1e-9 {
		t.Errorf("%s: %.9f, by hand %.9f", what, got, want)
	}
}

// The near edge touched at 10 and 110, the left one at 40; looked at is the corner 120,80 of
// the turned blank, 0,80 with the face up. By the lever, an error e of the touch at 10 moves
// it along Y by -0.1 e and that at 110 by 1.1 e; both turn the blank by e/100, which moves it
// along X by 40/100 e, and the left touch moves it by e.
func TestTouchedEdgesByLever(t *testing.T) {
	q := touched(t, "near@210,95", "near@310,95", "left@195,140")
	at := registration.Point{Y: decimal.NewFromInt(80)}
	r, err := of(q, Options{At: &at, Tolerances: Tolerances{}})
	if err != nil {
		t.Fatal(err)
	}
	touch, feature := term(r, Touch), term(r, Feature)
	byHand(t, "touch along X", touch.X, 0.02*1.8)
	byHand(t, "touch along Y", touch.Y, 0.02*1.2)
	byHand(t, "feature along X", feature.X, 0.05*1.8)
	// The left edge as it now lies was the right one: the whole size error, along X.
	byHand(t, "size along X", term(r, Size).X, 0.2)
	byHand(t, "size along Y", term(r, Size).Y, 0)
	// A corner out of square by 0.1/300: the near edge turns the blank about 60 along it and
	// 40 beside it, the left one moves nothing at its own middle.
	corner := 0.1 / 300
	byHand(t, "corner along X", term(r, Corner).X, corner*40)
	byHand(t, "corner along Y", term(r, Corner).Y, corner*60)
	// Both sides out of square: 2 q y along X, and the left touch takes it out at 40.
	byHand(t, "square", term(r, Square).Limit, 2*corner*40)
	byHand(t, "no locator", term(r, Locator).Limit, 0)
}

// Other layouts by the lever, e = 0.02 of touch, 0.05 of feature, 0.2 of size and a corner or a
// square of 0.1/300. Two holes L apart take a shift each by half and turn the blank by e/L each,
// about their middle; across their join a place x along it from there goes by |1/2 + x/L| e and
// |1/2 - x/L| e.
func TestTouchedByLever(t *testing.T) {
	holes := []string{"face=110,20@10,20", "face=10,20@110,20"} // 10 and 110 from the left as it lies, 20 up
	const lean = 0.1 / 300
	for _, c := range []struct {
		name   string
		list   []string
		zero   string
		u, v   int64 // from the near-left corner with the face up
		of     string
		dx, dy float64
	}{
		{"holes, 60 and 60 from their middle", holes, "near-left", 0, 80, Touch, 0.02 * (1 + 2*0.6), 0.02 * 1.2},
		{"holes, in their middle", holes, "near-left", 60, 20, Touch, 0.02, 0.02},
		{"holes, on the one", holes, "near-left", 10, 20, Touch, 0.02, 0.02},
		{"holes of the face program", holes, "near-left", 0, 80, Feature, 0, 0},
		{"holes made before", []string{"110,20@10,20", "10,20@110,20"}, "near-left", 0, 80, Feature, 0.05 * 2.2, 0.05 * 1.2},
		// They lie by the near-left corner, the face program by the zero across the blank.
		{"holes made before, near-left zero", []string{"110,20@10,20", "10,20@110,20"}, "near-left", 0, 80, Size, 0, 0},
		{"holes made before, far-right zero", []string{"110,20@10,20", "10,20@110,20"}, "far-right", 0, 80, Size, 0.2, 0.2},
		{"holes made before, zero in the middle", []string{"110,20@10,20", "10,20@110,20"}, "center", 0, 80, Size, 0.1, 0.1},
		{"one of each kind", []string{"110,20@10,20", "face=10,20@110,20"}, "near-left", 60, 20, Feature, 0.025, 0.025},
		// Both sides lean along X by the height, twice at 60 over the join; end for end as well.
		{"out of square", holes, "near-left", 0, 80, Square, 2 * lean * 60, 0},
		{"out of square, end for end", []string{"face=110,20@190,180", "face=10,20@90,180"}, "near-left", 0, 80, Square, 2 * lean * 60, 0},
		{"a far edge and a left one", []string{"far@210,185", "far@310,185", "left@195,140"}, "near-left", 0, 80, Size, 0.2, 0.2},
		{"a right edge, which was the left", []string{"near@210,95", "near@310,95", "right@325,140"}, "near-left", 0, 80, Size, 0, 0},
		// The left edge touched 30 below its middle: 70 under the corner looked at.
		{"the left edge near its end", []string{"near@210,95", "near@310,95", "left@195,110"}, "near-left", 0, 80, Touch, 0.02 * (1 + 2*0.7), 0.02 * 1.2},
		{"the left edge near its end, leaning", []string{"near@210,95", "near@310,95", "left@195,110"}, "near-left", 0, 80, Corner, lean * (70 + 30), lean * 60},
	} {
		q := touched(t, c.list...)
		q.Zero.Name, q.Zero.At = c.zero, nil
		at := registration.Point{X: decimal.NewFromInt(c.u), Y: decimal.NewFromInt(c.v)}
		r, err := of(q, Options{At: &at, Tolerances: Tolerances{}})
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		byHand(t, c.name+", "+c.of+" along X", term(r, c.of).X, c.dx)
		byHand(t, c.name+", "+c.of+" along Y", term(r, c.of).Y, c.dy)
	}
}

// A quarter turn puts the part's X along the machine's Y: both sides lean the same way, and
// what is left of the machine's error is a turn, which holes take out.
func TestTouchedSquareAtQuarterTurn(t *testing.T) {
	q := touched(t, "face=110,10@90,10", "face=20,10@90,100", "face=20,70@30,100")
	r, err := of(q, Options{Tolerances: Tolerances{}})
	if err != nil {
		t.Fatal(err)
	}
	byHand(t, "square", term(r, Square).Limit, 0)
	if feature := term(r, Feature); feature.Limit != 0 {
		t.Errorf("holes that the face program made are off by %v", feature.Limit)
	}
}

// Two holes along X, and wood that moves across them: the fit can't follow what lies beside
// their line, and follows all along it.
func TestTouchedWood(t *testing.T) {
	q := touched(t, "face=110,40@10,40", "face=10,40@110,40")
	at := registration.Point{X: decimal.NewFromInt(30), Y: decimal.NewFromInt(80)}
	r, err := of(q, Options{At: &at, Tolerances: Tolerances{}, Wood: "beech", Grain: "x"})
	if err != nil {
		t.Fatal(err)
	}
	s, err := FindWood("beech")
	if err != nil {
		t.Fatal(err)
	}
	byHand(t, "wood", term(r, Wood).Y, 2*s.Tangential.InexactFloat64()*40)
}

// Grain along Y, and the left edge of the turned blank touched: it is held, not the spindle's
// axis half a finder outside it, and what lies 90 from it moves by 90 times the share (derived).
func TestTouchedWoodFromAnEdge(t *testing.T) {
	q := touched(t, "near@210,95", "near@310,95", "left@195,140")
	at := registration.Point{X: decimal.NewFromInt(30), Y: decimal.NewFromInt(80)}
	r, err := of(q, Options{At: &at, Tolerances: Tolerances{}, Wood: "beech", Grain: "y"})
	if err != nil {
		t.Fatal(err)
	}
	byHand(t, "wood", term(r, Wood).X, 2*0.00431*90)
	byHand(t, "wood along the grain", term(r, Wood).Y, 0)
}

// What lies turned within what the touches can tell isn't turned in the program: it stays
// in the part as a term.
func TestTouchedTurnLeftIn(t *testing.T) {
	q := touched(t, "near@210,95", "near@310,95", "left@195,140")
	q.Touched[1].At.Y = decimal.RequireFromString("95.1")
	at := registration.Point{Y: decimal.NewFromInt(80)}
	r, err := of(q, Options{At: &at, Tolerances: Tolerances{}})
	if err != nil {
		t.Fatal(err)
	}
	// 0.1 over 100 about 60 along the near edge and 40 along the left one, to 0.1 mm, since the
	// edges were touched 0.05 away from there.
	if got := term(r, Turn); math.Abs(got.X-0.04) > 1e-4 || math.Abs(got.Y-0.06) > 1e-4 {
		t.Errorf("turn left in: %+v", got)
	}
}
