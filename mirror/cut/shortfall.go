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
	r := g.connect(true, func(i, j int) bool {
		w := g.Web(i, j)
		return w > throughSlack && w <= (1-shortShare)*g.T && g.depth(faceSide, i, j) < 0 && g.depth(backSide, i, j) < 0
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

// falls says whether a cell lies in a groove that should go through and doesn't.
func (s *study) falls(i, j int) bool {
	return slices.ContainsFunc(s.shorts, func(p *patch) bool { return p.in.label(i, j) == p.label })
}

// short turns the grooves that fall short into findings.
func (s *study) short(out *Result) {
	for _, p := range s.shorts {
		out.add(&GroovesShort{Thin{s.at(s.g.spot(p.pi, p.pj)), -p.usual, s.q.Web}})
	}
}

// besideThrough says whether a cell beside the spans is cut through.
func (s *study) besideThrough(spans []span) bool {
	if s.islands.n == 0 {
		return false
	}
	return len(s.islands.beside(spans, true, func(int) bool { return true })) > 0
}
