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

	queue      *queue // where pieces come from a Checker
	side       int
	last       piece // what data is a part of, to be given back
	data       []byte
	pos, limit int
	whole      int // limit without a last line that has no line end
	line       int // lines handed over
	eof        bool
	err        error
}

// piece is one read.
type piece struct {
	buf  []byte
	n    int
	err  error
	done func()
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

// close ends the goroutine once its Read has ended, and gives fed pieces back.
func (s *stream) close() {
	close(s.done)
	if s.last.done != nil {
		s.last.done()
		s.last.done = nil
	}
}

// more gets whole lines into data when those there are used up. ok is false at the
// end.
func (s *stream) more() (ok bool, err error) {
	for s.pos == s.limit {
		if s.eof {
			return false, s.err
		}
		next := s.take()
		tail := s.data[s.limit:]
		if len(tail) > motion.MaxLine {
			return false, &fault.Error{File: s.name, Line: s.line + 1, Col: 1,
				Found: "a line of more than 1048576 bytes", Expected: "blocks that end with a line end", Hint: "is this a part program?"}
		}
		kept := len(tail)
		s.join(tail, next)
		s.pos = 0
		s.limit = kept + bytes.LastIndexByte(s.data[kept:], '\n') + 1
		if s.limit == kept {
			s.limit = 0
		}
		s.whole = s.limit
		if next.err != nil {
			s.eof = true
			if !errors.Is(next.err, io.EOF) {
				s.err = next.err
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

// take waits for the next piece.
func (s *stream) take() piece {
	if s.queue != nil {
		return s.queue.pop(s.side)
	}
	return <-s.full
}

// join puts the next piece behind the tail of the one in use, and gives that back.
func (s *stream) join(tail []byte, next piece) {
	old := s.last
	s.last = next
	switch {
	case s.queue != nil && len(tail) == 0:
		s.data = next.buf
	case s.queue != nil || len(tail) > headroom:
		text := next.buf
		if s.queue == nil {
			text = next.buf[headroom : headroom+next.n]
		}
		s.data = append(append(make([]byte, 0, 2*len(tail)+len(text)+slack), tail...), text...)
	default:
		start := headroom - len(tail)
		copy(next.buf[start:], tail)
		s.data = next.buf[start : headroom+next.n]
	}
	if old.done != nil {
		old.done()
	}
	if s.queue == nil && old.buf != nil {
		s.free <- old.buf
	}
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
