package mirror

import (
	"bytes"
	"fmt"
	"io"
	"slices"

	"flipcalc/mirror/block"
	"flipcalc/mirror/fault"
)

// Subprograms: M98 calls the blocks behind an O number further down in the file, M99
// returns. From the first call on the text is held and its blocks are planned in the
// order in which they run, so that the state at every block is what the control has
// there. A block that runs more than once must mirror alike each time.

// Bounds of what subprograms may ask for.
const (
	maxCallDepth = 10
	maxRepeats   = 1_000_000
	maxHeld      = 64 << 20
)

// heldLine is one line of the held text.
type heldLine struct {
	start int
	dead  bool // stands behind the end of the text
	ran   bool
	plan
}

// entry is a subprogram in a state of the control; what it leaves needs to be found
// out only once.
type entry struct {
	at     int
	s, off state
	split  bool
}

// calls is a program being planned in the order in which it runs.
type calls struct {
	m     *rewriter
	line  int // lines before the held text
	lines []heldLine
	subs  map[int64]int // O number to the line behind it
	memo  map[entry]entry
	open  []int // the lines behind the O numbers of the calls that are running
	b     block.Block
}

// names reports whether a block has a word of a letter with one of some codes.
func names(b *block.Block, letter byte, codes ...int) bool {
	return b.Letters&block.Bit(letter) != 0 && slices.ContainsFunc(b.W[:b.N], func(w block.Word) bool {
		return w.Letter == letter && slices.Contains(codes, w.Code())
	})
}

// holdsCall reports whether a block calls a subprogram, so that the text must be held.
func holdsCall(b *block.Block) bool { return names(b, 'M', 980, 990) }

// hold keeps text for planHeld.
func (m *rewriter) hold(text []byte) error {
	if len(m.held)+len(text) > maxHeld {
		return &fault.Error{File: m.o.Name, Line: m.heldFrom + 1, Col: 1, Found: "more than 64 MiB after a subprogram's call", Hint: "write the subprogram's blocks out"}
	}
	m.held = append(m.held, text...)
	return nil
}

// planHeld mirrors the held text. added says that its last line end isn't in the
// program.
func (m *rewriter) planHeld(added bool) error {
	m.chunk, m.copied = m.held, 0
	m.lexer.Reset(m.held)
	m.lexer.Seek(0, m.heldFrom)
	c := &calls{m: m, line: m.heldFrom, subs: map[int64]int{}, memo: map[entry]entry{}}
	if err := c.index(); err != nil {
		return err
	}
	if _, err := c.run(0, 0, false); err != nil {
		return err
	}
	if err := c.write(); err != nil {
		return err
	}
	end := len(m.held)
	if added {
		end--
	}
	m.lastLine = c.line + len(c.lines)
	m.out = append(m.out, m.chunk[min(m.copied, end):end]...)
	return nil
}

// index finds the lines and the subprograms.
func (c *calls) index() error {
	closed := false
	for {
		start := c.m.lexer.Pos()
		err := c.m.lexer.Next(&c.b)
		if err == io.EOF {
			return nil
		}
		c.lines = append(c.lines, heldLine{start: start, dead: closed})
		switch {
		case closed:
			if err := c.m.idle(&c.b, err != nil || c.b.N > 0); err != nil {
				return err
			}
			continue
		case err != nil:
			return c.m.lexError(&c.b, err)
		}
		closed = c.b.Percent || c.b.Last
		if c.b.Last {
			if err := c.m.motionless(&c.b, start+bytes.IndexByte(c.m.chunk[start:c.b.End], 0x1a)); err != nil {
				return err
			}
		}
		if isNumber(&c.b) && !c.b.Percent {
			n, _ := c.b.W[0].Int()
			if _, twice := c.subs[n]; twice {
				return c.m.refuse(&c.b, int(c.b.W[0].Start), fmt.Sprintf("a second subprogram O%d", n), "one of each number", "")
			}
			c.subs[n] = len(c.lines)
		}
	}
}

// read reads line i into c.b, which index has done without a fault before.
func (c *calls) read(i int) *block.Block {
	c.m.lexer.Seek(c.lines[i].start, c.line+i)
	if err := c.m.lexer.Next(&c.b); err != nil {
		panic("mirror: a line that was read can't be read again: " + err.Error())
	}
	return &c.b
}

