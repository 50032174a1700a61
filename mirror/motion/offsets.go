package motion

import (
	"fmt"

	"flipcalc/mirror/transform"
)

// claimsP reports whether a code that is no motion has a P of its own.
func (m *Machine) claimsP() bool {
	return m.g[actionGroup] == 40 || m.g[pathGroup] >= 0 || m.g[smoothGroup] >= 0 || m.g[aheadGroup] >= 0 || m.g[callGroup] >= 0
}

// extended reads the P that stands right behind G54.1, or behind G54, which is the
// same on the controls that have it (common practice, not in NISTIR 6556).
func (m *Machine) extended() error {
	m.offsetHere = 0
	c, at := m.g[offsetGroup], m.gAt[offsetGroup]
	if c != 541 && (c < 0 || !m.has('P')) {
		return nil
	}
	mode := m.motion
	if g := m.g[motionGroup]; g >= 0 {
		mode = int(g)
	}
	used := m.claimsP() ||
		mode >= 20 && m.g[endGroup] < 0 && (m.axisWords() || m.has('I') || m.has('J') || m.has('K'))
	switch {
	case c != 541 && used:
		return nil
	case !m.o.Extended:
		return m.fault(at, CodeName('G', int(c))+" with P (an extended work offset)", "G54 to G59.3", "only the verb mirror takes it")
	case used:
		return m.fault(at, CodeName('G', int(c))+" beside another code that may use its P", "one of them", "put them into two blocks")
	case c > 541 || m.word('P') != at+1:
		return m.fault(at, CodeName('G', int(c))+" with no P right behind it", "P1 to P999", "")
	}
	p := &m.block.Words[at+1]
	n, whole := p.Value.Int()
	if !whole || n < 1 || n > transform.MostOffsets {
		return m.fault(at+1, fmt.Sprintf("P%s", p.Value), "P1 to P999", "")
	}
	m.offsetHere = transform.MoreOffsets + int(n)
	m.take('P', false)
	return nil
}

// store runs G10 L2 P: a stored offset gets the axes that are named, in machine
// coordinates (NISTIR 6556, 3.5.5). Under G91 some controls add.
func (m *Machine) store() error {
	at := m.gAt[actionGroup]
	names := transform.OffsetNames(true)
	p, whole := int64(0), false
	if m.has('P') {
		p, whole = m.value('P').Int()
	}
	switch {
	case !m.has('L') || !m.value('L').Equal(FromInt(2)) || !whole || p < 1 || p > int64(len(names)):
		return m.fault(at, "G10 without L2 and the P of an offset", "G10 L2 P1 to P9", "")
	case !m.Absolute:
		return m.fault(at, "G10 in G91", "G90", "")
	case !m.axisWords():
		return m.fault(at, "G10 without an axis word", "X, Y or Z", "")
	}
	m.useUnits()
	mv := m.begin(Store)
	mv.Machine, mv.Stored = true, transform.OffsetCode(names[p-1])
	for i, letter := range axisLetters {
		if mv.ToOK[i] = m.has(letter); mv.ToOK[i] {
			mv.To[i] = m.value(letter)
			m.take(letter, false)
			if mv.Stored == max(m.state.Offset, 540) {
				m.lose(i)
			}
		}
	}
	return nil
}

// names takes the axis words of G92 or G52.
func (m *Machine) names(code int) error {
	if !m.axisWords() {
		return m.fault(m.gAt[actionGroup], CodeName('G', code)+" without an axis word", "X, Y or Z", "")
	}
	m.effect.Preset = code
	m.useUnits()
	for i, letter := range axisLetters {
		if m.has(letter) {
			m.effect.Named[i], m.effect.Values[i] = true, m.value(letter)
			m.take(letter, true)
		}
	}
	return nil
}

