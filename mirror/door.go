package mirror

import (
	"context"
	"errors"
	"io"
	"os"
	"sync"

	"github.com/shopspring/decimal"

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
	m, err := newRewriter(r, io.MultiWriter(target, mirrored), &o)
	if err != nil {
		return nil, err
	}
	proofOptions := m.proofOptions()
	check := &sideways{}
	check.run(func() error {
		_, err := proof.Check(sources, mirrored, proofOptions)
		sources.stop()
		mirrored.stop()
		return err
	})
	err = m.run(r, sources)
	sources.finish(err)
	mirrored.finish(err)
	proofErr := check.wait()
	if err := earlier(err, proofErr); err != nil {
		return nil, err
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
	if m.o.ArcTolerance.Cmp(decimal.Zero) > 0 {
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

// errRewrite is what the proof reads when the rewrite gave up.
var errRewrite = errors.New("mirror: the rewrite gave up")

// errStopped is what the rewrite meets when the proof has ended early.
var errStopped = errors.New("mirror: the proof has ended")

// pipe carries bytes from the rewrite to the proof in pieces. Up to pipePieces
// wait in it, so that neither side waits for the other at every piece.
type pipe struct {
	full chan []byte
	free chan []byte
	gone chan struct{}
	once sync.Once
	rest []byte // of the piece being read
	buf  []byte
	err  error // at the end
}

// pipePieces times the size of a piece must exceed what the rewrite holds back of
// its output: one piece and one flush.
const pipePieces = 6

func newPipe() *pipe {
	return &pipe{full: make(chan []byte, pipePieces), free: make(chan []byte, pipePieces+2), gone: make(chan struct{})}
}

func (p *pipe) Write(b []byte) (int, error) {
	if len(b) == 0 {
		return 0, nil
	}
	var piece []byte
	select {
	case piece = <-p.free:
	default:
	}
	piece = append(piece[:0], b...)
	select {
	case p.full <- piece:
		return len(b), nil
	case <-p.gone:
		return 0, errStopped
	}
}

// finish ends the bytes; err, where not nil, tells the reader that more would follow.
func (p *pipe) finish(err error) {
	if p.err = io.EOF; err != nil {
		p.err = errRewrite
	}
	close(p.full)
}

// stop tells the writer that nobody reads any more.
func (p *pipe) stop() { p.once.Do(func() { close(p.gone) }) }

func (p *pipe) Read(b []byte) (int, error) {
	if len(p.rest) == 0 {
		if p.buf != nil {
			select {
			case p.free <- p.buf:
			default:
			}
		}
		piece, ok := <-p.full
		if !ok {
			p.buf = nil
			return 0, p.err
		}
		p.buf, p.rest = piece, piece
	}
	n := copy(b, p.rest)
	p.rest = p.rest[n:]
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
