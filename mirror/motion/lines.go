package motion

import (
	"bufio"
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
type Lines struct {
	r    *bufio.Reader
	name string
	long []byte // a line that the reader's buffer can't hold
	line int
}

// NewLines reads from r; name is the file's name in messages.
func NewLines(r io.Reader, name string) *Lines {
	return &Lines{r: bufio.NewReaderSize(r, 64<<10), name: name}
}

// Next gives the next line with its line end, as a part of the buffer that stays
// valid until the next call, and its number from 1. The last line may lack a line
// end. At the end of the program err is io.EOF; a reader's own error is passed on
// untouched, and a line longer than MaxLine is a *fault.Error.
func (l *Lines) Next() (text []byte, line int, err error) {
	text, err = l.r.ReadSlice('\n')
	if errors.Is(err, bufio.ErrBufferFull) {
		for l.long = l.long[:0]; errors.Is(err, bufio.ErrBufferFull); text, err = l.r.ReadSlice('\n') {
			if l.long = append(l.long, text...); len(l.long) > MaxLine {
				return nil, l.line + 1, TooLong(l.name, l.line+1)
			}
		}
		text = append(l.long, text...)
	}
	if err != nil && (!errors.Is(err, io.EOF) || len(text) == 0) {
		return nil, l.line, err
	}
	if l.line++; l.line == 1 {
		text = bytes.TrimPrefix(text, []byte(byteOrderMark))
	}
	return text, l.line, nil
}

// TooLong is the fault of a line longer than MaxLine.
func TooLong(name string, line int) *fault.Error {
	return &fault.Error{File: name, Line: line, Col: 1, Found: fmt.Sprintf("a line longer than %d bytes", MaxLine),
		Hint: "save the program as plain text, one block a line"}
}
