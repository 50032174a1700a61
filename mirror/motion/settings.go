package motion

import (
	"cmp"
	"fmt"

	"flipcalc/mirror/transform"
)

// settings runs the block's steps 2 to 18: everything but motion and stops.
func (m *Machine) settings() error {
	if err := m.rates(); err != nil {
		return err
	}
	if err := m.tool(); err != nil {
		return err
	}
	m.spindle()
	m.coolant()
	if m.g[actionGroup] == 40 {
		if err := m.dwell(); err != nil {
			return err
		}
	}
	if c := m.g[planeGroup]; c >= 0 {
		m.state.Plane = [...]transform.Plane{transform.XY, transform.ZX, transform.YZ}[(c-170)/10]
		m.said |= 1 << planeGroup
	}
	if c := m.g[unitGroup]; c >= 0 {
		m.setUnit(transform.Unit((210 - c) / 10))
		m.said |= 1 << unitGroup
	}
	m.compensation()
	if err := m.length(); err != nil {
		return err
	}
	if c := m.g[offsetGroup]; c >= 0 {
		m.setOffset(cmp.Or(m.offsetHere, int(c)))
	}
	if c := m.g[pathGroup]; c >= 0 {
		m.state.Path = uint16(c)
		m.take('P', false) // a path tolerance
		m.take('Q', false)
	}
	m.counting()
	return nil
}

// rates takes the feed mode, F and S.
func (m *Machine) rates() error {
	if c := m.g[feedGroup]; c >= 0 {
		m.state.FeedMode = int(c) / 10
		m.said |= 1 << feedGroup
	}
	m.feedHere = m.has('F')
	if err := m.rate('F', &m.state.Feed); err != nil {
		return err
	}
	said := m.has('S')
	if err := m.rate('S', &m.state.Speed); err != nil || !said {
		return err
	}
	m.halted = m.state.Speed.IsZero()
	return nil
}

// rate takes a word that says how fast.
func (m *Machine) rate(letter byte, into *Num) error {
	if !m.has(letter) {
		return nil
	}
	if *into = m.value(letter); into.Sign() < 0 {
		return m.fault(m.word(letter), fmt.Sprintf("a negative %c", letter), "zero or more", "")
	}
	m.take(letter, false)
	return nil
}

// tool takes T and M6.
func (m *Machine) tool() error {
	if m.has('T') {
		n, ok := m.value('T').Int()
		if !ok || n < 0 || n > 1<<31-1 {
			return m.fault(m.word('T'), fmt.Sprintf("T%s", m.value('T')), "a whole tool number", "")
		}
		m.selected = int(n)
		m.take('T', false)
		if !m.changed {
			m.state.Tool = m.selected
		}
	}
	if m.g[changeGroup] == 6 {
		m.changed, m.loaded = true, m.selected
		m.swapped = [3]bool{true, true, true}
		m.state.Tool = m.loaded
		m.state.Spindle = 0 // NISTIR 6556, 3.6.3
	}
	return nil
}

// spindle takes M3 to M5, and M13 and M14, which have coolant as well (common practice).
func (m *Machine) spindle() {
	switch m.g[spindleGroup] {
	case 3, 13:
		m.state.Spindle = 1
	case 4, 14:
		m.state.Spindle = -1
	case 5:
		m.state.Spindle = 0
	}
	m.started = m.started || m.state.Spindle != 0 && !m.halted
	if m.g[spindleGroup] > 10 {
		m.state.Coolant |= 2
	}
}

// coolant takes M7 to M9.
func (m *Machine) coolant() {
	switch m.g[coolantGroup] {
	case 8:
		m.state.Coolant |= 2
	case 9:
		m.state.Coolant = 0
	}
	if m.g[mistGroup] == 7 {
		m.state.Coolant |= 1
	}
}

// counting takes what numbers count from: G90 and G91, G90.1 and G91.1, G98 and G99.
func (m *Machine) counting() {
	if c := m.g[distanceGroup]; c >= 0 {
		m.Absolute = c == 900
		m.said |= 1 << distanceGroup
	}
	if c := m.g[centreGroup]; c >= 0 {
		m.AbsoluteCentres = c == 901
		m.said |= 1 << centreGroup
	}
	if c := m.g[returnGroup]; c >= 0 {
		m.returnToR = c == 990
		m.said |= 1 << returnGroup
	}
}

