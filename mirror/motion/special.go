package motion

import (
	"fmt"
	"math"
)

// rotaryWords takes A, B and C, which turn with a move.
func (m *Machine) rotaryWords() {
	for _, letter := range [3]byte{'A', 'B', 'C'} {
		if m.has(letter) && (m.value(letter).IsZero() || m.g[machineGroup] >= 0) {
			m.take(letter, false) // 0 and machine coordinates are the same on both sides
			continue
		}
		if m.has(letter) {
			if m.effect.Rotary == 0 {
				m.effect.Rotary = letter
			}
			m.take(letter, false)
		}
	}
}

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

// spline runs G5 (cubic: I J from the start to the first control point, P Q from the
// end to the second) and G5.1 (quadratic: I J from the start to the only one). Both
// are common practice, not in NISTIR 6556.
func (m *Machine) spline() error {
	at := m.gAt[motionGroup]
	name := CodeName('G', m.motion)
	m.assume(planeGroup, "G17")
	switch {
	case m.state.Plane != 0:
		return m.fault(at, fmt.Sprintf("%s in %s", name, m.state.Plane), "G17", "")
	case m.motion == 50 && m.claimsP():
		return m.fault(at, "G5 beside another code that may use its P", "one of them", "put them into two blocks")
	case m.has('Z') || m.effect.Rotary != 0:
		return m.fault(m.word('Z'), name+" with another axis than X and Y", "X and Y", "")
	case m.state.Comp != 40:
		return m.fault(at, name+" while cutter compensation is on", "", "cancel it with G40 first")
	}
	if err := m.inverseTime(); err != nil {
		return err
	}
	var c [2][2]Num
	ij := m.has('I') || m.has('J')
	pq := m.has('P') || m.has('Q')
	for k, letters := range [2][2]byte{{'I', 'J'}, {'P', 'Q'}} {
		if k == 1 && m.motion == 51 {
			break
		}
		for i, letter := range letters {
			if m.has(letter) {
				c[k][i] = m.scaled(i, m.value(letter), false)
				m.take(letter, true)
			}
		}
	}
	switch {
	case !ij && m.motion == 50 && m.smooth:
		c[0] = m.tangent
	case !ij:
		return m.fault(at, name+" without I or J", "the first control point", "a control's fast mode under this code isn't followed: take it out")
	case m.motion == 50 && !pq:
		return m.fault(at, name+" without P or Q", "the second control point", "")
	}
	from := m.pos
	m.rely(0)
	m.rely(1)
	to, place := m.target()
	if m.motion == 51 {
		for i := range 2 {
			c[1][i] = from[i].Add(c[0][i]).Sub(to[i])
		}
	}
	mv := m.travel(Spline, to, place)
	mv.Control, mv.Cubic = c, m.motion == 50
	m.tangent, m.smooth = [2]Num{c[1][0].Neg(), c[1][1].Neg()}, mv.Cubic
	return nil
}

// sample gives points along a spline, in its unit.
func (m *Move) sample() (points [][2]float64) {
	const n = 32
	for k := range n + 1 {
		t := float64(k) / n
		var p [2]float64
		for i := range 2 {
			a, d := m.From[i].Float(), m.To[i].Float()
			b, c := a+m.Control[0][i].Float(), d+m.Control[1][i].Float()
			if m.Cubic {
				p[i] = (1-t)*(1-t)*(1-t)*a + 3*(1-t)*(1-t)*t*b + 3*(1-t)*t*t*c + t*t*t*d
			} else {
				p[i] = (1-t)*(1-t)*a + 2*(1-t)*t*b + t*t*d
			}
		}
		points = append(points, p)
	}
	return points
}

// splineLength adds up the chords between sampled points: with 32 of them the sum
// is short by less than a thousandth for curves without a cusp.
func (m *Move) splineLength() (l float64, ok bool) {
	if m.FromOK[0] != m.ToOK[0] || m.FromOK[1] != m.ToOK[1] {
		return 0, false
	}
	points := m.sample()
	for k := 1; k < len(points); k++ {
		l += math.Hypot(points[k][0]-points[k-1][0], points[k][1]-points[k-1][1])
	}
	return l, true
}

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
	for range 2 { // down, round
		kind := Feed
		if m.has('Z') {
			to, place := m.target()
			m.travel(kind, to, place).Cycle = int(m.g[actionGroup])
			continue
		}
		kind = CW
		if m.g[actionGroup] == 130 {
			kind = CCW
		}
		mv := m.travel(kind, m.pos, m.place)
		mv.Cycle, mv.ByRadius, mv.Radius = int(m.g[actionGroup]), true, radius
		break
	}
	return nil
}
