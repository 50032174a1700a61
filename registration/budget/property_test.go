package budget

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
	"flipcalc/registration"
)

// drawn is a question of any register with its tolerances in mm, all lengths with three
// decimals.
func drawn(rng *rand.Rand) (registration.Question, Tolerances) {
	length := func(least, most int) decimal.Decimal {
		return decimal.New(int64(1000*least+rng.IntN(1000*(most-least)+1)), -3)
	}
	w, h := length(80, 200), length(60, 160)
	q := registration.Question{Stock: &registration.Blank{W: w, H: h, T: length(6, 30)}, Flip: registration.FlipX + registration.Flip(rng.IntN(2))}
	at := registration.Point{X: length(10, 70), Y: length(10, 50)}
	switch rng.IntN(3) {
	case 0:
		q.Register = registration.Dowels
		other := registration.Point{X: w.Sub(at.X), Y: at.Y}
		if q.Flip == registration.FlipX {
			other = registration.Point{X: at.X, Y: h.Sub(at.Y)}
		}
		if other.X.Equal(at.X) && other.Y.Equal(at.Y) {
			return drawn(rng)
		}
		q.Pins = []registration.Pin{{At: at}, {At: other}}
	case 1:
		q.Register, q.Bore = registration.Plug, &registration.Pin{At: at, Dia: length(2, 8)}
		q.Clock = registration.Clocking{Kind: registration.ClockPin, Pin: registration.Point{X: at.X.Add(length(9, 10)), Y: at.Y}}
	default:
		q.Register = registration.FenceStop
		q.Fence.Side = registration.Near + registration.Side(rng.IntN(4))
		across := [...]registration.Side{registration.Near: registration.Left, registration.Far: registration.Left,
			registration.Left: registration.Near, registration.Right: registration.Near}[q.Fence.Side]
		q.Stop.Side, q.BackFence.Side, q.BackStop.Side = across+registration.Side(rng.IntN(2)), q.Fence.Side, across+registration.Side(rng.IntN(2))
	}
	tol := Tolerances{}
	for _, d := range All() {
		tol[d.Name] = Value{Amount: decimal.New(int64(rng.IntN(300)), -3)}
		if d.Kind == Slope {
			tol[d.Name] = Value{tol[d.Name].Amount, decimal.NewFromInt(300)}
		}
	}
	return q, tol
}

func each(t *testing.T, n int, check func(t *testing.T, q registration.Question, tol Tolerances, worst, likely float64)) {
	rng := rand.New(rand.NewPCG(4, 19))
	for range n {
		q, tol := drawn(rng)
		r, err := of(q, Options{Tolerances: tol})
		if err != nil {
			t.Fatalf("%+v: %v", q, err)
		}
		check(t, q, tol, r.Worst, r.Likely)
	}
}

// A greater tolerance never makes a smaller budget; all tolerances doubled double it, to a
// hair: a turn's cosine is not in proportion.
func TestMonotone(t *testing.T) {
	each(t, 60, func(t *testing.T, q registration.Question, tol Tolerances, worst, likely float64) {
		twice := Tolerances{}
		for name, v := range tol {
			twice[name] = Value{v.Amount.Mul(decimal.NewFromInt(2)), v.Over}
			more := Tolerances{}
			for n, v := range tol {
				more[n] = v
			}
			more[name] = Value{v.Amount.Add(decimal.New(1, -2)), v.Over}
			if r, err := of(q, Options{Tolerances: more}); err != nil || r.Worst < worst*(1-1e-12) || r.Likely < likely*(1-1e-12) {
				t.Errorf("%+v: more %s, %v and %v, less than %v and %v; %v", q, name, r.Worst, r.Likely, worst, likely, err)
			}
		}
		r, err := of(q, Options{Tolerances: twice})
		if err != nil || math.Abs(r.Worst-2*worst) > 1e-9*worst || math.Abs(r.Likely-2*likely) > 1e-9*likely {
			t.Errorf("%+v: twice all, %v and %v of %v and %v; %v", q, r.Worst, r.Likely, worst, likely, err)
		}
	})
}

// The same in inches is the same: every length over 25.4.
func TestInches(t *testing.T) {
	each(t, 60, func(t *testing.T, q registration.Question, tol Tolerances, worst, likely float64) {
		// Taken the other way, the millimetres for inches, the conversion is exact.
		in := func(v decimal.Decimal) decimal.Decimal { return v.Mul(decimal.RequireFromString("25.4")) }
		point := func(p registration.Point) registration.Point { return registration.Point{X: in(p.X), Y: in(p.Y)} }
		b := registration.Blank{W: in(q.Stock.W), H: in(q.Stock.H), T: in(q.Stock.T)}
		inches := q
		inches.Unit = transform.Inch
		inches.Stock = q.Stock
		mm := q
		mm.Stock = &b
		mm.Pins = nil
		for _, p := range q.Pins {
			mm.Pins = append(mm.Pins, registration.Pin{At: point(p.At), Dia: in(p.Dia)})
		}
		if q.Bore != nil {
			mm.Bore = &registration.Pin{At: point(q.Bore.At), Dia: in(q.Bore.Dia)}
			mm.Clock.Pin = point(q.Clock.Pin)
		}
		long := Tolerances{}
		for n, v := range tol {
			long[n] = Value{in(v.Amount), in(v.Over)}
		}
		r, err := of(inches, Options{Tolerances: tol})
		s, err2 := of(mm, Options{Tolerances: long})
		if err != nil || err2 != nil || r.Worst != worst || math.Abs(s.Worst-25.4*r.Worst) > 1e-9*s.Worst || math.Abs(s.Likely-25.4*likely) > 1e-9*s.Likely {
			t.Errorf("%+v: %v in and %v mm; %v, %v", q, r.Worst, s.Worst, err, err2)
		}
	})
}

// Seen from the far side, or in a glass, nothing is worse: near and far, or left and right,
// change places, and with them every place on the blank.
func TestMirroredShop(t *testing.T) {
	each(t, 200, func(t *testing.T, q registration.Question, tol Tolerances, worst, likely float64) {
		for _, flip := range []registration.Flip{registration.FlipX, registration.FlipY} {
			glass := q
			glass.Pins = nil
			for _, p := range q.Pins {
				glass.Pins = append(glass.Pins, registration.Pin{At: flip.TurnedPoint(p.At, *q.Stock), Dia: p.Dia})
			}
			if q.Bore != nil {
				glass.Bore = &registration.Pin{At: flip.TurnedPoint(q.Bore.At, *q.Stock), Dia: q.Bore.Dia}
				glass.Clock.Pin = flip.TurnedPoint(q.Clock.Pin, *q.Stock)
			}
			for _, c := range []*registration.Contact{&glass.Fence, &glass.Stop, &glass.BackFence, &glass.BackStop} {
				c.Side = flip.Turned(c.Side)
			}
			r, err := of(glass, Options{Tolerances: tol})
			if err != nil || math.Abs(r.Worst-worst) > 1e-9*worst || math.Abs(r.Likely-likely) > 1e-9*worst {
				t.Errorf("%+v: %v and %v, in the glass (%s) %v and %v; %v", q, worst, likely, flip, r.Worst, r.Likely, err)
			}
		}
	})
}
