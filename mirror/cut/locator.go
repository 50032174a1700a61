package cut

import "math"

// contactShare is the share of the thickness down to which a locating edge or the
// wall of a hole may be cut away at the top: a chamfer or a facing cut leaves enough
// to touch.
const contactShare = 0.25

// locators looks whether the face program spoils what the back will be located
// by: the bore, the pins' holes, and the edges that fence and stop touch.
func (s *study) locators(out *Result) {
	if b := s.q.Bore; b != nil {
		if at := s.hole(b.X, b.Y, b.Dia); at.Placed {
			out.add(&BoreBroken{at})
		}
	}
	for n, p := range s.q.Pins {
		// The plug's hole is the bore.
		if b := s.q.Bore; b != nil && p.X == b.X && p.Y == b.Y {
			continue
		}
		if at := s.hole(p.X, p.Y, p.Dia); at.Placed {
			out.add(&HoleBroken{at, n})
		}
	}
	seen := map[Edge]bool{}
	for _, l := range s.q.Locators[backSide] {
		if !seen[l.Edge] {
			seen[l.Edge] = true
			s.edge(l.Edge, out)
		}
	}
}

// hole looks at a ring of cells just outside a hole: cut deeper than a chamfer,
// the hole's wall is gone there. It gives the deepest place, if there is one.
func (s *study) hole(x, y, dia float64) (at Where) {
	g := s.g
	deep := -max(contactShare*g.T, s.q.Skimmed)
	from := dia/2 + max(0.3, 1.5*g.Cell)
	for d := from; d <= from+g.Cell; d += g.Cell / 2 {
		steps := int(math.Ceil(2*math.Pi*d/g.Cell)) + 8
		for n := range steps {
			sin, cos := math.Sincos(2 * math.Pi * float64(n) / float64(steps))
			i, j := g.cellAt(x+d*cos, y+d*sin)
			if !g.inside(i, j) {
				continue
			}
			if h := g.depth(faceSide, i, j); h < deep-throughSlack {
				s.deeper(&at, i, j)
			}
		}
	}
	return at
}

// deeper moves at to a cell, where the face is cut deeper there.
func (s *study) deeper(at *Where, i, j int) {
	if h := s.g.depth(faceSide, i, j); -h > at.Depth {
		*at = onSide(faceSide, s.g.spot(i, j), s.g.cutLine(faceSide, i, j))
		at.Depth, at.BackLine = -h, 0
	}
}

// edge looks at the cells along an edge. What is cut away at a corner counts from
// where a locator can touch on.
func (s *study) edge(e Edge, out *Result) {
	g := s.g
	deep := -max(contactShare*g.T, s.q.Skimmed)
	f := &EdgeMachined{Edge: e}
	n := g.NX
	if e == LeftEdge || e == RightEdge {
		n = g.NY
	}
	cell := func(k int) (i, j int) {
		switch e {
		case FarEdge:
			return k, g.NY - 1
		case LeftEdge:
			return 0, k
		case RightEdge:
			return g.NX - 1, k
		}
		return k, 0
	}
	isCut := func(k int) bool {
		i, j := cell(k)
		return g.depth(faceSide, i, j) < deep-throughSlack
	}
	cells := 0
	for k := 0; k < n; k++ {
		if !isCut(k) {
			continue
		}
		from := k
		for k < n && isCut(k) {
			k++
		}
		if from == 0 || k == n {
			i, j := cell(min(from, n-1))
			room := cornerRoom(float64(n)*g.Cell, s.runs[faceSide].toolAt(g.cutLine(faceSide, i, j)).Diameter)
			if k-from < n && float64(k-from) <= room/g.Cell+1 {
				continue
			}
		}
		cells += k - from
		for at := from; at < k; at++ {
			i, j := cell(at)
			s.deeper(&f.Where, i, j)
		}
	}
	if cells > 0 {
		f.Along = float64(cells) * g.Cell
		out.add(f)
	}
}

// Locator is a fence or a stop at one station: a body beside the blank, along the edge
// that touches it.
type Locator struct {
	Edge   Edge
	Height float64 // over the seat; 0 is as high as the blank, less its skim
}
