package cut

import (
	"math"
	"slices"
)

// worker works tiles, one at a time.
type worker struct {
	g    *Grid
	side int
	hits []keyedHit

	ids  []int32
	list [blocks][]entry
	keep []entry
	sub  []entry
}

// entry is a stroke with a plane under the surface that it leaves in a block:
// f at the block's centre, rising by gx and gy. whole says that it cuts all cells.
type entry struct {
	f, gx, gy float32
	at        float32 // scratch
	bx, by    float32 // a ball's bend: its surface lies (bx y - by x)^2 or more over the plane, x and y from the centre
	id        int32
	whole     bool
}

// floor gives a bound from below, over all cells of a square whose outer centres are
// half away from its centre along X and Y, of e's surface less a plane through the
// centre that rises by gx and gy.
func (e *entry) floor(gx, gy, half float32) float32 {
	return e.f - half*(abs(e.gx-gx)+abs(e.gy-gy))
}

func abs(v float32) float32 { return math.Float32frombits(math.Float32bits(v) &^ (1 << 31)) }

// tile works one tile of a batch.
func (w *worker) tile(b *batch, n int) {
	w.ids = w.ids[:0]
	for l := b.head[n]; l >= 0; l = b.links[l].next {
		w.ids = append(w.ids, b.links[l].stroke)
	}
	slices.Reverse(w.ids)
	t := w.g.tiles[n]
	if t == nil {
		t = new(tile)
		w.g.tiles[n] = t
	}
	size := float64(tileSize) * w.g.Cell
	x, y := float64(n%w.g.tx)*size, float64(n/w.g.tx)*size
	for i := 0; i < len(w.ids); {
		id := w.ids[i]
		if b.acts[id].checks() {
			w.check(t, x, y, &b.strokes[id], b.acts[id])
			w.run(t, x, y, b.strokes, w.ids[i:i+1])
			i++
			continue
		}
		j := i + 1
		for j < len(w.ids) && j-i < maxRun && !b.acts[w.ids[j]].checks() {
			j++
		}
		w.run(t, x, y, b.strokes, w.ids[i:j])
		i = j
	}
}

// under gives a plane under the surface that k leaves on the places within rho of
// (x, y). ok is false where it reaches none of them.
//
// The surface that a straight move leaves is convex, as the cutter and its way
// are, so it lies over its tangent plane. By the envelope theorem the tangent
// rises as the cutter's shape does from the axis that cuts (x, y). Where (x, y) is
// out of reach, near the rim, or by an arc, a level plane serves: the lowest tip
// nearby, raised by the shape's rise up to the nearest place.
func (k *stroke) under(x, y, rho float64, e *entry) (ok bool) {
	p := k.p
	x -= k.x
	y -= k.y
	if p.flat == 0 && p.r > 0 && k.kind == straight {
		return k.underBall(x, y, rho, e)
	}
	var d, z, a, q, t float64
	if k.kind == levelArc {
		d, z = k.nearArc(x, y), k.z
	} else {
		a = x*k.ux + y*k.uy
		q = x*k.uy - y*k.ux
		if a > 0 {
			t = a
			if t > k.length {
				t = k.length
			}
		}
		d = math.Sqrt(q*q + (a-t)*(a-t))
		z = k.z + k.slope*t
	}
	reach := p.R + rho
	if d >= reach {
		return false
	}
	e.whole = d+rho <= p.R
	if k.kind == straight && k.tangent(x, y, a, q, t, d, e) {
		return true
	}
	if k.slope < 0 {
		z = k.z + k.slope*min(k.length, a+reach)
	} else if k.slope > 0 {
		z = k.z + k.slope*max(0, a-reach)
	}
	e.f, e.gx, e.gy = float32(z+p.low(d-rho)-k.slack), 0, 0
	return true
}

// tangent gives the tangent plane of a straight move's surface at (x, y) from its start: a along
// it and q across, d from its nearest place t. ok is false where the cutter is too steep, towards
// its rim.
func (k *stroke) tangent(x, y, a, q, t, d float64, e *entry) (ok bool) {
	p := k.p
	if d >= p.R || p.r > 0 && d >= p.flat+0.95*p.r || p.flat >= p.R && k.slope != 0 {
		return false
	}
	if k.slope != 0 {
		// The place that cuts lowest lies further down the slope.
		w := p.ahead(math.Abs(q), math.Abs(k.slope), math.Sqrt(p.R*p.R-q*q))
		if k.slope > 0 {
			w = -w
		}
		t = min(max(a+w, 0), k.length)
		d = math.Sqrt(q*q + (a-t)*(a-t))
	}
	c := d - p.flat
	if d > p.R || p.r > 0 && c >= 0.97*p.r {
		return false
	}
	var h, rise float64
	switch {
	case c <= 0:
	case p.r > 0:
		root := math.Sqrt(p.r*p.r - c*c)
		h, rise = p.r-root, c/root/d
	default:
		h, rise = p.k*c, p.k/d
	}
	e.f, e.gx, e.gy = float32(k.z+k.slope*t+h-k.slack), float32(rise*(x-k.ux*t)), float32(rise*(y-k.uy*t))
	return true
}

