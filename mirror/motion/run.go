package motion

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"slices"

	"flipcalc/mirror/fault"
)

// maxBlocks is the most blocks that a program with loops may run, unless Options say.
const maxBlocks = 10_000_000

// Run runs a program that is held in memory: parameters and expressions, jumps, loops and
// calls included (flow.go says which). visit is handed each block once it ran, with the
// numbers that its words had, the control after it and the moves that it made; all are
// valid until it returns. Lines that only steer are handed over as blocks without words.
// A number that comes out of an expression is rounded to 1e-9 of its unit. An error is a
// *fault.Error, or what visit returned.
func Run(text []byte, o Options, visit func(*Machine, *Block, []Move) error) error {
	r := &runner{text: text, name: o.Name, m: NewMachine(o), visit: visit, most: cmp.Or(o.Blocks, maxBlocks)}
	if err := r.index(); err != nil {
		return err
	}
	return r.run()
}

// runner is one Run.
type runner struct {
	text  []byte
	name  string
	m     *Machine
	visit func(*Machine, *Block, []Move) error
	lines []int    // where each begins
	steps []*step  // what each does, where it isn't a plain block; nil for those
	kept  []*Block // blocks read before; nil where not
	spans []span   // loops, branches and subs
	// sections tells for each line whose block numbers it has: the main program's, 0, on both
	// sides of a sub of O words too, or those of one subprogram.
	sections []int
	numbers  map[label]int

	calls   Calls
	main    map[int]int64 // counts of the main program's repeat loops
	ran     int
	most    int  // blocks
	again   bool // a line may run more than once
	moved   bool
	blank   Block // of a line that steers
	b       Block // of a line that isn't kept
	tape    Tape
	params  parameters
	modal   *call // of G66: what follows each block that moves
	pending []pending
}

// span is what belongs together: a loop, a branch or a sub from its first line to its last.
type span struct{ first, last int }

// label is a block's number within one subprogram.
type label struct {
	section int
	number  int64
}

// line gives a line's text.
func (r *runner) line(i int) []byte {
	end := len(r.text)
	if i+1 < len(r.lines) {
		end = r.lines[i+1]
	}
	return trimEnd(r.text[r.lines[i]:end])
}

// fault makes an error at a byte of a line.
func (r *runner) fault(i, at int, found, expected, hint string) error {
	return &fault.Error{File: r.name, Line: i + 1, Col: at + 1, Found: found, Expected: expected, Hint: hint}
}

// at gives an expression's error its place.
func (r *runner) at(i int, err error) error {
	var f *fault.Error
	if errors.As(err, &f) && f.Line == 0 {
		f.File, f.Line = r.name, i+1
	}
	return err
}

// index finds the lines and those that steer.
func (r *runner) index() error {
	text := bytes.TrimPrefix(r.text, []byte(byteOrderMark))
	r.text = text
	at := 0
	for line := range bytes.Lines(text) {
		if len(line) > MaxLine {
			return TooLong(r.name, len(r.lines)+1)
		}
		r.lines = append(r.lines, at)
		at += len(line)
	}
	r.steps, r.kept, r.sections = make([]*step, len(r.lines)), make([]*Block, len(r.lines)), make([]int, len(r.lines))
	return r.structure()
}

// run runs the program to its end.
func (r *runner) run() error {
	for pc := 0; pc < len(r.lines); {
		if r.ran++; r.ran > r.most {
			return r.fault(pc, 0, fmt.Sprintf("more than %d blocks", r.most), "a program that ends", "does the loop here ever end?")
		}
		next, err := r.step(pc)
		if err != nil {
			return err
		}
		if r.m.Ended() || r.tape.Ended() {
			return r.close()
		}
		if next <= pc {
			r.again = true
		}
		pc = next
	}
	if err := r.calls.Unfinished(r.name, max(len(r.lines), 1)); err != nil {
		return err
	}
	return r.close()
}

// close looks at the end of the program.
func (r *runner) close() error {
	if !r.moved {
		return noMotion(r.name)
	}
	return r.tape.Check(r.name, r.m)
}

// step runs a line and gives the one to run next.
func (r *runner) step(pc int) (int, error) {
	if s := r.steps[pc]; s != nil {
		if s.word == "THEN" {
			if yes, err := s.condition.True(&r.params); err != nil || !yes {
				return pc + 1, r.at(pc, err)
			}
			return r.do(pc, s.then)
		}
		next, err := r.steer(pc, s)
		if err != nil {
			return pc, r.at(pc, err)
		}
		return next, r.steered(pc)
	}
	b, err := r.block(pc)
	if err != nil {
		return pc, err
	}
	return r.do(pc, b)
}

