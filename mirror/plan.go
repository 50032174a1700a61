package mirror

import (
	"bytes"
	"fmt"
	"iter"
	"slices"
	"strings"

	"flipcalc/mirror/block"
	"flipcalc/mirror/fact"
	"flipcalc/mirror/fault"
	"flipcalc/mirror/motion"
	"flipcalc/mirror/transform"
)

// op is what happens to one word.
type op uint8

const (
	opFlip     op = iota + 1 // the sign alone: increments, arc centres from the start
	opPlace                  // sign and offset: coordinates
	opTurn                   // an angle's sign
	opCode                   // another code
	opExtended               // another P behind G54.1
	opDrop                   // the word goes, and the blanks before it
)

// edit is one change to a block. Edits can be compared: two states mirror a block
// alike when they ask for the same edits.
type edit struct {
	word int // index into the block's words
	op   op
	axis uint8
	unit transform.Unit // of the transform
	code int            // for opCode and opExtended
}

// plan is all that is done to one block.
type plan struct {
	edits  []edit
	insert bool // the back's offset goes in front of the block
	silent bool // the block moves in an offset that the program hasn't called
	moves  bool
	cuts   bool // moves at feed in the plane of the part
	rapid  bool
}

func (p *plan) add(e edit) { p.edits = append(p.edits, e) }

func (p *plan) equal(q *plan) bool {
	return p.insert == q.insert && slices.Equal(p.edits, q.edits)
}

const (
	axisWords   = 1<<('X'&31) | 1<<('Y'&31) | 1<<('Z'&31)
	centreWords = 1<<('I'&31) | 1<<('J'&31) | 1<<('K'&31)
	radiusWord  = 1 << ('R' & 31)
	onceWords   = 1<<27 - 2 - 1<<('G'&31) - 1<<('M'&31)
	knownWords  = axisWords | centreWords | radiusWord | 1<<('G'&31) | 1<<('M'&31) | 1<<('F'&31) | 1<<('S'&31) |
		1<<('T'&31) | 1<<('H'&31) | 1<<('D'&31) | 1<<('P'&31) | 1<<('Q'&31) | 1<<('L'&31) | rotaryWords
	rotaryWords = 1<<('A'&31) | 1<<('B'&31) | 1<<('C'&31)
)

// reading is a block being planned.
type reading struct {
	m *rewriter
	b *block.Block
	s *state
	p *plan

	code     [groups]int // per group the code, or none
	word     [groups]int // and the word's index
	ms       int         // M words so far
	oriented bool        // M19
}

// plan reads b in state s, writes what must change into p and brings s up to what
// the control has set after the block.
func (m *rewriter) plan(b *block.Block, s *state, p *plan) error {
	r := &m.reading
	*r = reading{m: m, b: b, s: s, p: p}
	*p = plan{edits: p.edits[:0]}
	for i := range r.code {
		r.code[i] = none
	}
	if err := r.words(); m.stops(err) {
		return err
	}
	if err := r.settle(); m.stops(err) {
		return err
	}
	if err := r.modes(); m.stops(err) {
		return err
	}
	if err := r.axes(); m.stops(err) {
		return err
	}
	if p.silent {
		if err := m.silent(b); err != nil {
			return err
		}
	}
	return r.end()
}

// refuse makes the error for the word with index i.
func (r *reading) refuse(i int, found, expected, hint string) error {
	return r.m.refuse(r.b, int(r.b.W[i].Start), found, expected, hint)
}

// refuseLetter makes the error for the first word with the given letter.
func (r *reading) refuseLetter(letter byte, found, expected, hint string) error {
	at := r.b.Start
	if w := r.b.Find(letter); w != nil {
		at = int(w.Start)
	}
	return r.m.refuse(r.b, at, found, expected, hint)
}

func (m *rewriter) refuse(b *block.Block, at int, found, expected, hint string) error {
	return &fault.Error{File: m.o.Name, Line: b.Line, Col: at - b.Start + 1, Found: found, Expected: expected, Hint: hint}
}

// text gives a word as it is written.
func (r *reading) text(i int) string {
	w := &r.b.W[i]
	return string(r.m.chunk[w.Start:w.End])
}

func (r *reading) has(letters uint32) bool { return r.b.Letters&letters != 0 }

