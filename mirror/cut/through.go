package cut

import (
	"cmp"
	"maps"
	"math"
	"slices"
)

// A program doesn't say which cuts are meant to go through, and nothing here guesses it. A
// place where nothing is left (an island, cells joined at sides or corners) is recognised if
//
//	(a) one side alone cuts the whole thickness, with a flat or bull cutter or a drill, no
//	    wider than twice its cutter or as a drilled or bored hole;
//	(b) both sides cut there, nowhere wider than their two cutters together or as a drilled or
//	    bored hole, and the walls that bound one piece beside it agree (see agreement);
//	(c) a hole of one side lies in a wider round cut of the other about its centre.
//
// In (b) and (c) the cuts pass each other by Request.Breakthrough in a blank of nominal
// thickness; all hold in the nominal blank as in the measured one. What else goes through is
// declared (Request.Through, Request.Count, a bore, a pin's hole) or broken through.
const (
	grooveWidth = 2.05 // in cutter diameters: a hole bored in one circle is under 2
	roundWidth  = 4.0  // in cutter diameters: a hole that is bored wider is a round pocket
)

// throughSlack is what counts as nothing left, mm: depths are held to 24 bits, so
// that cuts which meet exactly may miss by a few nanometres.
const throughSlack = 0.001

// Island is a place where the two sides meet and should not.
type Island struct {
	Spot            // where the cuts overlap most
	Area    float64 // mm^2
	Overlap float64 // mm: by how much at most
	scant   bool    // recognised but for what the two sides pass each other by
}

// Through is one cut that is meant to go through.
type Through struct {
	Spot
	Kind    string // "declared", "hole", "groove" or "stepped"
	Both    bool   // cut from both sides
	Area    float64
	Overlap float64 // mm: how far the cuts of the two sides overlap in depth
	Step    float64 // mm: greatest step between the walls of the two sides, of a stepped hole how far its bores lie off each other
}

// through finds all islands and tells the recognised and the declared ones from the others.
func (s *study) through(out *Result) {
	s.islands = s.g.connect(true, func(i, j int) bool { return s.g.Web(i, j) <= throughSlack })
	s.meant = map[int]bool{}
	s.patches = s.patchesOf(s.islands)
	for _, p := range s.patches {
		s.meant[p.label] = true
	}
	s.part()
	for _, p := range s.patches {
		if p.kind = s.recognised(p); s.isDeclared(p) {
			p.kind = "declared"
		}
	}
	// The pieces depend on nothing else that is found out here.
	again := func() {
		before := maps.Clone(s.meant)
		for _, p := range s.patches {
			s.meant[p.label] = p.kind != ""
		}
		if !maps.Equal(s.meant, before) {
			s.part()
		}
	}
	again()
	if s.count(out) {
		again()
	}
	s.shorts = s.fallShort()
}

// part finds the pieces that the islands and the tabs between them leave: a tab counts as cut,
// where the way of each side that makes the cut leads over it from one island to another. Two
// slots in line, between which the cutter is lifted, have no tab: see tabbed.
func (s *study) part() {
	n := 0
	for side := range 2 {
		s.follow(side)
		n += len(s.flights[side])
	}
	s.pieces = s.left()
	for side, list := range s.flights {
		s.flights[side] = slices.DeleteFunc(list, func(f flight) bool { return !s.tabbed(&f) })
		n -= len(s.flights[side])
	}
	if n > 0 {
		s.pieces = s.left()
	}
	s.gaps = s.g.connect(true, func(i, j int) bool { return s.pieces.label(i, j) < 0 })
}

// left gives the pieces that are left where cuts and passages over tabs count as gone.
func (s *study) left() *regions {
	g := s.g
	return g.connect(false, func(i, j int) bool {
		if g.Web(i, j) <= solidSlack {
			return false
		}
		x, y := g.Centre(i, j)
		sides := 0
		for side := range 2 {
			on, alone := s.beneath(side, g.cutLine(side, i, j), x, y)
			over := s.over(side, x, y)
			if alone || over != nil && over.alone {
				return false
			}
			if on || over != nil {
				sides++
			}
		}
		return sides < 2
	})
}

// isDeclared says whether p holds a declared place or lies in the bore or a pin's hole.
func (s *study) isDeclared(p *patch) bool {
	for _, t := range s.q.Through {
		if s.nearThrough(t[0], t[1], func(l int) bool { return l == p.label }) {
			return true
		}
	}
	return s.isHole(p)
}

