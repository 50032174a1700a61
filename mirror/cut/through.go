package cut

import (
	"cmp"
	"math"
	"slices"
)

// Which cuts are meant to go through? A program doesn't say, so the shape of the
// cut must. A place where nothing is left (an island, cells joined at sides or
// corners) counts as meant, in this order, if
//
//  1. it holds a place declared in Request.Through, or lies in a declared bore or
//     pin hole;
//  2. one program alone cuts it down to the other surface, with a flat or bull
//     cutter or by plunging (drilling), as a groove or hole at most twice as wide
//     as the cutter, or as a round hole up to four times as wide; such a program
//     names the thickness itself;
//  3. it is a groove or hole at most twice as wide as the cutters, flat, bull or
//     plunged on both sides, and over most of its edge both sides have their
//     wall in the same place, within a third of the cutter: an outline, a slot or a
//     hole that both programs follow;
//  4. one side has a groove or hole as in 3, the other a round recess about the
//     same centre, or a bore of another size: a stepped hole;
//  5. it is wider, cut flat, both sides have their walls in the same place or one
//     side goes through alone, and each side that takes part does so at the depth
//     of a cut that is meant by 2 or 3: a window cleared along with the outline;
//  6. it is a round hole of one size on both sides, and one side cuts it at the depth
//     of a groove that is meant to go through, even one that falls short.
//
// Anything else is a break-through: a pocket or an engraving that meets another
// cut, engraving with vee and ball cutters that comes out on the other side, two
// pockets back to back.
const (
	grooveWidth = 2.05 // in cutter diameters: a hole bored in one circle is under 2
	roundWidth  = 4.0  // in cutter diameters
	wallShare   = 0.4  // of the edge: of a wide groove only the part's side need agree
	roundShare  = 0.8  // of the edge of a round hole, where there is no other side
)

// throughSlack is what counts as nothing left, mm: depths are held to 24 bits, so
// that cuts which meet exactly may miss by a few nanometres.
const throughSlack = 0.001

// Island is a place where the two sides meet and should not.
type Island struct {
	Area     float64 // mm^2
	X, Y     float64 // where the cuts overlap most
	Overlap  float64 // mm: by how much at most
	FaceFile string
	BackFile string
	FaceLine int
	BackLine int
	Least    [2]float64 // corners of the rectangle around it
	Greatest [2]float64
}

// Through is one cut that is meant to go through.
type Through struct {
	Kind     string // "declared", "hole", "groove", "stepped" or "window"
	Both     bool   // cut from both sides
	X, Y     float64
	Area     float64
	Overlap  float64 // mm: how far the cuts of the two sides overlap in depth
	Step     float64 // mm: greatest step between the walls of the two sides, of a stepped hole how far its bores lie off each other
	FaceFile string
	BackFile string
	FaceLine int
	BackLine int
}

// study is all that is known once both sides are cut.
type study struct {
	q       *Request
	g       *Grid
	runs    [2]*run
	islands *regions
	patches []*patch
	shorts  []*patch            // grooves that should meet and don't
	rings   []*patch            // grooves of one side around a part that don't go through
	meant   map[int]bool        // labels of the islands that are meant
	masked  func(i, j int) bool // a cell that belongs to a cut meant to go through
	own     [2][]bool           // by side and line: it belongs to such a cut

	thinnest
}

// thick is how thick the blank is when a side is cut.
func (s *study) thick(side int) float64 { return -s.runs[side].bed }

// through finds all islands and tells the meant ones from the others.
func (s *study) through() {
	t := float32(s.g.T)
	s.islands = s.g.connect(false, true, func(c *tile, k int) bool {
		return t+c.h[faceSide][k]+c.h[backSide][k] <= throughSlack
	})
	for label, spans := range s.islands.split() {
		p := &patch{label: label, in: s.islands, spans: spans}
		s.measure(p, s.islands)
		p.declared = s.isDeclared(p)
		s.patches = append(s.patches, p)
	}
	for _, p := range s.patches {
		p.kind = s.kind(p)
	}
	s.shorts = s.fallShort()
	var wide []*patch
	for _, p := range s.patches {
		if p.kind == "" && s.window(p) {
			wide = append(wide, p)
		}
	}
	for _, p := range wide {
		p.kind = "window"
		if s.round(p) {
			p.kind = "hole"
		}
	}
	s.meant = map[int]bool{}
	for _, p := range s.patches {
		if p.kind != "" {
			s.meant[p.label] = true
		}
	}
	s.rings = s.fallShortAround()
}

