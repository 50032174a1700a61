package mirror

import (
	"fmt"
	"strings"

	"flipcalc/mirror/block"
	"flipcalc/mirror/fact"
	"flipcalc/mirror/motion"
	"flipcalc/mirror/transform"
)

// setMotion makes c the motion code in force.
func (r *reading) setMotion(c int) {
	s := r.s
	s.motion, s.bare = c, 0
	if c <= 51 {
		s.under = c
	}
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

// points mirrors the block's X, Y and Z words as a place to go to.
func (r *reading) points(inc bool) error {
	s, m := r.s, r.m
	for i, a := range r.three('X') {
		w := &r.b.W[i]
		if !inc {
			r.place(i, a)
			s.at[a] = known
			continue
		}
		if !m.axes[s.unit][a].neg || zero(w) {
			continue
		}
		switch s.at[a] {
		case lost:
			return r.refuse(i, fmt.Sprintf("%s in G91 from a place of the machine", r.text(i)), "a position given in G90",
				otherPlaces+": give "+string(w.Letter)+" in G90 first")
		case changed:
			m.note(fact.Warning, r.b.Line, AfterChange{Axis: string(w.Letter)})
		case atStart:
			m.note(fact.Note, r.b.Line, IncrementalStart{Axis: string(w.Letter)})
		}
		r.flip(i, a)
	}
	m.assumeLengths(r.b, s)
	m.assume(saidDistance, r.b.Line, AssumedDistance{Code: "G90"})
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
	case c == 800 && (r.s.under > 10 || r.has(centreWords|radiusWord)) && r.has(axisWords|centreWords|radiusWord):
		return r.refuse(r.axisWord(), fmt.Sprintf("%s while G80 is in force", r.text(r.axisWord())), "G0 or G1",
			"controls differ on how they move here: write G0 or G1 into the block")
	}
	if !r.has(axisWords | centreWords | radiusWord) {
		return nil
	}
	name := "a move"
	if c := r.s.motion; c != none {
		name = motion.CodeName('G', c)
	}
	if err := r.noCentres(name); err != nil {
		return err
	}
	either := r.s.motion == none || r.s.motion == 800 // at rapid or at feed
	if either {
		r.m.note(fact.Warning, r.b.Line, AssumedStraight{})
	} else if err := r.feed(); err != nil {
		return err
	}
	if r.s.motion != 0 {
		if err := r.start(r.axisWord(), 0); err != nil {
			return err
		}
	}
	r.height(transform.XY, false)
	if err := r.points(r.s.inc); err != nil {
		return err
	}
	r.first()
	r.p.moves = true
	r.p.rapid = r.s.motion == 0
	// What may be a cut is named where cuts are to be reversed.
	r.p.cuts = !r.p.rapid && (!either || r.m.reverser != nil) && r.has(axisWords&^block.Bit('Z'))
	return nil
}

const otherPlaces = "G28, G30, G53 and another work offset lead to places that aren't mirrored"

