package cut

import (
	"math"
	"slices"
)

// Web is the least that is left under the cuts.
type Web struct {
	Any bool // something was cut at all
	Min float64
	Spot
}

// lower takes what is left at a place, where that is less.
func (w *Web) lower(v float64, at Spot) {
	if v < w.Min {
		*w = Web{true, v, at}
	}
}

// web finds the least that is left between face and back, over all cells that
// either side cuts, the bed side of the blank counting as the back where the back
// doesn't cut. Cells that a stretch of a cut made which is meant to go through are
// left out: what stands there is a tab or goes away with the groove. It is 0 where the
// sides meet and should not.
func (s *study) web(out *Result) {
	g, q := s.g, s.q
	s.masked = func(i, j int) bool {
		// A groove's way may run beside the blank, so its lines alone don't tell.
		if s.meant[s.islands.label(i, j)] {
			return true
		}
		if len(s.meant) == 0 {
			return false
		}
		x, y := g.Centre(i, j)
		face, _ := s.beneath(faceSide, g.cutLine(faceSide, i, j), x, y)
		back, _ := s.beneath(backSide, g.cutLine(backSide, i, j), x, y)
		return (face || g.depth(faceSide, i, j) == 0) && (back || g.depth(backSide, i, j) == 0)
	}
	w := Web{Min: math.Inf(1)}
	kept := w // without the grooves that should go through and don't: those are told apart
	for i, j := range g.cut() {
		if v := g.Web(i, j); v < kept.Min && !s.masked(i, j) {
			at := g.spot(i, j)
			w.lower(v, at)
			if !s.falls(i, j) {
				kept.lower(v, at)
			}
		}
	}
	for side := range 2 {
		s.ways[side] = s.bundles(side)
	}
	s.refine(&w, &kept)
	s.doubted(&w, &kept)
	out.BrokenThrough = append(out.BrokenThrough, s.pierced...)
	if !w.Any {
		w.Min = 0
	}
	w.Min = max(0, w.Min)
	out.Web, out.WorstWeb = w, w
	// Where nothing is left it is told as broken through.
	if kept.Any && kept.Min < q.Web-throughSlack && kept.Min > throughSlack {
		out.add(&WebThin{s.thin(kept)})
	}
	s.between(out)
	if q.Misalignment == 0 && q.ThicknessTol == 0 {
		return
	}
	worst := s.worst(w)
	s.least(couple{miss: q.Misalignment, solid: g.T - q.ThicknessTol}, false, &worst, worst.Min-rounding)
	worst.Min = max(0, worst.Min)
	out.WorstWeb = worst
	if worst.Any && (q.Web > 0 && worst.Min < q.Web-throughSlack || worst.Min <= throughSlack) && w.Min >= max(q.Web-throughSlack, throughSlack) {
		out.add(&WebThinAtTolerance{s.thin(worst)})
	}
}

// doubted takes off what cells may hide where strokes were lost (see run.spare): there a
// cell is known no better than ErrorBound says for each cutter.
func (s *study) doubted(w, kept *Web) {
	lost := [2]float64{s.runs[faceSide].lost, s.runs[backSide].lost}
	if lost[faceSide] == 0 && lost[backSide] == 0 {
		return
	}
	g := s.g
	doubt := func(side, line int) float64 {
		if r := s.runs[side]; line > 0 && len(r.kept.on(line))+len(r.light.on(line)) == 0 {
			return r.toolAt(line).doubt
		}
		return 0
	}
	most := 0.0
	for _, c := range s.runs[faceSide].tools {
		most = max(most, 2*c.doubt)
	}
	low := *kept
	for i, j := range g.cut() {
		v := g.Web(i, j)
		if v-most >= low.Min {
			continue
		}
		v -= doubt(faceSide, g.cutLine(faceSide, i, j)) + doubt(backSide, g.cutLine(backSide, i, j))
		if v < low.Min && !s.masked(i, j) && !s.falls(i, j) {
			low = Web{true, v, g.spot(i, j)}
		}
	}
	*kept = low
	if low.Min < w.Min {
		*w = low
	}
}

