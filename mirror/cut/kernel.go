package cut

import (
	"math"
	"slices"
)

// A tile is worked in blocks of blockSize cells a side, and those in quarters.
// For each stroke a block first gets two bounds of the surface it would leave
// there; only strokes that could still lower the block are worked out cell by
// cell. A relief passes every cell hundreds of times and lowers it a few times.
const (
	blockSize = 8
	quarter   = blockSize / 2
	perSide   = tileSize / blockSize
	blocks    = perSide * perSide

	// maxRun bounds the strokes sorted into blocks at once.
	maxRun = 4096
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

type keyedHit struct {
	key hitKey
	hit hit
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
	if k.kind == straight && d < p.R && (p.r == 0 || d < p.flat+0.95*p.r) {
		if p.flat >= p.R {
			if k.slope == 0 {
				e.f, e.gx, e.gy = float32(z-k.slack), 0, 0
				return true
			}
		} else {
			if k.slope != 0 {
				// The place that cuts lowest lies further down the slope.
				m := k.slope
				down := m < 0
				if down {
					m = -m
				}
				w := p.ahead(math.Abs(q), m, math.Sqrt(p.R*p.R-q*q))
				if down {
					t = a + w
				} else {
					t = a - w
				}
				if t < 0 {
					t = 0
				} else if t > k.length {
					t = k.length
				}
				d = math.Sqrt(q*q + (a-t)*(a-t))
				z = k.z + k.slope*t
			}
			if c := d - p.flat; p.r == 0 || c < 0.97*p.r && d < p.R {
				var h, rise float64
				switch {
				case c <= 0:
				case p.r > 0:
					root := math.Sqrt(p.r*p.r - c*c)
					h, rise = p.r-root, c/root
				default:
					h, rise = p.k*c, p.k
				}
				if d <= p.R {
					if rise != 0 {
						rise /= d
					}
					e.f, e.gx, e.gy = float32(z+h-k.slack), float32(rise*(x-k.ux*t)), float32(rise*(y-k.uy*t))
					return true
				}
			}
		}
	}
	if k.slope != 0 {
		t = 0
		if k.slope < 0 {
			t = k.length
			if a+reach < t {
				t = a + reach
			}
		} else if a-reach > 0 {
			t = a - reach
		}
		z = k.z + k.slope*t
		d, _, _ = k.near(x+k.x, y+k.y)
	}
	e.f, e.gx, e.gy = float32(z+p.low(d-rho)-k.slack), 0, 0
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

// lowest gives the place in list of the stroke that lies lowest at the centre,
// one that cuts the whole block before one that doesn't.
func lowest(list []entry) int {
	best := 0
	for n := 1; n < len(list); n++ {
		e, b := &list[n], &list[best]
		if e.whole == b.whole && e.f < b.f || e.whole && !b.whole {
			best = n
		}
	}
	return best
}

// block cuts the strokes listed for block b.
func (w *worker) block(t *tile, x0, y0 float64, strokes []stroke, b int) {
	cell := w.g.Cell
	base := (b/perSide)*blockSize*tileSize + (b%perSide)*blockSize
	bx := x0 + float64((b%perSide)*blockSize)*cell
	by := y0 + float64((b/perSide)*blockSize)*cell
	list := w.list[b]

	// Only those strokes count that could come below what is there and below what
	// the lowest of them leaves, all measured over that one's plane.
	first := lowest(list)
	best := list[first]
	k := &strokes[best.id]
	if best.whole && k.kind == straight && k.slope == 0 && k.p.flat == k.p.R {
		w.fill(t, base, k)
		if len(list) == 1 {
			return
		}
	}
	half := float32((blockSize - 1) / 2.0 * cell)
	limit := w.highest(t, base, best.gx, best.gy)
	if best.whole {
		limit = min(limit, k.corners(bx, by, cell, best.gx, best.gy))
	}
	w.keep = w.keep[:0]
	for n := range list {
		if n == first || list[n].floor(best.gx, best.gy, half) < limit {
			w.keep = append(w.keep, list[n])
		}
	}
	rho := (quarter - 1) / 2.0 * cell * math.Sqrt2
	half = float32((quarter - 1) / 2.0 * cell)
	for q := range 4 {
		qi, qj := (q%2)*quarter, (q/2)*quarter
		first := base + qj*tileSize + qi
		x, y := bx+float64(qi)*cell, by+float64(qj)*cell
		cx, cy := x+quarter/2*cell, y+quarter/2*cell

		// The planes under the whole block already bound the quarter, the more so with
		// their bend, which has a tangent there of its own. The stroke that promises to
		// lie lowest goes first, and few others remain.
		dx := float32(float64(qi-quarter/2) * cell)
		dy := float32(float64(qj-quarter/2) * cell)
		n, least := 0, float32(math.Inf(1))
		for m := range w.keep {
			e := &w.keep[m]
			bend := e.bx*dy - e.by*dx
			e.at = e.f + e.gx*dx + e.gy*dy + bend*bend
			if e.at < least && e.whole {
				n, least = m, e.at
			}
		}
		low := w.keep[n]
		if !strokes[low.id].under(cx, cy, rho, &low) {
			low.f, low.gx, low.gy = 0, 0, 0
		}
		v := patchwork{h: &t.h[w.side], line: &t.line[w.side], first: first, x: x, y: y, cell: cell, gx: low.gx, gy: low.gy}
		v.look()
		v.cut(&strokes[low.id], &low, true)
		w.sub = w.sub[:0]
		limit := v.highest()
		for m := range w.keep {
			e := &w.keep[m]
			bend := 2 * (e.bx*dy - e.by*dx)
			gx, gy := e.gx-bend*e.by-low.gx, e.gy+bend*e.bx-low.gy
			if e.at-half*(abs(gx)+abs(gy)) > limit || m == n {
				continue
			}
			e2 := entry{id: e.id}
			if strokes[e.id].under(cx, cy, rho, &e2) && e2.floor(low.gx, low.gy, half) < limit {
				w.sub = append(w.sub, e2)
			}
		}
		if len(w.sub) == 0 {
			continue
		}
		n = lowest(w.sub)
		v.cut(&strokes[w.sub[n].id], &w.sub[n], true)
		// The others are held against what these two left and not against each other:
		// a few more roots cost less than waiting for each.
		for m := range w.sub {
			if m != n {
				v.cut(&strokes[w.sub[m].id], &w.sub[m], false)
			}
		}
	}
}

// corners gives the greatest height of the surface that k leaves in the block at
// (x, y), which it cuts wholly, over the plane of highest. The surface of a straight
// move is convex, so it is highest at a corner; an arc's isn't.
func (k *stroke) corners(x, y, cell float64, gx, gy float32) float32 {
	if k.kind != straight {
		return float32(math.Inf(1))
	}
	const far = (blockSize - 1) / 2.0
	top := math.Inf(-1)
	for c := range 4 {
		dx, dy := far*cell*float64(2*(c%2)-1), far*cell*float64(2*(c/2)-1)
		h, ok := k.surface(x+blockSize/2*cell+dx, y+blockSize/2*cell+dy)
		if !ok {
			return float32(math.Inf(1))
		}
		top = max(top, h-float64(gx)*dx-float64(gy)*dy)
	}
	return float32(top + 2*slack(top))
}

// slack covers the rounding of a height z to 24 bits, and of sums with it.
func slack(z float64) float64 { return 1e-6 * (1 + math.Abs(z)) }

// highest gives the greatest height in a block over the plane through its centre that
// rises by gx and gy, rounded up.
func (w *worker) highest(t *tile, first int, gx, gy float32) float32 {
	h := &t.h[w.side]
	cell := float32(w.g.Cell)
	dx, dy := gx*cell, gy*cell
	row := -float32(blockSize-1) / 2 * (dx + dy)
	// Four at once: one maximum needn't wait for the other.
	low := float32(math.Inf(-1))
	a, b, c, d := low, low, low, low
	for j := range blockSize {
		z := (*[blockSize]float32)(h[first+j*tileSize:])
		v := row
		for i := 0; i < blockSize; i += 4 {
			a, b = max(a, z[i]-v), max(b, z[i+1]-(v+dx))
			c, d = max(c, z[i+2]-(v+2*dx)), max(d, z[i+3]-(v+3*dx))
			v += 4 * dx
		}
		row += dy
	}
	top := max(max(a, b), max(c, d))
	return top + 1e-6*(1+abs(top)+abs(dx)+abs(dy))
}

// fill lowers a whole block to the level of k.
func (w *worker) fill(t *tile, base int, k *stroke) {
	z := float32(k.z)
	h, line := &t.h[w.side], &t.line[w.side]
	for j := range blockSize {
		for c := base + j*tileSize; c < base+j*tileSize+blockSize; c++ {
			if z < h[c] {
				h[c], line[c] = z, k.line
			}
		}
	}
}

// patchwork is a quarter block while it is cut, four squares of four cells with the
// greatest height in each over the plane through the quarter's centre that rises by
// gx and gy.
type patchwork struct {
	h      *[tileSize * tileSize]float32
	line   *[tileSize * tileSize]uint32
	first  int     // its first cell
	x, y   float64 // its corner
	cell   float64
	gx, gy float32
	top    [4]float32
}

// look finds the greatest heights.
func (v *patchwork) look() {
	for n := range v.top {
		v.top[n] = v.square(n)
	}
}

// square gives the greatest height in square n over the plane.
func (v *patchwork) square(n int) float32 {
	i, j := n%2*2, n/2*2
	c := v.first + j*tileSize + i
	dx, dy := v.gx*float32(v.cell), v.gy*float32(v.cell)
	p := (float32(i)-1.5)*dx + (float32(j)-1.5)*dy
	h := v.h
	return max(max(h[c]-p, h[c+1]-p-dx), max(h[c+tileSize]-p-dy, h[c+tileSize+1]-p-dx-dy))
}

// highest gives the greatest height in the quarter over the plane, rounded up.
func (v *patchwork) highest() float32 {
	top := max(max(v.top[0], v.top[1]), max(v.top[2], v.top[3]))
	return top + 1e-6*(1+abs(top))
}

// cut cuts stroke k, under whose surface e gives a plane, into the squares that it
// could lower.
func (v *patchwork) cut(k *stroke, e *entry, look bool) {
	cell := float32(v.cell)
	gx, gy := (e.gx-v.gx)*cell, (e.gy-v.gy)*cell
	// The cells of a square are half a cell from its centre along X and Y.
	at := e.f - (abs(gx)+abs(gy))/2
	ball := k.p.flat == 0 && k.p.r > 0 && k.kind == straight
	for n := range 4 {
		i, j := n%2*2, n/2*2
		if at+gx*float32(i-1)+gy*float32(j-1) >= v.top[n] {
			continue
		}
		x := v.x + (float64(i)+0.5)*v.cell
		y := v.y + (float64(j)+0.5)*v.cell
		c := v.first + j*tileSize + i
		if ball && e.whole {
			v.ball(k, x, y, c)
		} else {
			v.any(k, x, y, c)
		}
		if look {
			v.top[n] = v.square(n)
		}
	}
}

// any cuts k into the square whose first cell is c with its centre at (x, y).
func (v *patchwork) any(k *stroke, x, y float64, c int) {
	for n := range 4 {
		d := n/2*tileSize + n%2
		if s, ok := k.surface(x+float64(n%2)*v.cell, y+float64(n/2)*v.cell); ok && float32(s) < v.h[c+d] {
			v.h[c+d], v.line[c+d] = float32(s), k.line
		}
	}
}

// ball is any for a ball's straight move that cuts the whole square: on a slope m it
// cuts lowest where its axis stands m/sqrt(1+m^2) rho down the slope from the nearest
// place, rho = sqrt(R^2-q^2), or at the end before that. It is written without
// branches, as which stroke lies lowest is anyone's guess here. Of heights below 0
// the lower has the greater bits, and one over 0 has fewer than any.
func (v *patchwork) ball(k *stroke, x, y float64, c int) {
	R2 := k.p.R * k.p.R
	base := k.z + k.p.R
	x -= k.x
	y -= k.y
	a0, q0 := x*k.ux+y*k.uy, x*k.uy-y*k.ux
	lead := k.lead
	if k.slope > 0 {
		lead = -lead
	}
	ux, uy := k.ux*v.cell, k.uy*v.cell
	v.lower(c, base, R2, lead, k, a0, q0)
	v.lower(c+1, base, R2, lead, k, a0+ux, q0+uy)
	v.lower(c+tileSize, base, R2, lead, k, a0+uy, q0-ux)
	v.lower(c+tileSize+1, base, R2, lead, k, a0+ux+uy, q0+uy-ux)
}

// lower cuts one cell.
func (v *patchwork) lower(c int, base, R2, lead float64, k *stroke, a, q float64) {
	rho := math.Sqrt(R2 - q*q)
	t := a + lead*rho
	t = (t + math.Abs(t)) / 2 // at least 0
	t = k.length - t
	t = k.length - (t+math.Abs(t))/2 // at most length
	e := a - t
	z := math.Float32bits(float32(base + k.slope*t - math.Sqrt(rho*rho-e*e)))
	old, line := math.Float32bits(v.h[c]), v.line[c]
	if z > old {
		line = k.line
	}
	v.h[c], v.line[c] = math.Float32frombits(max(z, old)), line
}
