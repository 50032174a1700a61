package cut

import "slices"

// shortShare is the share of the thickness that two grooves which follow each
// other must reach together to be taken as one through cut that falls short. A
// decoration stays well above it.
const shortShare = 0.75

// fallShort looks for closed grooves (or those of them that tabs leave) that both programs
// follow and that don't meet, where no web is asked for that they keep. Grooves that end in a
// cut which does go through are its tabs.
func (s *study) fallShort() []*patch {
	g := s.g
	t := float32(g.T)
	deep := float32((1 - shortShare) * g.T)
	r := g.connect(false, true, func(c *tile, k int) bool {
		f, b := c.h[faceSide][k], c.h[backSide][k]
		w := t + f + b
		return f < 0 && b < 0 && w > throughSlack && w <= deep
	})
	var out []*patch
	for _, p := range s.patchesOf(r) {
		if s.besideThrough(p.spans) || p.cells < 9 || !p.flat[faceSide] || !p.flat[backSide] || s.q.Web > 0 && -p.usual >= s.q.Web-throughSlack {
			continue
		}
		if s.outline(p); !p.groove() {
			continue
		}
		met := 0
		for _, q := range s.pairs(p) {
			if q.met {
				met++
			}
		}
		if float64(met) >= wallShare*float64(len(p.rims)) {
			out = append(out, p)
		}
	}
	return out
}

// fallShortAround looks for grooves of one side, cut flat, that leave less than the
// web asked for and, alone or together, go all around a part: most likely its outline,
// not deep enough. A groove from edge to edge is a groove. Cells cut through count as
// ground, so that a part with a through outline isn't taken for enclosed.
func (s *study) fallShortAround() []*patch {
	g := s.g
	t := float32(g.T)
	deep := float32(min((1-shortShare)*g.T, s.q.Web-throughSlack))
	if deep <= throughSlack {
		return nil
	}
	thin := func(c *tile, k int) bool {
		w := t + c.h[faceSide][k] + c.h[backSide][k]
		return w > throughSlack && w <= deep
	}
	r := g.connect(false, true, thin)
	if r.n == 0 {
		return nil
	}
	pieces := g.connect(true, false, func(c *tile, k int) bool { return !thin(c, k) })
	outer := s.onEdge(pieces)
	part := pieces.large()
	atEdge := s.onEdge(r)
	var out []*patch
	for _, p := range s.patchesOf(r) {
		// It parts an enclosed piece from another, or from the blank's edge.
		beside := pieces.beside(p.spans, false, part)
		enclosed := slices.ContainsFunc(beside, func(l int) bool { return outer[l] == 0 })
		if !enclosed || len(beside) < 2 && atEdge[p.label] == 0 || s.besideThrough(p.spans) {
			continue
		}
		side := faceSide
		if p.cut[backSide] {
			side = backSide
		}
		if p.cut[faceSide] == p.cut[backSide] || !p.flat[side] {
			continue
		}
		if s.outline(p); p.groove() {
			out = append(out, p)
		}
	}
	return out
}

// falls says whether a cell lies in a groove that should go through and doesn't.
func (s *study) falls(i, j int) bool {
	for _, list := range [2][]*patch{s.shorts, s.rings} {
		for _, p := range list {
			if p.in.label(i, j) == p.label {
				return true
			}
		}
	}
	return false
}

// short turns the grooves that fall short into findings.
func (s *study) short(out *Result) {
	left := func(p *patch) Thin { return Thin{s.at(s.g.spot(p.pi, p.pj)), -p.usual, s.q.Web} }
	for _, p := range s.shorts {
		out.add(&GroovesShort{left(p)})
	}
	for _, p := range s.rings {
		f := &GrooveShort{left(p)}
		if f.Side = Face; p.cut[backSide] {
			f.Side = Back
		}
		out.add(f)
	}
}

// besideThrough says whether a cell beside the spans is cut through.
func (s *study) besideThrough(spans []span) bool {
	if s.islands.n == 0 {
		return false
	}
	return len(s.islands.beside(spans, true, func(int) bool { return true })) > 0
}
