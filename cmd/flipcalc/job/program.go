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
func (j *Job) open(path string) (io.Reader, string, error) {
	if path == "-" && j.On("stream") && !j.On("write-out") { // passed on as it comes
		return j.In, shownInput(path), nil
	}
	p, err := j.program(path)
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
func (j *Job) program(path string) (*io.SectionReader, error) {
	if p := j.kept[path]; p != nil {
		return p, nil
	}
	in := j.In
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
	if j.On("write-out") || block.Symbols(again(p)) {
		text := make([]byte, p.Size())
		if _, err := io.ReadFull(again(p), text); err != nil {
			return nil, err
		}
		if text, err = j.writeOut(path, shownInput(path), text); err != nil {
			return nil, err
		}
		p = io.NewSectionReader(bytes.NewReader(text), 0, int64(len(text)))
	}
	j.kept[path] = p
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

// reading says what a program leaves to the control.
func (j *Job) reading(name string) motion.Options {
	inert := ask.Value[[]int](j.Ask, "inert")
	if !j.Given("inert") {
		inert = j.Machine.Inert
	}
	return motion.Options{Name: name, Unit: j.Unit(), AbsoluteCentres: j.Text("centres") == "absolute", Inert: inert, ArcTolerance: motion.FromDecimal(j.arcTolerance())}
}

// arcTolerance gives the largest difference of an arc's two radii, in mm; 0 where
// none is said.
func (j *Job) arcTolerance() (mm decimal.Decimal) {
	if j.Given("arc-tolerance") {
		mm, _ = transform.Convert(j.Length("arc-tolerance"), j.Unit(), transform.MM, 12)
	}
	return mm
}

// progress shows on a terminal how much of a program has been read.
func (j *Job) progress(in io.Reader, name string, size int64) (io.Reader, func()) {
	tick, done := j.Ticks(name, size)
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

// toRun is a program as the machine runs it at one pair of stations.
type toRun struct {
	pair    int
	back    bool
	name    string // as it is written; "" where it isn't
	source  string // the file that messages name
	content *io.SectionReader
	lines   func(int) int // from a line of content to one of source, where findings are put right
}

// addAsIs adds a program to the job that is run as it stands.
func (j *Job) addAsIs(pair int, path string, back bool) error {
	in, err := j.program(path)
	if err != nil {
		return err
	}
	name := shownInput(path)
	lines := func(n int) int { return j.sourceLine(path, n) }
	j.runs = append(j.runs, toRun{pair: pair, back: back, source: name, content: in, lines: lines})
	r, done := j.progress(again(in), name, in.Size())
	s, err := motion.Walk(r, j.reading(name), nil)
	done()
	if err != nil {
		return j.ofSource(path, name, err)
	}
	j.units = append(append(j.units, unitNotes(name, s, j.Answer, false)...), j.settingNotes(name, s, topOf(j.Answer, back), lines)...)
	return nil
}
