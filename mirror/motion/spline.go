package motion

import (
	"fmt"
	"math"
)

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
