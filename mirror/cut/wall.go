package cut

import (
	"math"
	"slices"
	"sort"
)

// inset gives how far inside the wall of a side's cut a place lies, measured from
// the strokes around the one on the given line; ok is false where they weren't
// kept. It is the greatest of radius less distance over all strokes at least half
// as deep as the cut is there. w is that stroke.
func (r *run) inset(line int, x, y, depth float64) (d float64, w *stroke, ok bool) {
	const around = 96
	a := sort.Search(len(r.kept), func(i int) bool { return int(r.kept[i].line) >= line })
	if a == len(r.kept) || int(r.kept[a].line) != line {
		return 0, nil, false
	}
	d = math.Inf(-1)
	for i := max(0, a-around); i < min(len(r.kept), a+around); i++ {
		k := &r.kept[i]
		if k.bottom() > depth/2 {
			continue
		}
		if near, _, _ := k.near(x, y); k.p.R-near > d {
			d, w = k.p.R-near, k
		}
	}
	return d, w, w != nil
}

// away gives the direction from the cutter's way to a place beside it, of length 1 where
// it isn't on it.
func (s *stroke) away(x, y float64) (dx, dy float64) {
	const e = 1e-4 // mm
	at := func(x, y float64) float64 {
		d, _, _ := s.near(x, y)
		return d
	}
	return (at(x+e, y) - at(x-e, y)) / (2 * e), (at(x, y+e) - at(x, y-e)) / (2 * e)
}

// pair is a place at the edge of a patch where both sides have their wall.
type pair struct {
	rim
	beyond float64 // mm: how much farther out the face's wall stands than the back's
	left   bool    // of the face's way
	same   bool    // both walls run the same way there
	lines  [2]int  // of the two walls
}

// reach gives how far apart the walls of two cutters may stand, mm, that count as one
// cut that both sides follow: a third of the smaller one, half of it around a round hole.
func (s *study) reach(p *patch) float64 {
	d := min(p.tool[faceSide].Diameter, p.tool[backSide].Diameter)
	if s.round(p) {
		return max(0.5, d/2)
	}
	return max(0.5, d/3)
}

// pairs gives the places at p's edge where both sides have their wall within reach, and
// how the two stand there.
func (s *study) pairs(p *patch) []pair {
	g := s.g
	if p.tool[faceSide] == nil || p.tool[backSide] == nil {
		return nil
	}
	slack := s.reach(p) + g.Cell
	var out []pair
	for _, m := range p.rims {
		q := pair{rim: m, same: true}
		var far, inset [2]float64
		var by [2]*stroke
		exact, found := true, true
		x, y := g.Centre(m.i, m.j)
		for side := range 2 {
			i, j, d, ok := s.wallAt(side, m, slack)
			if found = found && ok; !found {
				break
			}
			far[side] = d
			q.lines[side] = g.cutLine(side, i, j)
			inset[side], by[side], ok = s.runs[side].inset(q.lines[side], x, y, g.depth(side, i, j))
			exact = exact && ok
		}
		if !found {
			continue
		}
		if by[faceSide] != nil {
			q.left = by[faceSide].left(x, y)
		}
		if exact {
			q.beyond = inset[faceSide] - inset[backSide]
			ax, ay := by[faceSide].away(x, y)
			bx, by := by[backSide].away(x, y)
			q.same = ax*bx+ay*by >= sameTurn
		} else if q.beyond = far[faceSide] - far[backSide]; math.Abs(q.beyond) <= 1.5*g.Cell {
			// The grid alone knows no better than a cell and a half.
			q.beyond = 0
		}
		out = append(out, q)
	}
	return out
}

// wallAt looks for the wall of a side's cut straight out from a place at a patch's edge,
// straight in where the side doesn't cut there. It gives the last cell that is cut and how
// far out it ends. The wall must run as the edge does: at a tab it ends.
func (s *study) wallAt(side int, m rim, slack float64) (i, j int, d float64, ok bool) {
	g := s.g
	at := func(d float64) (int, int) {
		return int(math.Round(float64(m.i) + m.nx*d)), int(math.Round(float64(m.j) + m.ny*d))
	}
	along := func(i, j int, level float64) bool {
		nx, ny := g.wall(side, i, j, level)
		return nx*m.nx+ny*m.ny >= wallTurn
	}
	i, j = m.i, m.j
	if h := g.depth(side, i, j); h < 0 {
		for d = 0.5; d*g.Cell <= slack; d += 0.5 {
			a, b := at(d)
			if !g.inside(a, b) || g.depth(side, a, b) > h/2 {
				return i, j, d * g.Cell, along(a, b, h/2)
			}
			i, j = a, b
		}
		return 0, 0, 0, false
	}
	for d = -0.5; -d*g.Cell <= slack; d -= 0.5 {
		if i, j = at(d); !g.inside(i, j) {
			break
		}
		if h := g.depth(side, i, j); h < 0 {
			return i, j, d * g.Cell, along(i, j, h/2)
		}
	}
	return 0, 0, 0, false
}

// walls measures over how much of p's edge both sides have their wall at the same
// place, and the step between the two walls there. What one side makes through alone
// is left to ledges.
func (s *study) walls(p *patch) {
	if p.alone[faceSide] || p.alone[backSide] {
		return
	}
	all := s.pairs(p)
	if len(all) == 0 {
		return
	}
	p.agree = float64(len(all)) / float64(len(p.rims))
	var beyond []float64
	var steps [2][]float64 // right and left of the face's way
	for _, q := range all {
		if !q.same {
			continue
		}
		n := 0
		if q.left {
			n = 1
		}
		steps[n] = append(steps[n], math.Abs(q.beyond))
		beyond = append(beyond, q.beyond)
	}
	if s.round(p) && len(beyond) > 0 {
		// Bores of two sizes about one centre are a stepped hole; else they lie off
		// each other by half of the difference between the two walls across.
		lo, hi := bulk(beyond)
		p.step, p.larger = (hi-lo)/2, math.Abs(hi+lo)/2
		return
	}
	for _, v := range steps {
		if len(v) > 0 {
			_, hi := bulk(v)
			p.step = max(p.step, hi)
		}
	}
	// Cutters of two sizes agree on the part's side alone.
	if p.tool[faceSide].Diameter != p.tool[backSide].Diameter && len(steps[0]) > 0 && len(steps[1]) > 0 {
		_, a := bulk(steps[0])
		_, b := bulk(steps[1])
		p.step = min(a, b)
	}
}

// bulk sorts v and gives its ends but for a few places, so that a short wall across
// doesn't count.
func bulk(v []float64) (lo, hi float64) {
	slices.Sort(v)
	few := min(max(2, len(v)/50), (len(v)-1)/2)
	return v[few], v[len(v)-1-few]
}

// wallTurn is the cosine of the greatest angle (25 degrees) between the edge of an
// island and the wall of one side that makes it.
const wallTurn = 0.906

// sameTurn is the cosine of the greatest angle (5 degrees) between the walls of two sides
// whose step is measured. Beside the end of a tab the wall of a cutter of radius R turns
// away by R (1 - cos 5) there: 0.02 mm for one of 10 mm.
const sameTurn = 0.9962

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
