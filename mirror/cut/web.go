package cut

import "math"

// Web is the least that is left under the cuts.
type Web struct {
	Any      bool // something was cut at all
	Min      float64
	X, Y     float64
	FaceLine int
	BackLine int
}

// web finds the least that is left between face and back, over all cells that
// either side cuts, the bed side of the blank counting as the back where the back
// doesn't cut. The cuts that are meant to go through are left out, with what
// belongs to them: the tabs and the tapering walls beside them, which are cut by
// lines of the program between those that cut through, in one thin place with
// them. Below 0 is by how much two cuts overlap that shouldn't.
func (s *study) web(out *Result) {
	g, q := s.g, s.q
	t := float32(g.T)
	limit := max(q.Web, q.Web+q.ThicknessTol, 0.3*g.T)
	thin := g.connect(false, true, func(c *tile, k int) bool {
		return t+c.h[faceSide][k]+c.h[backSide][k] < float32(limit) && (c.h[faceSide][k] < 0 || c.h[backSide][k] < 0)
	})
	// For each thin place the lines of the cuts in it that are meant to go through.
	type lines [2][2]int
	meant := map[int]*lines{}
	for _, p := range s.patches {
		if p.kind == "" {
			continue
		}
		sp := p.spans[0]
		label := thin.label(int(sp.i0), int(sp.j))
		l := meant[label]
		if l == nil {
			l = &lines{{math.MaxInt, 0}, {math.MaxInt, 0}}
			meant[label] = l
		}
		for side := range 2 {
			l[side][0] = min(l[side][0], p.lines[side][0])
			l[side][1] = max(l[side][1], p.lines[side][1])
		}
	}
	s.masked = func(i, j int) bool {
		l := meant[thin.label(i, j)]
		if l == nil {
			return false
		}
		for side := range 2 {
			if n := g.cutLine(side, i, j); n > 0 && (n < l[side][0] || n > l[side][1]) {
				return false
			}
		}
		return true
	}
	w := Web{Min: math.Inf(1)}
	note := func(w *Web, v float64, i, j int) {
		if v < w.Min {
			w.Any = true
			w.Min = v
			w.X, w.Y = g.Centre(i, j)
			w.FaceLine, w.BackLine = g.cutLine(faceSide, i, j), g.cutLine(backSide, i, j)
		}
	}
	if len(meant) == 0 {
		s.masked = func(int, int) bool { return false }
	}
	for _, sp := range thin.spans {
		// Most spans of a meant cut hide as a whole; only those that could be least
		// are looked at cell by cell.
		for i := int(sp.i0); i <= int(sp.i1); i++ {
			if v := g.Web(i, int(sp.j)); v < w.Min && !s.masked(i, int(sp.j)) {
				note(&w, v, i, int(sp.j))
			}
		}
	}
	if !w.Any {
		s.cutCells(func(c *tile, k, i, j int) {
			if v := g.T + float64(c.h[faceSide][k]) + float64(c.h[backSide][k]); v >= limit {
				note(&w, v, i, j)
			}
		})
	}
	if !w.Any {
		w.Min = 0
	}
	out.Web, out.WorstWeb = w, w
	if w.Any && q.Web > 0 && w.Min < q.Web-throughSlack {
		out.Findings = append(out.Findings, s.webFinding(CodeWeb, w))
	}
	if q.Misalignment == 0 && q.ThicknessTol == 0 {
		return
	}
	worst := s.worst(w)
	out.WorstWeb = worst
	if worst.Any && (q.Web > 0 && worst.Min < q.Web-throughSlack || worst.Min <= throughSlack) && w.Min >= max(q.Web-throughSlack, throughSlack) {
		out.Findings = append(out.Findings, s.webFinding(CodeWebTolerance, worst))
	}
}

func (s *study) webFinding(c Code, w Web) Finding {
	return Finding{Code: c, Side: Both, Placed: true, X: w.X, Y: w.Y, Amount: max(0, w.Min), Limit: s.q.Web,
		FaceLine: w.FaceLine, BackLine: w.BackLine, Count: 1}
}

// cutCells calls visit for every cell that either side cuts.
func (s *study) cutCells(visit func(c *tile, k, i, j int)) {
	g := s.g
	for n, c := range g.tiles {
		if c == nil {
			continue
		}
		i0, j0 := n%g.tx*tileSize, n/g.tx*tileSize
		for k := range c.h[0] {
			i, j := i0+k%tileSize, j0+k/tileSize
			if (c.h[faceSide][k] < 0 || c.h[backSide][k] < 0) && i < g.NX && j < g.NY {
				visit(c, k, i, j)
			}
		}
	}
}

// worst finds the least that is left when the back may lie off by the misalignment
// in any direction and the thickness tolerance is taken off: under each cell of the
// face the deepest back cut within the misalignment. A wall's place is known to half
// a cell, so a neighbour counts whose centre is within the misalignment and half a
// cell.
func (s *study) worst(nominal Web) Web {
	g := s.g
	m := s.q.Misalignment / g.Cell
	reach := 0
	if m > 0 {
		reach = int(math.Floor(m + 0.5))
	}
	// Neighbours, nearest first, as rows of half width.
	half := make([]int, 2*reach+1)
	for dj := -reach; dj <= reach; dj++ {
		r2 := (m+0.5)*(m+0.5) - float64(dj*dj)
		half[dj+reach] = -1
		if r2 >= 0 {
			half[dj+reach] = int(math.Sqrt(r2))
		}
	}
	if reach == 0 {
		half[0] = 0
	}
	least := make([]float32, len(g.tiles)) // of the back, by tile
	for n, c := range g.tiles {
		if c == nil {
			continue
		}
		for _, v := range c.h[backSide] {
			least[n] = min(least[n], v)
		}
	}
	w := nominal
	w.Min -= s.q.ThicknessTol
	tiles := (reach + tileSize - 1) / tileSize
	for n, c := range g.tiles {
		if c == nil && reach == 0 {
			continue
		}
		low := float32(0)
		ti, tj := n%g.tx, n/g.tx
		for b := max(0, tj-tiles); b <= min(g.ty-1, tj+tiles); b++ {
			for a := max(0, ti-tiles); a <= min(g.tx-1, ti+tiles); a++ {
				low = min(low, least[b*g.tx+a])
			}
		}
		for k := range tileSize * tileSize {
			i, j := ti*tileSize+k%tileSize, tj*tileSize+k/tileSize
			if i >= g.NX || j >= g.NY {
				continue
			}
			f := 0.0
			if c != nil {
				f = float64(c.h[faceSide][k])
			}
			if g.T+f+float64(low)-s.q.ThicknessTol >= w.Min || s.masked(i, j) {
				continue
			}
			for dj := -reach; dj <= reach; dj++ {
				h := half[dj+reach]
				for di := -h; di <= h; di++ {
					if !g.inside(i+di, j+dj) {
						continue
					}
					b := g.depth(backSide, i+di, j+dj)
					v := g.T + f + b - s.q.ThicknessTol
					if v < w.Min && (f < 0 || b < 0) && !s.masked(i+di, j+dj) {
						w.Any = true
						w.Min = v
						w.X, w.Y = g.Centre(i, j)
						w.FaceLine, w.BackLine = g.cutLine(faceSide, i, j), g.cutLine(backSide, i+di, j+dj)
					}
				}
			}
		}
	}
	return w
}
