package block

import (
	"bytes"
	"io"
)

// Sizes of the window through which a program is read.
const (
	windowSize = 256 << 10
	// MaxLine is the longest line that is read. NISTIR 6556, 3.1, allows 256
	// characters; anything near this limit is no part program.
	MaxLine = 1 << 20
	// margin is the capacity that every chunk has beyond its end, for those who read
	// several bytes at once.
	margin = 64
)

func newWindow(size int) []byte { return make([]byte, size, size+margin) }

// Reader hands out a program in chunks of whole lines, so that whoever works on
// a chunk never meets the end of the text in the middle of a word.
//
// The window is one buffer in three segments:
//
//	buf[0:start]    handed out and done with
//	buf[start:end]  read, not yet handed out: less than one line after Next
//	buf[end:]       free
//
// Invariants: 0 <= start <= end < len(buf). The byte at buf[end] is free, so that
// a last line without a line end can be given one.
type Reader struct {
	r          io.Reader
	buf        []byte
	start, end int
	err        error // what the source said last, io.EOF included
	added      bool
	marked     bool // a byte-order mark was dropped
	begun      bool // whether there is one is known
	limit      int
}

// NewReader reads from r in a window of 256 KiB that grows for lines up to MaxLine.
func NewReader(r io.Reader) *Reader { return newReader(r, windowSize, MaxLine) }

func newReader(r io.Reader, size, limit int) *Reader {
	return &Reader{r: r, buf: newWindow(size), limit: limit}
}

// Added reports that the last chunk's final line end isn't in the program but
// was added by Next.
func (r *Reader) Added() bool { return r.added }

// Marked reports that the text began with a byte-order mark, which was dropped.
func (r *Reader) Marked() bool { return r.marked }

// Next gives the next whole lines; the chunk always ends in a line feed and stays
// valid until the following call. At the end it returns io.EOF, for a line longer
// than MaxLine a *fault.Error without a place; errors of the source come as they are.
func (r *Reader) Next() ([]byte, error) {
	for {
		if chunk := r.whole(); len(chunk) > 0 {
			r.start += len(chunk)
			r.begun = true
			return chunk, nil
		}
		if r.err == io.EOF {
			if r.start == r.end {
				return nil, io.EOF
			}
			r.added = true
			r.buf[r.end] = '\n'
			chunk := r.buf[r.start : r.end+1]
			r.start = r.end
			return chunk, nil
		}
		if r.err != nil {
			return nil, r.err
		}
		if !r.room() {
			return nil, LineTooLong.refusal(0, 0, "")
		}
		r.read()
	}
}

// Peek reads ahead until want(lines) is true of the whole lines in the window, or
// no more lines fit. It takes none of them: the following Next starts with them.
func (r *Reader) Peek(want func(lines []byte) bool) {
	for {
		lines := r.whole()
		if r.err == io.EOF && r.start+len(lines) < r.end {
			r.buf[r.end] = '\n'
			lines = r.buf[r.start : r.end+1]
		}
		if want(lines) || r.err != nil || !r.room() {
			return
		}
		r.read()
	}
}

func (r *Reader) whole() []byte {
	n := bytes.LastIndexByte(r.buf[r.start:r.end], '\n')
	return r.buf[r.start : r.start+n+1]
}

// room makes place for more bytes; false when one line fills the largest window.
func (r *Reader) room() bool {
	if r.start > 0 {
		copy(r.buf, r.buf[r.start:r.end])
		r.end -= r.start
		r.start = 0
	}
	if r.end < len(r.buf)-1 {
		return true
	}
	if len(r.buf) >= r.limit {
		return false
	}
	grown := newWindow(min(2*len(r.buf), r.limit))
	copy(grown, r.buf[:r.end])
	r.buf = grown
	return true
}

// mark drops a byte-order mark at the start of the text, where three bytes are there to
// tell; it reports whether there is nothing to wait for.
func (r *Reader) mark(over bool) (done bool) {
	if r.end-r.start < len(Mark) {
		return over
	}
	if r.marked = string(r.buf[r.start:r.start+len(Mark)]) == Mark; r.marked {
		r.start += len(Mark)
	}
	return true
}

func (r *Reader) read() {
	for range 100 {
		n, err := r.r.Read(r.buf[r.end : len(r.buf)-1])
		r.end += n
		r.begun = r.begun || r.mark(err != nil)
		if err != nil {
			r.err = err
			return
		}
		if n > 0 {
			return
		}
	}
	r.err = io.ErrNoProgress
}
