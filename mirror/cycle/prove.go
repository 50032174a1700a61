package cycle

import (
	"bytes"
	"fmt"
	"slices"

	"flipcalc/mirror/fault"
	"flipcalc/mirror/motion"
	"flipcalc/mirror/transform"
)

// prover follows a written program and checks it against the pieces.
type prover struct {
	m       *merger
	w       *written
	sides   [2]*program // as read with the same block delete switch
	at      int         // running section
	sum     digest
	next    [2][]int // per side and pair: the piece that comes next
	clear   bool     // the tool is at the clear height
	offset  int
	entered bool   // X and Y have been moved to where the next piece begins
	left    *piece // the piece just done
	parked  bool   // the tool stands where it is out of the way

	rest, text []byte // of the written program: what follows, and the line last looked at
	line       int    // its number
	block      motion.Block
}

// prove interprets a written program and checks that each station sees exactly the
// motions of its program's pieces, each once and in order; that between them the
// tool only goes up to the clear height, across and down; and that the offset only
// changes at the clear height.
func (m *merger) prove(w *written) (*motion.Summary, error) {
	if err := m.frame(w); err != nil {
		return nil, err
	}
	summary, err := m.proveOnce(w, m.sides, false)
	if err != nil {
		return nil, err
	}
	if m.off[0] == nil && m.off[1] == nil {
		return summary, nil
	}
	sides := m.sides
	for s, p := range m.off {
		if p != nil {
			sides[s] = p
		}
	}
	_, err = m.proveOnce(w, sides, true)
	return summary, err
}

func (m *merger) proveOnce(w *written, sides [2]*program, skip bool) (*motion.Summary, error) {
	p := &prover{m: m, w: w, sides: sides, rest: w.text.Bytes()}
	for s := range p.next {
		p.next[s] = make([]int, len(m.o.Pairs))
	}
	p.sum.reset()
	summary, err := motion.Walk(bytes.NewReader(w.text.Bytes()), motion.Options{Name: "the merged program", AbsoluteCentres: m.centresAssumed(), Inert: m.inert(),
		SkipDeleted: skip, ArcTolerance: m.o.ArcTolerance, Rates: m.o.Rates}, p.move)
	if err != nil {
		return nil, err
	}
	for p.at < len(w.sections) {
		if err := p.leave(); err != nil {
			return nil, err
		}
	}
	if m.o.Park != nil && !p.parked {
		return nil, p.no(0, "an end away from the place to park", "that place last")
	}
	for side := range 2 {
		want := 0
		for _, s := range w.steps {
			want += len(s.pieces[side])
		}
		if want != 0 && want != len(sides[side].pieces) {
			return nil, p.no(0, fmt.Sprintf("%d pieces of the %s", want, sideNames[side]), fmt.Sprint(len(sides[side].pieces)))
		}
		for pair, n := range p.next[side] {
			if n != want {
				return nil, p.no(0, fmt.Sprintf("%d pieces at pair %d, %s", n, pair+1, sideNames[side]), fmt.Sprint(want))
			}
		}
	}
	return summary, nil
}

