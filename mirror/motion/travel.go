package motion

import (
	"fmt"
	"slices"

	"flipcalc/mirror/transform"
)

// act runs steps 19 and 20 of a block: presets, home and motion.
func (m *Machine) act() error {
	m.rotaryWords()
	if err := m.mode(); err != nil {
		return err
	}
	if err := m.allowed(); err != nil {
		return err
	}
	if mode := m.g[motionGroup]; mode != 50 && (mode >= 0 || m.motion != 50) {
		m.smooth = false
	}
	switch m.g[actionGroup] {
	case 921, 922:
		m.effect.Unset = int(m.g[actionGroup])
		m.cancelPreset(m.effect.Unset == 922)
	case 923:
		m.effect.Unset = 923
		m.restorePreset()
	case -1, 40: // none, or a dwell that has been
	default:
		return m.alone()
	}
	if m.g[machineGroup] >= 0 {
		return m.machineMove()
	}
	return m.move()
}

// rotaryWords takes A, B and C, which turn with a move.
func (m *Machine) rotaryWords() {
	for _, letter := range [3]byte{'A', 'B', 'C'} {
		// 0 and machine coordinates are the same on both sides.
		if m.has(letter) && m.effect.Rotary == 0 && !m.value(letter).IsZero() && m.g[machineGroup] < 0 {
			m.effect.Rotary = letter
		}
		m.take(letter, false)
	}
}

// mode takes G80 and the motion word.
func (m *Machine) mode() error {
	mode := int(m.g[motionGroup])
	if m.g[endGroup] >= 0 {
		if mode > 30 {
			return m.fault(m.gAt[endGroup], "G80 and "+CodeName('G', mode)+" in one block", "one of them", "put them into two blocks")
		}
		m.motion, m.bare, m.series = 800, 0, series{}
		m.rSet, m.depthSet, m.peck = false, false, Num{}
	}
	if mode < 0 {
		return nil
	}
	if mode != m.motion {
		m.rSet, m.depthSet, m.peck = false, false, Num{}
	}
	m.motion, m.bare = mode, 0
	if mode <= 51 {
		m.under, m.series = mode, series{}
	}
	return nil
}

// alone runs an action that uses the block's axis words up.
func (m *Machine) alone() error {
	c := int(m.g[actionGroup])
	at, mode := m.gAt[actionGroup], m.g[motionGroup]
	homes, presets := c == 280 || c == 300, c == 520 || c == 920
	switch {
	case m.g[machineGroup] >= 0:
		return m.fault(m.gAt[machineGroup], "G53 with "+CodeName('G', c), "one of them", "put them into two blocks")
	case homes && mode > 10, presets && mode >= 0:
		return m.fault(at, CodeName('G', c)+" beside a motion word", "one of them", "put them into two blocks")
	}
	switch c {
	case 100:
		return m.store()
	case 120, 130:
		return m.pocket()
	case 510:
		return m.scale()
	case 680:
		return m.rotate()
	case 690:
		return m.unrotate()
	case 520:
		return m.localShift()
	case 920:
		return m.preset()
	}
	return m.home()
}

// move runs the block's axis words in the motion mode.
func (m *Machine) move() error {
	mode := m.g[motionGroup]
	arcWords := (m.motion == 20 || m.motion == 30) && (m.has('I') || m.has('J') || m.has('K') || m.has('R'))
	if !m.axisWords() && !arcWords && m.effect.Rotary == 0 {
		if mode >= 810 || mode == 730 {
			m.bare = m.block.Line // nothing runs, unless axis words follow
		}
		return nil // G0 alone only sets the mode
	}
	switch m.motion {
	case -1, 800:
		if m.under > 10 {
			return m.noMotion("axis words after G80 and " + CodeName('G', m.under))
		}
		to, place := m.target()
		m.travel(Feed, to, place).Either = true
		return nil
	case 0, 10:
		return m.straight()
	case 20, 30:
		return m.arc()
	case 50, 51:
		return m.spline()
	}
	if m.effect.Rotary != 0 {
		return m.fault(m.gAt[motionGroup], fmt.Sprintf("a canned cycle with %c", m.effect.Rotary), "X, Y and Z", "turn the rotary axis in a block of its own")
	}
	if m.bare > 0 {
		return m.fault(-1, fmt.Sprintf("axis words under %s of line %d, which had none", CodeName('G', m.motion), m.bare), "the cycle with its words in one block", "")
	}
	return m.cycle()
}

// countingMode is a way of counting coordinates under which some codes aren't followed:
// planes, offsets, G53, units and G16, what countedAnew lists, and some of its own.
type countingMode struct {
	name, end string
	also      []int16
}

var (
	turnMode    = countingMode{"G68", "end it with G69 first", nil}
	scaleMode   = countingMode{"G51", "end it with G50 first", []int16{120, 130}}
	polarMode   = countingMode{"G16", "end it with G15 first", []int16{100, 120, 130}}
	countedAnew = []int16{280, 300, 510, 520, 680, 920, 921, 922, 923}
)

