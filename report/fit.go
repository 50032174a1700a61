package report

import (
	"slices"

	"flipcalc/mirror/fact"
	"flipcalc/registration"
)

func (s *Setup) fitSection() Section {
	sec := Section{ID: "fit", Title: "Fit of dowels or plug"}
	p := s.Pins
	if p == nil {
		return sec
	}
	if p.Layout != nil || p.Stud != nil || p.Index != nil {
		sec.Blocks = s.fitBlocks(p)
		return sec
	}
	unit := s.Unit.String()
	var rows [][2]string
	row := func(name, value string) {
		if value != "" {
			rows = append(rows, [2]string{name, value})
		}
	}
	if !p.Pin.IsZero() {
		row("Dowel", p.Pin.String()+" "+unit+" dia")
	}
	row("Fit", p.Fit)
	if p.Fit != "" || !p.Least.IsZero() || !p.Most.IsZero() {
		row("Clearance on the diameter", p.Least.String()+" to "+p.Most.String()+" "+unit+fitWords(p))
	}
	if p.Foolproof {
		row("Foolproof", "yes: no wrong lay-up goes on")
	} else {
		row("Foolproof", "no: a wrong lay-up goes on")
		row("Cure", p.Cure)
	}
	row("Drilling program", p.Program)
	sec.Blocks = append(sec.Blocks, Pairs{rows})
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
