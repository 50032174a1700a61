package motion

import (
	"fmt"

	"flipcalc/mirror/fault"
)

// Bounds of what subprograms may ask for.
const (
	maxDepth    = 10       // calls inside calls
	maxSubBytes = 64 << 20 // text from the first call on, which must be held
)

// maxRun is the most blocks and moves that run with subprograms, repeats included;
// a block counts once more for each 64 bytes. Tests lower it.
var maxRun = 2_000_000

// Calls says in which order the blocks of a program with subprograms run. Blocks
// have positions from 0, from the first call on. M98, M99 and O numbers are common
// practice, not in NISTIR 6556.
type Calls struct {
	subs  map[string]int // where each begins, by its number or, of O words, its name
	stack []call
	run   int
	size  int
	held  []held
}

// held is a line that waits for its turn.
type held struct {
	text []byte
	line int
	ran  bool
}

// call is one subprogram that runs.
type call struct {
	start, back int
	left        int64 // repeats still to come
	locals      *locals
	given       map[int]amount // arguments of a macro
	words       bool           // called by O words, which return at endsub
	counts      map[int]int64  // of its repeat loops
}

// Label reads a line with nothing but an O number, comments allowed.
func Label(text []byte) (number int64, ok bool) {
	i := skipBlanks(text, 0)
	if i == len(text) || upper(text[i]) != 'O' {
		return 0, false
	}
	digits := 0
	for i++; i < len(text) && (text[i]-'0' <= 9 || blank(text[i])); i++ {
		if !blank(text[i]) {
			if digits++; digits > 9 {
				return 0, false
			}
			number = number*10 + int64(text[i]-'0')
		}
	}
	rest := trimEnd(text)
	return number, digits > 0 && (i >= len(rest) || rest[i] == '(' || rest[i] == ';')
}

// Hold keeps the next line, which may be a subprogram's O number; the first is the call that has
// run. It gives an error where two have the same number, or where the text is too long.
func (c *Calls) Hold(text []byte, line int, name string) error {
	if c.size += len(text); c.size > maxSubBytes {
		return &fault.Error{File: name, Line: line, Col: 1, Found: "more than 64 MiB after a subprogram's call", Hint: "write the subprogram's blocks out"}
	}
	c.held = append(c.held, held{text, line, len(c.held) == 0})
	if n, ok := Label(text); ok {
		return c.define(fmt.Sprint(n), len(c.held)-1, line, name)
	}
	return nil
}

// Follow has the held blocks run in the order in which they are called, and sees that the others
// move nothing.
func (c *Calls) Follow(m *Machine, tape *Tape, name string, run, rest func(at int) error) error {
	for at := 0; ; {
		next, err := c.Next(m, at)
		if err != nil {
			return err
		}
		if at = next; m.Ended() {
			break
		}
		if at >= len(c.held) || tape.Ended() {
			if err := c.Unfinished(name, c.held[len(c.held)-1].line); err != nil {
				return err
			}
			break
		}
		h := &c.held[at]
		if _, ok := Label(h.text); ok {
			return c.Entered(&Block{File: name, Line: h.line})
		}
		h.ran = true
		if err := run(at); err != nil {
			return err
		}
	}
	for at, h := range c.held {
		if h.ran {
			continue
		}
		if err := rest(at); err != nil {
			return err
		}
	}
	return nil
}

// define notes that a subprogram begins behind a position.
func (c *Calls) define(sub string, position, line int, name string) error {
	if _, twice := c.subs[sub]; twice {
		return &fault.Error{File: name, Line: line, Col: 1, Found: "a second subprogram O" + sub, Expected: "one of each number"}
	}
	if c.subs == nil {
		c.subs = map[string]int{}
	}
	c.subs[sub] = position + 1
	return nil
}

// Next gives the position of the block to run after the one that m ran last, at
// position at.
func (c *Calls) Next(m *Machine, at int) (int, error) {
	if c.run += 1 + len(m.moves) + len(m.block.Text)/64; c.run > maxRun {
		return 0, m.fault(-1, fmt.Sprintf("subprograms that run more than %d blocks and moves", maxRun), "fewer repeats, or fewer blocks from the first call on", "")
	}
	if e := m.Effect(); e.ReturnTo > 0 {
		return 0, m.fault(e.word, "M99 with P (a return to a block number)", "M99 alone", fault.MovesOut)
	}
	return c.next(m, at)
}