// three gives the block's words of three letters in a row, X Y Z or I J K from first on, each
// by its index in the block and its axis.
func (r *reading) three(first byte) iter.Seq2[int, int] {
	return func(yield func(word, axis int) bool) {
		for i := range r.b.W[:r.b.N] {
			if a := int(r.b.W[i].Letter) - int(first); a >= 0 && a <= 2 && !yield(i, a) {
				return
			}
		}
	}
}

// place maps the word with index i as a place on an axis.
func (r *reading) place(i, axis int) {
	if !r.m.axes[r.s.unit][axis].same {
		r.p.add(edit{word: i, op: opPlace, axis: uint8(axis), unit: r.s.unit})
	}
}

// flip maps the word with index i as a length along an axis.
func (r *reading) flip(i, axis int) {
	if r.m.axes[r.s.unit][axis].neg {
		r.p.add(edit{word: i, op: opFlip, axis: uint8(axis), unit: r.s.unit})
	}
}

// words sorts the block's G and M words into their groups and looks for words that
// can't be followed.
func (r *reading) words() error {
	for i := range r.b.W[:r.b.N] {
		if err := r.one(i); r.m.stops(err) {
			return err
		}
	}
	return nil
}

// one files the word with index i.
func (r *reading) one(i int) error {
	b, m, w := r.b, r.m, &r.b.W[i]
	var g group
	switch w.Letter {
	case 'G':
		if c := w.Code(); c >= 0 && c < maxCode {
			g = gGroups[c]
		}
	case 'M':
		if c := w.Code(); c >= 0 && c < maxCode {
			g = mGroups[c]
		}
		if r.ms++; r.ms > 4 {
			return r.refuse(i, "a fifth M word in one block", "at most four", "put it into a block of its own")
		}
	default:
		bit := block.Bit(w.Letter)
		if (w.Letter == 'U' && names(b, 'G', 40) || w.Letter == 'E' && names(b, 'G', 1870)) && b.Twice&bit == 0 {
			return nil // a time beside G4, a tolerance beside G187
		}
		if w.Letter == 'O' && i == 0 && b.N > 1 && m.report.Blocks == 1 && !m.number {
			return m.nameBehind(b, int(b.W[0].End))
		}
		if bit&knownWords == 0 {
			found, hint := motion.DescribeWord(w.Letter, r.text(i))
			return r.refuse(i, found, "", hint)
		}
		if b.Twice&onceWords&bit != 0 && b.Find(w.Letter) != w {
			return r.refuse(i, fmt.Sprintf("a second %c word in one block", w.Letter), "one", "write two blocks")
		}
		if w.Value < 0 && strings.IndexByte("DFHST", w.Letter) >= 0 {
			return r.refuse(i, fmt.Sprintf("a negative %c", w.Letter), "zero or more", "")
		}
		return nil
	}
	if w.Letter == 'M' && g == gUnknown && slices.Contains(m.o.Inert, w.Code()/10) && w.Code()%10 == 0 {
		g = mInert
	}
	if g == mInert {
		r.oriented = r.oriented || w.Code() == 190
		m.note(fact.Warning, b.Line, PassedOn{Code: motion.CodeName('M', w.Code())})
		return nil
	}
	if g == gUnknown {
		return r.unknown(i, w.Letter, w.Code())
	}
	if r.code[g] != none {
		if w.Letter == 'M' && g == mCoolant && r.code[g] != 90 && w.Code() != 90 && r.code[g] != w.Code() {
			return nil // M7 and M8 may both be on
		}
		return r.refuse(i, fmt.Sprintf("%s after %s in one block", motion.CodeName(w.Letter, w.Code()), motion.CodeName(w.Letter, r.code[g])),
			"one of them", "put them into two blocks")
	}
	r.code[g], r.word[g] = w.Code(), i
	return nil
}

// unknown refuses the word with index i, whose code isn't followed.
func (r *reading) unknown(i int, letter byte, code int) error {
	found, hint := motion.Describe(letter, code)
	return r.refuse(i, found, "", hint)
}

