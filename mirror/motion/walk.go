package motion

import (
	"bytes"
	"errors"
	"io"

	"flipcalc/mirror/fault"
)

// Walk interprets a whole program, hands each move to visit (which may be nil and
// must not keep the move) and says what the program does. Memory stays constant
// at any length. An error is a *fault.Error where the program can't be followed,
// or what the reader or visit returned.
func Walk(r io.Reader, o Options, visit func(*Move) error) (*Summary, error) {
	w := walker{lines: NewLines(r, o.Name), m: NewMachine(o), s: newSummary(o), visit: visit, name: o.Name, stop: o.StopAtEnd}
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
		if w.tape.Ended() || w.idle {
			w.closing(text)
			continue
		}
		if w.stop && w.m.Ended() {
			w.after(text, line)
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
	return w.tape.Check(w.name)
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
	idle  bool // subprograms that nothing calls follow
	stop  bool // at M2 or M30
}

// step runs one line.
func (w *walker) step(text []byte, line int) error {
	if w.m.Ended() {
		if _, ok := Label(text); ok {
			w.idle = true
			return nil
		}
	}
	if err := w.b.Read(text, line, w.m.Parameters()); err != nil {
		return err
	}
	if w.block != nil {
		w.block(&w.b)
	}
	if w.b.Tape {
		w.tape.Mark()
	}
	w.tape.Block(&w.b)
	if len(w.b.Words) > 0 && !w.b.Tape {
		w.s.Blocks++
	}
	moves, err := w.m.Do(&w.b)
	if err != nil {
		return err
	}
	for i := range moves {
		w.s.add(&moves[i])
		if w.visit != nil {
			if err := w.visit(&moves[i]); err != nil {
				return err
			}
		}
	}
	return nil
}

// after takes a line behind M2 or M30, which doesn't run.
func (w *walker) after(text []byte, line int) {
	w.closing(text)
	if _, ok := Label(text); ok {
		w.idle = true // a subprogram belongs there
		return
	}
	err := w.b.Read(text, line, w.m.Parameters())
	if w.s.After == 0 && (err != nil || len(w.b.Words) > 0 && !w.b.Tape) {
		w.s.After = line
	}
}

// closing notes a closing % in text that doesn't run.
func (w *walker) closing(text []byte) {
	if text = bytes.TrimLeft(text, " \t"); len(text) > 0 && text[0] == '%' && w.tape.marks == 1 {
		w.tape.Mark()
	}
}

// callsFrom runs the rest of a program from its first call on, which is held in
// memory.
func (w *walker) callsFrom(text []byte, line int) error {
	type held struct {
		text []byte
		line int
	}
	rest := []held{{bytes.Clone(text), line}}
	var calls Calls
	for {
		text, line, err := w.lines.Next()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return err
		}
		if err := calls.Define(text, len(rest), line, w.name); err != nil {
			return err
		}
		rest = append(rest, held{bytes.Clone(text), line})
	}
	for at := 0; ; {
		next, err := calls.Next(w.m, at)
		if err != nil {
			return err
		}
		if w.m.Ended() {
			break
		}
		if at = next; at >= len(rest) || w.tape.Ended() {
			return calls.Unfinished(w.name, rest[len(rest)-1].line)
		}
		if _, ok := Label(rest[at].text); ok {
			w.b.Line = rest[at].line
			return calls.Entered(&w.b)
		}
		if err := w.step(rest[at].text, rest[at].line); err != nil {
			return err
		}
	}
	for _, h := range rest {
		w.closing(h.text) // which stands behind the subprograms
	}
	return nil
}

// Tape keeps count of the % lines: the first may only stand before any block, the
// second ends the useful text (NISTIR 6556, 3.1), and so does ^Z.
type Tape struct {
	marks  int
	blocks bool
	over   bool // ^Z
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
	if len(b.Words) > 0 && !b.Tape {
		t.blocks = true
	}
	t.over = t.over || b.Last
}

// Ended reports whether the useful text is over.
func (t *Tape) Ended() bool { return t.marks >= 2 || t.over }

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
