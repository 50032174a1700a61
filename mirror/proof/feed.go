package proof

import "io"

// A Checker is a check that is fed piece by piece by the one who writes the
// output, without copies: Start, Feed while there is something, Finish.
type Checker struct {
	p    *pair
	done chan struct{}
	err  error
}

// Start begins a check in its own goroutine.
func Start(o Options) *Checker {
	c := &Checker{p: newPair(o), done: make(chan struct{})}
	c.p.in, c.p.out = fedStream(o.Name), fedStream(o.OutName)
	go func() {
		defer close(c.done)
		defer c.p.in.close()
		defer c.p.out.close()
		c.err = c.p.run()
	}()
	return c
}

// Room is how many bytes of capacity a fed piece should have beyond its length;
// a piece with less is copied.
const Room = slack

// Feed takes the next piece of the input and of the output. Both should end with a
// line end, except at the end of the programs, and the output's lines should be
// those that were made from the input's. They are read until inDone and outDone
// (which may be nil) are called, once each, from another goroutine. An error is
// the verdict so far, as Check gives it; feeding may then stop. Up to four pieces
// wait before Feed does.
func (c *Checker) Feed(in, out []byte, inDone, outDone func()) error {
	for _, x := range [2]struct {
		s    *stream
		b    []byte
		done func()
	}{{c.p.in, in, inDone}, {c.p.out, out, outDone}} {
		if len(x.b) == 0 {
			if x.done != nil {
				x.done()
			}
			continue
		}
		if cap(x.b)-len(x.b) < slack {
			x.b = append(make([]byte, 0, len(x.b)+slack), x.b...)
			if x.done != nil {
				x.done()
				x.done = nil
			}
		}
		select {
		case x.s.full <- piece{buf: x.b, n: len(x.b), done: x.done}:
		case <-c.done:
			return c.verdict()
		}
	}
	return nil
}

// verdict gives the error of a check that ended before its programs did.
func (c *Checker) verdict() error {
	if c.err != nil {
		return c.err
	}
	return io.ErrClosedPipe
}

// Finish says that both programs are complete, and waits for the verdict.
func (c *Checker) Finish() (*Result, error) {
	for _, s := range [2]*stream{c.p.in, c.p.out} {
		select {
		case s.full <- piece{err: io.EOF}:
		case <-c.done:
		}
	}
	<-c.done
	if c.err != nil {
		return nil, c.err
	}
	return &c.p.result, nil
}

// Abandon ends the check without a verdict.
func (c *Checker) Abandon(why error) {
	for _, s := range [2]*stream{c.p.in, c.p.out} {
		select {
		case s.full <- piece{err: why}:
		case <-c.done:
		}
	}
	<-c.done
}

// fedStream is a stream without a reader.
func fedStream(name string) *stream {
	return &stream{name: name, fed: true, full: make(chan piece, buffers), done: make(chan struct{})}
}
