package mirror

import (
	"cmp"
	"context"
	"errors"
	"io"
	"strconv"

	"flipcalc/mirror/block"
	"flipcalc/mirror/fault"
	"flipcalc/mirror/motion"
	"flipcalc/mirror/proof"
)

// Mirror mirrors the program in, proves the result and writes it to out. Where the
// program can't be mirrored or proved nothing is written (with Stream: what was
// written must be discarded) and the error is a *fault.Error, with No set where the
// proof failed. Errors of in and out are passed on as they are.
//
// Rewrite and proof run side by side; the rewritten bytes wait in an unlinked
// temporary file until the last is proved.
func Mirror(in io.Reader, out io.Writer, o Options) (*Report, error) {
	r := block.NewReader(in)
	m, err := newRewriter(r, &o)
	if err != nil {
		return nil, err
	}
	before, after := &walk{}, &walk{}
	if limit := summaryLimit(in, &o); limit > 0 {
		before.start(&o, limit)
		mirrored := o
		mirrored.Name = m.proofOptions().OutName
		after.start(&mirrored, limit+limit/2)
	}
	options := m.proofOptions()
	var target io.Writer
	var deliver func() error // the proof is done
	switch {
	case o.Direct:
		target, deliver = out, func() error { return nil }
	case o.Stream:
		s := &stream{out: out}
		options.Proved = s.proved
		target, deliver = s, s.rest
	default:
		s := &spool{}
		defer s.close()
		target, deliver = s, func() error { return s.copyTo(out) }
	}
	check := proof.Start(options)
	ins, outs := newPool(), newPool()
	err = m.run(r, func(in, out []byte) error {
		if _, err := target.Write(out); err != nil {
			return err
		}
		before.write(in)
		after.write(out)
		window := r.Detach(ins.get())
		m.out = outs.get()[:0]
		for _, c := range m.reversed() {
			check.Reverse(proof.Chain{First: c.First, Last: c.Last})
		}
		return check.Feed(in, out, func() { ins.put(window) }, func() { outs.put(out) })
	})
	before.finish(err)
	after.finish(err)
	result, proofErr := check.Finish()
	if err := earlier(err, proofErr); err != nil {
		return nil, err
	}
	if err := cmp.Or(before.err(), after.err()); err != nil {
		return nil, err
	}
	if before.summary != nil && after.summary != nil {
		m.report.Before, m.report.After, m.report.Summarised = *before.summary, *after.summary, true
		m.report.Notes = append(m.report.Notes, offBlank(&o, m.report)...)
	}
	if result.Mismatches > 0 {
		m.report.Notes = append(m.report.Notes, Note{Code: ArcMismatch, Level: Warning, Line: result.FirstMismatch,
			Values: []string{strconv.Itoa(result.Mismatches), strconv.FormatFloat(result.WorstMismatch, 'g', 3, 64)}})
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

// run reads the program, rewrites it and hands over piece by piece what it read and
// what came of it, also before an error. Both pieces stay as they are until emit
// returns.
func (m *rewriter) run(r *block.Reader, emit func(in, out []byte) error) error {
	var done int64
	for {
		if c := m.o.Context; c != nil && c.Err() != nil {
			return context.Cause(c)
		}
		chunk, err := r.Next()
		if err == io.EOF {
			return m.atEnd(r.Added(), emit)
		}
		if err != nil {
			return m.readError(err)
		}
		n := len(chunk)
		if r.Added() {
			n--
		}
		var fault error
		if m.held != nil {
			fault = m.hold(chunk)
		} else {
			fault = m.rewrite(chunk, r.Added())
		}
		if fault != nil {
			n = m.copied
		}
		out := m.out
		m.out = out[:0]
		if err := emit(chunk[:n], out); err != nil {
			return err
		}
		if fault != nil {
			return fault
		}
		if done += int64(n); m.o.Progress != nil {
			m.o.Progress(done)
		}
	}
}

// atEnd does what is left to do at the end of the program.
func (m *rewriter) atEnd(added bool, emit func(in, out []byte) error) error {
	if m.held != nil {
		if err := m.planHeld(added); err != nil {
			return err
		}
		if err := emit(nil, m.out); err != nil {
			return err
		}
	}
	if m.reverser != nil {
		m.reverser.finish()
		if err := emit(nil, m.out); err != nil {
			return err
		}
	}
	return m.finish()
}

func (m *rewriter) proofOptions() proof.Options {
	o := proof.Options{
		Name: m.o.Name, OutName: m.o.Name + " (mirrored)",
		Map: m.report.Map, InchMap: m.report.InchMap,
		Unit: m.o.Unit, AbsoluteCentres: m.o.AbsoluteCentres,
		BackOffset: max(m.offsets.back, 0), OffsetMap: m.offsets.to, KeepOffset: m.o.KeepOffset,
	}
	if m.o.ArcTolerance.IsPositive() {
		o.ArcTolerance = motion.FromDecimal(m.o.ArcTolerance)
	}
	return o
}

// reversed gives the chains that were reversed since it was asked last.
func (m *rewriter) reversed() (c []Chain) {
	c, m.turned = m.turned, nil
	return c
}
