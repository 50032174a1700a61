package mirror

import (
	"bytes"
	"io"
	"os"
)

// Spool keeps bytes until they may be passed on: the first in memory, all in an
// unlinked temporary file once they are many.
type Spool struct {
	mem  []byte
	file *os.File
	size int64 // of the file
}

// spoolMemory is how much is kept without a file.
const spoolMemory = 1 << 20

// Content is what was written, to be read any number of times, whole or from any place.
func (s *Spool) Content() *io.SectionReader {
	if s.file == nil {
		return io.NewSectionReader(bytes.NewReader(s.mem), 0, int64(len(s.mem)))
	}
	return io.NewSectionReader(s.file, 0, s.size)
}

func (s *Spool) copyTo(out io.Writer) error {
	if f, ok := out.(*os.File); ok && s.file != nil { // the system copies by itself where it can
		if _, err := s.file.Seek(0, io.SeekStart); err != nil {
			return err
		}
		_, err := f.ReadFrom(s.file)
		return err
	}
	_, err := io.CopyBuffer(struct{ io.Writer }{out}, struct{ io.Reader }{s.Content()}, make([]byte, spoolMemory))
	return err
}

// Close gives the room back.
func (s *Spool) Close() {
	if s.file != nil {
		s.file.Close()
		os.Remove(s.file.Name())
	}
}

// Write adds to the end.
func (s *Spool) Write(b []byte) (int, error) {
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
		n, err := f.Write(s.mem)
		s.size += int64(n)
		if err != nil {
			return 0, err
		}
		s.mem = nil
	}
	n, err := s.file.Write(b)
	s.size += int64(n)
	return n, err
}

// stream keeps bytes until they are proved, and passes them on.
type stream struct {
	out    io.Writer
	held   []byte
	passed int
	err    error
}

func (s *stream) Write(b []byte) (int, error) {
	s.held = append(s.held, b...)
	return len(b), s.err
}

// pass passes on all up to the given byte.
func (s *stream) pass(proved int) {
	n := proved - s.passed
	if s.err == nil && n > 0 {
		_, s.err = s.out.Write(s.held[:n])
	}
	s.held, s.passed = append(s.held[:0], s.held[n:]...), proved
}

// rest passes on what is left, once all is proved.
func (s *stream) rest() error {
	s.pass(s.passed + len(s.held))
	return s.err
}
