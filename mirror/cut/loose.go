package cut

import (
	"cmp"
	"math"
	"slices"
)

// solidSlack is the least thickness that still holds two parts together, mm.
const solidSlack = 0.01

// minLoose is the least area that counts as a part and not as a chip, mm^2.
const minLoose = 5

// loose finds what comes loose and whether the pins' margin is severed.
func (s *study) loose(out *Result) {
	g := s.g
	faceOnly := g.connect(false, func(i, j int) bool { return g.Face(i, j) > solidSlack })
	s.margin(faceOnly, out)
	if s.q.HeldAll {
		return
	}
	parts := faceOnly
	for side := range 2 {
		if side == backSide {
			parts = g.connect(false, func(i, j int) bool { return g.Web(i, j) > solidSlack })
		}
		if parts.n <= 1 {
			continue
		}
		held := s.held(parts, side)
		cells := parts.cells()
		also, split := s.q.Held, parts.split()
		for label, spans := range split {
			if held[label] && len(s.q.Held) == 0 && len(s.clamps(side)) == 0 {
				x, y, _ := innermost(g, spans)
				also = append(also, [2]float64{x, y})
			}
		}
		for label, spans := range split {
			area := float64(cells[label]) * g.Cell * g.Cell
			if held[label] || area < max(minLoose, 9*g.Cell*g.Cell) {
				continue
			}
			x, y, _ := innermost(g, spans)
			clear := 0.0
			if sound := s.sound(spans); len(sound) > 0 {
				x, y, clear = innermost(g, sound)
			}
			if side == backSide && s.already(out.Loose, parts, label) {
				continue
			}
			line := 0
			if len(out.Loose) < maxListed {
				line = s.freed(parts, label, held, side)
			}
			l := &PartLoose{onSide(side, Spot{X: x, Y: y}, line), area, clear, also}
			out.Loose = append(out.Loose, l)
			out.add(l)
		}
	}
}

// already says whether a part was reported loose once the face was cut.
func (s *study) already(list []*PartLoose, parts *regions, label int) bool {
	for _, l := range list {
		i, j := s.g.cellAt(l.X, l.Y)
		if parts.label(i, j) == label {
			return true
		}
	}
	return false
}

// sound gives what of a part a screw may go into: where nothing is cut, nor bore nor pin.
func (s *study) sound(spans []span) (out []span) {
	holes := []Circle{}
	if s.q.Bore != nil {
		holes = append(holes, *s.q.Bore)
	}
	for _, p := range s.q.Pins {
		holes = append(holes, Circle{p.X, p.Y, p.Dia})
	}
	for _, sp := range spans {
		from := sp.i0
		for i := sp.i0; i <= sp.i1+1; i++ {
			whole := i <= sp.i1 && s.g.depth(faceSide, int(i), int(sp.j)) >= 0 && s.g.depth(backSide, int(i), int(sp.j)) >= 0
			if x, y := s.g.Centre(int(i), int(sp.j)); whole {
				whole = !slices.ContainsFunc(holes, func(c Circle) bool { return math.Hypot(x-c.X, y-c.Y) <= c.Dia/2 })
			}
			if !whole {
				if i > from {
					out = append(out, span{sp.j, from, i - 1, sp.label})
				}
				from = i + 1
			}
		}
	}
	return out
}

// innermost gives the place of a region that lies farthest from its rim, and how far.
func innermost(g *Grid, spans []span) (x, y, clear float64) {
	d := g.distances(spans)
	best := 0
	for k := range d.square {
		if d.square[k] > d.square[best] {
			best = k
		}
	}
	x, y = g.Centre(best%d.w+d.i0, best/d.w+d.j0)
	return x, y, (math.Sqrt(float64(d.square[best])) - 0.5) * g.Cell
}

// around gives the regions that lie around a circle: the cells just outside it.
func (s *study) around(r *regions, x, y, dia float64) map[int]bool {
	out := map[int]bool{}
	for n := range 72 {
		sin, cos := math.Sincos(float64(n) * math.Pi / 36)
		d := dia/2 + 0.5 + 1.5*s.g.Cell
		i, j := s.g.cellAt(x+d*cos, y+d*sin)
		if l := r.label(i, j); l >= 0 {
			out[l] = true
		}
	}
	return out
}

// onEdge gives how many cells of the blank's edge each region holds.
func (s *study) onEdge(r *regions) []int {
	edge := make([]int, r.n)
	for _, sp := range r.spans {
		if sp.j == 0 || int(sp.j) == s.g.NY-1 {
			edge[sp.label] += sp.size()
		}
		if sp.i0 == 0 {
			edge[sp.label]++
		}
		if int(sp.i1) == s.g.NX-1 {
			edge[sp.label]++
		}
	}
	return edge
}

