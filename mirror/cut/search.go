package cut

import (
	"cmp"
	"math"
	"slices"
)

// The grid knows a height at the centre of each cell. A vee's groove is deepest between
// centres, so the least web is looked for again between the strokes themselves, exactly
// (see couple). So that not every stroke is held against every other, the strokes are put
// into blocks of the blank by their ways; two blocks whose deepest tips couldn't leave less
// than what has been found are passed over.

// thinnest is what the search for the least web works with.
type thinnest struct {
	stretches [2][][]stretch // by side and kept stroke: where it belongs to a cut meant to go through
	ways      [2][]*bundle   // all else that was cut, by cutter
	pierced   []Island       // holes too small for the cells
	piercing  [][2]*stroke   // the strokes that make each
	most      int            // how many pairs of strokes are held against each other in one search
	unheld    float64        // what those beyond it leave at least, infinite where there are none
}

// bundle is the ways of one side that one cutter went, those left out that belong to
// cuts meant to go through.
type bundle struct {
	p       *profile
	ways    []*stroke
	deepest float64
	blocks  map[float64]*squares // by size
}

// bundles sorts a side's strokes by cutter.
func (s *study) bundles(side int) []*bundle {
	r := s.runs[side]
	by := map[*profile]*bundle{}
	var out []*bundle
	add := func(k *stroke) {
		x0, y0, x1, y1 := k.box()
		R := k.p.R
		if x0 > s.g.W+R || y0 > s.g.H+R || x1 < -R || y1 < -R {
			return
		}
		b := by[k.p]
		if b == nil {
			b = &bundle{p: k.p, blocks: map[float64]*squares{}}
			by[k.p] = b
			out = append(out, b)
		}
		b.ways = append(b.ways, k)
		b.deepest = min(b.deepest, k.bottom())
	}
	for n := range r.kept {
		k := &r.kept[n]
		if len(s.stretches[side]) == 0 || len(s.stretches[side][n]) == 0 {
			add(k)
			continue
		}
		slack := 1.0
		if way := k.way(); way > 0 {
			slack = s.pace(k) / way
		}
		from := 0.0
		list := slices.Clone(s.stretches[side][n])
		slices.SortFunc(list, func(a, b stretch) int { return cmp.Compare(a.from, b.from) })
		for _, p := range append(list, stretch{from: 1 + slack, to: 1 + slack}) {
			if to := p.from - slack; to > from {
				part := k.part(from, min(to, 1))
				add(&part)
			}
			from = max(from, p.to+slack)
		}
	}
	for n := range r.light {
		add(&r.light[n])
	}
	return out
}

// squares is a blank and a margin around it in squares, with the ways that pass through
// each or within a quarter of its size of it, and the deepest tip there.
type squares struct {
	size, margin float64
	nx, ny       int
	deepest      []float64
	head         []int32
	links        []link
}

// in gives a bundle's blocks of a size.
func (b *bundle) in(g *Grid, size float64) *squares {
	if have := b.blocks[size]; have != nil {
		return have
	}
	n := &squares{size: size, margin: size * math.Ceil(b.p.R/size)}
	n.nx, n.ny = int(math.Ceil((g.W+2*n.margin)/size)), int(math.Ceil((g.H+2*n.margin)/size))
	n.deepest = make([]float64, n.nx*n.ny)
	n.head = make([]int32, n.nx*n.ny)
	for i := range n.head {
		n.head[i] = -1
	}
	for id, k := range b.ways {
		way := k.way()
		steps := max(1, int(math.Ceil(way/(size/2))))
		if way == 0 {
			steps = 0
		}
		for m := range steps + 1 {
			x, y, z := k.place(ratio(float64(m), float64(steps)))
			z = max(k.bottom(), z-math.Abs(k.slope)*size/4)
			i, j := int(math.Floor((x+n.margin)/size)), int(math.Floor((y+n.margin)/size))
			if i < 0 || j < 0 || i >= n.nx || j >= n.ny {
				continue
			}
			c := j*n.nx + i
			n.deepest[c] = min(n.deepest[c], z)
			if h := n.head[c]; h < 0 || n.links[h].stroke != int32(id) {
				n.links = append(n.links, link{int32(id), h})
				n.head[c] = int32(len(n.links) - 1)
			}
		}
	}
	b.blocks[size] = n
	return n
}

// maxPairs bounds the pairs of strokes that are held against each other in one search,
// some seconds.
const maxPairs = 20_000_000

