package cut

import "math"

// A round part turns freely on its plug, so that any cut of the face may come to lie
// over any cut of the back at the same distance from the plug's centre.

// turned finds the least web over all turns of such a part: at each distance from the
// centre the deepest cut of either side, cell by cell, so that the distance is good to a
// cell. It also tells holes off the centre that both sides cut.
func (s *study) turned(out *Result) {
	q, g := s.q, s.g
	if q.FreeTurn == nil {
		return
	}
	type deepest struct {
		h    float64
		i, j int
	}
	var sides [2][]deepest // by distance in cells
	for i, j := range g.cut() {
		if s.masked(i, j) {
			continue
		}
		x, y := g.Centre(i, j)
		n := int(math.Hypot(x-q.FreeTurn[0], y-q.FreeTurn[1]) / g.Cell)
		for side := range 2 {
			for len(sides[side]) <= n {
				sides[side] = append(sides[side], deepest{})
			}
			if h := g.depth(side, i, j); h < sides[side][n].h {
				sides[side][n] = deepest{h, i, j}
			}
		}
	}
	least, at := math.Inf(1), 0
	for n := range sides[faceSide] {
		f, b := sides[faceSide][n], sides[backSide][n]
		if web := g.T + f.h + b.h; f.h < 0 && b.h < 0 && web < least {
			least, at = web, n
		}
	}
	if least < max(q.Web-throughSlack, throughSlack) && least < out.Web.Min-throughSlack {
		f, b := sides[faceSide][at], sides[backSide][at]
		w := &TurnedWeb{Thin{s.at(g.spot(f.i, f.j)), max(0, least), q.Web}}
		w.BackLine = g.cutLine(backSide, b.i, b.j)
		out.add(w)
	}
	for _, t := range out.Through {
		off := math.Hypot(t.X-q.FreeTurn[0], t.Y-q.FreeTurn[1])
		if t.Both && (t.Kind == "hole" || t.Kind == "stepped") && off > DefaultStep+g.Cell {
			out.add(&TurnedHole{Where{Side: Both, Placed: true, Spot: t.Spot, Count: 1}, off})
		}
	}
}
