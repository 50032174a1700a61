package mirror

import (
	"errors"
	"fmt"

	"flipcalc/mirror/block"
	"flipcalc/mirror/fact"
	"flipcalc/mirror/fault"
)

// planBlock plans a block with words in the state that its lanes are in.
func (m *rewriter) planBlock(b *block.Block) (*plan, error) {
	p, q := &m.plans[0], &m.plans[1]
	switch {
	case b.Deleted:
		by := m.deleteSwitch(b)
		if !m.split {
			m.off, m.split, m.splitLine, m.splitBy = m.s, true, b.Line, by
		} else if by != m.splitBy {
			return nil, m.refuse(b, b.Start, fmt.Sprintf("a block of switch /%c while what the block of switch /%c in line %d sets is in force", by, m.splitBy, m.splitLine),
				"", "each switch may be on or off: repeat the codes that all ways need (G90, G17, G1 and the like) in a block without a slash between them")
		}
		if err := m.plan(b, &m.s, p); err != nil {
			return nil, err
		}
	default:
		if err := m.plan(b, &m.s, p); err != nil {
			return nil, err
		}
		if m.split {
			if err := m.plan(b, &m.off, q); err != nil {
				return nil, m.onlyOff(err)
			}
			if !p.equal(q) {
				return nil, m.refuse(b, b.Start, fmt.Sprintf("a block that depends on whether the block with a slash in line %d runs", m.splitLine),
					"", "repeat the codes that both ways need (G90, G17, G2 and the like) in this block")
			}
		}
	}
	if m.split && m.s == m.off {
		m.split = false
	} else if b.Deleted && m.split && m.splitLine == b.Line {
		m.note(fact.Note, b.Line, DeletedState{})
	}
	return p, nil
}

// onlyOff says of a fault that it happens only with the switch on.
func (m *rewriter) onlyOff(err error) error {
	var f *fault.Error
	if errors.As(err, &f) {
		f.Found += fmt.Sprintf(" (when the blocks with a slash, such as line %d, are skipped)", m.splitLine)
	}
	return err
}
