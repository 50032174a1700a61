package cut

import "math"

// profile is the shape of a round cutter as the height h(d) of its surface over
// its tip at distance d from its axis: 0 up to flat, then either a circular
// fillet of radius r or a cone that rises by k for each unit, up to the radius R.
// h is convex and never falls, which every sweep below rests on.
type profile struct {
	R, flat, r, k float64
}

// profile gives t's shape.
func (t Tool) profile() *profile {
	p := &profile{R: t.Diameter / 2}
	switch t.Shape {
	case Flat:
		p.flat = p.R
	case Ball:
		p.r = p.R
	case Bull:
		p.r = t.Corner
		p.flat = p.R - p.r
	case Vee, Drill:
		p.k = 1 / math.Tan(t.Angle*math.Pi/360)
	}
	return p
}

// grown gives the shape that covers p wherever its axis stands within g of a
// place: what p must keep clear of a round pin of radius g.
func (p *profile) grown(g float64) *profile {
	return &profile{R: p.R + g, flat: p.flat + g, r: p.r, k: p.k}
}

// shank gives the flat end that stands for what is above the flutes, as wide as they are.
func (t Tool) shank() *profile { return Tool{Shape: Flat, Diameter: t.Diameter}.profile() }

// height gives h(d) for 0 <= d <= R.
func (p *profile) height(d float64) float64 {
	e := d - p.flat
	switch {
	case e <= 0:
		return 0
	case p.r > 0:
		if e >= p.r {
			return p.r
		}
		return p.r - math.Sqrt(p.r*p.r-e*e)
	}
	return p.k * e
}

// Rise gives the most by which the cutter's surface rises between two places
// that are delta apart and both under the cutter: the modulus of continuity of
// its shape. As the shape is convex this is the rise over the last delta before
// the rim (see ErrorBound).
func (t Tool) Rise(delta float64) float64 {
	p := t.profile()
	return p.height(p.R) - p.height(math.Max(0, p.R-delta))
}

// width gives the cutter's radius at height h over its tip: the other way round from
// height.
func (p *profile) width(h float64) float64 {
	switch {
	case h <= 0:
		return 0
	case p.r > 0 && h < p.r:
		return p.flat + math.Sqrt(p.r*p.r-(p.r-h)*(p.r-h))
	case p.r == 0 && p.k > 0:
		return min(p.R, p.flat+h/p.k)
	}
	return p.R
}

// rising gives where a fillet rises by m for each unit.
func (p *profile) rising(m float64) float64 { return p.flat + p.r*m/math.Sqrt(1+m*m) }

// ahead gives how far down a slope m > 0 from the place nearest to a point at
// distance q across the way the cutter's axis stands when it cuts that point
// lowest, at most rho: the w >= 0 for which -m w + h(sqrt(q^2+w^2)) is least.
func (p *profile) ahead(q, m, rho float64) float64 {
	// Under the flat part the cutter only gets lower as it goes on.
	w0 := 0.0
	if q < p.flat {
		w0 = math.Sqrt(p.flat*p.flat - q*q)
		if p.flat >= p.R {
			return rho
		}
	}
	switch {
	case p.r > 0 && p.flat == 0:
		// Ball: h' w/d = w/sqrt(r^2-q^2-w^2) = m.
		return min(rho, m*math.Sqrt(max(0, p.r*p.r-q*q))/math.Sqrt(1+m*m))
	case p.r > 0:
		return p.aheadFillet(q, m, w0, rho)
	case p.k > 0:
		// Cone: k w/d = m, so w = q m/sqrt(k^2-m^2).
		if m >= p.k {
			return rho
		}
		return min(rho, max(w0, q*m/math.Sqrt((p.k-m)*(p.k+m))))
	}
	return rho
}

// aheadFillet solves h'(d) w/d = m on a corner fillet, where d = sqrt(q^2+w^2),
// e = d - flat and h' = e/sqrt(r^2-e^2). The left side rises with w. Each step halves
// what w is off by, to 2^-40 of it; the height, which is least there, is off by the square.
func (p *profile) aheadFillet(q, m, lo, hi float64) float64 {
	for range 40 {
		w := (lo + hi) / 2
		d := math.Sqrt(q*q + w*w)
		e := d - p.flat
		if e*w > m*d*math.Sqrt(max(0, p.r*p.r-e*e)) {
			hi = w
		} else {
			lo = w
		}
	}
	return (lo + hi) / 2
}
