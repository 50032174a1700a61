package proof

import (
	"bytes"
	"errors"
	"io"

	"flipcalc/mirror/fault"
	"flipcalc/mirror/motion"
)

// A stream hands a program over in whole lines, so that the two programs of a check
// may arrive in any rhythm. It reads ahead in a goroutine of its own, or is fed (see
// Checker) where wait is set.
//
// Each buffer that it reads into has room in front for the part of a line that the buffer before it
// ended with; data is the part in use:
//
//	data[:pos]       handed over
//	data[pos:limit]  whole lines, still to be handed over
//	data[limit:]     the beginning of a line
//
// 0 <= pos <= limit <= len(data) always holds.
type stream struct {
	name string
	full chan piece
	free chan []byte
	done chan struct{}

	// Only where fed:
	wait    func() bool // hands control to the feeder until there is more; false to give up
	given   []byte      // waits to be taken
	lent    bool        // given is the feeder's
	inPlace bool        // data is the feeder's
	ended   bool        // nothing will follow what is given

	buf        []byte // what data is a part of, to be read into again
	data       []byte
	pos, limit int
	whole      int // limit without a last line that has no line end
	line       int // lines handed over
	handed     int // length of the line handed over last, where it ends at pos
	eof        bool
	err        error
}

// piece is one read.
type piece struct {
	buf []byte
	n   int
	err error
}

const (
	headroom = 16 << 10
	readSize = 128 << 10
	buffers  = 4
)

func newStream(r io.Reader, name string) *stream {
	s := &stream{name: name, full: make(chan piece, buffers), free: make(chan []byte, buffers), done: make(chan struct{})}
	for range buffers {
		s.free <- nil // made when first used
	}
	go s.read(r)
	return s
}

// read fills buffers until the end, an error or close.
func (s *stream) read(r io.Reader) {
	empty := 0
	for {
		var buf []byte
		select {
		case buf = <-s.free:
		case <-s.done:
			return
		}
		if buf == nil {
			buf = make([]byte, headroom+readSize+slack)
		}
		n, err := r.Read(buf[headroom : headroom+readSize])
		if n == 0 && err == nil {
			if empty++; empty > 100 {
				err = io.ErrNoProgress
			}
		} else {
			empty = 0
		}
		select {
		case s.full <- piece{buf: buf, n: n, err: err}:
		case <-s.done:
			return
		}
		if err != nil {
			return
		}
	}
}

// close ends the goroutine once its Read has ended.
func (s *stream) close() { close(s.done) }

// more gets whole lines into data when those there are used up. ok is false at the
// end.
func (s *stream) more() (ok bool, err error) {
	for s.pos == s.limit {
		if s.eof {
			return false, s.err
		}
		tail := s.data[s.limit:]
		if len(tail) > motion.MaxLine {
			return false, &fault.Error{File: s.name, Line: s.line + 1, Col: 1,
				Found: "a line of more than 1048576 bytes", Expected: "blocks that end with a line end", Hint: "is this a part program?"}
		}
		kept := len(tail)
		err := s.take(tail)
		s.pos, s.handed = 0, 0
		s.limit = kept + bytes.LastIndexByte(s.data[kept:], '\n') + 1
		if s.limit == kept {
			s.limit = 0
		}
		s.whole = s.limit
		if err != nil {
			s.eof = true
			if !errors.Is(err, io.EOF) {
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

// take waits for the next piece and puts it behind the tail of the one in use.
func (s *stream) take(tail []byte) error {
	if s.wait != nil {
		next, lent := s.takeGiven()
		tail = s.data[s.limit:] // it may have been copied while waiting
		s.data, s.inPlace = next.buf, lent
		if len(tail) > 0 {
			s.data, s.inPlace = joined(tail, next.buf), false
		}
		return next.err
	}
	next := <-s.full
	text := next.buf[headroom : headroom+next.n]
	if start := headroom - len(tail); start >= 0 {
		copy(next.buf[start:], tail)
		s.data = next.buf[start : headroom+next.n]
	} else {
		s.data = joined(tail, text)
	}
	if s.buf != nil {
		s.free <- s.buf
	}
	s.buf = next.buf
	return next.err
}

func joined(tail, text []byte) []byte {
	return append(append(make([]byte, 0, 2*len(tail)+len(text)+slack), tail...), text...)
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
