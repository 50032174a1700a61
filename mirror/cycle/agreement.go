package cycle

import (
	"fmt"
	"slices"

	"flipcalc/mirror/fact"
	"flipcalc/mirror/fault"
	"flipcalc/mirror/motion"
	"flipcalc/mirror/transform"
)

// refuse makes an error about a side's program.
func (p *program) refuse(line int, found, expected, hint string) error {
	return &fault.Error{File: p.name, Line: line, Found: found, Expected: expected, Hint: hint}
}

// agree checks the two programs against each other.
func (m *merger) agree() error {
	parts := append(m.sides[0].each(), m.sides[1].each()...)
	for _, p := range parts {
		m.named |= p.named
		if len(p.pieces) == 0 {
			return p.refuse(0, "no cut", "a program that cuts", "")
		}
	}
	if err := m.agreeSpindles(parts); err != nil {
		return err
	}
	if err := m.agreeLengths(parts); err != nil {
		return err
	}
	for _, p := range parts {
		if m.named&centreWord == 0 && p.absoluteCentres != parts[0].absoluteCentres {
			m.named |= centreWord
		}
	}
	m.noteTools()
	m.noteOffsets()
	for _, p := range m.sides {
		m.notes = append(m.notes, p.notes...)
	}
	return nil
}

// agreeSpindles checks that every tool is called and turns wherever one of them does.
func (m *merger) agreeSpindles(parts []*program) error {
	turns := false
	for _, p := range parts {
		turns = turns || p.turns
	}
	for _, p := range parts {
		for _, other := range parts {
			if !p.turns && other.turns {
				return p.refuse(p.pieces[0].line, "a cut without M3 or M4 anywhere in the program", "a started spindle, as in "+other.name,
					"if the spindle is switched by hand for one side, it must be for the other")
			}
			if p.pieces[0].tool < 0 && other.pieces[0].tool >= 0 {
				return p.refuse(p.pieces[0].line, "a cut without a tool number", "T and M6, as in "+other.name, "")
			}
		}
		for _, pc := range p.pieces {
			if pc.stopped > 0 && turns {
				return p.refuse(pc.stopped, "a cut with the spindle stopped", "M3 or M4 before it", "for a tool that cuts without turning, run the programs one after the other")
			}
			if pc.noSpeed > 0 && m.named&speedWord != 0 {
				return p.refuse(pc.noSpeed, "a started spindle without S", "S with M3 or M4, since S is used elsewhere", "it would turn at the speed of the piece before it")
			}
		}
	}
	return nil
}

// agreeLengths checks that all tools can go by one touch-off.
func (m *merger) agreeLengths(parts []*program) error {
	tools := map[int]bool{}
	for _, p := range parts {
		for _, pc := range p.pieces {
			if tools[pc.tool] = true; len(tools) > 1 && m.named&changeWord == 0 {
				return p.refuse(pc.line, fmt.Sprintf("tool %d behind another, without M6", pc.tool), "M6 at every tool change",
					"between two programs you change it by hand, in one nothing stops for you: write M6 beside T")
			}
		}
	}
	for _, p := range parts {
		for _, pc := range p.pieces {
			if len(tools) > 1 && pc.noLength > 0 {
				return p.refuse(pc.noLength, fmt.Sprintf("tool %d cuts without G43, and so does or may another on the same touch-off", pc.tool),
					"G43 H for every tool, since all stations are touched off with one",
					"store the tool lengths and call G43 H after each M6, or keep to one tool")
			}
		}
	}
	if m.named&lengthWord == 0 {
		return nil
	}
	for s, off := range m.off {
		for i := range m.sides[s].pieces {
			if pc := m.sides[s].pieces[i]; off != nil && pc.lengthLine != off.pieces[i].lengthLine {
				return m.sides[s].refuse(pc.line, "a first move in Z that may be deleted, without its tool length", "G43 H in it", "")
			}
		}
	}
	if !m.o.G53 {
		return parts[0].refuse(0, "G43 on a machine without G53", "moves in machine coordinates (g53 = true)",
			"with tool lengths active the clear height can't be written in work coordinates")
	}
	return nil
}

// noteTools says which tool numbers both sides use.
func (m *merger) noteTools() {
	var both []int
	seen := map[int]bool{}
	for _, pc := range m.sides[0].pieces {
		seen[pc.tool] = true
	}
	for _, pc := range m.sides[1].pieces {
		if seen[pc.tool] && pc.tool >= 0 {
			both = append(both, pc.tool)
			seen[pc.tool] = false
		}
	}
	if len(both) > 0 {
		slices.Sort(both)
		m.notes = append(m.notes, Note{Level: fact.Caution, Is: SameTools{both}})
	}
}

// noteOffsets says which programs name an offset in which none of their side's stations
// is cut.
func (m *merger) noteOffsets() {
	for side, p := range m.sides {
		for _, q := range p.each() {
			var at []string
			own := q.offset == 0
			for _, pair := range m.o.Pairs {
				s := []Station{pair.Face, pair.Back}[side]
				at = append(at, s.Offset)
				own = own || transform.OffsetCode(s.Offset) == q.offset
			}
			if !own {
				m.notes = append(m.notes, Note{Level: fact.Warning, File: q.name, Line: q.offsetLine, Is: OffsetChange{Named: transform.OffsetName(q.offset), RunsIn: at}})
			}
		}
	}
}

// Offset gives the work offset that a program names, with its line; "" for none, or for
// one that can't be merged.
func (s Source) Offset(tolerance motion.Num) (name string, line int) {
	p, err := cutProgram(s, tolerance, false)
	if err != nil || p.offset == 0 {
		return "", 0
	}
	return transform.OffsetName(p.offset), p.offsetLine
}
