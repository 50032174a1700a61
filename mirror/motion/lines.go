package motion

import (
	"bytes"
	"errors"
	"fmt"
	"io"

	"flipcalc/mirror/fault"
)

// MaxLine is the length in bytes of the longest line that is read. NISTIR 6556,
// 3.1, allows 256 characters; programs with long comments exceed that.
const MaxLine = 1 << 20

// Lines hands over a program line by line in constant memory.
//
// The buffer has three parts:
//
//	[0, next)      handed over already
//	[next, filled) read, not yet handed over
//	[filled, cap)  free
//
// 0 <= next <= filled <= len(buf) always holds, and buf grows only while one line
// fills all of it, up to MaxLine.
type Lines struct {
	r      io.Reader
	name   string
	buf    []byte
	next   int
	filled int
	line   int
	err    error // io.EOF or what the reader said; kept until the lines are used up
}

// NewLines reads from r; name is the file's name in messages.
func NewLines(r io.Reader, name string) *Lines {
	return &Lines{r: r, name: name, buf: make([]byte, 64<<10)}
}

// Next gives the next line with its line end, as a part of the buffer that stays
// valid until the next call, and its number from 1. The last line may lack a line
// end. At the end of the program err is io.EOF; a reader's own error is passed on
// untouched, and a line longer than MaxLine is a *fault.Error.
func (l *Lines) Next() (text []byte, line int, err error) {
	searched := l.next
	for {
		if i := bytes.IndexByte(l.buf[searched:l.filled], '\n'); i >= 0 {
			text = l.buf[l.next : searched+i+1]
			l.next = searched + i + 1
			l.line++
			return l.unmarked(text), l.line, nil
		}
		searched = l.filled
		if l.err != nil {
			if errors.Is(l.err, io.EOF) && l.next < l.filled {
				text = l.buf[l.next:l.filled]
				l.next = l.filled
				l.line++
				return l.unmarked(text), l.line, nil
			}
			return nil, l.line, l.err
		}
		if l.filled-l.next > MaxLine {
			return nil, l.line + 1, TooLong(l.name, l.line+1)
		}
		moved := l.fill()
		searched -= moved
	}
}

// TooLong is the fault of a line longer than MaxLine.
func TooLong(name string, line int) *fault.Error {
	return &fault.Error{File: name, Line: line, Col: 1, Found: fmt.Sprintf("a line longer than %d bytes", MaxLine),
		Hint: "save the program as plain text, one block a line"}
}

// unmarked takes a byte-order mark off the first line.
func (l *Lines) unmarked(text []byte) []byte {
	if l.line > 1 {
		return text
	}
	return bytes.TrimPrefix(text, []byte(byteOrderMark))
}

// fill makes room and reads once; it gives how far the kept bytes moved.
func (l *Lines) fill() (moved int) {
	if l.next > 0 {
		moved = l.next
		copy(l.buf, l.buf[l.next:l.filled])
		l.filled -= l.next
		l.next = 0
	}
	if l.filled == len(l.buf) {
		l.buf = append(l.buf, make([]byte, len(l.buf))...)
	}
	for range 100 {
		n, err := l.r.Read(l.buf[l.filled:])
		l.filled += n
		if err != nil {
			l.err = err
			return moved
		}
		if n > 0 {
			return moved
		}
	}
	l.err = io.ErrNoProgress
	return moved
}
