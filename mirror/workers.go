package mirror

import (
	"cmp"
	"io"
	"runtime"
	"sync"
	"sync/atomic"

	"flipcalc/mirror/block"
	"flipcalc/mirror/proof"
)

// work is one program being mirrored and proved by two workers. Each takes a piece of
// the program, rewrites it, and proves what it wrote while the other rewrites the next
// piece:
//
//	worker 0   rewrite 1 | prove 1   | rewrite 3 | prove 3   | ...
//	worker 1             | rewrite 2 | prove 2   | rewrite 4 | ...
//
// Rewriting and proving both go on from where the piece before left them, so that only
// who holds the turn may do it. A piece doesn't leave its worker, and so mostly not the
// cache of its core.
type work struct {
	r             *block.Reader
	m             *rewriter
	before, after *walk
	target        io.Writer
	check         *proof.Checker

	rewriting, proving [2]chan struct{} // the turns, passed to and fro
	err                error            // of the rewrite; io.EOF at the end
	failed             error            // of the proof or of target
	stopped            atomic.Bool      // failed is set
}

// run mirrors and proves the whole program.
func (w *work) run() (*proof.Result, error) {
	var workers sync.WaitGroup
	for i := range 2 {
		w.rewriting[i], w.proving[i] = make(chan struct{}, 1), make(chan struct{}, 1)
	}
	for i := range 2 {
		workers.Go(func() { w.work(i) })
	}
	w.rewriting[0] <- struct{}{}
	w.proving[0] <- struct{}{}
	workers.Wait()
	if w.err == io.EOF {
		w.err = nil
	}
	w.before.finish(w.err)
	w.after.finish(w.err)
	var result *proof.Result
	if w.failed == nil {
		result, w.failed = w.check.Finish()
	}
	w.check.Abandon()
	if err := earlier(w.err, w.failed); err != nil {
		return nil, err
	}
	return result, cmp.Or(w.before.err(), w.after.err())
}

// work is what worker i does.
func (w *work) work(i int) {
	var window, out []byte
	for over := false; !over; {
		await(w.rewriting[i])
		var in []byte
		var chains []Chain
		if w.err == nil && !w.stopped.Load() {
			window = w.r.Use(window)
			in, out, w.err = w.m.next(w.r, out)
			w.before.write(in)
			w.after.write(out)
			chains = w.m.reversed()
		} else {
			out = out[:0]
		}
		over = w.err != nil || w.stopped.Load()
		w.rewriting[1-i] <- struct{}{}
		await(w.proving[i])
		if w.failed == nil {
			w.failed = w.prove(in, out, chains)
			w.stopped.Store(w.failed != nil)
		}
		w.proving[1-i] <- struct{}{}
	}
}

// prove writes a piece and feeds it to the proof.
func (w *work) prove(in, out []byte, chains []Chain) error {
	if _, err := w.target.Write(out); err != nil {
		return err
	}
	for _, c := range chains {
		w.check.Reverse(proof.Chain{First: c.First, Last: c.Last})
	}
	return w.check.Feed(in, out)
}

// await takes the turn. The other's piece takes a fraction of a millisecond: looking
// again for a while costs less than going to sleep and being woken.
func await(turn chan struct{}) {
	for range spins {
		select {
		case <-turn:
			return
		default:
			runtime.Gosched()
		}
	}
	<-turn
}

const spins = 2000
