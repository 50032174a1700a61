package mirror

import (
	"fmt"

	"flipcalc/mirror/block"
	"flipcalc/mirror/transform"
)

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
	m.last = value{}
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
