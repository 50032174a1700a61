package cut

import "math"

// couple is a cutter of the face and one of the back, and how far apart what they leave
// may be counted: miss is how far the back may lie off in plan, solid the thickness that
// is sure. What a stroke leaves is the lowest of its cutter's surface over all places of
// its way, so what is left between two strokes is least over two places on their ways:
//
//	solid + z1 + z2 + gap(D),  gap(D) = least of h1(a) + h2(b) over a + b = D
//
// with z the heights of the tips there under their own side's top (0 or less), D how far
// the two places are apart in plan less miss, and h the cutters' shapes up to their radii
// R. As h is convex and never falls, so is gap, and for straight ways all of it is convex
// in the two places. For level ways it is least where they come nearest to each other:
// two crossing vees leave solid + z1 + z2, and so do two flat ends within R1 + R2.
//
// Sideways, the least distance in space from a place on the one surface, or above it, to
// one on the other comes from the split a + b = s <= D:
//
//	least over s of sqrt((D - s)^2 + max(0, solid + z1 + z2 + gap(s))^2)
type couple struct {
	p, q        *profile
	miss, solid float64
}

// touching is how much farther apart than their radii two cuts may be and still count as
// touching, mm: rounding of places.
const touching = 1e-6

// search steps: a golden section keeps 0.618 of its stretch each time, 4e-8 in all.
const goldenSteps = 36

// golden gives where a convex f is least between lo and hi, to 4e-8 of their distance.
func golden(lo, hi float64, f func(float64) float64) (x, v float64) {
	const g = 0.6180339887498949
	a, b := hi-g*(hi-lo), lo+g*(hi-lo)
	fa, fb := f(a), f(b)
	for range goldenSteps {
		if fa <= fb {
			hi, b, fb = b, a, fa
			a = hi - g*(hi-lo)
			fa = f(a)
		} else {
			lo, a, fa = a, b, fb
			b = lo + g*(hi-lo)
			fb = f(b)
		}
	}
	x = (lo + hi) / 2
	v = f(x)
	// The least often lies at an end, which the section only nears.
	for _, e := range [2]float64{lo, hi} {
		if w := f(e); w < v {
			x, v = e, w
		}
	}
	return x, v
}

// valley gives where f, which may have several valleys, is least between lo and hi: the best of
// n steps, and closer around it.
func valley(lo, hi float64, n int, f func(float64) float64) (x, v float64) {
	best, least := 0, math.Inf(1)
	at := func(i int) float64 { return lo + (hi-lo)*float64(min(max(i, 0), n))/float64(n) }
	for i := range n + 1 {
		if v := f(at(i)); v < least {
			best, least = i, v
		}
	}
	return golden(at(best-1), at(best+1), f)
}

// gap gives gap(d) and the share a of d that falls to the first cutter. Beyond R1 + R2,
// where the two don't meet, it goes on steeply.
func (c *couple) gap(d float64) (v, a float64) {
	p, q := c.p, c.q
	const beyond = 1e4
	if reach := p.R + q.R; d > reach && d <= reach+touching {
		d = reach
	} else if d > reach {
		return p.height(p.R) + q.height(q.R) + beyond*(d-reach), p.R
	}
	lo, hi := max(0, d-q.R), min(p.R, d)
	switch {
	case d <= p.flat+q.flat:
		// In the middle of where both are flat.
		return 0, (max(0, d-q.flat) + min(p.flat, d)) / 2
	case p.k > 0 && q.k > 0:
		a = lo
		if p.k < q.k {
			a = hi
		}
	case p.r > 0 && q.r > 0:
		// Equal slopes where each is the same share up its fillet.
		a = min(max(p.flat+(d-p.flat-q.flat)*p.r/(p.r+q.r), lo), hi)
	case p.flat >= p.R:
		a = hi
	case q.flat >= q.R:
		a = lo
	case p.k > 0:
		a = min(max(d-q.rising(p.k), lo), hi)
	default:
		a = min(max(p.rising(q.k), lo), hi)
	}
	return p.height(a) + q.height(max(0, d-a)), a
}

// web gives what is left between places d apart whose tips' heights add up to z.
func (c *couple) web(z, d float64) float64 {
	v, _ := c.gap(max(0, d-c.miss))
	return c.solid + z + v
}

// wall gives the least distance in space instead, and how much of d the surfaces cover.
func (c *couple) wall(z, d float64) (v, s float64) {
	d = max(0, d-c.miss)
	hi := min(d, c.p.R+c.q.R)
	at := func(s float64) float64 {
		h, _ := c.gap(s)
		return math.Hypot(d-s, max(0, c.solid+z+h))
	}
	if c.p.flat >= c.p.R && c.q.flat >= c.q.R || c.solid+z <= 0 && at(hi) == d-hi {
		return at(hi), hi
	}
	s, v = golden(0, hi, at)
	return v, s
}