// held says which parts are held while a side is cut: those at the places that the
// maker names and those under a clamp; with nothing named the one with most of the blank's
// edge, where no other has as much. Pins, a plug, a fence locate and don't hold.
func (s *study) held(r *regions, side int) map[int]bool {
	held := map[int]bool{}
	for _, c := range s.clamps(side) {
		i0, j0, i1, j1 := c.cells(s.g, 0)
		for _, sp := range r.spans {
			if int(sp.j) < j0 || int(sp.j) > j1 || held[int(sp.label)] {
				continue
			}
			for i := max(i0, int(sp.i0)); i <= min(i1, int(sp.i1)); i++ {
				if c.reaches(s.g, i, int(sp.j), 0) {
					held[int(sp.label)] = true
					break
				}
			}
		}
	}
	for _, p := range s.q.Held {
		i, j := s.g.cellAt(p[0], p[1])
		if l := r.label(i, j); l >= 0 {
			held[l] = true
		}
	}
	if len(held) > 0 {
		return held
	}
	edge, cells := s.onEdge(r), r.cells()
	best := 0
	for l := range edge {
		if cmp.Or(cmp.Compare(edge[l], edge[best]), cmp.Compare(cells[l], cells[best])) > 0 {
			best = l
		}
	}
	// Pieces that are alike differ by a cell at each end of an edge.
	const alike = 4
	for l := range edge {
		if l != best && edge[l]+alike >= edge[best] {
			return held
		}
	}
	held[best] = true
	return held
}

// freed gives the line on which a part loses its last hold. Each cell that is cut
// through has a line that did it; the part is held as long as some way to what is
// held crosses only cells that aren't cut through yet. So the cells are put back
// from the last one cut to the first, until part and hold join: the line of that
// cell is the one that freed the part. Where nothing is held, any other part is a hold.
func (s *study) freed(parts *regions, label int, held map[int]bool, side int) int {
	g := s.g
	gone := g.connect(true, func(i, j int) bool { return parts.label(i, j) < 0 })
	type cell struct{ line, i, j int32 }
	var last []cell // the last cut first
	for i, j := range cells(gone.spans) {
		last = append(last, cell{int32(g.cutLine(side, i, j)), int32(i), int32(j)})
	}
	slices.SortStableFunc(last, func(a, b cell) int { return cmp.Compare(b.line, a.line) })
	// Union over cells and parts; all that is held is one.
	number, total := gone.numbers()
	var set union
	for range total + parts.n {
		set.add()
	}
	base := int32(total)
	anchor := int32(-1)
	for l := range parts.n {
		if held[l] || len(held) == 0 && l != label {
			if anchor < 0 {
				anchor = base + int32(l)
			}
			set.join(base+int32(l), anchor)
		}
	}
	if anchor < 0 {
		return 0
	}
	back := make([]bool, total)
	for _, c := range last {
		own := number(int(c.i), int(c.j))
		back[own] = true
		for _, d := range sides {
			i, j := int(c.i)+d[0], int(c.j)+d[1]
			if n := number(i, j); n >= 0 {
				if back[n] {
					set.join(int32(own), int32(n))
				}
			} else if l := parts.label(i, j); l >= 0 {
				set.join(int32(own), base+int32(l))
			}
		}
		if set.find(base+int32(label)) == set.find(anchor) {
			return int(c.line)
		}
	}
	return 0
}

// margin looks whether the face program alone severs a pin's place from the part:
// from the piece in which most of the back's cuts lie.
func (s *study) margin(r *regions, out *Result) {
	if r.n <= 1 || len(s.q.Pins) == 0 {
		return
	}
	count := make([]int, r.n)
	total := 0
	for i, j := range s.g.cut() {
		if l := r.label(i, j); l >= 0 && s.g.depth(backSide, i, j) < 0 {
			count[l]++
			total++
		}
	}
	if total == 0 {
		count = r.cells()
	}
	part := 0
	for l := range count {
		if count[l] > count[part] {
			part = l
		}
	}
	for n, p := range s.q.Pins {
		near := s.around(r, p.X, p.Y, p.Dia)
		if len(near) == 0 || near[part] {
			continue
		}
		out.add(&MarginSevered{onSide(faceSide, Spot{X: p.X, Y: p.Y}, s.freed(r, part, near, faceSide)), n})
	}
}
