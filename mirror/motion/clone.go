package motion

import (
	"reflect"
	"slices"
)

// Clone gives a second control in the same state.
func (m *Machine) Clone() *Machine {
	c := *m
	c.moves = nil
	c.block = nil
	c.effect.Holes = nil
	c.assumed = slices.Clone(m.assumed)
	c.needs = slices.Clone(m.needs)
	return &c
}

// Skip sets the block delete switch.
func (m *Machine) Skip(on bool) { m.o.SkipDeleted = on }

// Begun reports whether an axis has had a place since the start: given, lost or preset.
func (m *Machine) Begun(axis int) bool { return m.begun[axis] }

// Rotated reports whether G68 is on.
func (m *Machine) Rotated() bool { return m.turn.On }

// Moved reports whether any motion has run.
func (m *Machine) Moved() bool { return m.moved }

// Assumed lists what the program left to the control so far, such as "G90".
func (m *Machine) Assumed() []string { return m.assumed }

// Needs lists how the program relies on the place of the tool at its start.
func (m *Machine) Needs() []StartNeed { return m.needs }

// Watched reports whether a move that starts where the axis stands would have to be
// noted.
func (m *Machine) Watched(axis int) bool {
	return m.swapped[axis] || m.place[axis] == Free && !m.needed(axis)
}

// needed reports whether it was noted, or needn't be, that the program relies on
// where an axis stands at the start.
func (m *Machine) needed(axis int) bool {
	return m.begun[axis] || slices.ContainsFunc(m.needs, func(n StartNeed) bool { return n.Axis == axis })
}

// Mismatches gives how many arcs had radii at start and end that differ by more
// than 0.002 mm or 0.0002 in (NISTIR 6556, 3.5.3.2), the line of the first and the
// largest difference in mm.
func (m *Machine) Mismatches() (n, first int, worst float64) {
	return m.mismatches, m.firstMismatch, m.worstMismatch
}

// Join takes over what n, a clone of m that went another way and came to the same
// state, noted of the program.
func (m *Machine) Join(n *Machine) {
	if n.mismatches > 0 && (m.mismatches == 0 || n.firstMismatch < m.firstMismatch) {
		m.firstMismatch = n.firstMismatch
	}
	m.mismatches = max(m.mismatches, n.mismatches)
	m.worstMismatch = max(m.worstMismatch, n.worstMismatch)
	for _, need := range n.needs {
		if !slices.Contains(m.needs, need) {
			m.needs = append(m.needs, need)
		}
	}
	for _, code := range n.assumed {
		if !slices.Contains(m.assumed, code) {
			m.assumed = append(m.assumed, code)
		}
	}
}

// SetPosition says where an axis stands, counted as before: for a caller that
// followed plain blocks by itself. given is for an axis that they gave in G90.
func (m *Machine) SetPosition(axis int, at Num, known, given bool) {
	m.pos[axis] = at
	if known {
		m.place[axis] = Known
		m.begun[axis] = true
		m.swapped[axis] = m.swapped[axis] && !given
	}
}

// Plain reports whether blocks of G0 to G3 with X, Y, Z, F and S words need nothing
// but these to be followed: no cycle runs, feeds are per minute or revolution, and
// what such blocks rest on was said or assumed before. Arcs too need arcs to be
// true, which stands for G17 and G91.1 said or assumed.
func (m *Machine) Plain() (lines, arcs bool) {
	const base = 1<<unitGroup | 1<<distanceGroup | 1<<feedGroup | 1<<offsetGroup
	const round = 1<<planeGroup | 1<<centreGroup
	lines = m.moved && !m.ended && m.said&base == base && m.state.FeedMode != 93 &&
		(m.motion == 0 || m.motion == 10 || m.motion == 20 || m.motion == 30)
	return lines, lines && m.said&round == round && !m.AbsoluteCentres
}

// SetMotion sets the motion mode: 0, 10, 20 or 30.
func (m *Machine) SetMotion(code int) {
	if code != m.motion {
		m.rSet, m.depthSet, m.peck = false, false, Num{}
	}
	m.motion, m.under, m.series = code, code, series{}
}

// Agrees reports whether two controls would run every further block alike.
func (m *Machine) Agrees(n *Machine) bool { return reflect.DeepEqual(&m.modes, &n.modes) }

// Agrees reports whether two states are the same.
func (s *State) Agrees(t *State) bool {
	return s.Unit == t.Unit && s.Plane == t.Plane && s.Offset == t.Offset && s.Tool == t.Tool &&
		s.Length == t.Length && s.Spindle == t.Spindle && s.Speed.Equal(t.Speed) && s.Feed.Equal(t.Feed) &&
		s.FeedMode == t.FeedMode && s.Comp == t.Comp && s.CompBy == t.CompBy && s.D.Equal(t.D) && s.Coolant == t.Coolant && s.Path == t.Path
}