// slope gives how steeply gap rises at d; ok is false where it isn't told. The share
// that goes to the cutter that gives way costs as much as the other's would.
func (c *couple) slope(d float64) (v float64, ok bool) {
	p, q := c.p, c.q
	if d <= p.flat+q.flat {
		return 0, true
	}
	_, a := c.gap(d)
	least := math.Inf(1)
	for i, e := range [2]float64{a - p.flat, d - a - q.flat} {
		o := [2]*profile{p, q}[i]
		switch {
		case e+o.flat >= o.R:
			// At its rim it gives no more.
		case o.k > 0:
			least = min(least, o.k)
		default:
			least = min(least, max(0, e)/math.Sqrt(o.r*o.r-e*e))
		}
	}
	return least, !math.IsInf(least, 1)
}

// floor gives a bound from below of web between any two places of two straight ways: it
// is convex, so it lies over its tangent in the middle of both, which is lowest at an end
// of each.
func (c *couple) floor(k1, k2 *stroke) float64 {
	x1, y1, z1 := k1.place(0.5)
	x2, y2, z2 := k2.place(0.5)
	d := math.Hypot(x2-x1, y2-y1)
	v := c.web(z1+z2, d)
	g1, g2 := k1.slope, k2.slope
	if d > c.miss {
		rise, ok := c.slope(d - c.miss)
		if !ok || d-c.miss >= c.p.R+c.q.R {
			return math.Inf(-1)
		}
		rise /= d
		g1 -= rise * (k1.ux*(x2-x1) + k1.uy*(y2-y1))
		g2 += rise * (k2.ux*(x2-x1) + k2.uy*(y2-y1))
	}
	return v - math.Abs(g1)*k1.length/2 - math.Abs(g2)*k2.length/2
}

// approach is the places on two ways between which least is left.
type approach struct {
	v              float64
	x1, y1, x2, y2 float64
	z1, z2, d      float64
}

// closest gives the places on a way of each side between which value, which never falls
// with either the sum of the tips' heights or the distance in plan, is least.
func closest(k1, k2 *stroke, value func(z, d float64) float64) approach {
	at := func(t1, t2 float64) approach {
		var m approach
		m.x1, m.y1, m.z1 = k1.place(t1)
		m.x2, m.y2, m.z2 = k2.place(t2)
		m.d = math.Hypot(m.x2-m.x1, m.y2-m.y1)
		m.v = value(m.z1+m.z2, m.d)
		return m
	}
	if k1.kind == straight && k2.kind == straight && k1.flat() && k2.flat() {
		return at(nearest(k1, k2))
	}
	// From the places on the one way to the best on the other. Between straight ways that
	// is convex; along an arc it is looked for at many places first, then closer around the best.
	swap := k1.kind == straight && (k2.kind == levelArc || k1.flat() && !k2.flat())
	if swap {
		k1, k2 = k2, k1
	}
	other := func(t1 float64) (t2, v float64) {
		x, y, z := k1.place(t1)
		left := func(t2 float64) float64 {
			a, b, c := k2.place(t2)
			return value(z+c, math.Hypot(a-x, b-y))
		}
		if !k2.flat() {
			return golden(0, 1, left)
		}
		t2 = k2.share(x, y)
		return t2, left(t2)
	}
	left := func(t float64) float64 { _, v := other(t); return v }
	var t1 float64
	if k1.kind == levelArc {
		t1, _ = valley(0, 1, int(min(max(16, math.Ceil(k1.way()/k1.p.R*2)), 128)), left)
	} else {
		t1, _ = golden(0, 1, left)
	}
	t2, _ := other(t1)
	m := at(t1, t2)
	if swap {
		m.x1, m.y1, m.z1, m.x2, m.y2, m.z2 = m.x2, m.y2, m.z2, m.x1, m.y1, m.z1
	}
	return m
}

// nearest gives the shares of two straight ways at which they come nearest to each
// other; where they run alongside, the middle of that.
func nearest(k1, k2 *stroke) (t1, t2 float64) {
	dx, dy := k2.x-k1.x, k2.y-k1.y
	cos := k1.ux*k2.ux + k1.uy*k2.uy
	sin := k1.ux*k2.uy - k1.uy*k2.ux
	a := dx*k1.ux + dy*k1.uy // where k2 starts along k1
	l1, l2 := k1.length, k2.length
	if math.Abs(sin) < 1e-9 {
		lo, hi := a, a+cos*l2
		if lo > hi {
			lo, hi = hi, lo
		}
		s := (min(max(lo, 0), l1) + min(max(hi, 0), l1)) / 2
		x, y := k1.x+k1.ux*s, k1.y+k1.uy*s
		return ratio(s, l1), k2.share(x, y)
	}
	// The lines cross at s along k1 and t along k2.
	s, t := (dx*k2.uy-dy*k2.ux)/sin, (dx*k1.uy-dy*k1.ux)/sin
	if s >= 0 && s <= l1 && t >= 0 && t <= l2 {
		return ratio(s, l1), ratio(t, l2)
	}
	// Else an end of one is nearest to the other.
	best := math.Inf(1)
	for i := range 4 {
		e := float64(i % 2)
		k, o := k1, k2
		if i >= 2 {
			k, o = k2, k1
		}
		x, y := k.along(e)
		if d, _, _ := o.near(x, y); d < best {
			best = d
			if t1, t2 = e, o.share(x, y); i >= 2 {
				t1, t2 = t2, t1
			}
		}
	}
	return t1, t2
}

func ratio(a, b float64) float64 {
	if b == 0 {
		return 0
	}
	return a / b
}
