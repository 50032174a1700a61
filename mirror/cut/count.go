package cut

// Count is how many places are cut through.
type Count struct{ Outlines, Openings int }

// count holds what goes through against the numbers that were declared. Dowel holes and bores
// aren't counted. What one closed cut joins, tabs or not, counts once; an outline is what
// leaves pieces apart from each other, all else an opening.
func (s *study) count(out *Result) (declared bool) {
	g := s.g
	for _, t := range s.q.Through {
		if i, j := g.cellAt(t[0], t[1]); g.inside(i, j) && !s.nearThrough(t[0], t[1], func(int) bool { return true }) {
			at := g.spot(i, j)
			at.X, at.Y = t[0], t[1]
			out.add(&PlaceShort{s.at(at), g.Web(i, j)})
		}
	}
	split := s.gaps.split()
	counts := s.pieces.large()
	seen := map[int]bool{}
	for _, p := range s.patches {
		n := s.gaps.label(int(p.spans[0].i0), int(p.spans[0].j))
		if n < 0 || seen[n] || s.isHole(p) {
			continue
		}
		seen[n] = true
		if len(s.pieces.beside(split[n], false, counts)) > 1 || box(split[n]) == (cellBox{0, 0, g.NX - 1, g.NY - 1}) {
			out.Outlines++
		} else {
			out.Openings++
		}
	}
	c := s.q.Count
	if c == nil {
		return false
	}
	out.Counted = true
	declared = out.Outlines == c.Outlines && out.Openings == c.Openings
	for _, p := range s.patches {
		if declared && p.kind == "" {
			p.kind = "declared"
		}
	}
	return declared
}

// miscounted tells the numbers that differ from the declared ones. Where too few go through it
// names the deepest cut of those that don't: the web is known by then.
func (s *study) miscounted(out *Result) {
	c := s.q.Count
	if c == nil {
		return
	}
	number := func(found, declared int) Number {
		n := Number{Where{Side: Both, Count: 1}, found, declared, 0}
		if found < declared && out.Web.Any && out.Web.Min > throughSlack {
			n.Where, n.Left = s.at(out.Web.Spot), out.Web.Min
		}
		return n
	}
	if out.Outlines != c.Outlines {
		out.add(&OutlineCount{number(out.Outlines, c.Outlines)})
	}
	if out.Openings != c.Openings {
		out.add(&OpeningCount{number(out.Openings, c.Openings)})
	}
}
