package ask

import (
	"fmt"
	"io"
	"os"
	"syscall"
)

// OpenInput opens a file or a pipe; what says what is expected. A folder is refused, and
// so is a device, which may have no end.
func OpenInput(path, what string) (*os.File, error) {
	info, err := os.Stat(path)
	switch {
	case err != nil:
		return nil, err
	case info.IsDir():
		return nil, &os.PathError{Op: "read", Path: path, Err: syscall.EISDIR}
	case info.Mode()&os.ModeDevice != 0:
		return nil, Wrong(path, "a device", what, "")
	}
	return os.Open(path)
}

// ReadWhole reads a file or a pipe of at most so many bytes.
func ReadWhole(path, what string, most int64) ([]byte, error) {
	f, err := OpenInput(path, what)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	text, err := io.ReadAll(io.LimitReader(f, most+1))
	if err == nil && int64(len(text)) > most {
		err = wrongFile(path, fmt.Sprintf("more than %d KiB", most>>10), what, "is this the right file?")
	}
	return text, err
}
