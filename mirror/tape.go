package mirror

import (
	"flipcalc/mirror/block"
	"flipcalc/mirror/fact"
	"flipcalc/mirror/transform"
)

// behindEnd reports that what follows stands behind M2, M30, a closing % or ^Z.
func (m *rewriter) behindEnd() bool { return m.closed || m.s.ended }

// idle takes a line behind the end, which must not move an axis: controls differ on
// whether they run it. words says that it holds more than comments.
func (m *rewriter) idle(b *block.Block, words bool) error {
	if err := m.motionless(b, b.Start); err != nil {
		return err
	}
	if b.Percent && b.N == 0 {
		m.closed = true
	} else if words {
		m.note(fact.Warning, b.Line, TextAfterEnd{})
	}
	return nil
}

// motionless refuses a word from offset at on in b's line that could move an axis.
func (m *rewriter) motionless(b *block.Block, at int) error {
	if i := block.Moving(m.chunk[at:b.End]); i >= 0 {
		return m.refuse(b, at+i, "motion behind the end of the program", "nothing that moves",
			"some controls run it: take it out, or put it before the end")
	}
	return nil
}

// frame looks after % and what stands behind it.
func (m *rewriter) frame(b *block.Block) error {
	if !b.Percent {
		return nil
	}
	switch {
	case m.report.Moves > 0 || m.called || m.opened || m.s.ended:
		if b.N > 0 {
			return m.refuse(b, b.Start, "text after %", "% alone on its line",
				"some controls end the program here, others take the line as a comment: write comments in parentheses")
		}
		m.closed, m.quick = true, false
	case b.N > 0 && !isNumber(b):
		return m.refuse(b, b.Start, "text after %", "% alone on its line",
			"some controls take the line as a comment, others run it: write comments in parentheses")
	case m.early != nil:
		return m.early
	default:
		m.opened = true
	}
	return nil
}

// unlikeStart refuses the first word of a block before an opening % that sets something
// else than what is set when a program starts. Some controls leave it unread.
func (m *rewriter) unlikeStart(b *block.Block) error {
	for i := range b.W[:b.N] {
		if w := &b.W[i]; !m.atStart(w) {
			return m.refuse(b, int(w.Start), "a word before the opening % that sets something", "% before it",
				"some controls leave it unread, others run it: put it behind %")
		}
	}
	return nil
}

// atStart reports a G or M word that changes nothing at the start of a program.
func (m *rewriter) atStart(w *block.Word) bool {
	if w.Letter == 'M' {
		return w.Code() == 50 || w.Code() == 90
	}
	if w.Letter != 'G' {
		return false
	}
	switch w.Code() {
	case 150, 170, 400, 490, 500, 501, 670, 690, 800, 900, 940, 970, 980:
		return true
	case 200:
		return m.o.Unit == transform.Inch
	case 210:
		return m.o.Unit == transform.MM
	case 901, 911:
		return m.o.AbsoluteCentres == (w.Code() == 901)
	}
	return false
}
