package motion

import (
	"bytes"
	"errors"
	"io"
)

// Walk interprets a whole program, hands each move to visit (which may be nil and
// must not keep the move) and says what the program does. Memory stays constant
// at any length. An error is a *fault.Error where the program can't be followed,
// or what the reader or visit returned.
func Walk(r io.Reader, o Options, visit func(*Move) error) (*Summary, error) {
	w := walker{lines: NewLines(r, o.Name), m: NewMachine(o), s: newSummary(o), visit: visit, name: o.Name}
	w.b.File = o.Name
	if err := w.run(); err != nil {
		return nil, err
	}
	w.s.close(w.m)
	return w.s, nil
}

// run interprets the whole program.
func (w *walker) run() error {
	for {
		text, line, err := w.lines.Next()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return err
		}
		if w.tape.Ended() || w.m.Ended() {
			if err := Idle(text, line, w.name); err != nil {
				return err
			}
			continue
		}
		if err := w.step(text, line); err != nil {
			return err
		}
		if w.m.Effect().Call > 0 {
			if err := w.callsFrom(text, line); err != nil {
				return err
			}
			break
		}
		if w.m.Effect().Return {
			_, err := (&Calls{}).Next(w.m, 0)
			return err
		}
	}
	if w.s.Moves == 0 && w.s.Stores == 0 {
		return noMotion(w.name)
	}
	return w.tape.Check(w.name, w.m)
}

// walker is one Walk.
type walker struct {
	lines *Lines
	m     *Machine
	s     *Summary
	b     Block
	tape  Tape
	visit func(*Move) error
	block func(*Block) // sees each block before it runs, but for those of subprograms; may be nil
	name  string
}

// step runs one line.
func (w *walker) step(text []byte, line int) error {
	if err := w.b.Read(text, line); err != nil {
		return err
	}
	if w.block != nil {
		w.block(&w.b)
	}
	if w.b.Tape {
		if err := w.tape.Mark(w.m); err != nil {
			return err
		}
	}
	if len(w.b.Words) > 0 && !w.b.Tape {
		w.s.Blocks++
	}
	moves, err := w.m.Do(&w.b)
	if err != nil {
		return err
	}
	for i := range moves {
		if err := w.far(&moves[i]); err != nil {
			return err
		}
		if moves[i].Kind == Store {
			w.s.Stores++
		} else {
			w.s.add(&moves[i])
		}
		if w.visit != nil {
			if err := w.visit(&moves[i]); err != nil {
				return err
			}
		}
	}
	return w.tape.Block(&w.b, w.m)
}

// callsFrom runs the rest of a program from its first call on, which is held in
// memory.
func (w *walker) callsFrom(text []byte, line int) (err error) {
	var calls Calls
	for ; err == nil; text, line, err = w.lines.Next() {
		if err := calls.Hold(bytes.Clone(text), line, w.name); err != nil {
			return err
		}
	}
	if !errors.Is(err, io.EOF) {
		return err
	}
	return calls.Follow(w.m, &w.tape, w.name, func(at int) error {
		return w.step(calls.held[at].text, calls.held[at].line)
	}, func(at int) error {
		return Idle(calls.held[at].text, calls.held[at].line, w.name)
	})
}

// PresetLeft reports whether G92 is in force.
func (m *Machine) PresetLeft() bool { return m.shift != Point{} || m.shiftAt != [3]Place{} }
