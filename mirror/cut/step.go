package cut

import (
	"cmp"
	"maps"
	"math"
	"slices"
)

// wallShare is the share of the edge of one side's cut that the other side must follow to be
// held against it.
const wallShare = 0.4

// ledges compares what one side makes through alone with what the other side cuts along
// the same walls, as an outline that is finished from the other side or a hole that is
// drilled again. Each groove is taken whole, its tabs and what is left beside it among
// it, and the walls by the piece that they bound.
//
// A groove that lies off reaches into a piece on one side of it and stays away from it
// on the other: half of the difference is how far off it lies. What reaches into one
// piece evenly (a rebate, a counterbore, an allowance left on the waste) is meant;
// evenly into both pieces is a cutter of the wrong size.
func (s *study) ledges(out *Result) {
	var list []*patch
	for _, p := range s.patches {
		if p.kind != "" && p.kind != "declared" && (p.alone[faceSide] || p.alone[backSide]) && s.upright(p) {
			list = append(list, p)
		}
	}
	if len(list) == 0 {
		return
	}
	byGap := map[int][]*patch{}
	var order []int
	for _, p := range list {
		n := s.gaps.label(int(p.spans[0].i0), int(p.spans[0].j))
		if byGap[n] == nil {
			order = append(order, n)
		}
		byGap[n] = append(byGap[n], p)
	}
	for _, n := range order {
		s.ledge(byGap[n], out)
	}
}

// upright says whether both sides cut p, with cutters whose walls stand upright.
func (s *study) upright(p *patch) bool {
	for _, c := range p.tool {
		if c == nil || c.Shape != Flat && c.Shape != Bull {
			return false
		}
	}
	return true
}

// ledge is ledges for the patches of one groove.
func (s *study) ledge(groove []*patch, out *Result) {
	around := s.walls(groove)
	if len(around) == 0 {
		return
	}
	both := !slices.ContainsFunc(groove, func(p *patch) bool { return !p.alone[faceSide] || !p.alone[backSide] })
	step, at := apartOf(around, both)
	for _, p := range groove {
		p.step = step
	}
	if step <= DefaultStep {
		return
	}
	f := &WallStep{s.at(s.g.spot(at.i, at.j)), step, s.budget()}
	f.FaceLine, f.BackLine = at.lines[faceSide], at.lines[backSide]
	out.add(f)
}

// walls gives the places at a groove's edge where both sides have their wall, by the piece that
// they bound, with how far the wall of the side that doesn't go through stands beyond the other;
// none where the sides hardly follow each other. A piece with few places to the most that one
// has shows no wall.
func (s *study) walls(groove []*patch) map[int][]pair {
	edge, met, most := 0, 0, 0
	around := map[int][]pair{}
	for _, p := range groove {
		s.outline(p)
		edge += len(p.rims)
		for l, list := range s.facing(p) {
			for _, q := range list {
				if !q.met {
					continue
				}
				met++
				if p.alone[faceSide] {
					q.beyond = -q.beyond
				}
				if l >= 0 && q.same {
					around[l] = append(around[l], q)
					most = max(most, len(around[l]))
				}
			}
		}
	}
	maps.DeleteFunc(around, func(_ int, list []pair) bool {
		return 4*len(list) < most || float64(met) < wallShare*float64(edge)
	})
	return around
}

// apartOf gives how far the walls around a groove lie off each other, or how much too large one
// of the cutters is, and the place where most; both says that both sides go through.
func apartOf(around map[int][]pair, both bool) (step float64, at pair) {
	off, larger := math.Inf(1), math.Inf(1)
	for n, l := range slices.Sorted(maps.Keys(around)) {
		farthest := slices.MaxFunc(around[l], func(a, b pair) int { return cmp.Compare(a.beyond, b.beyond) })
		if n == 0 || farthest.beyond > at.beyond {
			at = farthest
		}
		var beyond []float64
		for _, q := range around[l] {
			beyond = append(beyond, q.beyond)
		}
		lo, hi := bulk(beyond)
		seen := max(0, hi)
		if both {
			seen = max(hi, -lo)
		}
		off, larger = min(off, min((hi-lo)/2, seen)), min(larger, beyond[len(beyond)/2])
	}
	if len(around) == 1 {
		larger = 0
	}
	return max(off, larger), at
}
