package plain

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"regexp"

	"flipcalc/mirror/fault"
	"flipcalc/mirror/motion"
)

// A program with blocks behind a slash has as many readings as its switches can be set. It is
// written once, with all blocks run and the slash on the lines of its blocks, and proved as
// ever. It is then run once more for each other setting, written and proved for itself: what
// comes out must be the first text without the lines of the switches that are on. So that
// one text is right in every reading, and where a block depends on one it is refused.

// mostSwitches is how many switches a program may use: each doubles the runs.
const mostSwitches = 4

// slashed is a line that begins with a slash.
var slashed = regexp.MustCompile(`(?m)^\s*/`)

// slash writes the slash of a block behind one.
func slash(s []byte, b *motion.Block) []byte {
	if b.Deleted {
		s = append(s, '/')
		if i := bytes.IndexByte(b.Text, '/') + 1; i < len(b.Text) && b.Text[i]-'0' <= 9 { // one of several switches
			s = append(s, b.Text[i], ' ')
		}
	}
	return s
}

// deleted refuses a block behind a slash that ends the program or leads elsewhere.
func (t *writer) deleted(b *motion.Block) error {
	for i := range b.Words {
		if n, ok := b.Words[i].Value.Int(); b.Words[i].Letter == 'M' && ok && (n == 2 || n == 30 || n == 98 || n == 99) {
			return refuse(b, 'M', fmt.Sprintf("M%d behind a slash (block delete)", n), "a block that always runs", "take the slash out, or write two programs")
		}
	}
	return nil
}

// switchOf gives the switch of a written line as a bit, 0 for a line that always runs.
func switchOf(line []byte) uint16 {
	switch {
	case len(line) == 0 || line[0] != '/':
		return 0
	case len(line) > 1 && line[1]-'1' < 9:
		return 1 << (line[1] - '0')
	}
	return 1 << 1
}

// writeSlashed writes a program with blocks behind a slash.
func writeSlashed(text []byte, w io.Writer, o Options) (*Report, error) {
	var whole bytes.Buffer
	r, err := write(text, &whole, o)
	if err != nil {
		return nil, err
	}
	var used uint16
	switches := 0
	for n, line := range r.switches {
		if line == 0 {
			continue
		}
		if used, switches = used|1<<n, switches+1; switches > mostSwitches {
			return nil, &fault.Error{File: o.Read.Name, Line: line, Col: 1, Found: fmt.Sprintf("a block delete switch beside %d others", mostSwitches), Expected: fmt.Sprintf("at most %d", mostSwitches)}
		}
	}
	lines := bytes.SplitAfter(whole.Bytes(), []byte{'\n'})
	for on := used; on > 0; on = (on - 1) & used {
		if err := r.sameWith(on, text, lines, o); err != nil {
			return nil, err
		}
	}
	_, err = whole.WriteTo(w)
	return r, err
}

// line gives the program's line for written line i, counted from 0.
func (r *Report) line(i int) int {
	if i = min(i, len(r.Lines)-1); i >= 0 {
		return int(r.Lines[i])
	}
	return 0
}

// sameWith writes the program with some switches on and compares.
func (r *Report) sameWith(on uint16, text []byte, lines [][]byte, o Options) error {
	skipped := 0
	for n, line := range r.switches {
		if on&(1<<n) != 0 && (skipped == 0 || line < skipped) {
			skipped = line
		}
	}
	var out bytes.Buffer
	o.Read.Skip = on
	_, err := write(text, &out, o)
	var f *fault.Error
	if errors.As(err, &f) {
		said := *f
		said.Found += fmt.Sprintf(" (when the blocks with a slash, such as line %d, are skipped)", skipped)
		return &said
	}
	rest := out.Bytes()
	for i, line := range lines {
		switch {
		case switchOf(line)&on != 0:
			skipped = r.line(i)
		case !bytes.HasPrefix(rest, line) || len(line) == 0 && len(rest) > 0:
			return &fault.Error{File: o.Read.Name, Line: r.line(i), Col: 1, Found: fmt.Sprintf("a block that depends on whether the block with a slash in line %d runs", skipped),
				Hint: "repeat the words that both ways need (G90, G1, F, X, Y, Z and the like) in a block without a slash"}
		default:
			rest = rest[len(line):]
		}
	}
	return err
}
