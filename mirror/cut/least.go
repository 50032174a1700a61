package cut

import "math"

// atEdge gives the least that two strokes leave on the blank where they leave least at
// (x, y) beside it: on the edge between, by places along it and closer around the best.
func (s *study) atEdge(k1, k2 *stroke, x, y float64) (v, ex, ey float64) {
	ex, ey = min(max(x, 0), s.g.W), min(max(y, 0), s.g.H)
	left := func(x, y float64) float64 {
		h1, ok1 := k1.surface(x, y)
		h2, ok2 := k2.surface(x, y)
		if !ok1 || !ok2 {
			return math.Inf(1)
		}
		return s.g.T + h1 + h2
	}
	v = left(ex, ey)
	reach := min(k1.p.R, k2.p.R) * 2
	along := func(at float64, end float64, place func(u float64) (x, y float64)) {
		u, w := valley(max(0, at-reach), min(end, at+reach), 64, func(u float64) float64 { return left(place(u)) })
		if w < v {
			v = w
			ex, ey = place(u)
		}
	}
	if x != ex {
		edge := ex
		along(y, s.g.H, func(u float64) (float64, float64) { return edge, u })
	}
	if edge := min(max(y, 0), s.g.H); y != edge {
		along(x, s.g.W, func(u float64) (float64, float64) { return u, edge })
	}
	return v, ex, ey
}

// inBlank says whether a place is on the blank.
func (g *Grid) inBlank(x, y float64) bool { return x >= 0 && y >= 0 && x <= g.W && y <= g.H }

// nearThrough says whether a place lies in or beside a cell cut through for which want
// holds.
func (s *study) nearThrough(x, y float64, want func(label int) bool) bool {
	i, j := s.g.cellAt(x, y)
	for dj := -1; dj <= 1; dj++ {
		for di := -1; di <= 1; di++ {
			if l := s.islands.label(i+di, j+dj); l >= 0 && want(l) {
				return true
			}
		}
	}
	return false
}

// leastWeb makes the least web exact: all of what there is, kept without the grooves that
// should go through and don't.
type leastWeb struct {
	*study
	all, kept *Web
	limit     float64 // what is searched for is less than that
}

// refine makes the least web exact. Where nothing is left and the grid shows no hole, the hole
// is added to s.pierced.
func (s *study) refine(all, kept *Web) {
	// Cells are rounded to 24 bits. Holes are looked for whatever the least.
	l := &leastWeb{s, all, kept, max(min(kept.Min, s.g.T)-rounding, throughSlack)}
	for side, list := range s.ways {
		for _, b := range list {
			l.tips(b, side)
		}
	}
	c := couple{solid: s.g.T}
	s.search(c, false, l.limit, func(m approach, k1, k2 *stroke) float64 {
		c.p, c.q = k1.p, k2.p
		x, y := c.amid(m, k1, k2, false)
		if !s.g.inBlank(x, y) {
			m.v, x, y = s.atEdge(k1, k2, x, y)
		}
		if math.IsInf(m.v, 1) || m.d > k1.p.R+k2.p.R+touching {
			return math.Inf(1)
		}
		return l.take(m.v, x, y, [2]*stroke{k1, k2})
	})
}

// tips looks at what each way of a cutter leaves alone.
func (l *leastWeb) tips(b *bundle, side int) {
	if l.g.T+b.deepest >= l.limit {
		return
	}
	for _, k := range b.ways {
		v := l.g.T + k.bottom()
		if v >= l.limit || l.g.shows(b.p) && k.flat() {
			continue
		}
		end := 0.0
		if k.kind == straight && k.slope < 0 {
			end = 1
		}
		made := [2]*stroke{}
		made[side] = k
		x, y, _ := k.place(end)
		l.take(v, x, y, made)
	}
}

// take takes what strokes leave at a place, and gives the limit from then on; infinite where it
// isn't a web, or one of the grooves.
func (l *leastWeb) take(v, x, y float64, made [2]*stroke) float64 {
	if v <= throughSlack {
		l.deepen(v, x, y)
	}
	if !l.g.inBlank(x, y) || l.nearThrough(x, y, func(p int) bool { return l.meant[p] || v <= throughSlack }) {
		return math.Inf(1)
	}
	at := between(x, y, made)
	l.all.lower(v, at)
	if i, j := l.g.cellAt(x, y); l.falls(min(i, l.g.NX-1), min(j, l.g.NY-1)) {
		return math.Inf(1)
	}
	l.kept.lower(v, at)
	if v <= throughSlack {
		l.pierce(v, at, made)
	}
	l.limit = max(min(l.limit, v), throughSlack)
	return l.limit
}

// deepen notes by how much the cuts overlap in an island that is no recognised cut.
func (s *study) deepen(v, x, y float64) {
	s.nearThrough(x, y, func(label int) bool {
		if p := s.patches[label]; p.kind == "" {
			p.overlap = max(p.overlap, -v)
		}
		return false
	})
}

// between gives a place with the lines of the strokes, one of each side or of one, that leave
// the least there.
func between(x, y float64, made [2]*stroke) Spot {
	at := Spot{X: x, Y: y}
	for side, k := range made {
		if k != nil {
			at.setLine(side, int(k.line))
		}
	}
	return at
}

// rounding is what 24 bits may take off the sum of two depths, mm (8 m each).
const rounding = 1e-5

// least makes the web exact with the errors taken off, and finds the least wall between
// the cuts of the two sides, below limit.
func (s *study) least(c couple, sideways bool, w *Web, limit float64) {
	limit = min(limit, s.g.T)
	s.search(c, sideways, limit, func(m approach, k1, k2 *stroke) float64 {
		x, y := c.amid(m, k1, k2, sideways)
		if !s.g.inBlank(x, y) || s.nearThrough(x, y, func(l int) bool { return s.meant[l] }) {
			return math.Inf(1)
		}
		if sideways {
			if !s.stands(&c, m, k1, k2, x, y) {
				return math.Inf(1)
			}
		} else if m.d > k1.p.R+k2.p.R+c.miss+touching {
			return math.Inf(1)
		}
		*w = Web{true, m.v, between(x, y, [2]*stroke{k1, k2})}
		return m.v
	})
}

// stands says whether m is a wall: the two surfaces are apart in plan, wood stands in its
// middle where cells can tell, and no less is left there up and down.
func (s *study) stands(c *couple, m approach, k1, k2 *stroke, x, y float64) bool {
	g := s.g
	c.p, c.q = k1.p, k2.p
	v, cover := c.wall(m.z1+m.z2, m.d)
	d := max(0, m.d-c.miss)
	if d-cover <= touching {
		return false
	}
	_, a := c.gap(cover)
	for n := range 3 {
		// Where the face's surface ends, the middle, where the back's begins.
		t := ratio(a+(d-cover)*float64(n)/2, m.d)
		i, j := g.cellAt(m.x1+(m.x2-m.x1)*t, m.y1+(m.y2-m.y1)*t)
		if g.inside(i, j) && g.Web(i, j)-(g.T-c.solid) <= v {
			return false
		}
	}
	if d-cover > 3*g.Cell {
		i, j := g.cellAt(x, y)
		mid := (g.T + m.z1 + k1.p.height(a) - m.z2 - k2.p.height(cover-a)) / 2
		if g.inside(i, j) && (g.Face(i, j) <= mid || g.Back(i, j) >= mid) {
			return false
		}
	}
	return true
}
