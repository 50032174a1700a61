package proof

import (
	"io"
	"iter"
)

// A Checker is a check that is fed piece by piece by the one who writes the
// output: Start, Feed while there is something, Finish. The check
// runs within these calls, as far as what was fed allows, so that what was just
// written is read on the same core. They may come from one goroutine after another,
// but not from two at once.
type Checker struct {
	p    *pair
	run  func() (struct{}, bool) // until more text is needed; false at the end
	stop func()
	over bool
	err  error
}

// Start begins a check.
func Start(o Options) *Checker {
	c := &Checker{p: newPair(o)}
	c.p.in, c.p.out = &stream{name: c.p.o.Name}, &stream{name: c.p.o.OutName}
	c.run, c.stop = iter.Pull(func(yield func(struct{}) bool) {
		wait := func() bool { return yield(struct{}{}) }
		c.p.in.wait, c.p.out.wait = wait, wait
		c.err = c.p.run()
	})
	return c
}

// Feed takes the next piece of the input and of the output; either may be empty.
// Both are the caller's again on return. An error is the verdict so far: where the two differ a *fault.Error with No set,
// at the first block of the output that differs; where the input can't be followed one
// without. Feeding should then stop.
func (c *Checker) Feed(in, out []byte) error {
	c.p.in.give(in)
	c.p.out.give(out)
	c.goOn()
	if c.over {
		if c.err == nil {
			return io.ErrClosedPipe
		}
		return c.err
	}
	return nil
}

// Reverse announces a chain that the output runs backwards. It must come before the
// pieces that hold the chain's last line.
func (c *Checker) Reverse(chain Chain) { c.p.chains = append(c.p.chains, chain) }

// Proved is how many bytes of the output are proved. A missing end may still be found after
// them.
func (c *Checker) Proved() int { return c.p.proved }

// Finish says that both programs are complete, and gives the verdict.
func (c *Checker) Finish() (*Result, error) {
	c.p.in.ended, c.p.out.ended = true, true
	c.goOn()
	c.Abandon()
	if c.err != nil {
		return nil, c.err
	}
	return &c.p.result, nil
}

// Abandon ends the check without a verdict.
func (c *Checker) Abandon() { c.stop() }

func (c *Checker) goOn() {
	if !c.over {
		_, more := c.run()
		c.over = !more
	}
}
