package mirror

import (
	"bytes"
	"strconv"

	"flipcalc/mirror/block"
	"flipcalc/mirror/fact"
	"flipcalc/mirror/motion"
)

func (m *rewriter) copyTo(at int) {
	m.out = append(m.out, m.chunk[m.copied:at]...)
	m.copied = at
}

// addLine puts a line before block b's.
func (m *rewriter) addLine(b *block.Block, text string) {
	m.report.Added = append(m.report.Added, b.Line+len(m.report.Added))
	m.out = append(m.out, text...)
	m.out = append(m.out, m.eol...)
	m.lineAt = len(m.out)
}

// sortEdits puts edits in the order of the text, in which they are made.
func sortEdits(edits []edit) {
	for i := 1; i < len(edits); i++ {
		for j := i; j > 0 && edits[j].word < edits[j-1].word; j-- {
			edits[j], edits[j-1] = edits[j-1], edits[j]
		}
	}
}

// apply carries a plan out, whose edits are sorted.
func (m *rewriter) apply(b *block.Block, p *plan) {
	if p.insert {
		name := motion.CodeName('G', m.insert)
		m.copyTo(b.Start)
		m.addLine(b, name)
		m.report.InsertedOffset = name
		m.note(fact.Note, b.Line, OffsetInserted{Back: name})
	}
	for _, e := range p.edits {
		w := &b.W[e.word]
		switch e.op {
		case opCode:
			m.editCode(w, e.code)
		case opExtended:
			m.copyTo(int(w.Num))
			m.out = strconv.AppendInt(m.out, int64(e.code), 10)
			m.copied = int(w.End)
		case opDrop:
			m.copyTo(int(b.W[e.word-1].End))
			m.copied = int(w.End)
		case opTurn:
			m.editNumber(w, &axis{neg: true}, false)
		default:
			m.editNumber(w, &m.axes[e.unit][e.axis], e.op == opPlace)
		}
	}
	if p.moves {
		m.report.Moves++
		if p.rapid {
			m.inChain = false
		} else if p.cuts && !m.inChain {
			m.inChain = true
			m.report.Chains++
		}
	}
}

// editNumber mirrors a word's number by x, with its offset where it is a place.
func (m *rewriter) editNumber(w *block.Word, x *axis, place bool) {
	if place && w.Flags&block.Point == 0 {
		m.wholeNumber(x)
	}
	v, places, ok := -w.Value, int(w.Places), w.Flags&block.Big == 0
	if ok && place {
		v, places, ok = x.place(w.Value, int(w.Places))
	}
	switch {
	case !ok:
		m.copyTo(int(w.Num))
		out, changed := appendExact(m.out, m.chunk, w, x, place)
		if m.out = out; changed {
			m.copied = int(w.End)
		}
	case v == w.Value && places == int(w.Places):
	default:
		m.copyTo(int(w.Num))
		m.out = appendScaled(m.out, v, places, plainNumber(m.chunk, w), w.Flags&block.Point != 0)
		m.copied = int(w.End)
	}
}

// wholeNumber notes numbers without a point where an offset is added to them.
func (m *rewriter) wholeNumber(x *axis) {
	if m.said&saidWhole == 0 && !x.offset.IsZero() {
		m.said |= saidWhole
		m.note(fact.Assumed, m.lexer.Line(), WholeNumbers{Unit: m.s.unit})
	}
}

const saidWhole uint32 = 1 << 31

// editCode writes another code into a word, in the manner of the old one.
func (m *rewriter) editCode(w *block.Word, to int) {
	m.copyTo(int(w.Num))
	old := plainNumber(m.chunk, w)
	m.copied = int(w.End)
	from := w.Code()
	if from/100 == to/100 && from%10 == to%10 {
		at := bytes.IndexByte(old, '.')
		if at < 0 {
			at = len(old)
		}
		m.out = append(m.out, old[:at-1]...)
		m.out = append(m.out, byte('0'+to/10%10))
		m.out = append(m.out, old[at:]...)
		return
	}
	m.out = append(m.out, motion.CodeName('G', to)[1:]...)
}
