package motion

import (
	"fmt"
	"math"

	"flipcalc/mirror/fault"
)

// arc runs G2 and G3.
func (m *Machine) arc() error {
	if err := m.inverseTime(); err != nil {
		return err
	}
	kind := CW
	if m.motion == 30 {
		kind = CCW
	}
	m.assume(planeGroup, "G17")
	first, second, normal := m.state.Plane.Axes()
	plane := [2]int{first, second}
	if err := m.evenly(plane); err != nil {
		return err
	}
	turns, err := m.turns()
	if err != nil {
		return err
	}
	c := chord{plane: plane, from: m.pos, fromAt: m.place}
	for _, i := range plane {
		m.rely(i)
	}
	ends := m.has(axisLetters[first]) || m.has(axisLetters[second])
	offsets, err := m.centreWords(plane, normal)
	if err != nil {
		return err
	}
	c.to, c.toAt = m.target()
	switch {
	case offsets.n > 0 && m.has('R'):
		return m.fault(m.word('R'), "an arc with both R and a centre", "one of them", "controls differ on which they follow")
	case offsets.n == 0 && !m.has('R'):
		return m.fault(m.gAt[motionGroup], "an arc without a centre or a radius",
			fmt.Sprintf("%c, %c or R", centreLetters[first], centreLetters[second]), "")
	case m.has('R') && !ends:
		return m.fault(m.word('R'), "an arc with R and no end point in "+m.state.Plane.String(),
			fmt.Sprintf("%c or %c", axisLetters[first], axisLetters[second]), "")
	case m.has('R'):
		radius := m.scaled(first, m.value('R'), false)
		if err := m.checkRadius(radius, &c); err != nil {
			return err
		}
		m.take('R', false)
		mv := m.travel(kind, c.to, c.toAt)
		mv.ByRadius, mv.Radius, mv.Turns = true, radius, turns
		return nil
	}
	var centre [2]Num
	var centreOK [2]bool
	for k, i := range plane {
		if m.AbsoluteCentres {
			centre[k], centreOK[k] = offsets.v[k], true
		} else {
			centre[k], centreOK[k] = c.from[i].Add(offsets.v[k]), c.fromAt[i] == Known
		}
	}
	if err := m.checkCentre(centre, centreOK, &c); err != nil {
		return err
	}
	mv := m.travel(kind, c.to, c.toAt)
	mv.Centre, mv.CentreOK, mv.Turns = centre, centreOK, turns
	return nil
}

// turns takes P, the number of turns of an arc.
func (m *Machine) turns() (int, error) {
	if !m.has('P') {
		return 1, nil
	}
	n, ok := m.value('P').Int()
	if !ok || n < 1 || n > 1_000_000 {
		return 0, m.fault(m.word('P'), fmt.Sprintf("P%s with an arc", m.value('P')), "a whole number of turns", "")
	}
	m.take('P', false)
	return int(n), nil
}

// chord is what an arc spans: where it starts and ends, and what is known of both.
type chord struct {
	plane        [2]int
	from, to     Point
	fromAt, toAt [3]Place
}

// centreOffsets are the two centre words of an arc.
type centreOffsets struct {
	v [2]Num
	n int // how many were written
}

// centreWords takes the two of I, J, K that belong to the plane.
func (m *Machine) centreWords(plane [2]int, normal int) (c centreOffsets, err error) {
	if m.has(centreLetters[normal]) && m.value(centreLetters[normal]).IsZero() {
		m.take(centreLetters[normal], false)
	}
	if m.has(centreLetters[normal]) {
		return c, m.fault(m.word(centreLetters[normal]),
			fmt.Sprintf("%c in an arc of %s", centreLetters[normal], m.state.Plane),
			fmt.Sprintf("%c and %c", centreLetters[plane[0]], centreLetters[plane[1]]), "")
	}
	for k, i := range plane {
		letter := centreLetters[i]
		if m.has(letter) {
			c.v[k] = m.scaled(i, m.value(letter), m.AbsoluteCentres)
			c.n++
			m.take(letter, true)
		}
	}
	if c.n == 0 {
		return c, nil
	}
	if m.AbsoluteCentres {
		m.assume(centreGroup, "G90.1")
		if c.n == 1 {
			return c, m.fault(m.gAt[motionGroup], "an arc with one centre word in G90.1",
				fmt.Sprintf("both %c and %c", centreLetters[plane[0]], centreLetters[plane[1]]),
				"controls differ on what a missing one means")
		}
		return c, nil
	}
	m.assume(centreGroup, "G91.1")
	return c, nil
}

// checkRadius looks at an arc written with R.
func (m *Machine) checkRadius(radius Num, c *chord) error {
	if radius.IsZero() {
		return m.fault(m.word('R'), "an arc of radius 0", "a radius", "")
	}
	var d [2]Num
	for k, i := range c.plane {
		if (c.fromAt[i] == Known) != (c.toAt[i] == Known) {
			return nil // the chord isn't known
		}
		d[k] = c.to[i].Sub(c.from[i])
	}
	if d[0].IsZero() && d[1].IsZero() {
		return m.fault(m.word('R'), "an arc by radius that ends where it starts", "another end, or a centre with I, J, K", "")
	}
	if longer(d, radius.Times(2), m.arcTol[m.state.Unit]) {
		return m.fault(m.word('R'), fmt.Sprintf("radius %s, less than half the way to the arc's end", radius),
			"a radius that reaches", "")
	}
	if longer(d, radius.Times(2), m.warnTol[m.state.Unit]) {
		m.mismatch(length(d) - 2*math.Abs(radius.Float()))
	}
	return nil
}

// mismatch notes an arc whose end misses it by some length, in the unit in force.
func (m *Machine) mismatch(by float64) {
	by *= m.state.Unit.MM()
	if m.mismatches == 0 {
		m.firstMismatch = m.block.Line
	}
	m.mismatches++
	m.worstMismatch = max(m.worstMismatch, by)
}

// checkCentre looks at an arc written with its centre: its radii at start and end.
func (m *Machine) checkCentre(centre [2]Num, centreOK [2]bool, c *chord) error {
	var a, b [2]Num
	for k, i := range c.plane {
		// Everything must be counted from the same place.
		known := c.fromAt[i] == Known
		if known != centreOK[k] || known != (c.toAt[i] == Known) {
			return nil
		}
		a[k], b[k] = c.from[i].Sub(centre[k]), c.to[i].Sub(centre[k])
	}
	if a[0].Equal(b[0]) && a[1].Equal(b[1]) {
		if a[0].IsZero() && a[1].IsZero() {
			return m.fault(m.gAt[motionGroup], "an arc of radius 0", "a centre away from the start", "")
		}
		return nil
	}
	if apart(a, b, m.warnTol[m.state.Unit]) {
		by := math.Abs(length(a) - length(b))
		if apart(a, b, m.arcTol[m.state.Unit]) {
			return m.fault(m.gAt[motionGroup], "an arc whose radii at start and end differ by "+fault.Number(math.Round(by*m.state.Unit.MM()*1e4)/1e4)+" mm",
				fmt.Sprintf("at most %s mm", m.arcTol[0]),
				"check its end and centre, or whether centres are absolute (G90.1)")
		}
		m.mismatch(by)
	}
	return nil
}