// unproven tells that there were too many strokes to hold all against each other, and what
// the others may leave.
func (s *study) unproven(out *Result) {
	if math.IsInf(s.unheld, 1) {
		return
	}
	f := &WebUnproven{Thin{Where{Side: Both, Count: 1}, 0, s.q.Web}}
	if s.unheld > throughSlack {
		f.Left = s.unheld
	}
	out.add(f)
}

// thin is a web against the one asked for.
func (s *study) thin(w Web) Thin { return Thin{s.at(w.Spot), max(0, w.Min), s.q.Web} }

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
	half := discRows(m+0.5, reach)
	deepest := g.deepest(backSide, reach)
	w := nominal
	w.Min -= s.q.ThicknessTol
	for n, c := range g.tiles {
		if c == nil && reach == 0 {
			continue
		}
		low := deepest[n]
		ti, tj := n%g.tx, n/g.tx
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
						w = Web{true, v, g.spot(i, j)}
						w.BackLine = g.cutLine(backSide, i+di, j+dj)
					}
				}
			}
		}
	}
	return w
}

// discRows gives the cells within r of a cell as rows from -reach to reach, each by how far it goes
// to either side, -1 for none.
func discRows(r float64, reach int) []int {
	half := make([]int, 2*reach+1)
	for dj := -reach; dj <= reach; dj++ {
		half[dj+reach] = -1
		if r2 := r*r - float64(dj*dj); r2 >= 0 {
			half[dj+reach] = int(math.Sqrt(r2))
		}
	}
	return half
}

// deepest gives the deepest cut of a side by tile, within reach cells of it.
func (g *Grid) deepest(side, reach int) []float32 {
	own, out := make([]float32, len(g.tiles)), make([]float32, len(g.tiles))
	for n, c := range g.tiles {
		if c != nil {
			own[n] = min(0, slices.Min(c.h[side][:]))
		}
	}
	tiles := (reach + tileSize - 1) / tileSize
	for n := range out {
		ti, tj := n%g.tx, n/g.tx
		for b := max(0, tj-tiles); b <= min(g.ty-1, tj+tiles); b++ {
			row := own[b*g.tx:]
			out[n] = min(out[n], slices.Min(row[max(0, ti-tiles):min(g.tx, ti+tiles+1)]))
		}
	}
	return out
}

// between tells the least wall between the cuts of the two sides, of those thinner than the
// web asked for, and again with the errors taken off.
//
// A wall is wood that stands beside a cut of the face and a cut of the back (see couple).
// What a cut meant to go through leaves beside it is the shape of the part, not a wall
// between the sides. Where the sides meet and should not, that comes first: around the
// hole all is thin.
func (s *study) between(out *Result) {
	q := s.q
	if len(s.pierced) > 0 || slices.ContainsFunc(s.patches, func(p *patch) bool { return p.kind == "" }) {
		return
	}
	asked := q.Web - max(throughSlack, leaning*q.Web)
	if asked > 0 {
		s.least(couple{solid: s.g.T}, true, &out.Wall, asked)
	}
	if out.Wall.Any {
		out.add(&WallThin{s.thin(out.Wall)})
	}
	out.WorstWall = out.Wall
	if q.Misalignment == 0 && q.ThicknessTol == 0 {
		return
	}
	s.least(couple{miss: q.Misalignment, solid: s.g.T - q.ThicknessTol}, true, &out.WorstWall, max(asked, throughSlack))
	if out.WorstWall.Any && !out.Wall.Any {
		out.add(&WallThinAtTolerance{s.thin(out.WorstWall)})
	}
}

// leaning is how much thinner than the web asked for a wall must be to be told: floors
// that run up to 8 degrees out of level leave 1 % less square to them than up and down.
const leaning = 0.01