// isDeclared says whether p holds a declared place or lies in a declared hole.
func (s *study) isDeclared(p *patch) bool {
	for _, t := range s.q.Through {
		i, j := s.g.cellAt(t[0], t[1])
		for dj := -1; dj <= 1; dj++ {
			for di := -1; di <= 1; di++ {
				if s.islands.label(i+di, j+dj) == p.label {
					return true
				}
			}
		}
	}
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

// kind gives what p is meant as by rules 1 to 4, "" if by none.
func (s *study) kind(p *patch) string {
	if p.declared {
		return "declared"
	}
	if !p.flat[faceSide] && !p.flat[backSide] {
		return ""
	}
	s.outline(p, s.islands)
	c := s.g.Cell
	narrow := p.width <= grooveWidth*p.across()+2*c
	name := "groove"
	if s.round(p) {
		name = "hole"
	}
	for side := range 2 {
		if p.alone[side] && p.flat[side] {
			d := p.tool[side].Diameter
			if p.width <= grooveWidth*d+2*c || name == "hole" && p.width <= roundWidth*d+2*c {
				return name
			}
		}
	}
	if p.alone[faceSide] || p.alone[backSide] {
		return ""
	}
	if p.cut[faceSide] && p.cut[backSide] && p.flat[faceSide] && p.flat[backSide] && narrow {
		if p.agree >= wallShare {
			if p.larger > s.step() {
				return "stepped"
			}
			return name
		}
		if name == "hole" && (s.recess(p, faceSide) || s.recess(p, backSide)) {
			return "stepped"
		}
	}
	return ""
}

// recess says whether a side's cut around the round hole p is itself round about
// the same centre: its wall is equally far in 32 directions.
func (s *study) recess(p *patch, side int) bool {
	g := s.g
	ci, cj := float64(p.i0+p.i1)/2, float64(p.j0+p.j1)/2
	level := g.depth(side, int(math.Round(ci)), int(math.Round(cj)))
	if level >= 0 {
		return false
	}
	limit := roundWidth * 2 * p.across() / g.Cell
	least, greatest := math.Inf(1), 0.0
	for n := range 32 {
		sin, cos := math.Sincos(float64(n) * math.Pi / 16)
		d := 0.0
		for ; d <= limit; d += 0.5 {
			i, j := int(math.Round(ci+cos*d)), int(math.Round(cj+sin*d))
			if !g.inside(i, j) || g.depth(side, i, j) > level/2 {
				break
			}
		}
		if d > limit {
			return false
		}
		least, greatest = min(least, d), max(greatest, d)
	}
	return greatest-least <= 3+0.2/g.Cell && least*2*g.Cell >= p.width-3*g.Cell
}

// equalHoles says whether p is one round hole on both sides, cut flat.
func (s *study) equalHoles(p *patch) bool {
	if p.alone[0] || p.alone[1] || !p.cut[0] || !p.cut[1] || !p.flat[0] || !p.flat[1] || !s.round(p) {
		return false
	}
	s.outline(p, s.islands)
	return p.agree >= roundShare
}

// window is rules 5 and 6.
func (s *study) window(p *patch) bool {
	const same = 0.02 // mm between the floors of one job
	if s.equalHoles(p) {
		near := func(o *patch) bool {
			return math.Abs(o.level[0]-p.level[0]) <= same || math.Abs(o.level[1]-p.level[1]) <= same
		}
		for _, o := range s.shorts {
			if near(o) {
				return true
			}
		}
		for _, o := range s.patches {
			if (o.kind == "groove" || o.kind == "hole") && !o.alone[0] && !o.alone[1] && o.cut[0] && o.cut[1] && near(o) {
				return true
			}
		}
	}
	part := [2]bool{p.alone[faceSide], p.alone[backSide]}
	if !part[0] && !part[1] {
		if s.outline(p, s.islands); !p.cut[0] || !p.cut[1] || p.agree < wallShare {
			return false
		}
		part = [2]bool{true, true}
	}
	for side := range 2 {
		if !part[side] {
			continue
		}
		if !p.flat[side] {
			return false
		}
		found := false
		for _, o := range s.patches {
			found = found || (o.kind == "groove" || o.kind == "hole") && o.cut[side] &&
				o.alone == p.alone && math.Abs(o.level[side]-p.level[side]) <= same
		}
		if !found {
			return false
		}
	}
	return true
}

// under gives how deep the face is cut at a place.
func (s *study) under(x, y float64) float64 {
	i, j := s.g.cellAt(x, y)
	return max(0, -s.g.depth(faceSide, i, j))
}

// step gives the step between the walls of two sides that is allowed, mm.
func (s *study) step() float64 { return cmp.Or(s.q.Step, DefaultStep) }

// report turns the patches into results and findings.
func (s *study) report(out *Result) {
	limit := s.step()
	barely := Finding{Code: CodeShortTolerance, Side: Both, Placed: true}
	exact := Finding{Code: CodeMeets, Side: Both, Placed: true}
	for _, p := range s.patches {
		x, y := s.g.Centre(p.pi, p.pj)
		f, b := s.g.cutLine(faceSide, p.pi, p.pj), s.g.cutLine(backSide, p.pi, p.pj)
		if p.kind == "" {
			w := Island{Area: p.area, X: x, Y: y, Overlap: max(0, p.overlap), FaceLine: f, BackLine: b}
			w.Least = [2]float64{float64(p.i0) * s.g.Cell, float64(p.j0) * s.g.Cell}
			w.Greatest = [2]float64{float64(p.i1+1) * s.g.Cell, float64(p.j1+1) * s.g.Cell}
			out.BrokenThrough = append(out.BrokenThrough, w)
			continue
		}
		// The middle, where that is cut through: of a groove it isn't.
		if i, j := (p.i0+p.i1)/2, (p.j0+p.j1)/2; s.islands.label(i, j) == p.label {
			x, y = s.g.Centre(i, j)
			f, b = s.g.cutLine(faceSide, i, j), s.g.cutLine(backSide, i, j)
		}
		t := Through{Kind: p.kind, Both: !p.alone[0] && !p.alone[1], X: x, Y: y, Area: p.area,
			Overlap: max(0, p.usual), FaceLine: f, BackLine: b}
		// Of what one side makes through alone, ledges has told.
		if t.Step = p.step; t.Both && p.step > limit {
			w := Finding{Code: CodeStep, Side: Both, Placed: true, X: x, Y: y,
				Depth: s.under(x, y), Amount: p.step, Limit: limit, Area: p.area, FaceLine: f, BackLine: b, Count: 1}
			if p.kind == "stepped" {
				w.Index = 1
			}
			out.Findings = append(out.Findings, w)
		}
		s.meets(p, t, &barely, &exact)
		out.Through = append(out.Through, t)
	}
	for _, f := range [2]Finding{barely, exact} {
		if f.Count > 0 {
			out.Findings = append(out.Findings, f)
		}
	}
	// The largest first; of equal ones the one nearer the operator.
	slices.SortStableFunc(out.BrokenThrough, func(a, b Island) int {
		return cmp.Or(cmp.Compare(b.Area, a.Area), cmp.Compare(a.Y, b.Y), cmp.Compare(a.X, b.X))
	})
	for n, w := range out.BrokenThrough {
		if n == maxListed {
			break
		}
		f := Finding{Code: CodeThrough, Side: Both, Placed: true, X: w.X, Y: w.Y, Amount: w.Overlap, Depth: s.under(w.X, w.Y),
			Area: w.Area, FaceLine: w.FaceLine, BackLine: w.BackLine, Count: 1}
		if n == 0 {
			f.Count = len(out.BrokenThrough)
		}
		out.Findings = append(out.Findings, f)
	}
}

// meets says whether a cut that goes through does so by more than the thickness may be
// off: one from both sides that doesn't joins those in barely, the worst of which is told;
// one that has nothing to spare joins those in exact.
func (s *study) meets(p *patch, t Through, barely, exact *Finding) {
	f := exact
	switch {
	case t.Both && s.q.ThicknessTol-p.low > throughSlack:
		f = barely
	case p.low > throughSlack:
		return
	}
	if left := s.q.ThicknessTol - max(0, p.low); f.Count == 0 || left > f.Amount {
		n := f.Count
		*f = Finding{Code: f.Code, Side: Both, Placed: true, X: t.X, Y: t.Y, Depth: s.under(t.X, t.Y), Amount: left, Limit: s.q.ThicknessTol,
			Area: t.Area, FaceLine: t.FaceLine, BackLine: t.BackLine, Count: n}
	}
	f.Count++
}
