package job

import (
	"io"

	"flipcalc/cmd/flipcalc/ask"
	"flipcalc/mirror/plain"
)

// Task is what is asked, with the programs that it names.
type Task struct {
	*ask.Ask
	In      io.Reader // standard input
	Version string    // of the build, for the record
	// Ticks shows how many bytes of a program have been read; size is 0 where it isn't
	// known. tick is nil where nothing is shown.
	Ticks func(name string, size int64) (tick func(int64), done func())

	kept   map[string]*io.SectionReader // programs that are read more than once
	plain  map[string]*plain.Report     // those that were written out
	turned map[string]*plain.Report     // those that were turned, and rounded for it
}