// start looks at a cut that starts where a reversed axis isn't known. Where the tool
// stands at the start of the program it must stand at the mirror image for the back,
// which is noted. A curve whose end or centre is given along such an axis, in bends,
// has another shape wherever the tool stands.
func (r *reading) start(at int, bends uint32) error {
	s, m := r.s, r.m
	for a := range 3 {
		if s.at[a] == known || !m.axes[s.unit][a].neg {
			continue
		}
		letter := 'X' + byte(a)
		switch w := r.b.Find(letter); {
		case s.at[a] == atStart && bends&block.Bit(letter) != 0 && (!s.inc && w != nil || s.absCentres && r.has(block.Bit('I'+byte(a)))):
			return r.refuse(at, fmt.Sprintf("a curve that starts where the tool happens to stand in %c", letter), fmt.Sprintf("%c given in G90 before it", letter),
				fmt.Sprintf("write G0 G90 with the curve's start in %c in a block before it", letter))
		case s.inc && w != nil && !zero(w):
			// see points
		case (s.motion == 10 || s.motion == none || s.motion == 800) && !s.inc && w != nil && s.at[2] != known && a != 2:
			// the height isn't given yet: the tool is led to its first place at feed
		case s.at[a] == lost:
			return r.refuse(at, fmt.Sprintf("a cut where %c stands at a place of the machine", letter), fmt.Sprintf("%c given in G90 before it", letter),
				fmt.Sprintf("%s: write G0 G90 with %c in a block before it", otherPlaces, letter))
		case s.at[a] == changed:
			m.note(fact.Warning, r.b.Line, AfterChange{Axis: string(letter)})
		case !m.noted[IncrementalStart{Axis: string(letter)}]:
			m.note(fact.Warning, r.b.Line, CutAtStart{Axis: string(letter)})
		}
	}
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

// moveWord gives the index of the motion code, or of the first axis word where the block
// has none.
func (r *reading) moveWord() int {
	if r.code[gMotion] != none {
		return r.word[gMotion]
	}
	return r.axisWord()
}

// feed looks after the feed of a move at feed.
func (r *reading) feed() error {
	if r.s.motion == 0 {
		return nil
	}
	r.m.assume(saidFeed, r.b.Line, AssumedFeed{Code: "G94"})
	if r.s.feed == 930 && !r.has(block.Bit('F')) {
		return r.refuse(r.axisWord(), "a move in G93 without F", "F in every such block", "")
	}
	return nil
}

// height keeps the last Z and notes helices: arcs of plane with a move along its normal.
// An arc in G18 or G19 with a word of its normal counts as one.
func (r *reading) height(plane transform.Plane, arc bool) {
	_, _, normal := plane.Axes()
	for i, a := range r.three('X') {
		w := &r.b.W[i]
		if arc && a == normal {
			level := r.m.last
			flat := a == 2 && level.set && level.v == w.Value && level.places == w.Places
			if r.s.inc {
				flat = zero(w)
			}
			if !flat && r.m.o.Map.SwapsArcs(plane) {
				r.m.note(fact.Note, r.b.Line, Helix{})
			}
		}
		if a == 2 {
			r.m.last = valueOf(w)
			r.m.last.set = r.m.last.set && !r.s.inc
		}
	}
}

// arc deals with G2 and G3.
func (r *reading) arc() error {
	s, m := r.s, r.m
	name := motion.CodeName('G', s.motion)
	if !r.has(axisWords | centreWords | radiusWord) {
		return nil // the code alone
	}
	at := r.moveWord()
	first, second, _ := s.plane.Axes()
	if err := r.arcWords(at, name); err != nil {
		return err
	}
	if err := r.start(at, block.Bit('X'+byte(first))|block.Bit('X'+byte(second))); err != nil {
		return err
	}
	if err := r.feed(); err != nil {
		return err
	}
	m.assume(saidPlane, r.b.Line, AssumedPlane{Code: "G17"})
	r.height(s.plane, true)
	if err := r.points(s.inc); err != nil {
		return err
	}
	if err := r.centre(at, name); err != nil {
		return err
	}
	r.first()
	r.p.moves, r.p.cuts = true, true
	return nil
}

// arcWords refuses what can't stand in an arc's block, or can't be mirrored there.
func (r *reading) arcWords(at int, name string) error {
	s, m := r.s, r.m
	first, second, normal := s.plane.Axes()
	inPlane := block.Bit('X'+byte(first)) | block.Bit('X'+byte(second))
	centres := block.Bit('I'+byte(first)) | block.Bit('I'+byte(second))
	swap := m.o.Map.SwapsArcs(s.plane)
	across := r.b.Find('I' + byte(normal)) // its word is kept where it is 0
	switch {
	case across != nil && !zero(across):
		letter := 'I' + byte(normal)
		return r.refuseLetter(letter, fmt.Sprintf("%c with an arc in %s", letter, s.plane), "", "take it out or choose the arc's plane")
	case r.has(radiusWord) && r.has(centres):
		return r.refuseLetter('R', "an arc with both R and a centre", "one of them", "controls differ on which they follow")
	case r.has(radiusWord) && !r.has(inPlane):
		return r.refuse(at, name+" with R and no end point in "+s.plane.String(), "an end point", "")
	case !r.has(radiusWord | centres):
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
				fmt.Sprintf("%s: write G0 G90 with the arc's start in %c and %c in a block before it; G28 may send more axes home than it names",
					otherPlaces, 'X'+first, 'X'+second))
		}
	}
	return nil
}

