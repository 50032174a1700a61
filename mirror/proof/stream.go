package proof

import (
	"bytes"
	"errors"
	"io"

	"flipcalc/mirror/fault"
	"flipcalc/mirror/motion"
)

// A stream reads one program ahead in its own goroutine, so that the two programs
// of a check may arrive in any rhythm, and hands it over in whole lines.
//
// Each buffer has room in front for the part of a line that the buffer before it
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

	buf        []byte // what data is a part of, to be given back
	data       []byte
	pos, limit int
	ragged     bool // the last line of data[:limit] has no line end
	line       int  // lines handed over
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
			buf = make([]byte, headroom+readSize)
		}
		n, err := r.Read(buf[headroom:])
		if n == 0 && err == nil {
			if empty++; empty > 100 {
				err = io.ErrNoProgress
			}
		} else {
			empty = 0
		}
		select {
		case s.full <- piece{buf, n, err}:
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
		next := <-s.full
		tail := s.data[s.limit:]
		if len(tail) > motion.MaxLine {
			return false, &fault.Error{File: s.name, Line: s.line + 1, Col: 1,
				Found: "a line of more than 1048576 bytes", Expected: "blocks that end with a line end", Hint: "is this a part program?"}
		}
		start := headroom - len(tail)
		old := s.buf
		if start >= 0 {
			copy(next.buf[start:], tail)
			s.buf, s.data = next.buf, next.buf[start:headroom+next.n]
		} else {
			s.data = append(append(make([]byte, 0, 2*len(tail)+next.n), tail...), next.buf[headroom:headroom+next.n]...)
			s.buf = next.buf
		}
		if old != nil {
			s.free <- old
		}
		s.pos = 0
		s.limit = len(tail) + bytes.LastIndexByte(s.data[len(tail):], '\n') + 1
		if s.limit == len(tail) {
			s.limit = 0
		}
		if next.err != nil {
			s.eof = true
			if !errors.Is(next.err, io.EOF) {
				s.err = next.err
				s.limit = 0
				return false, s.err
			}
			s.ragged = s.limit < len(s.data)
			s.limit = len(s.data)
		}
	}
	return true, nil
}

// next hands over one line with its line end, valid until the next call. ok is
// false at the end.
func (s *stream) next() (text []byte, ok bool, err error) {
	text, ok, err = s.peek()
	if ok {
		s.pos += len(text)
		s.line++
	}
	return text, ok, err
}

// peek is next without handing over. What next gave before may become invalid.
func (s *stream) peek() (text []byte, ok bool, err error) {
	if s.pos == s.limit {
		if ok, err := s.more(); !ok {
			return nil, false, err
		}
	}
	end := s.limit
	if i := bytes.IndexByte(s.data[s.pos:s.limit], '\n'); i >= 0 {
		end = s.pos + i + 1
	}
	return s.data[s.pos:end], true, nil
}

// back takes the line that next gave last back.
func (s *stream) back(text []byte) {
	s.pos -= len(text)
	s.line--
}