// settle finds out what codes mean that depend on the words beside them.
func (r *reading) settle() error {
	const moving = axisWords | centreWords | radiusWord
	p, q := block.Bit('P'), block.Bit('Q')
	ahead := none
	switch c := r.code[gMotion]; {
	case c == 50 && r.has(p) && !r.has(q|moving), c == 51 && r.has(q) && !r.has(p|moving):
		ahead = r.word[gMotion]
		r.code[gMotion] = none
	case r.code[gAhead] == 80 && r.has(p), r.code[gAhead] == 1030 && r.b.Letters&^(block.Bit('G')|p|block.Bit('N')) == 0 && r.b.N <= 2 && (r.b.N == 1 || r.has(p)):
		ahead = r.word[gAhead]
	case r.code[gAhead] != none:
		return r.unknown(r.word[gAhead], 'G', r.code[gAhead])
	}
	if ahead != none {
		r.m.note(fact.Note, r.b.Line, LookAhead{Code: motion.CodeName('G', r.b.W[ahead].Code())})
	}
	for _, g := range [2]group{gScaleOff, gMirrorOff} {
		// Beside a motion word the axis words are the move's.
		if r.code[g] != none && (r.has(p|block.Bit('S')) || r.code[gMotion] == none && r.has(moving)) {
			return r.unknown(r.word[g], 'G', r.code[g])
		}
	}
	if c := r.code[gUnit]; c >= 700 {
		// Units of ISO 6983, and cycles on lathes: only where they change nothing.
		inch := c == 700
		if r.b.Letters&^(block.Bit('G')|block.Bit('M')) != 0 || inch != (r.s.unit == transform.Inch) {
			return r.unknown(r.word[gUnit], 'G', c)
		}
		r.code[gUnit] = c - 500
	}
	if r.code[gEnd] == none {
		return nil
	}
	switch c := r.code[gMotion]; {
	case c == none:
		r.code[gMotion], r.word[gMotion] = 800, r.word[gEnd]
	case isCycle(c):
		return r.refuse(r.word[gEnd], fmt.Sprintf("G80 and %s in one block", motion.CodeName('G', c)), "one of them", "put them into two blocks")
	default:
		r.s.r, r.s.depth = value{}, value{}
	}
	r.s.bare = 0
	return nil
}

// modes brings the state up to the block's codes, in the order in which a control
// carries them out (NISTIR 6556, table 8), except motion.
func (r *reading) modes() error {
	s, m := r.s, r.m
	if c := r.code[gFeed]; c != none {
		s.feed = c
		m.said |= saidFeed
	}
	if c := r.code[mSpindle]; c != none {
		s.spindle = map[int]int{30: 1, 40: -1, 50: 2, 130: 1, 140: -1}[c]
	}
	if r.code[mChange] != none {
		for a := range s.at {
			if s.at[a] == known {
				s.at[a] = changed
			}
		}
	}
	if c := r.code[gPlane]; c != none {
		if c != 170 {
			if err := r.noComp(r.word[gPlane], motion.CodeName('G', c)); err != nil {
				return err
			}
		}
		s.plane = map[int]transform.Plane{170: transform.XY, 180: transform.ZX, 190: transform.YZ}[c]
		m.said |= saidPlane
	}
	if c := r.code[gUnit]; c != none {
		if err := r.noComp(r.word[gUnit], motion.CodeName('G', c)); err != nil {
			return err
		}
		s.unit = transform.MM
		if c == 200 {
			s.unit = transform.Inch
		}
		m.said |= saidUnit
	}
	if err := r.comp(); err != nil {
		return err
	}
	if err := r.workOffset(); err != nil {
		return err
	}
	if c := r.code[gDistance]; c != none {
		s.inc = c == 910
		m.said |= saidDistance
	}
	if c := r.code[gCentres]; c != none {
		s.absCentres = c == 901
		m.said |= saidCentres
	}
	if c := r.code[gReturn]; c != none {
		s.toR = c == 990
	}
	return nil
}

// workOffset calls the back's offset where the block calls one.
func (r *reading) workOffset() error {
	c, at := r.code[gOffset], r.word[gOffset]
	if c == none {
		return nil
	}
	if err := r.noComp(at, motion.CodeName('G', c)); err != nil {
		return err
	}
	c, err := r.extended(c)
	if err != nil {
		return err
	}
	to, err := r.m.mapOffset(r.b, at, c)
	if err != nil {
		return err
	}
	if err := r.callOffset(c, to); err != nil {
		return err
	}
	s := r.s
	if s.offset != c && (s.offset != none || c != 540 && s.moved) {
		s.at = [3]place{lost, lost, lost} // what the tool's place is called in it isn't known
	}
	s.offset = c
	return nil
}

