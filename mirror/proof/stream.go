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
// 0 <= pos <= limit <= len(data) always holds.
type stream struct {
	name    string
	wait    func() bool // hands control to the feeder until there is more; false to give up
	given   []byte      // waits to be taken
	lent    bool        // given is the feeder's
	inPlace bool        // data is the feeder's
	ended   bool        // nothing will follow what is given

	data       []byte
	pos, limit int
	whole      int // limit without a last line that has no line end
	line       int // lines handed over
	handed     int // length of the line handed over last, where it ends at pos
	eof        bool
	err        error // it was given up before its end
}

// more gets whole lines into data when those there are used up. ok is false at the
// end.
func (s *stream) more() (ok bool, err error) {
	for s.pos == s.limit {
		if s.eof {
			return false, s.err
		}
		tail := s.data[s.limit:]
		if len(tail) > motion.MaxLine {
			return false, motion.TooLong(s.name, s.line+1)
		}
		kept := len(tail)
		err := s.take()
		s.pos, s.handed = 0, 0
		s.limit = kept + bytes.LastIndexByte(s.data[kept:], '\n') + 1
		if s.limit == kept {
			s.limit = 0
		}
		s.whole = s.limit
		if err != nil {
			s.eof = true
			if err != io.EOF {
				s.err = err
				s.limit, s.whole = 0, 0
				return false, s.err
			}
			s.limit = len(s.data)
		}
	}
	return true, nil
}

// ragged reports whether nothing but a last line without line end is left.
func (s *stream) ragged() bool { return s.pos == s.whole && s.pos < s.limit }

// take waits for the next piece and puts it behind the tail of the one in use. The error
// is io.EOF at the end.
func (s *stream) take() error {
	for len(s.given) == 0 && !s.ended {
		if !s.wait() {
			return io.ErrUnexpectedEOF
		}
	}
	tail := s.data[s.limit:] // it may have been copied while waiting
	s.data, s.inPlace = s.given, s.lent
	if len(tail) > 0 {
		s.data, s.inPlace = append(append(make([]byte, 0, 2*len(tail)+len(s.given)+slack), tail...), s.given...), false
	}
	over := len(s.given) == 0
	s.given, s.lent = nil, false
	if over {
		return io.EOF
	}
	return nil
}

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
