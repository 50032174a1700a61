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
	f      float64
	gx, gy float32
	id     int32
	at     float32 // scratch
	whole  bool
}

// floor gives a bound from below, over all places within rho of the centre, of
// e's surface less a plane through the centre that rises by gx and gy.
func (e *entry) floor(gx, gy float32, rho float64) float64 {
	dx, dy := float64(e.gx-gx), float64(e.gy-gy)
	// The last term covers the rounding of e.gx and e.gy to 24 bits.
	return e.f - rho*math.Sqrt(dx*dx+dy*dy) - 1e-7*rho*(math.Abs(float64(e.gx))+math.Abs(float64(e.gy)))
}

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
				e.f, e.gx, e.gy = z, 0, 0
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
				root := math.Sqrt(p.R*p.R - q*q)
				var w float64
				if p.flat == 0 && p.r > 0 {
					w = m * root / math.Sqrt(1+m*m)
				} else {
					w = p.ahead(math.Abs(q), m, root)
				}
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
					e.f = z + h
					if rise != 0 {
						rise /= d
						ax, ay := x-k.ux*t, y-k.uy*t
						e.gx, e.gy = float32(rise*ax), float32(rise*ay)
					} else {
						e.gx, e.gy = 0, 0
					}
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
	e.f, e.gx, e.gy = z+p.low(d-rho), 0, 0
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

	// The stroke that lies lowest goes first; then only those that could come
	// below what it leaves, both measured from its own plane.
	first := lowest(list)
	best := list[first]
	k := &strokes[best.id]
	rho := (blockSize - 1) / 2.0 * cell * math.Sqrt2
	if best.f-rho*math.Hypot(float64(best.gx), float64(best.gy)) < 0 {
		if best.whole && k.kind == straight && k.slope == 0 && k.p.flat == k.p.R {
			w.fill(t, base, k)
		} else {
			for q := range 4 {
				qi, qj := (q%2)*quarter, (q/2)*quarter
				w.cells(t, base+qj*tileSize+qi, bx+float64(qi)*cell, by+float64(qj)*cell, k, 0, 0)
			}
		}
	}
	if len(list) == 1 {
		return
	}
	limit := w.highest(t, base, blockSize, best.gx, best.gy)
	w.keep = w.keep[:0]
	for n := range list {
		if n != first && list[n].floor(best.gx, best.gy, rho) < limit {
			w.keep = append(w.keep, list[n])
		}
	}
	if len(w.keep) == 0 {
		return
	}
	rho = (quarter - 1) / 2.0 * cell * math.Sqrt2
	for q := range 4 {
		qi, qj := (q%2)*quarter, (q/2)*quarter
		first := base + qj*tileSize + qi
		x, y := bx+float64(qi)*cell, by+float64(qj)*cell
		cx, cy := x+quarter/2*cell, y+quarter/2*cell

		// The planes under the whole block already bound the quarter: the stroke
		// that promises to lie lowest goes first, and few others remain.
		dx := float32(float64(qi-quarter/2) * cell)
		dy := float32(float64(qj-quarter/2) * cell)
		n, least := 0, float32(math.Inf(1))
		for m := range w.keep {
			e := &w.keep[m]
			e.at = float32(e.f) + e.gx*dx + e.gy*dy
			if e.at < least && e.whole {
				n, least = m, e.at
			}
		}
		limit := w.cells(t, first, x, y, &strokes[w.keep[n].id], best.gx, best.gy)
		w.sub = w.sub[:0]
		for m := range w.keep {
			e := w.keep[m]
			gx, gy := e.gx-best.gx, e.gy-best.gy
			if m == n || float64(e.at)-rho*math.Sqrt(float64(gx*gx+gy*gy))-slack(e.f) > limit {
				continue
			}
			if strokes[e.id].under(cx, cy, rho, &e) && e.floor(best.gx, best.gy, rho) < limit {
				w.sub = append(w.sub, e)
			}
		}
		if len(w.sub) == 0 {
			continue
		}
		// From here on heights are taken over the plane of the lowest one left.
		n = lowest(w.sub)
		low := w.sub[n]
		limit = w.cells(t, first, x, y, &strokes[low.id], low.gx, low.gy)
		for m := range w.sub {
			if m != n && w.sub[m].floor(low.gx, low.gy, rho) < limit {
				limit = w.cells(t, first, x, y, &strokes[w.sub[m].id], low.gx, low.gy)
			}
		}
	}
}

