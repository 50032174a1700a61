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
		f := &TabHangs{s.at(hanging[0].Spot), widths[0], s.neck()}
		f.Count = len(hanging)
		out.add(f)
	}
	var weak *bridge
	weaker := 0 // tabs that are too low
	for i := range all {
		b := &all[i]
		if b.length > max(longTab, tabLength*b.across) && b.height <= (1-shortShare)*s.g.T {
			out.add(&StretchShort{s.at(b.Spot), b.height, b.length})
			continue
		}
		if out.Tabs.Count++; out.Tabs.Count == 1 || b.height < out.Tabs.Least {
			out.Tabs.Least, out.Tabs.X, out.Tabs.Y = b.height, b.X, b.Y
		}
		enough := b.least(s.g.T) - throughSlack
		if s.q.ThicknessTol > b.least(s.g.T) {
			enough = s.q.ThicknessTol + throughSlack
		}
		if s.q.HeldAll || held[b.pieces[0]] && held[b.pieces[1]] || b.height > enough {
			continue
		}
		if weaker++; weak == nil || b.height < weak.height {
			weak = b
		}
	}
	if weak == nil {
		return
	}
	at := s.at(weak.Spot)
	at.Count = weaker
	if least := weak.least(s.g.T); s.q.ThicknessTol > least {
		out.add(&TabDoubtful{at, weak.height, s.q.ThicknessTol})
	} else {
		out.add(&TabLow{at, weak.height, least})
	}
}

// least gives how high a tab must be in a blank that thick.
func (b *bridge) least(thick float64) float64 {
	return max(leastTab, min(tabShare*b.across, thick/2))
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
	found := [2]*CutOnTabs{} // by side: the first cut that comes too late
	late := func(label, line, i, j int) {
		d := side(label)
		after, f := done[label][d], found[d]
		if after > 0 && line > after && part(label) && !held[d][label] && (f == nil || line < max(f.FaceLine, f.BackLine)) {
			x, y := g.Centre(i, j)
			found[d] = &CutOnTabs{onSide(d, Spot{X: x, Y: y}, line)}
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
		if f != nil {
			out.add(f)
		}
	}
}
