package mirror

import (
	"fmt"
	"strings"

	"flipcalc/mirror/block"
	"flipcalc/mirror/fault"
	"flipcalc/mirror/transform"
)

// op is what happens to one word.
type op uint8

const (
	opFlip  op = iota + 1 // the sign alone: increments, arc centres from the start
	opPlace               // sign and offset: coordinates
	opTurn                // an angle's sign
	opCode                // another code
)

// edit is one change to a block. Edits can be compared: two states mirror a block
// alike when they ask for the same edits.
type edit struct {
	word int // index into the block's words
	op   op
	axis uint8
	unit transform.Unit // of the transform
	code int            // for opCode
}

// plan is all that is done to one block.
type plan struct {
	n      int
	edits  [block.MaxWords]edit
	insert bool // the back's offset goes in front of the block
	moves  bool
	cuts   bool // moves at feed in the plane of the part
	rapid  bool
}

func (p *plan) add(e edit) { p.edits[p.n] = e; p.n++ }

func (p *plan) equal(q *plan) bool {
	if p.n != q.n || p.insert != q.insert {
		return false
	}
	for i := range p.edits[:p.n] {
		if p.edits[i] != q.edits[i] {
			return false
		}
	}
	return true
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

// otherWords says of the letters that a mirror can't follow what they mean.
var otherWords = map[byte][2]string{
	'E': {"a word that milling controls read differently", "take it out"},
	'O': {"a program number in the middle of a program", "keep one program in a file"},
	'U': {"a second X axis, or X by increments on a lathe", "only X, Y and Z can be mirrored"},
	'V': {"a second Y axis", "only X, Y and Z can be mirrored"},
	'W': {"a second Z axis, or Z by increments on a lathe", "only X, Y and Z can be mirrored"},
}

// reading is a block being planned.
type reading struct {
	m *rewriter
	b *block.Block
	s *state
	p *plan

	code [groups]int // per group the code, or none
	word [groups]int // and the word's index
}

// plan reads b in state s, writes what must change into p and brings s up to what
// the control has set after the block.
func (m *rewriter) plan(b *block.Block, s *state, p *plan) error {
	r := &m.reading
	*r = reading{m: m, b: b, s: s, p: p}
	p.n, p.insert, p.moves, p.cuts, p.rapid = 0, false, false, false, false
	for i := range r.code {
		r.code[i] = none
	}
	if err := r.words(); err != nil {
		return err
	}
	if err := r.modes(); err != nil {
		return err
	}
	if err := r.axes(); err != nil {
		return err
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

// words sorts the block's G and M words into their groups and looks for words that
// can't be followed.
func (r *reading) words() error {
	b := r.b
	ms := 0
	for i := range b.W[:b.N] {
		w := &b.W[i]
		if w.Flags&block.Value != 0 && (w.Letter == 'G' || w.Letter == 'M' || w.Letter == 'O') {
			return r.refuse(i, fmt.Sprintf("%c with a parameter or an expression", w.Letter), "a plain number", "write the number out")
		}
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
			if ms++; ms > 4 {
				return r.refuse(i, "a fifth M word in one block", "at most four", "put it into a block of its own")
			}
		default:
			bit := block.Bit(w.Letter)
			if bit&knownWords == 0 {
				o := otherWords[w.Letter]
				return r.refuse(i, fmt.Sprintf("%s (%s)", r.text(i), o[0]), "", o[1])
			}
			if b.Twice&onceWords&bit != 0 && b.Find(w.Letter) != w {
				return r.refuse(i, fmt.Sprintf("a second %c word in one block", w.Letter), "one", "write two blocks")
			}
			if w.Value < 0 && strings.IndexByte("DFHST", w.Letter) >= 0 {
				return r.refuse(i, fmt.Sprintf("a negative %c", w.Letter), "zero or more", "")
			}
			continue
		}
		if g == gUnknown {
			found, hint := describe(w.Letter, w.Code())
			return r.refuse(i, found, "", hint)
		}
		if r.code[g] != none {
			if w.Letter == 'M' && g == mCoolant && r.code[g] != 90 && w.Code() != 90 && r.code[g] != w.Code() {
				continue // M7 and M8 may both be on
			}
			return r.refuse(i, fmt.Sprintf("%s after %s in one block", codeName(w.Letter, w.Code()), codeName(w.Letter, r.code[g])),
				"one of them", "put them into two blocks")
		}
		r.code[g], r.word[g] = w.Code(), i
	}
	return nil
}

// modes brings the state up to the block's codes, in the order in which a control
// carries them out (NISTIR 6556, table 8), except motion.
func (r *reading) modes() error {
	b, s, m := r.b, r.s, r.m
	if c := r.code[gFeed]; c != none {
		s.feed = c
		m.said |= saidFeed
	}
	if c := r.code[mSpindle]; c != none {
		s.spindle = map[int]int{30: 1, 40: -1, 50: 2}[c]
	}
	if c := r.code[gPlane]; c != none {
		if c != 170 {
			if err := r.noComp(r.word[gPlane], codeName('G', c)); err != nil {
				return err
			}
		}
		s.plane = map[int]transform.Plane{170: transform.XY, 180: transform.ZX, 190: transform.YZ}[c]
		m.said |= saidPlane
	}
	if c := r.code[gUnit]; c != none {
		if err := r.noComp(r.word[gUnit], codeName('G', c)); err != nil {
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
	if c := r.code[gOffset]; c != none {
		if err := r.noComp(r.word[gOffset], codeName('G', c)); err != nil {
			return err
		}
		if r.has(block.Bit('P')) && r.code[gAction] != 40 && !isCycle(r.motion()) {
			return r.refuseLetter('P', fmt.Sprintf("P with %s (an extended work offset)", codeName('G', c)), "", "use G54 to G59")
		}
		to, err := m.mapOffset(b, r.word[gOffset], c)
		if err != nil {
			return err
		}
		if to != c {
			r.p.add(edit{word: r.word[gOffset], op: opCode, code: to})
		}
		s.offset = c
	}
	switch r.code[gDistance] {
	case 900:
		s.inc = false
		m.said |= saidDistance
	case 910:
		s.inc = true
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
	if r.has(block.Bit('D')) && !on && !r.s.comp {
		return r.refuseLetter('D', "D without G41 or G42", "", "take it out or turn compensation on in this block")
	}
	switch {
	case c == 400:
		r.s.comp = false
	case on && r.s.comp:
		return r.refuse(r.word[gComp], codeName('G', c)+" while cutter compensation is on", "", "cancel it with G40 first")
	case on && r.s.plane != transform.XY:
		return r.refuse(r.word[gComp], fmt.Sprintf("%s in %s", codeName('G', c), r.s.plane), "G17", "")
	case on:
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
		return r.refuse(r.word[gMachine], "G53 with "+codeName('G', act), "one of them", "put them into two blocks")
	}
	if err := r.rotary(); err != nil {
		return err
	}
	if c := r.code[mCall]; c != none {
		if r.has(axisWords | centreWords | radiusWord) {
			return r.refuse(r.word[mCall], codeName('M', c)+" with axis words", "", "put the call into a block of its own")
		}
		if c == 980 {
			r.first() // an offset goes in front of the call, not into the subprogram
		}
	}
	if r.code[gRotate] != none {
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

// setMotion makes c the motion code in force.
func (r *reading) setMotion(c int) {
	s := r.s
	s.motion = c
	if !isCycle(c) {
		s.r, s.depth = value{}, value{}
	}
	if c == 20 || c == 30 {
		s.swapped = r.m.o.Map.SwapsArcs(s.plane)
		if s.swapped {
			r.p.add(edit{word: r.word[gMotion], op: opCode, code: 50 - c})
		}
	}
}

// dwell deals with G4, whose X is a time on some controls.
func (r *reading) dwell() error {
	at := r.word[gAction]
	if w := r.b.Find('P'); w != nil && w.Value < 0 {
		return r.refuseLetter('P', "a negative dwell", "zero or more", "")
	}
	if c := r.code[gMotion]; c != none {
		if r.has(axisWords | centreWords) {
			return r.refuse(at, fmt.Sprintf("G4 and a move of %s in one block", codeName('G', c)), "one of them", "put the dwell into a block of its own")
		}
		r.setMotion(c)
	}
	if r.has(axisWords&^block.Bit('X') | centreWords) {
		return r.refuse(at, "G4 with axis words", "P alone", "put the dwell into a block of its own")
	}
	if r.has(block.Bit('X')) && r.has(block.Bit('P')) {
		return r.refuse(at, "G4 with both P and X", "one of them", "put the dwell into a block of its own")
	}
	return nil
}

// noMotionWord refuses a motion code beside an action that takes the axis words.
func (r *reading) noMotionWord(act int, allowed int) error {
	c := r.code[gMotion]
	if c == none {
		return nil
	}
	if c != allowed && r.has(axisWords) {
		return r.refuse(r.word[gMotion], fmt.Sprintf("%s and %s in one block", codeName('G', c), codeName('G', act)), "one of them", "put them into two blocks")
	}
	r.setMotion(c)
	return nil
}

func (r *reading) noCentres(name string) error {
	for _, letter := range []byte("IJKR") {
		if r.has(block.Bit(letter)) {
			return r.refuseLetter(letter, fmt.Sprintf("%c with %s", letter, name), "", "take it out")
		}
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

// rotary looks after the words of rotary axes: A turns about X, B about Y, C about Z.
// A reflection keeps the sense of a turn about the axis that it reverses and changes
// the others.
func (r *reading) rotary() error {
	if !r.has(rotaryWords) {
		return nil
	}
	t := &r.m.o.Map
	for _, letter := range []byte("ABC") {
		if !r.has(block.Bit(letter)) {
			continue
		}
		a := int(letter - 'A')
		motion := r.motion()
		switch {
		case t.Axis((a+1)%3).Sign != t.Axis((a+2)%3).Sign:
			return r.refuseLetter(letter, string(letter)+" (a rotary axis whose sense the flip turns round)", "", "only X, Y and Z can be mirrored")
		case motion != 0 && motion != 10 || r.code[gAction] != none || r.code[gMachine] != none:
			return r.refuseLetter(letter, string(letter)+" (a rotary axis) outside a move of G0 or G1", "", "turn the axis in a block of its own")
		}
		r.m.note(Note{Code: Rotary, Level: Warning, Line: r.b.Line, Values: []string{string(letter)}})
	}
	return nil
}

// rotate deals with G68 and G69: the centre is a place, the angle turns round.
func (r *reading) rotate() error {
	at, c := r.word[gRotate], r.code[gRotate]
	name := codeName('G', c)
	s, m := r.s, r.m
	for _, g := range []group{gAction, gMachine, gMotion, gPlane} {
		if r.code[g] != none && (g == gAction || r.has(axisWords|radiusWord)) {
			return r.refuse(at, fmt.Sprintf("%s with %s", name, codeName('G', r.code[g])), "", "put them into two blocks")
		}
	}
	if err := r.noComp(at, name); err != nil {
		return err
	}
	if c == 690 {
		if r.has(axisWords | centreWords | radiusWord) {
			return r.refuse(at, "G69 with axis words", "", "put the move into a block of its own")
		}
		if g := r.code[gMotion]; g != none {
			r.setMotion(g)
		}
		s.rotated = false
		return nil
	}
	xy := block.Bit('X') | block.Bit('Y')
	switch {
	case s.plane != transform.XY:
		return r.refuse(at, fmt.Sprintf("G68 in %s", s.plane), "G17", "")
	case s.inc:
		return r.refuse(at, "G68 in G91", "G90", "controls differ on what its centre and angle mean in G91")
	case s.rotated:
		return r.refuse(at, "G68 while G68 is on", "", "end it with G69 first")
	case r.b.Letters&axisWords != xy || r.has(centreWords) || !r.has(radiusWord):
		return r.refuse(at, "G68 without its X, Y and R alone", "X, Y and R", "controls differ on what a missing one means")
	}
	for i := range r.b.W[:r.b.N] {
		w := &r.b.W[i]
		switch {
		case w.Letter == 'R' && m.oneAxis:
			r.p.add(edit{word: i, op: opTurn})
		case w.Letter == 'X' || w.Letter == 'Y':
			if a := w.Letter - 'X'; !m.axes[s.unit][a].same {
				r.p.add(edit{word: i, op: opPlace, axis: a, unit: s.unit})
			}
		}
	}
	s.rotated = true
	m.assumeLengths(r.b, s)
	return nil
}

// noRotation refuses what controls do differently while G68 is on.
func (r *reading) noRotation(at int, name string) error {
	if r.s.rotated {
		return r.refuse(at, name+" while G68 is on", "", "end it with G69 first")
	}
	return nil
}

// home deals with G28 and G30: the axis words are a point on the way.
func (r *reading) home(act int) error {
	name := codeName('G', act)
	if err := r.noComp(r.word[gAction], name); err != nil {
		return err
	}
	if err := r.noMotionWord(act, 0); err != nil {
		return err
	}
	if err := r.noCentres(name); err != nil {
		return err
	}
	if err := r.points(r.s.inc); err != nil {
		return err
	}
	// NISTIR 6556, 3.5.8, sends every axis home; other controls only those named.
	r.s.at = [3]place{lost, lost, lost}
	r.first()
	r.p.moves, r.p.rapid = true, true
	r.m.note(Note{Code: Home, Level: Info, Line: r.b.Line, Values: []string{name}})
	return nil
}

// shift deals with G92 and G52, which move the zero.
func (r *reading) shift(act int) error {
	at, name := r.word[gAction], codeName('G', act)
	if err := r.noComp(at, name); err != nil {
		return err
	}
	if !r.has(axisWords) {
		return r.refuse(at, name+" without an axis word", "X, Y or Z", "")
	}
	if err := r.noMotionWord(act, none); err != nil {
		return err
	}
	if err := r.noCentres(name); err != nil {
		return err
	}
	r.first()
	m, s := r.m, r.s
	for i := range r.b.W[:r.b.N] {
		w := &r.b.W[i]
		a := int(w.Letter) - 'X'
		if a < 0 || a > 2 {
			continue
		}
		x := &m.axes[s.unit][a]
		if act == 520 {
			s.local = !zero(w)
			if x.neg {
				r.p.add(edit{word: i, op: opFlip, axis: uint8(a), unit: s.unit})
			}
			continue
		}
		if s.at[a] == lost && !x.same {
			return r.refuse(i, fmt.Sprintf("G92 %s after a move to a place of the machine", r.text(i)), "",
				"that place isn't mirrored: set the zero in a work offset instead")
		}
		if !x.same {
			r.p.add(edit{word: i, op: opPlace, axis: uint8(a), unit: s.unit})
		}
		if s.at[a] == atStart {
			was, is := m.before(w, x)
			m.note(Note{Code: ZeroHere, Level: Warning, Line: r.b.Line, Values: []string{string(w.Letter), was, is, s.unit.String()}})
		}
		s.at[a] = known
		s.shifted, s.stored = true, true
	}
	m.assumeLengths(r.b, s)
	return nil
}

// unshift deals with G92.1, G92.2 and G92.3.
func (r *reading) unshift(act int) error {
	at, name := r.word[gAction], codeName('G', act)
	if err := r.noComp(at, name); err != nil {
		return err
	}
	if r.has(axisWords) {
		return r.refuse(at, name+" with axis words", "", "put the move into a block of its own")
	}
	if err := r.noMotionWord(act, none); err != nil {
		return err
	}
	if act == 923 {
		if !r.s.stored {
			return r.refuse(at, "G92.3, which brings back a zero of an earlier program", "G92 before it", "set the zero in a work offset instead")
		}
		r.s.shifted = true
		return nil
	}
	r.s.shifted = false
	if act == 921 {
		r.s.stored = false
	}
	return nil
}

// machine deals with G53: the axis words are places of the machine and stay.
func (r *reading) machine() error {
	at := r.word[gMachine]
	if err := r.noComp(at, "G53"); err != nil {
		return err
	}
	if c := r.code[gMotion]; c != none {
		r.setMotion(c)
	}
	if c := r.s.motion; c != 0 && c != 10 {
		return r.refuse(at, "G53 without G0 or G1", "G0 or G1", "")
	}
	if !r.has(axisWords) {
		return r.refuse(at, "G53 without an axis word", "X, Y or Z", "")
	}
	if err := r.noCentres("G53"); err != nil {
		return err
	}
	var axes []string
	for i := range r.b.W[:r.b.N] {
		a := int(r.b.W[i].Letter) - 'X'
		if a < 0 || a > 2 {
			continue
		}
		if r.s.inc && !r.m.axes[r.s.unit][a].same {
			return r.refuse(i, fmt.Sprintf("G53 %s in G91", r.text(i)), "G90", "some controls ignore G53 in G91: write G90 first")
		}
		r.s.at[a] = lost
		axes = append(axes, string(r.b.W[i].Letter))
	}
	r.first()
	r.p.moves, r.p.rapid = true, true
	r.m.note(Note{Code: Machine, Level: Info, Line: r.b.Line, Values: []string{strings.Join(axes, " ")}})
	return nil
}

// first marks the first motion and asks for the back's offset in front of it.
func (r *reading) first() {
	if r.s.moved {
		return
	}
	r.s.moved = true
	if r.s.offset == none && r.m.insert != none {
		r.p.insert = true
		r.s.offset = r.m.insert
	}
}

// points mirrors the block's X, Y and Z words as a place to go to.
func (r *reading) points(inc bool) error {
	s, m := r.s, r.m
	for i := range r.b.W[:r.b.N] {
		w := &r.b.W[i]
		a := int(w.Letter) - 'X'
		if a < 0 || a > 2 {
			continue
		}
		x := &m.axes[s.unit][a]
		if !inc {
			if !x.same {
				r.p.add(edit{word: i, op: opPlace, axis: uint8(a), unit: s.unit})
			}
			s.at[a] = known
			continue
		}
		if !x.neg || zero(w) {
			continue
		}
		switch s.at[a] {
		case lost:
			return r.refuse(i, fmt.Sprintf("%s in G91 from a place of the machine", r.text(i)), "a position given in G90",
				"G28, G30 and G53 go to places that aren't mirrored: give "+string(w.Letter)+" in G90 first")
		case atStart:
			m.note(Note{Code: IncrementalStart, Level: Info, Line: r.b.Line, Values: []string{string(w.Letter)}})
		}
		r.p.add(edit{word: i, op: opFlip, axis: uint8(a), unit: s.unit})
	}
	m.assumeLengths(r.b, s)
	m.assume(saidDistance, Note{Code: AssumedDistance, Level: Assumed, Line: r.b.Line, Values: []string{"G90"}})
	return nil
}

// move deals with the axis words of a plain move, an arc or a cycle.
func (r *reading) move() error {
	switch c := r.s.motion; {
	case c == 20 || c == 30:
		return r.arc()
	case c == 50 || c == 51:
		return r.spline()
	case isCycle(c):
		return r.cycle()
	case c == 800:
		if r.has(axisWords | centreWords | radiusWord) {
			return r.refuse(r.axisWord(), fmt.Sprintf("%s while G80 is in force", r.text(r.axisWord())), "G0 or G1",
				"controls differ on how they move here: write G0 or G1 into the block")
		}
		return nil
	}
	if !r.has(axisWords | centreWords | radiusWord) {
		return nil
	}
	name := "a move"
	if c := r.s.motion; c != none {
		name = codeName('G', c)
	}
	if err := r.noCentres(name); err != nil {
		return err
	}
	if r.s.motion == none {
		return r.refuse(r.axisWord(), fmt.Sprintf("%s before any G0, G1, G2 or G3", r.text(r.axisWord())), "a motion word",
			"controls differ on how they move here: write G0 or G1 into the block")
	}
	if err := r.feed(); err != nil {
		return err
	}
	r.height(transform.XY, false)
	if err := r.points(r.s.inc); err != nil {
		return err
	}
	r.first()
	r.p.moves = true
	r.p.rapid = r.s.motion == 0
	r.p.cuts = !r.p.rapid && r.has(axisWords&^block.Bit('Z'))
	return nil
}

// axisWord gives the index of the first X, Y, Z, I, J, K or R word.
func (r *reading) axisWord() int {
	for i := range r.b.W[:r.b.N] {
		if block.Bit(r.b.W[i].Letter)&(axisWords|centreWords|radiusWord) != 0 {
			return i
		}
	}
	return 0
}

// feed looks after the feed of a move at feed.
func (r *reading) feed() error {
	if r.s.motion == 0 {
		return nil
	}
	r.m.assume(saidFeed, Note{Code: AssumedFeed, Level: Assumed, Line: r.b.Line, Values: []string{"G94"}})
	if r.s.feed == 930 && !r.has(block.Bit('F')) {
		return r.refuse(r.axisWord(), "a move in G93 without F", "F in every such block", "")
	}
	return nil
}

// height keeps the last Z and notes helices: arcs of plane with a move along its normal.
func (r *reading) height(plane transform.Plane, arc bool) {
	_, _, normal := plane.Axes()
	for i := range r.b.W[:r.b.N] {
		w := &r.b.W[i]
		a := int(w.Letter) - 'X'
		if a < 0 || a > 2 {
			continue
		}
		if arc && a == normal {
			level := r.m.last[a]
			flat := level.set && level.v == w.Value && level.places == w.Places
			if r.s.inc {
				flat = zero(w)
			}
			if !flat && r.m.o.Map.SwapsArcs(plane) {
				r.m.note(Note{Code: Helix, Level: Info, Line: r.b.Line})
			}
		}
		r.m.last[a] = valueOf(w)
		r.m.last[a].set = r.m.last[a].set && !r.s.inc
	}
}

// arc deals with G2 and G3.
func (r *reading) arc() error {
	s, m := r.s, r.m
	name := codeName('G', s.motion)
	if !r.has(axisWords | centreWords | radiusWord) {
		return nil // the code alone
	}
	at := r.axisWord()
	if c := r.code[gMotion]; c != none {
		at = r.word[gMotion]
	}
	first, second, normal := s.plane.Axes()
	inPlane := block.Bit('X'+byte(first)) | block.Bit('X'+byte(second))
	centres := block.Bit('I'+byte(first)) | block.Bit('I'+byte(second))
	swap := m.o.Map.SwapsArcs(s.plane)
	switch {
	case r.has(centreWords &^ centres):
		letter := 'I' + byte(normal)
		return r.refuseLetter(letter, fmt.Sprintf("%c with an arc in %s", letter, s.plane), "", "take it out or choose the arc's plane")
	case r.has(radiusWord) && r.has(centreWords):
		return r.refuseLetter('R', "an arc with both R and a centre", "one of them", "controls differ on which they follow")
	case r.has(radiusWord) && !r.has(inPlane):
		return r.refuse(at, name+" with R and no end point in "+s.plane.String(), "an end point", "")
	case !r.has(radiusWord | centreWords):
		return r.refuse(at, name+" without a centre or a radius", string(rune('I'+first))+", "+string(rune('I'+second))+" or R", "")
	case swap != s.swapped:
		return r.refuse(at, fmt.Sprintf("an arc in %s under a %s from another plane", s.plane, name), name+" in this block",
			"the mirrored arcs of the two planes turn differently: repeat the code")
	}
	if w := r.b.Find('R'); w != nil && zero(w) {
		return r.refuseLetter('R', "an arc of radius 0", "a radius", "")
	}
	for _, a := range [2]int{first, second} {
		if s.at[a] == lost && !m.axes[s.unit][a].same {
			return r.refuse(at, "an arc that starts at a place of the machine", "a start given in G90",
				"G28, G30 and G53 go to places that aren't mirrored: move to the arc's start in G90 first")
		}
	}
	if err := r.feed(); err != nil {
		return err
	}
	m.assume(saidPlane, Note{Code: AssumedPlane, Level: Assumed, Line: r.b.Line, Values: []string{"G17"}})
	r.height(s.plane, true)
	if err := r.points(s.inc); err != nil {
		return err
	}
	if r.has(centreWords) {
		m.assume(saidCentres, Note{Code: AssumedCentres, Level: Assumed, Line: r.b.Line, Values: []string{map[bool]string{false: "G91.1", true: "G90.1"}[s.absCentres]}})
		if s.absCentres && r.b.Letters&centres != centres {
			return r.refuse(at, name+" with one centre word in G90.1", "both", "controls differ on what a missing one means")
		}
		for i := range r.b.W[:r.b.N] {
			a := int(r.b.W[i].Letter) - 'I'
			if a < 0 || a > 2 {
				continue
			}
			x := &m.axes[s.unit][a]
			switch {
			case s.absCentres && !x.same:
				r.p.add(edit{word: i, op: opPlace, axis: uint8(a), unit: s.unit})
			case !s.absCentres && x.neg:
				r.p.add(edit{word: i, op: opFlip, axis: uint8(a), unit: s.unit})
			}
		}
	}
	r.first()
	r.p.moves, r.p.cuts = true, true
	return nil
}

// spline deals with G5 (cubic: I J lead from the start to the first control point,
// P Q from the end to the second) and G5.1 (quadratic: I J alone).
func (r *reading) spline() error {
	s, m := r.s, r.m
	name := codeName('G', s.motion)
	pq := block.Bit('P') | block.Bit('Q')
	ij := block.Bit('I') | block.Bit('J')
	xy := block.Bit('X') | block.Bit('Y')
	if !r.has(axisWords | centreWords | radiusWord | pq) {
		return nil
	}
	at := r.axisWord()
	if r.code[gMotion] != none {
		at = r.word[gMotion]
	}
	switch l := r.b.Letters; {
	case s.plane != transform.XY:
		return r.refuse(at, fmt.Sprintf("%s in %s", name, s.plane), "G17", "")
	case s.comp:
		return r.refuse(at, name+" while cutter compensation is on", "", "cancel it with G40 first")
	case l&xy == 0 || l&(radiusWord|block.Bit('Z')|block.Bit('K')) != 0:
		return r.refuse(at, name+" with other words than X and Y", "X and Y", "")
	case l&ij != ij && (s.motion == 51 || l&ij != 0):
		return r.refuse(at, name+" without both I and J", "both", "")
	case s.motion == 50 && l&pq != pq:
		return r.refuse(at, "G5 without P and Q", "both", "")
	case s.at[0] == lost && !m.axes[s.unit][0].same || s.at[1] == lost && !m.axes[s.unit][1].same:
		return r.refuse(at, "a spline that starts at a place of the machine", "a start given in G90", "move to its start in G90 first")
	}
	if err := r.feed(); err != nil {
		return err
	}
	for i := range r.b.W[:r.b.N] {
		axis := strings.IndexByte("IJPQ", r.b.W[i].Letter)
		if axis >= 0 && (axis < 2 || s.motion == 50) && m.axes[s.unit][axis%2].neg {
			r.p.add(edit{word: i, op: opFlip, axis: uint8(axis % 2), unit: s.unit})
		}
	}
	m.assume(saidPlane, Note{Code: AssumedPlane, Level: Assumed, Line: r.b.Line, Values: []string{"G17"}})
	if err := r.points(s.inc); err != nil {
		return err
	}
	r.first()
	r.p.moves, r.p.cuts = true, true
	return nil
}

// pocket deals with G12 and G13, circular pockets round where the tool stands: the
// hand swaps, the radii I and K and the step Q stay, Z is a place.
func (r *reading) pocket(act int) error {
	at, name := r.word[gAction], codeName('G', act)
	if err := r.noComp(at, name); err != nil {
		return err
	}
	s, m := r.s, r.m
	i := r.b.Find('I')
	switch {
	case r.code[gMotion] != none:
		return r.refuse(r.word[gMotion], fmt.Sprintf("%s and %s in one block", codeName('G', r.code[gMotion]), name), "one of them", "put them into two blocks")
	case s.plane != transform.XY:
		return r.refuse(at, fmt.Sprintf("%s in %s", name, s.plane), "G17", "")
	case r.has(xWord | yWord | block.Bit('J') | radiusWord):
		return r.refuse(at, name+" with X, Y, J or R", "a pocket round where the tool stands", "move there in a block before it")
	case i == nil || i.Value <= 0 && i.Flags&(block.Value|block.Big) == 0:
		return r.refuse(at, name+" without a radius", "I above 0", "")
	}
	for a := range 2 {
		if s.at[a] == lost && !m.axes[s.unit][a].same {
			return r.refuse(at, name+" at a place of the machine", "a place given in G90", "move to the pocket's centre in G90 first")
		}
	}
	if m.oneAxis {
		r.p.add(edit{word: r.word[gAction], op: opCode, code: 250 - act})
	}
	m.assume(saidPlane, Note{Code: AssumedPlane, Level: Assumed, Line: r.b.Line, Values: []string{"G17"}})
	r.height(transform.XY, false)
	if err := r.points(s.inc); err != nil {
		return err
	}
	r.first()
	r.p.moves, r.p.cuts = true, true
	return nil
}

// cycle deals with the canned cycles.
func (r *reading) cycle() error {
	s, m := r.s, r.m
	name := codeName('G', s.motion)
	explicit := r.code[gMotion] != none
	if !explicit && !r.has(axisWords|centreWords|radiusWord) {
		return nil
	}
	at := r.axisWord()
	if explicit {
		at = r.word[gMotion]
	}
	_, _, drill := s.plane.Axes()
	depth := 'X' + byte(drill)
	switch {
	case !r.has(axisWords):
		return r.refuse(at, name+" without X, Y or Z", "at least one of them", "")
	case s.comp:
		return r.refuse(at, name+" while cutter compensation is on", "", "cancel it with G40 first")
	case s.feed == 930:
		return r.refuse(at, name+" in G93", "G94", "")
	case m.axes[s.unit][drill].neg:
		return r.refuse(at, fmt.Sprintf("%s in %s, whose drilling axis would turn round", name, s.plane), "", "write the holes out or flip about the other axis")
	case s.motion == 870 && s.plane != transform.XY:
		return r.refuse(at, fmt.Sprintf("G87 in %s", s.plane), "G17", "")
	case s.motion != 870 && r.has(centreWords):
		for _, letter := range []byte("IJK") {
			if r.has(block.Bit(letter)) {
				return r.refuseLetter(letter, fmt.Sprintf("%c with %s", letter, name), "", "take it out")
			}
		}
	}
	if w := r.b.Find('P'); w != nil && w.Value < 0 {
		return r.refuseLetter('P', "a negative dwell", "zero or more", "")
	}
	if w := r.b.Find('L'); w != nil && w.Flags&block.Value == 0 {
		if n, ok := w.Int(); !ok || n < 1 {
			return r.refuseLetter('L', "a number of repeats that isn't a whole number above 0", "1 or more", "")
		}
	}
	if err := r.cycleLevels(at, name, depth); err != nil {
		return err
	}
	m.assume(saidPlane, Note{Code: AssumedPlane, Level: Assumed, Line: r.b.Line, Values: []string{"G17"}})
	m.assume(saidFeed, Note{Code: AssumedFeed, Level: Assumed, Line: r.b.Line, Values: []string{"G94"}})
	drilled := s.at[drill]
	for i := range r.b.W[:r.b.N] {
		w := &r.b.W[i]
		switch {
		case w.Letter == 'R':
			if x := &m.axes[s.unit][drill]; !s.inc && !x.same {
				r.p.add(edit{word: i, op: opPlace, axis: uint8(drill), unit: s.unit})
			}
		case w.Letter == 'K': // G87: the counterbore's Z
			if x := &m.axes[s.unit][2]; !s.inc && !x.same {
				r.p.add(edit{word: i, op: opPlace, axis: 2, unit: s.unit})
			}
		case w.Letter == 'I' || w.Letter == 'J':
			if a := w.Letter - 'I'; m.axes[s.unit][a].neg {
				r.p.add(edit{word: i, op: opFlip, axis: a, unit: s.unit})
			}
		}
	}
	if s.motion == 870 {
		m.note(Note{Code: BackBoring, Level: Warning, Line: r.b.Line})
	}
	if err := r.points(s.inc); err != nil {
		return err
	}
	s.at[drill] = drilled
	if s.toR && !s.inc {
		s.at[drill] = known
	}
	m.last[drill] = value{}
	r.first()
	r.p.moves = true
	return nil
}

// cycleLevels keeps R and the depth and looks whether they make sense
// (NISTIR 6556, 3.5.16).
func (r *reading) cycleLevels(at int, name string, depth byte) error {
	s := r.s
	if w := r.b.Find('R'); w != nil {
		s.r = valueOf(w)
		s.depthInc = s.inc
	}
	if w := r.b.Find(depth); w != nil {
		s.depth = valueOf(w)
		s.depthInc = s.inc
	}
	switch {
	case !s.r.given:
		return r.refuse(at, name+" without R", "the level from which the cycle feeds", "")
	case !s.depth.given:
		return r.refuse(at, fmt.Sprintf("%s without %c", name, depth), "the depth", "")
	}
	if s.r.set && s.depth.set && s.depthInc == s.inc && r.b.Letters&(radiusWord|block.Bit(depth)) != 0 {
		below := !s.inc && less(s.r, s.depth) || s.inc && s.depth.v > 0
		if below {
			return r.refuse(at, fmt.Sprintf("%s whose R lies below %c", name, depth), "R above the depth", "")
		}
	}
	q := r.b.Find('Q')
	switch {
	case s.motion == 830 && q != nil && q.Flags&(block.Value|block.Big) == 0 && q.Value <= 0:
		return r.refuseLetter('Q', "a peck of 0 or less", "more than 0", "")
	case s.motion == 840 && (s.spindle == -1 || s.spindle == 2):
		return r.refuse(at, "G84 without M3", "the spindle turning clockwise", "")
	case s.motion == 860 && s.spindle == 2:
		return r.refuse(at, "G86 with the spindle stopped", "M3 or M4 before it", "")
	}
	return nil
}

// zero reports that a word's number is plainly 0.
func zero(w *block.Word) bool { return w.Value == 0 && w.Flags&(block.Big|block.Value) == 0 }

func valueOf(w *block.Word) value {
	return value{true, w.Flags&(block.Big|block.Value) == 0, w.Value, w.Places}
}

// less reports a < b.
func less(a, b value) bool {
	for a.places < b.places {
		if a.v > maxScaled/10 || a.v < -maxScaled/10 {
			return a.v < 0
		}
		a.v *= 10
		a.places++
	}
	for b.places < a.places {
		if b.v > maxScaled/10 || b.v < -maxScaled/10 {
			return b.v > 0
		}
		b.v *= 10
		b.places++
	}
	return a.v < b.v
}

// end deals with M2 and M30.
func (r *reading) end() error {
	if c := r.code[mStop]; c == 20 || c == 300 {
		r.s.ended = true
		if r.s.shifted || r.s.local {
			r.m.shiftLeft = true
		}
	}
	return nil
}