// isHole says whether p lies in the bore or in a pin's hole.
func (s *study) isHole(p *patch) bool {
	in := func(x, y, dia float64) bool {
		r := dia/2 + 0.5 + s.g.Cell
		far := 0.0
		for _, sp := range p.spans {
			for _, i := range [2]int32{sp.i0, sp.i1} {
				cx, cy := s.g.Centre(int(i), int(sp.j))
				far = max(far, math.Hypot(cx-x, cy-y))
			}
		}
		return far <= r
	}
	if b := s.q.Bore; b != nil && in(b.X, b.Y, b.Dia) {
		return true
	}
	for _, pin := range s.q.Pins {
		if in(pin.X, pin.Y, pin.Dia) {
			return true
		}
	}
	return false
}

// recognised gives what p is by (a), (b) or (c), "" if it is none of them.
func (s *study) recognised(p *patch) string {
	name := "groove"
	if s.round(p) {
		name = "hole"
	}
	bore := [2]bool{s.bores(p, faceSide), s.bores(p, backSide)}
	width := 2 * s.widest(p.spans)
	slack := 2 * s.g.Cell
	for side := range 2 {
		if !p.alone[side] || !p.flat[side] || s.beyond(p, side) < -throughSlack {
			continue
		}
		if width <= grooveWidth*p.tool[side].Diameter+slack || bore[side] {
			return name
		}
	}
	if p.alone[faceSide] || p.alone[backSide] || !p.cut[faceSide] || !p.cut[backSide] || !p.flat[faceSide] || !p.flat[backSide] {
		return ""
	}
	kind := s.fromBoth(p, name, bore, width)
	over := s.overlap(p)
	if scant := over - s.thicker(); over <= throughSlack || scant < s.breakthrough()-throughSlack {
		p.scant = kind != "" && scant > throughSlack
		return ""
	}
	return kind
}

// fromBoth is recognised for (b) and (c), whatever the two sides pass each other by.
func (s *study) fromBoth(p *patch, name string, bore [2]bool, width float64) string {
	s.outline(p)
	if width <= p.tool[faceSide].Diameter+p.tool[backSide].Diameter+2*s.g.Cell || bore[faceSide] && bore[backSide] {
		step, ok := s.agreement(p)
		for side := range 2 {
			// A step all around is that of two bores about one centre.
			if off, round := s.recess(p, 1-side); ok && step > s.budget() && bore[side] && round && off < step {
				p.step = off
				return "stepped"
			}
		}
		if p.step = step; ok {
			return name
		}
	}
	for side := range 2 {
		if off, round := s.recess(p, 1-side); bore[side] && round {
			p.step = off
			return "stepped"
		}
	}
	return ""
}

// beyond gives by how much a side alone, at the cutter's full diameter, goes through at p,
// in the thicker of the measured and the nominal blank.
func (s *study) beyond(p *patch, side int) float64 {
	v := -s.thick(side) - s.full(p, side)
	if s.level(side) == Top {
		v -= max(0, s.nominal())
	}
	return v
}

// full gives how deep a side goes at p over the full diameter of its cutter: of a drill not
// the point.
func (s *study) full(p *patch, side int) float64 {
	c := p.tool[side]
	if c == nil || c.Shape != Drill {
		return p.level[side]
	}
	tip := 0.0
	for line := range p.made[side] {
		for _, k := range s.runs[side].kept.on(line) {
			tip = min(tip, k.bottom())
		}
	}
	return tip + c.p.height(c.p.R)
}

// overlap gives by how much the cuts of both sides pass each other at p.
func (s *study) overlap(p *patch) float64 {
	over := p.low
	for side, c := range p.tool {
		if c.Shape == Drill {
			over = min(over, -s.g.T-s.full(p, side)-s.full(p, 1-side))
		}
	}
	return over
}

// bores says whether a side makes p as a drilled or bored hole: round, no wider than
// roundWidth, with plunges, circles about its centre and steps out from there alone: no other way that deep
// reaches into it.
func (s *study) bores(p *patch, side int) bool {
	if !p.cut[side] || !p.flat[side] || !s.round(p) {
		return false
	}
	wide := p.across() * s.g.Cell
	if wide > roundWidth*p.tool[side].Diameter+2*s.g.Cell {
		return false
	}
	x, y := (float64(p.i0+p.i1)/2+0.5)*s.g.Cell, (float64(p.j0+p.j1)/2+0.5)*s.g.Cell
	n := 0
	for i := range s.runs[side].kept {
		k := &s.runs[side].kept[i]
		if k.bottom() > p.level[side]+throughSlack {
			continue
		}
		if d, _, _ := k.near(x, y); d < k.p.R+wide/2-2*s.g.Cell {
			if n++; !k.about(x, y, wide/2, s.g.Cell) {
				return false
			}
		}
	}
	return n > 0
}

