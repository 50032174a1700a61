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

// maxPairs bounds the pairs of strokes that are held against each other in one search,
// some seconds.
const maxPairs = 20_000_000

// hunt is a search for the least that value leaves between ways of both sides, below limit. It
// gives every candidate that is less than the least so far to take, which says what the least
// is from then on. Once budget pairs are held, the blocks not looked at go into study.unheld,
// with the least that their strokes could leave.
type hunt struct {
	*study
	c        couple
	sideways bool
	value    func(z, d float64) float64
	limit    float64
	take     func(m approach, k1, k2 *stroke) float64
	budget   int
}

// search holds all cutters of the face against all of the back.
func (s *study) search(aim couple, sideways bool, limit float64, take func(m approach, k1, k2 *stroke) float64) {
	h := &hunt{study: s, c: aim, sideways: sideways, limit: limit, take: take, budget: s.most}
	h.value = h.c.web
	if sideways {
		h.value = func(z, d float64) float64 { v, _ := h.c.wall(z, d); return v }
	}
	for _, f := range s.ways[faceSide] {
		for _, b := range s.ways[backSide] {
			h.bundles(f, b)
		}
	}
}

// bundles holds the ways of two cutters against each other, those first that could leave least.
func (h *hunt) bundles(f, b *bundle) {
	c, g := &h.c, h.g
	c.p, c.q = f.p, b.p
	if c.solid+f.deepest+b.deepest >= h.limit {
		return
	}
	reach := f.p.R + b.p.R
	// Blocks an eighth of that, but no more than 65536, in powers of two.
	size := math.Exp2(math.Ceil(math.Log2(max(reach/8, math.Sqrt(g.W*g.H)/256))))
	fb, bb := f.in(g, size), b.in(g, size)
	most := reach + c.miss + touching
	if h.sideways {
		most += h.limit
	}
	for _, t := range h.twins(fb, bb, most) {
		if t.v >= h.limit {
			return
		}
		for _, id := range slices.Backward(fb.ids[t.i]) {
			k1 := f.ways[id]
			if c.solid+k1.bottom()+bb.deepest[t.j] >= h.limit {
				continue
			}
			for _, id := range slices.Backward(bb.ids[t.j]) {
				k2 := b.ways[id]
				low := k1.bottom() + k2.bottom()
				if c.solid+low >= h.limit || h.value(low, t.d) >= h.limit {
					continue
				}
				if h.budget--; h.budget < 0 {
					h.unheld = min(h.unheld, t.v) // the others leave more
					return
				}
				if h.over(k1, k2, low) {
					continue
				}
				if m := closest(k1, k2, h.value); m.v < h.limit {
					h.limit = min(h.limit, h.take(m, k1, k2))
				}
			}
		}
	}
}

// over says of straight ways, without looking for their closest places, that they leave no less
// than the limit, or nothing that the cells don't show. low is the sum of their tips' heights.
func (h *hunt) over(k1, k2 *stroke, low float64) bool {
	if k1.kind != straight || k2.kind != straight {
		return false
	}
	t1, t2 := nearest(k1, k2)
	x1, y1 := k1.along(t1)
	x2, y2 := k2.along(t2)
	d := math.Hypot(x2-x1, y2-y1)
	if h.value(low, d) >= h.limit {
		return true
	}
	if h.sideways {
		return false
	}
	if !k1.flat() || !k2.flat() {
		return h.c.floor(k1, k2) >= h.limit
	}
	// Flat ends that overlap by a cell's diagonal do so over the centre of a cell.
	return h.g.shows(k1.p) && h.g.shows(k2.p) && d < k1.p.R+k2.p.R-math.Sqrt2*h.g.Cell
}

// twin is a block of each side, how far apart their places are at least, and the least that
// their strokes could leave.
type twin struct {
	i, j int
	d, v float64
}

// twins gives the blocks of both sides, at most most apart, that could leave less than limit;
// those that could leave least come first.
func (h *hunt) twins(fb, bb *squares, most float64) (out []twin) {
	size, c, limit := fb.size, &h.c, h.limit
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
				around = append(around, away{di, dj, d, h.value(-c.solid, d)})
			}
		}
	}
	slices.SortFunc(around, func(a, b away) int { return cmp.Compare(a.d, b.d) })
	shift := int(math.Round((bb.margin - fb.margin) / size))
	deepest := slices.Min(bb.deepest)
	for i, z := range fb.deepest {
		if len(fb.ids[i]) == 0 || c.solid+z+deepest >= limit {
			continue
		}
		x, y := i%fb.nx, i/fb.nx
		for _, o := range around {
			if !h.sideways && c.solid+z+deepest+o.v >= limit {
				break // and all that lies farther off
			}
			bx, by := x+o.di+shift, y+o.dj+shift
			if bx < 0 || by < 0 || bx >= bb.nx || by >= bb.ny {
				continue
			}
			j := by*bb.nx + bx
			if len(bb.ids[j]) == 0 || c.solid+z+bb.deepest[j] >= limit {
				continue
			}
			if v := h.value(z+bb.deepest[j], o.d); v < limit {
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
