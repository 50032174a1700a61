package report

import (
	"slices"

	"flipcalc/mirror/fact"
	"flipcalc/registration"
)

func (s *Setup) fitSection() Section {
	sec := Section{ID: "fit", Title: "Fit of dowels or plug"}
	if p := s.Pins; p != nil {
		sec.Blocks = s.fitBlocks(p)
	}
	return sec
}

func fitWords(p *PinFit) string {
	switch {
	case p.Least.IsZero() && p.Most.IsZero():
		return " (the same size: it can be tight)"
	case p.Most.Sign() <= 0:
		return " (always tight: pressed in)"
	case p.Least.IsNegative():
		return " (may be tight or loose)"
	}
	return " (always loose)"
}

// fitBlocks show a pattern of dowels or a plug, the programs that drill it, and
// what all that rests on.
func (s *Setup) fitBlocks(p *PinFit) []Block {
	var blocks []Block
	switch {
	case p.Layout != nil:
		blocks = s.layoutBlocks(p)
	case p.Stud != nil:
		blocks = s.studBlocks(p)
	}
	if p.Index != nil {
		blocks = append(blocks, Pairs{[][2]string{indexRow(p.Index, " "+s.Unit.String())}})
	}
	blocks = append(blocks, drillingBlocks(p.Drilling, s.Unit)...)
	for _, level := range []string{"warning", "caution", "note", "assumed"} {
		for _, n := range p.Notes {
			// What the answer rests on is told with it.
			if n.Level == level && (s.Answer == nil || !slices.ContainsFunc(s.Answer.Facts, func(f registration.Fact) bool { return f.Code() == fact.Code(n.Is) })) {
				blocks = append(blocks, notePara(n, s.Unit))
			}
		}
	}
	return blocks
}
