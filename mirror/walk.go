package mirror

import (
	"cmp"
	"errors"
	"io"
	"os"
	"sync"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/motion"
)

// walk is a summary of a program being made beside the proof.
type walk struct {
	pipe    *pipe // nil where no summary is wanted
	left    int64 // bytes until the program is too long for one
	done    chan struct{}
	summary *motion.Summary
	failed  error
}

// summaryLimit gives the bytes up to which a summary is made; 0 where none is wanted
// or the program is known to be longer: a file, or what was kept.
func summaryLimit(in io.Reader, o *Options) int64 {
	limit := o.summaryLimit()
	switch in := in.(type) {
	case interface{ Size() int64 }:
		if in.Size() > limit {
			return 0
		}
	case interface{ Stat() (os.FileInfo, error) }:
		if info, err := in.Stat(); err == nil && info.Mode().IsRegular() && info.Size() > limit {
			return 0
		}
	}
	return max(limit, 0)
}

// longestSummarised is the longest program, in bytes, of which a summary is made, and with it
// the warning of a program that doesn't lie on the blank: for long programs it would take
// longer than all the rest.
const longestSummarised = 8 << 20

func (o *Options) summaryLimit() int64 { return cmp.Or(o.longest, longestSummarised) }

// start begins the walk of a program whose work has its top at Z surface.
func (w *walk) start(o *Options, limit int64, surface decimal.Decimal) {
	options := o.motionOptions(o.Name, surface)
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