// frame checks what moves don't show: each step calls its tool by one M6 with spindle
// and coolant switched off, by a block that always runs, the program ends so, and M2 or M30 stands once, after the last piece.
func (m *merger) frame(w *written) error {
	p := &prover{m: m, w: w}
	changes, ends, turning, flowing := 0, 0, m.named&spindleWord != 0, m.named&coolantWord != 0
	var b motion.Block
	for i, text := range bytes.Split(w.text.Bytes(), []byte("\n")) {
		text = bytes.TrimSuffix(text, []byte("\r"))
		if err := b.Read(text, i+1, nil); err != nil {
			return err
		}
		for _, word := range b.Words {
			if word.Letter != 'M' {
				name := string(word.Letter)
				if word.Letter == 'G' {
					name += word.Value.String()
				}
				// Where parking goes is looked at with the moves.
				parks := m.o.Park != nil && slices.Contains([]string{"G20", "G21", "G53", "G0", "X", "Y"}, name)
				if i >= w.sections[len(w.sections)-1].to && !parks {
					return p.no(i+1, string(text)+" after the last piece", "M words only")
				}
				continue
			}
			n, _ := word.Value.Int()
			turning = (turning || n == 3 || n == 4) && (n != 5 || b.Deleted)
			flowing = (flowing || n == 7 || n == 8) && (n != 9 || b.Deleted)
			switch n {
			case 6:
				changes++
				if turning || flowing {
					return p.no(i+1, string(text)+" with spindle or coolant on", "M5 and M9 before it")
				}
			case 3, 4, 7, 8:
				if i >= w.sections[len(w.sections)-1].to {
					return p.no(i+1, string(text)+" after the last piece", "M5, M9 and the end")
				}
			case 2, 30:
				ends++
				if turning || flowing {
					return p.no(i+1, string(text)+" with spindle or coolant on", "M5 and M9 before it")
				}
				if i < w.sections[len(w.sections)-1].to {
					return p.no(i+1, "the end of the program before its last piece", "the end after it")
				}
			}
		}
	}
	if want := len(w.steps) * b2i(m.named&changeWord != 0); changes != want || ends != 1 {
		return p.no(0, fmt.Sprintf("%d M6 and %d ends", changes, ends), fmt.Sprintf("%d and 1", want))
	}
	return nil
}

// centresAssumed is what the control assumes of arc centres, where no program says.
func (m *merger) centresAssumed() bool {
	return m.named&centreWord == 0 && m.o.Face.AbsoluteCentres
}

// inert gives the M codes that move no axis in any of the programs.
func (m *merger) inert() []int { return append(slices.Clone(m.o.Face.Inert), m.o.Back.Inert...) }

func (p *prover) no(line int, found, expected string) error {
	return &fault.Error{File: "the merged program", Line: line, Col: b2i(line > 0), Found: found, Expected: expected,
		Hint: "this is a fault of the merge; nothing was written", No: true}
}

// leave closes the running section.
func (p *prover) leave() error {
	s := &p.w.sections[p.at]
	p.at++
	if !s.body {
		return nil
	}
	pc := p.sides[s.side].pieces[s.number]
	next := &p.next[s.side][s.pair]
	switch {
	case s.number != *next:
		return p.no(s.to, fmt.Sprintf("piece %d of the %s at pair %d", s.number+1, sideNames[s.side], s.pair+1), fmt.Sprintf("piece %d", *next+1))
	case p.sum.moves != pc.moves || p.sum.value() != pc.digest:
		return p.no(s.to, fmt.Sprintf("other motions than those of %s from line %d on", pc.file, pc.line), "the same")
	}
	*next++
	p.sum.reset()
	p.entered, p.left = false, pc
	return nil
}

// move takes one move of the written program.
func (p *prover) move(m *motion.Move) error {
	for p.at < len(p.w.sections) && m.Line > p.w.sections[p.at].to {
		if err := p.leave(); err != nil {
			return err
		}
	}
	if m.Machine && p.isPark(m) {
		p.parked, p.entered = true, false
		return nil
	}
	p.parked = false
	if p.at == len(p.w.sections) {
		return p.no(m.Line, "a move after the last piece", "none")
	}
	s := &p.w.sections[p.at]
	code := transform.OffsetCode(s.station.Offset)
	if m.State.Offset != p.offset {
		if p.offset != 0 && !p.clear {
			return p.no(m.Line, "another offset away from the clear height", "the clear height first")
		}
		p.offset, p.entered = m.State.Offset, false
	}
	if s.body {
		if m.State.Offset != code {
			return p.no(m.Line, "a move in another offset", s.station.Offset)
		}
		if !p.entered {
			return p.no(m.Line, "a piece that doesn't start over its first place", "X and Y at the clear height first")
		}
		p.clear = false
		p.sum.add(m, &p.sides[s.side].pieces[s.number].live, p.namesZ(m.Line))
		return nil
	}
	return p.between(m, s, code)
}

// namesZ reports whether a line has a Z word.
func (p *prover) namesZ(line int) bool {
	for p.line < line {
		i := bytes.IndexByte(p.rest, '\n')
		if i < 0 {
			return false
		}
		p.text, p.rest = bytes.TrimSuffix(p.rest[:i], []byte("\r")), p.rest[i+1:]
		p.line++
	}
	if err := p.block.Read(p.text, line, nil); err != nil {
		return false
	}
	return slices.ContainsFunc(p.block.Words, func(w motion.Word) bool { return w.Letter == 'Z' })
}

