package landed

import (
	"fmt"
	"math"
	"testing"

	"github.com/shopspring/decimal"
	"gonum.org/v1/gonum/mat"

	"flipcalc/registration"
)

// matrix turns by degrees, counter-clockwise.
func matrix(degrees float64) *mat.Dense {
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	return mat.NewDense(2, 2, []float64{cos, -sin, sin, cos})
}

func vector(p registration.Point) *mat.VecDense {
	return mat.NewVecDense(2, []float64{p.X.InexactFloat64(), p.Y.InexactFloat64()})
}

// moved gives m (v - about) + about + by.
func moved(m mat.Matrix, v, about, by *mat.VecDense) *mat.VecDense {
	out := new(mat.VecDense)
	out.SubVec(v, about)
	out.MulVec(m, out)
	out.AddVec(out, about)
	out.AddVec(out, by)
	return out
}

func pointOf(v *mat.VecDense) registration.Point {
	return registration.Point{X: decimal.NewFromFloat(v.AtVec(0)).Round(8), Y: decimal.NewFromFloat(v.AtVec(1)).Round(8)}
}

// pairAt stands a pair of stations on the bed, turned about the machine's zero.
func pairAt(t *testing.T, q registration.Question, k registration.Quarter) *registration.Answer {
	t.Helper()
	q.At = nil
	a := solve(t, q)
	station := func(offset, x, y string, zero registration.Point) registration.Station {
		own := point(x, y)
		at := k.Point(registration.Point{X: own.X.Add(zero.X), Y: own.Y.Add(zero.Y)})
		c, far := k.Point(own), k.Point(registration.Point{X: own.X.Add(a.Used.W), Y: own.Y.Add(a.Used.H)})
		return registration.Station{Offset: offset, Turn: k, Zero: registration.Position{X: at.X, Y: at.Y},
			Corner: registration.Point{X: decimal.Min(c.X, far.X), Y: decimal.Min(c.Y, far.Y)}}
	}
	out, err := a.At(station("G54", "30", "40", a.FaceZero), station("G55", "230", "40", a.BackZero))
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// A blank that lies off its place at a turned station, by a shift and a turn: what was cut is
// measured on it, along the part and from the corner that was near and left as it lay. Then
// the corrected zero, and the turned program with its own, cut where the part is. All places
// go through rotation matrices of the library, none through Quarter.
func TestTurnedStationSimulated(t *testing.T) {
	for name, q := range map[string]registration.Question{"dowels": markers(), "fence": boards(registration.FlipY, registration.Near, registration.Left)} {
		q.Zero = registration.Zero{Name: "far-left"}
		for k := range registration.Quarter(4) {
			for _, lies := range []struct{ dx, dy, turn float64 }{{0.31, -0.12, 0}, {0.2, 0.4, 0.15}, {-0.05, 0.1, -0.3}} {
				a := pairAt(t, q, k)
				zero := mat.NewVecDense(2, []float64{a.Second.X.InexactFloat64(), a.Second.Y.InexactFloat64()})
				b, none := vector(a.BackZero), mat.NewVecDense(2, nil)
				at := func(s *mat.VecDense) *mat.VecDense { // where the unturned program cuts a place of the back
					v := new(mat.VecDense)
					v.SubVec(s, b)
					return moved(matrix(90*float64(k)), v, none, zero)
				}
				lain := func(v *mat.VecDense) *mat.VecDense {
					return moved(matrix(lies.turn), v, mat.NewVecDense(2, []float64{100, 70}), mat.NewVecDense(2, []float64{lies.dx, lies.dy}))
				}
				corner := vector(*a.BackCorner)
				var list []Measurement
				places := []*mat.VecDense{mat.NewVecDense(2, []float64{20, 15}), mat.NewVecDense(2, []float64{110, 75}), mat.NewVecDense(2, []float64{25, 70})}
				for _, s := range places {
					cut := at(s)
					var off, on mat.VecDense
					off.SubVec(cut, lain(cut))
					on.SubVec(cut, corner)
					p := pointOf(&on)
					list = append(list, Measurement{Pair: 1, Off: pointOf(moved(matrix(-lies.turn), &off, none, none)), At: &p})
				}
				if lies.turn == 0 {
					list = list[:1]
				}
				c, err := Correct(a, list, Options{})
				if err != nil {
					t.Fatal(err)
				}
				fixed, program := c.Zero, 0.0
				if c.Turn != nil {
					cure := c.Turn.Cures[len(c.Turn.Cures)-1]
					fixed, program = cure.Zero, cure.Program.InexactFloat64()
				}
				for _, s := range places {
					v := new(mat.VecDense)
					v.SubVec(s, b)
					cut := moved(matrix(90*float64(k)+program), v, none, mat.NewVecDense(2, []float64{fixed.X.InexactFloat64(), fixed.Y.InexactFloat64()}))
					var rest mat.VecDense
					rest.SubVec(cut, lain(at(s)))
					if left := mat.Norm(&rest, 2); left > 2e-5 {
						t.Errorf("%s at %s degrees, lain %v: %.6f is left", name, k.Degrees(), lies, left)
					}
				}
			}
		}
	}
}

// Shims, pins and moves of locators at a turned station are those of the straight one,
// carried by the library's matrices.
func TestTurnedStationCures(t *testing.T) {
	index := registration.Question{Stock: markers().Stock, Flip: registration.FlipY, Register: registration.Plug,
		Bore: &registration.Pin{At: point("30", "40"), Dia: dec("12")}, PlugD: decp("12"),
		Clock: registration.Clocking{Kind: registration.ClockPin, Pin: point("30", "70"), Dia: dec("5")}}
	for name, q := range map[string]registration.Question{"dowels": markers(), "fence": boards(registration.FlipY, registration.Near, registration.Left), "index pin": index} {
		straight := pairAt(t, q, 0)
		measured := []Measurement{off("0.3,-0.1@10,20"), off("0.5,-0.3@100,20"), off("0.5,0.1@10,70")}
		want, err := Correct(straight, measured, Options{})
		if err != nil {
			t.Fatal(err)
		}
		for k := range registration.Quarter(4) {
			a := pairAt(t, q, k)
			turn := matrix(90 * float64(k))
			carried := func(p registration.Point) registration.Point {
				return pointOf(moved(turn, vector(p), mat.NewVecDense(2, nil), mat.NewVecDense(2, nil)))
			}
			// A place of the lying blank, from the machine's zero and back to its corner.
			place := func(p registration.Point) registration.Point {
				at := carried(straight.BackCorner.Add(p))
				return at.Sub(*a.BackCorner)
			}
			var list []Measurement
			for _, m := range measured {
				at := place(*m.At)
				list = append(list, Measurement{Pair: 1, Off: carried(m.Off), At: &at})
			}
			got, err := Correct(a, list, Options{})
			if err != nil {
				t.Fatalf("%s at %s degrees: %v", name, k.Degrees(), err)
			}
			same := func(what string, was, is registration.Point) {
				t.Helper()
				if d := was.Sub(is); length(d) > 1e-6 {
					t.Errorf("%s at %s degrees: %s %s, want %s", name, k.Degrees(), what, is, was)
				}
			}
			zero := func(z *registration.SecondZero) registration.Point { return registration.Point{X: z.X, Y: z.Y} }
			same("shift", carried(want.Shift), got.Shift)
			same("zero", carried(zero(want.Zero)), zero(got.Zero))
			same("zero of the moves", carried(zero(want.MovesZero)), zero(got.MovesZero))
			for i := range want.Remains {
				same("remains", carried(want.Remains[i]), got.Remains[i])
				same("remains after the turn", carried(want.Turn.Remain[i]), got.Turn.Remain[i])
			}
			same("locators", carried(ways(want)), ways(got))
			for i, c := range want.Turn.Cures {
				is := got.Turn.Cures[i]
				same("pivot", place(c.Pivot), is.Pivot)
				same("cure's zero", carried(zero(c.Zero)), zero(is.Zero))
				if c.Shim != nil {
					same("shim", place(c.Shim.At), is.Shim.At)
					same("fence", carried(outward[c.Shim.Fence]), outward[is.Shim.Fence])
					same("end", carried(outward[c.Shim.End]), outward[is.Shim.End])
					if !c.Shim.Thick.Equal(is.Shim.Thick) {
						t.Errorf("%s at %s degrees: a shim of %s, want %s", name, k.Degrees(), is.Shim.Thick, c.Shim.Thick)
					}
				}
				if c.Pin != nil {
					same("pin", carried(c.Pin.At), is.Pin.At)
					same("pin's way", carried(c.Pin.Move), is.Pin.Move)
				}
			}
		}
	}
}

// outward is a side's normal.
var outward = map[registration.Side]registration.Point{
	registration.Near: point("0", "-1"), registration.Far: point("0", "1"), registration.Left: point("-1", "0"), registration.Right: point("1", "0")}

// ways are the moves of the locators as one vector.
func ways(c *Correction) (p registration.Point) {
	for _, m := range c.Locators {
		if m.Axis == "x" {
			p.X = p.X.Add(m.Move)
		} else {
			p.Y = p.Y.Add(m.Move)
		}
	}
	return p
}

// A back that came out longer, or out of square, at a turned station: by a quarter turn what
// was along X is along Y, and the square leans the other way over what is H then. By hand: the
// blank is 120 x 80; 0.6 of stretch over 120 stays 0.6; 0.4 of lean over 80 is -0.6 over 120.
func TestTurnedStationCauses(t *testing.T) {
	for _, r := range []struct {
		k    registration.Quarter
		from NotRigid
		want string
	}{
		{0, NotRigid{1, CauseSizeX, 0.6}, "size-x 0.6000"},
		{1, NotRigid{1, CauseSizeX, 0.6}, "size-y 0.6000"},
		{2, NotRigid{1, CauseSizeX, 0.6}, "size-x 0.6000"},
		{3, NotRigid{1, CauseSizeY, 0.6}, "size-x 0.6000"},
		{1, NotRigid{1, CauseSquare, 0.4}, "square -0.6000"},
		{2, NotRigid{1, CauseSquare, 0.4}, "square 0.4000"},
		{3, NotRigid{1, CauseScatter, 0.4}, "scatter 0.4000"},
	} {
		s := station{r.k, registration.Blank{W: dec("120"), H: dec("80")}}
		c := &Correction{Facts: []registration.Fact{{Is: r.from}, {Is: NoLocatorMove{"fence", "x", dec("0.2")}}}}
		s.correction(c)
		got := c.Facts[0].Is.(NotRigid)
		if text := fmt.Sprint(got.Cause, " ", got.Amount); text != r.want {
			t.Errorf("%s degrees: %s, want %s", r.k.Degrees(), text, r.want)
		}
		move := c.Facts[1].Is.(NoLocatorMove)
		if want := [4]string{"x0.2", "y0.2", "x-0.2", "y-0.2"}[r.k]; move.Axis+move.Off.String() != want {
			t.Errorf("%s degrees: no move along %s of %s, want %s", r.k.Degrees(), move.Axis, move.Off, want)
		}
	}
}