// preset runs G92 with axis words: the tool stays, its place gets a new name. G92.3 brings
// back the last zero of G92, since that is what it keeps in its parameters (NISTIR 6556, 3.5.18).
func (m *Machine) preset() error {
	if err := m.names(920); err != nil {
		return err
	}
	for i, v := range m.effect.Values {
		if !m.effect.Named[i] {
			continue
		}
		if m.place[i] == Known && m.shiftAt[i] == Known {
			m.shift[i] = m.shift[i].Add(m.pos[i]).Sub(v)
		} else {
			m.shift[i] = Num{}
			m.shiftAt[i] = max(m.shiftAt[i], m.place[i])
			m.effect.Renamed[i] = true
			m.zeros++
			if m.place[i] == Free && !m.begun[i] {
				m.needs = append(m.needs, StartNeed{Axis: i, Line: m.block.Line, Preset: true, Value: v.Sub(m.pos[i])})
			}
		}
		m.begun[i] = true
		m.place[i] = Known
		m.pos[i] = v
	}
	m.stored, m.storeAt, m.kept = m.shift, m.shiftAt, true
	m.reframe()
	return nil
}

// cancelPreset runs G92.1 (keep false) and G92.2 (keep true).
func (m *Machine) cancelPreset(keep bool) {
	if !keep {
		m.stored, m.storeAt, m.kept = Point{}, [3]Place{}, true
	}
	for i := range 3 {
		m.pos[i] = m.pos[i].Add(m.shift[i])
		m.place[i] = max(m.place[i], m.shiftAt[i])
	}
	m.shift, m.shiftAt = Point{}, [3]Place{}
	m.reframe()
}

// restorePreset runs G92.3: the last zero of this program, or else what the control holds from
// another day.
func (m *Machine) restorePreset() {
	m.zeros++
	for i := range 3 {
		if !m.kept {
			m.shiftAt[i] = Lost
			m.lose(i)
			continue
		}
		m.pos[i] = m.pos[i].Add(m.shift[i]).Sub(m.stored[i])
		m.place[i] = max(m.place[i], m.shiftAt[i], m.storeAt[i])
		m.shift[i], m.shiftAt[i] = m.stored[i], m.storeAt[i]
	}
	m.reframe()
}

// localShift runs G52: its words move the zero of the active work offset.
func (m *Machine) localShift() error {
	if err := m.names(520); err != nil {
		return err
	}
	for i, v := range m.effect.Values {
		if m.effect.Named[i] {
			m.pos[i] = m.pos[i].Add(m.local[i]).Sub(v)
			m.local[i] = v
		}
	}
	m.reframe()
	return nil
}

// home runs G28 and G30: to the point that the words name, if any, then home. Words by
// counts of 0 (G91 G28 Z0) name where the tool stands. On
// NISTIR's control every axis goes home, on others those named only, so that
// afterwards no axis' place is known.
func (m *Machine) home() error {
	sent := [3]bool{m.has('X'), m.has('Y'), m.has('Z')}
	if sent != [3]bool{} {
		if to, place := m.target(); m.Absolute || !to.Equal(m.pos) {
			m.travel(Rapid, to, place)
		}
	}
	mv := m.begin(Rapid)
	mv.Home, mv.Sent = true, sent
	if sent == [3]bool{} {
		mv.Sent = [3]bool{true, true, true}
	}
	mv.ToOK = [3]bool{}
	for i := range 3 {
		m.lose(i)
	}
	return nil
}

// machineMove runs a straight move with G53, whatever the motion mode: its words are
// machine coordinates.
func (m *Machine) machineMove() error {
	if !m.axisWords() {
		return m.fault(m.gAt[machineGroup], "G53 without an axis word", "X, Y or Z", "")
	}
	m.useUnits()
	kind := Rapid
	if m.motion == 10 {
		kind = Feed
	}
	mv := m.begin(kind)
	mv.Machine = true
	for i, letter := range axisLetters {
		mv.ToOK[i] = m.has(letter)
		if m.has(letter) {
			mv.To[i] = m.value(letter)
			m.take(letter, false)
			m.lose(i)
		}
	}
	return nil
}
