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
// The program is rewritten and proved piece by piece; the rewritten bytes wait in an
// unlinked temporary file until the last is proved. A map with a turn has the moves
// written out as well, in memory.
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
	options := m.proofOptions()
	var target io.Writer
	var deliver func() error // the proof is done
	switch {
	case o.Direct:
		target, deliver = out, func() error { return nil }
	case o.Stream:
		s := &stream{out: out}
		target, deliver = s, s.rest
	default:
		s := &Spool{}
		defer s.Close()
		target, deliver = s, func() error { return s.copyTo(out) }
	}
	limit := o.summaryLimit()
	room := limit
	if known, ok := in.(interface{ Size() int64 }); ok && known.Size() > limit {
		room = -1 // nothing need be kept of it
	}
	before, after := newWalk(&o, o.Name, room, o.top()), newWalk(&o, options.OutName, room+room/2, o.top().Add(o.Map.Z.Offset))
	result, err := m.run(r, target, proof.Start(options), before, after)
	if m.report.Summarised = err == nil && before.room >= 0 && after.room >= 0; m.report.Summarised {
		second := make(chan error)
		go func() { second <- after.make() }()
		first := before.make()
		err = cmp.Or(first, <-second)
	}
	if err != nil {
		return nil, m.gather(r, err)
	}
	if m.report.Summarised {
		m.report.Before, m.report.After = *before.summary, *after.summary
		m.report.Notes = append(m.report.Notes, offBlank(&o, m.report)...)
		m.report.Notes = append(m.report.Notes, lookedThrough(before.summary)...)
	} else if limit > 0 {
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

// run rewrites the program into target, proves each piece as soon as it is written, and
// hands it to those who wait for the whole.
func (m *rewriter) run(r *block.Reader, target io.Writer, check *proof.Checker, before, after *walk) (*proof.Result, error) {
	defer check.Abandon()
	var out []byte
	for {
		in, text, err := m.next(r, out)
		out = text
		before.write(in)
		after.write(text)
		for _, c := range m.reversed() {
			check.Reverse(proof.Chain{First: c.First, Last: c.Last})
		}
		_, failed := target.Write(text)
		if failed == nil {
			failed = check.Feed(in, text)
		}
		if s, ok := target.(*stream); ok {
			s.pass(check.Proved())
		}
		if err == nil && failed == nil {
			continue
		}
		var result *proof.Result
		if failed == nil {
			result, failed = check.Finish()
		}
		if err == io.EOF {
			err = nil
		}
		return result, earlier(err, failed)
	}
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
