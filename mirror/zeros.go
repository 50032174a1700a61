package mirror

import (
	"fmt"
	"strings"

	"flipcalc/mirror/block"
	"flipcalc/mirror/fact"
	"flipcalc/mirror/motion"
	"flipcalc/mirror/transform"
)

// dwell deals with G4, whose X is a time on some controls.
func (r *reading) dwell() error {
	at := r.word[gAction]
	if w := r.b.Find('P'); w != nil && w.Value < 0 {
		return r.refuseLetter('P', "a negative dwell", "zero or more", "")
	}
	if c := r.code[gMotion]; c != none {
		if c != 800 && r.has(axisWords|centreWords) {
			return r.refuse(at, fmt.Sprintf("G4 and a move of %s in one block", motion.CodeName('G', c)), "one of them", "put the dwell into a block of its own")
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
	if c != allowed && c != 800 && r.has(axisWords) {
		return r.refuse(r.word[gMotion], fmt.Sprintf("%s and %s in one block", motion.CodeName('G', c), motion.CodeName('G', act)), "one of them", "put them into two blocks")
	}
	r.setMotion(c)
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
		if r.code[gMachine] != none || zero(r.b.Find(letter)) {
			continue // machine coordinates and 0 are the same on both sides
		}
		a := int(letter - 'A')
		motion := r.motion()
		switch {
		case t.Axis((a+1)%3).Sign != t.Axis((a+2)%3).Sign:
			found, hint := "a rotary axis whose sense the flip turns round", "only X, Y and Z can be mirrored"
			if letter == 'C' {
				found, hint = found+", or a chamfer on some controls", hint+"; write a chamfer as a move of its own"
			}
			return r.refuseLetter(letter, fmt.Sprintf("%c (%s)", letter, found), "", hint)
		case motion != 0 && motion != 10 || r.code[gAction] != none || r.code[gMachine] != none:
			return r.refuseLetter(letter, string(letter)+" (a rotary axis) outside a move of G0 or G1", "", "turn the axis in a block of its own")
		}
		if motion == 10 && !r.has(axisWords) {
			if err := r.start(int(r.b.At[letter&31]), 0); err != nil {
				return err
			}
		}
		r.first()
		r.m.note(fact.Warning, r.b.Line, Rotary{Axis: string(letter)})
	}
	return nil
}

// rotate deals with G68 and G69: the centre is a place, the angle turns round.
func (r *reading) rotate() error {
	at, c := r.word[gRotate], r.code[gRotate]
	name := motion.CodeName('G', c)
	s, m := r.s, r.m
	for _, g := range []group{gAction, gMachine, gMotion, gPlane} {
		if r.code[g] != none && (g == gAction || r.has(axisWords|radiusWord)) {
			return r.refuse(at, fmt.Sprintf("%s with %s", name, motion.CodeName('G', r.code[g])), "", "put them into two blocks")
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
			r.place(i, int(w.Letter-'X'))
		}
	}
	r.anchor()
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
	name := motion.CodeName('G', act)
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
	if r.travels() {
		r.first()
	}
	r.p.moves, r.p.rapid = true, true
	r.m.note(fact.Note, r.b.Line, Home{Code: name})
	return nil
}

// shift deals with G92 and G52, which move the zero.
func (r *reading) shift(act int) error {
	at, name := r.word[gAction], motion.CodeName('G', act)
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
	for i, a := range r.three('X') {
		w, x := &r.b.W[i], &m.axes[s.unit][a]
		if act == 520 {
			s.local[a] = !zero(w)
			r.flip(i, a)
			continue
		}
		if s.at[a] == lost && !x.same {
			return r.refuse(i, fmt.Sprintf("G92 %s after a move to a place of the machine", r.text(i)), "",
				"that place isn't mirrored: set the zero in a work offset instead")
		}
		r.place(i, a)
		if s.at[a] == atStart {
			was, is := m.before(w, x)
			m.note(fact.Warning, r.b.Line, ZeroHere{Axis: string(w.Letter), Face: was, Back: is, Unit: s.unit})
		}
		s.at[a] = known
		s.shifted, s.stored = true, true
	}
	m.assumeLengths(r.b, s)
	return nil
}

// unshift deals with G92.1, G92.2 and G92.3.
func (r *reading) unshift(act int) error {
	at, name := r.word[gAction], motion.CodeName('G', act)
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

// machine deals with G53: the axis words are places of the machine and stay. The block
// moves in no work offset.
func (r *reading) machine() error {
	at := r.word[gMachine]
	if err := r.noComp(at, "G53"); err != nil {
		return err
	}
	if c := r.code[gMotion]; isCycle(c) {
		return r.refuse(at, fmt.Sprintf("G53 and %s in one block", motion.CodeName('G', c)), "one of them", "put them into two blocks")
	} else if c != none {
		r.setMotion(c)
	}
	if !r.has(axisWords) {
		return r.refuse(at, "G53 without an axis word", "X, Y or Z", "")
	}
	if err := r.noCentres("G53"); err != nil {
		return err
	}
	var axes []string
	for i, a := range r.three('X') {
		if r.s.inc && !r.m.axes[r.s.unit][a].same && !zero(&r.b.W[i]) {
			return r.refuse(i, fmt.Sprintf("G53 %s in G91", r.text(i)), "G90", "some controls ignore G53 in G91: write G90 first")
		}
		r.s.at[a] = lost
		axes = append(axes, string(r.b.W[i].Letter))
	}
	if r.s.inc {
		r.m.note(fact.Warning, r.b.Line, MachineCounts{})
	}
	r.p.moves, r.p.rapid = true, true
	r.m.note(fact.Note, r.b.Line, MachineMove{Axes: strings.Join(axes, " ")})
	return nil
}

// travels says whether the axis words name another place than where the tool stands: in
// G91 words of 0 don't, so that G91 G28 Z0 moves in no work offset, as G53 does.
func (r *reading) travels() bool {
	for i := range r.b.W[:r.b.N] {
		w := &r.b.W[i]
		if block.Bit(w.Letter)&axisWords != 0 && !(r.s.inc && zero(w)) {
			return true
		}
	}
	return false
}

// first marks the first motion in a work offset and asks for the back's in front of it.
func (r *reading) first() {
	if !r.s.moved {
		r.s.moved = true
		r.anchor()
	}
}

// anchor asks for the back's offset in front of the block, where the program hasn't
// called one: before the first motion, or before what forbids a change of the zero.
func (r *reading) anchor() {
	if r.s.offset != none {
		return
	}
	r.p.silent = true
	if r.m.insert != none {
		r.p.insert = true
		r.s.offset = 540 // in which the program runs as it is
	}
}

// zeroLeft keeps which shifts and turns of the zero are on where the program ends.
func (m *rewriter) zeroLeft(s *state) {
	m.left[0] = m.left[0] || s.local != [3]bool{}
	m.left[1] = m.left[1] || s.shifted
	m.left[2] = m.left[2] || s.rotated
}

// zeroNotes says so.
func (m *rewriter) zeroNotes(line int) {
	for i, name := range []string{"G52", "G92", "G68"} {
		if m.left[i] {
			m.note(fact.Warning, line, ZeroLeft{Code: name})
		}
	}
}
