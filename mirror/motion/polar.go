package motion

import (
	"fmt"
	"math"
)

// Polar is G16, under which the words of the plane's first and second axis are a radius
// and an angle about the program's zero, counter-clockwise from the first axis, in degrees
// (common practice, from memory: not in NISTIR 6556). Both stand until they are given anew.
type Polar struct {
	On                bool
	Radius, Angle     Num
	radiusOK, angleOK bool // they were given
}

// polarWords runs G15 and G16.
func (m *Machine) polarWords() error {
	at := m.gAt[polarGroup]
	switch {
	case m.g[polarGroup] == 150:
		m.polar = Polar{}
	case m.polar.On:
		return m.fault(at, "G16 while G16 is on", "", polarMode.end)
	default:
		m.polar = Polar{On: true}
	}
	return nil
}

// polarEnds refuses centres under G16, and a radius or an angle that nobody knows.
func (m *Machine) polarEnds() error {
	if m.g[actionGroup] == 40 {
		return nil // a dwell, whose X is a time
	}
	for _, letter := range centreLetters {
		if m.has(letter) {
			return m.fault(m.word(letter), fmt.Sprintf("%c while G16 is on", letter), "arcs by R", "controls differ on what a centre is there")
		}
	}
	p := &m.polar
	first, second, _ := m.state.Plane.Axes()
	radius, angle := axisLetters[first], axisLetters[second]
	switch {
	case m.has(radius) && !m.Absolute:
		return m.fault(m.word(radius), fmt.Sprintf("a radius (%c) in G91 while G16 is on", radius), "the radius in G90",
			"controls take it from where the tool stands, or add it")
	case m.has(radius) && (m.value(radius).Sign() < 0 || m.value(radius).Cmp(widest) > 0):
		return m.fault(m.word(radius), fmt.Sprintf("a radius of %s while G16 is on", m.value(radius)), "0 or more, as far as a machine reaches", "")
	case !m.has(radius) && !m.has(angle):
	case !p.radiusOK && !m.has(radius), !p.angleOK && !(m.has(angle) && m.Absolute):
		return m.fault(-1, "a first move after G16 without both radius and angle", fmt.Sprintf("%c and %c in G90", radius, angle), "")
	}
	return nil
}

// widest is the largest radius, in either unit further than any machine reaches, so that
// floating point carries it to 1e-9.
var widest = FromInt(100_000)

// aim takes the radius and the angle of a move, which polarEnds has seen, and puts its end
// into to.
func (m *Machine) aim(to *Point, place *[3]Place) {
	p := &m.polar
	first, second, _ := m.state.Plane.Axes()
	radius, angle := axisLetters[first], axisLetters[second]
	if !m.has(radius) && !m.has(angle) {
		return
	}
	if m.has(radius) {
		p.Radius, p.radiusOK = m.value(radius), true
	}
	if m.has(angle) {
		if v := m.value(angle); m.Absolute {
			p.Angle, p.angleOK = v, true
		} else {
			p.Angle = p.Angle.Add(v)
		}
	}
	m.take(radius, true)
	m.take(angle, true)
	m.effect.Coordinates |= 1<<(radius-'A') | 1<<(angle-'A')
	sin, cos := math.Sincos(math.Mod(p.Angle.Float(), 360) * math.Pi / 180)
	for i, v := range map[int]float64{first: cos, second: sin} {
		to[i], place[i] = FromNano(int64(math.Round(p.Radius.Float()*v*scale))), Known
		m.swapped[i] = false
	}
}