// slack covers the rounding of a height z to 24 bits.
func slack(z float64) float64 { return 4e-7 * (1 + math.Abs(z)) }

// highest gives the greatest height in a square of n cells over the plane through
// its centre that rises by gx and gy.
func (w *worker) highest(t *tile, first, n int, gx, gy float32) float64 {
	h := &t.h[w.side]
	cell := float32(w.g.Cell)
	dx, dy := gx*cell, gy*cell
	row := -float32(n-1) / 2 * (dx + dy)
	top := float32(math.Inf(-1))
	for j := range n {
		v := row
		for _, z := range h[first+j*tileSize : first+j*tileSize+n] {
			if z-v > top {
				top = z - v
			}
			v += dx
		}
		row += dy
	}
	return float64(top) + 1e-6*(math.Abs(float64(dx))+math.Abs(float64(dy)))
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

// cells cuts k into the quarter block whose first cell is first and whose corner
// is (x, y), and gives the greatest height left in it over the plane of highest.
func (w *worker) cells(t *tile, first int, x, y float64, k *stroke, gx, gy float32) float64 {
	cell := w.g.Cell
	h, line := &t.h[w.side], &t.line[w.side]
	p := k.p
	top := float32(math.Inf(-1))
	x += cell/2 - k.x
	y += cell/2 - k.y
	ball := p.flat == 0 && p.r > 0
	dx, dy := gx*float32(cell), gy*float32(cell)
	plane := -float32(quarter-1) / 2 * (dx + dy)
	R2 := p.R * p.R
	rise := math.Sqrt(1 + k.slope*k.slope)
	lead := math.Abs(k.slope) / rise // ball: ahead = lead * rho
	for j := range quarter {
		py := y + float64(j)*cell
		for i := range quarter {
			c := first + j*tileSize + i
			px := x + float64(i)*cell
			var s float64
			switch {
			case k.kind == levelArc:
				d := k.nearArc(px, py)
				if d > p.R {
					goto next
				}
				s = k.z + p.height(d)
			default:
				a := px*k.ux + py*k.uy
				q := px*k.uy - py*k.ux
				if q > p.R || q < -p.R {
					goto next
				}
				if k.slope != 0 {
					if !ball {
						v, ok := k.ramp(a, q)
						if !ok {
							goto next
						}
						s = v
						break
					}
					// Ball: the free minimum z + m a - rho sqrt(1+m^2) where it lies on
					// the move, else the nearer end.
					rho := math.Sqrt(R2 - q*q)
					t := a - lead*rho
					if k.slope < 0 {
						t = a + lead*rho
					}
					if t >= 0 && t <= k.length {
						s = k.z + k.slope*a + p.R - rho*rise
						break
					}
					t = min(max(t, 0), k.length)
					e := a - t
					g := R2 - q*q - e*e
					if g < 0 {
						goto next
					}
					s = k.z + k.slope*t + p.R - math.Sqrt(g)
					break
				}
				e := 0.0
				if a < 0 {
					e = a
				} else if a > k.length {
					e = a - k.length
				}
				d2 := q*q + e*e
				if d2 > R2 {
					goto next
				}
				switch {
				case ball:
					s = k.z + p.R - math.Sqrt(R2-d2)
				case p.flat == p.R:
					s = k.z
				default:
					s = k.z + p.height(math.Sqrt(d2))
				}
			}
			if v := float32(s); v < h[c] {
				h[c], line[c] = v, k.line
			}
		next:
			if v := h[c] - plane - float32(i)*dx; v > top {
				top = v
			}
		}
		plane += dy
	}
	return float64(top) + 1e-6*(math.Abs(float64(dx))+math.Abs(float64(dy)))
}
