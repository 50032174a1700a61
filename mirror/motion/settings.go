package motion

import (
	"cmp"
	"fmt"

	"flipcalc/mirror/transform"
)

// settings runs the block's steps 2 to 18: everything but motion and stops.
func (m *Machine) settings() error {
	s := &m.state
	if c := m.g[feedGroup]; c >= 0 {
		s.FeedMode = int(c) / 10
		m.said |= 1 << feedGroup
	}
	if m.has('F') {
		if m.value('F').Sign() < 0 {
			return m.fault(m.word('F'), "a negative F", "zero or more", "")
		}
		s.Feed = m.value('F')
		m.take('F', false)
		m.feedHere = true
	}
	if m.has('S') {
		if m.value('S').Sign() < 0 {
			return m.fault(m.word('S'), "a negative S", "zero or more", "")
		}
		s.Speed = m.value('S')
		m.take('S', false)
	}
	if m.has('T') {
		n, ok := m.value('T').Int()
		if !ok || n < 0 || n > 1<<31-1 {
			return m.fault(m.word('T'), fmt.Sprintf("T%s", m.value('T')), "a whole tool number", "")
		}
		m.selected = int(n)
		m.take('T', false)
		if !m.changed {
			s.Tool = m.selected
		}
	}
	if m.g[changeGroup] == 6 {
		m.changed, m.loaded = true, m.selected
		m.swapped = [3]bool{true, true, true}
		s.Tool = m.loaded
		s.Spindle = 0 // NISTIR 6556, 3.6.3
	}
	switch c := m.g[spindleGroup]; c {
	case 13, 14: // with coolant (common practice)
		s.Spindle, s.Coolant, m.started = int(27-2*c), s.Coolant|2, true
	case 3:
		s.Spindle, m.started = 1, true
	case 4:
		s.Spindle, m.started = -1, true
	case 5:
		s.Spindle = 0
	}
	switch m.g[coolantGroup] {
	case 8:
		s.Coolant |= 2
	case 9:
		s.Coolant = 0
	}
	if m.g[mistGroup] == 7 {
		s.Coolant |= 1
	}
	if m.g[actionGroup] == 40 {
		if err := m.dwell(); err != nil {
			return err
		}
	}
	if c := m.g[planeGroup]; c >= 0 {
		s.Plane = [...]transform.Plane{transform.XY, transform.ZX, transform.YZ}[(c-170)/10]
		m.said |= 1 << planeGroup
	}
	if c := m.g[unitGroup]; c >= 0 {
		m.setUnit(transform.Unit((210 - c) / 10))
		m.said |= 1 << unitGroup
	}
	if c := m.g[compGroup]; c >= 0 {
		s.Comp = int(c) / 10
	}
	m.compensation()
	if err := m.length(); err != nil {
		return err
	}
	if c := m.g[offsetGroup]; c >= 0 {
		m.setOffset(cmp.Or(m.offsetHere, int(c)))
	}
	if c := m.g[pathGroup]; c >= 0 {
		s.Path = uint16(c)
		m.take('P', false) // a path tolerance
		m.take('Q', false)
	}
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
	return nil
}

// compensation takes the D word. It stands until the next one, a tool change or the
// end; a diameter stands for its own G41.1 or G42.1.
func (m *Machine) compensation() {
	s := &m.state
	c := m.g[compGroup]
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
	if m.has('P') && m.value('P').Sign() < 0 {
		return m.fault(m.word('P'), "a negative dwell", "zero or more", "")
	}
	if m.has('Y') || m.has('Z') {
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
	if c == 490 {
		h = -1
	}
	if h == m.state.Length && c != 440 {
		return nil
	}
	m.state.Length = h
	l, known := m.o.Lengths[h]
	if known || c == 490 && m.o.Lengths != nil {
		if c == 440 {
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