// do runs the block of a line and gives the line to run next.
func (r *runner) do(pc int, b *Block) (int, error) {
	if b.Deleted && r.m.o.Skip&(1<<b.Switch) != 0 {
		return pc + 1, nil
	}
	if err := r.evaluate(b); err != nil {
		return pc, r.at(pc, err)
	}
	if next, taken, err := r.call(pc, b); taken || err != nil {
		if err != nil {
			return pc, err
		}
		return next, r.steered(pc)
	}
	if b.Tape {
		if err := r.tape.Mark(r.m); err != nil {
			return pc, err
		}
	}
	if _, ok := Label(b.Text); ok && !b.Tape && r.m.begunProgram {
		return pc, r.calls.Entered(b)
	}
	moves, err := r.m.Do(b)
	if err != nil {
		return pc, err
	}
	for _, p := range r.pending {
		p.apply(&r.params)
	}
	r.pending = r.pending[:0]
	r.moved = r.moved || len(moves) > 0
	b.Differs, r.params.differs = r.params.differs, ""
	if err := r.visit(r.m, b, moves); err != nil {
		return pc, err
	}
	if err := r.tape.Block(b, r.m); err != nil {
		return pc, err
	}
	return r.after(pc)
}

// steered hands over a line without words.
func (r *runner) steered(pc int) error {
	r.blank.File, r.blank.Line, r.blank.Text = r.name, pc+1, r.line(pc)
	r.m.effect, r.m.moves = Effect{Holes: r.m.effect.Holes[:0]}, r.m.moves[:0]
	r.blank.Differs, r.params.differs = r.params.differs, ""
	return r.visit(r.m, &r.blank, nil)
}

// block reads a line, or gives what was read before.
func (r *runner) block(pc int) (*Block, error) {
	if b := r.kept[pc]; b != nil {
		return b, nil
	}
	b := &r.b
	if r.again || r.calls.running() != nil || r.inside(pc) {
		b = &Block{}
	}
	b.File = r.name
	if err := b.Read(r.line(pc), pc+1); err != nil {
		return nil, err
	}
	if b != &r.b {
		r.kept[pc] = b
	}
	return b, nil
}

// Parameters that many controls act on when they are set: from firstForeign on signals,
// offsets and modes, among them an alarm and a stop with a message; clocks change nothing
// (common practice, from memory). NISTIR 6556 leaves those numbers to the program.
const (
	firstForeign = 1000
	alarm        = 3000
	firstClock   = 3001
	secondClock  = 3002
	stopped      = 3006
)

// evaluate works out the numbers of a block's words.
func (r *runner) evaluate(b *Block) error {
	r.pending, b.worked, b.Foreign = r.pending[:0], true, 0
	if b.Vacant != "" {
		b.Words, b.Vacant = b.all, ""
	}
	if err := r.params.begin(b); err != nil {
		return err
	}
	var vacant []int
	for _, w := range b.sums {
		if r.vacant(b.Words[w.word].Letter, w.tree) {
			vacant = append(vacant, w.word)
			continue
		}
		v, err := w.tree.Value(&r.params)
		if err != nil {
			return err
		}
		n, ok := v.Nano()
		if !ok {
			return b.fault(b.Words[w.word].Start, fmt.Sprintf("%c with a number that is too large", b.Words[w.word].Letter), "a number that a machine can use", "")
		}
		b.Words[w.word].Value = Num{v: usable(b.Words[w.word].Letter, n)}
	}
	if vacant != nil {
		b.leave(vacant)
	}
	for _, a := range b.settings {
		p, err := a.evaluate(&r.params)
		if err != nil {
			return err
		}
		switch n := p.k.number; {
		case n == alarm:
			return b.fault(max(0, bytes.IndexByte(b.Text, '#')), fmt.Sprintf("the program stops itself here with an alarm (#%d)", alarm), "a program that runs to its end", "its arguments are refused by the macro itself")
		case n >= firstForeign && n != firstClock && n != secondClock && !(n == stopped && b.stops):
			b.Foreign = n
		}
		r.pending = append(r.pending, p)
	}
	r.params.setting = r.params.setting[:0]
	return nil
}

// vacant reports a word of a macro's body with an argument that its G65 or G66 doesn't give.
// Controls that know these calls leave such a word out (common practice, from memory);
// elsewhere, and in a code, a value that nobody set is a fault.
func (r *runner) vacant(letter byte, t *tree) bool {
	const most = 33
	if t.op != opParameter || t.name != "" || t.a.op != opConstant || bytes.IndexByte([]byte("GMOPTHD"), letter) >= 0 {
		return false
	}
	for i := len(r.calls.stack) - 1; i >= 0; i-- {
		if f := &r.calls.stack[i]; f.given != nil {
			k, err := t.key(&r.params)
			if err != nil {
				return false
			}
			_, set, err := r.params.get(k, t.at)
			return !f.words && err == nil && !set && k.number <= most
		}
	}
	return false
}

// leave takes words out of the block until it is evaluated again.
func (b *Block) leave(words []int) {
	w := &b.Words[words[0]]
	b.Vacant, b.all = string(b.Text[w.Start:w.End]), b.Words
	b.Words = nil
	for i := range b.all {
		if !slices.Contains(words, i) {
			b.Words = append(b.Words, b.all[i])
		}
	}
}

