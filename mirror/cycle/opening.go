package cycle

import (
	"fmt"
	"strings"

	"flipcalc/mirror/fact"
	"flipcalc/mirror/fault"
	"flipcalc/mirror/motion"
)

// open writes everything that a piece relies on. stopped says that spindle and coolant
// are off already.
func (m *merger) open(w *draft, sec, before *section, change string, stopped bool) error {
	pc, o := sec.piece, &sec.piece.open
	s := &o.state
	first := before == nil
	restart := first || strings.HasSuffix(change, " M6")
	if restart {
		w.restarts = append(w.restarts, Restart{w.line + 1, pc.tool})
	}
	if m.o.Marks {
		mark := fmt.Sprintf("(PAIR %d %s", sec.pair+1, strings.ToUpper(sideNames[sec.side]))
		if pc.tool >= 0 {
			mark += fmt.Sprintf(", T%d", pc.tool)
		}
		if restart && !first {
			mark += ", RESTART HERE"
		}
		w.put(mark + ")")
	}
	// G40, G80 and G90 come before any move, and before the tool is changed.
	w.put(s.Unit.Code(), s.Plane.String(), "G90", "G94", "G40", "G80")
	if first && !m.o.G53 {
		w.put(sec.station.Offset)
	}
	zero := sec.station // where the tool stands
	if !first {
		zero = before.station
	}
	if change != "" && (first || m.o.G53) {
		// Up before the tool change, wherever the tool stands: the program may be
		// run from here.
		m.up(w, zero, s.Unit)
	}
	if change != "" {
		m.stop(w) // a tool is changed with the spindle stopped, M6 or not
		stopped = true
	}
	w.put(change)
	if strings.HasSuffix(change, " M6") {
		w.changes = append(w.changes, w.line)
	}
	if first || change != "" || m.o.G53 {
		m.up(w, zero, s.Unit)
	}
	if !first || m.o.G53 {
		w.put(sec.station.Offset)
	}
	w.put(m.modes(pc)...)
	if err := m.switchOn(w, sec, before, stopped); err != nil {
		return err
	}
	return m.approach(w, sec)
}

// switchOn sets spindle and coolant as the piece expects them. What runs on from the
// piece before it, the same way, isn't touched.
func (m *merger) switchOn(w *draft, sec, before *section, stopped bool) error {
	s := &sec.piece.open.state
	on := func(b uint8) bool { return s.Coolant&b != 0 }
	kept := false // what the piece before left on is sure
	turning, flows := 0, uint8(0)
	var speed motion.Num
	if !stopped {
		kept = !m.sides[before.side].deleted
		turning, speed, flows = before.piece.spindle, before.piece.speed, before.piece.coolant
	}
	if m.named&spindleWord != 0 && !(kept && turning == s.Spindle && (turning == 0 || speed.Equal(s.Speed))) {
		word := ""
		if !s.Speed.IsZero() {
			v, err := exact(s.Speed)
			if err != nil {
				return m.unwritable(sec, "S")
			}
			word = "S" + v
		}
		if turning == -s.Spindle && turning != 0 {
			w.put("M5") // it turns the other way from here
		}
		w.put(word, map[int]string{1: "M3", -1: "M4", 0: "M5"}[s.Spindle])
	}
	if m.named&coolantWord != 0 && !(kept && flows == s.Coolant) {
		if !stopped || before == nil {
			w.put("M9")
		}
		// M7 and M8 are of one group: one a block.
		if on(1) {
			w.put("M7")
		}
		if on(2) {
			w.put("M8")
		}
	}
	return nil
}

// modes gives the words of groups that only some programs name.
func (m *merger) modes(pc *piece) (words []string) {
	o := &pc.open
	assumed := func(code string) string {
		for _, n := range m.notes {
			if n.Is == any(AssumedState{code}) {
				return code
			}
		}
		m.notes = append(m.notes, Note{Level: fact.Assumed, Line: pc.line, Is: AssumedState{code}})
		return code
	}
	if m.named&centreWord != 0 && pc.arcs {
		centres := "G91.1"
		if o.centres {
			centres = "G90.1"
		}
		words = append(words, centres)
	}
	if pc.cycles {
		switch {
		case o.returns != 0:
			words = append(words, fmt.Sprintf("G%d", o.returns))
		case m.named&returnWord != 0:
			words = append(words, assumed("G98"))
		}
	}
	if m.named&pathWord != 0 {
		if o.path != "" {
			words = append(words, o.path)
		} else {
			words = append(words, assumed("G64"))
		}
	}
	return words
}

// approach goes over the piece's first place in X and Y alone, then down to where
// the piece began, and sets what the first block needs.
func (m *merger) approach(w *draft, sec *section) error {
	pc, o := sec.piece, &sec.piece.open
	s := &o.state
	var xy []string
	for a := range 2 {
		if !pc.located[a] {
			continue
		}
		v, err := exact(o.entry[a])
		if err != nil {
			return m.unwritable(sec, string("XY"[a]))
		}
		xy = append(xy, string("XY"[a])+point(v))
	}
	if len(xy) > 0 {
		w.put(append([]string{"G0"}, xy...)...)
	}
	// A tool length is called in a block with Z only, since some controls move at
	// once: here, or where the piece first moves in Z.
	if o.fromOK[2] {
		v, err := exact(o.from[2])
		if err != nil {
			return m.unwritable(sec, "Z")
		}
		w.put("G0", m.length(pc, ""), "Z"+point(v))
	}
	var last []string
	if s.FeedMode != 94 {
		last = append(last, fmt.Sprintf("G%d", s.FeedMode))
	}
	if !s.Feed.IsZero() && s.FeedMode != 93 {
		v, err := exact(s.Feed)
		if err != nil {
			return m.unwritable(sec, "F")
		}
		last = append(last, "F"+v)
	}
	if !o.absolute {
		last = append(last, "G91")
	}
	w.put(last...)
	return nil
}

func (m *merger) unwritable(sec *section, letter string) error {
	return &fault.Error{File: sec.piece.file, Line: sec.piece.line, Col: 1, Found: letter + " at a value that is no finite decimal in the unit of the piece",
		Expected: "one unit in the whole program", Hint: "it comes from a change between G20 and G21"}
}

// exact writes a number in full.
func exact(n motion.Num) (string, error) {
	d, ok := n.Decimal()
	if !ok {
		return "", fmt.Errorf("%s is no finite decimal", n)
	}
	return d.String(), nil
}

// point gives a length a decimal point: controls read X5 and X5. differently.
func point(s string) string {
	if !strings.Contains(s, ".") {
		return s + "."
	}
	return s
}
