package mirror

import (
	"flipcalc/mirror/block"
	"flipcalc/mirror/fact"
	"flipcalc/mirror/transform"
)

// note adds a note unless its like was made before.
func (m *rewriter) note(level string, line int, is any) {
	if m.noted[is] {
		return
	}
	m.noted[is] = true
	m.report.Notes = append(m.report.Notes, Note{Level: level, Line: line, Is: is})
}

// assume notes that the program relies on what it hasn't said.
func (m *rewriter) assume(what uint32, line int, is any) {
	if m.said&what == 0 {
		m.said |= what
		m.report.Notes = append(m.report.Notes, Note{Level: fact.Assumed, Line: line, Is: is})
	}
}

// assumeLengths does so for the unit of lengths.
func (m *rewriter) assumeLengths(b *block.Block, s *state) {
	if s.unit == transform.Inch {
		m.said |= usedInch
	}
	if m.said&saidUnit == 0 {
		m.said |= saidUnit
		m.note(UnsaidUnit(s.unit), b.Line, AssumedUnit{Unit: s.unit})
	}
}

// UnsaidUnit is the level of an assumed unit. Inches are a warning: a control that starts in
// mm runs the program 25.4 times too small.
func UnsaidUnit(u transform.Unit) string {
	if u == transform.Inch {
		return fact.Warning
	}
	return fact.Assumed
}

// roundings notes the offsets that were rounded to inches.
func (m *rewriter) roundings() {
	if m.o.Map.Unit != transform.MM || m.said&usedInch == 0 {
		return
	}
	for a, letter := range []string{"X", "Y", "Z"} {
		mm, inch := m.maps[transform.MM].Axis(a).Offset, m.maps[transform.Inch].Axis(a).Offset
		if !transform.InMM(inch, transform.Inch).Equal(mm) {
			m.note(fact.Warning, 0, InchRounded{Axis: letter, Used: inch, Exact: mm})
		}
	}
}

// usedInch says that a length was mirrored in inches.
const usedInch uint32 = 1 << 30
