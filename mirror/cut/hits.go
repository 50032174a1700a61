package cut

import (
	"cmp"
	"math"
	"slices"
)

// Slack of the checks on material, mm. Depths are held to 24 bits (under 0.00001
// mm for 100 mm) and helices run within maxSag of their chords, so that a cutter
// that goes back the way it came stays within a few thousandths.
const clashSlack = 0.01

// check looks at the material that stroke k is about to meet in one tile: a rapid
// must meet none, and nothing may reach the shank. The outermost half cell of the
// reach is left out, since a wall's place is known no better.
func (w *worker) check(t *tile, x0, y0 float64, k *stroke, a act) {
	if a.rapid {
		w.meet(t, x0, y0, k, false)
	}
	if a.shank != nil {
		above := *k
		above.p = a.shank
		above.z += a.flute
		w.meet(t, x0, y0, &above, true)
	}
}

// meet records the place in the tile where the material stands highest over the
// surface of k.
func (w *worker) meet(t *tile, x0, y0 float64, k *stroke, shank bool) {
	if k.bottom() >= 0 {
		return
	}
	cell := w.g.Cell
	reach := k.p.R - cell/2
	xa, ya, xb, yb := k.box()
	span := func(lo, hi float64) (int, int) {
		return int(math.Max(0, math.Floor((lo-k.p.R)/cell))), int(math.Min(tileSize-1, math.Floor((hi+k.p.R)/cell)))
	}
	i0, i1 := span(xa-x0, xb-x0)
	j0, j1 := span(ya-y0, yb-y0)
	found := hit{}
	for j := j0; j <= j1; j++ {
		y := y0 + (float64(j)+0.5)*cell
		if y > w.g.H {
			break
		}
		for i := i0; i <= i1; i++ {
			x := x0 + (float64(i)+0.5)*cell
			if x > w.g.W {
				break
			}
			h := float64(t.h[w.side][j*tileSize+i])
			// The wood ends at the bed, and for the back at what the face has cut.
			under := -w.g.T
			if w.side == backSide {
				under -= float64(t.h[faceSide][j*tileSize+i])
			}
			if h <= under+throughSlack {
				continue // cut through already
			}
			if d, _, _ := k.near(x, y); d > reach {
				continue
			}
			s, ok := k.surface(x, y)
			if !ok || s >= h-clashSlack {
				continue
			}
			if n := (hit{depth: h - max(s, under), x: x, y: y}); n.worse(found) {
				found = n
			}
		}
	}
	if key := (hitKey{shank, int(k.line)}); found.worse(w.hits[key]) {
		w.hits[key] = found
	}
}

// hitKey and hit say that a line met material it should not have, at rapid or with its
// shank, and its worst place.
type hitKey struct {
	shank bool
	line  int
}

type hit struct {
	depth, x, y float64
}

// worse orders hits: deeper, then nearer, then farther left.
func (h hit) worse(o hit) bool {
	if c := cmp.Compare(h.depth, o.depth); c != 0 {
		return c > 0
	}
	if c := cmp.Compare(h.y, o.y); c != 0 {
		return c < 0
	}
	return h.x < o.x
}

// hitKeys gives the hits of one kind by line.
func (s *sweeper) hitKeys(shank bool) (keys []hitKey) {
	for k := range s.hits {
		if k.shank == shank {
			keys = append(keys, k)
		}
	}
	slices.SortFunc(keys, func(a, b hitKey) int { return cmp.Compare(a.line, b.line) })
	return keys
}

// finder gathers the findings of a side: for each code and object the worst, with how
// many lines there are.
type finder []Finding

// add records f, which is on a line of the side.
func (d *finder) add(f Finding) {
	at := f.At()
	at.last = max(at.FaceLine, at.BackLine)
	for i, o := range *d {
		had := o.At()
		if o.Code() != f.Code() || o.object() != f.object() {
			continue
		}
		n, last := had.Count, at.last
		if had.last != last {
			n++
		}
		if cmp.Or(cmp.Compare(f.amount(), o.amount()), cmp.Compare(at.Depth, had.Depth)) > 0 {
			(*d)[i] = f
		} else {
			at = had
		}
		at.Count, at.last = n, last
		return
	}
	*d = append(*d, f)
}

// drop takes findings back.
func (d *finder) drop(wrong func(f Finding) bool) { *d = slices.DeleteFunc(*d, wrong) }

// maxListed is how many lines of a kind of hit are listed one by one.
const maxListed = 20

// hits gives the findings of a side: the gathered ones and those that the sweep
// met in the material, the first few lines of each kind.
func (r *run) hits() []Finding {
	shanks := slices.DeleteFunc(r.sw.hitKeys(true), func(k hitKey) bool {
		c := r.toolAt(k.line)
		if c.Flute == 0 { // no more than a note, so the worst alone is told
			r.found.add(&VeeOverCone{r.met(k), c.reach})
		}
		return c.Flute == 0
	})
	out := slices.Clone(r.found)
	list := func(keys []hitKey, kind func(k hitKey, at Where) Finding) {
		for n, k := range keys[:min(len(keys), maxListed)] {
			at := r.met(k)
			if n == 0 {
				at.Count = len(keys)
			}
			out = append(out, kind(k, at))
		}
	}
	list(r.sw.hitKeys(false), func(_ hitKey, at Where) Finding { return &RapidInStock{at} })
	list(shanks, func(k hitKey, at Where) Finding { return &ShankInStock{at, r.toolAt(k.line).Flute} })
	return out
}

// met gives where a line met material.
func (r *run) met(k hitKey) Where {
	h := r.sw.hits[k]
	w := onSide(r.side, Spot{X: h.x, Y: h.y}, k.line)
	w.Depth = h.depth
	return w
}

// onLine is where a line cuts at a place that isn't known.
func (r *run) onLine(line int) Where {
	w := onSide(r.side, Spot{}, line)
	w.Placed = false
	return w
}