// motion gives the motion code in force in this block.
func (r *reading) motion() int {
	if c := r.code[gMotion]; c != none {
		return c
	}
	return r.s.motion
}

// comp deals with G40, G41 and G42.
func (r *reading) comp() error {
	c := r.code[gComp]
	on := c == 410 || c == 411 || c == 420 || c == 421
	switch {
	case c == 400:
		r.s.comp = false
	case on && r.s.comp:
		return r.refuse(r.word[gComp], motion.CodeName('G', c)+" while cutter compensation is on", "", "cancel it with G40 first")
	case on && r.s.plane != transform.XY:
		return r.refuse(r.word[gComp], fmt.Sprintf("%s in %s", motion.CodeName('G', c), r.s.plane), "G17", "")
	case on:
		r.anchor()
		r.s.comp = true
		if r.m.oneAxis {
			to := c + 10
			if c >= 420 {
				to = c - 10
			}
			r.p.add(edit{word: r.word[gComp], op: opCode, code: to})
		}
	}
	return nil
}

// axes finds out which code the block's axis words belong to.
func (r *reading) axes() error {
	act := r.code[gAction]
	if act != none && r.code[gMachine] != none {
		return r.refuse(r.word[gMachine], "G53 with "+motion.CodeName('G', act), "one of them", "put them into two blocks")
	}
	if err := r.rotary(); err != nil {
		return err
	}
	if c := r.code[mCall]; c != none {
		if r.has(axisWords | centreWords | radiusWord) {
			return r.refuse(r.word[mCall], motion.CodeName('M', c)+" with axis words", "", "put the call into a block of its own")
		}
		if c == 980 {
			r.first() // an offset goes in front of the call, not into the subprogram
		}
	}
	if c := r.code[gRotate]; c == 680 || c == 690 && r.s.rotated {
		return r.rotate()
	}
	switch act {
	case none:
	case 40:
		return r.dwell()
	case 120, 130:
		return r.pocket(act)
	case 280, 300:
		return r.home(act)
	case 520, 920:
		return r.shift(act)
	default: // G92.1, G92.2, G92.3
		return r.unshift(act)
	}
	if r.code[gMachine] != none {
		return r.machine()
	}
	if c := r.code[gMotion]; c != none {
		r.setMotion(c)
	}
	return r.move()
}

func (r *reading) noCentres(name string) error {
	for _, letter := range []byte("IJKR") {
		if !r.has(block.Bit(letter)) {
			continue
		}
		found, hint := fmt.Sprintf("%c with %s", letter, name), "take it out"
		switch plain := r.s.motion <= 10 && r.code[gAction] == none && r.code[gMachine] == none; {
		case letter == 'R' && r.oriented:
			found, hint = "R with M19 (an angle of the spindle, which isn't mirrored)", "write M19 alone where the tool is clear at any angle"
		case letter == 'R' && plain && r.s.motion != none:
			found, hint = found+" (a corner that some controls round)", "write the corner as an arc"
		case plain:
			hint = "take it out, or write G2 or G3 where an arc is meant"
		}
		return r.refuseLetter(letter, found, "", hint)
	}
	return nil
}

func (r *reading) noComp(at int, name string) error {
	if r.s.comp {
		return r.refuse(at, name+" while cutter compensation is on", "", "cancel it with G40 first")
	}
	if r.code[gRotate] == none {
		return r.noRotation(at, name)
	}
	return nil
}

// end deals with M2 and M30.
func (r *reading) end() error {
	if c := r.code[mStop]; c == 20 || c == 300 {
		if r.b.Deleted {
			return r.refuse(r.word[mStop], fmt.Sprintf("%s behind a slash, so that the program ends here only with block delete off", motion.CodeName('M', c)), "",
				"take the slash out, or write two programs")
		}
		r.s.ended = true
		r.m.zeroLeft(r.s)
	}
	return nil
}

// deleteSwitch gives the digit of the switch that skips a block with a slash; a slash
// alone is the first's (common practice).
func (m *rewriter) deleteSwitch(b *block.Block) byte {
	rest := bytes.TrimLeft(m.chunk[b.Start:b.End], " \t")
	if len(rest) > 1 && rest[1]-'1' < 9 {
		return rest[1]
	}
	return '1'
}
