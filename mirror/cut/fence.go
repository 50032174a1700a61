package cut

import "math"

// Locator is a fence or a stop at one station: a body beside the blank, along the edge
// that touches it.
type Locator struct {
	Edge   Edge
	Height float64 // over the bed; 0 is as high as the blank, less its skim
}

// A rail is a locator as its side meets it. It stands against the edge anywhere but at
// the corners, and reaches away from the blank without end.
type rail struct {
	edge  Edge
	top   float64 // in the side's frame: 0 is the blank's surface
	index int
}

// beyond is longer than any blank or program, mm.
const beyond = 1e6

// fences sets up the locators of r's side.
func (r *run) fences() {
	for i, l := range r.q.Locators[r.side] {
		w := rail{edge: l.Edge, index: i, top: r.bed + l.Height}
		if l.Height == 0 {
			w.top = r.bed + r.q.T - r.q.Skimmed
		}
		r.rails = append(r.rails, w)
	}
}

// cornerRoom is how far from a corner nothing touches an edge of the given length: the
// diameter of the cutter that works there, which takes as much off the edge's end in
// one pass along the edge beside it, and never more than a quarter, so that half of the
// edge is left to touch.
func cornerRoom(edge, diameter float64) float64 { return min(diameter, edge/4) }

// body gives the rail in plan, as a cutter of the given diameter meets it.
func (w *rail) body(width, height, diameter float64) Rect {
	cx, cy := cornerRoom(width, diameter), cornerRoom(height, diameter)
	switch w.edge {
	case NearEdge:
		return Rect{X: cx, Y: -beyond, W: width - 2*cx, H: beyond}
	case FarEdge:
		return Rect{X: cx, Y: height, W: width - 2*cx, H: beyond}
	case LeftEdge:
		return Rect{X: -beyond, Y: cy, W: beyond, H: height - 2*cy}
	}
	return Rect{X: width, Y: cy, W: beyond, H: height - 2*cy}
}

// fenced looks for a fence or stop in the way of a stroke.
func (r *run) fenced(k *stroke) {
	for i := range r.rails {
		w := &r.rails[i]
		low := k.bottom()
		if low >= w.top-touchSlack {
			continue
		}
		b := w.body(r.q.W, r.q.H, 2*k.p.R)
		x0, y0, x1, y1 := k.box()
		if x1+k.p.R <= b.X || x0-k.p.R >= b.X+b.W || y1+k.p.R <= b.Y || y0-k.p.R >= b.Y+b.H {
			continue
		}
		into, x, y := k.into(b, w.top)
		if into <= touchSlack {
			continue
		}
		// It is told at the edge.
		x, y = min(max(x, 0), r.q.W), min(max(y, 0), r.q.H)
		switch w.edge {
		case NearEdge:
			y = 0
		case FarEdge:
			y = r.q.H
		case LeftEdge:
			x = 0
		case RightEdge:
			x = r.q.W
		}
		r.found.add(Finding{Code: CodeFence, Index: w.index, Placed: true, Spot: Spot{X: x, Y: y}, Amount: into, Depth: w.top - low}, r.side, int(k.line))
	}
}

// into gives how far the cutter goes into a body in plan, and where its axis then is.
// The body ends at the height top: what of the cutter stays over that doesn't count.
func (k *stroke) into(b Rect, top float64) (worst, x, y float64) {
	worst = math.Inf(-1)
	n := 1
	if k.kind == levelArc {
		// A turn's chords, so that they keep to the arc within touchSlack.
		n = int(math.Min(math.Ceil(2*math.Pi/math.Sqrt(8*touchSlack/max(k.radius, touchSlack))), maxChords))
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
		deep := func(t float64) float64 {
			return k.p.width(top-z0-t*(z1-z0)) - b.from(x0+t*(x1-x0), y0+t*(y1-y0))
		}
		// The width grows ever slower with the height and the distance from a convex
		// body is convex, so their difference has one hill.
		t := least(func(t float64) float64 { return -deep(t) })
		if d := deep(t); d > worst {
			worst, x, y = d, x0+t*(x1-x0), y0+t*(y1-y0)
		}
	}
	return worst, x, y
}

// width gives the cutter's radius at height h over its tip: the other way round from
// height.
func (p *profile) width(h float64) float64 {
	switch {
	case h <= 0:
		return 0
	case p.r > 0 && h < p.r:
		return p.flat + math.Sqrt(p.r*p.r-(p.r-h)*(p.r-h))
	case p.r == 0 && p.k > 0:
		return min(p.R, p.flat+h/p.k)
	}
	return p.R
}