// bars refuses what isn't followed under a way of counting; the block that begins it may set
// what it rests on.
func (m *Machine) bars(mode *countingMode, begins bool) error {
	refuse := func(g group) error {
		return m.fault(m.gAt[g], CodeName('G', int(m.g[g]))+" while "+mode.name+" is on", "", mode.end)
	}
	for _, g := range [5]group{planeGroup, offsetGroup, machineGroup, unitGroup, polarGroup} {
		if !begins && m.g[g] >= 0 && m.g[g] != 150 {
			return refuse(g)
		}
	}
	if code := m.g[actionGroup]; slices.Contains(countedAnew, code) || slices.Contains(mode.also, code) {
		return refuse(actionGroup)
	}
	return nil
}

// allowed refuses what isn't followed under G68, G51 or G16, and runs G50, G15 and G16.
func (m *Machine) allowed() error {
	if m.turn.On {
		if err := m.bars(&turnMode, false); err != nil {
			return err
		}
	}
	if m.g[scaleGroup] >= 0 {
		if err := m.unscale(); err != nil {
			return err
		}
	}
	if m.scaling.On {
		if err := m.bars(&scaleMode, false); err != nil {
			return err
		}
		if m.g[motionGroup] == 870 {
			return m.fault(m.gAt[motionGroup], "G87 while G51 is on", "", scaleMode.end)
		}
	}
	if m.g[polarGroup] >= 0 {
		if err := m.polarWords(); err != nil {
			return err
		}
	}
	if !m.polar.On {
		return nil
	}
	if err := m.bars(&polarMode, m.g[polarGroup] == 160); err != nil {
		return err
	}
	return m.polarEnds()
}

func (m *Machine) noMotion(found string) error {
	for _, letter := range axisLetters {
		if m.has(letter) {
			return m.fault(m.word(letter), found, "G0 or G1 first",
				"controls differ on how they move here: write G0 or G1 into the block")
		}
	}
	return m.fault(-1, found, "G0 or G1 first", "")
}

// useUnits notes what a length rests on.
func (m *Machine) useUnits() {
	if m.said&(1<<unitGroup) == 0 {
		if m.state.Unit == transform.Inch {
			m.assume(unitGroup, "G20")
		} else {
			m.assume(unitGroup, "G21")
		}
	}
}

// target takes X, Y and Z as a move's end.
func (m *Machine) target() (to Point, place [3]Place) {
	m.useUnits()
	m.assume(distanceGroup, "G90")
	to, place = m.pos, m.place
	if m.polar.On {
		m.aim(&to, &place)
	}
	for i, letter := range axisLetters {
		if !m.has(letter) {
			continue
		}
		v := m.scaled(i, m.value(letter), m.Absolute)
		m.take(letter, true)
		if m.Absolute {
			to[i], place[i] = v, Known
			m.swapped[i] = false
		} else if to[i] = to[i].Add(v); !v.IsZero() {
			m.rely(i)
		}
	}
	return to, place
}

// rely notes what a move rests on that starts where an axis stands.
func (m *Machine) rely(axis int) {
	if m.swapped[axis] {
		m.swapped[axis] = false
		m.assume(changeGroup, "M6")
	}
	if m.place[axis] == Free {
		m.need(axis)
	}
}

// need notes that the program relies on where an axis stands at the start.
func (m *Machine) need(axis int) {
	if m.needed(axis) {
		return
	}
	m.needs = append(m.needs, StartNeed{Axis: axis, Line: m.block.Line})
}

// begin adds a move that starts where the tool is and, so far, ends there. By itself it
// is in no offset, as one by G53 or to the home position.
func (m *Machine) begin(kind Kind) *Move {
	if len(m.moves) < cap(m.moves) {
		m.moves = m.moves[:len(m.moves)+1]
	} else {
		m.moves = append(m.moves, Move{})
	}
	mv := &m.moves[len(m.moves)-1]
	*mv = Move{Line: m.block.Line, Kind: kind, State: m.state, From: m.pos, To: m.pos, Turns: 1,
		Rotary: m.effect.Rotary != 0, Rotated: m.turn.On, Frame: m.frame}
	for i, p := range m.place {
		mv.FromOK[i] = p == Known
		mv.ToOK[i] = p == Known
	}
	if kind != Rapid {
		m.assume(feedGroup, "G94")
	}
	return mv
}

// travel adds a straight move to a point of the active offset.
func (m *Machine) travel(kind Kind, to Point, place [3]Place) *Move {
	mv := m.begin(kind)
	m.assume(offsetGroup, "G54")
	m.moved = true
	mv.To = to
	for i, p := range place {
		mv.ToOK[i] = p == Known
		if p == Known {
			m.begun[i] = true
		}
	}
	m.pos, m.place = to, place
	return mv
}

// straight runs G0 and G1.
func (m *Machine) straight() error {
	kind := Rapid
	if m.motion == 10 {
		kind = Feed
		if err := m.inverseTime(); err != nil {
			return err
		}
	}
	to, place := m.target()
	m.travel(kind, to, place)
	return nil
}

// inverseTime checks that a G93 block has its own F (NISTIR 6556, 3.5.19).
func (m *Machine) inverseTime() error {
	if m.state.FeedMode == 93 && !m.feedHere {
		return m.fault(-1, "a move in G93 without F", "F in every such block", "")
	}
	return nil
}