// recess says whether a side's cut around the round hole p is itself round about the same
// centre and wider: its wall is equally far in 32 directions. off is by how much the two
// centres lie apart, to a cell; where the walls stand near each other, from the strokes.
func (s *study) recess(p *patch, side int) (off float64, ok bool) {
	g := s.g
	ci, cj := float64(p.i0+p.i1)/2, float64(p.j0+p.j1)/2
	level := g.depth(side, int(math.Round(ci)), int(math.Round(cj)))
	if level >= 0 {
		return 0, false
	}
	least, greatest := math.Inf(1), 0.0
	for n := range 32 {
		sin, cos := math.Sincos(float64(n) * math.Pi / 16)
		d := 0.0
		for ; ; d += 0.5 {
			i, j := int(math.Round(ci+cos*d)), int(math.Round(cj+sin*d))
			if !g.inside(i, j) {
				return 0, false
			}
			if g.depth(side, i, j) > level/2 {
				break
			}
		}
		least, greatest = min(least, d), max(greatest, d)
	}
	wide := p.across()
	if greatest-least > 3+0.2/g.Cell || least*2 < wide-3 {
		return 0, false
	}
	var beyond []float64
	for _, q := range s.pairs(p) {
		if q.met && q.same {
			beyond = append(beyond, q.beyond)
		}
	}
	if 2*len(beyond) > len(p.rims) {
		lo, hi := bulk(beyond)
		return (hi - lo) / 2, true
	}
	// Cells show no less than three of them.
	return max(0, (greatest-least-3)*g.Cell/2), true
}

// report turns the patches into results and findings.
func (s *study) report(out *Result) {
	limit := s.budget()
	var barely, exact narrow
	for _, p := range s.patches {
		at := s.g.spot(p.pi, p.pj)
		if p.kind == "" {
			out.BrokenThrough = append(out.BrokenThrough, Island{at, p.area, max(0, p.overlap), p.scant})
			continue
		}
		// The middle, where that is cut through: of a groove it isn't.
		if i, j := p.middle(); s.islands.label(i, j) == p.label {
			at = s.g.spot(i, j)
		}
		t := Through{Spot: at, Kind: p.kind, Both: !p.alone[0] && !p.alone[1], Area: p.area, Overlap: max(0, p.usual), Step: p.step}
		// Of what one side makes through alone, ledges has told.
		if t.Both && p.step > DefaultStep && p.kind != "declared" {
			if p.kind == "stepped" {
				out.add(&BoresApart{s.at(at), p.step, limit})
			} else {
				out.add(&WallStep{s.at(at), p.step, limit})
			}
		}
		s.meets(p, t, &barely, &exact)
		out.Through = append(out.Through, t)
	}
	if barely.Count > 0 {
		out.add(&ShortAtTolerance{barely.Where, barely.left, s.q.ThicknessTol})
	}
	if exact.Count > 0 {
		out.add(&JustMeets{exact.Where})
	}
	// The largest first; of equal ones the one nearer the operator.
	slices.SortStableFunc(out.BrokenThrough, func(a, b Island) int {
		return cmp.Or(cmp.Compare(b.Area, a.Area), cmp.Compare(a.Y, b.Y), cmp.Compare(a.X, b.X))
	})
	for n, w := range out.BrokenThrough {
		if n == maxListed {
			break
		}
		at := s.at(w.Spot)
		if n == 0 {
			at.Count = len(out.BrokenThrough)
		}
		switch {
		case w.FaceLine == 0:
			out.add(&BrokenOut{at, Back, w.Overlap, w.Area})
		case w.BackLine == 0:
			out.add(&BrokenOut{at, Face, w.Overlap, w.Area})
		case w.scant:
			out.add(&ScantOverlap{at, w.Overlap, s.breakthrough()})
		default:
			out.add(&BrokenThrough{at, w.Overlap, w.Area})
		}
	}
}

// narrow is the worst of several cuts that hardly go through, and what it leaves in a blank that
// is as thick as it may be.
type narrow struct {
	Where
	left float64
}

// meets says whether a cut that goes through does so by more than the thickness may be
// off: one from both sides that doesn't joins those in barely, the worst of which is told;
// one that has nothing to spare joins those in exact.
func (s *study) meets(p *patch, t Through, barely, exact *narrow) {
	f := exact
	switch {
	case t.Both && s.q.ThicknessTol-p.low > throughSlack:
		f = barely
	case p.low > throughSlack:
		return
	}
	if left := s.q.ThicknessTol - max(0, p.low); f.Count == 0 || left > f.left {
		n := f.Count
		*f = narrow{s.at(t.Spot), left}
		f.Count = n
	}
	f.Count++
}
