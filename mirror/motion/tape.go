package motion

import (
	"bytes"

	"flipcalc/mirror/fault"
	"flipcalc/mirror/transform"
)

// Tape follows where the useful text of a program begins and ends: behind an opening %,
// before M2, M30, a closing % or ^Z (NISTIR 6556, 3.1 and 3.6.1). Controls that are fed
// block by block run what stands outside as well (common practice), so that nothing there
// may move an axis, and nothing before the opening % may set what isn't set at the start.
type Tape struct {
	opened, closed bool
	over           bool  // closed by ^Z
	motion         bool  // a move or a call was run
	early          error // the first word that an opening % mustn't follow
}

// Mark takes a line with %. It opens the text where nothing has moved yet, and closes it
// otherwise.
func (t *Tape) Mark(m *Machine) error {
	switch {
	case t.opened || t.motion || m.Ended():
		t.closed = true
	case t.early != nil:
		return t.early
	}
	t.opened = true
	return nil
}

// Block takes a block without %, once m has run it.
func (t *Tape) Block(b *Block, m *Machine) error {
	t.motion = t.motion || len(m.moves) > 0 || m.effect.Call > 0
	if !t.opened && !t.motion && t.early == nil {
		t.early = unlikeStart(b, &m.o)
	}
	if !b.Last {
		return nil
	}
	t.closed, t.over = true, !t.closed
	i := 0
	for b.Text[i] != endOfText {
		i++
	}
	return idle(b.Text, i+1, b.Line, b.File)
}

// Ended reports whether the useful text is over.
func (t *Tape) Ended() bool { return t.closed }

// Check says whether the text was opened and neither closed nor ended.
func (t *Tape) Check(name string, m *Machine) error {
	if t.opened && (!t.closed || t.over) && !m.Ended() {
		return &fault.Error{File: name, Found: "an opening % without M2, M30 or a closing %", Expected: "one of them at the end",
			Hint: "is the program complete?"}
	}
	return nil
}

// Idle sees that a line outside the useful text, or of a subprogram that nothing calls,
// moves no axis.
func Idle(text []byte, line int, name string) error { return idle(text, 0, line, name) }

func idle(text []byte, from, line int, name string) error {
	if i := movingWord(text, from); i >= 0 {
		return &fault.Error{File: name, Line: line, Col: i + 1, Found: "motion behind the end of the program",
			Expected: "nothing that moves", Hint: "some controls run it: take it out, or put it before the end"}
	}
	return nil
}

// movingWord gives the place of the first word in text[from:] that names a coordinate, a
// rotary or second axis, or a centre, comments aside; -1 if there is none. The text needn't
// be a block.
func movingWord(text []byte, from int) int {
	for i := from; i < len(text); i++ {
		switch c := upper(text[i]); c {
		case ';':
			return -1
		case '(':
			for j := i + 1; j < len(text); j++ {
				if text[j] == ')' {
					i = j
					break
				}
			}
		case 'A', 'B', 'C', 'I', 'J', 'K', 'U', 'V', 'W', 'X', 'Y', 'Z':
			if startsNumber(text, i+1) {
				return i
			}
		}
	}
	return -1
}

// startsNumber reports whether a number, a parameter or an expression begins at text[i:],
// blanks and signs in front allowed.
func startsNumber(text []byte, i int) bool {
	for ; i < len(text); i++ {
		switch c := text[i]; {
		case blank(c) || c == '-' || c == '+':
		default:
			if c == '.' && i+1 < len(text) {
				c = text[i+1]
			}
			return c-'0' <= 9 || c == '#' || c == '['
		}
	}
	return false
}

// unlikeStart gives the error for the first word of a block that sets something else than
// what is set when a program starts; nil where none does.
func unlikeStart(b *Block, o *Options) error {
	at := -1
	if len(b.settings) > 0 {
		at = max(0, bytes.IndexByte(b.Text, '#'))
	}
	for i := range b.Words {
		w := &b.Words[i]
		if w.Letter == 'O' && len(b.Words) == 1 || startWord(w, o) {
			continue
		}
		if at < 0 || w.Start < at {
			at = w.Start
		}
		break
	}
	if at < 0 {
		return nil
	}
	return b.fault(at, "a word before the opening % that sets something", "% before it",
		"some controls leave it unread, others run it: put it behind %")
}

// startWord reports a G or M word that changes nothing at the start of a program.
func startWord(w *Word, o *Options) bool {
	code, ok := codeOf(w.Value)
	switch {
	case !ok || !w.Plain:
	case w.Letter == 'M':
		return code == 50 || code == 90
	case w.Letter == 'G':
		switch code {
		case 150, 170, 400, 490, 500, 501, 670, 690, 800, 900, 940, 970, 980:
			return true
		case 200:
			return o.Unit == transform.Inch
		case 210:
			return o.Unit == transform.MM
		case 901:
			return o.AbsoluteCentres
		case 911:
			return !o.AbsoluteCentres
		}
	}
	return false
}

// noMotion is the fault of a program that moves nothing.
func noMotion(name string) error {
	return &fault.Error{File: name, Found: "no motion found", Expected: "a part program", Hint: "is this the right file?"}
}
