package motion

import (
	"errors"
	"io"

	"flipcalc/mirror/fault"
)

// Walk interprets a whole program, hands each move to visit (which may be nil and
// must not keep the move) and says what the program does. Memory stays constant
// at any length. An error is a *fault.Error where the program can't be followed,
// or what the reader or visit returned.
func Walk(r io.Reader, o Options, visit func(*Move) error) (*Summary, error) {
	lines := NewLines(r, o.Name)
	m := NewMachine(o)
	s := newSummary(o)
	b := Block{File: o.Name}
	var tape Tape
	for {
		text, line, err := lines.Next()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return nil, err
		}
		if tape.Ended() {
			continue
		}
		if err := b.Read(text, line, m.Parameters()); err != nil {
			return nil, err
		}
		if b.Tape {
			tape.Mark()
			continue
		}
		tape.Block(&b)
		s.Blocks++
		moves, err := m.Do(&b)
		if err != nil {
			return nil, err
		}
		for i := range moves {
			s.add(&moves[i])
			if visit != nil {
				if err := visit(&moves[i]); err != nil {
					return nil, err
				}
			}
		}
	}
	if err := tape.Check(o.Name); err != nil {
		return nil, err
	}
	s.close(m)
	return s, nil
}

// Tape keeps count of the % lines: the first may only stand before any block, the
// second ends the useful text (NISTIR 6556, 3.1).
type Tape struct {
	marks  int
	blocks bool
}

// Mark notes a line with %.
func (t *Tape) Mark() {
	if t.marks == 0 && t.blocks {
		t.marks = 2 // a closing % without an opening one
		return
	}
	t.marks++
}

// Block notes a block.
func (t *Tape) Block(b *Block) {
	if len(b.Words) > 0 {
		t.blocks = true
	}
}

// Ended reports whether the useful text is over.
func (t *Tape) Ended() bool { return t.marks >= 2 }

// Check says whether an opening % was left without a closing one.
func (t *Tape) Check(name string) error {
	if t.marks == 1 {
		return &fault.Error{File: name, Found: "an opening % without a closing one", Expected: "% at the end",
			Hint: "is the program complete?"}
	}
	return nil
}

// PresetLeft reports whether G92 is in force.
func (m *Machine) PresetLeft() bool { return m.shift != Point{} || m.shiftAt != [3]Place{} }