// compensation takes G40 to G42.1 and D. D stands until the next one, a tool change or the
// end; a diameter stands for its own G41.1 or G42.1.
func (m *Machine) compensation() {
	s := &m.state
	c := m.g[compGroup]
	if c >= 0 {
		s.Comp = int(c) / 10
	}
	direct := c == 411 || c == 421
	switch {
	case direct && m.has('D'):
		s.D, s.CompBy = m.value('D'), CompByDiameter
	case direct:
		s.D, s.CompBy = Num{}, CompByNothing
	case m.has('D'):
		s.D, s.CompBy = m.value('D'), CompByNumber
	case m.g[changeGroup] == 6, (c == 410 || c == 420) && s.CompBy > CompByNumber:
		s.D, s.CompBy = Num{}, CompByTool
	}
	m.take('D', false)
}

// dwell checks G4. Its time stands in P or X, on some controls in U or S.
func (m *Machine) dwell() error {
	for _, letter := range [3]byte{'P', 'X', 'U'} {
		if m.has(letter) && m.value(letter).Sign() < 0 {
			return m.fault(m.word(letter), "a negative dwell", "zero or more", "")
		}
	}
	if m.has('Y') || m.has('Z') || m.has('I') || m.has('J') || m.has('K') {
		return m.fault(m.gAt[actionGroup], "G4 with axis words", "P alone", "put the dwell into a block of its own")
	}
	if m.has('X') && (m.g[motionGroup] >= 0 || m.g[machineGroup] >= 0) {
		return m.fault(m.word('X'), "G4 and a move in one block", "one of them", "some controls take X as the time: put the dwell into a block of its own")
	}
	m.take('P', false)
	m.take('X', false)
	m.take('U', false)
	return nil
}

// length runs G43, G44, G49 and H: the Z coordinate of the same height changes.
func (m *Machine) length() error {
	c := m.g[lengthGroup]
	h := m.state.Length
	if m.has('H') {
		n, ok := m.value('H').Int()
		if !ok || n < 0 || n > 1<<31-1 {
			return m.fault(m.word('H'), fmt.Sprintf("H%s", m.value('H')), "a whole length number", "")
		}
		if c == 430 || c == 440 || h >= 0 {
			h = int(n) // else no length is in force that it could change
		}
		m.take('H', false)
	} else if c == 430 || c == 440 {
		h = max(m.state.Tool, 0)
	}
	added := m.added
	switch c {
	case 430, 440:
		added = c == 440
	case 490:
		h, added = -1, false
	}
	if h == m.state.Length && added == m.added {
		return nil
	}
	m.state.Length, m.added = h, added
	l, known := m.o.Lengths[h]
	if known || c == 490 && m.o.Lengths != nil {
		if added {
			l = l.Neg()
		}
		m.pos[2] = m.pos[2].Add(m.lengthNow).Sub(l)
		m.lengthNow = l
		return nil
	}
	if m.place[2] == Known {
		m.place[2] = Free
	}
	return nil
}

// setUnit carries every length that is held into the other unit, exactly.
func (m *Machine) setUnit(u transform.Unit) {
	if u == m.state.Unit {
		return
	}
	conv := func(n *Num) {
		if !n.IsZero() {
			*n = n.In(1-u, u)
		}
	}
	for i := range 3 {
		for _, p := range []*Point{&m.pos, &m.shift, &m.stored, &m.local} {
			conv(&p[i])
		}
	}
	conv(&m.r)
	conv(&m.depth)
	conv(&m.peck)
	conv(&m.tangent[0])
	conv(&m.tangent[1])
	m.state.Unit = u
	m.reframe()
}

// setOffset selects a work offset. Where the stored offsets differ is unknown, so
// after a change no coordinate is known until it is given.
func (m *Machine) setOffset(c int) {
	old := m.state.Offset
	m.state.Offset = c
	m.said |= 1 << offsetGroup
	if old == c || old == 0 && (c == 540 || !m.moved) {
		return
	}
	for i := range 3 {
		m.lose(i)
	}
}

// lose forgets an axis' position.
func (m *Machine) lose(axis int) {
	m.place[axis] = Lost
	m.begun[axis] = true
}
