package motion

import (
	"fmt"
	"slices"

	"flipcalc/mirror/transform"
)

// farthest is the largest number that a word may have, so that lengths and times
// stay finite.
var farthest = FromInt(1_000_000_000).Times(1_000_000_000).Times(1_000_000_000_000)

// noLetters and noCodes are what a block without words has of them.
var noLetters, noCodes = func() (letters [26]int16, codes [groups]int16) {
	for i := range letters {
		letters[i] = -1
	}
	for i := range codes {
		codes[i] = -1
	}
	return letters, codes
}()

// gather sorts the block's words.
func (m *Machine) gather() error {
	m.at, m.g, m.gAt = noLetters, noCodes, noCodes
	for i := range m.block.Words {
		w := &m.block.Words[i]
		if w.Value.r != nil && (w.Value.Cmp(farthest) > 0 || w.Value.Neg().Cmp(farthest) > 0) {
			return m.fault(int16(i), fmt.Sprintf("%c with a number beyond 1e30", w.Letter), "a number that a machine can use", "")
		}
		switch w.Letter {
		case 'G':
			if err := m.gatherG(int16(i), w); err != nil {
				return err
			}
		case 'M':
			if err := m.gatherM(int16(i), w); err != nil {
				return err
			}
		case 'O':
			// A program's number stands on a line of its own.
			if len(m.block.Words) > 1 || m.begunProgram {
				return m.unfollowed(int16(i))
			}
		case 'U', 'E':
			// Beside G4 a time, beside G187 a tolerance.
			if beside := map[byte]int{'U': 40, 'E': 1870}[w.Letter]; m.at[w.Letter-'A'] >= 0 || !m.block.code(beside) {
				return m.unfollowed(int16(i))
			}
			m.at[w.Letter-'A'] = int16(i)
		case 'V', 'W':
			return m.unfollowed(int16(i))
		default:
			if m.at[w.Letter-'A'] >= 0 {
				return m.fault(int16(i), fmt.Sprintf("a second %c word in one block", w.Letter), "one", "write two blocks")
			}
			m.at[w.Letter-'A'] = int16(i)
		}
	}
	return m.settle()
}

// unfollowed refuses a word whose letter isn't followed.
func (m *Machine) unfollowed(i int16) error {
	w := &m.block.Words[i]
	found, hint := DescribeWord(w.Letter, string(m.block.Text[w.Start:w.End]))
	return m.fault(i, found, "", hint)
}

// unknown refuses a word whose code isn't followed.
func (m *Machine) unknown(i int16, letter byte, code int) error {
	found, hint := Describe(letter, code)
	return m.fault(i, found, "", hint)
}

// settle finds out what codes mean that depend on the words beside them.
func (m *Machine) settle() error {
	if c := m.g[aheadGroup]; c >= 0 {
		p := 0
		if m.has('P') {
			p = 1
		}
		// G103, with the number of blocks or alone, has one meaning in a block of its own only.
		if c == 80 && p == 0 || c == 1030 && len(m.block.Words) > 1+p {
			return m.unknown(m.gAt[aheadGroup], 'G', int(c))
		}
		m.take('P', false)
	}
	for _, g := range [2]group{scaleGroup, mirrorGroup} {
		if c := m.g[g]; c >= 0 && (m.has('S') || m.has('P') || m.g[motionGroup] < 0 && (m.axisWords() || m.has('I') || m.has('J') || m.has('K'))) {
			return m.unknown(m.gAt[g], 'G', int(c))
		}
	}
	if c := m.g[unitGroup]; c == 700 || c == 710 {
		if err := m.oldUnit(c); err != nil {
			return err
		}
	}
	if err := m.extended(); err != nil {
		return err
	}
	if m.g[smoothGroup] >= 0 {
		m.take('P', false)
		m.take('E', false)
	}
	if c := m.g[motionGroup]; c == 50 || c == 51 {
		// G5 P alone and G5.1 Q alone switch look-ahead and move nothing.
		own, other := byte('P'), byte('Q')
		if c == 51 {
			own, other = other, own
		}
		if m.has(own) && !m.has(other) && !m.axisWords() && !m.has('I') && !m.has('J') && !m.has('K') && !m.has('R') {
			m.g[motionGroup] = -1
			m.take(own, false)
		}
	}
	return nil
}

// oldUnit takes G70 and G71, units of ISO 6983 and cycles on lathes: only where they
// change nothing, beside G and M words.
func (m *Machine) oldUnit(c int16) error {
	modal := true
	for _, w := range m.block.Words {
		modal = modal && (w.Letter == 'G' || w.Letter == 'M')
	}
	if !modal || transform.Unit((710-c)/10) != m.state.Unit {
		return m.unknown(m.gAt[unitGroup], 'G', int(c))
	}
	m.g[unitGroup] = c - 500
	return nil
}

// gatherG files a G word under its group.
func (m *Machine) gatherG(i int16, w *Word) error {
	code, ok := codeOf(w.Value)
	if !ok {
		code = -1
	}
	g := gGroups[code]
	if code == 100 && m.o.Stores {
		g = actionGroup
	}
	if g == cancelGroup || code == 690 && !m.turn.On {
		return nil // it cancels what isn't in force
	}
	if g == none {
		return m.unknown(i, 'G', code)
	}
	return m.file(g, int16(code), i)
}

// codeOf gives a G number times ten. NISTIR 6556 takes a number within 0.0001 of it.
func codeOf(n Num) (code int, ok bool) {
	v, fits := n.Nano()
	if !fits || v < 0 || v > 1000*scale {
		return 0, false
	}
	const tenth, near = scale / 10, scale / 10_000
	code = int((v + near) / tenth)
	d := v - int64(code)*tenth
	return code, d <= near && d >= -near
}

// gatherM files an M word under its group.
func (m *Machine) gatherM(i int16, w *Word) error {
	code, ok := w.Value.Int()
	if !ok || code < 0 {
		return m.unknown(i, 'M', -1)
	}
	g := mGroups[int(code)]
	if g == inertGroup || g == none && slices.Contains(m.o.Inert, int(code)) {
		return nil
	}
	if g == none {
		return m.unknown(i, 'M', int(min(code, 1e9))*10)
	}
	return m.file(g, int16(code), i)
}

func (m *Machine) file(g group, code, i int16) error {
	if m.g[g] >= 0 {
		w := func(i int16) string {
			return string(upper(m.block.Words[i].Letter)) + m.block.Words[i].Value.String()
		}
		return m.fault(i, fmt.Sprintf("%s after %s in one block", w(i), w(m.gAt[g])), "one of them", "put them into two blocks")
	}
	m.g[g], m.gAt[g] = code, i
	return nil
}