// between checks a move between two pieces.
func (p *prover) between(m *motion.Move, s *section, code int) error {
	if m.Kind != motion.Rapid {
		return p.no(m.Line, "a cut between two pieces", "rapid moves only")
	}
	if m.State.Comp != 40 {
		return p.no(m.Line, "cutter compensation on between two pieces", "G40 first")
	}
	if pc := p.left; pc != nil {
		p.left = nil
		if m.State.Spindle != pc.spindle || m.State.Coolant != pc.coolant {
			return p.no(m.Line, "spindle or coolant as they weren't at the end of the piece", "as at the end of "+pc.file+"'s piece")
		}
	}
	o := &s.piece.open
	same := func(a int) bool { return m.From[a].Equal(m.To[a]) && m.FromOK[a] == m.ToOK[a] }
	switch {
	case m.Machine:
		if m.ToOK != [3]bool{false, false, true} || !p.isClear(m, motion.Num{}) {
			return p.no(m.Line, "a move in machine coordinates", "Z to the clear height alone")
		}
		p.clear = true
	case same(0) && same(1) && same(2) && !p.up(m):
		p.entered = p.entered || p.clear && m.State.Offset == code // it was there already
	case same(0) && same(1) && p.up(m):
		p.clear = true
	case same(0) && same(1):
		// Down to where the piece begins, over the place where it begins.
		over := true
		for a := range 2 {
			over = over && (!o.fromOK[a] || m.From[a].Equal(o.from[a]))
		}
		if !p.entered || !over || m.State.Offset != code || !o.fromOK[2] || !m.ToOK[2] || !m.To[2].Equal(o.from[2]) {
			return p.no(m.Line, "a move in Z", "up to the clear height, or down to where the piece begins")
		}
		p.clear = false
	case same(2):
		if !p.clear || m.State.Offset != code {
			return p.no(m.Line, "a move across", "at the clear height, in the station's offset")
		}
		for a := range 2 {
			if s.piece.live[a] != notYet && !(m.ToOK[a] && m.To[a].Equal(o.entry[a])) {
				return p.no(m.Line, "a move across", "to where the piece begins")
			}
		}
		p.entered = true
	default:
		return p.no(m.Line, "a slanted move between two pieces", "X and Y alone, or Z alone")
	}
	return nil
}

// up reports whether a move without G53 goes to the clear height of the offset.
func (p *prover) up(m *motion.Move) bool {
	if p.m.o.G53 || !m.ToOK[2] {
		return false
	}
	for _, pair := range p.m.o.Pairs {
		for _, s := range []Station{pair.Face, pair.Back} {
			if transform.OffsetCode(s.Offset) == m.State.Offset {
				return p.isClear(m, motion.FromDecimal(*s.ZeroZ))
			}
		}
	}
	return false
}

// isPark reports whether a move goes, at the clear height, to the place to park.
func (p *prover) isPark(m *motion.Move) bool {
	park := p.m.o.Park
	return park != nil && p.clear && m.Kind == motion.Rapid && m.ToOK == [3]bool{true, true, false} && m.State.Unit == park.Unit &&
		m.State.Spindle == 0 && m.State.Coolant == 0 && m.To[0].Equal(motion.FromDecimal(park.X)) && m.To[1].Equal(motion.FromDecimal(park.Y))
}

// isClear reports whether a move's Z, plus that of its zero, is the clear height,
// or above it by no more than its rounding in inches.
func (p *prover) isClear(m *motion.Move, zero motion.Num) bool {
	inch := motion.FromNano(25_400_000_000)
	mm := func(n motion.Num, u transform.Unit) motion.Num {
		if u == transform.Inch {
			return n.Mul(inch)
		}
		return n
	}
	over := mm(m.To[2], m.State.Unit).Add(mm(zero, p.m.o.Unit)).Sub(mm(motion.FromDecimal(*p.m.o.Clear), p.m.o.Unit))
	return over.Sign() >= 0 && over.Cmp(motion.FromNano(2_540_000)) <= 0
}
