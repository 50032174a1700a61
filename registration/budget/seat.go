package budget

import "math"

// vec is a place or a displacement in float64, in the question's unit.
type vec struct{ x, y float64 }

func (v vec) minus(w vec) vec { return vec{v.x - w.x, v.y - w.y} }
func (v vec) abs() float64    { return math.Hypot(v.x, v.y) }

// reach is how far a point can be displaced: along X, along Y, and in all.
type reach struct{ x, y, all float64 }

func (r reach) times(f float64) reach { return reach{r.x * f, r.y * f, r.all * f} }

// peg is a dowel or a plug with its greatest diametral clearance, which is not
// negative. A peg that holds the turn only, such as a index pin in a slot,
// lets the blank slide along its join with another.
type peg struct {
	at       vec
	c        float64
	turnOnly bool
}

// seat gives how far point p of a blank can be displaced by one seat on pegs.
//
// A hole's centre lies within c/2 of its peg's. Two of them at spacing L turn
// the blank by an angle whose chord 2 sin(a/2) is at most s = (c1+c2)/(2L), so
// that a point at distance r1 from one peg goes at most c1/2 + s r1. The
// displacements d1, d2 of the two holes carry every other point with them, in
// the ratio of its place to the join: d = d1 + (l + m J)(d2 - d1), J a quarter
// turn, which is at most (c1 r2 + c2 r1)/(2L); that is never more, and the same
// on the join's extension. Any pair gives such a bound and the least of them
// holds. Along X the turn's part is at most sin(a) |ry| + (1 - cos a) |rx| <=
// s |ry| + s^2/2 |rx|.
//
// turn is the greatest chord s. ok is false with fewer than two places.
func seat(pegs []peg, p vec) (r reach, turn float64, ok bool) {
	r = reach{math.Inf(1), math.Inf(1), math.Inf(1)}
	turn = math.Inf(1)
	for i, a := range pegs {
		for j, b := range pegs {
			spacing := b.at.minus(a.at).abs()
			if i == j || spacing == 0 {
				continue
			}
			ok = true
			s := (a.c + b.c) / (2 * spacing)
			turn = min(turn, s)
			if a.turnOnly {
				continue
			}
			d := p.minus(a.at)
			r.all = min(r.all, a.c/2+s*d.abs())
			if !b.turnOnly {
				r.all = min(r.all, (a.c*p.minus(b.at).abs()+b.c*d.abs())/(2*spacing))
			}
			r.x = min(r.x, a.c/2+s*math.Abs(d.y)+s*s/2*math.Abs(d.x))
			r.y = min(r.y, a.c/2+s*math.Abs(d.x)+s*s/2*math.Abs(d.y))
		}
	}
	if !ok {
		return reach{}, 0, false
	}
	r.x, r.y = min(r.x, r.all), min(r.y, r.all)
	return r, turn, true
}

// turned gives how far p goes when the blank turns by a small angle about c.
func turned(p, c vec, angle float64) reach {
	d := p.minus(c)
	return reach{angle * math.Abs(d.y), angle * math.Abs(d.x), angle * d.abs()}
}

// skewed gives the displacement, in the blank's frame, of a feature at p cut by
// a machine whose Y axis leans by one radian per unit of the result: commanded
// (x, y) lands at (x + y, y). A datum line in direction (cos d, sin d) through c
// was set by the same machine and the blank lies along it, so it turns with the
// line by -sin^2 d, which leaves (ry cos^2 d, rx sin^2 d).
func skewed(p, c vec, sin2 float64) vec {
	d := p.minus(c)
	return vec{d.y * (1 - sin2), d.x * sin2}
}