// usable rounds what was worked out to what controls take in one word, some eight digits:
// feeds and pecks to five decimals, speeds to three. Coordinates are the writer's.
func usable(letter byte, nano int64) int64 {
	var step int64
	switch letter {
	case 'F', 'Q':
		step = scale / 100_000
	case 'S':
		step = scale / 1000
	default:
		return nano
	}
	if nano < 0 {
		return -usable(letter, -nano)
	}
	return (nano + step/2) / step * step
}

// after gives the line to run after a block that may have called or returned.
func (r *runner) after(pc int) (int, error) {
	e := r.m.Effect()
	called := r.calls.running() != nil
	modal := r.modal != nil && len(r.m.moves) > 0 && !called
	if modal && (e.ReturnTo > 0 || r.m.Ended()) {
		at := r.m.gAt[stopGroup]
		if e.ReturnTo > 0 {
			at = r.m.gAt[callGroup]
		}
		w := &r.m.block.Words[at]
		return pc, r.m.fault(at, fmt.Sprintf("%c%s in a block that moves while G66 is on", w.Letter, w.Value), "it in a block of its own", "controls differ on whether the macro is called first")
	}
	switch {
	case e.ReturnTo > 0:
		return r.backTo(pc, e)
	case e.Return && called:
		return r.back(), nil
	case e.Call > 0:
		if err := r.noModal(pc, r.m.block.Words[e.word].Start, "M98"); err != nil {
			return pc, err
		}
	case modal && !e.Return:
		f := *r.modal
		f.back = pc + 1
		return r.enter(pc, 0, f)
	}
	return r.calls.next(r.m, pc)
}

// enter begins a call with parameters of its own.
func (r *runner) enter(pc, at int, f call) (int, error) {
	if f.given != nil {
		most := 33
		if f.words {
			most = 30
		}
		l := r.params.enter(most, f.given)
		f.locals = &l
	}
	return r.calls.enter(f, func(found, expected, hint string) error { return r.fault(pc, at, found, expected, hint) })
}

// back ends a subprogram, whose caller gets its parameters back.
func (r *runner) back() int {
	next, done := r.calls.leave()
	if done != nil && done.locals != nil {
		r.params.leave(*done.locals)
	}
	return next
}

// backTo runs M99 P: it goes on at a block number of the program that called, in the main
// program at one of its own (common practice, from memory).
func (r *runner) backTo(pc int, e *Effect) (int, error) {
	at := r.m.block.Words[e.word].Start
	top := r.calls.running()
	switch {
	case top == nil:
		return r.find(pc, pc, at, e.ReturnTo)
	case top.left > 0 || top.words:
		return pc, r.fault(pc, at, "M99 with P in a subprogram that is to be repeated, or of O words", "M99 alone", "")
	}
	return r.find(r.back()-1, pc, at, e.ReturnTo)
}

// find gives the line with a block number, in the subprogram that line from is in, for a
// jump at a byte of line pc.
func (r *runner) find(from, pc, at int, number int64) (int, error) {
	if r.numbers == nil {
		r.numbers = map[label]int{}
		for i := range r.lines {
			if n, ok := blockNumber(r.line(i)); ok {
				k := label{r.sections[i], n}
				if _, twice := r.numbers[k]; twice {
					r.numbers[k] = -1
				} else {
					r.numbers[k] = i
				}
			}
		}
	}
	to, ok := r.numbers[label{r.sections[from], number}]
	switch {
	case !ok:
		return pc, r.fault(pc, at, fmt.Sprintf("a jump to N%d, which isn't there", number), "a block with that number in the same program", "")
	case to < 0:
		return pc, r.fault(pc, at, fmt.Sprintf("a jump to N%d, which is there twice", number), "one block of that number", "")
	}
	for _, s := range r.spans {
		if to > s.first && to <= s.last && (from < s.first || from > s.last) {
			return pc, r.fault(pc, at, fmt.Sprintf("a jump to N%d, into a loop or branch of line %d", number, s.first+1), "a jump out of one, or inside it", "")
		}
	}
	return to, nil
}

// blockNumber reads the N word in front of a line.
func blockNumber(text []byte) (n int64, ok bool) {
	i := skipBlanks(text, 0)
	if i < len(text) && text[i] == '/' {
		i = skipBlanks(text, i+1)
	}
	if i == len(text) || upper(text[i]) != 'N' {
		return 0, false
	}
	for i = skipBlanks(text, i+1); i < len(text) && text[i]-'0' <= 9 && n < 1e12; i++ {
		n, ok = n*10+int64(text[i]-'0'), true
	}
	return n, ok
}

// inside reports whether a line is part of a loop.
func (r *runner) inside(pc int) bool {
	return slices.ContainsFunc(r.spans, func(s span) bool { return pc > s.first && pc < s.last })
}
