package mirror

import (
	"flipcalc/mirror/block"
	"flipcalc/mirror/transform"
)

// note adds a note unless its like was made before.
func (m *rewriter) note(n Note) {
	key := n.Code
	if n.Code != Helix && n.Code != BackBoring && n.Code != DeletedState && n.Code != WholeNumbers {
		for _, v := range n.Values {
			key += " " + v
		}
	}
	if m.noted[key] {
		return
	}
	m.noted[key] = true
	m.report.Notes = append(m.report.Notes, n)
}

// assume notes that the program relies on what it hasn't said.
func (m *rewriter) assume(what uint32, n Note) {
	if m.said&what == 0 {
		m.said |= what
		m.report.Notes = append(m.report.Notes, n)
	}
}

// assumeLengths does so for the unit of lengths.
func (m *rewriter) assumeLengths(b *block.Block, s *state) {
	if s.unit == transform.Inch {
		m.said |= usedInch
	}
	m.assume(saidUnit, Note{Code: AssumedUnit, Level: Assumed, Line: b.Line, Values: []string{s.unit.String()}})
}

// roundings notes the offsets that were rounded to inches.
func (m *rewriter) roundings() {
	if m.o.Map.Unit != transform.MM || m.said&usedInch == 0 {
		return
	}
	for a, letter := range []string{"X", "Y", "Z"} {
		mm, inch := m.maps[transform.MM].Axis(a).Offset, m.maps[transform.Inch].Axis(a).Offset
		if !transform.InMM(inch, transform.Inch).Equal(mm) {
			m.note(Note{Code: InchRounded, Level: Warning, Values: []string{letter, inch.String(), mm.String()}})
		}
	}
}

// usedInch says that a length was mirrored in inches.
const usedInch uint32 = 1 << 30