// centre mirrors the centre words of an arc.
func (r *reading) centre(at int, name string) error {
	s, m := r.s, r.m
	first, second, normal := s.plane.Axes()
	centres := block.Bit('I'+byte(first)) | block.Bit('I'+byte(second))
	if !r.has(centres) {
		return nil
	}
	code := "G91.1"
	if s.absCentres {
		code = "G90.1"
	}
	m.assume(saidCentres, r.b.Line, AssumedCentres{Code: code})
	if s.absCentres && r.b.Letters&centres != centres {
		return r.refuse(at, name+" with one centre word in G90.1", "both", "controls differ on what a missing one means")
	}
	for i, a := range r.three('I') {
		switch {
		case a == normal:
		case s.absCentres:
			r.place(i, a)
		default:
			r.flip(i, a)
		}
	}
	return nil
}

// spline deals with G5 (cubic: I J lead from the start to the first control point,
// P Q from the end to the second) and G5.1 (quadratic: I J alone).
func (r *reading) spline() error {
	s, m := r.s, r.m
	name := motion.CodeName('G', s.motion)
	pq := block.Bit('P') | block.Bit('Q')
	ij := block.Bit('I') | block.Bit('J')
	xy := block.Bit('X') | block.Bit('Y')
	if !r.has(axisWords | centreWords | radiusWord | pq) {
		return nil
	}
	at := r.moveWord()
	switch l := r.b.Letters; {
	case s.plane != transform.XY:
		return r.refuse(at, fmt.Sprintf("%s in %s", name, s.plane), "G17", "")
	case s.motion == 50 && r.claimsP():
		return r.refuse(at, "G5 beside another code that may use its P", "one of them", "put them into two blocks")
	case s.comp:
		return r.refuse(at, name+" while cutter compensation is on", "", "cancel it with G40 first")
	case l&xy == 0 || l&(radiusWord|block.Bit('Z')|block.Bit('K')) != 0:
		return r.refuse(at, name+" with other words than X and Y", "X and Y", "")
	case l&ij != ij && (s.motion == 51 || l&ij != 0):
		return r.refuse(at, name+" without both I and J", "both", "")
	case s.motion == 50 && l&pq != pq:
		return r.refuse(at, "G5 without P and Q", "both", "")
	case s.at[0] == lost && !m.axes[s.unit][0].same || s.at[1] == lost && !m.axes[s.unit][1].same:
		return r.refuse(at, "a spline that starts at a place of the machine", "a start given in G90", otherPlaces+": write G0 G90 with its start in X and Y in a block before it")
	}
	if err := r.start(at, xy); err != nil {
		return err
	}
	if err := r.feed(); err != nil {
		return err
	}
	for i := range r.b.W[:r.b.N] {
		if k := strings.IndexByte("IJPQ", r.b.W[i].Letter); k >= 0 && (k < 2 || s.motion == 50) {
			r.flip(i, k%2)
		}
	}
	m.assume(saidPlane, r.b.Line, AssumedPlane{Code: "G17"})
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
	at, name := r.word[gAction], motion.CodeName('G', act)
	if err := r.noComp(at, name); err != nil {
		return err
	}
	s, m := r.s, r.m
	i := r.b.Find('I')
	switch {
	case r.code[gMotion] != none && r.code[gMotion] != 800:
		return r.refuse(r.word[gMotion], fmt.Sprintf("%s and %s in one block", motion.CodeName('G', r.code[gMotion]), name), "one of them", "put them into two blocks")
	case s.plane != transform.XY:
		return r.refuse(at, fmt.Sprintf("%s in %s", name, s.plane), "G17", "")
	case r.has(xWord | yWord | block.Bit('J') | radiusWord):
		return r.refuse(at, name+" with X, Y, J or R", "a pocket round where the tool stands", "move there in a block before it")
	case i == nil || i.Value <= 0 && i.Flags&block.Big == 0:
		return r.refuse(at, name+" without a radius", "I above 0", "")
	}
	for a := range 2 {
		if s.at[a] == lost && !m.axes[s.unit][a].same {
			return r.refuse(at, name+" at a place of the machine", "a place given in G90", otherPlaces+": write G0 G90 with the pocket's centre in X and Y in a block before it")
		}
	}
	if r.code[gMotion] == 800 {
		r.setMotion(800)
	}
	if err := r.start(at, 0); err != nil {
		return err
	}
	if m.oneAxis {
		r.p.add(edit{word: r.word[gAction], op: opCode, code: 250 - act})
	}
	m.assume(saidPlane, r.b.Line, AssumedPlane{Code: "G17"})
	r.height(transform.XY, false)
	if err := r.points(s.inc); err != nil {
		return err
	}
	r.first()
	r.p.moves, r.p.cuts = true, true
	return nil
}
