package cut

// spirals looks at holes that a cutter made coming down on a helix, without a level turn
// at the bottom: what the last turn doesn't reach stays as a ledge.
func (s *study) spirals(out *Result) {
	for side, r := range s.runs {
		slopes := r.slopes()
		for _, p := range s.patches {
			if (p.kind == "hole" || p.kind == "groove") && p.cut[side] && p.flat[side] && slopes(s.g.cutLine(side, p.pi, p.pj)) {
				s.spiral(p, side, slopes, out)
			}
		}
	}
}

// slopes gives a function that says whether a line's cuts all go down on a slope.
func (r *run) slopes() func(line int) bool {
	known := map[int]bool{}
	return func(line int) bool {
		v, ok := known[line]
		if !ok {
			ks := r.kept.on(line)
			v = len(ks) > 0
			for i := range ks {
				v = v && ks[i].slope != 0
			}
			known[line] = v
		}
		return v
	}
}

// spiral is spirals for one hole: the ledge and what is cut through make a disc.
func (s *study) spiral(p *patch, side int, slopes func(line int) bool, out *Result) {
	g := s.g
	reach := int(roundWidth * p.cutterAcross() / g.Cell)
	seen := map[[2]int]bool{}
	var list [][2]int
	disc := *p
	grow := func(i, j int) {
		for _, d := range sides {
			e := [2]int{i + d[0], j + d[1]}
			if seen[e] || !g.inside(e[0], e[1]) || e[0] < p.i0-reach || e[0] > p.i1+reach || e[1] < p.j0-reach || e[1] > p.j1+reach {
				continue
			}
			seen[e] = true
			if g.Web(e[0], e[1]) > throughSlack && slopes(g.cutLine(side, e[0], e[1])) {
				list = append(list, e)
				disc.cellBox = disc.with(cellBox{e[0], e[1], e[0], e[1]})
			}
		}
	}
	for i, j := range cells(p.spans) {
		grow(i, j)
	}
	for n := 0; n < len(list); n++ {
		grow(list[n][0], list[n][1])
	}
	disc.cells += len(list)
	if len(list) == 0 || !s.round(&disc) {
		return
	}
	at := list[0]
	for _, e := range list {
		if g.Web(e[0], e[1]) > g.Web(at[0], at[1]) {
			at = e
		}
	}
	left := g.Web(at[0], at[1])
	if left <= DefaultStep {
		return
	}
	f := &LedgeLeft{s.at(g.spot(at[0], at[1])), left}
	f.Side = Side(side)
	f.setLine(1-side, 0)
	out.add(f)
}
