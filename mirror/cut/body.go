package cut

import "math"

// A body is what stands on the bed around the blank: a fence or a stop, along the blank's own
// axes, or a rectangle of the bed that nothing may enter, along the machine's.
type body struct {
	Rect
	f       frame   // from what Rect is in to the side's own: that of the program for a rectangle of the bed
	locator int     // index of the fence or stop; -1 for none
	noGo    int     // index of the rectangle
	top     float64 // 0 is the blank's surface
	room    [2]bool // along X or along Y it doesn't reach the blank's corners
}

// far is longer than any blank or program, mm.
const far = 1e6

// fences sets up the locators of r's side. Each stands against its edge anywhere but at the
// corners, and reaches away from the blank without end.
func (r *run) fences() {
	w, h := r.q.W, r.q.H
	for i, l := range r.q.Locators[r.side] {
		b := body{f: level, locator: i, top: r.bed + l.Height}
		if l.Height == 0 {
			b.top = r.bed + r.q.T - r.q.Skimmed
		}
		b.Rect = [...]Rect{NearEdge: {Y: -far, W: w, H: far}, FarEdge: {Y: h, W: w, H: far}, LeftEdge: {X: -far, W: far, H: h}, RightEdge: {X: w, W: far, H: h}}[l.Edge]
		b.room[0] = l.Edge == NearEdge || l.Edge == FarEdge
		b.room[1] = !b.room[0]
		r.bodies = append(r.bodies, b)
	}
}

// noGo sets up the rectangles of the bed, from r's zero. A blank that lies turned meets them
// turned.
func (r *run) noGo() {
	zero := r.q.Zeros[r.side]
	if zero == nil {
		return
	}
	for i, n := range r.q.NoGo {
		b := body{f: r.f, locator: -1, noGo: i, top: math.Inf(1), Rect: n}
		if n.Height > 0 {
			b.top = r.bed + n.Height - r.q.Seats[r.side]
		}
		b.X, b.Y = n.X-zero.X, n.Y-zero.Y
		r.bodies = append(r.bodies, b)
	}
}

// clamps are those of a side: they hold what lies under them.
func (s *study) clamps(side int) (list []body) {
	for _, b := range s.runs[side].bodies {
		if b.locator < 0 && b.noGo >= len(s.q.NoGo)-s.q.Clamps {
			list = append(list, b)
		}
	}
	return list
}

// reaches says whether the middle of a cell lies on b, or no farther than room beside it along
// its sides.
func (b *body) reaches(g *Grid, i, j int, room float64) bool {
	x, y := b.f.back(g.Centre(i, j))
	return x >= b.X-room && x <= b.X+b.W+room && y >= b.Y-room && y <= b.Y+b.H+room
}

// cells gives the least rectangle of cells with all that b reaches so far.
func (b *body) cells(g *Grid, room float64) (i0, j0, i1, j1 int) {
	x0, y0, x1, y1 := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, x := range []float64{b.X - room, b.X + b.W + room} {
		for _, y := range []float64{b.Y - room, b.Y + b.H + room} {
			p := b.f.point([3]float64{x, y})
			x0, y0, x1, y1 = min(x0, p[0]), min(y0, p[1]), max(x1, p[0]), max(y1, p[1])
		}
	}
	i0, j0 = g.cellAt(x0, y0)
	i1, j1 = g.cellAt(x1, y1)
	return i0, j0, i1, j1
}

// cornerRoom is how far from a corner nothing touches an edge of the given length: the
// diameter of the cutter that works there, which takes as much off the edge's end in
// one pass along the edge beside it, and never more than a quarter, so that half of the
// edge is left to touch.
func cornerRoom(edge, diameter float64) float64 { return min(diameter, edge/4) }

// plan gives the body as a cutter of the given diameter meets it.
func (b *body) plan(diameter float64) Rect {
	p := b.Rect
	if b.room[0] {
		c := cornerRoom(p.W, diameter)
		p.X, p.W = p.X+c, p.W-2*c
	}
	if b.room[1] {
		c := cornerRoom(p.H, diameter)
		p.Y, p.H = p.Y+c, p.H-2*c
	}
	return p
}

// bump looks for a body in the way of a stroke.
func (r *run) bump(k *stroke) {
	low := k.bottom()
	x0, y0, x1, y1 := k.box()
	for i := range r.bodies {
		b := &r.bodies[i]
		if low >= b.top-touchSlack {
			continue
		}
		p := b.plan(2 * k.p.R)
		if x0, y0, x1, y1 := b.f.under(x0, y0, x1, y1); x1+k.p.R <= p.X || x0-k.p.R >= p.X+p.W || y1+k.p.R <= p.Y || y0-k.p.R >= p.Y+p.H {
			continue
		}
		into, x, y := k.into(p, b.f, b.top)
		if into <= touchSlack {
			continue
		}
		x, y = b.f.back(x, y)
		on := b.f.point([3]float64{min(max(x, b.X), b.X+b.W), min(max(y, b.Y), b.Y+b.H)})
		at := onSide(r.side, Spot{X: on[0], Y: on[1]}, int(k.line))
		if b.locator < 0 {
			r.found.add(&NoGoEntered{at, b.noGo, into})
			continue
		}
		// It is told at the edge.
		at.X, at.Y, at.Depth = min(max(at.X, 0), r.q.W), min(max(at.Y, 0), r.q.H), b.top-low
		r.found.add(&FenceCut{at, b.locator, into})
	}
}

// into gives how far the cutter goes into a rectangle of frame f in plan, and where its axis
// then is. What stands there ends at the height top: what of the cutter stays over that doesn't
// count.
func (k *stroke) into(b Rect, f frame, top float64) (worst, x, y float64) {
	worst = math.Inf(-1)
	n := 1
	if k.kind == levelArc {
		n = arcShape{r0: k.radius, sweep: k.sweep()}.chords(maxSag)
	}
	for i := range n {
		from, to := float64(i)/float64(n), float64(i+1)/float64(n)
		if k.slope != 0 {
			// Only the part of the way with the tip under the top.
			at := min(max((top-k.z)/(k.slope*k.length), 0), 1)
			if k.slope > 0 {
				to = at
			} else {
				from = at
			}
		}
		x0, y0 := k.along(from)
		x1, y1 := k.along(to)
		z0, z1 := k.z+k.slope*k.length*from, k.z+k.slope*k.length*to
		// The width grows ever slower with the height and the distance from a convex
		// body is convex, so their difference has one hill.
		t, v := golden(0, 1, func(t float64) float64 {
			return b.from(f.back(x0+t*(x1-x0), y0+t*(y1-y0))) - k.p.width(top-z0-t*(z1-z0))
		})
		if -v > worst {
			worst, x, y = -v, x0+t*(x1-x0), y0+t*(y1-y0)
		}
	}
	return worst, x, y
}

// from gives the distance of a place from the rectangle; below 0 by how deep it lies
// inside. It is convex along a line.
func (b Rect) from(x, y float64) float64 {
	dx := max(b.X-x, x-b.X-b.W)
	dy := max(b.Y-y, y-b.Y-b.H)
	if dx <= 0 && dy <= 0 {
		return max(dx, dy)
	}
	return math.Hypot(max(dx, 0), max(dy, 0))
}
