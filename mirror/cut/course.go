package cut

import "math"

// missShare is the share of the thickness from which on one side's groove may be
// half of a through cut.
const missShare = 0.45

// course is the deep grooves of one side that share a depth: an outline, its
// tabs left out, or the outlines of several parts.
type course struct {
	level          float64
	i0, j0, i1, j1 int
	cells, met     int
	width          float64
	line           int
}

// missed looks for a course on each side, cut flat and about half through or more,
// that goes around something, of one size on both sides, and not over each other:
// an outline that lies elsewhere on the back than on the face.
func (s *study) missed(out *Result) {
	g := s.g
	face, back := s.courses(faceSide), s.courses(backSide)
	slack := int(2/g.Cell) + 2
	same := func(a, b int) bool { return a-b <= slack && b-a <= slack }
	for _, f := range face {
		for _, b := range back {
			if !same(f.i1-f.i0, b.i1-b.i0) || !same(f.j1-f.j0, b.j1-b.j0) || -f.level-b.level < shortShare*g.T {
				continue
			}
			dx := float64(b.i0+b.i1-f.i0-f.i1) / 2 * g.Cell
			dy := float64(b.j0+b.j1-f.j0-f.j1) / 2 * g.Cell
			if math.Hypot(dx, dy) <= 2*g.Cell {
				continue
			}
			// The near end of each outline, where something is cut.
			x, y := g.Centre((f.i0+f.i1)/2, f.j0)
			other := &[2]float64{}
			other[0], other[1] = g.Centre((b.i0+b.i1)/2, b.j0)
			at := Where{Side: Both, Placed: true, Spot: Spot{X: x, Y: y, FaceLine: f.line, BackLine: b.line}, Elsewhere: other, Depth: -f.level, Count: 1}
			out.add(&OutlinesMissed{at, math.Hypot(dx, dy)})
		}
	}
	s.missedHoles(out)
}

// missedHoles looks for a round hole on each side, of one size, cut flat, that don't
// meet and would go through if they did: 0.45 of the thickness each and all of it
// together. Sockets that are meant to stay blind stay shallower than that together.
func (s *study) missedHoles(out *Result) {
	g := s.g
	face, back := s.holes(faceSide), s.holes(backSide)
	used := make([]bool, len(back))
	for _, f := range face {
		best, least := -1, math.Inf(1)
		for n, b := range back {
			wide := math.Abs(float64(f.i1 - f.i0 - b.i1 + b.i0))
			d := math.Hypot(float64(f.i0+f.i1-b.i0-b.i1), float64(f.j0+f.j1-b.j0-b.j1)) / 2 * g.Cell
			if used[n] || wide > 3 || -f.level[faceSide]-b.level[backSide] < g.T-throughSlack || d >= least {
				continue
			}
			best, least = n, d
		}
		if best < 0 {
			continue
		}
		used[best] = true
		x, y := g.Centre((f.i0+f.i1)/2, (f.j0+f.j1)/2)
		b := back[best]
		other := &[2]float64{}
		other[0], other[1] = g.Centre((b.i0+b.i1)/2, (b.j0+b.j1)/2)
		at := Spot{X: x, Y: y, FaceLine: f.lines[faceSide][0], BackLine: b.lines[backSide][0]}
		out.add(&HolesMissed{Where{Side: Both, Placed: true, Spot: at, Elsewhere: other, Depth: -f.level[faceSide], Count: 1}, least})
	}
}

// holes gives a side's deep round holes that nothing deep from the other side meets.
func (s *study) holes(side int) []*patch {
	g := s.g
	deep := float32(-missShare * g.T)
	r := g.connect(false, true, func(c *tile, k int) bool { return c.h[side][k] <= deep })
	var out []*patch
	for label, spans := range r.split() {
		p := &patch{label: label, spans: spans}
		if p.i0, p.j0, p.i1, p.j1 = box(spans); p.i1-p.i0 < 3 {
			continue
		}
		s.measure(p, r)
		if !p.flat[side] || p.alone[side] || !s.round(p) {
			continue
		}
		met := false
		for i, j := range cells(spans) {
			met = met || g.depth(1-side, i, j) <= float64(deep)
		}
		if !met {
			out = append(out, p)
		}
	}
	return out
}

// courses gives a side's courses of which less than three quarters are met by a
// deep cut from the other side.
func (s *study) courses(side int) []*course {
	g := s.g
	deep := float32(-missShare * g.T)
	r := g.connect(false, true, func(c *tile, k int) bool { return c.h[side][k] <= deep })
	var all []*course
	for label, spans := range r.split() {
		p := &patch{label: label, spans: spans}
		s.measure(p, r)
		if !p.flat[side] || p.alone[side] {
			continue
		}
		// A groove, longer than two widths.
		s.outline(p, r)
		if p.width > grooveWidth*p.tool[side].Diameter+2*g.Cell || p.area < 2*p.width*p.width {
			continue
		}
		var c *course
		for _, o := range all {
			if math.Abs(o.level-p.level[side]) <= 0.02 {
				c = o
			}
		}
		if c == nil {
			c = &course{level: p.level[side], i0: p.i0, j0: p.j0, line: p.lines[side][0]}
			all = append(all, c)
		}
		c.i0, c.j0, c.i1, c.j1 = min(c.i0, p.i0), min(c.j0, p.j0), max(c.i1, p.i1), max(c.j1, p.j1)
		c.line = min(c.line, p.lines[side][0])
		c.width = max(c.width, p.width)
		c.cells += p.cells
		for i, j := range cells(spans) {
			if g.depth(1-side, i, j) <= float64(deep) {
				c.met++
			}
		}
	}
	out := all[:0]
	for _, c := range all {
		// Around something: it is at least as long as two thirds of the way around
		// its box (a circle takes 0.79 of it).
		around := 2 * float64(c.i1-c.i0+c.j1-c.j0) * g.Cell
		length := float64(c.cells) * g.Cell * g.Cell / c.width
		small := min(c.i1-c.i0, c.j1-c.j0)
		if 4*c.met < 3*c.cells && length >= 0.66*(around-4*c.width) && float64(small)*g.Cell > 2*c.width {
			out = append(out, c)
		}
	}
	return out
}
