// Package proof says whether a written program does what it must, move by move: a mirrored
// one what its input does, through the map, both run side by side (Start); one of our own
// the moves that are wanted (Matches).
//
// It shares nothing with the code that writes programs.
package proof

import (
	"bytes"
	"fmt"
	"regexp"
	"slices"

	"flipcalc/mirror/fault"
	"flipcalc/mirror/motion"
	"flipcalc/mirror/transform"
)

// Options say how the output should follow from the input.
type Options struct {
	Name            string         // the input's name in messages
	OutName         string         // the output's; "" means "output"
	Map, InchMap    transform.Map  // what was used under G21 and under G20
	Unit            transform.Unit // until G20 or G21
	AbsoluteCentres bool           // until G90.1 or G91.1
	BackOffset      int            // the back's work offset, 540 for G54; 0 leaves offsets alone
	OffsetMap       map[int]int    // instead of BackOffset, for the offsets it names
	KeepOffset      bool           // offsets stay as they are
	Top             *motion.Num    // upper surface of the work in the input, in Map.Unit; nil where it isn't known
	Reversed        []Chain        // chains that the output runs backwards, in the input's order
	Inert           []int          // M codes that move no axis
	ArcTolerance    motion.Num     // largest radius mismatch in mm; 0 means 0.05
}

// Result says what was proved.
type Result struct {
	Blocks, Moves int64  // of the input
	Plain         int64  // blocks that took the short way
	CommentLine   int    // of the output: the added or replaced comment; 0 if none
	OffsetLine    int    // of the output: the added block with the back's offset; 0 if none
	Reversed      int64  // chains that were compared backwards
	Starts        [3]int // first block that cuts where a reversed axis stands at the start; 0 if none
	Mismatches    int    // arcs whose radii differ by more than 0.002 mm or 0.0002 in
	FirstMismatch int
	WorstMismatch float64 // mm
}

// pair is the work of one check: both programs, read side by side.
type pair struct {
	o       Options
	in, out *stream
	a, b    motion.Block // the blocks at hand, of the input and of the output
	lanes   []*lane      // one, or two while deleted blocks make a difference
	tape    motion.Tape
	offsets map[int]int // output's offset -> the input's that it stands for
	result  Result

	finished bool    // nothing follows
	proved   int     // bytes of the output
	chains   []Chain // reversed chains still to come

	fast fast
	slow bool // no short way: for reversed chains, and for tests
}

func newPair(o Options) *pair {
	if o.OutName == "" {
		o.OutName = "output"
	}
	p := &pair{o: o, offsets: map[int]int{}, chains: o.Reversed}
	p.a.File, p.b.File = o.Name, o.OutName
	m := motion.Options{Name: o.Name, Unit: o.Unit, AbsoluteCentres: o.AbsoluteCentres, ArcTolerance: o.ArcTolerance, Inert: o.Inert, Extended: true}
	n := m
	n.Name = o.OutName
	p.lanes = []*lane{newLane(p, motion.NewMachine(m), motion.NewMachine(n))}
	return p
}

// run goes through both programs to their ends.
func (p *pair) run() error {
	for {
		if p.fast.ready {
			if err := p.runFast(); err != nil {
				return err
			}
		}
		p.proved = p.out.gone + p.out.pos
		a, aOK, b, bOK, err := p.next()
		if err != nil {
			return err
		}
		switch {
		case !aOK && !bOK:
			return p.finish()
		case aOK && bOK && p.nextChain(p.in.line) == p.in.line:
			if err := p.chain(a, b); err != nil {
				return err
			}
			continue
		case !bOK:
			return p.no(p.out.line+1, 1, "the output's end", fmt.Sprintf("line %d of the input: %s", p.in.line, quote(a)))
		}
		var text []byte
		if aOK {
			text = a
		}
		if err := p.step(text, b, aOK); err != nil {
			return err
		}
		if p.finished {
			return nil
		}
	}
}

// next hands over one line of each program, valid until the next call or peek. ok
// is false at the end of either.
func (p *pair) next() (a []byte, aOK bool, b []byte, bOK bool, err error) {
	// Both wait before either gives a line: waiting may move the text.
	if _, err := p.in.more(); err != nil {
		return nil, false, nil, false, err
	}
	if _, err := p.out.more(); err != nil {
		return nil, false, nil, false, err
	}
	a, aOK = p.in.next()
	b, bOK = p.out.next()
	return a, aOK, b, bOK, nil
}

