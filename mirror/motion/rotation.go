package motion

import "fmt"

// rotate runs G68: from here coordinates in the plane count in a system that is
// turned about a point by an angle, counter-clockwise positive. Where the tool
// stands in it is then unknown, but turned over like all else.
func (m *Machine) rotate() error {
	at := m.gAt[actionGroup]
	switch {
	case m.g[motionGroup] >= 0:
		return m.fault(at, "G68 beside a motion word", "", "put them into two blocks")
	case !m.has('R'):
		return m.fault(at, "G68 without R", "R with the angle", "")
	case m.state.Comp != 40:
		return m.fault(at, "G68 while cutter compensation is on", "", "cancel it with G40 first")
	}
	first, second, normal := m.state.Plane.Axes()
	m.assume(planeGroup, "G17")
	if m.has(axisLetters[normal]) {
		return m.fault(m.word(axisLetters[normal]), fmt.Sprintf("%c with G68 in %s", axisLetters[normal], m.state.Plane),
			fmt.Sprintf("%c and %c", axisLetters[first], axisLetters[second]), "")
	}
	m.effect.Preset = 680
	m.effect.Angle = m.value('R')
	m.take('R', true)
	for _, i := range [2]int{first, second} {
		if m.has(axisLetters[i]) {
			if !m.Absolute {
				return m.fault(m.word(axisLetters[i]), "the centre of G68 in G91", "G90", "controls differ on what it counts from")
			}
			m.useUnits()
			m.effect.Named[i], m.effect.Values[i] = true, m.value(axisLetters[i])
			m.take(axisLetters[i], true)
		}
	}
	if m.effect.Named[first] != m.effect.Named[second] {
		return m.fault(at, "G68 with half a centre", fmt.Sprintf("%c and %c, or neither", axisLetters[first], axisLetters[second]), "")
	}
	m.turn = Turn{On: true, Angle: m.effect.Angle, Centre: [2]Num{m.effect.Values[0], m.effect.Values[1]},
		CentreOK: m.effect.Named[0] && m.effect.Named[1]}
	m.reframe()
	m.loosen(first, second)
	return nil
}

// unrotate runs G69.
func (m *Machine) unrotate() error {
	if m.turn.On {
		first, second, _ := m.state.Plane.Axes()
		m.turn = Turn{}
		m.reframe()
		m.loosen(first, second)
	}
	if m.g[motionGroup] >= 0 || m.axisWords() {
		return m.fault(m.gAt[actionGroup], "G69 beside a move", "", "put the move into a block of its own")
	}
	return nil
}

// loosen forgets where axes stand, though not that it turns over.
func (m *Machine) loosen(axes ...int) {
	for _, i := range axes {
		m.place[i] = max(m.place[i], Free)
		m.loose[i] = true
	}
}
