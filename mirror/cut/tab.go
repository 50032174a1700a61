package cut

import "slices"

// Tabs are the bridges that cuts which are meant to go through leave between a part and
// what is around it.
type Tabs struct {
	Count int
	// Least is the height of the lowest one, mm, in the middle of the groove: that which
	// half of its length reaches. X and Y are a place on it.
	Least float64
	X, Y  float64
}

// A tab is a bridge of some height and no great length. These are common practice: a tab
// under a tenth of the cutter's diameter, or three tenths of a millimetre, breaks before
// the last pass is done; tabs are a few cutters long. What is longer and as low as cuts
// that fall short are is no tab.
const (
	leastTab  = 0.3  // mm
	tabShare  = 0.1  // of the cutter's diameter, up to half of the thickness
	tabLength = 4.0  // in cutter diameters
	longTab   = 20.0 // mm: but no less than this
)

// judge counts the tabs, and notes those that are too low and the bridges that are none.
func (s *study) judge(all []bridge, pieces *regions, out *Result) {
	side := faceSide
	if slices.ContainsFunc(s.patches, func(p *patch) bool { return p.kind != "" && p.cut[backSide] }) {
		side = backSide
	}
	held := s.held(pieces, side)
	hanging, widths := s.hanging(all, pieces, side)
	if len(hanging) > 0 {
		b := hanging[0]
		f := s.finding(CodeTab, b.Spot)
		f.Index, f.Amount, f.Limit, f.Count = 2, widths[0], s.neck(), len(hanging)
		out.add(f)
	}
	var weak Finding
	for _, b := range all {
		across := b.across
		f := s.finding(CodeShort, b.Spot)
		f.Amount, f.Limit, f.Length = b.height, s.q.Web, b.length
		if b.length > max(longTab, tabLength*across) && b.height <= (1-shortShare)*s.g.T {
			out.add(f)
			continue
		}
		if out.Tabs.Count++; out.Tabs.Count == 1 || b.height < out.Tabs.Least {
			out.Tabs.Least, out.Tabs.X, out.Tabs.Y = b.height, b.X, b.Y
		}
		f.Code, f.Limit = CodeTab, max(leastTab, min(tabShare*across, s.g.T/2))
		if s.q.ThicknessTol > f.Limit {
			f.Limit, f.Index = s.q.ThicknessTol, 1
		}
		if s.q.HeldAll || held[b.pieces[0]] && held[b.pieces[1]] || b.height > f.Limit-throughSlack && f.Index == 0 || b.height > f.Limit+throughSlack {
			continue
		}
		if n := weak.Count; n == 0 || f.Amount < weak.Amount {
			weak, weak.Count = f, n
		}
		weak.Count++
	}
	if weak.Count > 0 {
		out.add(weak)
	}
}

// tabs counts the bridges, and looks for cuts in a part that come after its outline,
// which leaves it free or on tabs. The pieces that islands and passages leave are held
// together by tabs alone: a bridge that joins two of them is one.
func (s *study) tabs(out *Result) {
	if s.pieces.n < 2 {
		return
	}
	part := s.pieces.large()
	s.judge(s.bridges(s.pieces, part), s.pieces, out)
	if !s.q.HeldAll {
		s.early(s.pieces, part, out)
	}
}

// early notes cuts in a part after the last line of the groove that parts it from the
// rest, on the side that goes through last. A part that is held is no matter.
func (s *study) early(pieces *regions, part func(int) bool, out *Result) {
	g := s.g
	gaps := s.gaps.split()
	beside := make([][]int, len(gaps))
	last := make([][2]int, len(gaps)) // by gap: the last line of each side that is meant to go through
	done := make([][2]int, pieces.n)  // by piece: the same of the gaps that part it from others
	for n, spans := range gaps {
		beside[n] = pieces.beside(spans, false, part)
		for i, j := range cells(spans) {
			for side := range 2 {
				if s.meant[s.islands.label(i, j)] {
					last[n][side] = max(last[n][side], g.cutLine(side, i, j))
				}
			}
		}
		if len(beside[n]) < 2 {
			continue
		}
		for _, l := range beside[n] {
			for side := range 2 {
				done[l][side] = max(done[l][side], last[n][side])
			}
		}
	}
	held := [2]map[int]bool{s.held(pieces, faceSide), s.held(pieces, backSide)}
	side := func(label int) int {
		if done[label][backSide] > 0 {
			return backSide
		}
		return faceSide
	}
	found := [2]Finding{} // by side: the first cut that comes too late
	late := func(label, line, i, j int) {
		d := side(label)
		after, f := done[label][d], &found[d]
		if after > 0 && line > after && part(label) && !held[d][label] && (f.Count == 0 || line < max(f.FaceLine, f.BackLine)) {
			*f = Finding{Code: CodeEarly, Side: Side(d), Placed: true, Count: 1}
			f.X, f.Y = g.Centre(i, j)
			f.setLine(d, line)
		}
	}
	for _, sp := range pieces.spans {
		for i := int(sp.i0); i <= int(sp.i1); i++ {
			late(int(sp.label), g.cutLine(side(int(sp.label)), i, int(sp.j)), i, int(sp.j))
		}
	}
	for n, spans := range gaps { // holes and windows in one piece
		if len(beside[n]) == 1 {
			late(beside[n][0], last[n][side(beside[n][0])], int(spans[0].i0), int(spans[0].j))
		}
	}
	for _, f := range found {
		if f.Count > 0 {
			out.add(f)
		}
	}
}
