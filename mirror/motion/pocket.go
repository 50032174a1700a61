package motion

import "fmt"

// pocket runs G12 and G13, a circular pocket round where the tool stands: I is the
// radius, K with Q the radius reached in steps of Q, Z the depth (common practice,
// not in NISTIR 6556). Its circles are handed over as one, the widest.
func (m *Machine) pocket() error {
	at := m.gAt[actionGroup]
	name := CodeName('G', int(m.g[actionGroup]))
	switch {
	case m.g[motionGroup] >= 0:
		return m.fault(at, name+" beside a motion word", "one of them", "put them into two blocks")
	case m.has('X') || m.has('Y') || m.has('J') || m.effect.Rotary != 0:
		return m.fault(at, name+" with X, Y or J", "a pocket round where the tool stands", "move there in a block before it")
	case m.state.Plane != 0:
		return m.fault(at, fmt.Sprintf("%s in %s", name, m.state.Plane), "G17", "")
	case !m.has('I') || m.value('I').Sign() <= 0:
		return m.fault(at, name+" without a radius", "I above 0", "")
	}
	m.assume(planeGroup, "G17")
	m.useUnits()
	radius := m.value('I')
	if m.has('K') {
		if m.value('K').Cmp(radius) < 0 {
			return m.fault(m.word('K'), name+" whose K is less than I", "K, the last radius, at least as large as I", "")
		}
		radius = m.value('K')
	}
	for _, letter := range []byte("IKQLRP") {
		m.take(letter, false)
	}
	cycle, kind := int(m.g[actionGroup]), CW
	if cycle == 130 {
		kind = CCW
	}
	if m.has('Z') { // down, round
		to, place := m.target()
		m.travel(Feed, to, place).Cycle = cycle
	}
	mv := m.travel(kind, m.pos, m.place)
	mv.Cycle, mv.ByRadius, mv.Radius = cycle, true, radius
	return nil
}
