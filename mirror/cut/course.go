package cut

import (
	"math"
	"slices"
)

// missShare is the share of the thickness from which on one side's groove may be
// half of a through cut.
const missShare = 0.45

// course is the deep grooves of one side that share a depth: an outline, its
// tabs left out, or the outlines of several parts.
type course struct {
	cellBox
	level      float64
	cells, met int
	width      float64
	line       int
}

// missed looks for an outline or a hole that lies elsewhere on the back than on the face.
func (s *study) missed(out *Result) {
	face, back := s.halves(faceSide), s.halves(backSide)
	s.missedOutlines(s.courses(face, faceSide), s.courses(back, backSide), out)
	s.missedHoles(s.holes(face), s.holes(back), out)
}

// missedOutlines looks for a course on each side, cut flat and about half through or more,
// that goes around something, of one size on both sides, and not over each other.
func (s *study) missedOutlines(face, back []*course, out *Result) {
	g := s.g
	slack := int(2/g.Cell) + 2
	same := func(a, b int) bool { return a-b <= slack && b-a <= slack }
	for _, f := range face {
		for _, b := range back {
			if !same(f.i1-f.i0, b.i1-b.i0) || !same(f.j1-f.j0, b.j1-b.j0) || -f.level-b.level < shortShare*g.T {
				continue
			}
			apart := f.apart(b.cellBox) * g.Cell
			if apart <= 2*g.Cell {
				continue
			}
			// The near end of each outline, where something is cut.
			fi, _ := f.middle()
			bi, _ := b.middle()
			at := s.both(fi, f.j0, bi, b.j0)
			at.FaceLine, at.BackLine, at.Depth = f.line, b.line, -f.level
			out.add(&OutlinesMissed{at, apart})
		}
	}
}

// missedHoles looks for a round hole on each side, of one size, cut flat, that don't
// meet and would go through if they did: 0.45 of the thickness each and all of it
// together. Sockets that are meant to stay blind stay shallower than that together.
func (s *study) missedHoles(face, back []*patch, out *Result) {
	used := make([]bool, len(back))
	for _, f := range face {
		best, least := -1, math.Inf(1)
		for n, b := range back {
			wide := math.Abs(float64(f.i1 - f.i0 - b.i1 + b.i0))
			d := f.apart(b.cellBox) * s.g.Cell
			if used[n] || wide > 3 || -f.level[faceSide]-b.level[backSide] < s.g.T-throughSlack || d >= least {
				continue
			}
			best, least = n, d
		}
		if best < 0 {
			continue
		}
		used[best] = true
		b := back[best]
		fi, fj := f.middle()
		bi, bj := b.middle()
		at := s.both(fi, fj, bi, bj)
		at.FaceLine, at.BackLine, at.Depth = f.lines[faceSide][0], b.lines[backSide][0], -f.level[faceSide]
		out.add(&HolesMissed{at, least})
	}
}

// half is a patch of one side that may be half of a through cut, and how many of its cells
// something as deep meets from the other side.
type half struct {
	*patch
	met int
}

// halves gives those of a side, cut flat and not through.
func (s *study) halves(side int) (out []half) {
	deep := -missShare * s.g.T
	for _, p := range s.patchesOf(s.g.connect(true, func(i, j int) bool { return s.g.depth(side, i, j) <= deep })) {
		if !p.flat[side] || p.alone[side] {
			continue
		}
		h := half{patch: p}
		for i, j := range cells(p.spans) {
			if s.g.depth(1-side, i, j) <= deep {
				h.met++
			}
		}
		out = append(out, h)
	}
	return out
}

// holes gives the round ones that nothing meets.
func (s *study) holes(all []half) (out []*patch) {
	for _, p := range all {
		if p.met == 0 && p.i1-p.i0 >= 3 && s.round(p.patch) {
			out = append(out, p.patch)
		}
	}
	return out
}

// courses gives a side's courses of which less than three quarters are met.
func (s *study) courses(parts []half, side int) []*course {
	g := s.g
	var all []*course
	for _, p := range parts {
		// A groove, longer than two widths.
		if s.outline(p.patch); !p.groove() || p.area < 2*p.width*p.width {
			continue
		}
		n := slices.IndexFunc(all, func(c *course) bool { return math.Abs(c.level-p.level[side]) <= 0.02 })
		if n < 0 {
			n = len(all)
			all = append(all, &course{cellBox: p.cellBox, level: p.level[side], line: p.lines[side][0]})
		}
		c := all[n]
		c.cellBox = c.with(p.cellBox)
		c.line = min(c.line, p.lines[side][0])
		c.width = max(c.width, p.width)
		c.cells, c.met = c.cells+p.cells, c.met+p.met
	}
	return slices.DeleteFunc(all, func(c *course) bool {
		// Around something: it is at least as long as two thirds of the way around
		// its box (a circle takes 0.79 of it).
		around := 2 * float64(c.i1-c.i0+c.j1-c.j0) * g.Cell
		length := float64(c.cells) * g.Cell * g.Cell / c.width
		small := min(c.i1-c.i0, c.j1-c.j0)
		return 4*c.met >= 3*c.cells || length < 0.66*(around-4*c.width) || float64(small)*g.Cell <= 2*c.width
	})
}

// both is a cell of the face and one of the back.
func (s *study) both(i, j, bi, bj int) Where {
	w := Where{Side: Both, Placed: true, Elsewhere: new([2]float64), Count: 1}
	w.X, w.Y = s.g.Centre(i, j)
	w.Elsewhere[0], w.Elsewhere[1] = s.g.Centre(bi, bj)
	return w
}
