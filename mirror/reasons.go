package mirror

import (
	"errors"
	"io"
	"regexp"

	"flipcalc/mirror/block"
	"flipcalc/mirror/fault"
)

// All that a program holds against being mirrored is told at once: behind the first fault
// the rest is read on, its output thrown away.

// Bounds of what is read on.
const (
	mostReasons = 200      // of which those who tell them may leave some out
	mostReadOn  = 16 << 20 // bytes
)

// reasons are the faults of a program, each sort once.
type reasons struct {
	list []*fault.Error
	sort map[string]*fault.Error
	line map[string]int // of the last fault of that sort
}

// figures are what differs between two faults of one sort: numbers, but for those of G
// and M codes.
var figures = regexp.MustCompile(`\b([A-FH-LN-Z]?)[-+]?[0-9]*\.?[0-9]+\.?`)

// add takes a fault; false where there are enough.
func (s *reasons) add(err error) bool {
	var f *fault.Error
	if !errors.As(err, &f) {
		return false
	}
	key := figures.ReplaceAllString(f.Found, "$1#")
	first, known := s.sort[key]
	switch {
	case known && s.line[key] != f.Line:
		first.Count++
	case !known && len(s.list) == mostReasons:
		return false
	case !known:
		own := *f
		own.Count, own.More = 1, nil
		s.list = append(s.list, &own)
		if s.sort == nil {
			s.sort, s.line = map[string]*fault.Error{}, map[string]int{}
		}
		s.sort[key] = &own
	}
	s.line[key] = f.Line
	return true
}

// stops reports whether err ends the work on a block: always, but for the one who gathers
// all that is wrong.
func (m *rewriter) stops(err error) bool {
	return err != nil && (m.reasons == nil || !m.reasons.add(err))
}

// gather reads a program on behind a fault of the rewrite and gives all that is wrong with
// it, first what is told already.
func (m *rewriter) gather(r *block.Reader, told error) error {
	var f *fault.Error
	if !errors.As(told, &f) || f.No || m.held != nil || !m.faulty {
		return told
	}
	s := &reasons{}
	s.add(told)
	m.reasons, m.reverser, m.slow, m.quick = s, nil, true, false
	lines, unread := m.readOn()
	for read := 0; read < mostReadOn && m.held == nil && len(s.list) < mostReasons; {
		chunk, err := r.Next()
		if err != nil {
			break
		}
		read += len(chunk)
		m.chunk = chunk
		m.lexer.Reset(chunk)
		n, bad := m.readOn()
		lines, unread = lines+n, unread+bad
	}
	first := s.list[0]
	if unread > 5 && 2*unread > lines {
		first.Hint = "no RS-274 program as far as read: is this the right file?"
		first.Count = 1
		return first
	}
	first.More = s.list[1:]
	return first
}

// readOn reads the rest of a chunk, the block with the last fault once more. It counts
// lines with something in them, and those that can't be read as blocks.
func (m *rewriter) readOn() (lines, unread int) {
	m.lexer.Seek(m.again.at, m.again.lines)
	m.again = again{}
	var b block.Block
	for {
		m.out = m.out[:0]
		err := m.lexer.Next(&b)
		if err == io.EOF {
			m.again.lines = m.lexer.Line()
			return lines, unread
		}
		m.copied = b.Start
		if err != nil || !b.Empty() {
			lines++
		}
		if err != nil && !m.behindEnd() && b.Fault != block.Symbol && b.Fault != block.ControlFlow {
			unread++
		}
		if err = m.whole(&b, err); err == errHeld || m.stops(err) {
			return lines, unread
		}
	}
}

// again is where a chunk is to be read on.
type again struct {
	at, lines int // in the chunk, and lines before it
}