// step takes one line of each program. Without a line of the input, only an
// insertion is right.
func (p *pair) step(a, b []byte, more bool) error {
	if p.tape.Ended() || p.lanes[0].in.Ended() {
		return p.still(a, b, more)
	}
	if added, replaced, err := p.comment(a, b, more); added || replaced || err != nil {
		return err
	}
	if !more {
		return p.no(p.out.line, 1, "another block: "+quote(b), "the end")
	}
	// The input first: what can't be read there is no fault of the mirror.
	if err := p.a.Read(a, p.in.line); err != nil {
		return err
	}
	if err := p.b.Read(b, p.out.line); err != nil {
		return p.broken(err)
	}
	if inserted, err := p.insertedOffset(a, b); inserted || err != nil {
		if inserted {
			p.in.back(a)
		}
		return err
	}
	if err := p.both(a, b); err != nil {
		return err
	}
	if e := p.lanes[0].in.Effect(); e.Call > 0 || e.Return {
		return p.runCalls(a, b)
	}
	p.settle()
	return nil
}

// both runs one block, which p.a and p.b hold, in all lanes.
func (p *pair) both(a, b []byte) error {
	if err := p.compareText(a, b); err != nil {
		return err
	}
	if p.a.Tape {
		if err := p.tape.Mark(p.lanes[0].in); err != nil {
			return err
		}
	}
	if len(p.a.Words) > 0 && !p.a.Tape {
		p.result.Blocks++
	}
	if p.a.Deleted && len(p.lanes) == 1 {
		p.lanes = append(p.lanes, p.lanes[0].skipping())
	}
	for _, l := range p.lanes {
		if err := l.step(&p.a, &p.b); err != nil {
			return err
		}
	}
	if len(p.lanes) == 2 {
		e, f := p.lanes[0].in.Effect(), p.lanes[1].in.Effect()
		if e.Call != f.Call || e.Return != f.Return {
			return refuse(&p.a, 'M', "a call or return of a subprogram behind a slash", "take the slash out")
		}
		if p.lanes[0].in.Ended() != p.lanes[1].in.Ended() {
			return refuse(&p.a, 'M', "the program's end behind a slash, so that what follows runs only with block delete on",
				"take the slash out, or write two programs")
		}
		if p.lanes[0].agrees(p.lanes[1]) {
			p.lanes[0].in.Join(p.lanes[1].in)
			p.lanes = p.lanes[:1]
		}
	}
	return p.tape.Block(&p.a, p.lanes[0].in)
}

// still takes a line that never runs: it must be as it was.
func (p *pair) still(a, b []byte, more bool) error {
	if more && string(a) == string(b) {
		return motion.Idle(a, p.in.line, p.o.Name)
	}
	if added, replaced, err := p.comment(a, b, more); added || replaced || err != nil {
		return err
	}
	if !more {
		return p.no(p.out.line, 1, "another line: "+quote(b), "the end")
	}
	return p.no(p.out.line, 1, "a line that never runs: "+quote(b), "the input's: "+quote(a))
}

// finish looks at the ends of both programs.
func (p *pair) finish() error {
	p.finished = true
	if err := p.tape.Check(p.o.Name, p.lanes[0].in); err != nil {
		return err
	}
	l := p.lanes[0]
	if len(p.lanes) == 2 {
		l.in.Join(p.lanes[1].in)
	}
	p.result.Mismatches, p.result.FirstMismatch, p.result.WorstMismatch = l.in.Mismatches()
	return nil
}

// comment takes the one line with nothing but a comment that the output may have
// more than the input, whose line is then still to come, or instead of a comment of it.
func (p *pair) comment(a, b []byte, more bool) (added, replaced bool, err error) {
	if p.result.CommentLine != 0 || !onlyComment.Match(b) || more && string(a) == string(b) {
		return false, false, nil
	}
	p.result.CommentLine = p.out.line
	if !more {
		return true, false, nil
	}
	if onlyComment.Match(a) { // added before the input's own comment, or written instead of it?
		own := bytes.Clone(a)
		next, ok, err := p.out.peek()
		if err != nil || !ok || string(next) != string(own) {
			return false, true, err
		}
	}
	p.in.back(a)
	return true, false, nil
}

// onlyComment is a line with one comment and nothing else.
var onlyComment = regexp.MustCompile(`^\s*(;[^\x00-\x08\x0a-\x1f]*|\([^()\x00-\x08\x0a-\x1f]*\))\s*$`)

