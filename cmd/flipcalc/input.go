package main

import (
	"os"
	"slices"

	"flipcalc/cmd/flipcalc/ask"
)

// Input files. No output may go over one, whatever the names by which the two are reached.

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
	programs := c.Programs()
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
	if f, ok := c.In.(*os.File); ok && (slices.Contains(c.Operands, "-") || slices.Contains(programs, "-")) {
		if info, err := f.Stat(); err == nil && info.Mode().IsRegular() {
			list = append(list, input{"the program itself", info})
		}
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
