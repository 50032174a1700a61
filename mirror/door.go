package mirror

import (
	"cmp"
	"context"
	"errors"
	"io"
	"os"
	"sync"

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
	var target io.Writer
	var held *spool
	if o.Direct {
		target = out
	} else {
		held = &spool{}
		defer held.close()
		target = held
	}
	r := block.NewReader(in)
	m, err := newRewriter(r, &o)
	if err != nil {
		return nil, err
	}
	before, after := &walk{}, &walk{}
	if limit := summaryLimit(in, &o); limit > 0 {
		before.start(&o, limit)
		after.start(&o, limit+limit/2)
	}
	check := proof.Start(m.proofOptions())
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
	_, proofErr := check.Finish()
	if err := earlier(err, proofErr); err != nil {
		return nil, err
	}
	if err := errors.Join(before.err(), after.err()); err != nil {
		return nil, err
	}
	if before.summary != nil && after.summary != nil {
		m.report.Before, m.report.After, m.report.Summarised = *before.summary, *after.summary, true
		m.report.Notes = append(m.report.Notes, offBlank(&o, m.report)...)
	}
	if held != nil {
		if err := held.copyTo(out); err != nil {
			return nil, err
		}
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
	if m.reverser != nil {
		c, m.reverser.done = m.reverser.done, nil
	}
	return c
}

// pool keeps buffers that were given back, for one goroutine that takes and others
// that give.
type pool chan []byte

func newPool() pool { return make(pool, 16) }

// get gives a buffer of length 0 or more, or nil.
func (p pool) get() []byte {
	select {
	case b := <-p:
		return b
	default:
		return nil
	}
}

func (p pool) put(b []byte) {
	select {
	case p <- b:
	default:
	}
}

// walk is a summary of a program being made beside the proof.
type walk struct {
	pipe    *pipe // nil where no summary is wanted
	left    int64 // bytes until the program is too long for one
	done    chan struct{}
	summary *motion.Summary
	failed  error
}

// summaryLimit gives the bytes up to which a summary is made; 0 where none is wanted
// or the program is known to be longer.
func summaryLimit(in io.Reader, o *Options) int64 {
	limit := o.SummaryLimit
	if limit == 0 {
		limit = 8 << 20
	}
	if f, ok := in.(*os.File); ok {
		if info, err := f.Stat(); err == nil && info.Mode().IsRegular() && info.Size() > limit {
			return 0
		}
	}
	return max(limit, 0)
}

func (w *walk) start(o *Options, limit int64) {
	options := motion.Options{Name: o.Name, Unit: o.Unit, AbsoluteCentres: o.AbsoluteCentres, Rates: o.Rates}
	if o.ArcTolerance.IsPositive() {
		options.ArcTolerance = motion.FromDecimal(o.ArcTolerance)
	}
	w.pipe, w.left, w.done = newPipe(), limit, make(chan struct{})
	go func() {
		defer close(w.done)
		w.summary, w.failed = motion.Walk(w.pipe, options, nil)
		w.pipe.stop()
	}()
}

func (w *walk) write(b []byte) {
	if w.pipe == nil || w.left < 0 {
		return
	}
	if w.left -= int64(len(b)); w.left < 0 {
		w.pipe.finish(errGivenUp)
		return
	}
	w.pipe.Write(b) // where the walk has ended, err says why
}

func (w *walk) finish(err error) {
	if w.pipe != nil && w.left >= 0 {
		w.pipe.finish(err)
	}
}

// err waits for the end and says what went wrong on the way, if it is news.
func (w *walk) err() error {
	if w.pipe == nil {
		return nil
	}
	if <-w.done; !errors.Is(w.failed, errGivenUp) {
		return w.failed
	}
	return nil
}

// errGivenUp is what a walk reads instead of the rest of a program.
var errGivenUp = errors.New("mirror: given up")

// pipe carries bytes to a walk. About pipeSize bytes wait in it.
type pipe struct {
	mu     sync.Mutex
	change sync.Cond
	bytes  []byte
	err    error // at the end, once that is known
	gone   bool  // nobody reads any more
}

const pipeSize = 512 << 10

func newPipe() *pipe {
	p := &pipe{}
	p.change.L = &p.mu
	return p
}

func (p *pipe) Write(b []byte) (int, error) {
	p.mu.Lock()
	defer p.mu.Unlock()
	for len(p.bytes) >= pipeSize && !p.gone {
		p.change.Wait()
	}
	if p.gone {
		return 0, errGivenUp
	}
	p.bytes = append(p.bytes, b...)
	p.change.Broadcast()
	return len(b), nil
}

// finish ends the bytes; err, where not nil, tells the reader that more would follow.
func (p *pipe) finish(err error) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.err = io.EOF; err != nil {
		p.err = errGivenUp
	}
	p.change.Broadcast()
}

// stop tells the writer that nobody reads any more.
func (p *pipe) stop() {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.gone = true
	p.change.Broadcast()
}

func (p *pipe) Read(b []byte) (int, error) {
	p.mu.Lock()
	defer p.mu.Unlock()
	for len(p.bytes) == 0 {
		if p.err != nil {
			return 0, p.err
		}
		p.change.Wait()
	}
	n := copy(b, p.bytes)
	p.bytes = append(p.bytes[:0], p.bytes[n:]...)
	p.change.Broadcast()
	return n, nil
}

// spool keeps bytes until they may be passed on: the first in memory, all in an
// unlinked temporary file once they are many.
type spool struct {
	mem  []byte
	file *os.File
}

// spoolMemory is how much is kept without a file.
const spoolMemory = 1 << 20

func (s *spool) Write(b []byte) (int, error) {
	if s.file == nil && len(s.mem)+len(b) <= spoolMemory {
		s.mem = append(s.mem, b...)
		return len(b), nil
	}
	if s.file == nil {
		f, err := os.CreateTemp("", "flipcalc-*")
		if err != nil {
			return 0, err
		}
		s.file = f
		os.Remove(f.Name()) // where that fails (an open file on some systems) close does it
		if _, err := f.Write(s.mem); err != nil {
			return 0, err
		}
		s.mem = nil
	}
	return s.file.Write(b)
}

func (s *spool) copyTo(out io.Writer) error {
	if s.file == nil {
		_, err := out.Write(s.mem)
		return err
	}
	if _, err := s.file.Seek(0, io.SeekStart); err != nil {
		return err
	}
	_, err := io.Copy(out, s.file)
	return err
}

func (s *spool) close() {
	if s.file != nil {
		s.file.Close()
		os.Remove(s.file.Name())
	}
}
