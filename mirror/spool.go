package mirror

import (
	"bytes"
	"io"
	"os"
)

// spool keeps bytes until they may be passed on: the first in memory, all in an
// unlinked temporary file once they are many.
type spool struct {
	mem  []byte
	file *os.File
}

// spoolMemory is how much is kept without a file.
const spoolMemory = 1 << 20

func (s *spool) copyTo(out io.Writer) error {
	if s.file == nil {
		_, err := out.Write(s.mem)
		return err
	}
	if _, err := s.file.Seek(0, io.SeekStart); err != nil {
		return err
	}
	if f, ok := out.(*os.File); ok { // the system copies by itself where it can
		_, err := f.ReadFrom(s.file)
		return err
	}
	_, err := io.CopyBuffer(struct{ io.Writer }{out}, struct{ io.Reader }{s.file}, make([]byte, spoolMemory))
	return err
}

func (s *spool) close() {
	if s.file != nil {
		s.file.Close()
		os.Remove(s.file.Name())
	}
}

func (s *spool) Write(b []byte) (int, error) {
	if s.file == nil && len(s.mem)+len(b) <= spoolMemory {
		s.mem = append(s.mem, b...)
		return len(b), nil
	}
	if s.file == nil {
		f, err := os.CreateTemp("", "flipcalc-*")
		if err != nil {
			return 0, err
		}
		s.file = f
		os.Remove(f.Name()) // where that fails (an open file on some systems) close does it
		if _, err := f.Write(s.mem); err != nil {
			return 0, err
		}
		s.mem = nil
	}
	return s.file.Write(b)
}

// stream keeps bytes until they are proved, and passes them on line by line.
type stream struct {
	out   io.Writer
	held  []byte
	lines int // passed on
	err   error
}

func (s *stream) Write(b []byte) (int, error) {
	s.held = append(s.held, b...)
	return len(b), s.err
}

// proved passes on all lines up to the given number.
func (s *stream) proved(lines int) {
	end := 0
	for ; s.lines < lines; s.lines++ {
		n := bytes.IndexByte(s.held[end:], '\n')
		if n < 0 {
			break // the last line
		}
		end += n + 1
	}
	s.pass(end)
}

func (s *stream) pass(n int) {
	if s.err == nil && n > 0 {
		_, s.err = s.out.Write(s.held[:n])
	}
	s.held = append(s.held[:0], s.held[n:]...)
}

// rest passes on what is left, once all is proved.
func (s *stream) rest() error {
	s.pass(len(s.held))
	return s.err
}
