package cut

import "cmp"

// study is all that is known once both sides are cut.
type study struct {
	q       *Request
	g       *Grid
	runs    [2]*run
	islands *regions
	patches []*patch
	pieces  *regions            // what islands and tabs leave
	gaps    *regions            // islands with the tabs between them
	shorts  []*patch            // grooves that should meet and don't
	meant   map[int]bool        // labels of the islands that are recognised or declared
	masked  func(i, j int) bool // a cell that belongs to a cut meant to go through
	partly  [2][]bool           // by side and line: some of it belongs to such a cut
	flights [2][]flight         // by side: over tabs

	thinnest
}

// thick is how thick the blank is when a side is cut.
func (s *study) thick(side int) float64 { return -s.runs[side].bed }

func (s *study) level(side int) Level { return [2]Level{s.q.FaceLevel, s.q.BackLevel}[side] }

// nominal gives how much thicker than this blank the nominal one is, mm.
func (s *study) nominal() float64 {
	if s.q.Nominal == 0 {
		return 0
	}
	return s.q.Nominal - s.q.T
}

// thicker gives by how much more is left in a blank of nominal thickness, mm: a side whose
// zero lies on the bed goes as much less deep into a thinner blank.
func (s *study) thicker() float64 {
	d := s.nominal()
	for side := range 2 {
		if s.level(side) == Bed {
			d -= s.nominal()
		}
	}
	return d
}

// breakthrough gives by how much cuts of both sides must pass each other, mm.
func (s *study) breakthrough() float64 {
	if s.q.Breakthrough != nil {
		return *s.q.Breakthrough
	}
	return DefaultBreakthrough
}

// budget gives how far apart the walls of two sides may stand, mm: as far as the back may lie
// off, which without a register isn't known.
func (s *study) budget() float64 { return cmp.Or(s.q.Misalignment, DefaultBudget) }

// under gives how deep the face is cut at a place.
func (s *study) under(x, y float64) float64 {
	i, j := s.g.cellAt(x, y)
	return max(0, -s.g.depth(faceSide, i, j))
}

// at is a place of both sides.
func (s *study) at(p Spot) Where {
	return Where{Side: Both, Placed: true, Spot: p, Depth: s.under(p.X, p.Y), Count: 1}
}

// neck gives how wide what a tab hangs on must be, mm.
func (s *study) neck() float64 {
	if s.q.Neck != nil {
		return *s.q.Neck
	}
	return DefaultNeck
}
