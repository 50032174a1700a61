package motion

import (
	"bytes"
	"fmt"
)

// Scaling is that of G51, by which the control multiplies lengths from a point of the
// program's coordinates on (common practice, from memory: not in NISTIR 6556). A place of
// the control counts in coordinates without it, so that G50 changes no place.
type Scaling struct {
	On     bool
	Centre Point
	Factor Point
}

// scaled gives a word of an axis as it counts without scaling: a place, or a length along
// the axis.
func (m *Machine) scaled(axis int, v Num, place bool) Num {
	s := &m.scaling
	switch {
	case !s.On || s.Factor[axis].Equal(one):
		return v
	case place:
		return s.Centre[axis].Add(v.Sub(s.Centre[axis]).Mul(s.Factor[axis]))
	}
	return v.Mul(s.Factor[axis])
}

var one = FromInt(1)

// scale runs G51: P multiplies all axes, I, J and K each its own. What a missing centre or
// a factor without a point means differs between controls.
func (m *Machine) scale() error {
	at := m.gAt[actionGroup]
	switch {
	case m.g[motionGroup] >= 0:
		return m.fault(at, "G51 beside a motion word", "", "put them into two blocks")
	case m.motion > 100 && m.motion != 800:
		return m.fault(at, "G51 while a cycle is on", "", "end it with G80 first")
	case !m.Absolute:
		return m.fault(at, "the centre of G51 in G91", "G90", "controls differ on what it counts from")
	}
	s := Scaling{On: true, Factor: Point{one, one, one}}
	any := false
	for i, letter := range axisLetters {
		own := centreLetters[i]
		if m.has('P') {
			if m.has(own) {
				return m.fault(m.word(own), fmt.Sprintf("%c beside P with G51", own), "one of them", "")
			}
			own = 'P'
		}
		if !m.has(own) {
			continue
		}
		any = true
		factor, err := m.factor(m.word(own))
		if err != nil {
			return err
		}
		if s.Factor[i] = factor; factor.Equal(one) {
			continue
		}
		if !m.has(letter) {
			return m.fault(at, fmt.Sprintf("G51 without %c", letter), "the centre of each axis that it scales", fmt.Sprintf("controls differ on what a missing one is: write the centre's %c", letter))
		}
		s.Centre[i] = m.value(letter)
	}
	if !any {
		return m.fault(at, "G51 without a factor", "P, or I, J and K", "")
	}
	for _, letter := range []byte("PIJKXYZ") {
		m.take(letter, true)
	}
	m.useUnits()
	m.effect.Preset = 510
	m.scaling = s
	return nil
}

// factor gives a factor of G51.
func (m *Machine) factor(word int16) (Num, error) {
	w := &m.block.Words[word]
	switch v := w.Value; {
	case v.Sign() < 0:
		return v, m.fault(word, fmt.Sprintf("%c%s with G51 (a mirror)", w.Letter, v), "a factor above 0", outOfProgram)
	case v.IsZero():
		return v, m.fault(word, fmt.Sprintf("%c0 with G51", w.Letter), "a factor above 0", "")
	case w.Plain && bytes.IndexByte(m.block.Text[w.Number:w.End], '.') < 0:
		return v, m.fault(word, fmt.Sprintf("%c%s with G51, without a point", w.Letter, v), fmt.Sprintf("%c%s. where that is the factor", w.Letter, v),
			"controls differ: some count in thousandths")
	default:
		return v, nil
	}
}

// unscale runs G50.
func (m *Machine) unscale() error {
	if m.scaling.On && m.motion > 100 && m.motion != 800 && m.g[endGroup] < 0 {
		return m.fault(m.gAt[scaleGroup], "G50 while a cycle is on", "", "end it with G80 first")
	}
	m.scaling = Scaling{}
	return nil
}

// evenly refuses an arc in a plane that is scaled unevenly.
func (m *Machine) evenly(plane [2]int) error {
	if s := &m.scaling; s.On && !s.Factor[plane[0]].Equal(s.Factor[plane[1]]) {
		return m.fault(m.gAt[motionGroup], fmt.Sprintf("an arc while G51 scales by %s and %s", s.Factor[plane[0]], s.Factor[plane[1]]), "one factor in its plane", "it would be no circle")
	}
	return nil
}
