package cut

import "slices"

// between tells the least wall between the cuts of the two sides, of those thinner than the
// web asked for, and again with the errors taken off.
//
// A wall is wood that stands beside a cut of the face and a cut of the back (see couple).
// What a cut meant to go through leaves beside it is the shape of the part, not a wall
// between the sides. Where the sides meet and should not, that comes first: around the
// hole all is thin.
func (s *study) between(out *Result) {
	q := s.q
	if len(s.pierced) > 0 || slices.ContainsFunc(s.patches, func(p *patch) bool { return p.kind == "" }) {
		return
	}
	asked := q.Web - max(throughSlack, leaning*q.Web)
	if asked > 0 {
		s.least(couple{solid: s.g.T}, true, &out.Wall, asked)
	}
	if out.Wall.Any {
		out.add(s.webFinding(CodeWall, out.Wall))
	}
	out.WorstWall = out.Wall
	if q.Misalignment == 0 && q.ThicknessTol == 0 {
		return
	}
	s.least(couple{miss: q.Misalignment, solid: s.g.T - q.ThicknessTol}, true, &out.WorstWall, max(asked, throughSlack))
	if out.WorstWall.Any && !out.Wall.Any {
		out.add(s.webFinding(CodeWallTolerance, out.WorstWall))
	}
}

// leaning is how much thinner than the web asked for a wall must be to be told: floors
// that run up to 8 degrees out of level leave 1 % less square to them than up and down.
const leaning = 0.01
