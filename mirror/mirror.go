package mirror

import (
	"cmp"
	"errors"
	"io"
	"strconv"

	"flipcalc/mirror/block"
	"flipcalc/mirror/fact"
	"flipcalc/mirror/fault"
	"flipcalc/mirror/motion"
	"flipcalc/mirror/proof"
)

// Mirror mirrors the program in, proves the result and writes it to out. Where the
// program can't be mirrored or proved nothing is written (with Stream: what was
// written must be discarded) and the error is a *fault.Error, with No set where the
// proof failed. Errors of in and out are passed on as they are.
//
// Pieces of the program are rewritten and proved by turns on two cores; the rewritten
// bytes wait in an unlinked temporary file until the last is proved. A map with a turn
// has the moves written out as well, in memory.
func Mirror(in io.Reader, out io.Writer, o Options) (*Report, error) {
	if !o.Map.Turn.IsZero() {
		return mirrorTurned(in, out, o)
	}
	in, free, err := readPasses(in, &o)
	defer free()
	if err != nil {
		return nil, err
	}
	r := block.NewReader(in)
	m, err := newRewriter(r, &o)
	if err != nil {
		return nil, err
	}
	w := &work{r: r, m: m, before: &walk{}, after: &walk{}}
	options := m.proofOptions()
	if limit := summaryLimit(in, &o); limit > 0 {
		top := o.top()
		w.before.start(&o, limit, top)
		mirrored := o
		mirrored.Name = options.OutName
		w.after.start(&mirrored, limit+limit/2, top.Add(o.Map.Z.Offset))
	}
	var deliver func() error // the proof is done
	switch {
	case o.Direct:
		w.target, deliver = out, func() error { return nil }
	case o.Stream:
		s := &stream{out: out}
		options.Proved = s.proved
		w.target, deliver = s, s.rest
	default:
		s := &Spool{}
		defer s.Close()
		w.target, deliver = s, func() error { return s.copyTo(out) }
	}
	w.check = proof.Start(options)
	result, err := w.run()
	if err != nil {
		return nil, m.gather(r, err)
	}
	if before, after := w.before.summary, w.after.summary; before != nil && after != nil {
		m.report.Before, m.report.After, m.report.Summarised = *before, *after, true
		m.report.Notes = append(m.report.Notes, offBlank(&o, m.report)...)
		m.report.Notes = append(m.report.Notes, lookedThrough(before)...)
	} else if limit := o.summaryLimit(); limit > 0 {
		m.report.Notes = append(m.report.Notes, Note{Level: fact.Warning, Is: NotSummarised{MiB: limit >> 20}})
	}
	if result.Mismatches > 0 {
		m.report.Notes = append(m.report.Notes, Note{Level: fact.Warning, Line: result.FirstMismatch, Is: ArcMismatch{Arcs: result.Mismatches, Most: strconv.FormatFloat(result.WorstMismatch, 'g', 3, 64)}})
	}
	m.report.Notes = sortedNotes(m.report.Notes)
	if err := deliver(); err != nil {
		return nil, err
	}
	return m.report, nil
}

// earlier chooses between what the rewrite and the proof say: the fault that comes
// first in the program, the rewrite's where they name the same line. After a fault of
// the rewrite the proof has met the program only up to there, so that faults without a
// place, such as a missing end, are none, and neither is its no.
func earlier(rewrite, proof error) error {
	if rewrite == nil || proof == nil {
		return cmp.Or(rewrite, proof)
	}
	var r, p *fault.Error
	if !errors.As(rewrite, &r) {
		return rewrite // the proof's own, or what ended the work from outside
	}
	if errors.As(proof, &p) && (p.Line == 0 || p.No || r.Line <= p.Line) {
		return rewrite
	}
	return proof
}

func (m *rewriter) proofOptions() proof.Options {
	o := proof.Options{
		Name: m.o.Name, OutName: m.o.Name + " (mirrored)",
		Map: m.report.Map, InchMap: m.report.InchMap,
		Unit: m.o.Unit, AbsoluteCentres: m.o.AbsoluteCentres,
		BackOffset: max(m.offsets.back, 0), OffsetMap: m.offsets.to, KeepOffset: m.o.KeepOffset, Inert: m.o.Inert,
	}
	if m.o.Top != nil {
		top := motion.FromDecimal(*m.o.Top)
		o.Top = &top
	}
	if m.o.ArcTolerance.IsPositive() {
		o.ArcTolerance = motion.FromDecimal(m.o.ArcTolerance)
	}
	return o
}
