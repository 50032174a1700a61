package cut

import "math"

// shortShare is the share of the thickness that two grooves which follow each
// other must reach together to be taken as one through cut that falls short. A
// decoration stays well above it.
const shortShare = 0.75

// missShare is the share of the thickness from which on one side's groove may be
// half of a through cut.
const missShare = 0.45

// short looks for grooves that both programs follow, as rule 3 of the through cuts
// has it, and that don't meet. Grooves that end in a cut which does go through are
// its tabs. A closed groove counts always, any other (or a hole) where the web that
// is asked for isn't kept; with none asked it counts too.
func (s *study) short(out *Result) {
	g := s.g
	t := float32(g.T)
	deep := float32((1 - shortShare) * g.T)
	r := g.connect(false, true, func(c *tile, k int) bool {
		f, b := c.h[faceSide][k], c.h[backSide][k]
		w := t + f + b
		return f < 0 && b < 0 && w > throughSlack && w <= deep
	})
	for label, spans := range r.split() {
		if s.besideThrough(spans) {
			continue
		}
		p := &patch{label: label, spans: spans}
		s.measure(p, r)
		if p.cells < 9 || !p.flat[faceSide] || !p.flat[backSide] ||
			p.width > grooveWidth*p.across()+2*g.Cell || p.agree < wallShare {
			continue
		}
		left := -p.usual
		if r.rings(label, spans) == 0 && s.q.Web > 0 && left >= s.q.Web-throughSlack {
			continue
		}
		x, y := g.Centre(p.pi, p.pj)
		out.Findings = append(out.Findings, Finding{Code: CodeShort, Side: Both, Placed: true, X: x, Y: y,
			Amount: left, Area: p.area, Count: 1,
			FaceLine: g.cutLine(faceSide, p.pi, p.pj), BackLine: g.cutLine(backSide, p.pi, p.pj)})
	}
}

// besideThrough says whether a cell beside the spans is cut through.
func (s *study) besideThrough(spans []span) bool {
	if s.islands.n == 0 {
		return false
	}
	for _, sp := range spans {
		for i := int(sp.i0) - 1; i <= int(sp.i1)+1; i++ {
			for dj := -1; dj <= 1; dj++ {
				if s.islands.find(i, int(sp.j)+dj) >= 0 {
					return true
				}
			}
		}
	}
	return false
}

// missed looks for closed grooves on each side that are cut flat, half through or
// more, of one size and not over each other: an outline that lies elsewhere on the
// back than on the face.
func (s *study) missed(out *Result) {
	g := s.g
	var rings [2][]*patch
	for side := range 2 {
		deep := float32(-missShare * g.T)
		r := g.connect(false, true, func(c *tile, k int) bool { return c.h[side][k] <= deep })
		for label, spans := range r.split() {
			p := &patch{label: label, spans: spans}
			p.i0, p.j0, p.i1, p.j1 = box(spans)
			if p.i1-p.i0 < 8 || p.j1-p.j0 < 8 || r.rings(label, spans) == 0 {
				continue
			}
			s.measure(p, r)
			if !p.flat[side] || p.alone[side] || p.width > grooveWidth*p.tool[side].Diameter+2*g.Cell {
				continue
			}
			// Met from the other side on half of it or more: no matter of place.
			met := 0
			for _, sp := range spans {
				for i := int(sp.i0); i <= int(sp.i1); i++ {
					if g.depth(1-side, i, int(sp.j)) <= float64(deep) {
						met++
					}
				}
			}
			if 2*met < p.cells {
				rings[side] = append(rings[side], p)
			}
		}
	}
	for _, f := range rings[faceSide] {
		for _, b := range rings[backSide] {
			slack := int(2/g.Cell) + 2
			same := func(a, b int) bool { return a-b <= slack && b-a <= slack }
			if !same(f.i1-f.i0, b.i1-b.i0) || !same(f.j1-f.j0, b.j1-b.j0) || -f.level[faceSide]-b.level[backSide] < shortShare*g.T {
				continue
			}
			dx := float64(b.i0+b.i1-f.i0-f.i1) / 2 * g.Cell
			dy := float64(b.j0+b.j1-f.j0-f.j1) / 2 * g.Cell
			x, y := g.Centre((f.i0+f.i1)/2, (f.j0+f.j1)/2)
			out.Findings = append(out.Findings, Finding{Code: CodeMissed, Side: Both, Placed: true, X: x, Y: y,
				Amount: math.Hypot(dx, dy), FaceLine: f.lines[faceSide][0], BackLine: b.lines[backSide][0], Count: 1})
		}
	}
}
