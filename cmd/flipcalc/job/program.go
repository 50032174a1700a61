package job

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"syscall"

	"github.com/shopspring/decimal"

	"flipcalc/cmd/flipcalc/ask"
	"flipcalc/mirror"
	"flipcalc/mirror/block"
	"flipcalc/mirror/motion"
	"flipcalc/mirror/transform"
)

// Programs. One is a file, a pipe or standard input; a pipe is read once and kept.

// mostPiped is how much of a pipe is kept, since it can't be read twice and may have no end.
const mostPiped = 4 << 30

// open opens a program for reading; - is standard input.
func (c *Task) open(path string) (io.Reader, string, error) {
	if path == "-" && c.On("stream") && !c.On("write-out") { // passed on as it comes
		return c.In, shownInput(path), nil
	}
	p, err := c.program(path)
	if err != nil {
		return nil, shownInput(path), err
	}
	return again(p), shownInput(path), nil
}

// shownInput is what messages call a program.
func shownInput(path string) string {
	if path == "-" {
		return "standard input"
	}
	return path
}

func openProgram(path string) (*os.File, error) {
	f, err := ask.OpenInput(path, "a program")
	if errors.Is(err, syscall.EISDIR) {
		err = ask.Wrong(path, "a folder", "a program", "")
	}
	return f, err
}

// program gives a program that is read more than once: a file stays open, so that all
// reads see the same one, and what comes through a pipe is kept. One with parameters or
// expressions is written out.
func (c *Task) program(path string) (*io.SectionReader, error) {
	if p := c.kept[path]; p != nil {
		return p, nil
	}
	in := c.In
	if path != "-" {
		f, err := openProgram(path)
		if err != nil {
			return nil, err
		}
		in = f
	}
	p, err := keep(in, shownInput(path))
	if err != nil {
		return nil, err
	}
	if c.On("write-out") || block.Symbols(again(p)) {
		text := make([]byte, p.Size())
		if _, err := io.ReadFull(again(p), text); err != nil {
			return nil, err
		}
		if text, err = c.writeOut(path, shownInput(path), text); err != nil {
			return nil, err
		}
		p = io.NewSectionReader(bytes.NewReader(text), 0, int64(len(text)))
	}
	if c.kept == nil {
		c.kept = map[string]*io.SectionReader{}
	}
	c.kept[path] = p
	return p, nil
}

// keep makes in readable again; name is what messages call it.
func keep(in io.Reader, name string) (*io.SectionReader, error) {
	f, ok := in.(*os.File)
	if ok {
		if info, err := f.Stat(); err == nil && info.Mode().IsRegular() {
			at, err := f.Seek(0, io.SeekCurrent)
			return io.NewSectionReader(f, at, info.Size()-at), err
		}
	}
	s := &mirror.Spool{}
	n, err := io.Copy(s, io.LimitReader(in, mostPiped+1))
	if ok {
		f.Close()
	}
	switch {
	case err != nil:
		return nil, fmt.Errorf("%s: %w", name, err)
	case n > mostPiped:
		return nil, ask.Wrong(name, fmt.Sprintf("more than %d MiB through a pipe", mostPiped>>20), "a shorter program", "write it to a file first")
	}
	return s.Content(), nil
}

// again reads a text from its beginning.
func again(text *io.SectionReader) io.Reader { return io.NewSectionReader(text, 0, text.Size()) }

// motionOptions says what a program leaves to the control.
func (c *Task) motionOptions(name string) (motion.Options, error) {
	u, err := c.Unit()
	if err != nil {
		return motion.Options{}, err
	}
	inert, err := c.inert()
	if err != nil {
		return motion.Options{}, err
	}
	arc, err := c.arcTolerance()
	return motion.Options{Name: name, Unit: u, AbsoluteCentres: c.Text("centres") == "absolute", Inert: inert, ArcTolerance: motion.FromDecimal(arc)}, err
}

// arcTolerance gives the largest difference of an arc's two radii, in mm; 0 where
// none is said.
func (c *Task) arcTolerance() (decimal.Decimal, error) {
	r := c.NewReader()
	var d decimal.Decimal
	ask.Read(r, "arc-tolerance", ask.In(r, ask.ParseFigure), &d)
	mm, _ := transform.Convert(d, r.Unit, transform.MM, 12)
	return mm, r.Err
}

// inert gives the M codes that move no axis, as the flag or the machine file says.
func (c *Task) inert() ([]int, error) {
	if c.Given("inert") {
		return ask.ParseInert(c.Text("inert"))
	}
	m, err := c.Machine()
	if err != nil {
		return nil, err
	}
	return m.Inert, nil
}

// progress shows on a terminal how much of a program has been read.
func (c *Task) progress(in io.Reader, name string, size int64) (io.Reader, func()) {
	tick, done := c.Ticks(name, size)
	if tick == nil {
		return in, done
	}
	return &ticking{in: in, tick: tick}, done
}

// ticking tells how much was read.
type ticking struct {
	in   io.Reader
	n    int64
	tick func(int64)
}

func (t *ticking) Read(b []byte) (int, error) {
	n, err := t.in.Read(b)
	t.n += int64(n)
	t.tick(t.n)
	return n, err
}

// SameFile reports whether two paths lead to one file.
func SameFile(a, b string) bool {
	x, err := os.Stat(a)
	if err != nil {
		return false
	}
	y, err := os.Stat(b)
	return err == nil && os.SameFile(x, y)
}
