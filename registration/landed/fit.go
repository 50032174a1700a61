package landed

import (
	"math"

	"github.com/shopspring/decimal"

	"flipcalc/registration"
)

// fitted is the shift and the turn that the measurements show.
type fitted struct {
	mean, shift  registration.Point // of the places, and of the mismatches
	sine, cosine decimal.Decimal    // of the turn, counter-clockwise, to the fifteenth decimal
	far          float64            // the farthest place's distance from the mean
}

// fit finds a shift and a turn by least squares. With q the places from their mean and d
// the mismatches from theirs, a turn by t about the mean gives d = (R - 1) q, whose part
// across q is sin t |q|: sin t = sum(q x d)/sum(q.q). At one place there is no turn.
func fit(measured []Measurement) fitted {
	n := decimal.NewFromInt(int64(len(measured)))
	f := fitted{cosine: decimal.NewFromInt(1)}
	for _, m := range measured {
		f.shift = f.shift.Add(m.Off)
		if m.At != nil {
			f.mean = f.mean.Add(*m.At)
		}
	}
	f.shift = registration.Point{X: quotient(f.shift.X, n), Y: quotient(f.shift.Y, n)}
	f.mean = registration.Point{X: quotient(f.mean.X, n), Y: quotient(f.mean.Y, n)}
	var num, den decimal.Decimal
	for _, m := range measured {
		if m.At == nil {
			return f
		}
		q := m.At.Sub(f.mean)
		num = num.Add(quarter(q).Dot(m.Off.Sub(f.shift)))
		den = den.Add(q.Dot(q))
		f.far = max(f.far, length(q))
	}
	if den.IsPositive() {
		f.sine = num.DivRound(den, 15)
		f.cosine = cosineOf(f.sine)
	}
	return f
}

// at is the fitted mismatch at p: the mean, and (R - 1) from the mean's place.
func (f fitted) at(p registration.Point) registration.Point {
	q := p.Sub(f.mean)
	return f.shift.Add(q.Times(f.cosine.Sub(decimal.NewFromInt(1))).Add(quarter(q).Times(f.sine)))
}

func (f fitted) angle() float64 { return math.Asin(max(-1, min(1, f.sine.InexactFloat64()))) }

// cosineOf gives the cosine of an angle less than a quarter turn, to the fifteenth
// decimal; of a sine that no angle has, zero.
func cosineOf(sine decimal.Decimal) decimal.Decimal {
	square := decimal.NewFromInt(1).Sub(sine.Mul(sine))
	c, err := square.SqrtRound(15)
	if err != nil {
		return decimal.Zero
	}
	return c
}

func point9(p registration.Point) registration.Point {
	return registration.Point{X: p.X.Round(places), Y: p.Y.Round(places)}
}

// disagrees names the one measurement without which the others agree, if there is just
// one such: they fit a shift and a turn within what the measuring explains (see rigid),
// and it lies farther than that off their fit. Of places with a turn it takes four: three
// with one wrong look like a size or a corner that is off.
func (c *Correction) disagrees(measured []Measurement, o Options) bool {
	least := 3
	if measured[0].At != nil {
		least = 4
	}
	if len(measured) < least || !beyond(fitRests(measured, fit(measured)), o) {
		return false
	}
	odd, off, left := 0, 0.0, 0.0
	for i, m := range measured {
		others := append(append([]Measurement{}, measured[:i]...), measured[i+1:]...)
		f := fit(others)
		list, greatest := rests(others, f.at)
		own := []registration.Point{m.Off.Sub(f.at(where(m)))}
		if beyond(list, o) || !beyond(own, o) {
			continue
		}
		if odd > 0 {
			return false
		}
		odd, off, left = i+1, length(own[0]), greatest
	}
	if odd == 0 {
		return false
	}
	c.fact(registration.LevelWarning, PlaceDisagrees{odd, Figure(off), Figure(left)})
	return true
}

func where(m Measurement) registration.Point {
	if m.At == nil {
		return registration.Point{}
	}
	return *m.At
}

func fitRests(measured []Measurement, f fitted) []registration.Point {
	list, _ := rests(measured, f.at)
	return list
}
