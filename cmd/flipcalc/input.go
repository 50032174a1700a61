package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
	"syscall"
)

// Input files. A program is a file, a pipe or standard input; a pipe is read once and
// kept. No output may go over an input, whatever the names by which the two are reached.

// mostPiped is how much of a pipe is kept, since it can't be read twice.
const mostPiped = 256 << 20

// open opens a program for reading; - is standard input.
func (c *call) open(path string) (io.ReadCloser, string, error) {
	shown := path
	if path == "-" {
		shown = "standard input"
	}
	if text, ok := c.kept[path]; ok {
		return io.NopCloser(bytes.NewReader(text)), shown, nil
	}
	in, once := io.NopCloser(c.in), true
	if path != "-" {
		f, err := openInput(path, "a program")
		if errors.Is(err, syscall.EISDIR) {
			err = wrong(path, "a folder", "a program", "")
		}
		if err != nil {
			return nil, path, err
		}
		info, err := f.Stat()
		in, once = f, err == nil && !info.Mode().IsRegular()
	}
	if !c.on("write-out") && (!once || c.verb.name == "mirror") { // which reads its one program once
		return in, shown, nil
	}
	defer in.Close()
	text, err := io.ReadAll(io.LimitReader(in, mostPiped+1))
	if err != nil {
		return nil, shown, fmt.Errorf("%s: %w", shown, err)
	}
	if len(text) > mostPiped {
		return nil, shown, wrong(shown, fmt.Sprintf("more than %d MiB through a pipe", mostPiped>>20), "a shorter program", "write it to a file first")
	}
	if c.on("write-out") {
		if text, err = c.writeOut(path, shown, text); err != nil {
			return nil, shown, err
		}
	}
	c.keep(path, text)
	return io.NopCloser(bytes.NewReader(text)), shown, nil
}

// keep keeps a program that is asked for again.
func (c *call) keep(path string, text []byte) {
	if c.kept == nil {
		c.kept = map[string][]byte{}
	}
	c.kept[path] = text
}

// openInput opens a file or a pipe; what says what is expected. A folder is refused, and
// so is a device, which may have no end.
func openInput(path, what string) (*os.File, error) {
	info, err := os.Stat(path)
	switch {
	case err != nil:
		return nil, err
	case info.IsDir():
		return nil, &os.PathError{Op: "read", Path: path, Err: syscall.EISDIR}
	case info.Mode()&os.ModeDevice != 0:
		return nil, wrong(path, "a device", what, "")
	}
	return os.Open(path)
}

// readWhole reads a file or a pipe of at most so many bytes.
func readWhole(path, what string, most int64) ([]byte, error) {
	f, err := openInput(path, what)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	text, err := io.ReadAll(io.LimitReader(f, most+1))
	if err == nil && int64(len(text)) > most {
		err = wrong(path, fmt.Sprintf("more than %d KiB", most>>10), what, "is this the right file?")
	}
	return text, err
}

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
	if !c.verb.takesJob() {
		what := "the program itself"
		if c.verb.name == "pair" {
			what = "one of the programs to be merged"
		}
		for _, path := range c.operands {
			add(what, path)
		}
	}
	for _, path := range programs {
		add("one of the job's own programs", path)
	}
	add("the job file", c.jobFile)
	machine, _ := c.machinePath()
	add("the machine file", machine)
	if f, ok := c.in.(*os.File); ok && (slices.Contains(c.operands, "-") || slices.Contains(programs, "-")) {
		if info, err := f.Stat(); err == nil && info.Mode().IsRegular() {
			list = append(list, input{"the program itself", info})
		}
	}
	return list
}

// programs are the programs that the job and the flags name.
func (c *call) programs() (list []string) {
	for _, side := range jobSides {
		list = append(list, c.texts(side.flag)...)
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
			if c.verb.name == "prepare" || c.verb.name == "pair" {
				expected = "another folder, such as -o out"
			}
			return wrong(where, path+" is "+in.what, expected, "it would be overwritten, and the next run would begin from the result")
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
		for _, path := range c.texts(side.flag) {
			if path == "-" && named {
				return wrong(c.where(side.flag), "two programs from standard input", "one", "write the other one to a file first")
			}
			named = named || path == "-"
		}
	}
	return nil
}