// run plans from line i until the program's end or, in a subprogram, M99. It returns
// the line where it stopped.
func (c *calls) run(i, depth int, sub bool) (int, error) {
	m := c.m
	for ; i < len(c.lines) && !c.lines[i].dead; i++ {
		b := c.read(i)
		if m.s.ended {
			return i, nil
		}
		if b.Percent || b.Empty() {
			continue
		}
		if isNumber(b) {
			if sub {
				return i, m.refuse(b, b.Start, "the next subprogram before M99", "M99 at a subprogram's end", "")
			}
			return i, m.refuse(b, b.Start, "a subprogram that the program runs into", "M2 or M30 before it", "")
		}
		call := holdsCall(b)
		if call && b.Deleted {
			return i, m.refuse(b, b.Start, "a call behind a slash", "a call that always runs", "take the slash out, or write two programs")
		}
		p, err := m.planBlock(b)
		if err != nil {
			return i, err
		}
		if err := c.keep(i, p); err != nil {
			return i, err
		}
		if !call {
			continue
		}
		if m.reading.code[mCall] == 990 {
			if w := b.Find('P'); w != nil {
				return i, m.refuse(b, int(w.Start), "M99 with P (a return to a block number)", "M99 alone", fault.MovesOut)
			}
			if !sub {
				return i, m.refuse(b, b.Start, "M99 in the main program, which would repeat without end", "M2 or M30", "where the lines above it are a subprogram, put it behind the main program's M2 or M30")
			}
			return i, nil
		}
		if err := c.call(b, depth); err != nil {
			return i, err
		}
	}
	if sub {
		return i, &fault.Error{File: m.o.Name, Line: c.line + len(c.lines) + 1, Col: 1, Found: "the end of the file inside a subprogram", Expected: "M99"}
	}
	return i, nil
}

// keep remembers what is done to line i, which must be the same whenever it runs.
func (c *calls) keep(i int, p *plan) error {
	l := &c.lines[i]
	sortEdits(p.edits)
	if !l.ran {
		l.ran, l.plan = true, *p
		l.edits = slices.Clone(p.edits)
		return nil
	}
	if !slices.Equal(l.edits, p.edits) {
		return c.m.refuse(&c.b, c.b.Start, "a block of a subprogram that means something else at another call", "the same at each call", fault.MovesOut)
	}
	return nil
}

// call runs the subprogram that b calls, as often as it says.
func (c *calls) call(b *block.Block, depth int) error {
	m := c.m
	at := int(b.Find('M').Start)
	w := b.Find('P')
	if w == nil {
		return m.refuse(b, at, "M98 without P", "P with the subprogram's number", "")
	}
	number, ok := w.Int()
	if !ok || number < 1 {
		return m.refuse(b, int(w.Start), "M98 with no subprogram's number", "P with a whole number", "")
	}
	repeats := int64(1)
	if l := b.Find('L'); l != nil {
		if repeats, ok = l.Int(); !ok || repeats < 1 {
			return m.refuse(b, int(l.Start), "a number of repeats that isn't a whole number above 0", "1 or more", "")
		}
	}
	start, found := c.subs[number]
	if !found && number >= 10_000 && repeats == 1 { // repeats in front of four digits
		if start, found = c.subs[number%10_000]; found {
			repeats = number / 10_000
		}
	}
	switch {
	case !found:
		return m.refuse(b, int(w.Start), fmt.Sprintf("a call of O%d, which isn't in this file", number), "the subprogram behind the main program",
			"write its blocks out, or put it into the file")
	case repeats > maxRepeats:
		return m.refuse(b, at, fmt.Sprintf("more than %d repeats", maxRepeats), "fewer", "")
	case slices.Contains(c.open, start):
		return m.refuse(b, int(w.Start), fmt.Sprintf("a call of O%d from within it, without end", number), "a subprogram that doesn't call itself", "write the repeats with L, or write the blocks out")
	case depth == maxCallDepth:
		return m.refuse(b, at, fmt.Sprintf("subprograms nested more than %d deep", maxCallDepth), "fewer", "")
	}
	for range repeats {
		before := entry{start, m.s, m.off, m.split}
		after, seen := c.memo[before]
		if !seen {
			c.open = append(c.open, start)
			_, err := c.run(start, depth+1, true)
			if c.open = c.open[:len(c.open)-1]; err != nil {
				return err
			}
			after = entry{start, m.s, m.off, m.split}
			c.memo[before] = after
		}
		m.s, m.off, m.split = after.s, after.off, after.split
		if after == before {
			break // each further time is the same
		}
	}
	return nil
}

// write carries out the plans, line by line.
func (c *calls) write() error {
	m := c.m
	for i := range c.lines {
		l := &c.lines[i]
		if l.dead {
			break
		}
		b := c.read(i)
		m.closed, m.over = b.Percent || b.Last, b.Last && !b.Percent
		if b.Percent {
			if err := m.frame(b); err != nil {
				return err
			}
			continue
		}
		if b.Empty() || isNumber(b) {
			continue
		}
		if !l.ran {
			if err := m.idle(b, true); err != nil {
				return err
			}
			continue
		}
		m.report.Blocks++
		m.apply(b, &l.plan)
	}
	return nil
}