// search looks for the least that value leaves between ways of both sides, below limit.
// It gives every candidate that is less than the least so far to take, which says what
// the least is from then on. Once s.most pairs are held, the blocks not looked at go into
// s.unheld, with the least that their strokes could leave.
func (s *study) search(aim couple, sideways bool, limit float64, take func(m approach, k1, k2 *stroke) float64) {
	g := s.g
	c := &aim
	value := c.web
	if sideways {
		value = func(z, d float64) float64 { v, _ := c.wall(z, d); return v }
	}
	budget := s.most
	for _, f := range s.ways[faceSide] {
	backs:
		for _, b := range s.ways[backSide] {
			c.p, c.q = f.p, b.p
			if c.solid+f.deepest+b.deepest >= limit {
				continue
			}
			seen := !sideways && g.shows(f.p) && g.shows(b.p)
			reach := f.p.R + b.p.R
			// Blocks an eighth of that, but no more than 65536, in powers of two.
			size := math.Exp2(math.Ceil(math.Log2(max(reach/8, math.Sqrt(g.W*g.H)/256))))
			fb, bb := f.in(g, size), b.in(g, size)
			most := reach + aim.miss + touching
			if sideways {
				most += limit
			}
			for _, t := range c.twins(fb, bb, most, limit, sideways, value) {
				if t.v >= limit {
					break
				}
				if budget < 0 {
					s.unheld = min(s.unheld, t.v) // the others leave more
					break
				}
				for n := fb.head[t.i]; n >= 0; n = fb.links[n].next {
					k1 := f.ways[fb.links[n].stroke]
					if c.solid+k1.bottom()+bb.deepest[t.j] >= limit {
						continue
					}
					for n := bb.head[t.j]; n >= 0; n = bb.links[n].next {
						k2 := b.ways[bb.links[n].stroke]
						low := k1.bottom() + k2.bottom()
						if c.solid+low >= limit || value(low, t.d) >= limit {
							continue
						}
						if budget--; budget < 0 {
							s.unheld = min(s.unheld, t.v)
							continue backs
						}
						if k1.kind == straight && k2.kind == straight {
							t1, t2 := nearest(k1, k2)
							x1, y1 := k1.along(t1)
							x2, y2 := k2.along(t2)
							d := math.Hypot(x2-x1, y2-y1)
							// Flat ends that overlap by a cell's diagonal do so over the centre
							// of a cell, which has shown it.
							if value(low, d) >= limit || seen && k1.flat() && k2.flat() && d < reach-math.Sqrt2*g.Cell {
								continue
							}
							if !sideways && !(k1.flat() && k2.flat()) && c.floor(k1, k2) >= limit {
								continue
							}
						}
						if m := closest(k1, k2, value); m.v < limit {
							limit = min(limit, take(m, k1, k2))
						}
					}
				}
			}
		}
	}
}

// twin is a block of each side, how far apart their places are at least, and the least that
// their strokes could leave.
type twin struct {
	i, j int
	d, v float64
}

// twins gives the blocks of both sides, at most most apart, that could leave less than limit;
// those that could leave least come first.
func (c *couple) twins(fb, bb *squares, most, limit float64, sideways bool, value func(z, d float64) float64) (out []twin) {
	size := fb.size
	type away struct {
		di, dj int
		d, v   float64 // v is what the shapes of the two cutters leave at d
	}
	n := int(math.Ceil(most/size)) + 1
	var around []away // what lies off, the nearest first
	for dj := -n; dj <= n; dj++ {
		for di := -n; di <= n; di++ {
			off := func(d int) float64 { return max(0, (math.Abs(float64(d))-1)*size-size/2) }
			if d := math.Hypot(off(di), off(dj)); d <= most {
				around = append(around, away{di, dj, d, value(-c.solid, d)})
			}
		}
	}
	slices.SortFunc(around, func(a, b away) int { return cmp.Compare(a.d, b.d) })
	shift := int(math.Round((bb.margin - fb.margin) / size))
	deepest := slices.Min(bb.deepest)
	for i, z := range fb.deepest {
		if fb.head[i] < 0 || c.solid+z+deepest >= limit {
			continue
		}
		x, y := i%fb.nx, i/fb.nx
		for _, o := range around {
			if !sideways && c.solid+z+deepest+o.v >= limit {
				break // and all that lies farther off
			}
			bx, by := x+o.di+shift, y+o.dj+shift
			if bx < 0 || by < 0 || bx >= bb.nx || by >= bb.ny {
				continue
			}
			j := by*bb.nx + bx
			if bb.head[j] < 0 || c.solid+z+bb.deepest[j] >= limit {
				continue
			}
			if v := value(z+bb.deepest[j], o.d); v < limit {
				out = append(out, twin{i, j, o.d, v})
			}
		}
	}
	slices.SortFunc(out, func(a, b twin) int {
		return cmp.Or(cmp.Compare(a.v, b.v), cmp.Compare(a.i, b.i), cmp.Compare(a.j, b.j))
	})
	return out
}

// amid gives the place between the two of m, each given the share of the distance that
// its surface covers: for a web where both surfaces stand over each other, for a wall in
// the middle of it.
func (c *couple) amid(m approach, k1, k2 *stroke, sideways bool) (x, y float64) {
	c.p, c.q = k1.p, k2.p
	share := 0.0
	if d := max(0, m.d-c.miss); d > 0 {
		s := d
		if sideways {
			_, s = c.wall(m.z1+m.z2, m.d)
		}
		_, a := c.gap(s)
		share = (a + (d-s)/2) / m.d
	}
	return m.x1 + (m.x2-m.x1)*share, m.y1 + (m.y2-m.y1)*share
}

