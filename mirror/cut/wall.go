package cut

import (
	"math"
	"slices"
)

// inset gives how far inside the wall of a side's cut a place lies, measured from
// the strokes around the one on the given line; ok is false where they weren't
// kept. It is the greatest of radius less distance over all strokes that go down to
// level. w is that stroke.
func (r *run) inset(line int, x, y, level float64) (d float64, w *stroke, ok bool) {
	const around = 96
	a := r.kept.from(line)
	if a == len(r.kept) || int(r.kept[a].line) != line {
		return 0, nil, false
	}
	d = math.Inf(-1)
	for i := max(0, a-around); i < min(len(r.kept), a+around); i++ {
		k := &r.kept[i]
		if k.bottom() > level {
			continue
		}
		if near, _, _ := k.near(x, y); k.p.R-near > d {
			d, w = k.p.R-near, k
		}
	}
	return d, w, w != nil
}

// pair is a place at the edge of a patch with the walls of both sides there.
type pair struct {
	rim
	met    bool    // both sides have their wall within reach
	corner bool    // the larger of two cutters makes it about an end of its way: an inside corner
	beyond float64 // mm: how much farther out the face's wall stands than the back's
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

// pairs gives the places at p's edge, and how the walls of the two sides stand there.
func (s *study) pairs(p *patch) []pair {
	g := s.g
	if p.tool[faceSide] == nil || p.tool[backSide] == nil {
		return nil
	}
	larger := faceSide
	if p.tool[backSide].Diameter > p.tool[faceSide].Diameter {
		larger = backSide
	}
	slack := s.reach(p) + g.Cell
	out := make([]pair, 0, len(p.rims))
	for _, m := range p.rims {
		q := pair{rim: m, same: true, met: true}
		var far, inset [2]float64
		var by [2]*stroke
		exact := true
		x, y := g.Centre(m.i, m.j)
		for side := range 2 {
			i, j, d, level, ok := s.wallAt(side, m, slack)
			if !ok {
				q.met = false
				continue
			}
			far[side] = d
			q.lines[side] = g.cutLine(side, i, j)
			inset[side], by[side], ok = s.runs[side].inset(q.lines[side], x, y, level)
			exact = exact && ok
		}
		if k := by[larger]; k != nil && p.tool[faceSide].Diameter != p.tool[backSide].Diameter {
			q.corner = k.past(x, y)
		}
		switch {
		case !q.met:
		case exact:
			q.beyond = inset[faceSide] - inset[backSide]
			ax, ay := by[faceSide].away(x, y)
			bx, by := by[backSide].away(x, y)
			q.same = ax*bx+ay*by >= sameTurn
		default:
			if q.beyond = far[faceSide] - far[backSide]; math.Abs(q.beyond) <= 1.5*g.Cell {
				// The grid alone knows no better than a cell and a half.
				q.beyond = 0
			}
		}
		out = append(out, q)
	}
	return out
}

// wallAt looks for the wall of a side's cut straight out from a place at a patch's edge,
// straight in where the side doesn't cut there. It gives the last cell that is cut and how
// far out it ends. The wall must run as the edge does: at a tab it ends.
func (s *study) wallAt(side int, m rim, slack float64) (i, j int, d, level float64, ok bool) {
	g := s.g
	along := func(i, j int, level float64) bool {
		nx, ny := outward(i, j, func(i, j int) bool { return g.inside(i, j) && g.depth(side, i, j) <= level })
		return nx*m.nx+ny*m.ny >= wallTurn
	}
	i, j = m.i, m.j
	level = s.wallLevel(side, i, j)
	if g.depth(side, i, j) < 0 {
		for d = 0.5; d*g.Cell <= slack; d += 0.5 {
			a, b := m.out(d)
			if !g.inside(a, b) || g.depth(side, a, b) > level {
				return i, j, d * g.Cell, level, along(a, b, level)
			}
			i, j = a, b
		}
		return 0, 0, 0, 0, false
	}
	for d = -0.5; -d*g.Cell <= slack; d -= 0.5 {
		if i, j = m.out(d); !g.inside(i, j) {
			break
		}
		if h := g.depth(side, i, j); h < 0 {
			return i, j, d * g.Cell, h / 2, along(i, j, h/2)
		}
	}
	return 0, 0, 0, 0, false
}

// wallLevel gives how deep a side's cut must be to count at a cell: half as deep as there, and
// deep enough to go through with the other side's where that does.
func (s *study) wallLevel(side, i, j int) float64 {
	g := s.g
	h := g.depth(side, i, j)
	return min(h/2, max(h, throughSlack-g.T-g.depth(1-side, i, j)))
}

// agreement holds the walls of the two sides against each other, piece by piece: ok says that
// one piece beside p has both walls all along, and step by how much they lie apart there at
// most. Where there are two pieces one may be the waste, whose wall is no matter, nor are the
// leads in it. At a tab there is no piece; an inside corner that the larger cutter can't reach
// isn't compared. Walls miss where, within the smaller cutter's radius, half of the edge lacks
// one of the two.
func (s *study) agreement(p *patch) (step float64, ok bool) {
	around := s.facing(p)
	most := 0
	for l, list := range around {
		if l >= 0 {
			most = max(most, len(list))
		}
	}
	step = math.Inf(1)
	if len(around[-1]) > 0 && (s.bores(p, faceSide) || s.bores(p, backSide)) {
		return step, false // no hole has tabs
	}
	for l, list := range around {
		if l < 0 || 4*len(list) < most || s.misses(p, list, around[-1]) {
			continue
		}
		var apart []float64
		for _, q := range list {
			if q.met && q.same && !q.corner {
				apart = append(apart, math.Abs(q.beyond))
			}
		}
		if 2*len(apart) >= len(list) {
			_, hi := bulk(apart)
			step = min(step, hi)
		}
	}
	return step, !math.IsInf(step, 1)
}

// facing gives the places at p's edge by the piece that lies straight out from there; -1 is tabs.
func (s *study) facing(p *patch) map[int][]pair {
	around := map[int][]pair{}
	if p.tool[faceSide] == nil || p.tool[backSide] == nil {
		return around
	}
	reach := s.reach(p) + 3*s.g.Cell
	for _, q := range s.pairs(p) {
		l := s.ahead(q.rim, reach)
		around[l] = append(around[l], q)
	}
	return around
}

// ahead gives the piece that lies straight out from a place at a patch's edge, -1 where
// none lies within reach.
func (s *study) ahead(m rim, reach float64) int {
	for d := 1.0; d*s.g.Cell <= reach; d++ {
		if l := s.pieces.label(m.out(d)); l >= 0 {
			return l
		}
	}
	return -1
}

// misses says whether one of the two walls is missing along a stretch of a piece's edge that
// isn't the end of a tab.
func (s *study) misses(p *patch, list, tabs []pair) bool {
	r := max(min(p.tool[faceSide].Diameter, p.tool[backSide].Diameter)/2/s.g.Cell, 3)
	for _, q := range list {
		near := func(o pair) bool { return math.Hypot(float64(o.i-q.i), float64(o.j-q.j)) <= r }
		if q.met || q.corner || slices.ContainsFunc(tabs, near) {
			continue
		}
		all, missing := 0, 0
		for _, o := range list {
			if !near(o) {
				continue
			}
			if all++; !o.met && !o.corner {
				missing++
			}
		}
		if 2*missing > all {
			return true
		}
	}
	return false
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
