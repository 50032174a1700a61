package cut

import "math"

// skimSlack is by how much the face's highest place may differ from the skim that was said, mm:
// the program's Z and the skim are each rounded to 0.0001 in, or finer, which is 0.0013 mm
// twice. Heights are exact at the centres of cells, to 24 bits (ErrorBound).
const skimSlack = 0.003

// ridgeStep is the widest step over of a facing pass, as a share of the cutter's diameter, whose
// ridges a maker takes for a flat top (common practice: a tenth to a fifth with a ball).
const ridgeStep = 0.2

// ridge is how high a ridge may be that a cutter's shape leaves between passes, mm: what its end
// rises over half a step. A skim is said to the floor, and the turned blank rests on the ridges,
// so that its web is thinner by as much; from DefaultStep on that is no flat top, as with a vee.
func (t Tool) ridge() float64 {
	p := t.profile()
	if h := p.height(p.flat + ridgeStep*p.R); h > 0 && p.flat < p.R {
		return min(h, DefaultStep)
	}
	return 0
}

// skimShare is the share of the blank that a piece must be to count as what the turned blank
// rests on: what is less is waste that falls out.
const skimShare = 0.1

// skim compares the skim that was said with what the face program does. The turned blank rests on
// the highest places that the face leaves, so its skim is how far those lie under the blank's
// top. Where the face cuts the blank apart, nobody knows which piece is turned: less than was said
// is told only where it is so of every piece, more only where it is.
func (s *study) skim(out *Result) {
	g := s.g
	left := g.connect(false, func(i, j int) bool { return g.Face(i, j) > throughSlack })
	tops := make([]skimTop, left.n)
	for _, sp := range left.spans {
		top := &tops[sp.label]
		for i := int(sp.i0); i <= int(sp.i1); i++ {
			if x, y := g.Centre(i, int(sp.j)); !g.inBlank(x, y) {
				continue
			}
			if h := -g.depth(faceSide, i, int(sp.j)); top.cells == 0 || h < top.off {
				top.off, top.at = h, g.spot(i, int(sp.j))
			}
			top.cells++
		}
	}
	var least, most *skimTop
	for i := range tops {
		t := &tops[i]
		if float64(t.cells) < skimShare*float64(g.NX)*float64(g.NY) {
			continue
		}
		if least == nil || t.off < least.off {
			least = t
		}
		if most == nil || t.off > most.off {
			most = t
		}
	}
	if least == nil {
		return
	}
	// Between two centres a ridge may stand higher, by what a cutter's shape rises over the way
	// from a centre to a cell's corner (ErrorBound).
	ridge := 0.0
	for _, u := range s.runs[faceSide].uses {
		ridge = max(ridge, u.tool.Rise(g.Cell/math.Sqrt2))
	}
	where := func(t *skimTop) Where { return onSide(faceSide, t.at, t.at.FaceLine) }
	switch said := s.q.Skimmed; {
	case most.off < said-skimSlack:
		out.add(&SkimShort{where(most), most.off, said, s.runs[faceSide].toolAt(most.at.FaceLine).ridge()})
	case least.off > said+skimSlack+ridge:
		out.add(&SkimUnsaid{where(least), least.off, said})
	}
}

// skimTop is the highest place of a piece.
type skimTop struct {
	cells int
	off   float64 // how far it lies under the blank's top
	at    Spot
}
