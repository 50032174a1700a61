package landed

import (
	"math"

	"github.com/shopspring/decimal"

	"flipcalc/registration"
)

// rigid warns when what is left after shift and turn is more than the measuring
// can explain, and looks for the cause.
//
// With every measured value off by at most a, a mean leaves rests of at most
// 2a(n-1)/n along one axis, less than 2a, and a fitted turn makes them smaller as
// a sum of squares: a rest of 2a or more along an axis is no error of measuring.
func (c *Correction) rigid(a *registration.Answer, measured []Measurement, mean registration.Point, o Options) {
	if !beyond(c.Turn.Remain, o) {
		return
	}
	cause, amount := c.cause(a, measured, mean, o)
	c.fact(registration.LevelWarning, NotRigid{Figure(c.Turn.Greatest), cause, Figure(amount)})
}

// scatter warns when measurements at one place disagree.
func (c *Correction) scatter(rests []registration.Point, o Options) {
	if beyond(rests, o) {
		c.fact(registration.LevelWarning, NotRigid{Figure(c.Greatest), CauseScatter, Figure(c.Greatest)})
	}
}

func beyond(rests []registration.Point, o Options) bool {
	limit := o.Measuring.Mul(decimal.NewFromInt(2))
	for _, r := range rests {
		if r.X.Abs().GreaterThanOrEqual(limit) || r.Y.Abs().GreaterThanOrEqual(limit) {
			return true
		}
	}
	return false
}

// cause fits d = A q freely and splits A into what a turn, two sizes and a
// squareness error make of it. Rests that even this leaves are scatter.
func (c *Correction) cause(a *registration.Answer, measured []Measurement, mean registration.Point, o Options) (cause string, amount float64) {
	var xx, xy, yy float64 // sums over the places
	var ax, ay, bx, by float64
	for i, m := range measured {
		q := m.At.Sub(mean)
		x, y := q.X.InexactFloat64(), q.Y.InexactFloat64()
		dx, dy := c.Remains[i].X.InexactFloat64(), c.Remains[i].Y.InexactFloat64()
		xx, xy, yy = xx+x*x, xy+x*y, yy+y*y
		ax, ay = ax+dx*x, ay+dx*y
		bx, by = bx+dy*x, by+dy*y
	}
	det := xx*yy - xy*xy
	if det < 1e-6*(xx+yy)*(xx+yy) {
		// On one line, or so nearly that a factor of a thousand would come of it: only
		// the stretch along the line shows.
		var along float64
		for i, m := range measured {
			q := m.At.Sub(mean)
			along += q.Dot(c.Turn.Remain[i]).InexactFloat64()
		}
		stretch := along / (xx + yy)
		var left, far float64
		for i, m := range measured {
			q := m.At.Sub(mean)
			r := c.Turn.Remain[i]
			left = max(left, math.Hypot(r.X.InexactFloat64()-stretch*q.X.InexactFloat64(), r.Y.InexactFloat64()-stretch*q.Y.InexactFloat64()))
			far = max(far, length(q))
		}
		if left >= 2*o.Measuring.InexactFloat64() {
			return CauseScatter, left
		}
		return CauseStretch, 2 * far * stretch
	}
	a11, a12 := (ax*yy-ay*xy)/det, (ay*xx-ax*xy)/det
	a21, a22 := (bx*yy-by*xy)/det, (by*xx-bx*xy)/det
	var left float64
	for i, m := range measured {
		q := m.At.Sub(mean)
		x, y := q.X.InexactFloat64(), q.Y.InexactFloat64()
		r := c.Remains[i]
		left = max(left, math.Abs(r.X.InexactFloat64()-a11*x-a12*y), math.Abs(r.Y.InexactFloat64()-a21*x-a22*y))
	}
	if left >= 2*o.Measuring.InexactFloat64() {
		return CauseScatter, left
	}
	w, h := a.Used.W.InexactFloat64(), a.Used.H.InexactFloat64()
	shear := a12 + a21
	sx, sy, sq := a11*w, a22*h, shear*h
	switch {
	case math.Abs(sq) >= math.Abs(sx) && math.Abs(sq) >= math.Abs(sy):
		return CauseSquare, sq
	case math.Abs(sx) >= math.Abs(sy):
		return CauseSizeX, sx
	}
	return CauseSizeY, sy
}
