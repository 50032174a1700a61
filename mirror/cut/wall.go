package cut

import (
	"math"
	"slices"
	"sort"
)

// inset gives how far inside the wall of a side's cut a place lies, measured from
// the strokes around the one on the given line; ok is false where they weren't
// kept. It is the greatest of radius less distance over all strokes at least half
// as deep as the cut is there. left says on which side of the way the place lies.
func (r *run) inset(line int, x, y, depth float64) (d float64, left, ok bool) {
	const around = 96
	a := sort.Search(len(r.kept), func(i int) bool { return int(r.kept[i].line) >= line })
	if a == len(r.kept) || int(r.kept[a].line) != line {
		return 0, false, false
	}
	d = math.Inf(-1)
	for i := max(0, a-around); i < min(len(r.kept), a+around); i++ {
		k := &r.kept[i]
		if k.bottom() > depth/2 {
			continue
		}
		near, _, _ := k.near(x, y)
		if k.p.R-near > d {
			d, left = k.p.R-near, k.left(x, y)
		}
	}
	return d, left, !math.IsInf(d, -1)
}

// walls measures over how much of p's edge both sides have their wall at the same
// place, and the step between the two walls there.
func (s *study) walls(p *patch) {
	g := s.g
	if p.tool[faceSide] == nil || p.tool[backSide] == nil || len(p.rims) == 0 {
		return
	}
	slack := max(0.5, min(p.tool[faceSide].Diameter, p.tool[backSide].Diameter)/3) + g.Cell
	both := 0
	var steps [2][]float64 // right and left of the face's way
	for _, m := range p.rims {
		var far [2]float64
		for side := range 2 {
			far[side] = math.Inf(1)
			h := g.depth(side, m.i, m.j)
			if h >= 0 {
				continue
			}
			for d := 0.5; d*g.Cell <= slack; d += 0.5 {
				i, j := int(math.Round(float64(m.i)+m.nx*d)), int(math.Round(float64(m.j)+m.ny*d))
				if !g.inside(i, j) || g.depth(side, i, j) > h/2 {
					// The wall of this side must run as the edge does: at a tab it ends.
					if nx, ny := g.wall(side, i, j, h/2); nx*m.nx+ny*m.ny >= wallTurn {
						far[side] = d * g.Cell
					}
					break
				}
			}
		}
		if math.IsInf(far[faceSide], 1) || math.IsInf(far[backSide], 1) {
			continue
		}
		both++
		x, y := g.Centre(m.i, m.j)
		a, left, ok1 := s.runs[faceSide].inset(g.cutLine(faceSide, m.i, m.j), x, y, g.depth(faceSide, m.i, m.j))
		b, _, ok2 := s.runs[backSide].inset(g.cutLine(backSide, m.i, m.j), x, y, g.depth(backSide, m.i, m.j))
		step := math.Abs(a - b)
		if !ok1 || !ok2 {
			// The grid alone knows no better than a cell and a half.
			if step = math.Abs(far[faceSide] - far[backSide]); step <= 1.5*g.Cell {
				step = 0
			}
		}
		n := 0
		if left {
			n = 1
		}
		steps[n] = append(steps[n], step)
	}
	p.agree = float64(both) / float64(len(p.rims))
	// The greatest step but for a few places, so that a short wall across counts.
	worst := func(v []float64) float64 {
		slices.Sort(v)
		return v[max(0, len(v)-1-max(2, len(v)/50))]
	}
	p.step = 0
	for _, v := range steps {
		if len(v) > 0 {
			p.step = max(p.step, worst(v))
		}
	}
	// Cutters of two sizes agree on the part's side alone.
	if p.tool[faceSide].Diameter != p.tool[backSide].Diameter && len(steps[0]) > 0 && len(steps[1]) > 0 {
		p.step = min(worst(steps[0]), worst(steps[1]))
	}
}

// wallTurn is the cosine of the greatest angle (25 degrees) between the edge of an
// island and the wall of one side that makes it.
const wallTurn = 0.906

// wall gives the direction out of the cut, of length 1, at a wall of one side: from
// the cells around deeper than level to the others.
func (g *Grid) wall(side, i, j int, level float64) (nx, ny float64) {
	const reach = 3
	for dj := -reach; dj <= reach; dj++ {
		for di := -reach; di <= reach; di++ {
			if di*di+dj*dj > reach*reach+1 {
				continue
			}
			if !g.inside(i+di, j+dj) || g.depth(side, i+di, j+dj) > level {
				nx += float64(di)
				ny += float64(dj)
			} else {
				nx -= float64(di)
				ny -= float64(dj)
			}
		}
	}
	l := math.Hypot(nx, ny)
	if l == 0 {
		return 0, 0
	}
	return nx / l, ny / l
}