// next is Next with no bound and without M99 P.
func (c *Calls) next(m *Machine, at int) (int, error) {
	e := m.Effect()
	switch {
	case e.Return && len(c.stack) == 0:
		return 0, m.fault(e.word, "M99 in the main program, which would repeat without end", "M2 or M30",
			"where the lines above it are a subprogram, put it behind the main program's M2 or M30")
	case e.Return:
		next, _ := c.leave()
		return next, nil
	case e.Call == 0:
		return at + 1, nil
	}
	start, repeats := c.find(e.Call, e.Repeats)
	if start < 0 {
		return 0, m.fault(e.word, fmt.Sprintf("a call of O%d, which isn't in this file", e.Call), "the subprogram behind the main program", "write its blocks out, or put it into the file")
	}
	return c.enter(call{start: start, back: at + 1, left: repeats - 1}, func(found, expected, hint string) error {
		return m.fault(e.word, found, expected, hint)
	})
}

// find gives a subprogram's start, -1 where there is none. P may hold the repeats
// in front of a number of four digits.
func (c *Calls) find(p, l int64) (start int, repeats int64) {
	if s, ok := c.subs[fmt.Sprint(p)]; ok {
		return s, l
	}
	if s, ok := c.subs[fmt.Sprint(p%10_000)]; ok && p >= 10_000 && l == 1 {
		return s, p / 10_000
	}
	return -1, 0
}

// enter begins a call; refuse makes an error at what calls.
func (c *Calls) enter(f call, refuse func(found, expected, hint string) error) (int, error) {
	for i := range c.stack {
		if c.stack[i].start == f.start {
			return 0, refuse("a subprogram that calls itself, without end", "", "write a loop, or repeat it with L")
		}
	}
	if len(c.stack) == maxDepth {
		return 0, refuse(fmt.Sprintf("subprograms nested more than %d deep", maxDepth), "fewer", "")
	}
	c.stack = append(c.stack, f)
	return f.start, nil
}

// running gives the call that runs, nil in the main program.
func (c *Calls) running() *call {
	if len(c.stack) == 0 {
		return nil
	}
	return &c.stack[len(c.stack)-1]
}

// leave ends a subprogram, of which there is one: it runs anew, or it is over and its call is
// done.
func (c *Calls) leave() (next int, done *call) {
	top := c.running()
	if top.left > 0 {
		top.left--
		return top.start, nil
	}
	c.stack = c.stack[:len(c.stack)-1]
	return top.back, top
}

// Entered is asked at a line with an O number: nothing may run into it.
func (c *Calls) Entered(b *Block) error {
	if len(c.stack) > 0 {
		return b.fault(0, "the next subprogram before M99", "M99 at a subprogram's end", "")
	}
	return b.fault(0, "a subprogram that the program runs into", "M2 or M30 before it", "")
}

// Unfinished is asked at the end of the text.
func (c *Calls) Unfinished(name string, line int) error {
	if len(c.stack) == 0 {
		return nil
	}
	return &fault.Error{File: name, Line: line, Col: 1, Found: "the end of the file inside a subprogram", Expected: "M99"}
}

// callWords runs M98 and M99 as far as one block knows.
func (m *Machine) callWords() error {
	c := m.g[callGroup]
	if c < 0 {
		return nil
	}
	m.effect.word = m.gAt[callGroup]
	if c == 99 {
		m.effect.Return = true
		if m.has('P') {
			m.effect.word = m.word('P')
			n, ok := m.value('P').Int()
			if !ok || n < 1 {
				return m.fault(m.word('P'), fmt.Sprintf("P%s with M99", m.value('P')), "a block number", "")
			}
			m.effect.ReturnTo = n
			m.take('P', false)
		}
		return nil
	}
	if !m.has('P') {
		return m.fault(m.gAt[callGroup], "M98 without P", "P with the subprogram's number", "")
	}
	p, ok := m.value('P').Int()
	if !ok || p < 1 {
		return m.fault(m.word('P'), "M98 with no subprogram's number", "P with a whole number", "")
	}
	l := int64(1)
	if m.has('L') {
		if l, ok = m.value('L').Int(); !ok || l < 1 || l > int64(maxRun) {
			return m.fault(m.word('L'), fmt.Sprintf("L%s with M98", m.value('L')), "a whole number of repeats, 1 or more", "")
		}
	}
	if m.axisWords() {
		return m.fault(m.gAt[callGroup], "M98 with axis words", "", "put the call into a block of its own")
	}
	m.take('P', false)
	m.take('L', false)
	m.effect.Call, m.effect.Repeats = p, l
	return nil
}

// Ended reports whether M2 or M30 was run.
func (m *Machine) Ended() bool { return m.ended }
