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
		s.hole(b.X, b.Y, b.Dia, -1, out)
	}
	for n, p := range s.q.Pins {
		if !p.NoBack {
			s.hole(p.X, p.Y, p.Dia, n, out)
		}
	}
	seen := map[Edge]bool{}
	for _, e := range s.q.BackEdges {
		if !seen[e] {
			seen[e] = true
			s.edge(e, out)
		}
	}
}

// hole looks at a ring of cells just outside a hole: cut deeper than a chamfer,
// the hole's wall is gone there.
func (s *study) hole(x, y, dia float64, index int, out *Result) {
	g := s.g
	deep := -max(contactShare*g.T, s.q.Skimmed)
	f := Finding{Code: CodeBore, Side: Face, Placed: true, Index: index, Count: 0}
	from := dia/2 + max(0.3, 1.5*g.Cell)
	for d := from; d <= from+g.Cell; d += g.Cell / 2 {
		steps := int(math.Ceil(2*math.Pi*d/g.Cell)) + 8
		for n := range steps {
			sin, cos := math.Sincos(2 * math.Pi * float64(n) / float64(steps))
			i, j := g.cellAt(x+d*cos, y+d*sin)
			if !g.inside(i, j) {
				continue
			}
			if h := g.depth(faceSide, i, j); h < deep-throughSlack && -h > f.Depth {
				f.Depth = -h
				f.X, f.Y = g.Centre(i, j)
				f.FaceLine = g.cutLine(faceSide, i, j)
				f.Count = 1
			}
		}
	}
	if f.Count > 0 {
		out.Findings = append(out.Findings, f)
	}
}

// edge looks at the cells along an edge.
func (s *study) edge(e Edge, out *Result) {
	g := s.g
	deep := -max(contactShare*g.T, s.q.Skimmed)
	f := Finding{Code: CodeEdge, Side: Face, Placed: true, Index: int(e), Count: 1}
	n := g.NX
	if e == LeftEdge || e == RightEdge {
		n = g.NY
	}
	cells := 0
	for k := range n {
		i, j := k, 0
		switch e {
		case FarEdge:
			j = g.NY - 1
		case LeftEdge:
			i, j = 0, k
		case RightEdge:
			i, j = g.NX-1, k
		}
		h := g.depth(faceSide, i, j)
		if h >= deep-throughSlack {
			continue
		}
		cells++
		if -h > f.Depth {
			f.Depth = -h
			f.X, f.Y = g.Centre(i, j)
			f.FaceLine = g.cutLine(faceSide, i, j)
		}
	}
	if cells > 0 {
		f.Amount = float64(cells) * g.Cell
		out.Findings = append(out.Findings, f)
	}
}
