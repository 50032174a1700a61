package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
	"syscall"

	"flipcalc/cmd/flipcalc/ask"
	"flipcalc/mirror"
	"flipcalc/mirror/block"
)

// Input files. A program is a file, a pipe or standard input; a pipe is read once and
// kept. No output may go over an input, whatever the names by which the two are reached.

// mostPiped is how much of a pipe is kept, since it can't be read twice and may have no end.
const mostPiped = 4 << 30

// open opens a program for reading; - is standard input.
func (c *call) open(path string) (io.Reader, string, error) {
	if path == "-" && c.On("stream") && !c.On("write-out") { // passed on as it comes
		return c.in, shownInput(path), nil
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
func (c *call) program(path string) (*io.SectionReader, error) {
	if p := c.kept[path]; p != nil {
		return p, nil
	}
	in := c.in
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

// An input is a file that the run reads, and what it is to the run.
type input struct {
	what string
	info os.FileInfo
}

// inputs are the regular files that the run reads.
func (c *call) inputs() (list []input) {
	add := func(what, path string) {
		if info, err := os.Stat(path); path != "" && err == nil && info.Mode().IsRegular() {
			list = append(list, input{what, info})
		}
	}
	programs := c.programs()
	if !c.Verb.TakesJob() {
		what := "the program itself"
		if c.Verb.Name == "pair" {
			what = "one of the programs to be merged"
		}
		for _, path := range c.Operands {
			add(what, path)
		}
	}
	for _, path := range programs {
		add("one of the job's own programs", path)
	}
	add("the job file", c.JobFile)
	machine, _ := c.MachinePath()
	add("the machine file", machine)
	if f, ok := c.in.(*os.File); ok && (slices.Contains(c.Operands, "-") || slices.Contains(programs, "-")) {
		if info, err := f.Stat(); err == nil && info.Mode().IsRegular() {
			list = append(list, input{"the program itself", info})
		}
	}
	return list
}

// programs are the programs that the job and the flags name.
func (c *call) programs() (list []string) {
	for _, side := range jobSides {
		list = append(list, c.Texts(side.flag)...)
	}
	return list
}

// overInput refuses a file to write that the run reads.
func (c *call) overInput(where, path string) error {
	if info, err := os.Stat(path); path != "" && path != "-" && err == nil {
		return c.over(where, path, info)
	}
	return nil
}

// overSelf refuses standard output that is joined to a file that the run reads.
func (c *call) overSelf() error {
	f, ok := c.out.(*os.File)
	a, counted := c.out.(*answer)
	if counted {
		f, ok = a.Writer.(*os.File)
	}
	if !ok {
		return nil
	}
	info, err := f.Stat()
	if err != nil || !info.Mode().IsRegular() {
		return nil
	}
	err = c.over("-", "standard output", info)
	if counted {
		a.begun = err != nil // nor is the error added to the file
	}
	return err
}

// over refuses an output that is one of the inputs.
func (c *call) over(where, path string, info os.FileInfo) error {
	for _, in := range c.inputs() {
		if os.SameFile(info, in.info) {
			expected := "another file"
			if c.Verb.Name == "prepare" || c.Verb.Name == "pair" {
				expected = "another folder, such as -o out"
			}
			return ask.Wrong(where, path+" is "+in.what, expected, "it would be overwritten, and the next run would begin from the result")
		}
	}
	return nil
}

// sameFile reports whether two paths lead to one file.
func sameFile(a, b string) bool {
	x, err := os.Stat(a)
	if err != nil {
		return false
	}
	y, err := os.Stat(b)
	return err == nil && os.SameFile(x, y)
}

// standardInputTwice refuses standard input for two programs of the job.
func (c *call) standardInputTwice() error {
	named := false
	for _, side := range jobSides {
		for _, path := range c.Texts(side.flag) {
			if path == "-" && named {
				return ask.Wrong(c.Where(side.flag), "two programs from standard input", "one", "write the other one to a file first")
			}
			named = named || path == "-"
		}
	}
	return nil
}
