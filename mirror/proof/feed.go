package proof

import (
	"io"
	"sync"
)

// A Checker is a check that is fed piece by piece by the one who writes the
// output, without copies: Start, Feed while there is something, Finish.
type Checker struct {
	p     *pair
	queue *queue
	done  chan struct{}
	err   error
}

// Start begins a check in its own goroutine.
func Start(o Options) *Checker {
	c := &Checker{p: newPair(o), queue: newQueue(), done: make(chan struct{})}
	c.p.feeder = c.queue
	c.p.in, c.p.out = fedStream(c.p.o.Name, c.queue, 0), fedStream(c.p.o.OutName, c.queue, 1)
	go func() {
		defer close(c.done)
		c.err = c.p.run()
		c.p.in.close()
		c.p.out.close()
		c.queue.end()
	}()
	return c
}

// Room is how many bytes of capacity a fed piece should have beyond its length;
// a piece with less is copied.
const Room = slack

// Feed takes the next piece of the input and of the output; either may be empty.
// Pieces that end with a line end are used in place: they must stay as they are
// until inDone and outDone (which may be nil) are called, once each, from another
// goroutine or from here. Where four pieces of both programs wait, Feed waits too,
// so the output should keep up with the input. An error is the verdict so far, as
// Check gives it; feeding should then stop.
func (c *Checker) Feed(in, out []byte, inDone, outDone func()) error {
	err := c.feed(0, in, inDone)
	if e := c.feed(1, out, outDone); err == nil {
		err = e
	}
	return err
}

func (c *Checker) feed(side int, b []byte, done func()) error {
	if len(b) > 0 && cap(b)-len(b) < slack {
		b = append(make([]byte, 0, len(b)+slack), b...)
		if done != nil {
			done()
			done = nil
		}
	}
	if len(b) > 0 && c.queue.push(side, piece{buf: b, n: len(b), done: done}) {
		return nil
	}
	if done != nil {
		done()
	}
	if len(b) == 0 {
		return nil
	}
	<-c.done
	if c.err == nil {
		return io.ErrClosedPipe
	}
	return c.err
}

// Reverse announces a chain that the output runs backwards. It must come before the
// pieces that hold the chain's last line.
func (c *Checker) Reverse(chain Chain) {
	c.queue.mu.Lock()
	defer c.queue.mu.Unlock()
	c.queue.chains = append(c.queue.chains, chain)
}

// takeChains gives the chains announced since it was asked last.
func (q *queue) takeChains() []Chain {
	q.mu.Lock()
	defer q.mu.Unlock()
	c := q.chains
	q.chains = nil
	return c
}

// Finish says that both programs are complete, and waits for the verdict.
func (c *Checker) Finish() (*Result, error) {
	c.stop(io.EOF)
	if c.err != nil {
		return nil, c.err
	}
	return &c.p.result, nil
}

// Abandon ends the check without a verdict, and waits until no piece is in use.
func (c *Checker) Abandon() { c.stop(io.ErrUnexpectedEOF) }

func (c *Checker) stop(why error) {
	c.queue.push(0, piece{err: why})
	c.queue.push(1, piece{err: why})
	<-c.done
}

// queue holds the pieces of both programs.
type queue struct {
	mu      sync.Mutex
	changed sync.Cond
	pieces  [2][]piece
	ended   bool
	chains  []Chain
}

func newQueue() *queue {
	q := &queue{}
	q.changed.L = &q.mu
	return q
}

// push adds a piece, once there is room; false means that nobody takes it.
func (q *queue) push(side int, p piece) bool {
	q.mu.Lock()
	defer q.mu.Unlock()
	for len(q.pieces[0]) >= buffers && len(q.pieces[1]) >= buffers && p.err == nil && !q.ended {
		q.changed.Wait()
	}
	if q.ended {
		return false
	}
	q.pieces[side] = append(q.pieces[side], p)
	q.changed.Broadcast()
	return true
}

// pop waits for the next piece.
func (q *queue) pop(side int) piece {
	q.mu.Lock()
	defer q.mu.Unlock()
	for len(q.pieces[side]) == 0 {
		q.changed.Wait()
	}
	p := q.pieces[side][0]
	n := copy(q.pieces[side], q.pieces[side][1:])
	q.pieces[side][n] = piece{}
	q.pieces[side] = q.pieces[side][:n]
	q.changed.Broadcast()
	return p
}

// end gives all pieces back and takes no more.
func (q *queue) end() {
	q.mu.Lock()
	defer q.mu.Unlock()
	q.ended = true
	for i := range q.pieces {
		for _, p := range q.pieces[i] {
			if p.done != nil {
				p.done()
			}
		}
		q.pieces[i] = nil
	}
	q.changed.Broadcast()
}

// fedStream is a stream that takes its pieces from a queue.
func fedStream(name string, q *queue, side int) *stream {
	return &stream{name: name, queue: q, side: side, done: make(chan struct{})}
}
