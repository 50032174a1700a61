package mirror

import (
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
	sources, mirrored := newPipe(), newPipe()
	writers := []io.Writer{target, mirrored}
	before, after := &walk{}, &walk{}
	if limit := summaryLimit(in, &o); limit > 0 {
		before.pipe, after.pipe = newPipe(), newPipe()
		before.left, after.left = limit, limit+limit/2
		writers = append(writers, after)
	}
	m, err := newRewriter(r, io.MultiWriter(writers...), &o)
	if err != nil {
		return nil, err
	}
	proofOptions := m.proofOptions()
	sources.waiting = m.flush // the proof can go no further than what it has of both
	check := &sideways{}
	check.run(func() error {
		_, err := proof.Check(sources, mirrored, proofOptions)
		sources.stop()
		mirrored.stop()
		return err
	})
	before.start(&o)
	after.start(&o)
	err = m.run(r, before.tee(sources))
	sources.finish(err)
	mirrored.finish(err)
	before.finish(err)
	after.finish(err)
	if err := errors.Join(before.err(), after.err()); err != nil && check.wait() == nil {
		return nil, err
	}
	if err := earlier(err, check.wait()); err != nil {
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
// first in the program, the rewrite's where they name the same line.
func earlier(rewrite, proof error) error {
	if proof == nil || errors.Is(proof, errRewrite) {
		return rewrite
	}
	var r, p *fault.Error
	if errors.As(rewrite, &r) && errors.As(proof, &p) && !p.No && r.Line <= p.Line {
		return rewrite
	}
	return proof
}

// run reads the program and rewrites it; each chunk goes to sources first.
func (m *rewriter) run(r *block.Reader, sources io.Writer) error {
	var done int64
	for {
		if c := m.o.Context; c != nil && c.Err() != nil {
			return context.Cause(c)
		}
		chunk, err := r.Next()
		if err == io.EOF {
			return m.finish()
		}
		if err != nil {
			m.flushProper()
			return m.readError(err)
		}
		n := len(chunk)
		if r.Added() {
			n--
		}
		if sources != nil {
			if _, err := sources.Write(chunk[:n]); err != nil {
				return err
			}
		}
		if err := m.rewrite(chunk, r.Added()); err != nil {
			return err
		}
		if done += int64(n); m.o.Progress != nil {
			m.o.Progress(done)
		}
	}
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

// sideways is a function that runs in its own goroutine.
type sideways struct {
	done chan struct{}
	err  error
}

func (s *sideways) run(f func() error) {
	s.done = make(chan struct{})
	go func() {
		defer close(s.done)
		s.err = f()
	}()
}

func (s *sideways) wait() error {
	<-s.done
	return s.err
}

// walk is a summary of a program being made beside the proof.
type walk struct {
	pipe    *pipe // nil where no summary is wanted
	left    int64 // bytes until the program is too long for one
	side    sideways
	summary *motion.Summary
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

func (w *walk) start(o *Options) {
	if w.pipe == nil {
		return
	}
	options := motion.Options{Name: o.Name, Unit: o.Unit, AbsoluteCentres: o.AbsoluteCentres, Rates: o.Rates}
	if o.ArcTolerance.IsPositive() {
		options.ArcTolerance = motion.FromDecimal(o.ArcTolerance)
	}
	p := w.pipe
	w.side.run(func() error {
		var err error
		w.summary, err = motion.Walk(p, options, nil)
		p.stop()
		return err
	})
}

func (w *walk) Write(b []byte) (int, error) {
	if w.left < 0 {
		return len(b), nil
	}
	if w.left -= int64(len(b)); w.left < 0 {
		w.pipe.finish(errRewrite)
		return len(b), nil
	}
	if _, err := w.pipe.Write(b); err != nil && err != errStopped {
		return 0, err
	}
	return len(b), nil // where the walk has ended, the proof finds out why
}

func (w *walk) tee(main io.Writer) io.Writer {
	if w.pipe == nil {
		return main
	}
	return io.MultiWriter(main, w)
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
	if err := w.side.wait(); !errors.Is(err, errRewrite) {
		return err
	}
	return nil
}

// errRewrite is what the proof reads when the rewrite gave up.
var errRewrite = errors.New("mirror: the rewrite gave up")

// errStopped is what the rewrite meets when the proof has ended early.
var errStopped = errors.New("mirror: the proof has ended")

// pipe carries bytes from the rewrite to the proof. About pipeSize bytes wait in it,
// so that neither side waits for the other at every piece.
type pipe struct {
	mu     sync.Mutex
	change sync.Cond
	pieces [][]byte
	size   int // bytes in pieces
	free   [][]byte
	err    error // at the end, once that is known
	gone   bool  // nobody reads any more

	// waiting, where not nil, is called before the writer waits for the reader.
	waiting func() error

	piece, rest []byte // the reader's
}

const (
	pipeSize  = 1 << 20
	pieceSize = 256 << 10
)

func newPipe() *pipe {
	p := &pipe{}
	p.change.L = &p.mu
	return p
}

func (p *pipe) Write(b []byte) (int, error) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.size >= pipeSize && !p.gone && p.waiting != nil {
		p.mu.Unlock()
		err := p.waiting()
		p.mu.Lock()
		if err != nil {
			return 0, err
		}
	}
	for p.size >= pipeSize && !p.gone {
		p.change.Wait()
	}
	if p.gone {
		return 0, errStopped
	}
	if n := len(p.pieces); n > 0 && len(p.pieces[n-1])+len(b) <= pieceSize {
		p.pieces[n-1] = append(p.pieces[n-1], b...)
	} else {
		var piece []byte
		if n := len(p.free); n > 0 {
			piece, p.free = p.free[n-1], p.free[:n-1]
		}
		p.pieces = append(p.pieces, append(piece, b...))
	}
	p.size += len(b)
	p.change.Broadcast()
	return len(b), nil
}

// finish ends the bytes; err, where not nil, tells the reader that more would follow.
func (p *pipe) finish(err error) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.err = io.EOF; err != nil {
		p.err = errRewrite
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
	if len(p.rest) == 0 {
		if err := p.next(); err != nil {
			return 0, err
		}
	}
	n := copy(b, p.rest)
	p.rest = p.rest[n:]
	return n, nil
}

// next takes the next piece.
func (p *pipe) next() error {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.piece != nil {
		p.free = append(p.free, p.piece[:0])
		p.piece = nil
	}
	for len(p.pieces) == 0 {
		if p.err != nil {
			return p.err
		}
		if p.gone {
			return errStopped
		}
		p.change.Wait()
	}
	p.piece, p.rest = p.pieces[0], p.pieces[0]
	p.pieces = append(p.pieces[:0], p.pieces[1:]...)
	p.size -= len(p.piece)
	p.change.Broadcast()
	return nil
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