// insertedOffset takes the one block with nothing but the back's work offset that
// the output may have before the first motion.
func (p *pair) insertedOffset(a, b []byte) (bool, error) {
	code, ok := onlyOffset(&p.b)
	if !ok || p.result.OffsetLine != 0 || p.lanes[0].in.Moved() || string(a) == string(b) || code != p.want(540) {
		return false, nil
	}
	if _, same := onlyOffset(&p.a); same {
		return false, nil
	}
	if in := p.lanes[0].in; in.State().Comp != 40 || in.Rotated() {
		return false, nil // controls refuse a change of the zero then
	}
	p.result.OffsetLine = p.out.line
	for _, l := range p.lanes {
		if _, err := l.out.Do(&p.b); err != nil {
			return false, p.broken(err)
		}
	}
	return true, nil
}

// onlyOffset gives the code of a block with nothing but a work offset.
func onlyOffset(b *motion.Block) (code int, ok bool) {
	p := offsetP(b)
	if b.Deleted || len(b.Words) != 1 && (p != 1 || len(b.Words) != 2) || b.Words[0].Letter != 'G' {
		return 0, false
	}
	i := 0
	for _, w := range b.Words {
		if !onlyBlanks(b.Text[i:w.Start]) {
			return 0, false
		}
		i = w.End
	}
	if !onlyBlanks(b.Text[i:]) {
		return 0, false
	}
	if p == 1 {
		n, whole := b.Words[1].Value.Int()
		return transform.MoreOffsets + int(n), whole
	}
	code = offsetCode(b.Words[0].Value)
	return code, code != 0 && code != 541
}

func onlyBlanks(text []byte) bool { return len(bytes.Trim(text, " \t")) == 0 }

// offsetP gives the index of the P word right behind G54.1 or G54, -1 where none is.
func offsetP(b *motion.Block) int {
	for i := range len(b.Words) - 1 {
		if b.Words[i].Letter == 'G' && b.Words[i+1].Letter == 'P' {
			if c := offsetCode(b.Words[i].Value); c == 540 || c == 541 {
				return i + 1
			}
		}
	}
	return -1
}

// alike gives two blocks, and their lines, without the P of the work offset where only
// one of them has it: an offset with a P may stand for one without. What the offsets
// are is compared when the blocks have run.
func alike(a, b *motion.Block, at, bt []byte) (*motion.Block, *motion.Block, []byte, []byte) {
	p, q := offsetP(a), offsetP(b)
	if p >= 0 && q < 0 {
		a, at = without(a, p, at)
	} else if q >= 0 && p < 0 {
		b, bt = without(b, q, bt)
	}
	return a, b, at, bt
}

// without gives a block and its line without its word i and the blanks before it.
func without(b *motion.Block, i int, line []byte) (*motion.Block, []byte) {
	from, to := b.Words[i-1].End, b.Words[i].End
	if !onlyBlanks(line[from:b.Words[i].Start]) {
		return b, line
	}
	c := *b
	line = slices.Concat(line[:from], line[to:])
	c.Text = line[:len(b.Text)-(to-from)]
	c.Words = slices.Delete(slices.Clone(b.Words), i, i+1)
	for k := i; k < len(c.Words); k++ {
		w := &c.Words[k]
		w.Start, w.Number, w.End = w.Start-(to-from), w.Number-(to-from), w.End-(to-from)
	}
	return &c, line
}

// offsetCode gives a work offset's code times ten, 0 for any other number.
func offsetCode(n motion.Num) int {
	v, ok := n.Times(10).Int()
	if ok && (v >= 540 && v <= 590 && v%10 == 0 || v >= 591 && v <= 593 || v == 541) {
		return int(v)
	}
	return 0
}

// want gives the work offset that stands in the output for one of the input.
func (p *pair) want(offset int) int {
	if offset == 0 {
		offset = 540
	}
	if p.o.KeepOffset {
		return offset
	}
	if to, ok := p.o.OffsetMap[offset]; ok {
		return to
	}
	if p.o.BackOffset != 0 {
		return p.o.BackOffset
	}
	return offset
}

// no makes the error that the output isn't the input's mirror.
func (p *pair) no(line, col int, found, expected string) error {
	return &fault.Error{File: p.o.OutName, Line: line, Col: col, Found: found, Expected: expected,
		Hint: "nothing was handed over: this is a fault of the mirror, please report it", No: true}
}

// broken turns an error of the output's interpreter into a no.
func (p *pair) broken(err error) error {
	if f, ok := err.(*fault.Error); ok {
		g := *f
		g.No = true
		return &g
	}
	return err
}

// quote shows a line in a message, cut short.
func quote(b []byte) string {
	for len(b) > 0 && (b[len(b)-1] == '\n' || b[len(b)-1] == '\r') {
		b = b[:len(b)-1]
	}
	if len(b) > 60 {
		return fmt.Sprintf("%q...", b[:60])
	}
	return fmt.Sprintf("%q", b)
}
