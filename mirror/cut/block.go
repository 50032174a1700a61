package cut

import "math"

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
	for q := range 4 {
		qi, qj := (q%2)*quarter, (q/2)*quarter
		v := patchwork{h: &t.h[w.side], line: &t.line[w.side], first: base + qj*tileSize + qi, x: bx + float64(qi)*cell, y: by + float64(qj)*cell, cell: cell}
		w.quarter(&v, strokes, float32(float64(qi-quarter/2)*cell), float32(float64(qj-quarter/2)*cell))
	}
}

// quarter cuts the strokes that were kept for a block into a quarter of it, whose centre lies
// (dx, dy) from the block's.
func (w *worker) quarter(v *patchwork, strokes []stroke, dx, dy float32) {
	const middle = (quarter - 1) / 2.0
	rho, half := middle*v.cell*math.Sqrt2, float32(middle*v.cell)
	cx, cy := v.x+quarter/2*v.cell, v.y+quarter/2*v.cell

	// The planes under the whole block already bound the quarter, the more so with
	// their bend, which has a tangent there of its own. The stroke that promises to
	// lie lowest goes first, and few others remain.
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
	v.gx, v.gy = low.gx, low.gy
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
		return
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
