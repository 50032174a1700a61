package main

import (
	"cmp"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"time"

	"golang.org/x/term"

	"flipcalc/cmd/flipcalc/ask"
	"flipcalc/report"
)

func runMirror(c *call) error {
	out := cmp.Or(c.Text("output"), "-")
	if c.On("stream") && out != "-" {
		return ask.Wrong("stream", "-o "+out, "-o -", "a file is written whole or not at all, so there is nothing to stream")
	}
	m, err := c.Mirror(c.Operands[0])
	if err != nil {
		return err
	}
	// A regular file is written beside its target and renamed, so nothing unproved
	// is ever seen and no second copy is needed.
	if out != "-" {
		_, regular, err := target(out)
		m.Direct = err == nil && regular
	}
	shown := out
	switch {
	case c.On("dry-run"):
		m.Direct = true
		err = m.Write(io.Discard)
	case out == "-":
		shown = "standard output"
		err = m.Write(c.out)
	default:
		err = c.writeFile(out, m.Write)
	}
	if err != nil {
		return err
	}
	result := m.Result(shown)
	if c.On("json") {
		return report.MirrorJSON(c.out, result)
	}
	if c.On("bare") {
		c.cautions()
	}
	s := report.Setup{Unit: m.Unit, Mirrors: []report.Mirrored{result}}
	if c.On("quiet") {
		return c.quietly(s, "")
	}
	return report.Terminal(c.reports(), s, c.terminal())
}

// cautions prints to standard error what a bare program doesn't say itself.
func (c *call) cautions() {
	for _, t := range report.ProgramCautions() {
		fmt.Fprintln(c.err, "flipcalc: caution: "+t)
	}
}

// ticks shows on a terminal, after half a second, how many bytes have been read; size is
// 0 where it isn't known. tick is nil where nothing is shown.
func (c *call) ticks(name string, size int64) (tick func(int64), done func()) {
	f, ok := c.err.(*os.File)
	if !ok || c.On("quiet") || !term.IsTerminal(int(f.Fd())) {
		return nil, func() {}
	}
	start, last := time.Now(), time.Now()
	shown := false
	tick = func(n int64) {
		if time.Since(start) < 500*time.Millisecond || time.Since(last) < 100*time.Millisecond {
			return
		}
		last, shown = time.Now(), true
		if size > 0 {
			fmt.Fprintf(f, "\r\x1b[K%s: %d of %d MB", filepath.Base(name), n/1e6, size/1e6)
		} else {
			fmt.Fprintf(f, "\r\x1b[K%d MB", n/1e6)
		}
	}
	return tick, func() {
		if shown {
			fmt.Fprint(f, "\r\x1b[K")
			shown = false
		}
	}
}
