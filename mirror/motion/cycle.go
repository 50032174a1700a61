package motion

import (
	"fmt"

	"flipcalc/mirror/transform"
)

// Clearance is how far above the last peck G83 stops its rapid, and how far G73
// backs off: 0.254 mm or 0.01 in (a control's own setting; value from memory).
func Clearance(u transform.Unit) Num {
	if u == transform.Inch {
		return Num{v: 10_000_000}
	}
	return Num{v: 254_000_000}
}

// hole is one canned cycle in its plane.
type hole struct {
	code          int
	first, second int // axes of the plane
	normal        int // drilling axis
	clear         Num // where the tool goes back to
	clearAt       Place
	r, depth      Num // levels along the drilling axis
	levelAt       Place
	peck          Num
	shift         [2]Num // I and J of G87
	top           Num    // K of G87
	repeats       int64
	noLevel       bool // no R is known
}

// cycle runs G73 and G81 to G89 (NISTIR 6556, 3.5.16).
func (m *Machine) cycle() error {
	m.assume(planeGroup, "G17")
	m.assume(returnGroup, "G98")
	m.useUnits()
	h := hole{code: m.motion}
	h.first, h.second, h.normal = m.state.Plane.Axes()
	if err := m.cycleWords(&h); err != nil {
		return err
	}
	// Where the drilling axis' place isn't known, the tool is taken to stand at
	// or above R.
	from, fromAt := m.pos[h.normal], m.place[h.normal]
	comparable := fromAt == h.levelAt
	if h.repeats == 0 {
		// L0 keeps the words for later and drills nothing; whether the tool goes
		// there differs between controls (common practice, not in NISTIR 6556).
		to, place := m.target()
		m.travel(Rapid, to, place)
		m.assume(distanceGroup, "G90")
		return nil
	}
	h.clear, h.clearAt = m.series.initial, m.series.initialAt
	if m.returnToR || h.clearAt == h.levelAt && h.clear.Cmp(h.r) < 0 {
		h.clear, h.clearAt = h.r, h.levelAt
	}
	if comparable && from.Cmp(h.r) < 0 {
		m.along(Rapid, &h, h.r, h.levelAt)
	}
	pecks, err := m.pecks(&h)
	if err != nil {
		return err
	}
	if h.repeats*(pecks*3+6) > maxMoves {
		return m.fault(m.gAt[motionGroup], fmt.Sprintf("a cycle of more than %d moves in one block", maxMoves), "fewer repeats or pecks", "")
	}
	// The words of the plane are used anew at each repeat.
	var at [2]int16
	for k, i := range [2]int{h.first, h.second} {
		at[k] = m.word(axisLetters[i])
	}
	m.effect.Reached, m.effect.Depth, m.effect.Peck = h.r, h.depth, h.peck
	m.effect.Levelled = h.levelAt == Known && !h.noLevel
	for range h.repeats {
		m.effect.Holes = append(m.effect.Holes, len(m.moves))
		for k, i := range [2]int{h.first, h.second} {
			m.at[axisLetters[i]-'A'] = at[k]
		}
		to, place := m.target()
		if !to.Equal(m.pos) || place != m.place {
			m.travel(Rapid, to, place)
		}
		if err := m.drill(&h, pecks); err != nil {
			return err
		}
	}
	m.series.left, m.series.leftAt = m.pos[h.normal], m.place[h.normal]
	m.assume(distanceGroup, "G90")
	return nil
}

// series is canned cycles with nothing between them that moves the drilling axis or names its
// place anew. G98 goes back to where the axis stood before the first of them, also behind holes
// under G99 (common practice; NISTIR 6556, 3.5.20, has it go back to where it stood just before
// the cycle). An R by counts that isn't repeated keeps its level (common practice; by 3.5.16.1
// it would go deeper with each hole under G99).
type series struct {
	axis                       int // from 1; 0 for no series
	initial, left, level       Num // where the axis stood at the beginning, where the last cycle left it, and R by counts
	initialAt, leftAt, levelAt Place
	counted                    bool // level is there
}

// begin begins a series, unless the axis stands where the one that runs left it.
func (s *series) begin(axis int, at Num, place Place) {
	if s.axis != axis+1 || s.leftAt != place || !s.left.Equal(at) {
		*s = series{axis: axis + 1, initial: at, left: at, initialAt: place, leftAt: place}
	}
}

