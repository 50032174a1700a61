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
}

// runCalls goes on from a block with M98, in the order in which the blocks run.
// The rest of both programs is held in memory for it, at most 64 MiB of each.
func (p *pair) runCalls(a, b []byte) (err error) {
	var calls motion.Calls
	var rest []couple
	for c, ok := (couple{bytes.Clone(a), bytes.Clone(b), p.in.line, p.out.line}), true; ok; {
		if err := calls.Hold(c.a, c.lineA, p.o.Name); err != nil {
			return err
		}
		rest = append(rest, c)
		if c, ok, err = p.couple(); err != nil {
			return err
		}
	}
	line := func(at int) *couple {
		c := &rest[at]
		p.in.line, p.out.line = c.lineA, c.lineB
		return c
	}
	err = calls.Follow(p.lanes[0].in, &p.tape, p.o.Name, func(at int) error {
		c := line(at)
		if err := p.a.Read(c.a, c.lineA); err != nil {
			return err
		}
		if err := p.b.Read(c.b, c.lineB); err != nil {
			return p.broken(err)
		}
		return p.both(c.a, c.b)
	}, func(at int) error {
		c := line(at)
		return p.still(c.a, c.b, true)
	})
	if err != nil {
		return err
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
		added, replaced, err := p.comment(a, b, more)
		switch {
		case err != nil:
			return c, false, err
		case added:
			continue
		case replaced:
			b = a
		case !more:
			return c, false, p.no(p.out.line, 1, "another block: "+quote(b), "the end")
		}
		return couple{a: a, b: b, lineA: p.in.line, lineB: p.out.line}, true, nil
	}
}