// underBall is under for a ball's straight move, at (x, y) from its start: the ball's
// surface at distance d from the axis is R - sqrt(R^2-d^2) and rises by d over that
// root.
func (k *stroke) underBall(x, y, rho float64, e *entry) (ok bool) {
	R := k.p.R
	a, q := x*k.ux+y*k.uy, x*k.uy-y*k.ux
	t := a
	if a < 0 {
		t = 0
	} else if a > k.length {
		t = k.length
	}
	q2 := q * q
	d2 := q2 + (a-t)*(a-t)
	if d2 >= (R+rho)*(R+rho) {
		return false
	}
	e.whole = d2 <= (R-rho)*(R-rho) && R > rho
	if g := R*R - q2; g > 0 {
		// Not math.Sqrt(g): a root that can take the place of its square is faster.
		half := math.Sqrt(g)
		w := k.lead * half
		if k.slope > 0 {
			w = -w
		}
		t := a + w
		if t < 0 {
			t = 0
		} else if t > k.length {
			t = k.length
		}
		// Beyond 0.97 R the side is too steep for its tangent to tell much.
		if g := half*half - (a-t)*(a-t); g > 0.06*R*R {
			root := math.Sqrt(g)
			inv := 1 / root
			e.f, e.gx, e.gy = float32(k.z+k.slope*t+R-root-k.slack), float32((x-k.ux*t)*inv), float32((y-k.uy*t)*inv)
			return true
		}
	}
	d := math.Sqrt(d2)
	low := k.z
	if k.slope > 0 {
		low += k.slope * max(0, a-R-rho)
	} else {
		low += k.slope * min(k.length, a+R+rho)
	}
	e.f, e.gx, e.gy = float32(low+k.p.low(d-rho)-k.slack), 0, 0
	return true
}

// run cuts the strokes ids, in any order, into the tile whose corner is (x0, y0).
func (w *worker) run(t *tile, x0, y0 float64, strokes []stroke, ids []int32) {
	cell := w.g.Cell
	side := blockSize * cell
	rho := (blockSize - 1) / 2.0 * cell * math.Sqrt2
	for b := range blocks {
		w.list[b] = w.list[b][:0]
	}
	span := func(lo, hi float64) (int, int) {
		return max(0, int(math.Floor(lo/side))), int(min(perSide-1, math.Floor(hi/side)))
	}
	for _, id := range ids {
		k := &strokes[id]
		xa, ya, xb, yb := k.box()
		i0, i1 := span(max(-side, xa-x0-k.p.R), xb-x0+k.p.R)
		j0, j1 := span(max(-side, ya-y0-k.p.R), yb-y0+k.p.R)
		e := entry{id: id}
		if k.p.flat == 0 && k.p.r > 0 && k.kind == straight {
			w.spread(k, id, x0, y0, side, rho, i0, i1, j0, j1)
			continue
		}
		for j := j0; j <= j1; j++ {
			cy := y0 + (float64(j)+0.5)*side
			for i := i0; i <= i1; i++ {
				if k.under(x0+(float64(i)+0.5)*side, cy, rho, &e) {
					b := j*perSide + i
					w.list[b] = append(w.list[b], e)
				}
			}
		}
	}
	for b := range blocks {
		if len(w.list[b]) > 0 {
			w.block(t, x0, y0, strokes, b)
		}
	}
}

// spread lists a ball's straight move in the blocks that it reaches. The ball's
// surface R - sqrt(R^2-d^2) lies over the paraboloid d^2/2R, whose sweep has a plane
// under it without a root: it is lowest m R down the slope from the nearest place.
func (w *worker) spread(k *stroke, id int32, x0, y0, side, rho float64, i0, i1, j0, j1 int) {
	R := k.p.R
	inv := 1 / R
	m, length := k.slope, k.length
	out2 := (R + rho) * (R + rho)
	in2 := -1.0
	if R > rho {
		in2 = (R - rho) * (R - rho)
	}
	root := float32(1 / math.Sqrt(2*R))
	bx, by := float32(k.ux)*root, float32(k.uy)*root
	base := k.z - k.slack
	for j := j0; j <= j1; j++ {
		y := y0 + (float64(j)+0.5)*side - k.y
		for i := i0; i <= i1; i++ {
			x := x0 + (float64(i)+0.5)*side - k.x
			a, q := x*k.ux+y*k.uy, x*k.uy-y*k.ux
			t := min(max(a, 0), length)
			q2 := q * q
			d2 := q2 + (a-t)*(a-t)
			if d2 >= out2 {
				continue
			}
			t = min(max(a-m*R, 0), length)
			b := a - t
			n := j*perSide + i
			w.list[n] = append(w.list[n], entry{
				f:  float32(base + m*t + (q2+b*b)*inv/2),
				gx: float32((x - k.ux*t) * inv), gy: float32((y - k.uy*t) * inv),
				bx: bx, by: by, id: id, whole: d2 <= in2,
			})
		}
	}
}
