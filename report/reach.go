package report

import (
	"slices"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/motion"
	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/registration/bed"
	"flipcalc/report/letters"
)

// Where the cutters of each side go: how deep, and where no clamp may stand.

// TakeMoves takes over what a program's moves come to, in unit.
func (p *Program) TakeMoves(s *motion.Summary, unit transform.Unit) {
	p.Seconds, p.Lowest = Estimate(s.Seconds), LowestOf(s, unit)
	if s.UnknownZero == 0 {
		if z, ok := s.Crossing(); ok {
			low := decimal.NewFromFloat(z / unit.MM()).Round(9).RoundFloor(3)
			p.Crossing = &low
		}
		p.Cuts, p.Compensated = s.Cut.Box(unit), s.CompLine > 0
	}
}

// reach is what the cutters of a side's programs in an offset pass over with their whole
// width, from its zero; empty where moves or cutters aren't known.
func (s *Setup) reach(back bool, offset string) (all transform.Box) {
	for i := range s.Programs {
		p := &s.Programs[i]
		if p.Offset != offset || !p.cuts(back) {
			continue
		}
		radius, ok := s.widest(p)
		if !ok || !p.Cuts.Any {
			return transform.Box{}
		}
		if p.Compensated { // the contour is programmed: the cutter goes beside it, at most
			radius = radius.Add(radius)
		}
		box := p.Cuts
		for axis := range 2 {
			box.Least[axis], box.Greatest[axis] = box.Least[axis].Sub(radius), box.Greatest[axis].Add(radius)
		}
		all = all.Join(box)
	}
	return all
}

// widest is the radius of a program's widest cutter; of all cutters where it names none.
func (s *Setup) widest(p *Program) (radius decimal.Decimal, ok bool) {
	for _, t := range s.Tools {
		if len(p.Tools) == 0 || slices.Contains(p.Tools, t.Number) {
			radius = decimal.Max(radius, t.Dia.Div(decimal.New(2, 0)))
		}
	}
	for _, n := range p.Tools {
		if !slices.ContainsFunc(s.Tools, func(t Tool) bool { return t.Number == n }) {
			return radius, false
		}
	}
	return radius, len(s.Tools) > 0
}

// noClamp is what holds where cutters cross every edge.
const noClamp = "hold it with no clamp on top: cutters cross every edge"

// clampLimits say where clamps may stand on each side, and how high, "" where it isn't known.
func (s *Setup) clampLimits() (limits [2]string) {
	c := &checklist{s: s}
	for i, back := range []bool{false, true} {
		if box := s.reach(back, c.offsets(back)[0]); box.Any {
			limits[i] = s.clampWords(box, back)
		}
	}
	return limits
}

// crossing is the least Z, from its Z0, at which a side's programs go beyond their cuts in rapid;
// nil where they don't at a known height.
func (s *Setup) crossing(back bool) (low *decimal.Decimal) {
	for i := range s.Programs {
		if p := &s.Programs[i]; p.cuts(back) && p.Crossing != nil && (low == nil || p.Crossing.LessThan(*low)) {
			low = p.Crossing
		}
	}
	return low
}

// clampWords say where on a side that cutters reach no clamp may stand; the holder is wider
// than they are.
func (s *Setup) clampWords(box transform.Box, back bool) string {
	a := s.Answer
	zero := a.FaceZero
	if back {
		zero = a.BackZero
	}
	// Of a blank in the frame of its zero, or at its first place, which may be turned.
	blank := bed.Rect{X: zero.X.Neg(), Y: zero.Y.Neg(), W: a.Used.W, H: a.Used.H}
	reach := bed.Rect{X: box.Least[0], Y: box.Least[1], W: box.Greatest[0].Sub(box.Least[0]), H: box.Greatest[1].Sub(box.Least[1])}
	if places := s.placesOf(back); len(places) > 0 {
		blank, reach = places[0].Blank, s.reachRect(places[0])
	}
	if !reach.X.GreaterThan(blank.X) && !reach.Y.GreaterThan(blank.Y) && !reach.Right().LessThan(blank.Right()) && !reach.Far().LessThan(blank.Far()) {
		return noClamp
	}
	places := int32(letters.Places(s.Unit)) - 1 // a clamp is set no finer
	text := "clamp outside"
	for axis, name := range []string{" X", ", Y"} {
		text += name + box.Least[axis].RoundFloor(places).String() + " to " + box.Greatest[axis].RoundCeil(places).String()
	}
	text += " from X0 Y0"
	if low := s.crossing(back); low != nil {
		text += ", tops under Z" + low.RoundFloor(places).String() + " and the holder"
	}
	if a.Question.Register == registration.Dowels {
		text += ", clear of dowel holes and drill"
	}
	return text
}

// reachRect is what the cutters of a station pass over on the bed, in its unit; empty is
// unknown.
func (s *Setup) reachRect(st bed.Station) (r bed.Rect) {
	box := s.reach(st.Side == bed.BackSide, st.Offset)
	if !box.Any {
		return r
	}
	in := func(v decimal.Decimal) decimal.Decimal {
		v, _ = transform.Convert(v, s.Unit, s.bedUnit(), 6)
		return v
	}
	r.X, r.Y = st.Zero.X.Add(in(box.Least[0])), st.Zero.Y.Add(in(box.Least[1]))
	r.W, r.H = in(box.Greatest[0].Sub(box.Least[0])), in(box.Greatest[1].Sub(box.Least[1]))
	return r
}