// cycleWords reads what the cycle needs and keeps what stays.
func (m *Machine) cycleWords(h *hole) error {
	first := m.gAt[motionGroup]
	m.series.begin(h.normal, m.pos[h.normal], m.place[h.normal])
	if m.state.FeedMode == 93 {
		return m.fault(first, CodeName('G', h.code)+" in G93", "G94", "")
	}
	if m.has('R') {
		m.r, m.rSet, m.rAbs = m.scaled(h.normal, m.value('R'), m.Absolute), true, m.Absolute
		m.take('R', true)
		m.series.counted = false
	}
	letter := axisLetters[h.normal]
	if m.has(letter) {
		m.depth, m.depthSet, m.depthAbs = m.scaled(h.normal, m.value(letter), m.Absolute), true, m.Absolute
		m.take(letter, true)
	}
	if !m.depthSet {
		return m.fault(first, fmt.Sprintf("%s without %c", CodeName('G', h.code), letter), "the depth", "")
	}
	m.effect.Cycle, m.effect.Level, m.effect.NoLevel = true, m.r, !m.rSet
	if err := m.cycleLevels(h); err != nil {
		return err
	}
	if err := m.cycleRepeats(h); err != nil {
		return err
	}
	if m.has('P') && m.value('P').Sign() < 0 {
		return m.fault(m.word('P'), "a negative dwell", "zero or more", "")
	}
	m.take('P', false)
	if m.has('Q') {
		m.peck = m.value('Q')
		if m.peck.Sign() <= 0 {
			return m.fault(m.word('Q'), fmt.Sprintf("Q%s in a cycle", m.peck), "a peck above 0", "")
		}
		m.take('Q', false)
	}
	h.peck = m.peck
	if h.code == 870 {
		m.backBoreWords(h)
	}
	return nil
}

// cycleLevels works out where the cycle feeds from and to.
func (m *Machine) cycleLevels(h *hole) error {
	h.r, h.depth, h.levelAt = m.r, m.depth, Known
	// A level counts as it was given: by a place in G90, by a count in G91. Where the drilling
	// axis' place isn't known it counts in the mode in force, so that both count alike.
	rAbs, depthAbs := m.rAbs, m.depthAbs
	if m.place[h.normal] != Known {
		rAbs, depthAbs = m.Absolute, m.Absolute
	}
	if !m.rSet {
		// Controls take another cycle's R, or the height at which the tool stands.
		h.r, h.levelAt, h.noLevel = m.pos[h.normal], m.place[h.normal], true
	} else if !rAbs {
		if s := &m.series; !s.counted {
			s.level, s.levelAt, s.counted = h.r.Add(m.pos[h.normal]), m.place[h.normal], true
		}
		h.r, h.levelAt = m.series.level, m.series.levelAt
		if h.levelAt == Free {
			m.need(h.normal)
		}
	}
	if !depthAbs {
		h.depth = h.depth.Add(h.r)
	}
	first, letter := m.gAt[motionGroup], axisLetters[h.normal]
	m.effect.Carried = m.carried(letter)
	if h.r.Cmp(h.depth) < 0 && !h.noLevel {
		if m.effect.Carried != "" {
			return m.fault(first, m.effect.Carried, "", fmt.Sprintf("controls differ on what they mean there: repeat R and %c in this block", letter))
		}
		return m.fault(first, fmt.Sprintf("R at %s below the depth at %s", h.r, h.depth), "R above the depth", "")
	}
	return nil
}

// cycleRepeats takes the number of holes.
func (m *Machine) cycleRepeats(h *hole) error {
	h.repeats = 1
	letter := byte('L')
	if m.has('K') && !m.has('L') && h.code != 730 && h.code != 830 && h.code != 870 {
		// Repeats on some controls (common practice, from memory); a depth in G73, G83 and G87.
		letter = 'K'
	}
	if m.has(letter) {
		n, ok := m.value(letter).Int()
		if !ok || n < 0 {
			return m.fault(m.word(letter), fmt.Sprintf("%c%s in a cycle", letter, m.value(letter)), "a whole number of repeats", "")
		}
		if n > maxMoves {
			return m.fault(m.word(letter), fmt.Sprintf("%d repeats", n), fmt.Sprintf("at most %d", maxMoves), "")
		}
		h.repeats = n
		m.take(letter, false)
	}
	return nil
}

// backBoreWords takes I, J and K of G87.
func (m *Machine) backBoreWords(h *hole) {
	for k, i := range [2]int{h.first, h.second} {
		if m.has(centreLetters[i]) {
			h.shift[k] = m.value(centreLetters[i])
			m.take(centreLetters[i], true)
		}
	}
	if k := centreLetters[h.normal]; m.has(k) {
		h.top = m.value(k)
		if !m.Absolute {
			h.top = h.top.Add(h.depth)
		}
		m.take(k, true)
	} else {
		h.top = h.depth
	}
	m.effect.Aside, m.effect.Top = h.shift, h.top
}

