package proof

import (
	"bytes"
	"fmt"

	"flipcalc/mirror/motion"
)

// couple is one line of the input and the output's line for it.
type couple struct {
	a, b         []byte
	lineA, lineB int
	ran          bool
}

// runCalls goes on from a block with M98, in the order in which the blocks run.
// The rest of both programs is held in memory for it, at most 64 MiB of each.
func (p *pair) runCalls(a, b []byte) error {
	rest := []couple{{bytes.Clone(a), bytes.Clone(b), p.in.line, p.out.line, true}}
	var calls motion.Calls
	for {
		c, ok, err := p.couple()
		if err != nil {
			return err
		}
		if !ok {
			break
		}
		if err := calls.Define(c.a, len(rest), c.lineA, p.o.Name); err != nil {
			return err
		}
		rest = append(rest, c)
	}
	if err := p.inOrder(&calls, rest); err != nil {
		return err
	}
	for _, c := range rest {
		if c.ran {
			continue
		}
		p.in.line, p.out.line = c.lineA, c.lineB
		if err := p.still(c.a, c.b, true); err != nil {
			return err
		}
	}
	return p.finish()
}

// couple reads one line of each program without running it. A comment line that
// the output has more, or instead of another, is dropped.
func (p *pair) couple() (c couple, ok bool, err error) {
	for {
		a, more, b, moreOut, err := p.next()
		if err != nil {
			return c, false, err
		}
		a, b = bytes.Clone(a), bytes.Clone(b)
		if !more && !moreOut {
			return c, false, nil
		}
		if !moreOut {
			return c, false, p.no(p.out.line+1, 1, "the output's end", fmt.Sprintf("line %d of the input: %s", p.in.line, quote(a)))
		}
		added, err := p.comment(a, b, more)
		switch {
		case err != nil:
			return c, false, err
		case added:
			if more {
				p.in.back(a)
			}
			continue
		case p.replaced:
			p.replaced = false
			b = a
		case !more:
			return c, false, p.no(p.out.line, 1, "another block: "+quote(b), "the end")
		}
		return couple{a: a, b: b, lineA: p.in.line, lineB: p.out.line}, true, nil
	}
}

// inOrder runs the couples as the calls say, from the first on, which has run.
func (p *pair) inOrder(calls *motion.Calls, rest []couple) error {
	for at := 0; ; {
		in := p.lanes[0].in
		next, err := calls.Next(in, at)
		if err != nil || in.Ended() {
			return err
		}
		if at = next; at >= len(rest) || p.tape.Ended() {
			return calls.Unfinished(p.o.Name, rest[len(rest)-1].lineA)
		}
		c := &rest[at]
		p.in.line, p.out.line = c.lineA, c.lineB
		if err := p.a.Read(c.a, c.lineA); err != nil {
			return err
		}
		if _, ok := motion.Label(c.a); ok {
			return calls.Entered(&p.a)
		}
		if err := p.b.Read(c.b, c.lineB); err != nil {
			return p.broken(err)
		}
		if err := p.both(c.a, c.b); err != nil {
			return err
		}
		c.ran = true
	}
}
