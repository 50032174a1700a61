package mirror

import (
	"io"
	"os"
)

// pool keeps buffers that were given back, for one goroutine that takes and others
// that give.
type pool chan []byte

func newPool() pool { return make(pool, 16) }

// get gives a buffer of length 0 or more, or nil.
func (p pool) get() []byte {
	select {
	case b := <-p:
		return b
	default:
		return nil
	}
}

func (p pool) put(b []byte) {
	select {
	case p <- b:
	default:
	}
}

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
	_, err := io.Copy(out, s.file)
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
