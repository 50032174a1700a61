package mirror

import (
	"fmt"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/block"
	"flipcalc/mirror/fact"
	"flipcalc/mirror/motion"
	"flipcalc/mirror/transform"
)

// cycle deals with the canned cycles.
func (r *reading) cycle() error {
	s, m := r.s, r.m
	name := motion.CodeName('G', s.motion)
	explicit := r.code[gMotion] != none
	if !explicit && !r.has(axisWords|centreWords|radiusWord) {
		return nil
	}
	at := r.moveWord()
	if !r.has(axisWords | centreWords | radiusWord) {
		s.bare = r.b.Line // nothing runs, unless axis words follow
		m.note(fact.Warning, r.b.Line, CycleBare{Cycle: name})
		return nil
	}
	_, _, drill := s.plane.Axes()
	if err := r.cycleWords(at, drill, name); err != nil {
		return err
	}
	if err := r.cycleLevels(at, name, 'X'+byte(drill)); err != nil {
		return err
	}
	m.assume(saidPlane, r.b.Line, AssumedPlane{Code: "G17"})
	m.assume(saidFeed, r.b.Line, AssumedFeed{Code: "G94"})
	was := s.at
	r.cycleEdits(drill)
	if s.motion == 870 {
		m.note(fact.Warning, r.b.Line, BackBoring{})
	}
	if err := r.points(s.inc); err != nil {
		return err
	}
	s.at[drill] = was[drill]
	if w := r.b.Find('L'); w != nil && zero(w) {
		// L0 keeps the words and drills nothing; controls differ on whether the tool goes there.
		m.note(fact.Warning, r.b.Line, CycleKept{Cycle: name})
		s.at = was
	} else {
		if err := r.start(at, 0); err != nil {
			return err
		}
		if s.toR && !s.inc {
			s.at[drill] = known
		}
	}
	m.last = value{}
	r.first()
	r.p.moves = true
	return nil
}

// cycleWords refuses what can't stand in a cycle's block, or can't be mirrored there.
func (r *reading) cycleWords(at, drill int, name string) error {
	s := r.s
	switch {
	case !r.has(axisWords):
		return r.refuse(at, name+" without X, Y or Z", "at least one of them", "")
	case s.bare > 0:
		return r.refuse(at, fmt.Sprintf("axis words under %s of line %d, which had none", name, s.bare), "the cycle with its words in one block", "")
	case s.comp:
		return r.refuse(at, name+" while cutter compensation is on", "", "cancel it with G40 first")
	case s.feed == 930:
		return r.refuse(at, name+" in G93", "G94", "")
	case r.m.axes[s.unit][drill].neg:
		return r.refuse(at, fmt.Sprintf("%s in %s, whose drilling axis would turn round", name, s.plane), "", "write the holes out or flip about the other axis")
	case s.motion == 870 && s.plane != transform.XY:
		return r.refuse(at, fmt.Sprintf("G87 in %s", s.plane), "G17", "")
	case s.motion != 870 && r.has(centreWords):
		for _, letter := range []byte("IJ") {
			if r.has(block.Bit(letter)) {
				return r.refuseLetter(letter, fmt.Sprintf("%c with %s", letter, name), "", "take it out")
			}
		}
		return r.refuseLetter('K', fmt.Sprintf("K with %s (a number of repeats on some controls)", name), "",
			"write L in its place where the control takes L, or write the holes out")
	}
	if w := r.b.Find('P'); w != nil && w.Value < 0 {
		return r.refuseLetter('P', "a negative dwell", "zero or more", "")
	}
	if w := r.b.Find('L'); w != nil {
		if n, ok := w.Int(); !ok || n < 0 {
			return r.refuseLetter('L', "a number of repeats that isn't a whole number", "1 or more, or 0 to keep the words and drill nothing", "")
		}
	}
	return nil
}

// cycleEdits mirrors R and the words of G87; points mirrors X, Y and Z.
func (r *reading) cycleEdits(drill int) {
	for i := range r.b.W[:r.b.N] {
		switch letter := r.b.W[i].Letter; {
		case letter == 'R' && !r.s.inc:
			r.place(i, drill)
		case letter == 'K' && !r.s.inc: // G87: the counterbore's Z
			r.place(i, 2)
		case letter == 'I' || letter == 'J':
			r.flip(i, int(letter-'I'))
		}
	}
}

// cycleLevels keeps R and the depth and looks whether they make sense
// (NISTIR 6556, 3.5.16).
func (r *reading) cycleLevels(at int, name string, depth byte) error {
	s := r.s
	if w := r.b.Find('R'); w != nil {
		s.r, s.rInc = valueOf(w), s.inc
	}
	if w := r.b.Find(depth); w != nil {
		s.depth, s.depthInc = valueOf(w), s.inc
	}
	switch {
	case !s.depth.given:
		return r.refuse(at, fmt.Sprintf("%s without %c", name, depth), "the depth", "")
	case !s.r.given && !r.m.axes[s.unit][depth-'X'].same:
		return r.refuse(at, name+" without R", "the level from which the cycle feeds", "its level would have to change: write R into the block")
	case !s.r.given:
		r.m.note(fact.Warning, r.b.Line, CycleLevel{Cycle: name})
	}
	if s.r.given && s.rInc != s.inc || s.depthInc != s.inc {
		if !r.m.axes[s.unit][depth-'X'].same {
			return r.refuse(at, fmt.Sprintf("R and %c given in %s are carried into %s", depth, distance(!s.inc), distance(s.inc)), "",
				fmt.Sprintf("controls differ on what they mean there: repeat R and %c in this block", depth))
		}
		r.m.note(fact.Warning, r.b.Line, CycleCarried{Depth: depth, Given: distance(!s.inc), Now: distance(s.inc)})
	} else if s.r.set && s.depth.set && r.b.Letters&(radiusWord|block.Bit(depth)) != 0 {
		below := !s.inc && less(s.r, s.depth) || s.inc && s.depth.v > 0
		switch {
		case below && s.motion == 870:
			return r.refuse(at, fmt.Sprintf("G87 whose R lies below %c, as many controls bore back", depth), "",
				"that form can't be followed: write its moves out")
		case below:
			return r.refuse(at, fmt.Sprintf("%s whose R lies below %c", name, depth), "R above the depth", "")
		}
	}
	q := r.b.Find('Q')
	switch {
	case s.motion == 830 && q != nil && q.Flags&block.Big == 0 && q.Value <= 0:
		return r.refuseLetter('Q', "a peck of 0 or less", "more than 0", "")
	case s.motion == 840 && s.spindle == -1:
		return r.refuse(at, "G84 without M3", "the spindle turning clockwise", "")
	case s.motion == 840 && s.spindle == 2:
		r.m.note(fact.Warning, r.b.Line, StoppedTap{})
	case s.motion == 860 && s.spindle == 2:
		return r.refuse(at, "G86 with the spindle stopped", "M3 or M4 before it", "")
	}
	return nil
}

// distance names a distance mode.
func distance(inc bool) string {
	if inc {
		return "G91"
	}
	return "G90"
}

// zero reports that a word's number is plainly 0.
func zero(w *block.Word) bool { return w.Value == 0 && w.Flags&block.Big == 0 }

func valueOf(w *block.Word) value {
	return value{true, w.Flags&block.Big == 0, w.Value, w.Places}
}

// less reports a < b.
func less(a, b value) bool {
	return decimal.New(a.v, -int32(a.places)).LessThan(decimal.New(b.v, -int32(b.places)))
}
