package cut

import "math"

// skimSlack is by how much the face's highest place may differ from the skim that was said, mm:
// the program's Z and the skim are each rounded to 0.0001 in, or finer, which is 0.0013 mm
// twice. Heights are exact at the centres of cells, to 24 bits (ErrorBound).
const skimSlack = 0.003

// skimShare is the share of the blank that a piece must be to count as what the turned blank
// rests on: what is less is waste that falls out.
const skimShare = 0.1

// skim compares the skim that was said with what the face program does. The turned blank rests on
// the highest places that the face leaves, so its skim is how far those lie under the blank's
// top. Where the face cuts the blank apart, nobody knows which piece is turned: less than was said
// is told only where it is so of every piece, more only where it is.
func (s *study) skim(out *Result) {
	g := s.g
	left := g.connect(true, false, func(t *tile, k int) bool { return g.T+float64(t.h[faceSide][k]) > throughSlack })
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
		out.add(&SkimShort{where(most), most.off, said})
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