// carried says that levels were given in the other distance mode; "" where they weren't.
// Controls differ on what they then mean: NISTIR 6556, 3.5.16, keeps the number and counts
// it in the mode in force, handbooks for other controls drill rows by G91 with the levels
// of the G90 block before (common practice). This one keeps the levels, which cuts deepest
// and is what such programs are written for; whoever reads Carried warns. So it is with an R
// by counts behind a hole under G99, which 3.5.16.1 counts from where the tool is and others
// from where the series began (common practice).
func (m *Machine) carried(depth byte) string {
	names, verb := "", "is"
	if m.rSet && m.rAbs != m.Absolute {
		names = "R"
	}
	if m.depthAbs != m.Absolute {
		if names != "" {
			names, verb = names+" and ", "are"
		}
		names += string(depth)
	}
	if names == "" && m.effect.Coordinates&(1<<('R'-'A')) != 0 && !m.rAbs && !m.series.left.Equal(m.series.initial) {
		return "R given in G91 is counted behind a hole under G99"
	}
	if names == "" {
		return ""
	}
	from, to := "G90", "G91"
	if m.Absolute {
		from, to = to, from
	}
	return fmt.Sprintf("%s given in %s %s carried into %s", names, from, verb, to)
}

// pecks counts the steps of G73 and G83; 1 in other cycles or without Q.
func (m *Machine) pecks(h *hole) (int64, error) {
	if h.code != 730 && h.code != 830 {
		return 1, nil
	}
	if h.peck.IsZero() {
		return 0, m.fault(m.gAt[motionGroup], CodeName('G', h.code)+" without Q", "Q with the depth of a peck", "")
	}
	if h.noLevel {
		return 1, nil
	}
	n := h.r.Sub(h.depth).Quo(h.peck).Float()
	if n > maxMoves {
		return 0, m.fault(m.gAt[motionGroup], fmt.Sprintf("a cycle of more than %d pecks", maxMoves), "a larger Q", "")
	}
	return int64(n) + 1, nil
}

// along moves the drilling axis.
func (m *Machine) along(kind Kind, h *hole, to Num, at Place) {
	p, place := m.pos, m.place
	p[h.normal], place[h.normal] = to, at
	mv := m.travel(kind, p, place)
	mv.Cycle, mv.NoLevel, mv.Carried = h.code, h.noLevel, m.effect.Carried != ""
}

// aside moves in the plane, by a count from the hole.
func (m *Machine) aside(h *hole, by [2]Num) {
	p, place := m.pos, m.place
	p[h.first], p[h.second] = p[h.first].Add(by[0]), p[h.second].Add(by[1])
	m.travel(Rapid, p, place).Cycle = h.code
}

// drill runs one hole from above it to the way out.
func (m *Machine) drill(h *hole, pecks int64) error {
	for i := range m.moves {
		m.moves[i].Cycle = h.code
	}
	if h.code == 870 {
		m.backBore(h)
		return nil
	}
	if !m.pos[h.normal].Equal(h.r) || m.place[h.normal] != h.levelAt {
		m.along(Rapid, h, h.r, h.levelAt)
	}
	back := Clearance(m.state.Unit)
	code := h.code
	if h.noLevel {
		code = 810
	}
	switch code {
	case 730, 830:
		at := h.r
		for range pecks {
			next := at.Sub(h.peck)
			if next.Cmp(h.depth) < 0 {
				next = h.depth
			}
			m.along(Feed, h, next, h.levelAt)
			if next.Equal(h.depth) {
				break
			}
			if h.code == 730 {
				m.along(Rapid, h, next.Add(back), h.levelAt)
			} else {
				m.along(Rapid, h, h.r, h.levelAt)
				if down := next.Add(back); down.Cmp(h.r) < 0 {
					m.along(Rapid, h, down, h.levelAt)
				}
			}
			at = next
		}
	case 840, 850, 890:
		m.along(Feed, h, h.depth, h.levelAt)
		m.along(Feed, h, h.r, h.levelAt)
	default:
		m.along(Feed, h, h.depth, h.levelAt)
	}
	if !m.pos[h.normal].Equal(h.clear) || m.place[h.normal] != h.clearAt {
		m.along(Rapid, h, h.clear, h.clearAt)
	}
	return nil
}

// backBore runs the moves of G87: aside, down, back, up with the cutter in the
// material, down, aside, out (NISTIR 6556, 3.5.16.9).
func (m *Machine) backBore(h *hole) {
	back := [2]Num{h.shift[0].Neg(), h.shift[1].Neg()}
	m.aside(h, h.shift)
	m.along(Rapid, h, h.depth, h.levelAt)
	m.aside(h, back)
	m.along(Feed, h, h.top, h.levelAt)
	m.along(Feed, h, h.depth, h.levelAt)
	m.aside(h, h.shift)
	m.along(Rapid, h, h.clear, h.clearAt)
	m.aside(h, back)
}