// shows says whether the grid knows what a cutter leaves on a level way: a flat end at
// least as wide as a cell's diagonal, so that there always is a cell's centre under it.
func (g *Grid) shows(p *profile) bool { return p.flat >= p.R && 2*p.R >= math.Sqrt2*g.Cell }

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
		const steps = 64
		lo, hi := max(0, at-reach), min(end, at+reach)
		f := func(u float64) float64 { return left(place(u)) }
		best, least := 0, math.Inf(1)
		for n := range steps + 1 {
			if w := f(lo + (hi-lo)*float64(n)/steps); w < least {
				best, least = n, w
			}
		}
		step := (hi - lo) / steps
		if u, w := golden(max(lo, lo+float64(best-1)*step), min(hi, lo+float64(best+1)*step), f); w < v {
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

// refine makes the least web exact: w of all there is, kept without the grooves that
// should go through and don't. Where nothing is left and the grid shows no hole, the hole
// is added to s.pierced.
func (s *study) refine(w, kept *Web) {
	// Cells are rounded to 24 bits. Holes are looked for whatever the least.
	limit := max(min(kept.Min, s.g.T)-rounding, throughSlack)
	deeper := func(v, x, y float64) {
		if v > throughSlack {
			return
		}
		s.nearThrough(x, y, func(l int) bool {
			for _, p := range s.patches {
				if p.label == l && p.kind == "" {
					p.overlap = max(p.overlap, -v)
				}
			}
			return false
		})
	}
	put := func(v float64, at Spot) bool {
		x, y := at.X, at.Y
		deeper(v, x, y)
		if !s.g.inBlank(x, y) || s.nearThrough(x, y, func(l int) bool { return s.meant[l] || v <= throughSlack }) {
			return false
		}
		note := func(w *Web) {
			if v < w.Min {
				*w = Web{true, v, at}
			}
		}
		note(w)
		if i, j := s.g.cellAt(x, y); s.falls(min(i, s.g.NX-1), min(j, s.g.NY-1)) {
			return false
		}
		note(kept)
		return true
	}
	next := func(v float64) float64 {
		limit = max(min(limit, v), throughSlack)
		return limit
	}
	for side, list := range s.ways {
		for _, b := range list {
			if s.g.T+b.deepest >= limit {
				continue
			}
			for _, k := range b.ways {
				v := s.g.T + k.bottom()
				if v >= limit || s.g.shows(b.p) && k.flat() {
					continue
				}
				end := 0.0
				if k.kind == straight && k.slope < 0 {
					end = 1
				}
				made := [2]*stroke{}
				made[side] = k
				x, y, _ := k.place(end)
				if at := between(x, y, made); put(v, at) {
					next(v)
					if v <= throughSlack {
						s.pierce(v, at, made)
					}
				}
			}
		}
	}
	c := couple{solid: s.g.T}
	s.search(c, false, limit, func(m approach, k1, k2 *stroke) float64 {
		c.p, c.q = k1.p, k2.p
		x, y := c.amid(m, k1, k2, false)
		if !s.g.inBlank(x, y) {
			m.v, x, y = s.atEdge(k1, k2, x, y)
		}
		made := [2]*stroke{k1, k2}
		at := between(x, y, made)
		if math.IsInf(m.v, 1) || m.d > k1.p.R+k2.p.R+touching || !put(m.v, at) {
			return math.Inf(1)
		}
		if m.v <= throughSlack {
			s.pierce(m.v, at, made)
		}
		return next(m.v)
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

// pierce adds a hole that no cell shows, made by a stroke of each side or of one.
func (s *study) pierce(v float64, at Spot, made [2]*stroke) {
	x, y := at.X, at.Y
	for n := range s.pierced {
		p := &s.pierced[n]
		if !s.joined(s.piercing[n], x, y) && !s.joined(made, p.X, p.Y) {
			continue
		}
		if -v > p.Overlap {
			p.Overlap, p.X, p.Y = -v, x, y
		}
		return
	}
	// Its size, from places around that get farther apart until it lies among them.
	const n = 40
	area, apart := 0.0, s.g.Cell/n
	for range 8 {
		count, edge := 0, false
		for j := -n; j <= n; j++ {
			for i := -n; i <= n; i++ {
				if s.joined(made, x+float64(i)*apart, y+float64(j)*apart) {
					count++
					edge = edge || i == -n || i == n || j == -n || j == n
				}
			}
		}
		area = float64(count) * apart * apart
		if !edge {
			break
		}
		apart *= 2
	}
	s.pierced, s.piercing = append(s.pierced, Island{Spot: at, Area: area, Overlap: max(0, -v)}), append(s.piercing, made)
}

// joined says whether a place lies in the hole that strokes make.
func (s *study) joined(made [2]*stroke, x, y float64) bool {
	left := s.g.T
	for _, k := range made {
		if k == nil {
			continue
		}
		h, ok := k.surface(x, y)
		if !ok {
			return false
		}
		left += h
	}
	return left <= throughSlack
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
