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
	g := s.g
	through := func(p *patch) int {
		if p.alone[faceSide] {
			return faceSide
		}
		return backSide
	}
	edge, met := 0, 0
	around := map[int][]pair{}
	both := true
	for _, p := range groove {
		both = both && p.alone[faceSide] && p.alone[backSide]
		s.outline(p)
		edge += len(p.rims)
		for l, list := range s.facing(p) {
			for _, q := range list {
				if !q.met {
					continue
				}
				met++
				if through(p) == faceSide {
					q.beyond = -q.beyond
				}
				if l >= 0 && q.same {
					around[l] = append(around[l], q)
				}
			}
		}
	}
	if float64(met) < wallShare*float64(edge) {
		return
	}
	// A piece with few places to the most that one has shows no wall.
	most := 0
	for _, list := range around {
		most = max(most, len(list))
	}
	off, larger := math.Inf(1), math.Inf(1)
	var at pair
	n := 0
	for _, l := range slices.Sorted(maps.Keys(around)) {
		list := around[l]
		if 4*len(list) < most {
			continue
		}
		n++
		farthest := slices.MaxFunc(list, func(a, b pair) int { return cmp.Compare(a.beyond, b.beyond) })
		var beyond []float64
		for _, q := range list {
			beyond = append(beyond, q.beyond)
		}
		lo, hi := bulk(beyond)
		seen := max(0, hi)
		if both {
			seen = max(hi, -lo)
		}
		off, larger = min(off, min((hi-lo)/2, seen)), min(larger, beyond[len(beyond)/2])
		if n == 1 || farthest.beyond > at.beyond {
			at = farthest
		}
	}
	if n == 0 {
		return
	}
	if n == 1 {
		larger = 0
	}
	step := max(off, larger)
	for _, p := range groove {
		p.step = step
	}
	if step <= DefaultStep {
		return
	}
	f := &WallStep{s.at(g.spot(at.i, at.j)), step, s.budget()}
	f.FaceLine, f.BackLine = at.lines[faceSide], at.lines[backSide]
	out.add(f)
}
