package proof

import (
	"bytes"
	"io"

	"flipcalc/mirror/motion"
)

// A stream hands a program that is fed piece by piece (see Checker) over in whole lines,
// so that the two programs of a check may arrive in any rhythm.
//
//	data[:pos]       handed over
//	data[pos:limit]  whole lines, still to be handed over
//	data[limit:]     the beginning of a line
//
// 0 <= handed <= pos <= limit <= len(data) always holds.
type stream struct {
	name  string
	wait  func() bool // hands control to the feeder until there is more; false to give up
	ended bool        // nothing will follow

	gone       int // bytes before data
	data       []byte
	pos, limit int
	whole      int // limit without a last line that has no line end
	line       int // lines handed over
	handed     int // length of the line handed over last, where it ends at pos
}

// give adds a piece, in place of what was handed over but for the last line.
func (s *stream) give(b []byte) {
	if from := s.pos - s.handed; from > 0 {
		s.data = s.data[:copy(s.data, s.data[from:])]
		s.gone += from
		s.pos, s.limit, s.whole = s.handed, s.limit-from, s.whole-from
	}
	if i := bytes.LastIndexByte(b, '\n') + 1; i > 0 {
		s.limit = len(s.data) + i
		s.whole = s.limit
	}
	s.data = append(s.data, b...)
}

// more waits for whole lines where those there are used up. ok is false at the end.
func (s *stream) more() (ok bool, err error) {
	for s.pos == s.limit {
		switch {
		case len(s.data)-s.limit > motion.MaxLine:
			return false, motion.TooLong(s.name, s.line+1)
		case s.ended && s.limit == len(s.data):
			return false, nil
		case s.ended:
			s.limit = len(s.data)
		case !s.wait():
			return false, io.ErrUnexpectedEOF
		}
	}
	return true, nil
}

// ragged reports whether nothing but a last line without line end is left.
func (s *stream) ragged() bool { return s.pos == s.whole && s.pos < s.limit }

// next hands over one line of those at hand, with its line end. ok is false where
// there is none.
func (s *stream) next() (text []byte, ok bool) {
	if s.pos == s.limit {
		return nil, false
	}
	text = s.first()
	s.pos += len(text)
	s.handed = len(text)
	s.line++
	return text, true
}

// peek waits for the next line without handing it over. What next gave before becomes
// invalid. ok is false at the end.
func (s *stream) peek() (text []byte, ok bool, err error) {
	if ok, err := s.more(); !ok {
		return nil, false, err
	}
	return s.first(), true, nil
}

// first gives the first line at hand.
func (s *stream) first() []byte {
	end := s.limit
	if i := bytes.IndexByte(s.data[s.pos:s.limit], '\n'); i >= 0 {
		end = s.pos + i + 1
	}
	return s.data[s.pos:end]
}

// back takes the line that next gave last back.
func (s *stream) back(text []byte) {
	s.pos -= len(text)
	s.handed = 0
	s.line--
}
