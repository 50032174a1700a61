package main

import (
	"bytes"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"gonum.org/v1/gonum/mat"

	"flipcalc/mirror"
	"flipcalc/mirror/motion"
	"flipcalc/registration"
	"flipcalc/testdata/draws"
)

// turnAbout is the rotation matrix about X (0), Y (1) or Z (2), right-handed.
func turnAbout(axis int, angle float64) *mat.Dense {
	m := mat.NewDense(3, 3, nil)
	i, j := (axis+1)%3, (axis+2)%3
	sin, cos := math.Sincos(angle)
	m.Set(axis, axis, 1)
	m.Set(i, i, cos)
	m.Set(j, j, cos)
	m.Set(i, j, -sin)
	m.Set(j, i, sin)
	return m
}

// TestThrownAndCut: 1,000 blanks are turned over in space, thrown on the bed anywhere, three
// of their holes touched to the last digit of a display, and the back program, mirrored
// and written out for the touches, is run. Where it cuts, measured on the blank, must be
// where the face program cut, within
//
//	the written ends, q/sqrt 2 = 0.00071 mm at q = 0.001 mm,
//	the second zero and the turn, 0.0001 mm and 0.00001 degrees: 0.00007 + 0.00005 mm,
//	the touches, each 0.0005 mm in X and Y, which the fit makes no more than twice as much
//	of here: 0.0014 mm.
func TestThrownAndCut(t *testing.T) {
	const bound = 0.00071 + 0.00012 + 0.0014
	const program = "G21 G90 G17 G54\nT1 M6\nS9000 M3\nG0 X12.5 Y9.25 Z5\nG1 Z-1 F300\nX100.125\nG3 X80 Y40 R30\nG2 X60 Y60 I-20 J0\nG0 Z5\nG81 X20 Y70 Z-3 R2\nX110 Y10\nG80\nM30\n"
	// The machine places of a program's ends, from its zero.
	ends := func(text string, x, y float64) (all [][2]float64) {
		if _, err := motion.Walk(strings.NewReader(text), motion.Options{}, func(m *motion.Move) error {
			if m.Kind != motion.Rapid {
				all = append(all, [2]float64{m.To[0].Float() + x, m.To[1].Float() + y})
			}
			return nil
		}); err != nil {
			t.Fatal(err)
		}
		return all
	}
	random := rand.New(rand.NewPCG(16, 5))
	worst := 0.0
	for range draws.Of(1000) {
		flip := []registration.Flip{registration.FlipX, registration.FlipY}[random.IntN(2)]
		axis := map[registration.Flip]int{registration.FlipX: 0, registration.FlipY: 1}[flip]
		var pose mat.Dense
		pose.Mul(turnAbout(2, random.Float64()*2*math.Pi), turnAbout(axis, math.Pi))
		dx, dy := 200+random.Float64()*300, 200+random.Float64()*300
		lands := func(u, v float64) (x, y float64) {
			var p mat.VecDense
			p.MulVec(&pose, mat.NewVecDense(3, []float64{u, v, 0}))
			return p.AtVec(0) + dx, p.AtVec(1) + dy
		}
		q := registration.Question{Stock: &registration.Blank{W: decimal.New(120, 0), H: decimal.New(80, 0), T: decimal.New(12, 0)}, Flip: flip, Register: registration.Touched}
		for _, hole := range [][2]float64{{5, 5}, {115, 10}, {60, 75}} {
			x, y := lands(hole[0], hole[1])
			q.Touched = append(q.Touched, registration.Spot{Cut: true, Hole: registration.Point{X: decimal.NewFromFloat(hole[0]), Y: decimal.NewFromFloat(hole[1])},
				At: registration.Point{X: decimal.NewFromFloat(x).Round(3), Y: decimal.NewFromFloat(y).Round(3)}})
		}
		a, err := registration.Solve(q)
		if err != nil {
			t.Fatal(err)
		}
		var back bytes.Buffer
		if _, err := mirror.Mirror(strings.NewReader(program), &back, mirror.Options{Map: a.Transform, BackOffset: a.Second.Offset, ZerosDiffer: true}); err != nil {
			t.Fatal(err)
		}
		// The face zero is the near-left corner.
		faceCuts, backCuts := ends(program, 0, 0), ends(back.String(), a.Second.X.InexactFloat64(), a.Second.Y.InexactFloat64())
		if len(faceCuts) != len(backCuts) {
			t.Fatalf("%d cuts become %d:\n%s", len(faceCuts), len(backCuts), back.String())
		}
		for i, p := range faceCuts {
			x, y := lands(p[0], p[1])
			worst = max(worst, math.Hypot(x-backCuts[i][0], y-backCuts[i][1]))
		}
	}
	t.Logf("at most %.5f mm", worst)
	if worst > bound {
		t.Errorf("a back cut lies %.5f mm off the face's, more than %.5f", worst, bound)
	}
}
